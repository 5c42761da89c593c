"""An invented truck for the tests: a plain ladder of points, masses one may check by hand."""

from __future__ import annotations

from dataclasses import replace

from framecheck.model.case import Case, Factor, LoadCase
from framecheck.model.frame import Frame
from framecheck.model.suspension import (
    AntiRollBar,
    Arm,
    Carries,
    CoilSpring,
    Damper,
    DoubleWishbone,
    LeafAxle,
    LeafSpring,
    Link,
    SuspensionBracket,
)
from framecheck.model.vehicle import Axle, Driveline, Mass, SteeringBox, Strap, Vehicle, Wheel
from framecheck.vehicle.masses import LineMass, MassProperties, frame_mass

POINTS = {
    "front left": (0.0, 0.4, 0.6),
    "front right": (0.0, -0.4, 0.6),
    "middle left": (-1.4, 0.4, 0.55),
    "middle right": (-1.4, -0.4, 0.55),
    "spring left front": (-2.5, 0.4, 0.55),
    "spring left rear": (-3.5, 0.4, 0.6),
    "spring right front": (-2.5, -0.4, 0.55),
    "spring right rear": (-3.5, -0.4, 0.6),
}


def wheel(name: str, x: float, y: float, on: tuple[str, ...], unsprung: float = 0.0) -> Wheel:
    return Wheel(name, (x, y, 0.0), 0.35, on, unsprung)


def axle(name: str, x: float, track: float, on: tuple[tuple[str, ...], tuple[str, ...]], unsprung: float = 0.0) -> Axle:
    left = wheel(f"{name} left", x, track / 2, on[0], unsprung)
    right = wheel(f"{name} right", x, -track / 2, on[1], unsprung)
    return Axle(name, left, right, driven=name == "rear")


FRONT_ON = (("front left",), ("front right",))
REAR_ON = (("spring left front", "spring left rear"), ("spring right front", "spring right rear"))


def truck(
    mass: float, back: float, height: float, wheelbase: float, track: float, gravity: float = 9.80665, side: float = 0.0
) -> Case:
    """Return a truck of four equal lumps round a centre of gravity `back` behind the front axle."""
    corners = ((0.6, 0.3, 0.2), (0.6, -0.3, -0.2), (-0.6, 0.3, -0.2), (-0.6, -0.3, 0.2))
    lumps = tuple(
        Mass(f"lump {n}", mass / 4, (x - back, y + side, z + height), tuple(POINTS))
        for n, (x, y, z) in enumerate(corners)
    )
    front, rear = axle("front", 0.0, track, FRONT_ON), axle("rear", -wheelbase, track, REAR_ON)
    vehicle = Vehicle(lumps, front, rear, gravity=gravity)
    return Case("lump", Frame(POINTS, (), {}), vehicle)


MASSES = (
    Mass("engine", 260.0, (-0.2, 0.02, 0.85), ("front left", "front right"), "engine"),
    Mass("gearbox", 90.0, (-1.1, 0.0, 0.7), ("front left", "front right", "middle left", "middle right")),
    Mass("cab", 380.0, (-1.5, 0.03, 1.2), ("front left", "front right", "middle left", "middle right")),
    Mass("tank", 70.0, (-2.2, -0.5, 0.55), ("middle right", "spring right front")),
    Mass("bed", 420.0, (-2.9, 0.0, 0.95), REAR_ON[0] + REAR_ON[1], "payload"),
)


def pickup(**changes: object) -> Case:
    """Return a pickup with five masses, unsprung wheels and a frame of its own mass."""
    front = axle("front", 0.0, 1.5, FRONT_ON, 45.0)
    rear = axle("rear", -3.0, 1.52, REAR_ON, 70.0)
    values: dict[str, object] = {"masses": MASSES, "front": front, "rear": rear, **changes}
    return Case("pickup", Frame(POINTS, (), {}), Vehicle(**values))  # type: ignore[arg-type]


def rails() -> MassProperties:
    """Return two rails of 9 kg/m, 4 m long, and a crossmember."""
    lines = [LineMass((0.3, y, 0.6), (-3.7, y, 0.58), 9.0) for y in (0.4, -0.4)]
    return frame_mass([*lines, LineMass((-1.4, 0.4, 0.55), (-1.4, -0.4, 0.55), 6.0)])


def asked(kind: str, **factors: Factor) -> LoadCase:
    """Return a load case by kind; an underscore in a factor's name stands for a space."""
    return LoadCase(kind, kind, {name.replace("_", " "): value for name, value in factors.items()})


STANDARD = (
    asked("static"),
    asked("vertical bump", factor=3.0),
    asked("braking", deceleration=0.9),
    asked("reverse braking", deceleration=0.6),
    asked("cornering left", acceleration=0.8),
    asked("cornering right", acceleration=0.8),
    asked("one wheel up", wheel="front left", share=1.0),
    asked("curb strike sideways", side="left", factor=1.4),
    asked("curb strike sideways, one wheel", wheel="front left", factor=3.0),
    asked("curb strike head-on", wheel="front left", factor=2.0),
    asked("pothole under braking", wheel="front left", deceleration=0.6, vertical=3.0, along=2.0),
)

