"""Members at the holes of the bolts that go through them: first yield and rupture of the net section."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from framecheck.checks.effective import Effective, effective_normal
from framecheck.checks.heat import strengths_of
from framecheck.checks.joint_rows import Capacity, Judging, Line, judged
from framecheck.checks.member_rows import all_bounds, material_at
from framecheck.frame.geometry import section_turns
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.frame import SAME_STATION, Frame, Member
from framecheck.model.joints import ASKED, AtPoint, BoltGroup, InSplice, PlyKind
from framecheck.model.shapes import Drilled
from framecheck.model.shop_tables import Material
from framecheck.results.row import Check, CheckResult, Mode, margin
from framecheck.results.subjects import (
    Claim,
    Open,
    Question,
    Subject,
    Thing,
    asked,
    drilled,
    left_open,
    legs,
    middle_of,
    seat_on,
)
from framecheck.section.properties import SectionProperties
from framecheck.stress import SHEARING, SolvedCase
from framecheck.value_class import array_class
from framecheck.yield_criterion import equivalent_on_surface

YIELD_SOURCE = "R. von Mises (1913) on the elastic net section; holes: ANSI/AISC 360-22, B4.3b (1/16 in more than the hole; s2 / 4g)"
RUPTURE_SOURCE = (
    "ANSI/AISC 360-22, D2(b), eq. (D2-2) (ASD 2.00), shear lag not counted; EN 1993-1-1:2005, 6.2.3(2) is its like"
)
DAMAGE = 0.0254 / 16
"""What a hole counts as wider than it is drilled, m. ANSI/AISC 360-22, B4.3b."""
SQUARE_ENOUGH = 0.5
"""The least cosine between a bolt and the normal of a wall that it goes through."""


@array_class
class Holes:
    """A group's holes in a member: stations (n,), m; places (n, 2): y, z from the reference line in the member's axes, m."""

    stations: Array
    places: Array


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the worst row of each mode for every member that bolts go through, and what could not be judged."""
    return tuple(line for group, member in drilled(outcome.case) for line in lines_of(outcome, group, member))


def lines_of(outcome: SolvedCase, group: BoltGroup, member: Member) -> Iterator[Line]:
    """Yield the lines of one group through one member."""
    number = outcome.case.frame.members.index(member)
    line = outcome.solutions[0].members[number]
    holes = holes_in(outcome.case.frame, group, member, line)
    found: dict[Mode, CheckResult] = {}
    for each in np.flatnonzero((holes.stations >= line.stations.min()) & (holes.stations <= line.stations.max())):
        away = np.abs(line.stations - holes.stations[each])
        for at in np.flatnonzero(away <= away.min() + SAME_STATION).tolist():  # where a force jumps, both its sides
            for row in at_hole(outcome, (group, member, number), line, (holes, int(each), at)):
                if isinstance(row, Open):
                    yield row
                    return
                if row.mode not in found or margin(row) < margin(found[row.mode]):
                    found[row.mode] = row
    yield from found.values()
    if not found:
        yield Claim(asked(Thing.HOLE, member.name, Question.HOLE, group.name))


def at_hole(
    outcome: SolvedCase, of: tuple[BoltGroup, Member, int], line: MemberForces, where: tuple[Holes, int, int]
) -> Iterator[CheckResult | Open]:
    """Yield the rows of the section at one hole, worst bound and load case of each mode; nothing where no wall is drilled."""
    (group, member, number), at = of, where[2]
    section, frame = line.sections[at], outcome.case.frame
    if reason := reason_against(section):
        remedy = "give the section as a shape of flat walls in one metal"
        yield left_open(Thing.HOLE, member.name, Question.HOLE, reason, group.name, remedy)
        return
    known = frame.sections.get(section.name)
    lost = () if known is not None and isinstance(known.shape, Drilled) else tuple(strips(group, member, line, where))
    if not lost:
        return
    metal = material_at(frame, member, float(line.stations[at])) if known is None else known.material
    share = float(strengths_of(outcome, member, line).share[at])
    forces = all_bounds(outcome, number)[:, at]
    stress = net_stress(section, forces, without(section, lost))
    for mode, demand, strength, target, source in modes(stress, metal, share):
        subject = Judging(Check.HOLES, Subject(Thing.HOLE, member.name, group.name))
        for case, loads in enumerate(outcome.loads):
            asked_for = outcome.case.targets.of(loads.name) if target is None else target
            bound = int(np.argmax(demand[:, case]))
            words = f"{100 * sum(area for _, area, _ in lost) / section.area:.0f} % of the section drilled away"
            capacity = Capacity(mode, strength, asked_for, source, "Pa", note=words)
            row = judged(subject, loads.name, float(demand[bound, case]), capacity)
            yield replace(row, station=float(line.stations[at]), bound=outcome.solutions[bound].bound)


