"""Suspensions with round numbers, so that their statics can be worked by hand."""

from __future__ import annotations

from framecheck.model.arrays import Vector
from framecheck.model.frame import Frame
from framecheck.model.suspension import (
    AntiRollBar,
    Arm,
    CoilSpring,
    DoubleWishbone,
    LateralLinkage,
    LeafSpring,
    Link,
    LinkAxle,
    Strut,
    SuspensionBracket,
    TrailingArm,
)
from framecheck.model.vehicle import Axle, Wheel


def at(place: Vector) -> SuspensionBracket:
    """Return a bracket on the frame point "any" with a place of its own."""
    return SuspensionBracket("any", place)


def mirror(place: Vector, side: float) -> Vector:
    return (place[0], side * place[1], place[2])


def wishbones(
    side: float, lower_z: float = 0.2, tie_x: float = -0.1, rate: float = 80e3, bump: float | None = None
) -> DoubleWishbone:
    """Flat arms 0.4 m long; lower_z: height of the lower hinge; the spring stands half-way along the lower arm."""

    def place(x: float, y: float, z: float) -> Vector:
        return (x, side * y, z)

    upper = Arm((at(place(0.15, 0.3, 0.55)), at(place(-0.15, 0.3, 0.55))), place(0.0, 0.7, 0.55))
    lower = Arm((at(place(0.15, 0.3, lower_z)), at(place(-0.15, 0.3, lower_z))), place(0.0, 0.7, 0.2))
    tie_rod = Link("tie rod", place(tie_x, 0.7, 0.2), at(place(tie_x, 0.3, 0.2)))
    spring = CoilSpring(place(0.0, 0.5, (0.2 + lower_z) / 2), at(place(0.0, 0.5, 0.7)), rate, bump)
    return DoubleWishbone(upper, lower, tie_rod, spring)


def strut(side: float) -> Strut:
    """An upright strut 0.1 m inboard of the ball joint, a flat lower arm."""

    def place(x: float, y: float, z: float) -> Vector:
        return (x, side * y, z)

    lower = Arm((at(place(0.15, 0.3, 0.2)), at(place(-0.15, 0.3, 0.2))), place(0.0, 0.7, 0.2))
    tie_rod = Link("tie rod", place(-0.1, 0.7, 0.2), at(place(-0.1, 0.3, 0.2)))
    return Strut(lower, tie_rod, CoilSpring(place(0.0, 0.6, 0.5), at(place(0.0, 0.6, 0.9)), 25e3))


def trailing(side: float) -> TrailingArm:
    """An arm hinged 0.6 m ahead of the wheel, its spring 0.4 m behind the hinge."""

    def place(x: float, y: float, z: float) -> Vector:
        return (x, side * y, z)

    hinge = (at(place(0.6, 0.3, 0.4)), at(place(0.6, 0.6, 0.4)))
    return TrailingArm(hinge, CoilSpring(place(0.2, 0.5, 0.4), at(place(0.2, 0.5, 0.7)), 60e3))


def leaf(side: float, rate: float = 30e3) -> LeafSpring:
    """A level spring 1 m long, the axle in its middle, an upright shackle above its rear eye."""
    return LeafSpring(at((0.5, side * 0.5, 0.55)), (-0.5, side * 0.5, 0.55), at((-0.5, side * 0.5, 0.65)), rate)


def links(*names: str, linkage: LateralLinkage | None = None) -> LinkAxle:
    """Level links 0.6 m long: two lower, one upper in the middle, a lateral rod at the height of the wheel centre."""
    every = {
        "lower left link": Link("lower left link", (0.0, 0.4, 0.25), at((0.6, 0.4, 0.25))),
        "lower right link": Link("lower right link", (0.0, -0.4, 0.25), at((0.6, -0.4, 0.25))),
        "upper link": Link("upper link", (0.0, 0.0, 0.55), at((0.6, 0.0, 0.55))),
        "lateral rod": Link("lateral rod", (0.0, -0.4, 0.35), at((0.0, 0.4, 0.35))),
    }
    springs = tuple(CoilSpring((0.0, y, 0.35), at((0.0, y, 0.7)), 40e3) for y in (0.5, -0.5))
    return LinkAxle(tuple(every[name] for name in names or every), (springs[0], springs[1]), linkage)


def bar(rate: float = 10e3, y: float = 0.7) -> AntiRollBar:
    return AntiRollBar(rate, ((0.0, y, 0.3), (0.0, -y, 0.3)), (at((0.2, 0.35, 0.4)), at((0.2, -0.35, 0.4))))


def wheels(corner: object = None) -> tuple[Wheel, Wheel]:
    """Return wheels at y 0.8 and -0.8 with a radius of 0.35 m; corner: a function of the side."""
    made = [corner(side) if callable(corner) else None for side in (1.0, -1.0)]
    return (
        Wheel("left", (0.0, 0.8, 0.0), 0.35, ("any",), corner=made[0]),
        Wheel("right", (0.0, -0.8, 0.0), 0.35, ("any",), corner=made[1]),
    )


def corner_axle(corner: object, **more: object) -> Axle:
    left, right = wheels(corner)
    return Axle("front", left, right, **more)  # type: ignore[arg-type]


def live_axle(live: object, **more: object) -> Axle:
    left, right = wheels()
    return Axle("rear", left, right, live=live, **more)  # type: ignore[arg-type]


FRAME = Frame({"any": (0.0, 0.0, 0.5)}, (), {})
