"""The check of members for local buckling: one row a member and load case, and what was not checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from framecheck.checks.effective import can_buckle, effective, effective_normal, wall_state, worst_wall
from framecheck.checks.joint_rows import Line
from framecheck.checks.local_buckling.shear import SOURCE as SHEAR_SOURCE
from framecheck.checks.local_buckling.shear import shear_use
from framecheck.checks.local_buckling.words import wall_words
from framecheck.checks.member_rows import Judged, all_bounds, distinct_sections, joined, material_at, rows
from framecheck.checks.result import NotChecked
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Member
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.stress import Outcome

CHECK = "local buckling"
SHEAR = "shear buckling"
SOURCE = "EN 1993-1-5:2006, 4.4 (effective width at yield); class: EN 1993-1-1:2005, table 5.2, compressed share from elastic stress"


@dataclass(frozen=True, eq=False, slots=True)
class Buckled:
    """Rows of forces as the effective section takes them. Arrays (...,).

    stress: the largest normal stress, Pa; wall: the worst one, by number; rank, share_left: its class and effective share.
    """

    stress: Array
    wall: Array
    rank: Array
    share_left: Array


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the rows of every member, in the frame's order, each with what could not be checked."""
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        lines += member_lines(outcome, number, member)
    return tuple(lines)


def member_lines(outcome: Outcome, number: int, member: Member) -> Iterator[Line]:
    """Yield the rows of one member: compression, then shear where a wall is slender."""
    forces = all_bounds(outcome, number)
    stations = outcome.solutions[0].members[number]
    known = {name: each for name, each in distinct_sections(stations).items() if is_covered(outcome, member, stations, each)}
    shape = forces.shape[:3]
    demand, capacity, info = np.zeros(shape), np.full(shape, np.inf), np.zeros((*shape, 3))
    sheared, shear_holds = np.zeros(shape), np.full(shape, np.inf)
    for section, at in known.values():
        if section.fields is None:
            continue
        found = buckled(section, section.fields, forces[:, at])
        demand[:, at], capacity[:, at] = found.stress, section.yield_strength
        info[:, at] = np.stack((found.wall, found.rank, found.share_left), axis=-1)
        sheared[:, at], shear_holds[:, at] = shear_use(section, section.fields, forces[:, at])

    def mode(bound: int, station: int, case: int) -> str:
        wall, rank, left = info[bound, station, case]
        words = wall_words(stations.sections[station].walls[int(wall)], int(rank), float(left))
        return joined(words, outcome.solutions[bound].bound.name)

    yield from rows(outcome, Judged(CHECK, member.name, demand, capacity, "Pa", SOURCE, stations.stations), mode)
    in_shear = Judged(SHEAR, member.name, sheared, shear_holds, "Pa", SHEAR_SOURCE, stations.stations)
    yield from rows(outcome, in_shear, lambda bound, station, case: outcome.solutions[bound].bound.name)
    yield from unchecked(outcome, member, stations)


def buckled(section: SectionProperties, fields: UnitFields, forces: Array) -> Buckled:
    """Return how forces (..., 9) are carried by the effective section."""
    state = wall_state(section, forces)
    normal = effective_normal(fields, forces, effective(section, state))
    wall = worst_wall(state)

    def of_wall(values: Array) -> Array:
        return np.take_along_axis(values, wall[..., None], axis=-1)[..., 0]

    worst = np.abs(normal).max(axis=-1)
    return Buckled(worst, wall.astype(np.float64), of_wall(state.classes), of_wall(state.share_left))


def is_covered(outcome: Outcome, member: Member, forces: MemberForces, each: tuple[SectionProperties, BoolArray]) -> bool:
    """Return whether a section is one that these rules were written for: walls known, of steel."""
    station = float(forces.stations[each[1]].mean())
    return can_buckle(each[0]) and material_at(outcome.case.frame, member, station).kind == "steel"


def unchecked(outcome: Outcome, member: Member, forces: MemberForces) -> Iterator[NotChecked]:
    """Yield the sections of a member that the check does not cover."""
    for name, each in distinct_sections(forces).items():
        if is_covered(outcome, member, forces, each):
            continue
        reason = f"the walls of section '{name}' are not known"
        if can_buckle(each[0]):
            reason = "EN 1993 rules are for steel; walls of other metals (EN 1999-1-1) are not built in"
        yield NotChecked(f"{member.name}: local buckling", reason)
