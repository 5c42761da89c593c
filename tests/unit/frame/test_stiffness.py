"""Frame stiffness on frames whose stiffness least work gives by hand."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from framecheck.errors import UnsolvableError
from framecheck.frame.results import Bound
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.frame.stiffness import (
    AxlePoints,
    FrameStiffness,
    frame_stiffness,
    holding_forces,
    station_at,
    twist_forces,
)
from framecheck.frame.vibration import refined
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.model.shapes import GivenProperties
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties

E, G = 200e9, 77e9
LENGTH, WIDTH = 2.4, 0.8
RAIL, CROSS = (1.1e-6, 3.6e-7, 8.2e-7), (3.0e-7, 2.0e-7, 4.1e-7)  # i vertical, i sideways, J; m4
RIGID = MemberEnd(Make.RIGID, EndWarping.FREE)
CORNERS = AxlePoints(("fl",), ("fr",), ("rl",), ("rr",))


def section(name: str, up: float, sideways: float, twist: float) -> SectionProperties:
    return SectionProperties(
        name, 8e-4, 6.28, (0.0, 0.0), up, sideways, 0.0, twist, 0.0, (0.0, 0.0), inf, inf, 0.0, 0.0, (0.0,) * 4, True,
        E, G, 250e6, "given",
    )  # fmt: skip


SECTIONS = {"rail": section("rail", *RAIL), "cross": section("cross", *CROSS)}


STEEL = Material("steel", E, G, 7850.0, 250e6, 400e6, "given here")
DRAWN = {
    name: Section(name, GivenProperties(8e-4, *numbers), STEEL) for name, numbers in (("rail", RAIL), ("cross", CROSS))
}


def ladder(role: str = "rail") -> Frame:
    """Return two rails and a crossmember at each end: a rectangle."""
    x, y = LENGTH / 2, WIDTH / 2
    points = {"fl": (x, y, 0.5), "fr": (x, -y, 0.5), "rl": (-x, y, 0.5), "rr": (-x, -y, 0.5)}
    ends = (("left", "fl", "rl"), ("right", "fr", "rr"), ("front", "fl", "fr"), ("rear", "rl", "rr"))
    members = tuple(
        Member(
            name, (a, b), (Stretch("rail" if name in ("left", "right") else "cross"),), start=RIGID, end=RIGID,
            role=role if name in ("left", "right") else "crossmember",
        )
        for name, a, b in ends
    )  # fmt: skip
    return Frame(points, members, DRAWN)


def measured(frame: Frame, points: AxlePoints = CORNERS) -> FrameStiffness:
    return frame_stiffness(frame, structure_of(frame, SECTIONS, Bound(), {}), points)


def by_least_work() -> float:
    """Return the rectangle's torsional stiffness in Nm/rad by hand.

    Corner forces P up and down; each corner's P is carried by a rail's shear V and a crossmember's P - V. Both bend
    with no moment at their middles, V L/2 at their ends, which twists the other pair. Energy V^2 a + (P - V)^2 b, least
    at V = P b/(a + b): P^2 ab/(a + b); couple T = P W, K = T^2 / 2U.
    """
    a = LENGTH**3 / (12 * E * RAIL[0]) + LENGTH**2 * WIDTH / (4 * G * CROSS[2])
    b = WIDTH**3 / (12 * E * CROSS[0]) + WIDTH**2 * LENGTH / (4 * G * RAIL[2])
    return WIDTH**2 * (a + b) / (2 * a * b)


def test_a_rectangle_in_twist_is_as_least_work_says() -> None:
    assert measured(ladder()).torsional == pytest.approx(by_least_work(), rel=1e-9)


def test_the_twist_curve_ends_at_the_whole_twist() -> None:
    found = measured(ladder())
    assert found.x[[0, -1]] == pytest.approx([-LENGTH / 2, LENGTH / 2])
    assert found.twist[0] == pytest.approx(0.0, abs=1e-15)
    assert 1 / found.twist[-1] == pytest.approx(found.torsional, rel=1e-9)
    assert np.all(np.diff(found.twist) > 0)


def test_two_rails_on_four_points_bend_as_two_simple_beams() -> None:
    # 48 EI / L^3 each; the crossmembers at the ends only turn with them
    assert measured(ladder()).bending == pytest.approx(2 * 48 * E * RAIL[0] / LENGTH**3, rel=1e-9)


@pytest.mark.parametrize("role", ["rail", "member"])
def test_rails_on_arms_are_pushed_where_they_really_run(role: str) -> None:
    """Balanced about the line between its points, the load of a rail whose ends hang at unlike heights below them was refused; a
    body's stiffeners do. By hand as above: 30 mm in 2.4 m change a simple beam by 1e-4."""
    whole = ladder(role)
    low, lower = (replace(RIGID, arm=(0.0, 0.0, -down)) for down in (0.01, 0.04))
    rails = tuple(replace(each, start=lower, end=low) for each in whole.members[:2])
    found = measured(replace(whole, members=(*rails, *whole.members[2:])))
    assert found.bending == pytest.approx(2 * 48 * E * RAIL[0] / LENGTH**3, rel=1e-3)
    assert found.sideways is not None


