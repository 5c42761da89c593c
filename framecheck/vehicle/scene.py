"""What every load case starts from: the vehicle, the points of its frame, its mass, and the factors of the case by name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Protocol

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import Factor, LoadCase
from framecheck.model.frame import StiffBody
from framecheck.model.loads import PointLoad, StrapTension
from framecheck.model.said import Words
from framecheck.model.vehicle import Axle, Vehicle, Wheel
from framecheck.value_class import array_class, value_class
from framecheck.vehicle.masses import MassProperties, wheels_of
from framecheck.vehicle.travel import RollLaw, Travel


@value_class
class Attachment:
    """Where a force enters the frame: a name for tables, the frame point, the pivot's place, m."""

    name: str
    point: str
    at: Vector


@value_class
class BracketForce:
    """What the suspension does to the frame at a foot: force N and moment Nm at the pivot's place."""

    foot: Attachment
    force: Vector
    moment: Vector = (0.0, 0.0, 0.0)


@value_class
class Roll:
    """How an axle holds the body in roll: stiffness Nm/rad, z of the roll centre m; None where not known."""

    stiffness: float | None = None
    centre: float | None = None


@value_class
class Carried:
    """What an axle's suspension does to the frame, and what is to be said about it."""

    brackets: tuple[BracketForce, ...]
    notes: tuple[Words, ...] = ()


class AxleSuspension(Protocol):
    """The suspension of an axle: what it is to roll, and how it carries the wheels' forces to the frame."""

    @property
    def roll(self) -> Roll:
        """Return the axle's roll stiffness and roll centre."""
        ...

    @property
    def roll_law(self) -> RollLaw | None:
        """Return how the axle rolls when travel is used up, None where its roll stiffness is not known."""
        ...

    def travel(self, wheels: int) -> Travel | None:
        """Return a wheel's travel when one wheel, or both together, move up; None where no spring is described."""
        ...

    def carry(self, now: Array, rest: Array) -> Carried:
        """Return the bracket forces under wheel forces and moments (2, 6) about the wheel centres, now and at rest."""
        ...


PLACES = ({"front", "left"}, {"front", "right"}, {"rear", "left"}, {"rear", "right"})


@array_class
class Scene:
    """The vehicle with all its mass.

    frame: the frame's own mass; whole: everything, frame and wheels included; suspension, its rolls and roll laws: front, rear.
    body_roll: of the body on both axles; None where an axle's is not known.
    """

    vehicle: Vehicle
    points: Mapping[str, Vector]
    bodies: tuple[StiffBody, ...]
    frame: MassProperties
    whole: MassProperties
    suspension: tuple[AxleSuspension, AxleSuspension]
    rolls: tuple[Roll, Roll]
    laws: tuple[RollLaw | None, RollLaw | None] = (None, None)
    body_roll: RollLaw | None = None

    @property
    def weight(self) -> float:
        """Return the weight of everything, N."""
        return self.whole.mass * self.vehicle.gravity

    @property
    def ground(self) -> float:
        """Return the height of the ground: the mean of the contact patches, m."""
        return sum(wheel.contact[2] for wheel in wheels_of(self.vehicle)) / 4

    @property
    def cg_height(self) -> float:
        """Return the height of the centre of gravity above the ground, m."""
        return float(self.whole.cg[2]) - self.ground


@value_class
class WheelForce:
    """What the ground does to a wheel: force (N) at a place (m)."""

    wheel: str
    at: Vector
    force: Vector


@value_class
class ExternalForces:
    """What the world outside does to the vehicle in a load case, and what is to be said about it.

    outside: on frame points. internal and on_carriers (moment Nm by wheel name) and rods (on wheel carriers): what driveline,
    dampers and steering do between frame and wheel carriers, on_bodies (moment Nm by stiff body) what the driveline does to an engine
    on its mounts; together they are in balance. gravity: where the ground is not level, m/s2. straps: what each tie-down carries.
    """

    wheels: tuple[WheelForce, ...] = ()
    outside: tuple[PointLoad, ...] = ()
    internal: tuple[PointLoad, ...] = ()
    on_carriers: tuple[tuple[str, Vector], ...] = ()
    rods: tuple[WheelForce, ...] = ()
    on_bodies: tuple[tuple[str, Vector], ...] = ()
    gravity: Vector | None = None
    notes: tuple[Words, ...] = ()
    straps: tuple[StrapTension, ...] = ()


def given_roll(axle: Axle, found: Roll) -> Roll:
    """Return roll stiffness and roll centre as the user gave them, else as found."""
    return Roll(
        found.stiffness if axle.roll_stiffness is None else axle.roll_stiffness,
        found.centre if axle.roll_centre is None else axle.roll_centre,
    )


def axle_x(axle: Axle) -> float:
    """Return the axle's x, m."""
    return (axle.left.contact[0] + axle.right.contact[0]) / 2


