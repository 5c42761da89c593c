"""Plates at random: a hair more of a size moves nothing by much, and a mirror image has the same answers."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.plate import solve
from framecheck.checks.plate.answer import LoadAnswer
from framecheck.model.plate import BoltedPlate, Drop, Patch, PlateBolt, Press, Rib, StiffenerRun, Strike
from tests.unit.checks.plates import STEEL

HAIR = 1e-7


def at_random(seed: int, stretch: float = 1.0) -> BoltedPlate:
    """Return a ribbed plate on five bolts, pressed up, pressed down and struck; stretch: of all its sizes along x."""
    some = np.random.default_rng(seed)
    length, width = some.uniform(0.5, 1.0), some.uniform(0.4, 0.8)
    spots = [(u, v) for u in (0.05, 0.95) for v in (0.06, 0.94)] + [(some.uniform(0.3, 0.7), 0.06)]
    bolts = tuple(PlateBolt(str(n), (u * length * stretch, v * width), 0.02) for n, (u, v) in enumerate(spots))
    patches = [Patch((u * length * stretch, v * width), (0.1, 0.08)) for u, v in some.uniform(0.3, 0.7, (3, 2))]
    loads = (Press("up", patches[0], 5e3), Press("down", patches[1], -5e3), Strike("blow", patches[2], Drop(40.0, 0.01)))
    rib = Rib("rib", StiffenerRun.X, width / 2, 0.1 * length * stretch, 0.8 * length * stretch, 0.03, 0.004)
    metal = replace(STEEL, welded_yield=150e6)
    return BoltedPlate("plate", length * stretch, width, 0.004, metal, bolts, (), (rib,), loads, gap=0.1)


def mirrored(plate: BoltedPlate) -> BoltedPlate:
    """Return the plate with its right and left exchanged."""
    bolts = tuple(replace(bolt, at=(bolt.at[0], plate.width - bolt.at[1])) for bolt in plate.bolts)
    patches = [replace(load.patch, at=(load.patch.at[0], plate.width - load.patch.at[1])) for load in plate.loads]  # type: ignore[union-attr]
    loads = tuple(replace(load, patch=patch) for load, patch in zip(plate.loads, patches, strict=True))
    return replace(plate, bolts=bolts, loads=loads)


def numbers(answer: LoadAnswer) -> list[float]:
    """Return what a load does, in numbers."""
    stiffeners = [each for one in answer.stiffeners for each in (one.stress, one.compression)]
    stress = answer.stress.stress / answer.stress.yield_strength
    whole = [answer.force, answer.for_bolts, answer.deflection, stress, answer.first_yield, answer.collapse]
    return [*whole, *stiffeners, *answer.prying.tolist(), *answer.bolt_forces[:, 2].tolist()]


def same(one: BoltedPlate, other: BoltedPlate, rel: float) -> None:
    for first, second in zip(solve(one).loads, solve(other).loads, strict=True):
        assert numbers(first) == approx(numbers(second), rel=rel, abs=1e-6)


@pytest.mark.parametrize("seed", range(4))
def test_a_hair_of_length_moves_nothing_by_much(seed):
    same(at_random(seed), at_random(seed, 1 + HAIR), 1e-4)


@pytest.mark.parametrize("seed", range(4))
def test_a_mirror_image_has_the_same_answers(seed):
    same(at_random(seed), mirrored(at_random(seed)), 1e-5)
