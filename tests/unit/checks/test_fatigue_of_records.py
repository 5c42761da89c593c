"""A long record is judged by its spectrum: the same sums as swing by swing, in any parts, whichever places are looked at first."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from framecheck.checks.fatigue import assess
from framecheck.checks.fatigue.sn import damage_of_spectra, damage_together, equivalent
from framecheck.checks.fatigue.stretch import StretchOfDetail, parts_of, stretch_of, swings_at, whole_swings
from framecheck.checks.fatigue.swings import SwingBlock, coarser, rainflow_cycles, spectra_of, worse
from framecheck.model.arrays import Array
from framecheck.model.duty import BaseMetal, Detail, MeanStress, PartialFactors
from framecheck.section.properties import UnitFields
from framecheck.surface_stress import components
from tests.verification.test_fatigue import CLASS_71, IIW_71, MACHINED, SHEAR_80

CASES, STATIONS, POINTS = 4, 5, 30
METAL = (PartialFactors(), 430e6)


def record(seed: int, samples: int = 200) -> list[SwingBlock]:
    """Return the blocks of two records between the same load cases and one between others, and of one plain event."""
    draw = np.random.default_rng(seed)
    found = [SwingBlock("plain", 0, None, 1.0, 0.5, float(draw.uniform(1, 100)))]
    for name, high, low in (("one", 1, 2), ("two", 1, 2), ("three", 3, 0)):
        for spread, middle, count in rainflow_cycles(tuple(draw.uniform(-0.2, 1.1, samples))):
            found.append(SwingBlock(name, high, low, spread, middle, count * float(draw.uniform(0.1, 10))))
    return found


def stretch(seed: int, blocks: list[SwingBlock]) -> tuple[StretchOfDetail, Array]:
    """Return a stretch of a member of any section and its forces, (n_station, n_case, 9)."""
    draw = np.random.default_rng(seed)
    units = draw.normal(size=(POINTS, 4)), draw.normal(size=(POINTS, 2, 4))
    fields = UnitFields(np.zeros((POINTS, 2)), *units, np.zeros(POINTS, dtype=bool))
    forces = draw.normal(size=(STATIONS, CASES, 9)) * 8e6
    return stretch_of((fields, np.arange(STATIONS) * 1.0, forces), 1.3, (), spectra_of(blocks)), forces


def swing_by_swing(of: StretchOfDetail, forces: Array, blocks: list[SwingBlock]) -> tuple[Array, Array, Array]:
    """Return the normal and shear range and the normal mean (n_block, n_place), each swing by itself."""
    stress = components(of.fields, forces)
    none = np.zeros_like(stress.normal[:, 0]), np.zeros_like(stress.shear[:, 0])
    found = []
    for block in blocks:
        high, low = (none if case is None else (stress.normal[:, case], stress.shear[:, case]) for case in (block.high, block.low))
        normal, shear = (block.spread * (a - b) for a, b in zip(high, low, strict=True))
        mean = low[0] + block.middle * (high[0] - low[0])
        found.append([1.3 * each.ravel() for each in (np.abs(normal), np.linalg.norm(shear, axis=-1), mean)])
    return tuple(np.array(each) for each in zip(*found, strict=True))  # type: ignore[return-value]


@pytest.mark.parametrize("seed", range(6))
def test_a_spectrum_damages_as_its_swings_do(seed: int) -> None:
    blocks = record(seed)
    of, forces = stretch(seed, blocks)
    normal, shear, _ = swing_by_swing(of, forces, blocks)
    whole, spectra = whole_swings(of), spectra_of(blocks)
    cycles = np.array([each.cycles for each in blocks])
    for one, other in ((CLASS_71, SHEAR_80), (IIW_71, SHEAR_80)):
        asked = damage_together(((normal, one), (shear, other)), cycles)
        found = damage_of_spectra(((whole.normal, one), (whole.shear, other)), spectra)
        assert found == pytest.approx(asked, rel=1e-11)
        assert asked.max() > 0.0


@pytest.mark.parametrize("seed", range(6))
def test_swings_at_places_are_those_of_the_stress_in_each_load_case(seed: int) -> None:
    blocks = record(seed)
    of, forces = stretch(seed, blocks)
    spectra = spectra_of(blocks)
    found = swings_at(of, spectra, np.arange(STATIONS * POINTS))
    normal, shear, mean = swing_by_swing(of, forces, blocks)
    for ours, asked in ((found.normal, normal), (found.shear, shear), (found.mean, mean)):
        in_any_order = zip(np.sort(ours, axis=0), np.sort(asked, axis=0), strict=True)
        assert all(one == pytest.approx(other, rel=1e-9, abs=1.0) for one, other in in_any_order)


@pytest.mark.parametrize("rule", MeanStress)
@pytest.mark.parametrize("parts", [1, 3, 8])
def test_no_swing_damages_more_than_those_that_it_is_joined_to(rule: MeanStress, parts: int) -> None:
    blocks = record(parts)
    of, _ = stretch(parts, blocks)
    spectra, places = spectra_of(blocks), np.arange(STATIONS * POINTS)
    detail = Detail("edge", "rail", BaseMetal(MACHINED, rule))
    exact = assess.at_places(detail, of, (spectra,), METAL, places)
    most = assess.at_places(detail, of, coarser(spectra, parts), METAL, places)
    assert (most >= exact).all()
    joined = coarser(spectra, parts)
    assert joined[0].cycles.sum() == pytest.approx(spectra.cycles.sum())
    _, mean = equivalent(worse([swings_at(of, each, places) for each in joined]))
    assert mean.max() >= equivalent(swings_at(of, spectra, places))[1].max()


@pytest.mark.parametrize("rule", [*MeanStress, None])
@pytest.mark.parametrize("at_once", [1, 50, 1000, 20_000])
def test_the_worst_place_is_the_same_however_it_is_looked_for(
    rule: MeanStress | None, at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocks = record(7)
    of, _ = stretch(7, blocks)
    spectra = spectra_of(blocks)
    detail = Detail("edge", "rail", CLASS_71 if rule is None else BaseMetal(MACHINED, rule))
    whole = assess.worst_of_places(detail, of, spectra, METAL)
    monkeypatch.setattr(assess, "AT_ONCE", at_once)
    assert assess.worst_of_places(detail, of, spectra, METAL) == whole
    found = [assess.worst_of_places(detail, each, spectra, METAL) for each in parts_of(of, at_once)]
    assert replace(max(found, key=lambda each: each.damage), unread=whole.unread) == whole
    assert whole.damage > 0.0


def test_of_equal_places_the_first_is_named_whatever_the_rounding() -> None:
    assert assess.first_of_most([1.0, 3.0, 3.0 * (1 + 1e-15)], [1.0, 1.0, 1.0]) == 1
    assert assess.first_of_most([0.0, 0.0], [2.0, 5.0]) == 1
    assert assess.first_of_most([0.0, 0.0], [0.0, 0.0]) == 0


def test_a_kink_out_of_reach_adds_nothing_and_is_left_out() -> None:
    blocks = record(1, 20)
    of, _ = stretch(1, blocks)
    near = SimpleNamespace(kink=SimpleNamespace(point="p"), actions=np.ones((CASES, 4)), reaches=lambda stations: True)
    near.at_surface = lambda stations: np.full((len(stations), 4), 3.0)
    far = SimpleNamespace(reaches=lambda stations: False)
    spectra = spectra_of(blocks)
    forces = np.zeros((STATIONS, CASES, 9))
    alone = stretch_of((of.fields, of.stations, forces), 1.0, (near, far), spectra)  # type: ignore[arg-type]
    # 4 actions of 1, 3 Pa each: 12 Pa against nothing on the frame, none where the load cases at both ends are alike
    found = whole_swings(alone).normal.reshape(len(spectra.first), -1)
    assert found[0] == pytest.approx(12.0)
    assert found[1:] == pytest.approx(0.0)
    assert whole_swings(replace(alone, factor=2.0)).normal[0] == pytest.approx(24.0)
    assert whole_swings(alone.straight()).normal[0] == pytest.approx(0.0)
