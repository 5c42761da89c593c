"""An invented truck for the tests: a plain ladder of points, masses one may check by hand."""

from __future__ import annotations

from framecheck.model.case import Case, LoadCase
from framecheck.model.frame import Frame
from framecheck.model.vehicle import Axle, Mass, Vehicle, Wheel
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


def asked(kind: str, **factors: float | str) -> LoadCase:
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
