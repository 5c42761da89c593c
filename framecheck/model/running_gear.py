"""What rolls on one axle, or on three and more, with a coupling or without: a trailer, a long truck. SI, vehicle axes."""

from __future__ import annotations

from enum import Enum

from framecheck.model.arrays import Vector
from framecheck.model.vehicle import Axle, Mass, Use
from framecheck.value_class import value_class


class BrakedBy(Enum):
    """What slows it: its own wheels, as far as their tyres hold, or what tows it."""

    WHEELS = "wheels"
    COUPLING = "coupling"


@value_class
class GearAxle:
    """An axle with what settles its load. rate: load per travel of both its springs and tyres together, N/m; share: its part of
    the load of all axles that have one (they hang on a balance, or were weighed); None: not said.
    """

    axle: Axle
    rate: float | None = None
    share: float | None = None


@value_class
class Coupling:
    """Where what tows it holds it, in all three directions and against no turn: the frame points that carry it, and its place."""

    on: tuple[str, ...]
    at: Vector


@value_class
class RunningGear:
    """Masses, axles from front to rear, the coupling if any. ground: z of the ground, m. friction: tyre on road.

    use: where it goes; None: not said. is_friction_stated: whether the file gives the friction; else it is the usual one.
    """

    masses: tuple[Mass, ...]
    axles: tuple[GearAxle, ...]
    coupling: Coupling | None = None
    braked_by: BrakedBy = BrakedBy.WHEELS
    ground: float = 0.0
    friction: float = 1.0
    gravity: float = 9.80665
    use: Use | None = None
    is_friction_stated: bool = True
