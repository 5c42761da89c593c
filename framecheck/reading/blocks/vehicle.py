"""The vehicle round the frame: masses, axles, driveline, straps, clearances; the running gear of a trailer."""

from __future__ import annotations

from framecheck.model.vehicle import BrakedBy, Measured, Use
from framecheck.reading.blocks.common import (
    DIRECTION,
    LENGTH,
    LENGTH_OR_ZERO,
    MASS,
    MOUNT_STIFFNESS,
    NAME,
    PLACE,
    POSITIVE_LENGTH,
    RATIO,
    SHARE,
)
from framecheck.reading.blocks.suspension import ANTI_ROLL_BAR, DAMPER, SUSPENSION
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import AllowedSign, Choice, NameOf, Number, QuantityKind, TextKind, YesNo, choice_of

POINTS = ListOf(NameOf("point"), 1, 100, lone=True)
POINTS_OF_LEFT = ListOf(NameOf("left point"), 1, 20, lone=True)
FORCE = QuantityKind("force", AllowedSign.NOT_NEGATIVE)

MOUNT = Form(
    "mount",
    "A rubber mount of a part that does not bend.",
    (Field("point", NameOf("point"), "which frame point"), Field("stiffness", MOUNT_STIFFNESS, "of the mount")),
)
RADII = Form(
    "radii of gyration",
    "How far the mass spreads about the axes through its centre: inertia = mass x radius squared.",
    tuple(Field(axis, LENGTH_OR_ZERO, f"about {axis}", 0.0, "0") for axis in ("x", "y", "z")),
)
PART = Form(
    "mass",
    "A mass with the frame points that carry it: `on` shares it by statics, `mounts` makes it a stiff body on rubber mounts.",
    (
        Field("name", NAME, "engine, gearbox, tank, cab, people ..."),
        Field("mass", MASS, "how heavy"),
        Field("x", LENGTH, "of its centre, forward"),
        Field("y", LENGTH, "of its centre, to the left", 0.0, "0"),
        Field("z", LENGTH, "of its centre, up"),
        Field("on", POINTS, "frame points that carry it", (), "those of its mounts"),
        Field("mounts", ListOf(MOUNT, 1, 20), "its rubber mounts, in place of `on`", (), "none"),
        Field("radii", RADII, "with mounts: radii of gyration", None, "0"),
        Field("kind", TextKind("a word"), "part, engine, payload ...; ratings scale the payload", "part", "part"),
    ),
)
AXLE = Form(
    "axle",
    "Two wheels across the vehicle. Points of the suspension are those of the left side; the right ones mirror them.",
    (
        Field("x", LENGTH, "forward"),
        Field("track", POSITIVE_LENGTH, "between the middles of the tyres"),
        Field("tyre radius", POSITIVE_LENGTH, "under load"),
        Field("ground", LENGTH, "z of the ground under it", 0.0, "0"),
        Field(
            "unsprung mass",
            QuantityKind("mass", AllowedSign.NOT_NEGATIVE),
            "of the axle with both wheels: what the frame does not carry",
            0.0,
            "0",
        ),
        Field(
            "on",
            POINTS_OF_LEFT,
            "frame points of the left side that its suspension hangs on",
            (),
            "those of the suspension",
        ),
        Field(
            "suspension",
            SUSPENSION,
            "how it hangs on the frame",
            None,
            "not known: `on` shares the wheel forces by statics",
        ),
        Field("anti-roll bar", ANTI_ROLL_BAR, "across the frame", None, "none"),
        Field("dampers", DAMPER, "beside the springs, for the load case of that name", None, "not described"),
        Field("driven", YesNo(), "whether the engine drives it", False, "no"),
        Field("brake share", SHARE, "its share of the braking force", None, "by the wheel loads of the moment"),
        Field(
            "roll stiffness",
            QuantityKind("turning stiffness", AllowedSign.POSITIVE),
            "of the axle",
            None,
            "from the suspension, else by axle load",
        ),
        Field("roll centre", LENGTH, "its height z", None, "from the suspension, else at the ground"),
        Field(
            "stated load",
            QuantityKind("weight", AllowedSign.POSITIVE),
            "on a weigh scale, to check the masses by",
            None,
            "not weighed",
        ),
    ),
)
AXLES = Form("axles", "The two axles.", (Field("front", AXLE, "the front axle"), Field("rear", AXLE, "the rear axle")))
FINAL_DRIVES = Form(
    "final drives",
    "Frame points that carry frame-mounted final drives.",
    (Field("front", POINTS, "of the front one", (), "none"), Field("rear", POINTS, "of the rear one", (), "none")),
)
DRIVELINE = Form(
    "driveline",
    "What turns the driven axles, in the lowest gear.",
    (
        Field(
            "engine torque", QuantityKind("moment", AllowedSign.POSITIVE), "largest", None, "from `engine power` at `engine speed`"
        ),
        Field(
            "engine power",
            QuantityKind("power", AllowedSign.POSITIVE),
            "in place of the torque, at `engine speed`",
            None,
            "from the torque",
        ),
        Field("engine speed", QuantityKind("turning speed", AllowedSign.POSITIVE), "where it makes that torque", None, "not known"),
        Field("gear", RATIO, "gearbox ratio"),
        Field("reverse gear", RATIO, "gearbox ratio in reverse", None, "as `gear`"),
        Field("transfer", RATIO, "transfer case ratio", 1.0, "1"),
        Field("final drive", RATIO, "axle ratio"),
        Field("converter", RATIO, "torque ratio at stall", 1.0, "1, a clutch"),
        Field("efficiency", Number(AllowedSign.POSITIVE, 1.0), "from engine to wheels", 1.0, "1"),
        Field("mounts", POINTS, "frame points that hold engine and gearbox"),
        Field("final drives", FINAL_DRIVES, "where they sit on the frame", None, "on the axles"),
    ),
)
STEERING_BOX = Form(
    "steering box",
    "A steering box that pushes the wheels through a drag link.",
    (
        Field("on", POINTS, "frame points that hold it"),
        Field("ball", PLACE, "the drag link's end at the box"),
        Field("link end", PLACE, "its other end, on a front wheel's carrier or the axle"),
        Field("force", QuantityKind("force", AllowedSign.POSITIVE), "in the link at the box's limit", None, "from `torque` and `arm`"),
        Field("torque", QuantityKind("moment", AllowedSign.POSITIVE), "of the box at its limit", None, "from `force`"),
        Field("arm", POSITIVE_LENGTH, "from the box's shaft to the drag link", None, "from `force`"),
    ),
)
STRAP = Form(
    "strap",
    "A tie-down from a frame point to an anchor on the trailer.",
    (
        Field("name", NAME, "of the strap"),
        Field("point", NameOf("point"), "on the frame"),
        Field("x", LENGTH, "of the anchor, forward"),
        Field("y", LENGTH, "of the anchor, to the left"),
        Field("z", LENGTH, "of the anchor, up"),
        Field("pretension", FORCE, "when tied", 0.0, "0"),
        Field("working load limit", QuantityKind("force", AllowedSign.POSITIVE), "on its tag", None, "not known"),
    ),
)
WHEEL = Choice({name: name for name in ("front left", "front right", "rear left", "rear right")})
SPOT = Form(
    "spot",
    "A place that moves and turns with a frame point, with a part on rubber mounts (an oil pan with its engine), or with a wheel.",
    (
        Field("point", NameOf("point"), "the frame point", None, "see `body`"),
        Field("body", NameOf("body"), "a mass on `mounts`, in place of `point`; then write x, y and z", None, "none"),
        Field("wheel", WHEEL, "a wheel, which goes up and down with its travel; then write x, y and z at rest", None, "none"),
        Field("x", LENGTH, "forward", None, "at the point"),
        Field("y", LENGTH, "to the left", None, "at the point"),
        Field("z", LENGTH, "up", None, "at the point"),
    ),
)
CLEARANCE = Form(
    "clearance",
    "A gap of today between two places, or between a place and something that stays still.",
    (
        Field("name", NAME, "oil pan to ground ..."),
        Field("of", SPOT, "the place"),
        Field("to", SPOT, "the other place", None, "something that stays still"),
        Field("facing", DIRECTION, "from what stays still to the place", None, "{z: 1}: what stays still is below"),
        Field("gap", LENGTH_OR_ZERO, "of today"),
        Field(
            "measured",
            choice_of(Measured),
            "where: on the vehicle at rest, or unloaded (on a drawing, a bare frame), before the weight comes on",
            Measured.AT_REST,
            "at rest",
        ),
        Field("least", LENGTH_OR_ZERO, "that should be left", 0.0, "0"),
    ),
)
VEHICLE = Form(
    "vehicle",
    "What the frame carries and what it stands on.",
    (
        Field("masses", ListOf(PART, 1, 200), "everything but the frame itself"),
        Field("axles", AXLES, "the wheels"),
        Field("tyre friction", RATIO, "of the tyres on the road", 1.0, "1.0"),
        Field("use", choice_of(Use), "road, track or off road: how hard the wheels are struck", None, "not said: as on the road"),
        Field("driveline", DRIVELINE, "for drive torque", None, "none"),
        Field("steering box", STEERING_BOX, "for steering at the lock", None, "none"),
        Field("straps", ListOf(STRAP, 1, 50), "for tie-down", (), "none"),
        Field("clearances", ListOf(CLEARANCE, 1, 100), "gaps to watch", (), "none"),
    ),
)


