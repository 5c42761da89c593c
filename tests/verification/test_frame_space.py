"""Frames in space: against PyNiteFEA (an independent program, dev only), and laws that every linear frame obeys."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from Pynite import FEModel3D
from pytest import approx

from framecheck.frame.report import moved_at
from framecheck.frame.results import FrameSolution
from framecheck.frame.solve import answered, solve_frame, structure_of
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads, MemberLoad, PointLoad, Support
from tests.unit.frame.frames import HELD, PLACED, bar, section
from tests.verification.manual import Held, Kind, proof

SECTIONS = {
    "rail": section("rail", e=205e9, g=79e9, area=8.4e-4, i_vertical=1.1e-6, i_sideways=3.7e-7, j=8.7e-7),
    "cross": section("cross", e=205e9, g=79e9, area=6.1e-4, i_vertical=3.1e-7, i_sideways=2.9e-7, j=5.2e-7),
}
POINTS = {
    "L0": (0.0, 0.4, 0.1),
    "L1": (1.1, 0.45, 0.0),
    "L2": (2.6, 0.38, 0.2),
    "R0": (0.0, -0.4, 0.1),
    "R1": (1.1, -0.45, 0.0),
    "R2": (2.6, -0.38, 0.2),
    "top": (1.3, 0.1, 0.9),
}
MEMBERS = (
    bar("left", "L0", "L1", of="rail"),
    bar("left 2", "L1", "L2", of="rail"),
    bar("right", "R0", "R1", of="rail"),
    bar("right 2", "R1", "R2", of="rail"),
    *(bar(f"cross {k}", f"L{k}", f"R{k}", of="cross") for k in range(3)),
    bar("stay", "L1", "top", of="cross"),
    bar("other stay", "R2", "top", of="cross"),
)
SUPPORTS = (Support("L0", HELD), Support("R0", PLACED), Support("R2", (0.0, 0.0, inf, 0.0, 0.0, 0.0)))
FRAME = Frame(POINTS, MEMBERS, {}, SUPPORTS)
NODAL = CaseLoads("nodal", (PointLoad("top", (300.0, -200.0, -900.0), (20.0, -30.0, 45.0)), PointLoad("L2", (0.0, 150.0, -800.0))))
WITHIN = CaseLoads(
    "within",
    member_loads=(
        MemberLoad("left 2", (40.0, -90.0, -700.0), (0.0, 60.0, -300.0)),
        MemberLoad("cross 1", (0.0, 0.0, -500.0), (0.0, 0.0, -500.0), 0.2, 0.7),
        MemberLoad("stay", (200.0, 100.0, -50.0), (200.0, 100.0, -50.0), 0.31, 0.31),
    ),
)
ASIDE = CaseLoads(
    "aside",
    member_loads=(
        MemberLoad("other stay", (150.0, -80.0, 220.0), (150.0, -80.0, 220.0), 0.5, 0.5, arm=(0.04, -0.07, 0.02)),
        MemberLoad("left 2", (0.0, 0.0, 900.0), (0.0, 0.0, 900.0), 0.4, 0.4, arm=(0.0, 0.05, 0.03)),
    ),
)


def by_pynite(frame: Frame) -> FEModel3D:
    """Return the same frame solved by PyNiteFEA (axial, bending, torsion; no shear deformation). Its y is up: ours (x, y, z) is
    its (x, z, -y)."""
    model = FEModel3D()
    for name, (x, y, z) in frame.points.items():
        model.add_node(name, x, z, -y)
    model.add_material("steel", 205e9, 79e9, 0.3, 7850.0)
    for name, each in SECTIONS.items():
        model.add_section(name, each.area, each.i_sideways, each.i_vertical, each.torsion_constant)
    for member in frame.members:
        model.add_member(member.name, *member.points, "steel", member.stretches[0].section)
    for support in frame.supports:
        held = [value == inf for value in support.stiffness]
        model.def_support(support.point, held[0], held[2], held[1], held[3], held[5], held[4])
    for load in NODAL.point_loads:
        for way, value in zip(("FX", "FZ", "FY", "MX", "MZ", "MY"), (*load.force, *load.moment), strict=True):
            model.add_node_load(load.point, way, -value if way in ("FZ", "MZ") else value, case="nodal")
    for case in (WITHIN, ASIDE):
        _add_within(model, case)
    for name in ("nodal", "within", "aside"):
        model.add_load_combo(name, {name: 1.0})
    model.analyze_linear()
    return model


def _add_within(model: FEModel3D, case: CaseLoads) -> None:
    for load in case.member_loads:
        for way, turn in zip(("MX", "MZ", "MY"), np.cross(load.arm, load.force_start).tolist(), strict=True):
            if turn:
                model.add_member_pt_load(load.member, way, -turn if way == "MZ" else turn, load.start, case=case.name)
        for way, first, second in zip(("FX", "FZ", "FY"), load.force_start, load.force_end, strict=True):
            sign = -1.0 if way == "FZ" else 1.0
            if load.start == load.end:
                model.add_member_pt_load(load.member, way, sign * first, load.start, case=case.name)
            else:
                end = None if load.end == inf else load.end
                model.add_member_dist_load(load.member, way, sign * first, sign * second, load.start, end, case=case.name)


def solution(frame: Frame, *cases: CaseLoads) -> FrameSolution:
    return solve_frame(structure_of(frame, SECTIONS), cases)


@proof(Kind.LIBRARY)
def test_agrees_with_pynite(held: Held) -> None:
    """PyNiteFEA 3.2.0: displacements, rotations and reactions to 1e-9 of the largest, as the project's brief asks."""
    model, ours = by_pynite(FRAME), solution(FRAME, NODAL, WITHIN, ASIDE)
    for number, case in enumerate(ours.cases):
        theirs = np.array(
            [
                [node.DX[case], -node.DZ[case], node.DY[case], node.RX[case], -node.RZ[case], node.RY[case]]
                for node in (model.nodes[name] for name in ours.points)
            ]
        )
        assert np.abs(ours.displacements[:, number] - theirs).max() < 1e-9 * np.abs(theirs).max()
    node = model.nodes["L0"]
    by_them = [
        node.RxnFX["within"],
        -node.RxnFZ["within"],
        node.RxnFY["within"],
        node.RxnMX["within"],
        -node.RxnMZ["within"],
        node.RxnMY["within"],
    ]
    held(ours.reactions["L0"][1], by_them, rel=1e-8)


