"""Which variants are run, in which order."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from framecheck.model.study import Range, Sampling, Study, Varied
from framecheck.study.sweep import hypercube, variants_of

WALL = Varied("wall", ("2 mm", "3 mm", "4 mm"), Range(2.0, 4.0, "mm"))
SECTION = Varied("section", ("tube", "channel"))


def texts(study: Study) -> list[tuple[str, ...]]:
    variants = variants_of(study)
    return [variants.texts(number) for number in range(variants.count)]


def test_a_full_factorial_holds_every_combination_once() -> None:
    """By the meaning of the word: the Cartesian product, as itertools gives it, last field fastest."""
    assert texts(Study("", (WALL, SECTION))) == list(product(WALL.values, SECTION.values))


def test_a_list_takes_the_values_side_by_side() -> None:
    other = Varied("height", ("80 mm", "90 mm", "100 mm"))
    assert texts(Study("", (WALL, other), Sampling.LIST)) == list(zip(WALL.values, other.values, strict=True))


@pytest.mark.parametrize("samples", [1, 7, 40])
def test_a_latin_hypercube_has_one_point_in_every_slice(samples: int) -> None:
    """McKay, Beckman, Conover (1979): stratum k of n, [(k-1)/n, k/n), of each variable holds exactly one point."""
    slices = np.floor(hypercube(3, samples, 5) * samples)
    assert (np.sort(slices, axis=0) == np.arange(samples)[:, None]).all()


def test_the_same_seed_gives_the_same_variants_and_another_others() -> None:
    def drawn(seed: int) -> list[tuple[str, ...]]:
        return texts(Study("", (WALL, SECTION), Sampling.HYPERCUBE, samples=12, seed=seed))

    assert drawn(3) == drawn(3)
    assert drawn(3) != drawn(4)


def test_a_hypercube_keeps_to_ranges_and_takes_named_values_alike_often() -> None:
    """One point a slice: of 12 samples, 6 fall in each half of the names."""
    drawn = texts(Study("", (WALL, SECTION), Sampling.HYPERCUBE, samples=12))
    walls = [float(wall.removesuffix(" mm")) for wall, _ in drawn]
    assert min(walls) >= 2.0
    assert max(walls) <= 4.0
    assert sorted(name for _, name in drawn) == ["channel"] * 6 + ["tube"] * 6