def test_a_rectangle_pushed_sideways_is_as_least_work_says() -> None:
    # a rail is loaded F/2 at its middle, held F/4 at each end and turned there by the crossmember's end moment M. Both rails
    # turn the same way, so the crossmember bends in an S, with shear 2M/W that pulls one rail and pushes the other. Slope at
    # the corner: of the rail F L^2/32 EI - M L/2EI, of the crossmember M W/6EIc, of its chord (2M/W)(L/EA)/W.
    rail, cross, stretch, force = E * RAIL[1], E * CROSS[1], E * 8e-4, 1.0
    give = WIDTH / (6 * cross) + 2 * LENGTH / (stretch * WIDTH**2) + LENGTH / (2 * rail)
    moment = force * LENGTH**2 / (32 * rail) / give
    middle = force / 2 * LENGTH**3 / 48 / rail - moment * LENGTH**2 / (8 * rail)
    assert measured(ladder()).sideways == pytest.approx(force / middle, rel=1e-9)


def test_the_shares_of_the_energy_are_the_whole() -> None:
    shares = measured(ladder()).shares
    assert sum(share.twist for share in shares) == pytest.approx(1.0)
    rails = [share for share in shares if share.member in ("left", "right")]
    assert sum(share.bending or 0.0 for share in rails) == pytest.approx(1.0)


def test_members_drawn_along_the_vehicle_stand_for_rails() -> None:
    found, rails = measured(ladder(role="member")), measured(ladder())
    assert found.torsional == pytest.approx(by_least_work(), rel=1e-9)
    assert found.bending == pytest.approx(2 * 48 * E * RAIL[0] / LENGTH**3, rel=1e-9)
    assert found.sideways == pytest.approx(rails.sideways, rel=1e-9)
    assert found.twist == pytest.approx(rails.twist, abs=1e-15)


def test_two_brackets_a_side_share_alike() -> None:
    # the frame twisted through points between: the same couple, at the middle of each pair of brackets
    middles = np.array([[1.0, 0.4, 0], [1.0, -0.4, 0], [-1.0, 0.5, 0], [-1.0, -0.5, 0]])
    assert twist_forces(middles) == pytest.approx([1 / 0.8, -1 / 0.8, -1.0, 1.0])


def test_holding_forces_balance_what_they_hold() -> None:
    middles = np.array([[1.3, 0.4, 0.5], [1.3, -0.4, 0.5], [-1.2, 0.5, 0.6], [-1.2, -0.5, 0.6]])
    force, at = (0.0, 100.0, 30.0), (0.1, 0.05, 0.8)
    held = holding_forces(middles, force, at)
    forces = np.stack((np.zeros(4), *held), axis=1)
    assert forces.sum(axis=0) + force == pytest.approx([0, 0, 0], abs=1e-9)
    assert np.cross(middles, forces).sum(axis=0) + np.cross(at, force) == pytest.approx([0, 0, 0], abs=1e-9)


def test_axle_points_in_one_line_are_refused() -> None:
    middles = np.array([[1.0, 0.0, 0], [0.5, 0.0, 0], [-1.0, 0.0, 0], [-2.0, 0.0, 0]])
    with pytest.raises(UnsolvableError, match="one line"):
        twist_forces(middles)


def test_a_station_is_found_along_a_cranked_rail() -> None:
    frame = ladder()
    frame = replace(frame, points={**frame.points, "kink": (0.0, WIDTH / 2, 0.2)})
    rail = Member("left", ("fl", "kink", "rl"), (Stretch("rail"),))
    assert station_at(frame, rail, -LENGTH / 2) == pytest.approx(2 * np.hypot(LENGTH / 2, 0.3))
    assert station_at(frame, rail, 0.0) == pytest.approx(np.hypot(LENGTH / 2, 0.3))
    assert station_at(frame, rail, 5.0) is None


def test_more_points_along_the_members_change_nothing() -> None:
    # a member is exact between its points, whatever their number; crossmembers hung below the rails' axes included
    low = MemberEnd(Make.RIGID, EndWarping.FREE, arm=(0.0, 0.0, -0.06))
    frame = ladder()
    hung = tuple(replace(m, start=low, end=low) if m.role == "crossmember" else m for m in frame.members)
    few = replace(frame, members=hung)
    one, many = measured(few), measured(refined(few, 0.15))
    assert many.torsional == pytest.approx(one.torsional, rel=1e-9)
    assert many.bending == pytest.approx(one.bending, rel=1e-9)
    assert many.sideways == pytest.approx(one.sideways, rel=1e-9)


@pytest.mark.parametrize("apart", [2e-4, 2.5e-4, 3e-4])
def test_places_a_hair_apart_on_a_member_leave_its_answer_to_be_judged(apart: float) -> None:
    """Clamped at both ends, F L^3 / 192 EI (beam tables; from memory). Rounding leaves 2e-9 to 1.5e-8 of the load; a body whose lines
    of sheet nearly meet on a torque box was not judged for 4e-9."""
    length, force = 0.3, 1000.0
    places = {"a": 0.0, "middle": length / 2, "one": 0.7 * length, "other": 0.7 * length + apart, "b": length}
    bar = Member("bar", tuple(places), (Stretch("rail"),), start=RIGID, end=RIGID)
    held = tuple(Support(name, (inf,) * 6) for name in ("a", "b"))
    frame = Frame({name: (x, 0.0, 0.0) for name, x in places.items()}, (bar,), DRAWN, held)
    push = CaseLoads("push", (PointLoad("middle", (0.0, 0.0, -force)),))
    solution = solve_frame(structure_of(frame, SECTIONS, Bound(), {}), (push,))
    assert [each for each in solution.self_checks if not each.holds] == []
    down = float(solution.displacements[solution.points.index("middle"), 0, 2])
    assert down == pytest.approx(-force * length**3 / (192 * E * RAIL[0]), rel=1e-7)
