"""What members carry in their worst mixtures of soft and stiff ends, against the frame solved anew for every mixture."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from framecheck.frame.geometry import point_stations
from framecheck.frame.kink_mixtures import kink_mixtures
from framecheck.frame.member_mixtures import member_mixtures
from framecheck.frame.results import Bound, EndsApart, FrameSolution, Joints
from framecheck.frame.soft_frame import SoftFrame, soft_frame
from framecheck.frame.solve import answers_of, brief_solutions_of, solve_frame, structure_of
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Kinks, Member, Section, Stretch
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.model.shapes import Channel, RectTube
from framecheck.section.analysis import section_properties
from framecheck.section.properties import SectionProperties
from framecheck.surface_stress import most_compressed, outline_in_bending, peaks
from tests.unit.frame.test_unlike import STEEL, ladder


def drawn(seed: int, rail: str) -> tuple[Frame, tuple[CaseLoads, ...]]:
    """Return a ladder of two crossmembers and a brace from a rail's end to the middle of one, of random sizes, and random forces."""
    rng = np.random.default_rng((161612, seed))
    plain = ladder(2)
    points = {name: tuple((np.array(at) * rng.uniform(0.9, 1.1, 3)).tolist()) for name, at in plain.points.items()}
    points = {name: (at[0], np.sign(at[1]) * 0.4, 0.0) for name, at in points.items()}
    points |= {f"r{k}": (points[f"l{k}"][0], -0.4, 0.0) for k in range(4)}
    points["m"] = (points["l1"][0], 0.0, 0.0)
    wall = float(rng.uniform(0.0025, 0.0045))
    tube = RectTube(float(rng.uniform(0.07, 0.1)), 0.05, wall, 2 * wall)
    rails = Channel(float(rng.uniform(0.08, 0.1)), 0.05, wall, wall) if rail == "channel" else tube
    cross = RectTube(0.05, 0.04, 0.003, 0.006)
    sections = {name: Section(name, shape, STEEL) for name, shape in (("rail", rails), ("cross", cross))}
    made = [replace(each, stretches=(Stretch("rail" if each.role == "rail" else "cross"),)) for each in plain.members]
    made[2] = replace(made[2], points=("l1", "m", "r1"))
    members = (*made, Member("b", ("l0", "m"), (Stretch("cross"),)))
    loads = [tuple((rng.uniform(-1, 1, 3) * [1500, 1500, 3000]).tolist()) for _ in range(3)]
    cases = (
        CaseLoads("one", point_loads=(PointLoad("l3", loads[0]), PointLoad("m", loads[1]))),
        CaseLoads("two", point_loads=(PointLoad("r2", loads[2]),)),
    )
    held = Support("l0", (float("inf"),) * 6), Support("r0", (float("inf"),) * 3 + (0.0,) * 3)
    return Frame(points, members, sections, held), cases


@cache
def properties_of(section: Section) -> SectionProperties:
    return section_properties(section)


def under(frame: Frame, bound: Bound) -> Structure:
    return structure_of(frame, {name: properties_of(each) for name, each in frame.sections.items()}, bound)


def solved(frame: Frame, cases: tuple[CaseLoads, ...], bound: Bound) -> FrameSolution:
    return brief_solutions_of(answers_of((under(frame, bound),), cases))[0]


def soft_one(frame: Frame, cases: tuple[CaseLoads, ...]) -> SoftFrame:
    """Return a frame with all ends soft, ready for its mixtures."""
    answers = answers_of((under(frame, Bound(joints=Joints.SOFT)),), cases)
    told = brief_solutions_of(answers)[0]
    found = soft_frame(answers[0], under(frame, Bound(joints=Joints.STIFF)), (told, told), {})
    assert found is not None
    return found


def used(solution: FrameSolution) -> Array:
    """Return the largest equivalent stress of every member in every load case, Pa."""
    return np.array([
        np.max([peaks(section.fields, forces).nominal for section, forces in zip(line.sections, line.forces, strict=True)
                if section.fields is not None], axis=0)
        for line in solution.members
    ])  # fmt: skip


