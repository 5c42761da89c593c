"""Loads on a frame, one CaseLoads a load case, and supports and springs that hold it. SI, vehicle axes."""

from __future__ import annotations

from framecheck.model.arrays import Vector
from framecheck.model.said import Words
from framecheck.value_class import value_class


@value_class
class Support:
    """A point held to the ground: per direction (x, y, z, turn about x, y, z) inf = held, 0 = free, else a spring, N/m or Nm/rad."""

    point: str
    stiffness: tuple[float, float, float, float, float, float]


@value_class
class PointSpring:
    """A spring between two points, stiffness along and about the vehicle axes, N/m and Nm/rad."""

    name: str
    points: tuple[str, str]
    stiffness: tuple[float, float, float, float, float, float]


ZERO: Vector = (0.0, 0.0, 0.0)


@value_class
class PointLoad:
    """Force (N) and moment (Nm) on a frame point; because: what makes it ("engine", "front left wheel"), for tables."""

    point: str
    force: Vector
    moment: Vector = ZERO
    because: str = ""


@value_class
class BodyLoad:
    """Force and moment on a stiff body at its centre of mass; the frame carries it through the body's mounts."""

    body: str
    force: Vector
    moment: Vector = ZERO
    because: str = ""


@value_class
class MemberLoad:
    """A load per length on a member from station `start` to `end` (m; inf: the member's end), varying straight between.

    force_start, force_end: N/m in vehicle axes, on the reference line. A point load within a member: start == end, N; it may act at an
    `arm` from the line, m, vehicle axes.
    """

    member: str
    force_start: Vector
    force_end: Vector
    start: float = 0.0
    end: float = float("inf")
    because: str = ""
    arm: Vector = ZERO


@value_class
class Motion:
    """The apparent acceleration that every part of the frame's own mass feels, m/s2 and rad/s2.

    f(r) = linear - angular x (r - about): gravity less the acceleration of the vehicle. The frame's own mass is loaded
    with it along its centroid lines.
    """

    linear: Vector = ZERO
    angular: Vector = ZERO
    about: Vector = ZERO


@value_class
class Warming:
    """A member warmer than when it was built, K, with its coefficient of thermal expansion, 1/K."""

    member: str
    rise: float
    expansion: float


@value_class
class MovedSupport:
    """A held direction of a support that is moved by a known amount: direction 0..5 as in Support, m or rad."""

    point: str
    direction: int
    amount: float


@value_class
class StrapTension:
    """What a tie-down strap (by name) carries, N."""

    strap: str
    tension: float


@value_class
class CaseLoads:
    """Everything that acts on the frame in one load case.

    free_free: True where the loads balance among themselves and the frame hangs on nothing (vehicle cases): supports are then
    left out and the displacements are measured from the mean plane through `reference` points. straps: what tie-downs carry.
    wheels: how far up each wheel goes against the frame, from rest, m, by its name; left out where it is not known.
    supports: what holds the frame in this load case, in place of the frame's own; None: those.
    """

    name: str
    point_loads: tuple[PointLoad, ...] = ()
    member_loads: tuple[MemberLoad, ...] = ()
    body_loads: tuple[BodyLoad, ...] = ()
    motion: Motion = Motion()
    warmings: tuple[Warming, ...] = ()
    moved_supports: tuple[MovedSupport, ...] = ()
    free_free: bool = False
    reference: tuple[str, ...] = ()
    notes: tuple[Words, ...] = ()
    straps: tuple[StrapTension, ...] = ()
    wheels: tuple[tuple[str, float], ...] = ()
    supports: tuple[Support, ...] | None = None
