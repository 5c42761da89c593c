"""Tolerances drawn: their spread, and the interval of a chance."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.special import ndtri

from framecheck.model.study import Aims, Scatter, Spread, Tolerance
from framecheck.reading.study_file import StudyFile
from framecheck.study.engines import Builders, Drawn, run_rare, run_scatter
from framecheck.study.measure import VariantRow
from framecheck.study.scatter import Nominal, draws_of, spread, summed_up, wilson
from tests.unit.study.studies import MEMORY, WALLS, rows_of_walls, study_file

THREE = Nominal(3.0, "mm")
MIDDLES = ndtri((np.arange(4000) + 0.5) / 4000)


@pytest.mark.parametrize(
    ("kind", "mean", "deviation"),
    [
        (Spread.NORMAL, 3.0, 0.3),
        (Spread.UNIFORM, 3.0, 0.3 / np.sqrt(3)),
        (Spread.LOGNORMAL, 3.0 * np.exp(0.005), 3.0 * np.exp(0.005) * np.sqrt(np.exp(0.01) - 1)),
    ],
)
def test_a_spread_has_its_mean_and_deviation(kind: Spread, mean: float, deviation: float) -> None:
    """First two moments: N(m, s); uniform of half width h, h / sqrt 3; lognormal, m exp(s2/2), mean sqrt(exp(s2) - 1) (Abramowitz,
    Stegun 26.1, and any handbook of statistics; from memory)."""
    drawn = spread(Tolerance("wall", kind, 0.1), THREE, MIDDLES)
    assert drawn.mean() == pytest.approx(mean, rel=1e-4)
    assert drawn.std() == pytest.approx(deviation, rel=3e-3)


def test_an_amount_spreads_in_the_nominals_own_unit() -> None:
    drawn = spread(Tolerance("wall", Spread.UNIFORM, 0.2, "mm"), THREE, np.array([-np.inf, 0.0, np.inf]))
    assert drawn == pytest.approx([2.8, 3.0, 3.2])


def test_wilsons_interval_for_none_and_for_half() -> None:
    """Wilson (1927) by hand with z2 = 3.841459: none of n gives 0 to z2 / (n + z2); half of n lies evenly about a half,
    half width sqrt(z2 / 4 (n + z2))."""
    assert wilson(0, 100) == pytest.approx((0.0, 3.841459 / 103.841459), abs=1e-8)
    low, high = wilson(50, 100)
    assert low + high == pytest.approx(1.0)
    assert (high - low) / 2 == pytest.approx(np.sqrt(3.841459 / (4 * 103.841459)), rel=1e-6)


def test_the_interval_holds_the_true_chance_as_often_as_it_says() -> None:
    """400 runs of 100 draws with a true chance of 0.1: about 95 % of the intervals hold it (three sigma of 400 trials: 3.3 %)."""
    missed = np.random.default_rng(1).binomial(100, 0.1, 400)
    held = np.mean([low <= 0.1 <= high for low, high in (wilson(int(each), 100) for each in missed)])
    assert held == pytest.approx(0.95, abs=0.033)


def test_draws_keep_what_the_study_holds_and_follow_the_seed() -> None:
    scatter = Scatter((Tolerance("wall", Spread.NORMAL, 0.05),), 20, 7)
    draws = draws_of(scatter, (THREE,), ("tube",))
    assert {draws.texts(number)[0] for number in range(20)} == {"tube"}
    assert draws.texts(3) == draws_of(scatter, (THREE,), ("tube",)).texts(3)
    assert all(draws.texts(number)[1].endswith(" mm") for number in range(20))


@cache
def thinned() -> tuple[StudyFile, Drawn]:
    """Return the ladder with a target at just the factor of its wall of 3 mm, which scatters by 2 %, and what is drawn."""
    met = rows_of_walls()[2].safety_factor
    wall = "{field: sections.rail tube.wall, deviation: 2 %}"
    file = study_file(f"{WALLS}targets: {{safety factor: {met}}}\nscatter: {{draws: 12, tolerances: [{wall}]}}\n")
    assert file.study.scatter is not None
    return file, (file.study.scatter, file.nominals(("3 mm",)), ("3 mm",))


def test_those_draws_miss_whose_wall_is_thinner_than_the_one_that_just_meets_the_target() -> None:
    """The factor grows with the wall (test_sweep), so the draws under 3 mm miss and no others do."""
    file, drawn = thinned()
    assert file.scattered is not None
    found = run_scatter(file.study, Builders(file.scattered, MEMORY), drawn)
    walls = draws_of(*drawn).amounts[:, 0]
    assert found.missed == np.sum(walls < 3.0)
    assert 0 < found.missed < 12
    assert found.low < found.chance < found.high
    assert found.mean == pytest.approx(rows_of_walls()[2].safety_factor, rel=0.02)


def test_the_likeliest_miss_of_a_wall_is_where_its_factor_meets_the_target() -> None:
    """A target 4 % under the nominal's factor: by the rows of 2.5 and 3 mm the factor falls 4 % with 4.1 % of the wall, 2.05 of its
    standard deviations; nearly a straight line between (test of the search itself: test_likeliest_miss)."""
    file, (scatter, nominal, values) = thinned()
    factors = [row.safety_factor or 0.0 for row in rows_of_walls()[1:3]]
    aims = Aims(safety_factor=0.96 * factors[1])
    assert file.scattered is not None
    found = run_rare(replace(file.study, aims=aims), Builders(file.scattered, MEMORY), (scatter, nominal, values))
    by_line = (3.0 - np.interp(0.96 * factors[1], factors, [2.5, 3.0])) / (0.02 * 3.0)
    assert found.point.settled
    assert found.point.index == pytest.approx(by_line, rel=0.03)
    assert found.amounts[0].endswith(" mm")


def test_a_draw_that_cannot_be_run_counts_as_missed() -> None:
    found = summed_up([VariantRow(0, (), "", fault="no"), VariantRow(1, (), "", safety_factor=2.0)], 1)
    assert (found.missed, found.faulty, found.draws) == (1, 1, 2)
