"""The section that bolts' holes leave of a member."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.effective import Effective, effective_normal
from framecheck.checks.hole_places import bolt_places, stations_of
from framecheck.frame.geometry import section_turns
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import AtPoint, BoltGroup, InSplice, PlyKind
from framecheck.section.properties import SectionProperties
from framecheck.surface_stress import STRETCHING
from framecheck.value_class import array_class

DAMAGE = 0.0254 / 16
"""What a hole counts as wider than it is drilled, m. ANSI/AISC 360-22, B4.3b."""
SQUARE_ENOUGH = 0.5
"""The least cosine between a bolt and the normal of a wall that it goes through."""


@array_class
class Holes:
    """A group's holes in a member: stations (n,), m; places (n, 2): y, z from the reference line in the member's axes, m."""

    stations: Array
    places: Array


def reason_against(section: SectionProperties) -> str:
    """Return why no holes can be taken out of a section, "" where they can."""
    if section.metals:
        return f"section '{section.name}' is of several metals, and holes are taken out of sections of one"
    known = section.fields is not None and section.walls
    return "" if known else f"the walls of section '{section.name}' are not known, so no holes are taken out of it"


def holes_in(frame: Frame, group: BoltGroup, member: Member, line: MemberForces) -> Holes:
    """Return where a group's bolts cross a member."""
    bolts, stations = bolt_places(frame, group), stations_of(frame, group, member)
    nearest = [int(np.argmin(np.abs(line.stations - at))) for at in stations.tolist()]
    rows = [line.axes[k, 1:] @ (bolt - line.places[k]) for k, bolt in zip(nearest, bolts, strict=True)]
    return Holes(stations, np.array(rows))


Strip = tuple[Array, float, Array]
"""What a hole takes out of a wall: its middle (2,), m from the centroid; area, m2; (length, direction y, z) (3,)."""


def strips(
    group: BoltGroup, member: Member, line: MemberForces, where: tuple[Holes, int, int], section: SectionProperties
) -> Iterator[Strip]:
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
            own = turn.T @ place - np.array(section.centroid)
            yield from crossings(section, (own, facing / np.linalg.norm(facing)), width, sides(group, member))


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


def raised_by(section: SectionProperties, lost: tuple[Strip, ...]) -> float:
    """Return by how much holes raise the largest normal stress of a section, of pull and of either bending the most; at least 1."""
    if section.fields is None or not lost:
        return 1.0
    units = np.eye(9)[[0, 4, 5]]
    gross = np.abs(units[:, STRETCHING] @ section.fields.normal.T).max(axis=-1)
    net = np.abs(effective_normal(section.fields, units, without(section, lost))).max(axis=-1)
    return float(max((net / gross).max(), 1.0))
