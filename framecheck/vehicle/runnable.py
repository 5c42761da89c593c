"""What a kind of load case is made of: the function that works it out, and what the file has to tell for it."""

from __future__ import annotations

from collections.abc import Callable

from framecheck.model.case import LoadCase
from framecheck.model.vehicle import Axle, Use, Vehicle
from framecheck.value_class import value_class
from framecheck.vehicle.scene import ExternalForces, Scene


@value_class
class NeededData:
    """What a kind of load case needs beyond masses and axles: whether a vehicle has it, and what to write if not.

    usual: whether any vehicle meets such a load, so that it is missed where its data are.
    """

    there: Callable[[Vehicle], bool]
    remedy: str
    usual: bool = True


def any_vehicle(_vehicle: Vehicle) -> bool:
    """Return that masses and axles are enough."""
    return True


def no_vehicle(_vehicle: Vehicle) -> bool:
    """Return that the load case itself has to say more."""
    return False


def is_driven(vehicle: Vehicle) -> bool:
    """Return whether a driveline with mounts drives an axle."""
    return vehicle.driveline is not None and bool(vehicle.driveline.mounts) and any(a.driven for a in vehicle.axles)


def is_sprung(axle: Axle) -> bool:
    """Return whether the axle's springs are described."""
    return axle.live is not None or (axle.left.corner is not None and axle.right.corner is not None)


def all_sprung(vehicle: Vehicle) -> bool:
    """Return whether the springs of both axles are described."""
    return all(is_sprung(axle) for axle in vehicle.axles)


def rolls_known(vehicle: Vehicle) -> bool:
    """Return whether the roll stiffness of both axles is given or follows from their springs."""
    return all(axle.roll_stiffness is not None or is_sprung(axle) for axle in vehicle.axles)


def leaves_the_road(vehicle: Vehicle) -> bool:
    """Return whether the vehicle is said to leave the road, on springs that are described."""
    return vehicle.use is Use.OFF_ROAD and all_sprung(vehicle)


def has_payload(vehicle: Vehicle) -> bool:
    """Return whether a mass is a payload."""
    return any(part.kind == "payload" for part in vehicle.masses)


def has_straps(vehicle: Vehicle) -> bool:
    """Return whether straps are described."""
    return bool(vehicle.straps)


def has_dampers(vehicle: Vehicle) -> bool:
    """Return whether the dampers of an axle are described."""
    return any(axle.dampers is not None for axle in vehicle.axles)


def has_steering_box(vehicle: Vehicle) -> bool:
    """Return whether the steering box is described."""
    return vehicle.steering is not None


MASSES_AND_AXLES = NeededData(any_vehicle, "describe masses and axles under 'vehicle'")
DRIVEN = NeededData(is_driven, "describe the 'driveline' with its mounts, and say which axle is 'driven'")
SPRUNG = NeededData(all_sprung, "describe the 'suspension' of both axles")
ROLLS_KNOWN = NeededData(rolls_known, "describe the 'suspension' of both axles, or give their 'roll stiffness'")
OFF_ROAD = NeededData(leaves_the_road, "say 'use: off road', and describe the 'suspension' of both axles", usual=False)
SPEED = NeededData(no_vehicle, "give its speed and stiffnesses under 'load cases'", usual=False)
A_POINT = NeededData(no_vehicle, "name its 'point' under 'load cases'")
SOME_POINT = NeededData(no_vehicle, A_POINT.remedy, usual=False)


@value_class
class KindOfLoadCase:
    """A kind of load case: what the world does in it, and what the file has to tell so that it runs without a further word."""

    forces: Callable[[Scene, LoadCase], ExternalForces]
    data: NeededData
