"""The vehicle: records to masses, axles, driveline, straps and clearances; and the running gear of a trailer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from framecheck.model.frame import Mount, StiffBody
from framecheck.model.vehicle import (
    Axle,
    BodyPlace,
    BrakedBy,
    Clearance,
    Coupling,
    Driveline,
    GearAxle,
    Mass,
    RunningGear,
    Spot,
    SteeringBox,
    Strap,
    Vehicle,
    VehiclePlace,
    Wheel,
    WheelPlace,
)
from framecheck.reading.blocks.common import XYZ, vector
from framecheck.reading.build.doubts import doubt_axles, doubt_carriers, doubt_ground, doubt_sides, settled_gap
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.suspension import (
    Hand,
    bar_of,
    corner_of,
    dampers_of,
    live_axle_of,
    points_hung_on,
    whole_place,
)
from framecheck.reading.form import Record


def vehicle_of(builder: FrameBuilder, record: Record) -> Vehicle:
    """Return the vehicle of a case; what has mounts is a stiff body of the frame instead."""
    axles = record["axles"]
    doubt_axles(builder.diagnostics, axles)
    doubt_sides(builder, axles["front"])
    doubt_sides(builder, axles["rear"])
    doubt_carriers(builder, record)
    doubt_ground(builder, (axles["front"], axles["rear"]))
    return Vehicle(
        masses=tuple(mass_of(builder, part) for part in record["masses"] if not part["mounts"]),
        front=axle_of(builder, "front", axles["front"]),
        rear=axle_of(builder, "rear", axles["rear"]),
        friction=record["tyre friction"],
        driveline=None if record["driveline"] is None else driveline_of(builder, record["driveline"]),
        use=record["use"],
        steering=None if record["steering box"] is None else steering_of(builder, record["steering box"]),
        straps=tuple(strap_of(builder, strap) for strap in record["straps"]),
        clearances=tuple(clearance_of(builder, each) for each in record["clearances"]),
        is_friction_stated=record.given("tyre friction"),
        taken_amid=without_side(record["masses"]),
    )


def points_of(builder: FrameBuilder, names: tuple[str, ...]) -> tuple[str, ...]:
    """Return points by any of their names."""
    return tuple(builder.point(name) for name in names)


def without_side(masses: Sequence[Record]) -> tuple[str, ...]:
    """Return the masses of which it is not written how far they sit to a side."""
    return tuple(each["name"] for each in masses if not each.given("y"))


def mass_of(builder: FrameBuilder, record: Record) -> Mass:
    """Return a mass that frame points share by statics."""
    if not record["on"]:
        what = "is a payload with nowhere to sit" if record["kind"] == "payload" else "is carried by no frame point"
        builder.diagnostics.refuse(
            record.line, record.subject, what, "name the frame points that carry it under 'on', or its mounts"
        )
    return Mass(record["name"], record["mass"], vector(record), points_of(builder, record["on"]), record["kind"])


def body_of(builder: FrameBuilder, record: Record) -> StiffBody:
    """Return a part on rubber mounts."""
    if record["on"]:
        builder.diagnostics.refuse(record.line_of("on"), record.subject, "has both 'on' and 'mounts'", "keep one of the two")
    radii = record["radii"]
    return StiffBody(
        name=record["name"],
        mass=record["mass"],
        at=vector(record),
        mounts=tuple(Mount(builder.point(each["point"]), vector(each["stiffness"])) for each in record["mounts"]),
        radii=(0.0, 0.0, 0.0) if radii is None else vector(radii),
    )


def axle_of(builder: FrameBuilder, name: str, record: Record) -> Axle:
    """Return an axle with both its wheels."""
    left, right = Hand(builder, 1.0), Hand(builder, -1.0)
    live = live_axle_of(left, right, record["suspension"])
    return Axle(
        name=name,
        left=wheel_of(left, f"{name} left", record, live),
        right=wheel_of(right, f"{name} right", record, live),
        driven=record["driven"],
        brake_share=record["brake share"],
        roll_stiffness=record["roll stiffness"],
        roll_centre=record["roll centre"],
        live=live,
        stated_load=record["stated load"],
        bar=bar_of(left, right, record["anti-roll bar"]),
        dampers=dampers_of(left, right, record["dampers"]),
    )


def wheel_of(hand: Hand, name: str, record: Record, live: object) -> Wheel:
    """Return a wheel; it hangs on the points named, else on those of its suspension."""
    corner = corner_of(hand, record["suspension"])
    of_side = getattr(live, "left" if hand.sign > 0 else "right", live)
    on = tuple(hand.point(each) for each in record["on"]) or points_hung_on(corner or of_side)
    if not on and hand.sign > 0:
        hand.builder.diagnostics.refuse(
            record.line, record.subject, "has no path to the frame", "name frame points under 'on', or its suspension"
        )
    return Wheel(
        name=name,
        contact=(record["x"], hand.sign * record["track"] / 2, record["ground"]),
        radius=record["tyre radius"],
        on=on,
        unsprung_mass=record["unsprung mass"] / 2,
        corner=corner,
    )


def driveline_of(builder: FrameBuilder, record: Record) -> Driveline:
    """Return what turns the driven axles."""
    drives = record["final drives"]
    return Driveline(
        engine_torque=_torque(builder, record),
        gear=record["gear"],
        final_drive=record["final drive"],
        mounts=points_of(builder, record["mounts"]),
        converter=record["converter"],
        transfer=record["transfer"],
        efficiency=record["efficiency"],
        final_drives=((), ())
        if drives is None
        else (points_of(builder, drives["front"]), points_of(builder, drives["rear"])),
        speed=record["engine speed"] or 0.0,
        reverse=record["reverse gear"],
        is_transfer_stated=record.given("transfer"),
    )


def steering_of(builder: FrameBuilder, record: Record) -> SteeringBox:
    """Return the steering box; its force as given, else torque / arm."""
    force, torque, arm = record["force"], record["torque"], record["arm"]
    if (force is None) == (torque is None or arm is None) or (force is None) != (torque is not None):
        fault = "does not say the drag link's force in one way"
        builder.diagnostics.refuse(record.line, record.subject, fault, "write 'force', or 'torque' and 'arm'")
        force = force or 1.0
    return SteeringBox(
        on=points_of(builder, record["on"]),
        ball=whole_place(builder, record["ball"]),
        link_end=whole_place(builder, record["link end"]),
        force=torque / arm if force is None else force,
    )


def _torque(builder: FrameBuilder, record: Record) -> float:
    """Return the engine's torque: as given, else power / speed."""
    torque, power, speed = record["engine torque"], record["engine power"], record["engine speed"]
    if torque is not None and power is None:
        return float(torque)
    if torque is None and power is not None and speed is not None:
        return float(power / speed)
    fault = "does not say the engine's torque in one way"
    builder.diagnostics.refuse(record.line, record.subject, fault, "write 'engine torque', or 'engine power' and 'engine speed'")
    return 0.0