def axle_y(axle: Axle) -> float:
    """Return y of the middle between the axle's wheels, m."""
    return (axle.left.contact[1] + axle.right.contact[1]) / 2


def track(axle: Axle) -> float:
    """Return the distance between the axle's contact patches across the vehicle, m."""
    return axle.left.contact[1] - axle.right.contact[1]


def wheel_numbers(vehicle: Vehicle, where: str) -> tuple[int, ...]:
    """Return the wheels meant by "front left", "front", "left" ... as places in `wheels_of`, or raise InputError."""
    if where == "all":
        return (0, 1, 2, 3)
    asked = set(where.split())
    found = tuple(n for n, wheel in enumerate(wheels_of(vehicle)) if asked <= PLACES[n] or wheel.name == where)
    if not found or not asked:
        raise InputError(
            [Fault("", f"wheel '{where}'", "no such wheel", "say front left, rear right, front, left ...")]
        )
    return found


def at_contact(wheel: Wheel, force: Array) -> WheelForce:
    """Return a force at the contact patch: a braked or steered wheel."""
    return WheelForce(wheel.name, wheel.contact, vector(force))


def vector(values: Array) -> Vector:
    """Return an array of three as a plain vector."""
    return (float(values[0]), float(values[1]), float(values[2]))


def plus_moment(total: Array, moment: Vector) -> Array:
    """Return force and moment (6,) with a further moment, Nm."""
    return np.asarray(total + np.array([0.0, 0.0, 0.0, *moment]), dtype=np.float64)


def plain(of: Vector | Array) -> Sequence[float]:
    """Return three numbers as plain ones: Python is many times quicker with those than numpy with arrays of three."""
    return of.tolist() if isinstance(of, np.ndarray) else of


def crossed(a: Vector | Array, b: Vector | Array) -> Vector:
    """Return a x b."""
    (ax, ay, az), (bx, by, bz) = plain(a), plain(b)
    return ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx


def cross(a: Vector | Array, b: Vector | Array) -> Array:
    """Return a x b as an array."""
    return np.array(crossed(a, b), dtype=np.float64)


def less(a: Vector | Array, b: Vector | Array) -> Vector:
    """Return a - b."""
    (ax, ay, az), (bx, by, bz) = plain(a), plain(b)
    return ax - bx, ay - by, az - bz


def wrench(force: Vector | Array, at: Vector | Array, about: Vector | Array) -> Array:
    """Return (Fx, Fy, Fz, Mx, My, Mz) of a force (3,) at `at` about another point."""
    (fx, fy, fz), (x, y, z), (x0, y0, z0) = plain(force), plain(at), plain(about)
    x, y, z = x - x0, y - y0, z - z0
    return np.array((fx, fy, fz, y * fz - z * fy, z * fx - x * fz, x * fy - y * fx), dtype=np.float64)


def number(load_case: LoadCase, name: str) -> float:
    """Return a factor that is a number, in SI."""
    value = _factor(load_case, name)
    if isinstance(value, str | tuple):
        raise _fault(load_case, name, f"'{value}' is not a number", "give a number with its unit")
    return float(value)


def number_or(load_case: LoadCase, name: str, otherwise: float) -> float:
    """Return a factor that is a number, in SI, or another value where the load case does not have it."""
    return number(load_case, name) if name in load_case.factors else otherwise


def positive(load_case: LoadCase, name: str) -> float:
    """Return a factor that must be above zero, in SI."""
    value = number(load_case, name)
    if value <= 0:
        raise _fault(load_case, name, f"{value:g} is not above zero", "give a value above zero")
    return value


def word(load_case: LoadCase, name: str) -> str:
    """Return a factor that is a word: a wheel, a side, a point."""
    value = _factor(load_case, name)
    if not isinstance(value, str):
        said = ", ".join(value) if isinstance(value, tuple) else f"{value:g}"
        raise _fault(load_case, name, f"{said} is not a name", "give a name")
    return value


def _fault(load_case: LoadCase, name: str, fault: str, remedy: str) -> InputError:
    return InputError([Fault("", f"{load_case.name}: {name}", fault, remedy, ("load cases", load_case.in_file, name))])


def _factor(load_case: LoadCase, name: str) -> Factor:
    if name not in load_case.factors:
        raise _fault(load_case, name, "is not given", "give it under the load case")
    return load_case.factors[name]


def point(scene: Scene, load_case: LoadCase, name: str) -> str:
    """Return a factor that names a frame point."""
    return points(scene, load_case, name)[0]


def points(scene: Scene, load_case: LoadCase, name: str) -> tuple[str, ...]:
    """Return a factor that names one frame point or several."""
    given = _factor(load_case, name)
    found = given if isinstance(given, tuple) else (word(load_case, name),)
    for each in found:
        if each not in scene.points:
            near = get_close_matches(each, scene.points, n=1)
            raise _fault(
                load_case, name, f"'{each}' is not a frame point", f"did you mean '{near[0]}'?" if near else "name one"
            )
    return found
