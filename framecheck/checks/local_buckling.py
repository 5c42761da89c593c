"""Local buckling of members' walls, in compression and in shear: one row a member and load case, and what was not checked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache

import numpy as np

from framecheck.checks.effective import WallState, effective, most_used, thicknesses, widths, worst_wall
from framecheck.checks.formulas.plate_buckling import shear_share_left, shear_slenderness
from framecheck.checks.heat import SoftenedShare, all_strengths, beside
from framecheck.checks.joint_rows import Line
from framecheck.checks.member_rows import (
    DemandCapacity,
    SectionRows,
    blank,
    by_section,
    distinct_sections,
    first_within,
    rows,
    within,
)
from framecheck.checks.member_stress import on_wall
from framecheck.checks.wall_rules import (
    metal_of,
    reason_against,
    round_class,
    shape_at,
    shear_epsilon,
    source_of,
    state_of,
)
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Member
from framecheck.model.shapes import RoundBar, RoundTube, Shape
from framecheck.model.shop_tables import Material
from framecheck.results.row import Check, Mode
from framecheck.results.subjects import Open, Question, Thing, left_open
from framecheck.section.properties import SectionProperties, UnitFields, Wall
from framecheck.stress import SolvedCase
from framecheck.surface_stress import largest_shear
from framecheck.value_class import array_class


@array_class
class Buckled:
    """Rows of forces as the effective section takes them. Arrays (...,).

    stress: the normal stress where most of the yield strength, holds, is used, Pa; wall: the worst one, by number; rank, share_left:
    its class and effective share.
    """

    stress: Array
    holds: Array
    wall: Array
    rank: Array
    share_left: Array


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every member, in the frame's order, each with what could not be checked."""
    found = None if outcome.in_blocks else strained(outcome)
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        if found is not None:
            lines += compression_rows(outcome, number, member, found)
            lines += shear_rows(outcome, number, member, found)
        lines += unchecked(outcome, number, member)
    return tuple(lines)


@array_class
class Strained:
    """Demand and capacity of every member by its place in the frame, (n_bound, n_station, n_case), Pa; wall: (..., 3) its number,
    class and effective share.
    """

    stress: Mapping[int, Array]
    holds: Mapping[int, Array]
    wall: Mapping[int, Array]
    shear: Mapping[int, Array]
    shear_holds: Mapping[int, Array]


def strained(outcome: SolvedCase) -> Strained:
    """Return what every member's walls bear, section by section."""
    found = Strained(
        blank(outcome, 0.0), blank(outcome, np.inf), blank(outcome, 0.0, (3,)), blank(outcome, 0.0), blank(outcome, np.inf)
    )
    strengths = all_strengths(outcome)
    for each in by_section(outcome):
        section, fields = each.section, each.section.fields
        number, at, _ = each.places[0]
        if fields is None or reason_of(outcome, number, (section, at)):
            continue
        metal, near = metal_in(outcome, number, (section, at)), beside(each, strengths)
        walls = buckled_in_pieces(each, metal, near)
        each.spread(walls.stress, found.stress)
        each.spread(walls.holds, found.holds)
        each.spread(np.stack((walls.wall, walls.rank, walls.share_left), axis=-1), found.wall)
        demand, capacity = shear_use(section, fields, each.forces, shear_epsilon(metal, section.wall_strengths))
        each.spread(demand, found.shear)
        each.spread(capacity, found.shear_holds)
    for number, one in strengths.items():
        found.holds[number][:] *= one.share[:, None]
        found.shear_holds[number][:] *= one.share[:, None]
    return found


def compression_rows(outcome: SolvedCase, number: int, member: Member, found: Strained) -> Iterator[Line]:
    """Yield the worst row of each load case, the wall that governs named."""
    line, walls = outcome.solutions[0].members[number], found.wall[number]

    @cache
    def class_of(station: int) -> str:
        section, place = line.sections[station], within(line, station)
        shape, metal = shape_at(outcome.case.frame, member, place), metal_of(outcome.case.frame, member, section, place)
        return round_words(shape, round_class(shape, section.yield_strength, metal))

    def mode(bound: int, station: int, case: int) -> str:
        section = line.sections[station]
        if not section.walls:
            return class_of(station)
        wall, rank, left = walls[bound, station, case]
        return wall_words(section.walls[int(wall)], int(rank), float(left))

    of = (Check.LOCAL_BUCKLING, Mode.WALL_BUCKLES, member.name)
    sources = dict.fromkeys(
        source_of(metal_of(outcome.case.frame, member, each, first_within(line, at)))
        for each, at in distinct_sections(line)
    )
    used = DemandCapacity(*of, found.stress[number], found.holds[number], "Pa", "; ".join(sources), line.stations)
    yield from rows(outcome, used, mode)


def shear_rows(outcome: SolvedCase, number: int, member: Member, found: Strained) -> Iterator[Line]:
    """Yield the worst row of each load case where a wall is slender in shear."""
    stations = outcome.solutions[0].members[number].stations
    of = (Check.SHEAR_BUCKLING, Mode.SHEAR_BUCKLES, member.name)
    used = DemandCapacity(*of, found.shear[number], found.shear_holds[number], "Pa", SOURCE, stations)
    yield from rows(outcome, used, lambda *_: "")


def metal_in(outcome: SolvedCase, number: int, each: tuple[SectionProperties, BoolArray]) -> Material:
    """Return the metal of a section of a member."""
    station = first_within(outcome.solutions[0].members[number], each[1])
    return metal_of(outcome.case.frame, outcome.case.frame.members[number], each[0], station)