GEAR_MASS = Form(
    "mass on running gear",
    "A mass with the frame points that carry it.",
    (
        Field("name", NAME, "bed, tank, load ..."),
        Field("mass", MASS, "how heavy"),
        Field("x", LENGTH, "of its centre, forward"),
        Field("y", LENGTH, "of its centre, to the left", 0.0, "0"),
        Field("z", LENGTH, "of its centre, up"),
        Field("on", POINTS, "frame points that carry it"),
        Field("kind", TextKind("a word"), "part, payload ...", "part", "part"),
    ),
)
GEAR_AXLE = Form(
    "axle of running gear",
    "Two wheels across. Three supports and more share a load by their springs, or as the file says.",
    (
        Field("name", NAME, "first, second ..."),
        Field("x", LENGTH, "forward"),
        Field("track", POSITIVE_LENGTH, "between the middles of the tyres"),
        Field("tyre radius", POSITIVE_LENGTH, "under load"),
        Field("unsprung mass", QuantityKind("mass", AllowedSign.NOT_NEGATIVE), "what the frame does not carry", 0.0, "0"),
        Field("on", POINTS_OF_LEFT, "frame points of the left side that it hangs on"),
        Field(
            "spring rate",
            QuantityKind("stiffness", AllowedSign.POSITIVE),
            "of the whole axle, springs and tyres together: how axles share where statics can't tell",
            None,
            "not known: refused where the loads hang on it",
        ),
        Field("load share", SHARE, "of the load of all axles that have one (on a balance, or weighed)", None, "none"),
    ),
)
COUPLING = Form(
    "coupling",
    "What tows it holds it there: in all three directions, against no turn.",
    (
        Field("x", LENGTH, "forward"),
        Field("y", LENGTH, "to the left", 0.0, "0"),
        Field("z", LENGTH, "up"),
        Field("on", POINTS, "frame points that carry it"),
        Field("braked by", choice_of(BrakedBy), "its own wheels as far as they hold, or what tows it"),
    ),
)
RUNNING_GEAR = Form(
    "running gear",
    "In place of `vehicle`: a trailer (a coupling and one axle or more), or three axles and more.",
    (
        Field("masses", ListOf(GEAR_MASS, 1, 200), "everything but the frame itself"),
        Field("axles", ListOf(GEAR_AXLE, 1, 8), "its axles, front to rear"),
        Field("coupling", COUPLING, "where it is towed", None, "none: it stands on its axles alone"),
        Field("use", choice_of(Use), "road, track or off road", None, "not said: as on the road"),
        Field("ground", LENGTH, "z of the ground", 0.0, "0"),
        Field("tyre friction", RATIO, "of the tyres on the road", 1.0, "1.0"),
    ),
)
