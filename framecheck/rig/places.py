"""Places on the frame where a rig holds, loads or reads it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import dist

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.frame.stiffness import station_at
from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.rig.setup import UP, AskedTest, Dial, Pair, Plane, Spot

SIDE = 0.05
"""Members within this share of the frame's width of the outermost are on the same side."""
Two = tuple[Spot, Spot]
"""A left and a right spot."""


def place_on(frame: Frame, member: Member, station: float) -> Vector:
    """Return the place of a station on a member's reference line."""
    corners = np.array([frame.points[name] for name in member.points])
    along = np.r_[0.0, np.cumsum(np.linalg.norm(np.diff(corners, axis=0), axis=1))]
    x, y, z = (float(np.interp(station, along, corners[:, axis])) for axis in range(3))
    return x, y, z


def length_of(frame: Frame, member: Member) -> float:
    """Return a member's length along its reference line, m."""
    return sum(dist(frame.points[a], frame.points[b]) for a, b in pairwise(member.points))


def spot_at_point(frame: Frame, point: str, name: str = "") -> Spot:
    """Return the spot at a frame point."""
    return Spot(name or point, frame.points[point], point=point)


def spot_on(frame: Frame, member: Member, station: float, name: str) -> Spot:
    """Return the spot at a member's station."""
    return Spot(name, place_on(frame, member, station), member=member.name, station=station)


def carriers(frame: Frame) -> tuple[Member, ...]:
    """Return the members that a frame may stand on: its rails, of a frame that names none every member."""
    rails = tuple(each for each in frame.members if each.role == "rail")
    return rails or frame.members


def runs_across(frame: Frame, member: Member) -> bool:
    """Return whether a member runs across the vehicle more than along it."""
    first, last = (frame.points[member.points[end]] for end in (0, -1))
    return abs(first[1] - last[1]) > abs(first[0] - last[0])


def crossings(frame: Frame, x: float) -> list[Spot]:
    """Return where members that carry pass a place x along the vehicle."""
    passing = [(each, station_at(frame, each, x)) for each in carriers(frame)]
    return [spot_on(frame, each, station, each.name) for each, station in passing if station is not None]


def pair_at(frame: Frame, x: float) -> tuple[Spot, Spot] | None:
    """Return where the outermost rails pass a place x, left and right, of several above one another the lowest; None where a side
    has none. Two members that lap are one rail.
    """
    found = crossings(frame, x)
    left, right = (lowest_of_outermost(found, way) for way in (1.0, -1.0)) if len(found) > 1 else (None, None)
    if left is None or right is None or left.at[1] - right.at[1] < 1e-6:
        return None
    if any({left.member, right.member} == set(splice.members) for splice in frame.splices):
        return None
    return left, right


def lowest_of_outermost(found: Sequence[Spot], way: float) -> Spot:
    """Return the lowest of those spots that lie within SIDE of the outermost one on a side (way: 1 left, -1 right)."""
    ys = [spot.at[1] for spot in found]
    outermost = max(way * y for y in ys)
    beside = [spot for spot in found if outermost - way * spot.at[1] <= SIDE * (max(ys) - min(ys))]
    return min(beside, key=lambda spot: spot.at[2])


def rail_range(frame: Frame) -> tuple[float, float]:
    """Return the least and greatest x between which rails run on both sides, m. InputError where they don't."""
    rails = carriers(frame)
    ends = sorted({round(frame.points[name][0], 9) for rail in rails for name in rail.points})
    both = [x for x in ends if pair_at(frame, x) is not None]
    if len(both) < 2:
        fault = "no two rails run side by side, so there is nothing to stand on at an axle"
        remedy = "say between which points: --front LEFT RIGHT --rear LEFT RIGHT"
        raise InputError([Fault("", "test", fault, remedy)])
    return both[0], both[-1]


def axle_pairs(case: Case, asked: AskedTest) -> tuple[tuple[Spot, Spot], tuple[Spot, Spot], tuple[str, ...]]:
    """Return the front and the rear pair of spots, left and right, and what is to be said of how they were chosen."""
    frame = case.frame
    if asked.front is not None and asked.rear is not None:
        return given_pair(frame, asked.front, "--front"), given_pair(frame, asked.rear, "--rear"), ()
    if case.vehicle is not None:
        xs = tuple((axle.left.contact[0] + axle.right.contact[0]) / 2 for axle in case.vehicle.axles)
        notes: tuple[str, ...] = ("Stands and loads are under the rails at the axles; the suspension is off, or hangs.",)
    else:
        xs = ends_of_crossmembers(frame)
        notes = ("The file has no vehicle: the frame is tested between its foremost and its rearmost crossmember on both rails.",)
    front, rear = (pair_at(frame, x) for x in xs)
    if front is None or rear is None:
        fault = "the rails don't pass both axles on both sides"
        raise InputError([Fault("", "test", fault, "say between which points: --front LEFT RIGHT --rear LEFT RIGHT")])
    return front, rear, notes


def ends_of_crossmembers(frame: Frame) -> tuple[float, float]:
    """Return the x of the foremost and the rearmost crossmember that meets both rails; of the rails' ends where none does."""
    low, high = rail_range(frame)
    found = sorted(
        (frame.points[each.points[0]][0] + frame.points[each.points[-1]][0]) / 2
        for each in frame.members
        if each.role == "crossmember" or (each.role != "rail" and runs_across(frame, each))
    )
    found = [x for x in found if low <= x <= high]
    return (found[-1], found[0]) if len(found) > 1 and found[-1] - found[0] > 1e-6 else (high, low)


def given_pair(frame: Frame, names: Pair, option: str) -> tuple[Spot, Spot]:
    """Return two frame points by name, left and right. InputError where one is none, or both are one."""
    unknown = [name for name in names if name not in frame.points]
    if unknown:
        raise InputError([Fault("", name, "is no point of the frame", "use a point's name") for name in unknown])
    left, right = (spot_at_point(frame, name) for name in names)
    if left.at[1] - right.at[1] < 1e-6:
        fault = f"'{left.name}' is not to the left of '{right.name}'"
        raise InputError([Fault("", option, fault, "name the left point first")])
    return left, right


def between(front: float, rear: float, count: int) -> Iterator[float]:
    """Yield so many places evenly between two, from the front rearward."""
    for number in range(1, count + 1):
        yield front + (rear - front) * number / (count + 1)


def twist_dials(frame: Frame, front: Two, rear: Two, count: int) -> tuple[tuple[Dial, ...], tuple[Plane, ...]]:
    """Return pairs of dials from the front stand to the rear ones, and the planes that they make."""
    middle = [pair for x in between(mean_x(front), mean_x(rear), count) if (pair := pair_at(frame, x)) is not None]
    pairs = (front, *middle, rear)
    names = ("front", *(f"bay {number}" for number in range(1, len(middle) + 1)), "rear")
    at_stands = (False, *(False for _ in middle), True)
    dials = tuple(
        Dial(f"{name} {side}", spot, UP, stands)
        for name, pair, stands in zip(names, pairs, at_stands, strict=True)
        for side, spot in zip(("left", "right"), pair, strict=True)
    )
    planes = tuple(
        Plane(name, mean_x(pair), 2 * number, 2 * number + 1, pair[0].at[1] - pair[1].at[1])
        for number, (name, pair) in enumerate(zip(names, pairs, strict=True))
    )
    return dials, planes


def mean_x(pair: Two) -> float:
    """Return the x of a pair's middle, m."""
    return (pair[0].at[0] + pair[1].at[0]) / 2