@pytest.mark.parametrize(("seed", "rail"), [(1, "tube"), (2, "channel")])
def test_what_a_length_carries_is_the_frame_solved_with_the_ends_of_its_mixture(seed: int, rail: str) -> None:
    """Woodbury's identity is exact, and between the ends of a length on which nothing more acts moments are straight."""
    frame, cases = drawn(seed, rail)
    own = member_mixtures(soft_one(frame, cases))
    for leg in own.legs[seed % 2 :: 2]:
        name, middle = frame.members[leg.member].name, sum(leg.span) / 2
        for number, case in ((0, 0), (2, 1), (4, 0)):
            bound = own.bound(own.solutions[number].bound, (name, middle), cases[case].name)
            there = solved(frame, cases, bound).members[leg.member].forces[leg.rows, case]
            told = own.solutions[number].members[leg.member].forces[leg.rows, case]
            assert told == pytest.approx(there, rel=1e-7, abs=1e-6)


@pytest.mark.parametrize(("seed", "rail"), [(3, "tube"), (4, "channel")])
def test_no_mixture_stresses_a_member_more_than_what_is_told(seed: int, rail: str) -> None:
    """Every fourth mixture of its six ends, solved anew, each of them asked of every member and load case."""
    frame, cases = drawn(seed, rail)
    own = member_mixtures(soft_one(frame, cases))
    told = np.max([used(each) for each in own.solutions], axis=0)
    ends = sorted(own.every)
    assert len(ends) == 6
    alike = used(solved(frame, cases, Bound(joints=Joints.SOFT)))
    worst = np.zeros_like(told)
    for number in range(seed, 2 ** len(ends) - 1, 4):
        stiff = frozenset(end for k, end in enumerate(ends) if number >> k & 1)
        worst = np.maximum(worst, used(solved(frame, cases, Bound(joints=Joints.SOFT, apart=EndsApart(stiff, "some")))))
    assert (worst <= told * 1.0005).all()
    assert (told > 1.05 * alike).any()


def test_what_a_leg_carries_at_its_kink_is_the_frame_solved_with_those_ends() -> None:
    frame, cases = drawn(5, "tube")
    points = {**frame.points, "l3": (frame.points["l3"][0], 0.4, 0.13)}
    members = tuple(replace(each, kinks=Kinks.MITRED) if each.role == "rail" else each for each in frame.members)
    bent = replace(frame, points=points, members=members)
    found = soft_one(bent, cases)
    own = list(kink_mixtures(found))
    assert len(own) == 2
    for each in own:
        number = len(each.forces) // 3
        bound = each.bound(number, (bent, found.every, Bound(joints=Joints.SOFT)))
        there = solve_frame(under(bent, bound), cases).members[each.side.member]
        station = point_stations(bent, bent.members[each.side.member])[2]
        rows = np.flatnonzero(np.abs(there.stations - station) < 1e-9)
        near = np.abs(there.member_forces[rows] - each.member_forces[number]).max(axis=(1, 2)).min()
        assert near < 1e-8 * np.abs(each.member_forces[number]).max()


@pytest.mark.parametrize("shape", [RectTube(0.0913, 0.0507, 0.0031, 0.0062), Channel(0.0877, 0.0461, 0.0036, 0.0041)])
def test_no_bending_presses_a_point_within_the_outline_most(shape: RectTube | Channel) -> None:
    """Against the least over all surface points."""
    fields = section_properties(Section("s", shape, STEEL)).fields
    assert fields is not None
    forces = np.random.default_rng(7).normal(size=(50, 4)) * [1e4, 300.0, 300.0, 0.0]
    every = -(forces @ fields.normal.T).min(axis=1)
    assert len(outline_in_bending(fields)) < len(fields.normal)
    assert most_compressed(fields, forces) == pytest.approx(every, rel=1e-12)
    forces[:, 3] = 2.0
    assert most_compressed(fields, forces) == pytest.approx(-(forces @ fields.normal.T).min(axis=1), rel=1e-12)