FURTHER = (
    asked("drive torque", snatch=1.5),
    asked("diagonal twist", wheel="rear left", height=0.15),
    asked("curb climb head-on", wheel="front", height=0.1),
    asked(
        "curb strike sideways at speed",
        wheel="front left",
        speed=1.5,
        tyre_stiffness=150e3,
        suspension_stiffness=800e3,
        frame_stiffness=600e3,
    ),
    asked("drop on one wheel", wheel="front right", height=0.1, static_deflection=0.1),
    asked("underbody strike", point="middle left", factor=1.0, drag=0.5),
    asked("jacked at a point", point="front left", wheel="front left", factor=1.2),
    asked("two-post lift", points=("front left", "front right", "spring left front", "spring right front"), factor=1.1),
    asked("tow or recovery pull", point="front left", end="front", factor=0.5, sideways=0.3, upward=0.2),
    asked("tie-down", toward="forward", acceleration=0.8, strap_stiffness=80e3, tyre_stiffness=250e3),
    asked("load bed", factor=2.5),
    asked(
        "trailer coupling",
        point="spring left rear",
        way="pulling down",
        trailer_mass=1500.0,
        tongue_mass=150.0,
        vertical_acceleration=2.4,
        leverage=1.0,
    ),
    asked("parked on a slope", grade=0.3),
    asked("reverse torque", snatch=1.5),
    asked("braking in a turn", side="left", deceleration=0.6, acceleration=0.6),
    asked("left-right swing", side="right", acceleration=0.8, overshoot=1.4),
    asked("airborne landing", wheel="all", height=0.3, static_deflection=0.1),
    asked("damper force", wheel="front left", speed=2.0),
    asked("steering at the lock", side="left", factor=1.0),
)

DRIVELINE = Driveline(
    400.0, 3.5, 4.1, ("front left", "front right", "middle left", "middle right"), 1.8, efficiency=0.9
)
STRAPS = tuple(
    Strap(f"{end} {side}", point, (x, 1.6 * y, -0.3), 3000.0, 14e3)
    for end, point, x in (("front", "front {}", 1.5), ("rear", "spring {} rear", -5.0))
    for side, y in (("left", 1.0), ("right", -1.0))
    for point in [point.format(side)]
)


def bracket(point: str, x: float, y: float, z: float) -> SuspensionBracket:
    return SuspensionBracket(point, (x, y, z))


def front_corner(side: float) -> DoubleWishbone:
    """Return wishbones that lean a little in every direction."""
    point = "front left" if side > 0 else "front right"

    def place(x: float, y: float, z: float) -> tuple[float, float, float]:
        return (x, side * y, z)

    upper = Arm(
        (bracket(point, *place(0.12, 0.42, 0.56)), bracket(point, *place(-0.16, 0.43, 0.53))), place(-0.02, 0.66, 0.55)
    )
    lower = Arm(
        (bracket(point, *place(0.2, 0.33, 0.27)), bracket(point, *place(-0.2, 0.34, 0.26))), place(0.01, 0.7, 0.2)
    )
    tie_rod = Link("tie rod", place(-0.13, 0.68, 0.25), bracket(point, *place(-0.14, 0.36, 0.29)))
    spring = CoilSpring(place(0.0, 0.58, 0.23), bracket(point, *place(0.0, 0.48, 0.65)), 70e3, 0.09, 0.1)
    return DoubleWishbone(upper, lower, tie_rod, spring)


def damper(side: float) -> Damper:
    """Return a damper that leans inward, 1.5 kN at 1 m/s."""
    point = "front left" if side > 0 else "front right"
    return Damper((-0.05, side * 0.62, 0.25), bracket(point, -0.06, side * 0.45, 0.62), 1500.0, 1.0)


def suspended(friction: float = 1.0) -> Case:
    """Return the pickup on wishbones and leaf springs with bars, driven behind, tied down by four straps."""
    case = pickup()
    assert case.vehicle is not None
    bushes = (bracket("front left", 0.2, 0.35, 0.5), bracket("front right", 0.2, -0.35, 0.5))
    bar = AntiRollBar(12e3, ((0.1, 0.6, 0.24), (0.1, -0.6, 0.24)), bushes, Carries.LOWER_ARM)
    old = case.vehicle.front
    left, right = replace(old.left, corner=front_corner(1.0)), replace(old.right, corner=front_corner(-1.0))
    dampers = (damper(1.0), damper(-1.0))
    front = replace(old, left=left, right=right, bar=bar, dampers=dampers)
    leaves = [
        LeafSpring(
            bracket(f"spring {side} front", -2.5, y, 0.52),
            (-3.52, y, 0.5),
            bracket(f"spring {side} rear", -3.55, y, 0.6),
            38e3,
        )
        for side, y in (("left", 0.45), ("right", -0.45))
    ]
    rear = replace(case.vehicle.rear, live=LeafAxle(leaves[0], leaves[1]))
    vehicle = replace(
        case.vehicle,
        front=front,
        rear=rear,
        friction=friction,
        driveline=DRIVELINE,
        straps=STRAPS,
        steering=SteeringBox(("front left",), (0.15, 0.42, 0.5), (0.1, -0.6, 0.4), 6000.0),
    )
    return replace(case, vehicle=vehicle)
