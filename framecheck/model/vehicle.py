"""The vehicle round the frame: masses, axles, driveline; and the running gear of a trailer or a long truck. SI, vehicle axes."""

from __future__ import annotations

from enum import Enum

from framecheck.model.arrays import Vector
from framecheck.model.suspension import AntiRollBar, Corner, Damper, LiveAxle
from framecheck.value_class import value_class


class Use(Enum):
    """Where the vehicle goes: what it is used on decides how hard its wheels are struck."""

    ROAD = "road"
    TRACK = "track"
    OFF_ROAD = "off road"


@value_class
class Mass:
    """A mass (kg) with its centre of mass and the frame points that carry it.

    kind: "part", "engine", "payload" ..., for words and for ratings that scale the payload.
    """

    name: str
    mass: float
    at: Vector
    on: tuple[str, ...]
    kind: str = "part"


@value_class
class Wheel:
    """A wheel: contact patch (x, y, z) in m, rolling radius in m, and the frame points its suspension hangs on.

    unsprung_mass: kg carried by the tyre and not by the frame. corner: how it hangs on the frame; None: not known, the
    points share its forces by statics alone.
    """

    name: str
    contact: Vector
    radius: float
    on: tuple[str, ...]
    unsprung_mass: float = 0.0
    corner: Corner | None = None


@value_class
class Axle:
    """Two wheels across the vehicle.

    brake_share: this axle's share of the braking force; None: in proportion to the wheel loads of that case.
    roll_stiffness: roll moment per roll of the body on this axle, Nm/rad; None: not known, roll is shared by axle load.
    roll_centre: z of the roll centre, m; None: not known, taken at the ground. Where the suspension is described, both
    follow from it unless given. live: the suspension of a live axle, in place of the wheels' corners. dampers: left, right; None:
    not described.
    stated_load: the axle's load on a weigh scale, N, to check the masses by.
    """

    name: str
    left: Wheel
    right: Wheel
    driven: bool = False
    brake_share: float | None = None
    roll_stiffness: float | None = None
    roll_centre: float | None = None
    live: LiveAxle | None = None
    stated_load: float | None = None
    bar: AntiRollBar | None = None
    dampers: tuple[Damper, Damper] | None = None


@value_class
class SteeringBox:
    """A steering box on frame points that pushes the wheels through a drag link; m, N.

    ball: the drag link's end at the box; link_end: its end on a front wheel's carrier. force: in the link, the box at its limit.
    """

    on: tuple[str, ...]
    ball: Vector
    link_end: Vector
    force: float


@value_class
class Driveline:
    """What turns the driven axles. Torque Nm, speed rad/s, ratios in the lowest gear; converter: torque ratio at stall.

    mounts: frame points that hold engine and gearbox; final_drives: frame points of frame-mounted final drives (front,
    rear), empty for a live axle. speed: at which the engine makes its torque, for its power; 0: not known. reverse: the ratio of
    the reverse gear; None: not known, as the lowest gear. is_transfer_stated: whether the file gives the transfer case's ratio.
    """

    engine_torque: float
    gear: float
    final_drive: float
    mounts: tuple[str, ...]
    converter: float = 1.0
    transfer: float = 1.0
    efficiency: float = 1.0
    final_drives: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    speed: float = 0.0
    reverse: float | None = None
    is_transfer_stated: bool = True


@value_class
class Strap:
    """A tie-down from a frame point to an anchor on the trailer, m. pretension and working load limit in N."""

    name: str
    point: str
    anchor: Vector
    pretension: float = 0.0
    working_load_limit: float | None = None
    is_pretension_stated: bool = True


@value_class
class VehiclePlace:
    """A place that moves and turns with a frame point; at: where it is, m; None: at the point itself."""

    point: str
    at: Vector | None = None


@value_class
class BodyPlace:
    """A place on a stiff body on mounts (engine and gearbox, cab), which moves and turns with it; at: where it is, m."""

    body: str
    at: Vector


@value_class
class WheelPlace:
    """A place on a wheel ("front left"), which goes up and down with its travel; at: where it is at rest, m."""

    wheel: str
    at: Vector


Spot = VehiclePlace | BodyPlace | WheelPlace


class Measured(Enum):
    """On what a gap was measured."""

    AT_REST = "at rest"
    UNLOADED = "unloaded"


@value_class
class Clearance:
    """A gap of today, m, between a place and another place, or a plane that stays still.

    normal: for a plane, the direction (unit or not) from the plane to the place. least: the gap that should be left, m.
    measured: on the vehicle as it stands, or on a drawing or a bare frame that carries nothing yet.
    """

    name: str
    first: Spot
    second: Spot | None
    gap: float
    normal: Vector = (0.0, 0.0, 1.0)
    least: float = 0.0
    measured: Measured = Measured.AT_REST


@value_class
class Vehicle:
    """Masses and the two axles, front first. friction: tyre on road. use: None: not said.

    is_friction_stated: whether the file gives the friction; else it is the usual one. taken_amid: the masses of which it does not say
    how far they sit to a side.
    """

    masses: tuple[Mass, ...]
    front: Axle
    rear: Axle
    friction: float = 1.0
    gravity: float = 9.80665
    driveline: Driveline | None = None
    straps: tuple[Strap, ...] = ()
    clearances: tuple[Clearance, ...] = ()
    use: Use | None = None
    steering: SteeringBox | None = None
    is_friction_stated: bool = True
    taken_amid: tuple[str, ...] = ()

    @property
    def axles(self) -> tuple[Axle, Axle]:
        """Return the front and the rear axle."""
        return (self.front, self.rear)


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

    use: where it goes; None: not said. is_friction_stated, taken_amid: see Vehicle.
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
    taken_amid: tuple[str, ...] = ()
