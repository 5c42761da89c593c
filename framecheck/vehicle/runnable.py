"""Which kinds of load case the data of a case allow."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from framecheck.model.case import Case
from framecheck.model.vehicle import Axle, Use, Vehicle
from framecheck.value_class import value_class


@value_class
class Data:
    """What a kind of load case needs beyond masses and axles: whether a vehicle has it, and what to write if not."""

    there: Callable[[Vehicle], bool]
    remedy: str


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


MASSES_AND_AXLES = Data(any_vehicle, "describe masses and axles under 'vehicle'")
DRIVEN = Data(is_driven, "describe the 'driveline' with its mounts, and say which axle is 'driven'")
A_POINT = Data(no_vehicle, "name its 'point' under 'load cases'")
DATA: Mapping[str, Data] = {
    "static": MASSES_AND_AXLES,
    "vertical bump": MASSES_AND_AXLES,
    "braking": MASSES_AND_AXLES,
    "reverse braking": MASSES_AND_AXLES,
    "cornering left": MASSES_AND_AXLES,
    "cornering right": MASSES_AND_AXLES,
    "braking in a turn": MASSES_AND_AXLES,
    "left-right swing": MASSES_AND_AXLES,
    "one wheel up": MASSES_AND_AXLES,
    "curb strike sideways": MASSES_AND_AXLES,
    "curb strike sideways, one wheel": MASSES_AND_AXLES,
    "curb strike head-on": MASSES_AND_AXLES,
    "pothole under braking": MASSES_AND_AXLES,
    "drive torque": DRIVEN,
    "reverse torque": DRIVEN,
    "diagonal twist": Data(rolls_known, "describe the 'suspension' of both axles, or give their 'roll stiffness'"),
    "curb climb head-on": MASSES_AND_AXLES,
    "curb strike sideways at speed": Data(no_vehicle, "give its speed and stiffnesses under 'load cases'"),
    "drop on one wheel": Data(all_sprung, "describe the 'suspension' of both axles"),
    "airborne landing": Data(leaves_the_road, "say 'use: off road', and describe the 'suspension' of both axles"),
    "damper force": Data(has_dampers, "describe the 'dampers' of an axle"),
    "steering at the lock": Data(has_steering_box, "describe the 'steering box'"),
    "underbody strike": A_POINT,
    "jacked at a point": A_POINT,
    "two-post lift": Data(no_vehicle, "name its 'points' under 'load cases'"),
    "tow or recovery pull": A_POINT,
    "tie-down": Data(has_straps, "describe 'straps'"),
    "load bed": Data(has_payload, "say 'kind: payload' on a mass"),
    "trailer coupling": A_POINT,
    "parked on a slope": MASSES_AND_AXLES,
}
"""What each kind of load case needs, in the order in which they run."""


TWIST = "one wheel up"
GEAR_KINDS = ("static", "vertical bump", "braking", "reverse braking", "cornering left", "cornering right", TWIST)
"""Those of a running gear: of a trailer, of three axles and more."""


def runnable_kinds(case: Case) -> tuple[str, ...]:
    """Return the kinds of load case that the case's data allow without a further word; none without a vehicle."""
    vehicle = case.vehicle
    if case.gear is not None:
        return tuple(kind for kind in GEAR_KINDS if kind != TWIST or len(case.gear.axles) > 1)
    return () if vehicle is None else tuple(kind for kind, data in DATA.items() if data.there(vehicle))


def missing_data(case: Case) -> Mapping[str, str]:
    """Return what would have to be written for each further kind of load case, by kind; nothing without a vehicle."""
    vehicle = case.vehicle
    return {} if vehicle is None else {kind: data.remedy for kind, data in DATA.items() if not data.there(vehicle)}