def reason_against(section: SectionProperties) -> str:
    """Return why no holes can be taken out of a section, "" where they can."""
    if section.metals:
        return f"section '{section.name}' is of several metals, and holes are taken out of sections of one"
    known = section.fields is not None and section.walls
    return "" if known else f"the walls of section '{section.name}' are not known, so no holes are taken out of it"


Stress = tuple[Array, Array]
Asked = tuple[Mode, Array, float, float | None, str]


def modes(stress: Stress, metal: Material, share: float) -> Iterator[Asked]:
    """Yield (mode, demand (n_bound, n_case), strength, target or None for the case's own, source) of the net section."""
    equivalent, pull = stress
    ultimate = metal.ultimate_strength if share >= 1.0 else metal.welded_ultimate or metal.ultimate_strength
    yield Mode.NET_YIELDS, equivalent, share * metal.yield_strength, None, YIELD_SOURCE
    yield Mode.NET_TEARS, pull, ultimate, ASKED.strength, RUPTURE_SOURCE


def holes_in(frame: Frame, group: BoltGroup, member: Member, line: MemberForces) -> Holes:
    """Return where a group's bolts cross a member."""
    bolts, stations = bolt_places(frame, group), stations_of(frame, group, member)
    nearest = [int(np.argmin(np.abs(line.stations - at))) for at in stations.tolist()]
    rows = [line.axes[k, 1:] @ (bolt - line.places[k]) for k, bolt in zip(nearest, bolts, strict=True)]
    return Holes(stations, np.array(rows))


def bolt_places(frame: Frame, group: BoltGroup) -> Array:
    """Return the places of bolts, (n, 3), m, vehicle axes."""
    plane = group.plane
    start = np.array(middle_of(frame, group)) + np.array(plane.origin)
    return np.asarray(start + np.array(group.positions) @ np.array([plane.across, plane.along]))


def stations_of(frame: Frame, group: BoltGroup, member: Member) -> Array:
    """Return how far along a member a group's bolts stand, (n,), m: on the straight lengths that meet at the bolts' point."""
    point = seat_on(frame, group, member) or ""
    number = member.points.index(point)
    places = np.array([frame.points[name] for name in member.points])
    here = float(np.linalg.norm(np.diff(places[: number + 1], axis=0), axis=1).sum())
    away = bolt_places(frame, group) - places[number]
    ways = [np.array(leg) for leg in legs(frame, member, point)]
    behind, ahead = away @ ways[0], away @ ways[-1]
    if number == 0 or number == len(places) - 1:
        return np.asarray(here + ahead)
    return np.asarray(here + np.where(ahead >= 0, ahead, np.minimum(behind, 0.0)))


def hole_marks(frame: Frame, groups: Iterator[tuple[BoltGroup, Member]]) -> dict[str, tuple[float, ...]]:
    """Return the stations of holes by member, m."""
    found: dict[str, tuple[float, ...]] = {}
    for group, member in groups:
        found[member.name] = (*found.get(member.name, ()), *stations_of(frame, group, member).tolist())
    return found


Strip = tuple[Array, float, Array]
"""What a hole takes out of a wall: its middle (2,), m from the centroid; area, m2; (length, direction y, z) (3,)."""


