"""Independent suspension: the mechanism of a double wishbone, a strut and a trailing arm."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.suspension import (
    Arm,
    Carries,
    CoilSpring,
    Corner,
    DoubleWishbone,
    Link,
    Strut,
    SuspensionBracket,
    TrailingArm,
)
from framecheck.model.vehicle import Wheel
from framecheck.value_class import value_class
from framecheck.vehicle.masses import wheel_centre
from framecheck.vehicle.scene import Attachment, vector
from framecheck.vehicle.statics import Joint, Mechanism, joint_forces, load_rows
from framecheck.vehicle.travel import Travel, travel_of

Points = Mapping[str, Vector]
LEAST_RATIO = 1e-6
"""Spring force per wheel load below which a spring is no spring of that wheel."""
LEAST_LENGTH = 1e-6
"""m: two places closer than this give no direction."""
AXES: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


@value_class
class CornerStatics:
    """A corner ready for statics: joint numbers of the spring, the bump stop and the droop strap; arms: body number by part."""

    wheel: Wheel
    mechanism: Mechanism
    source: CoilSpring
    spring: int
    stop: int | None
    strap: int | None
    arms: Mapping[Carries, int]

    def at_rest(self) -> dict[int, float]:
        """Return the joints that carry nothing while bump stop and droop strap are clear."""
        return {number: 0.0 for number in (self.stop, self.strap) if number is not None}

    @property
    def travel(self) -> Travel:
        """Return the spring as the wheel feels it, k (travel ratio)^2, with its stop and strap (virtual work)."""
        stop, strap = (
            None if rate is None else rate / self._ratio_of(number) ** 2
            for rate, number in ((self.source.stop_rate, self.stop), (self.source.strap_rate, self.strap))
        )
        return travel_of(self.wheel_rate, self.source.bump, self.source.droop, stop, strap)

    def _ratio_of(self, number: int | None) -> float:
        """Return the force in a stop or strap per wheel load while it alone holds the wheel; the spring's if it is in its line."""
        if number is None:
            return self.spring_per_load
        idle = {each: 0.0 for each in (self.spring, self.stop, self.strap) if each is not None and each != number}
        load = load_rows(self.mechanism, 0, np.array(AXES[2]), self.wheel.contact)
        ratio = float(joint_forces(self.mechanism, load, idle)[number])
        if abs(ratio) < LEAST_RATIO:
            raise UnsolvableError(f"{self.wheel.name} wheel: its bump stop or droop strap holds nothing of the wheel's load; move it")
        return ratio

    def per_force(self, direction: Vector, at: Vector, body: int = 0) -> float:
        """Return the spring force per force along a direction at a place on a body."""
        return float(_under_unit(self.mechanism, (body, direction, at), tuple(self.at_rest()))[self.spring])

    @property
    def spring_per_load(self) -> float:
        """Return the spring force per wheel load; its inverse is spring travel per wheel travel (virtual work)."""
        ratio = self.per_force(AXES[2], self.wheel.contact)
        if abs(ratio) < LEAST_RATIO:
            raise UnsolvableError(
                f"{self.wheel.name} wheel: its spring carries nothing of the wheel's load; "
                "move the arm's pivots or the spring's ends so that the spring works when the wheel moves up"
            )
        return ratio

    @property
    def wheel_rate(self) -> float:
        """Return the vertical stiffness at the wheel, k (travel ratio)^2 (virtual work), N/m."""
        return self.source.rate / self.spring_per_load**2


@lru_cache(maxsize=256)
def _under_unit(mechanism: Mechanism, force: tuple[int, Vector, Vector], idle: tuple[int, ...]) -> Array:
    """Return the joint forces (n_joints,) under 1 N; force: its body, direction and place; idle: joints that carry nothing."""
    body, direction, at = force
    return frozen(joint_forces(mechanism, load_rows(mechanism, body, np.array(direction), at), dict.fromkeys(idle, 0.0)))


def corner_statics(wheel: Wheel, corner: Corner, points: Points) -> CornerStatics:
    """Return a wheel's corner ready for statics."""
    if isinstance(corner, DoubleWishbone):
        return _double_wishbone(wheel, corner, points)
    if isinstance(corner, Strut):
        return _strut(wheel, corner, points)
    return _trailing_arm(wheel, corner, points)


def foot(name: str, bracket: SuspensionBracket, points: Points) -> Attachment:
    """Return a bracket with its place."""
    return Attachment(name, bracket.point, points[bracket.point] if bracket.at is None else bracket.at)


def rod(name: str, link: Link, points: Points, stiffness: float = 1e7) -> Joint:
    """Return a link on the carrier; + is compression: it pushes the carrier away from the bracket."""
    end = foot(name, link.bracket, points)
    return Joint(name, 0, link.end, unit(end.at, link.end, name), end, stiffness)