def test_bending_along_a_member_agrees_with_pynite() -> None:
    model, ours = by_pynite(FRAME), solution(FRAME, WITHIN)
    member = next(each for each in ours.members if each.member == "cross 1")
    theirs = np.array([model.members["cross 1"].moment("Mz", x, "within") for x in member.stations.tolist()])
    assert np.abs(np.abs(member.forces[:, 0, 4]) - np.abs(theirs)).max() < 1e-6 * np.abs(theirs).max()


def turned(frame: Frame, turn: np.ndarray) -> Frame:  # type: ignore[type-arg]
    return replace(frame, points={name: tuple((turn @ place).tolist()) for name, place in frame.points.items()})  # type: ignore[misc]


def test_turning_the_whole_about_the_vertical_changes_nothing() -> None:
    c, s = np.cos(0.7), np.sin(0.7)
    turn = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])
    spun = replace(turned(FRAME, turn), supports=(Support("L0", HELD), Support("R0", HELD)))
    still = replace(FRAME, supports=spun.supports)
    loads = replace(
        NODAL,
        point_loads=tuple(
            replace(each, force=tuple(turn @ each.force), moment=tuple(turn @ each.moment)) for each in NODAL.point_loads
        ),
    )
    before, after = solution(still, NODAL), solution(spun, loads)
    assert after.energy == approx(before.energy, rel=1e-10)
    moved = before.displacements[:, 0].reshape(-1, 2, 3) @ turn.T
    assert np.abs(after.displacements[:, 0] - moved.reshape(-1, 6)).max() < 1e-10 * np.abs(moved).max()
    for one, other in zip(before.members, after.members, strict=True):
        assert other.forces == approx(one.forces, rel=1e-7, abs=1e-6)


def test_loads_add_up() -> None:
    both = CaseLoads("both", NODAL.point_loads, WITHIN.member_loads)
    found = solution(FRAME, NODAL, WITHIN, both)
    assert np.abs(found.displacements[:, 2] - found.displacements[:, :2].sum(axis=1)).max() < 1e-12
    for member in found.members:
        assert member.forces[:, 2] == approx(member.forces[:, 0] + member.forces[:, 1], abs=1e-6)


def test_every_self_check_holds() -> None:
    assert all(check.holds for check in solution(FRAME, NODAL, WITHIN, ASIDE).self_checks)


def test_what_acts_beside_a_line_moves_it_as_it_is_moved() -> None:
    """The law of Betti and Maxwell, of two loads beside their lines: the work of each on the other's movement is one."""
    loads = [CaseLoads(each.member, member_loads=(each,)) for each in ASIDE.member_loads]
    solved = answered(structure_of(FRAME, SECTIONS), loads)
    moved = [moved_at(solved, each.member, [each.start], np.array([each.arm]))[0] for each in ASIDE.member_loads]
    works = [moved[n][1 - n] @ ASIDE.member_loads[n].force_start for n in (0, 1)]
    assert works[0] == approx(works[1], rel=1e-9)


@pytest.mark.parametrize("count", [300])
def test_a_large_frame_is_solved_alike(count: int) -> None:
    """A cantilever of 300 members end to end (the sparse solver) is one of one member."""
    line = {f"p{k}": (3.0 * k / count, 0.0, 0.0) for k in range(count + 1)}
    many = Frame(line, tuple(bar(f"m{k}", f"p{k}", f"p{k + 1}", of="rail") for k in range(count)), {}, (Support("p0", HELD),))
    push = CaseLoads("end", (PointLoad(f"p{count}", (10.0, 20.0, -500.0), (5.0, 0.0, 0.0)),))
    one = Frame({"p0": (0.0, 0.0, 0.0), f"p{count}": (3.0, 0.0, 0.0)}, (bar("m", "p0", f"p{count}", of="rail"),), {}, many.supports)
    assert solution(many, push).displacements[-1] == approx(solution(one, push).displacements[-1], rel=1e-5)