def strips(group: BoltGroup, member: Member, line: MemberForces, where: tuple[Holes, int, int]) -> Iterator[Strip]:
    """Yield what the holes take out of the section at one of them: this hole whole, its neighbours less s2 / 4g."""
    holes, hole, at = where
    turn = own_turn(member)
    facing = turn.T @ (line.axes[at, 1:] @ np.array(group.plane.facing))
    away = np.abs(holes.stations - holes.stations[hole])
    aside = np.linalg.norm(holes.places - holes.places[hole], axis=1)
    size = group.bolt.hole + DAMAGE
    for place, along, gauge in zip(holes.places, away, aside, strict=True):
        width = size - (along**2 / (4 * gauge) if gauge > 0 else (np.inf if along > 0 else 0.0))
        if width > 0:
            own = turn.T @ place - np.array(line.sections[at].centroid)
            yield from crossings(line.sections[at], (own, facing / np.linalg.norm(facing)), width, sides(group, member))


def own_turn(member: Member) -> Array:
    """Return the matrix (2, 2) from a section's own axes to the member's."""
    lie = member.orientation
    angle = np.array([lie.quarter_turns * np.pi / 2 + member.roll])
    return np.asarray(section_turns(angle, np.array([lie.mirrored]))[0])


def sides(group: BoltGroup, member: Member) -> float | None:
    """Return on which side of a member the drilled wall lies along the bolts' facing, +1 or -1; None: bolts go right through."""
    through = group.tube is not None or group.bolt.shear_planes > 1 or isinstance(group.place, InSplice)
    if through or any(ply.kind is PlyKind.TUBE_WALL for ply in group.plies):
        return None
    attached = not isinstance(group.place, AtPoint) and group.place.member == member.name  # type: ignore[union-attr]
    return -1.0 if attached else 1.0


def crossings(
    section: SectionProperties, bolt: tuple[Array, Array], width: float, side: float | None
) -> Iterator[Strip]:
    """Yield what a bolt (place, direction) takes out of the walls on its line; side: only of the wall farthest that way."""
    place, facing = bolt
    found: list[tuple[float, Strip]] = []
    for wall in section.walls:
        start, end = np.array(wall.start), np.array(wall.end)
        span = float(np.linalg.norm(end - start))
        way = (end - start) / span
        square = abs(float(way[0] * facing[1] - way[1] * facing[0]))
        if square < SQUARE_ENOUGH:
            continue
        reach, along = np.linalg.solve(np.column_stack((facing, -way)), start - place)
        low, high = max(along - width / square / 2, 0.0), min(along + width / square / 2, span)
        if high > low:
            middle, length = start + (low + high) / 2 * way, high - low
            found.append((float(reach), (middle, length * wall.thickness, np.array([length, *way]))))
    if side is not None and found:
        farthest = max(side * reach for reach, _ in found)
        found = [each for each in found if side * each[0] >= farthest - 1e-6]
    yield from (strip for _, strip in found)


def without(section: SectionProperties, lost: tuple[Strip, ...]) -> Effective:
    """Return the section less strips, by the parallel-axis theorem."""
    middle = np.array([each[0] for each in lost])
    taken = np.array([each[1] for each in lost])
    length, way = np.array([each[2][0] for each in lost]), np.array([each[2][1:] for each in lost])
    area = section.area - taken.sum()
    centroid = -(taken @ middle) / area
    gross = (section.i_vertical, section.i_sideways, section.i_product)
    inertia = [
        whole
        - float(np.sum(taken * (middle[:, i] * middle[:, j] + length**2 / 12 * way[:, i] * way[:, j])))
        - area * centroid[i] * centroid[j]
        for whole, (i, j) in zip(gross, ((1, 1), (0, 0), (0, 1)), strict=True)
    ]
    return Effective(np.array(area), centroid, np.array(inertia))


def net_stress(section: SectionProperties, forces: Array, net: Effective) -> Stress:
    """Return the largest equivalent stress and pull, each (n_bound, n_case), Pa, of a net section under forces (..., 9)."""
    fields = section.fields
    if fields is None:
        raise ValueError(f"section {section.name} has no stress fields")
    normal = effective_normal(fields, forces, net)
    shear = [forces[..., SHEARING] @ fields.shear[:, axis].T for axis in (0, 1)]
    equivalent = equivalent_on_surface(normal, shear[0], shear[1])
    return equivalent.max(axis=-1), np.maximum(normal, 0.0).max(axis=-1)
