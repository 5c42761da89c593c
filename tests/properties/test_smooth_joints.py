"""A joint's springs are continuous in every size: over random sizes, since nominal ones say nothing of what lies between them."""

from __future__ import annotations

from dataclasses import replace
from math import inf, isinf
from pathlib import Path

import numpy as np
import pytest

from framecheck.frame.joint.data import Branch, Chord, JointStiffness, Make
from framecheck.frame.joint.mesh import mesh
from framecheck.frame.joint.stiffness import joint_stiffness
from framecheck.reading.case_file import read_case
from framecheck.study.stiffness import points_of, stiffness_of
from tests.cases.test_sections import LIBRARY
from tests.memory import Memory

STEP, MOVES = 1e-6, 1e-4
MEMORY = Memory()
SIZES = [("rail", each) for each in ("depth", "width", "wall", "reach")] + [
    ("branch", each) for each in ("depth", "width", "wall")
]
SEED, DRAWN, AT_A_TIME = 20261125, 200, 20
"""In the suite; 2000 were run once (docs/trust.md)."""


def springs(found: JointStiffness) -> list[float]:
    turns = found.bending_vertical, found.bending_sideways, found.twist
    return [*turns, found.axial, found.shear_vertical, found.shear_sideways]


def drawn(number: int) -> tuple[Chord, Branch, Make, tuple[str, str]]:
    """Return a joint and the size to move, the same each time; one in five has the branch's wall all but in the rail's plane."""
    rng = np.random.default_rng((SEED, number))
    depth, wall = rng.uniform(0.05, 0.2), rng.uniform(0.0015, 0.008)
    reach = inf if rng.random() < 0.7 else float(rng.uniform(0.05, 1.0))
    rail = Chord(depth, rng.uniform(0.03, 0.12), wall, bool(rng.random() < 0.7), reach=reach)
    beside = rng.random() < 0.2
    deep = depth - rng.uniform(-1.0, 3.0) * wall if beside else depth * rng.uniform(0.3, 1.0)
    branch = Branch(deep, rng.uniform(0.03, 0.1), rng.uniform(0.0015, 0.006), bool(rng.random() < 0.7))
    return rail, branch, list(Make)[rng.integers(2)], SIZES[rng.integers(len(SIZES))]


def grown(rail: Chord, branch: Branch, size: tuple[str, str]) -> tuple[Chord, Branch]:
    """Return the joint with one size larger by STEP of itself."""
    part, name = size
    if part == "rail":
        return replace(rail, **{name: getattr(rail, name) * (1 + STEP)}), branch
    return rail, replace(branch, **{name: getattr(branch, name) * (1 + STEP)})


@pytest.mark.parametrize("first", range(0, DRAWN, AT_A_TIME))
def test_no_size_makes_a_spring_jump(first: int) -> None:
    for number in range(first, first + AT_A_TIME):
        rail, branch, make, size = drawn(number)
        moved = joint_stiffness(*grown(rail, branch, size), make)
        for before, after in zip(springs(joint_stiffness(rail, branch, make)), springs(moved), strict=True):
            same = isinf(before) and isinf(after)
            assert same or after == pytest.approx(before, rel=MOVES), (rail, branch, make, size)


@pytest.mark.parametrize("walls", [1e-9, 1e-6, 0.1, 0.49999, 0.5, 0.50001])
@pytest.mark.parametrize("make", Make)
def test_a_branch_that_comes_into_the_rails_plane_does_not_jump(make: Make, walls: float) -> None:
    """The springs on both sides of each place where the mesh changes its kind, a millionth of the rail's depth apart."""
    rail = Chord(0.1, 0.05, 0.004, closed=True)
    depth = 0.1 - 0.004 + 0.003 - 2 * walls * 0.004
    near, far = (joint_stiffness(rail, Branch(deep, 0.04, 0.003, True), make) for deep in (depth, depth + 1e-7))
    assert springs(near) == pytest.approx(springs(far), rel=MOVES)


@pytest.mark.parametrize("wall", [4.238e-3, 4.28625e-3, 4.334e-3])
def test_every_node_of_the_mesh_hangs_together(wall: float) -> None:
    """At 4.28625 mm grid lines and the rail's own plane once rounded apart, and the branch hung on a few nodes."""
    found = mesh(Chord(0.1016, 0.0508, wall, True), Branch(0.0762, 0.0762, 0.0047625, True), Make.BUTT, 0.012)
    reached = set(found.corners[0].tolist())
    for _ in range(len(found.corners)):
        touching = found.corners[np.isin(found.corners, list(reached)).any(axis=1)]
        if len(reached) == len(reached := reached | set(touching.ravel().tolist())):
            break
    assert reached == set(range(len(found.nodes)))


def test_the_demo_grows_stiffer_with_its_wall_without_a_jump() -> None:
    """By the front rail's wall: 4.28625 mm (0.9 of 3/16 in) once gave 1049 Nm/deg between 1738 and 1746."""
    text = (Path(__file__).parents[2] / "cases" / "hill-truck.yaml").read_text(encoding="utf-8")
    assert text.count("wall: 3/16 in\n") >= 1

    def torsional(wall_mm: float) -> float:
        written = text.replace("wall: 3/16 in\n", f"wall: {wall_mm!r} mm\n", 1)
        case = read_case(written, "truck.yaml", LIBRARY)
        return stiffness_of(case, points_of(case), MEMORY)[0].torsional

    below, at, just_above, above = (torsional(wall) for wall in (4.238, 4.28625, 4.28625 * (1 + STEP), 4.334))
    assert just_above == pytest.approx(at, rel=MOVES)
    assert below < at < above
    assert at == pytest.approx((below + above) / 2, rel=1e-3)