@lru_cache(maxsize=256)
def unit(start: Vector, end: Vector, name: str) -> Vector:
    """Return the unit direction from one place to another; name: the part between them, for the refusal."""
    along = np.array(end) - np.array(start)
    length = float(np.linalg.norm(along))
    if length < LEAST_LENGTH:
        raise UnsolvableError(f"{name}: both its ends are at one place, so it has no direction; move one of them")
    return vector(along / length)


def pusher(name: str, body: int, end: Vector, bracket: SuspensionBracket, points: Points, stiffness: float) -> Joint:
    """Return a spring or stop between a body and the frame; + is compression."""
    top = foot(name, bracket, points)
    return Joint(name, body, end, unit(top.at, end, name), top, stiffness)


def ball(name: str, at: Vector, arm: int) -> tuple[Joint, Joint, Joint]:
    """Return a ball joint between the carrier and an arm: a force along each axis."""
    return tuple(Joint(name, 0, at, axis, arm) for axis in AXES)  # type: ignore[return-value]


def _hinge(name: str, arm: Arm, points: Points) -> tuple[Attachment, Attachment]:
    """Return the feet of a hinge; an axis needs two places."""
    front, rear = (
        foot(f"{name}, front bush", arm.brackets[0], points),
        foot(f"{name}, rear bush", arm.brackets[1], points),
    )
    unit(front.at, rear.at, name)
    return front, rear


def _sprung(name: str, spring: CoilSpring, body: int, points: Points) -> tuple[Joint, ...]:
    """Return the spring, then the bump stop and the droop strap where they stand apart."""
    coil = pusher(f"{name} spring", body, spring.end, spring.bracket, points, spring.rate)
    limits = (("bump stop", spring.stop), ("droop strap", spring.strap))
    apart = (pusher(f"{name} {what}", body, at.end, at.bracket, points, 1e7) for what, at in limits if at is not None)
    return (coil, *apart)


def _double_wishbone(wheel: Wheel, corner: DoubleWishbone, points: Points) -> CornerStatics:
    name = wheel.name
    arms = {Carries.CARRIER: 0, Carries.UPPER_ARM: 1, Carries.LOWER_ARM: 2}
    joints = (
        *ball(f"{name} upper ball joint", corner.upper.ball, 1),
        *ball(f"{name} lower ball joint", corner.lower.ball, 2),
        rod(f"{name} tie rod", corner.tie_rod, points),
        *_sprung(name, corner.spring, arms[corner.spring_on], points),
    )
    hinges = (_hinge(f"{name} upper arm", corner.upper, points), _hinge(f"{name} lower arm", corner.lower, points))
    return _ready(wheel, Mechanism(name, wheel_centre(wheel), joints, hinges), corner.spring, 7, arms)


def _strut(wheel: Wheel, corner: Strut, points: Points) -> CornerStatics:
    """The top mount holds sideways and the spring pushes along the strut: three forces at one place."""
    name = wheel.name
    top = foot(f"{name} strut top", corner.spring.bracket, points)
    along = np.array(unit(top.at, corner.spring.end, f"{name} strut"))
    across = np.linalg.svd(along[None, :])[2][1:]
    sideways = tuple(Joint(f"{name} strut top", 0, top.at, vector(axis), top) for axis in across)
    joints = (
        *ball(f"{name} lower ball joint", corner.lower.ball, 1),
        rod(f"{name} tie rod", corner.tie_rod, points),
        *sideways,
        *_sprung(name, corner.spring, 0, points),
    )
    hinges = (_hinge(f"{name} lower arm", corner.lower, points),)
    arms = {Carries.CARRIER: 0, Carries.LOWER_ARM: 1}
    return _ready(wheel, Mechanism(name, wheel_centre(wheel), joints, hinges), corner.spring, 6, arms)


def _trailing_arm(wheel: Wheel, corner: TrailingArm, points: Points) -> CornerStatics:
    """Both bushes hold in all directions; along the hinge they share alike."""
    name = wheel.name
    inner, outer = corner.brackets
    feet = (foot(f"{name} arm, inner bush", inner, points), foot(f"{name} arm, outer bush", outer, points))
    bushes = tuple(Joint(each.name, 0, each.at, axis, each) for each in feet for axis in AXES)
    joints = (*bushes, *_sprung(name, corner.spring, 0, points))
    return _ready(wheel, Mechanism(name, wheel_centre(wheel), joints), corner.spring, 6, {Carries.CARRIER: 0})


def _ready(
    wheel: Wheel, mechanism: Mechanism, spring: CoilSpring, number: int, arms: Mapping[Carries, int]
) -> CornerStatics:
    stop = None if spring.stop is None else number + 1
    strap = None if spring.strap is None else number + 1 + (stop is not None)
    return CornerStatics(wheel, mechanism, spring, number, stop, strap, arms)


def on_carrier(mechanism: Mechanism, total: Array) -> Array:
    """Return the equations' load of a force and moment (6,) on the carrier about its centre."""
    return np.concatenate([total, np.zeros(len(mechanism.hinges))])
