"""Mass, centre of gravity and inertia: of the frame's own lines, of point masses, and of the whole."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import pairwise

import numpy as np

from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.frame import Frame, Member, StiffBody
from framecheck.model.vehicle import Mass, Vehicle, Wheel
from framecheck.value_class import array_class, value_class

CentroidOffset = Callable[[Member, str, Vector], Vector]
"""(member, section, unit direction) -> centroid from the reference line, m, vehicle axes."""


@value_class
class LineMass:
    """A straight uniform line of mass from start to end (m, vehicle axes), kg/m."""

    start: Vector
    end: Vector
    mass_per_length: float


@array_class
class MassProperties:
    """mass kg; cg (3,) m; inertia (3, 3) about the centre of gravity, kg m2, vehicle axes. Arrays read-only."""

    mass: float
    cg: Array
    inertia: Array


NOTHING = MassProperties(0.0, frozen(np.zeros(3)), frozen(np.zeros((3, 3))))


def point_inertia(mass: float, arm: Array) -> Array:
    """Return the inertia (3, 3) of a point mass at `arm` (3,) from the origin: m (r.r I - r r^T), kg m2."""
    return np.asarray(mass * (np.eye(3) * (arm @ arm) - np.outer(arm, arm)), dtype=np.float64)


def point_mass(mass: float, at: Vector) -> MassProperties:
    """Return a mass without size."""
    return MassProperties(mass, frozen(np.array(at, dtype=np.float64)), frozen(np.zeros((3, 3))))


def line_mass(line: LineMass) -> MassProperties:
    """Return a thin uniform rod: m (d.d I - d d^T) / 12 about its middle (mechanics texts, from memory)."""
    start, end = np.array(line.start), np.array(line.end)
    length = float(np.linalg.norm(end - start))
    mass = line.mass_per_length * length
    return MassProperties(mass, frozen((start + end) / 2), frozen(point_inertia(mass / 12, end - start)))


def body_mass(body: StiffBody) -> MassProperties:
    """Return a stiff body's mass; inertia m k2 from its radii of gyration."""
    return MassProperties(body.mass, frozen(np.array(body.at)), frozen(np.diag(body.mass * np.square(body.radii))))


def combine(parts: Iterable[MassProperties]) -> MassProperties:
    """Return the sum of parts; inertia about the common centre of gravity by the parallel-axis rule."""
    parts = [part for part in parts if part.mass > 0]
    mass = sum(part.mass for part in parts)
    if not parts:
        return NOTHING
    cg = sum((part.mass * part.cg for part in parts), np.zeros(3)) / mass
    about = sum((part.inertia + point_inertia(part.mass, part.cg - cg) for part in parts), np.zeros((3, 3)))
    return MassProperties(mass, frozen(cg), frozen(about))


def frame_mass(lines: Iterable[LineMass]) -> MassProperties:
    """Return the frame's own mass properties from the lines along which it is loaded."""
    return combine(line_mass(line) for line in lines)


def member_lines(
    frame: Frame, mass_per_length: Mapping[str, float], offset: CentroidOffset | None = None
) -> tuple[LineMass, ...]:
    """Return the mass lines of every member: one for each straight piece of one section.

    mass_per_length: kg/m by section name; offset: where a section's centroid lies beside the reference line.
    """
    return tuple(line for member in frame.members for line in _lines_of(frame, member, mass_per_length, offset))


def wheel_centre(wheel: Wheel) -> Vector:
    """Return the wheel's centre: one radius above its contact patch, m."""
    x, y, z = wheel.contact
    return (x, y, z + wheel.radius)


def wheels_of(vehicle: Vehicle) -> tuple[Wheel, Wheel, Wheel, Wheel]:
    """Return the wheels: front left, front right, rear left, rear right."""
    return (vehicle.front.left, vehicle.front.right, vehicle.rear.left, vehicle.rear.right)


def vehicle_masses(vehicle: Vehicle) -> Iterator[MassProperties]:
    """Yield the vehicle's point masses, then the unsprung masses at the wheel centres."""
    yield from (point_mass(part.mass, part.at) for part in vehicle.masses)
    yield from (point_mass(wheel.unsprung_mass, wheel_centre(wheel)) for wheel in wheels_of(vehicle))


def scaled_payload(masses: tuple[Mass, ...], ratio: float) -> tuple[Mass, ...]:
    """Return the masses with those of kind "payload" scaled."""
    return tuple(
        Mass(part.name, part.mass * ratio, part.at, part.on, part.kind) if part.kind == "payload" else part
        for part in masses
    )


def _lines_of(
    frame: Frame, member: Member, mass_per_length: Mapping[str, float], offset: CentroidOffset | None
) -> Iterator[LineMass]:
    path = _path(frame, member)
    station = 0.0
    for start, end in pairwise(path):
        length = float(np.linalg.norm(end - start))
        along = (end - start) / length
        direction = (float(along[0]), float(along[1]), float(along[2]))
        for section, begin, finish in _pieces(member, station, station + length):
            shift = np.zeros(3) if offset is None else np.array(offset(member, section, direction))
            first, last = (start + along * (at - station) + shift for at in (begin, finish))
            yield LineMass(_vector(first), _vector(last), mass_per_length[section])
        station += length


def _path(frame: Frame, member: Member) -> list[Array]:
    path = [np.array(frame.points[name], dtype=np.float64) for name in member.points]
    path[0] = path[0] + np.array(member.start.arm)
    path[-1] = path[-1] + np.array(member.end.arm)
    return path


def _pieces(member: Member, begin: float, finish: float) -> Iterator[tuple[str, float, float]]:
    """Yield (section, from, to) of the stretches between two stations; the last stretch runs on to the member's end."""
    at = begin
    for number, stretch in enumerate(member.stretches):
        until = finish if number == len(member.stretches) - 1 else min(stretch.until, finish)
        if until > at:
            yield (stretch.section, at, until)
            at = until


def _vector(values: Array) -> Vector:
    return (float(values[0]), float(values[1]), float(values[2]))