def buckled(section: SectionProperties, forces: Array, state: WallState) -> Buckled:
    """Return how forces (..., 9) are carried by the effective section."""
    worst, holds = most_used(section, forces, effective(section, state))
    if not section.walls:
        return Buckled(worst, holds, np.zeros_like(worst), np.zeros_like(worst), np.ones_like(worst))
    wall = worst_wall(state)

    def of_wall(values: Array) -> Array:
        return np.take_along_axis(values, wall[..., None], axis=-1)[..., 0]

    return Buckled(worst, holds, wall.astype(np.float64), of_wall(state.classes), of_wall(state.share_left))


AT_ONCE = 100_000
"""Walls times rows of forces that are worked out together: all at once would take a gigabyte where there are many load cases."""


def buckled_in_pieces(each: SectionRows, metal: Material, near: SoftenedShare) -> Buckled:
    """Return how all forces of a section (n_bound, n_row, n_case, 9) are carried; near: how the rows stand to welds."""
    section, forces = each.section, each.forces
    bounds, count, cases, _ = forces.shape
    together = max(1, AT_ONCE // (bounds * cases * max(len(section.walls), 1)))
    pieces = [slice(first, first + together) for first in range(0, count, together)]
    found = [buckled(section, forces[:, at], state_of(section, forces[:, at], metal, near.of(at))) for at in pieces]
    names = ("stress", "holds", "wall", "rank", "share_left")
    return Buckled(*(np.concatenate([getattr(one, name) for one in found], axis=1) for name in names))


def reason_of(outcome: SolvedCase, number: int, each: tuple[SectionProperties, BoolArray]) -> str:
    """Return why a section of a member can't be judged, "" where it can."""
    line = outcome.solutions[0].members[number]
    return reason_against(outcome.case.frame, outcome.case.frame.members[number], each[0], first_within(line, each[1]))


def unchecked(outcome: SolvedCase, number: int, member: Member) -> Iterator[Open]:
    """Yield the sections of a member that the check does not cover."""
    for each in distinct_sections(outcome.solutions[0].members[number]):
        reason = reason_of(outcome, number, each)
        if reason:
            yield left_open(Thing.MEMBER, member.name, Question.LOCAL_BUCKLING, reason)


SOURCE = (
    "EN 1993-1-5:2006, 5.1(2), 5.3, table 5.1, the largest shear stress of the wall, away from sharp re-entrant corners, taken for "
    "its mean (unfavourable)"
)


def slender_in_shear(section: SectionProperties, epsilon: Array) -> list[int]:
    """Return the walls, by number, that may buckle in shear: h/t > 72 epsilon. EN 1993-1-5:2006, 5.1(2), eta = 1."""
    limit = 72 * epsilon
    free = np.array([wall.free_start or wall.free_end for wall in section.walls], dtype=bool)
    return np.flatnonzero((widths(section) / thicknesses(section) > limit) & ~free).tolist()


def smooth(fields: UnitFields, on: BoolArray) -> BoolArray:
    """Return the points (n,) of a wall away from sharp re-entrant corners, as yield is judged; all of them where none are."""
    away = on & ~fields.sharp
    return away if away.any() else on


def shear_use(section: SectionProperties, fields: UnitFields, forces: Array, epsilon: Array) -> tuple[Array, Array]:
    """Return the (demand, capacity) in shear of the slender wall nearest its limit, each (...,), Pa; forces (..., 9).

    epsilon: see `wall_rules.shear_epsilon`.
    """
    demand, capacity = np.zeros(forces.shape[:-1]), np.full(forces.shape[:-1], np.inf)
    slender = slender_in_shear(section, epsilon)
    if not slender:
        return demand, capacity
    for number in slender:
        wall = section.walls[number]
        on = smooth(fields, on_wall(section, fields, number)[1])
        strength = float(section.wall_strengths[number])
        most = largest_shear(fields, forces, on)
        ratio = np.array(wall.width / wall.thickness)
        left = float(shear_share_left(shear_slenderness(ratio, np.broadcast_to(epsilon, len(section.walls))[number])))
        holds = left * strength / 3**0.5
        worse = most / holds > demand / capacity
        demand, capacity = np.where(worse, most, demand), np.where(worse, holds, capacity)
    return demand, capacity


def round_words(shape: Shape | None, rank: int) -> str:
    """Return the class of a round section in words: "round tube, D/t 20.0, class 1"."""
    if isinstance(shape, RoundTube):
        return f"round tube, D/t {shape.diameter / shape.wall:.1f}, class {rank}"
    return "round bar" if isinstance(shape, RoundBar) else ""


def wall_name(wall: Wall) -> str:
    """Return where a wall lies in its section and how it is held, in words."""
    across, up = wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]
    y, z = (wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2
    web, flange = "left web" if y > 0 else "right web", "top flange" if z > 0 else "bottom flange"
    place = web if abs(up) > abs(across) else flange
    return f"{place} with a free edge" if wall.free_start or wall.free_end else place


def wall_words(wall: Wall, rank: int, share_left: float) -> str:
    """Return the class of a wall in words: "left web, b/t 33.0, class 4, 82 % effective"."""
    ratio = f"{wall_name(wall)}, b/t {wall.width / wall.thickness:.1f}"
    if rank == 0:
        return "no wall that compression could buckle"
    left = f", {100 * share_left:.0f} % of its compressed width effective" if share_left < 1 else ""
    return f"{ratio}, class {rank}{left}"
