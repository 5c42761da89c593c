"""Gaps left between parts when the frame moves, and how far each wheel goes up against it. SI.

An axle goes up on both its springs and rolls on their law, bump stops and droop straps in both. What links and arms carry past the
springs in a turn is counted as the springs': the wheel is said to move further than it does. A wheel goes straight up and down: it is
not steered and takes no camber.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import field
from enum import Enum

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.loads import Motion
from framecheck.model.vehicle import Axle, BodyPlace, Clearance, Measured, Spot, VehiclePlace, Wheel, WheelPlace
from framecheck.value_class import value_class
from framecheck.vehicle.balance import felt, ground_wrench
from framecheck.vehicle.masses import wheel_centre
from framecheck.vehicle.scene import AxleSuspension, ExternalForces, Scene, crossed, less, track
from framecheck.vehicle.wheels import static_loads

SAME_PLACE = 1e-9
"""m: two places nearer than this give no direction to measure a gap in."""


@value_class
class Movement:
    """How a frame point or a stiff body moves: where it is, m, its displacement, m, and its turn, rad."""

    at: Vector
    shift: Vector
    turn: Vector

    def carried(self, place: Vector) -> Array:
        """Return the displacement (3,) of a place fixed to it: its own, and turn x arm (small turns), m."""
        (x, y, z), (u, v, w) = crossed(self.turn, less(place, self.at)), self.shift
        return np.array((u + x, v + y, w + z), dtype=np.float64)


@value_class
class Moved:
    """What moves in one load case, by name: frame points, stiff bodies at their centres of mass, wheels as far as they are known."""

    points: Mapping[str, Movement]
    bodies: Mapping[str, Movement]
    wheels: Mapping[str, Movement] = field(default_factory=dict)

    def of(self, place: Spot) -> Movement:
        """Return the movement of what a place is fixed to."""
        match place:
            case BodyPlace():
                return self.bodies[place.body]
            case WheelPlace():
                return self.wheels[place.wheel]
            case _:
                return self.points[place.point]

    def knows(self, clearance: Clearance) -> bool:
        """Return whether the movement of both places is known."""
        spots = (clearance.first, clearance.second)
        return all(spot.wheel in self.wheels for spot in spots if isinstance(spot, WheelPlace))


class GapState(Enum):
    """What became of a gap: the parts touch, less is left than asked, or enough is."""

    CONTACT = "contact"
    LOW = "LOW"
    CLEAR = "clear"


@value_class
class GapLeft:
    """A gap in a load case: today's, what is left, m; below zero the parts are in contact."""

    name: str
    load_case: str
    today: float
    left: float
    least: float

    @property
    def state(self) -> GapState:
        """Return what became of it."""
        if self.left <= 0.0:
            return GapState.CONTACT
        return GapState.LOW if self.left < self.least else GapState.CLEAR


def on_a_wheel(clearance: Clearance) -> bool:
    """Return whether a gap is measured to a wheel."""
    return any(isinstance(spot, WheelPlace) for spot in (clearance.first, clearance.second))


def where(place: Spot, points: Mapping[str, Vector]) -> Vector:
    """Return where a place is, m."""
    if not isinstance(place, VehiclePlace) or place.at is not None:
        return place.at  # type: ignore[return-value]
    return points[place.point]


def apart(clearance: Clearance, points: Mapping[str, Vector]) -> float | None:
    """Return how far apart a clearance's two places are written, m; None against what stays still."""
    if clearance.second is None:
        return None
    step = np.array(where(clearance.first, points)) - np.array(where(clearance.second, points))
    return float(np.linalg.norm(step))


def opening(clearance: Clearance, points: Mapping[str, Vector], moved: Moved) -> float:
    """Return how far a gap opens, m: the movement apart along the line between its two places.

    Against a plane that stays still: along its normal.
    """
    first = where(clearance.first, points)
    step = moved.of(clearance.first).carried(first)
    direction = np.array(clearance.normal, dtype=np.float64)
    if clearance.second is not None:
        second = where(clearance.second, points)
        step = step - moved.of(clearance.second).carried(second)
        direction = np.array(first) - np.array(second)
    length = float(np.linalg.norm(direction))
    if length < SAME_PLACE:
        raise InputError([no_direction(clearance)])
    return float(step @ direction) / length


def no_direction(clearance: Clearance) -> Fault:
    """Return the fault of a gap between two places that are one."""
    fault = "its two places are the same: no direction to measure the gap in"
    about = ("vehicle", "clearances", clearance.name)
    return Fault("", f"clearance {clearance.name}", fault, "give the places of the two parts", about)


def gaps_left(
    clearances: Sequence[Clearance],
    points: Mapping[str, Vector],
    moved: Mapping[str, Moved],
    standing: Moved,
    written: Set[str] = frozenset(),
) -> tuple[GapLeft, ...]:
    """Return every gap in every load case, the smallest left first. moved: by load case, from the frame with nothing on it.

    standing: on the vehicle at rest, where gaps of today are measured: they change by what a load case moves beyond that.
    written: load cases written force by force. They may hold the weight at rest or leave it out, so the worse counts.
    """
    rows = []
    for each in (each for each in clearances if standing.knows(each)):
        rest = opening(each, points, standing) if each.measured is Measured.AT_REST else 0.0
        for name, case in ((name, case) for name, case in moved.items() if case.knows(each)):
            change = opening(each, points, case)
            change = min(change, change - rest) if name in written else change - rest
            rows.append(GapLeft(each.name, name, each.gap, each.gap + change, each.least))
    return tuple(sorted(rows, key=lambda row: (row.left, row.name, row.load_case)))


def wheel_travel(scene: Scene, action: ExternalForces, moving: Motion) -> tuple[tuple[str, float], ...]:
    """Return how far up each wheel goes, m, by its name; wheels whose springs are not described are left out."""
    rest = static_loads(scene).loads.tolist()
    pairs = zip(scene.vehicle.axles, scene.suspension, (rest[:2], rest[2:]), strict=True)
    return tuple(found for axle, suspension, loads in pairs for found in of_axle(scene, axle, suspension, (action, moving), loads))


def of_axle(
    scene: Scene, axle: Axle, suspension: AxleSuspension, now: tuple[ExternalForces, Motion], rest: list[float]
) -> Iterator[tuple[str, float]]:
    """Yield the travel of an axle's wheels; rest: their loads at rest, N."""
    law, roll = suspension.travel(2), suspension.roll_law
    if law is None or roll is None:
        return
    wheels = (axle.left, axle.right)
    left, right = (more(scene, wheel, now, load) for wheel, load in zip(wheels, rest, strict=True))
    both, twisted = (left + right) / 2, sum(moment[0] for name, moment in now[0].on_carriers if name in [w.name for w in wheels])
    up = law.up(both) if both >= 0.0 else -law.down(-both)
    rolled = roll.angle((left - right) * track(axle) / 2 + twisted) * track(axle) / 2
    yield axle.left.name, up + rolled
    yield axle.right.name, up - rolled


def more(scene: Scene, wheel: Wheel, now: tuple[ExternalForces, Motion], rest: float) -> float:
    """Return what a wheel's spring carries more than at rest, N: the ground's force less what the wheel itself weighs and feels."""
    action, moving = now
    ground = float(ground_wrench(wheel, action, np.array(wheel.contact))[2])
    own = wheel.unsprung_mass * (float(felt(moving, wheel_centre(wheel))[2]) + scene.vehicle.gravity)
    return ground - rest + own