def strap_of(builder: FrameBuilder, record: Record) -> Strap:
    """Return a tie-down."""
    point = builder.point(record["point"])
    tied, limit = record["pretension"], record["working load limit"]
    return Strap(record["name"], point, vector(record), tied, limit, record.given("pretension"))


def clearance_of(builder: FrameBuilder, record: Record) -> Clearance:
    """Return a gap to watch."""
    facing, before = record["facing"], len(builder.diagnostics.faults)
    normal = (0.0, 0.0, 1.0) if facing is None else vector(facing)
    if not any(normal):
        builder.diagnostics.refuse(record.line_of("facing"), record.subject, "faces nowhere", "write a direction such as {z: 1}")
    clearance = Clearance(
        name=record["name"],
        first=_spot(builder, record["of"]),
        second=None if record["to"] is None else _spot(builder, record["to"]),
        gap=record["gap"],
        normal=normal,
        least=record["least"],
        measured=record["measured"],
    )
    if len(builder.diagnostics.faults) > before:
        return clearance
    return replace(clearance, gap=settled_gap(builder.diagnostics, record, clearance, builder.points))


def _spot(builder: FrameBuilder, record: Record) -> Spot:
    """Return a place on a wheel or a body on mounts, or beside a frame point: coordinates left out are the point's own."""
    said, by = [record[key] for key in XYZ], [key for key in ("point", "body", "wheel") if record[key] is not None]
    if len(by) != 1:
        fault = "does not say in one way what it moves with"
        builder.diagnostics.refuse(record.line, record.subject, fault, "write one of 'point', 'body', 'wheel'")
        return VehiclePlace("")
    if by != ["point"]:
        if None in said:
            fault = f"does not say where on the {by[0]} it is"
            builder.diagnostics.refuse(record.line, record.subject, fault, "write x, y and z of the place")
            return VehiclePlace("")
        at = vector(record)
        return BodyPlace(record["body"], at) if by == ["body"] else WheelPlace(record["wheel"], at)
    name = builder.point(record["point"])
    if all(each is None for each in said):
        return VehiclePlace(name)
    x, y, z = (own if each is None else each for each, own in zip(said, builder.points[name], strict=True))
    return VehiclePlace(name, (x, y, z))


def gear_of(builder: FrameBuilder, record: Record) -> RunningGear:
    """Return the running gear of a case."""
    coupling, axles = record["coupling"], record["axles"]
    for before, after in pairwise(axles):
        if before["x"] - after["x"] < before["tyre radius"] + after["tyre radius"]:
            fault = f"does not stand behind '{before['name']}' by as much as both tyres need"
            builder.diagnostics.refuse(after.line_of("x"), after.subject, fault, "write axles front to rear; x runs forward")
    doubt_ground(builder, (record,))
    return RunningGear(
        masses=tuple(
            Mass(part["name"], part["mass"], vector(part), points_of(builder, part["on"]), part["kind"])
            for part in record["masses"]
        ),
        axles=tuple(_axle(builder, each, record["ground"]) for each in axles),
        coupling=None if coupling is None else Coupling(points_of(builder, coupling["on"]), vector(coupling)),
        braked_by=BrakedBy.WHEELS if coupling is None else coupling["braked by"],
        ground=record["ground"],
        friction=record["tyre friction"],
        use=record["use"],
        is_friction_stated=record.given("tyre friction"),
        taken_amid=without_side(record["masses"]),
    )


def _axle(builder: FrameBuilder, record: Record, ground: float) -> GearAxle:
    """Return an axle with both its wheels."""
    if record["track"] < record["tyre radius"]:
        fault = "its two tyres would be in one another"
        builder.diagnostics.refuse(record.line_of("track"), record.subject, fault, "check the units of track and tyre radius")
    left, right = (_wheel(Hand(builder, sign), record, ground) for sign in (1.0, -1.0))
    return GearAxle(Axle(record["name"], left, right), record["spring rate"], record["load share"])


def _wheel(hand: Hand, record: Record, ground: float) -> Wheel:
    side = "left" if hand.sign > 0 else "right"
    return Wheel(
        name=f"{record['name']} {side}",
        contact=(record["x"], hand.sign * record["track"] / 2, ground),
        radius=record["tyre radius"],
        on=tuple(hand.point(each) for each in record["on"]),
        unsprung_mass=record["unsprung mass"] / 2,
    )
