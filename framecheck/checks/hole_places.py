"""Where the holes of bolts lie along the members that they go through."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import BoltGroup
from framecheck.results.subjects import legs, middle_of, seat_on


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
