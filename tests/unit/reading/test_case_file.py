"""A case file in, a case out: coordinates and loads worked by hand with 1 in = 25.4 mm and 1 lb = 0.45359237 kg (exact)."""

from __future__ import annotations

import pytest

from framecheck.model.frame import Make, Orientation
from framecheck.model.vehicle import Vehicle
from framecheck.vehicle.load_cases import runnable_kinds
from tests.unit.reading.shop import truck

INCH = 0.0254


def test_the_right_rail_mirrors_the_left_one() -> None:
    points = truck().frame.points
    for name, (x, y, z) in points.items():
        if name.startswith("left "):
            assert points["right " + name.removeprefix("left ")] == (x, -y, z)


def test_a_crossmember_seats_itself_on_the_straight_between_stations() -> None:
    """x -40 in of the way from 0 to -70: y 13 + 2 (40/70), z 24 - 4 (40/70) in; its middle 3 in lower."""
    case = truck()
    expected = (-40 * INCH, (13 + 2 * 40 / 70) * INCH, (24 - 4 * 40 / 70) * INCH)
    assert case.frame.points["left gearbox crossmember"] == pytest.approx(expected)
    assert case.frame.points["gearbox mount"] == pytest.approx((expected[0], 0.0, expected[2] - 3 * INCH))
    cross = next(member for member in case.frame.members if member.name == "gearbox crossmember")
    assert cross.points == ("left gearbox crossmember", "gearbox mount", "right gearbox crossmember")
    assert cross.start.arm == pytest.approx((0.0, 0.0, -3 * INCH))
    assert (cross.start.make, cross.end.make) == (Make.BUTT, Make.BUTT)


def test_rails_are_one_member_through_every_place_on_them() -> None:
    left, right = truck().frame.members[:2]
    names = ("front horn", "front axle", "gearbox crossmember", "kick-up", "front eye", "tail")
    assert left.points == tuple(f"left {name}" for name in names)
    assert right.points == tuple(f"right {name}" for name in names)
    assert [stretch.section for stretch in left.stretches] == ["stamped", "rail tube"]


def test_a_section_begins_where_its_station_says() -> None:
    """From (30, 13, 22) to (0, 13, 24): sqrt(904) in; on to (-70, 15, 20): sqrt(4920) in."""
    left = truck().frame.members[0]
    assert left.stretches[0].until == pytest.approx((904**0.5 + 4920**0.5) * INCH)


def test_channels_open_inboard_on_both_rails() -> None:
    """Seen looking rearward along a rail, left is the truck's right: the left rail's C, open to the right, has to be flipped."""
    left, right = truck().frame.members[:2]
    assert (left.orientation, right.orientation) == (Orientation(0, True), Orientation(0, False))


def test_masses_and_wheels() -> None:
    vehicle = truck().vehicle
    assert isinstance(vehicle, Vehicle)
    assert vehicle.masses[0].mass == pytest.approx(520 * 0.45359237)
    assert vehicle.front.left.contact == pytest.approx((0.0, 29 * INCH, 0.0))
    assert vehicle.front.right.on == ("right front axle",)
    assert vehicle.rear.left.on == ("left front eye", "left tail")
    assert vehicle.rear.right.unsprung_mass == pytest.approx(125 * 0.45359237)


def test_load_cases_keep_the_source_of_every_factor() -> None:
    case = truck()
    assert [each.name for each in case.load_cases] == ["static", "vertical bump", "big bump", "jacked at a point"]
    big = case.load_cases[2]
    assert (big.kind, big.factors, big.sources) == ("vertical bump", {"factor": 4.0}, {"factor": "case file"})
    jacked = case.load_cases[3]
    assert jacked.factors == {"point": "left front axle", "wheel": "nearest", "factor": 1.25}
    assert jacked.sources["factor"].startswith("common practice")
    assert case.sums[0].parts == (("vertical bump", 0.5), ("static", 1.0))
    assert case.targets.of("big bump") == 1.2


def test_forces_of_ones_own_are_pounds_force() -> None:
    """500 lbf = 500 x 0.45359237 x 9.80665 N (exact)."""
    load = truck().written_loads[0].point_loads[0]
    assert load.force == pytest.approx((0.0, 0.0, -500 * 0.45359237 * 9.80665))


def test_standard_load_cases_run_where_none_are_asked_for() -> None:
    listed = ("load cases:\n", "targets: {safety factor: 1.5, load cases: {big bump: 1.2}}\n")
    from tests.unit.reading.shop import LIBRARY, TRUCK, read_case

    start, end = TRUCK.index(listed[0]), TRUCK.index(listed[1])
    case = read_case(TRUCK[:start], "truck.yaml", LIBRARY)
    assert end > start
    assert [each.kind for each in case.load_cases][:3] == ["static", "vertical bump", "braking"]
    assert {each.kind for each in case.load_cases} == set(runnable_kinds(case))
    assert all(each.by_default for each in case.load_cases)
    assert set(runnable_kinds(case)) < set(LIBRARY.load_kinds())
