"""Where in space a row was found, and how a section sits there: vehicle axes, SI."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.geometry import section_turns
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, frozen
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import AtMemberEnd, AtPoint, InSplice, Terminal
from framecheck.model.plate import BoltedPlate
from framecheck.model.vehicle import VehiclePlace
from framecheck.model.weld_joints import Joint, Stitch
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Subject, Thing
from framecheck.results.summary import ON_MEMBER
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class
from framecheck.vehicle.clearance import where

AT_POINT = frozenset((Thing.MEMBER_END, Thing.KINK, Thing.POINT))
"""Things whose part, or name, is a frame point."""


@array_class
class FoundPlace:
    """Where a row was found: the place as built and how it moves, (3,) m, vehicle axes."""

    place: Array
    moved: Array


def found_at(outcome: SolvedCase, row: CheckResult | None, bound: int, case: int) -> FoundPlace | None:
    """Return where a row was found, moved as in one load case under one bound; None where it has no one place."""
    if row is None:
        return None
    solution = outcome.solutions[bound]
    if row.subject.thing in ON_MEMBER and row.station is not None:
        line = next((each for each in solution.members if each.member == row.subject.name), None)
        return None if line is None else at_station(line, row.station, case)
    if row.subject.thing is Thing.PLATE:
        plate = next((each for each in outcome.case.plates if each.name == row.subject.name), None)
        lies = None if plate is None else plate_at(outcome, plate, bound, case)
        return None if lies is None else FoundPlace(lies.corners.mean(axis=0), lies.moved)
    if row.subject.thing in (Thing.PANEL, Thing.PANEL_SEAM):
        rim, moves = solution.panels[row.subject.name].rim, solution.panels[row.subject.name].rim_moves[:, case]
        return FoundPlace(rim.mean(axis=0), moves.mean(axis=0))
    if row.subject.thing is Thing.CLEARANCE:
        return in_gap(outcome, row.subject.name, bound, case)
    points = [each for each in points_of(outcome.case, row.subject) if each in outcome.case.frame.points]
    if not points:
        return None
    number = {name: i for i, name in enumerate(solution.points)}
    moved = [solution.displacements[number[name], case, :3] for name in points]
    return FoundPlace(np.mean([outcome.case.frame.points[name] for name in points], axis=0), np.mean(moved, axis=0))


def in_gap(outcome: SolvedCase, name: str, bound: int, case: int) -> FoundPlace | None:
    """Return the middle of a gap, and how the frame moves there: as the points that its places are fixed to."""
    vehicle, solution = outcome.case.vehicle, outcome.solutions[bound]
    gap = next((each for each in vehicle.clearances if each.name == name), None) if vehicle is not None else None
    if gap is None:
        return None
    spots = [spot for spot in (gap.first, gap.second) if spot is not None]
    places = [where(spot, outcome.case.frame.points) for spot in spots]
    number = {each: i for i, each in enumerate(solution.points)}
    fixed = [number[spot.point] for spot in spots if isinstance(spot, VehiclePlace) and spot.point in number]
    moved = solution.displacements[fixed, case, :3].mean(axis=0) if fixed else np.zeros(3)
    return FoundPlace(np.mean(places, axis=0), moved)


def at_station(line: MemberForces, station: float, case: int) -> FoundPlace:
    """Return a place along a member and how it moves."""
    place = [np.interp(station, line.stations, line.places[:, axis]) for axis in range(3)]
    moved = [np.interp(station, line.stations, line.displacements[:, case, axis]) for axis in range(3)]
    return FoundPlace(np.array(place), np.array(moved))


def points_of(case: Case, subject: Subject) -> tuple[str, ...]:
    """Return the frame points at which a thing lies."""
    if subject.thing in AT_POINT:
        return (subject.part or subject.name,)
    if subject.thing is Thing.JOINT:
        return tuple(point for each in case.joints if each.name == subject.name for point in joint_points(case.frame, each))
    return ()


def joint_points(frame: Frame, joint: Joint) -> tuple[str, ...]:
    """Return the frame points at which a joint sits; none where its loads are given."""
    if isinstance(joint, Stitch):
        return ()
    match joint.place:
        case AtPoint(point):
            return (point,)
        case AtMemberEnd(name, end):
            found = (each.points[0 if end is Terminal.START else -1] for each in frame.members if each.name == name)
            return tuple(found)
        case InSplice(points=points):
            return tuple(point for _, point in points)
    return ()


def joint_member(case: Case, subject: Subject) -> str | None:
    """Return the member that a joint belongs to by name; None where it has none."""
    for joint in case.joints:
        if joint.name == subject.name:
            if isinstance(joint, Stitch):
                return joint.member
            if isinstance(joint.place, AtMemberEnd):
                return joint.place.member
    return None


def sits(member: Member, line: MemberForces, station: int) -> Array:
    """Return the directions (3, 2) of a section's own y and z as it sits in the vehicle, at a station by number."""
    lie = member.orientation
    directions: Array = line.axes[station][1:].T @ turn_of(lie.quarter_turns * np.pi / 2 + member.roll, lie.mirrored)
    return directions


