"""How the frame gives way where a plate is bolted to it and lies against it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import inf
from typing import NamedTuple

import numpy as np

from framecheck.checks.heat.footprint import stations_at
from framecheck.checks.plate.lying import Sections, lengths_of, rests_of, station_begun
from framecheck.frame.report import SolvedFrame, moved_at
from framecheck.frame.solve import answered, bounds_of
from framecheck.frame.structure import Structure, structure_of
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Make, Member
from framecheck.model.loads import ZERO, CaseLoads, MemberLoad, PointLoad, Support
from framecheck.model.plate import BoltedPlate, Rest, Strike
from framecheck.section.properties import SectionProperties
from framecheck.vehicle.masses import wheels_of

HELD = (inf, inf, inf, 0.0, 0.0, 0.0)


Cuts = Mapping[tuple[str, str], SectionProperties]


def with_rests(case: Case, structure: Structure, sections: Sections, cuts: Cuts) -> Case:
    """Return the case with what each of its plates lies against, and how the frame gives way there."""
    if not any(plate.bolts for plate in case.plates):
        return case
    stiff = stiffened(structure, sections, cuts) if any(hangs_struck(plate) for plate in case.plates) else None
    return replace(case, plates=tuple(rested(case, (structure, stiff), sections, plate) for plate in case.plates))


def hangs_struck(plate: BoltedPlate) -> bool:
    """Return whether a plate hangs on points of the frame and is struck."""
    return hangs(plate) and any(isinstance(load, Strike) for load in plate.loads)


def hangs(plate: BoltedPlate) -> bool:
    """Return whether all of a plate's bolts name points of the frame."""
    return bool(plate.bolts) and all(bolt.frame_point is not None for bolt in plate.bolts)


def stiffened(structure: Structure, sections: Sections, cuts: Cuts) -> Structure | None:
    """Return the frame with every made end rigid and what is left open at its stiff bound; None: it is the same."""
    frame = replace(structure.frame, members=tuple(with_rigid_ends(member) for member in structure.frame.members))
    bound = bounds_of(frame, sections)[-1]
    if frame == structure.frame and bound.warping is structure.bound.warping:
        return None
    return structure_of(frame, sections, replace(bound, seams=structure.bound.seams), cuts)


def with_rigid_ends(member: Member) -> Member:
    """Return a member with rigid ends where they are neither pinned nor given as springs."""
    start, end = (
        each if each.make in (Make.PINNED, Make.GIVEN) else replace(each, make=Make.RIGID) for each in (member.start, member.end)
    )
    return replace(member, start=start, end=end)


def rested(case: Case, structures: tuple[Structure, Structure | None], sections: Sections, plate: BoltedPlate) -> BoltedPlate:
    """Return a plate with its rests on members and the frame's give, as made and, where it is struck, with rigid joints (None: no
    other).
    """
    rests = tuple(rests_of(case, sections, plate))
    made, stiff = structures
    give = give_of(case, made, plate, rests) if hangs(plate) else ()
    hard = () if stiff is None or not hangs_struck(plate) else give_of(case, stiff, plate, rests)
    return replace(plate, rests=rests, give=give, stiff_give=hard)


def station_of(frame: Frame, member: Member, point: str) -> float:
    """Return the station of a member's point, m; of its last one, the end of its reference line."""
    stations = stations_at(frame, member)
    if point != member.points[-1]:
        return stations[point]
    *_, (first, _, begins, stops) = lengths_of(frame, member)
    return stations[first] + float(np.linalg.norm(stops - begins))


def place_at(frame: Frame, member: Member, station: float) -> Array:
    """Return the place (3,) on a member's reference line at a station (m)."""
    stations = stations_at(frame, member)
    found = list(lengths_of(frame, member))
    first, last, begins, stops = next((each for each in reversed(found) if stations[each[0]] <= station), found[0])
    far = float(np.linalg.norm(stops - begins))
    return np.asarray(begins + (station - station_begun(member, stations, (first, last), far)) * (stops - begins) / far)


def grounded(case: Case, structure: Structure) -> Structure:
    """Return the frame on its supports; with a vehicle, on the points that its suspension hangs on."""
    if case.vehicle is None:
        return structure
    points = dict.fromkeys(point for wheel in wheels_of(case.vehicle) for point in wheel.on)
    frame = replace(structure.frame, supports=tuple(Support(point, HELD) for point in points))
    return replace(structure, frame=frame, factors={})


def give_of(case: Case, structure: Structure, plate: BoltedPlate, rests: Sequence[Rest]) -> tuple[tuple[float, ...], ...]:
    """Return how far the frame moves square to the plate at its bolts and rests (rows) per newton at each (columns), m/N."""
    normal = np.cross(plate.along, plate.across)
    up = (float(normal[0]), float(normal[1]), float(normal[2]))
    places: list[Place] = [str(bolt.frame_point) for bolt in plate.bolts]
    places += [OnFace(str(rest.member), rest.station, rest.arm) for rest in rests]
    distinct = list(dict.fromkeys(places))
    held = answered(grounded(case, structure), [unit_load(place, up) for place in distinct])
    moved = movements(case, held, distinct) @ normal
    order = [distinct.index(place) for place in places]
    full = moved[np.ix_(order, order)]
    return tuple(tuple(float(each) for each in row) for row in (full + full.T) / 2)


class OnFace(NamedTuple):
    """A place on a member's face: the station, and the way there from the reference line, m, vehicle axes."""

    member: str
    station: float
    arm: Vector = ZERO


Place = str | OnFace


def unit_load(place: Place, up: tuple[float, float, float]) -> CaseLoads:
    """Return one newton square to the plate at a place of the frame."""
    if isinstance(place, str):
        return CaseLoads(f"give at {place}", point_loads=(PointLoad(place, up),))
    load = MemberLoad(place.member, up, up, place.station, place.station, arm=place.arm)
    return CaseLoads(f"give of {place.member} at {place.station}, {place.arm}", member_loads=(load,))


def movements(case: Case, held: SolvedFrame, places: Sequence[Place]) -> Array:
    """Return how far places of the frame move in each case (n, case, 3), m; all of one member at once."""
    spots = [on_member(case, place) for place in places]
    found: dict[OnFace, Array] = {}
    for member in dict.fromkeys(spot.member for spot in spots):
        rising = sorted({spot for spot in spots if spot.member == member}, key=lambda spot: spot.station)
        moved = moved_at(held, member, [spot.station for spot in rising], np.array([spot.arm for spot in rising]))
        found |= dict(zip(rising, moved, strict=True))
    return np.stack([found[each] for each in spots])


def on_member(case: Case, place: Place) -> OnFace:
    """Return a place of the frame as one of a member."""
    if not isinstance(place, str):
        return place
    member = next(each for each in case.frame.members if place in each.points)
    return OnFace(member.name, station_of(case.frame, member, place))
