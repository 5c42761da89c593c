"""Ratings: what the frame takes, found where the load is linear by hand, and lower for a thinner wall."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from framecheck.cli.files import data_folder, library
from framecheck.model.case import Case
from framecheck.model.frame import Frame
from framecheck.model.shapes import RectTube
from framecheck.reading.case_file import read_case
from framecheck.results.row import CheckResult
from framecheck.run import prepare
from framecheck.study.limit_search import Point, largest
from framecheck.study.rate import ratings
from framecheck.vehicle.scene import number
from framecheck.vehicle.scene_builder import scene_of
from framecheck.vehicle.wheels import static_loads

FILE = data_folder("cases") / "hill-truck.yaml"
DEMO = read_case(FILE.read_text(encoding="utf-8"), FILE.name, library())
ROW = CheckResult("yield", "rail", "bump", 0.0, 1.0, 1.0, "Pa", 1.0, 1.0, "by hand")


def plain(case: Case, *names: str) -> Case:
    """Return the case with few load cases, without joints and duty, which cost time and play no part here."""
    chosen = tuple(each for each in case.load_cases if each.name in names)
    return replace(case, load_cases=chosen, joints=(), fatigue=None, plates=())


@settings(max_examples=40, deadline=None)
@given(st.floats(0.1, 50.0), st.floats(0.0, 0.9), st.floats(0.5, 5.0))
def test_a_linear_load_is_rated_by_its_line(limit: float, offset: float, start: float) -> None:
    """By hand: used = offset + (1 - offset) v / limit reaches 1 at v = limit."""
    found = largest(lambda v: Point(offset + (1 - offset) * v / limit, ROW), start, "")
    assert found.value == pytest.approx(min(limit, 64 * start), rel=2e-4 / (1 - offset)) or limit > 64 * start
    assert found.value is not None
    assert offset + (1 - offset) * found.value / limit <= 1.0 + 1e-9 or found.governs is None


def test_a_load_that_stops_growing_is_not_the_frames() -> None:
    """By hand: the share used stops at 0.8, from v = 3 on."""
    found = largest(lambda v: Point(0.8 * min(v, 3.0) / 3.0, ROW), 1.0, "the tyres slide")
    assert found.governs is None
    assert found.value == pytest.approx(3.0, abs=1e-3)


def test_a_target_missed_without_the_load_has_no_rating() -> None:
    assert largest(lambda v: Point(1.2 + v, ROW), 1.0, "").value is None


def test_a_load_that_cannot_be_solved_ends_the_search() -> None:
    found = largest(lambda v: Point(0.5, ROW) if v < 2.5 else Point(inf, None, because="it tips"), 1.0, "")
    assert found.value == pytest.approx(2.5, rel=1e-3)


def thinner(frame: Frame) -> Frame:
    """Return the frame with all tube walls halved."""
    halved = {
        name: replace(each, shape=replace(each.shape, wall=each.shape.wall / 2))
        for name, each in frame.sections.items()
        if isinstance(each.shape, RectTube)
    }
    return replace(frame, sections={**frame.sections, **halved})


def test_halving_the_walls_lowers_every_rating_of_the_frame() -> None:
    case = plain(DEMO, "vertical bump", "curb strike sideways", "drive torque", "one wheel up")
    weak = replace(case, frame=thinner(case.frame))
    strong = {each.load.name: each for each in ratings(prepare(case), case)}
    for each in ratings(prepare(weak), weak):
        before = strong[each.load.name].before_yield
        assert each.before_yield.value is not None
        assert before.value is not None
        assert each.before_yield.value < before.value


def test_a_blow_from_below_is_rated_from_what_is_counted_of_it() -> None:
    """The truck's rock counts the whole weight, more than twice the front axle's load: from 2.00 on, the room to what meets the
    target was read 9 % too large. By statics: the weight is what both axles carry.
    """
    case = plain(DEMO, "rock under the gearbox")
    prepared = prepare(case)
    (found,) = ratings(prepared, case)
    scene = scene_of(case, prepared.frame)
    front, rear = static_loads(scene).axles
    assert found.now == pytest.approx((front + rear) / front)
    assert found.now > number(case.load_cases[0], "factor")
    (light,) = (replace(each, factors={**each.factors, "weight share": 0.0}) for each in case.load_cases)
    (least,) = ratings(prepared, replace(case, load_cases=(light,)))
    assert least.now == number(light, "factor")
    assert least.meets_target.value == pytest.approx(found.meets_target.value, rel=1e-3)