@lru_cache(maxsize=64)
def turn_of(angle: float, mirrored: bool) -> Array:
    """Return how a section is turned in its member, (2, 2): once for the many rows of a member."""
    turn: Array = frozen(section_turns(np.array([angle]), np.array([mirrored]))[0])
    return turn


LOOKS = (np.array([1.0, 0.0, 0.0]), np.array([0.0, -1.0, 0.0]), np.array([0.0, 0.0, -1.0]))
"""Which way one looks along a member that runs mostly forward (forward), across (to the right), upright (down)."""
UPWARD = (np.array([0.0, 0.0, 1.0]), np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0]))
"""What then is up."""
LOOKING = ("looking forward", "looking to the right, front at the left", "looking down, front at the top")


@array_class
class SectionView:
    """How a section is looked at, so that it stands as it sits in the vehicle.

    turn: (2, 2) from its own y and z to right and up; ways: (2, 3) right and up in vehicle axes; looking: in words.
    """

    turn: Array
    ways: Array
    looking: str


def section_view(member: Member, line: MemberForces, station: int) -> SectionView:
    """Return how a section is looked at: along its member, up as near to up as its plane allows."""
    along = line.axes[station][0]
    way = int(np.argmax(np.round(np.abs(along), 6)))
    look = along * np.sign(along @ LOOKS[way])
    up = UPWARD[way] - (UPWARD[way] @ along) * along
    up = up / np.linalg.norm(up)
    ways = np.stack([np.cross(look, up), up])
    return SectionView(ways @ sits(member, line, station), ways, LOOKING[way])



@array_class
class PlateAt:
    """Where a plate lies: its corners (4, 3) m, in order round it, and how it moves as a whole (3,) m."""

    corners: Array
    moved: Array


def plate_at(outcome: SolvedCase, plate: BoltedPlate, bound: int, case: int) -> PlateAt | None:
    """Return where a plate lies, from the bolts whose frame points are known, and how these move; None where none is."""
    solution, frame = outcome.solutions[bound], outcome.case.frame
    known = [(bolt.at, bolt.frame_point) for bolt in plate.bolts if bolt.frame_point in frame.points]
    if not known:
        return None
    along, across = np.array(plate.along), np.array(plate.across)
    starts = [np.array(frame.points[point or ""]) - at[0] * along - at[1] * across for at, point in known]
    sides = ((0.0, 0.0), (plate.length, 0.0), (plate.length, plate.width), (0.0, plate.width))
    corners = np.mean(starts, axis=0) + np.array([x * along + y * across for x, y in sides])
    number = {name: i for i, name in enumerate(solution.points)}
    moved = np.mean([solution.displacements[number[point or ""], case, :3] for _, point in known], axis=0)
    return PlateAt(corners, moved)
