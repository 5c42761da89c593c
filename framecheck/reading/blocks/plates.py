"""Skid plates: what a file may say of them, and records to plates with what holds, stiffens and strikes them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from framecheck.model.arrays import Vector
from framecheck.model.plate import (
    Bead,
    Blow,
    BoltedPlate,
    Closing,
    Drop,
    Edge,
    EdgeHold,
    HeldEdge,
    InPlane,
    Lies,
    Mounting,
    Patch,
    PlateBolt,
    PlateLoad,
    PlateSide,
    Press,
    Rib,
    Step,
    Stiffener,
    StiffenerRun,
    Strike,
    Uniform,
)
from framecheck.reading.blocks.common import LENGTH, LENGTH_OR_ZERO, MASS, NAME, POSITIVE_LENGTH, THICKNESS
from framecheck.reading.blocks.joint_parts import BOLT, WAY
from framecheck.reading.build.joint_context import JointContext, unit
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Field, Form, ListOf, OneForm, Record
from framecheck.reading.kinds import AllowedSign, NameOf, Number, QuantityKind, choice_of

X = "from the plate's rear edge, forward"
Y = "from its right edge, to the left"

PLATE_BOLT = Form(
    "plate bolt",
    "A bolt that holds the plate.",
    (
        Field("name", NAME, "of the bolt"),
        Field("x", LENGTH_OR_ZERO, X),
        Field("y", LENGTH_OR_ZERO, Y),
        Field("seat", POSITIVE_LENGTH, "diameter of the head or washer on the plate"),
        Field("point", NameOf("point"), "frame point that its force goes into", None, "none of the frame"),
        Field("bolt", BOLT, "its size and grade", None, "not checked"),
        Field("stiffness", QuantityKind("stiffness", AllowedSign.POSITIVE), "of what it hangs on", float("inf"), "rigid"),
    ),
)
HELD_EDGE = Form(
    "held edge",
    "An edge held along its whole length.",
    (
        Field("edge", choice_of(Edge), "which edge"),
        Field("hold", choice_of(EdgeHold), "how it is held"),
        Field("stiffness", QuantityKind("stiffness per length", AllowedSign.NOT_NEGATIVE), "where elastic", 0.0, "0"),
        Field(
            "turning stiffness", QuantityKind("turning stiffness per length", AllowedSign.NOT_NEGATIVE), "where elastic", 0.0, "0"
        ),
        Field(
            "points",
            ListOf(NameOf("point"), 2, 2),
            "frame points at its ends, rear or right one first",
            None,
            "none of the frame",
        ),
    ),
)
LINE = (
    Field("name", NAME, "of it"),
    Field("runs", choice_of(StiffenerRun), "which way it runs"),
    Field("at", LENGTH_OR_ZERO, "where its line is, across its run"),
    Field("from", LENGTH_OR_ZERO, "where it begins, along its run"),
    Field("to", POSITIVE_LENGTH, "where it ends"),
    Field("height", POSITIVE_LENGTH, "of a bead's middle surface, or of the bar"),
)
STIFFENER = OneForm(
    "kind",
    {
        "bead": Form(
            "bead",
            "A bead pressed into the sheet.",
            (
                *LINE,
                Field("width", POSITIVE_LENGTH, "at its foot"),
                Field("crest", LENGTH_OR_ZERO, "width of its flat top", 0.0, "0, a V"),
                Field("facing", choice_of(PlateSide), "the side it stands out from", PlateSide.DOWN, "down"),
            ),
        ),
        "rib": Form(
            "rib",
            "A flat bar welded on edge.",
            (
                *LINE,
                Field("thickness", THICKNESS, "of the bar"),
                Field("facing", choice_of(PlateSide), "the side it stands out from", PlateSide.UP, "up"),
            ),
        ),
    },
)
PATCH = Form(
    "patch",
    "Where something presses.",
    (
        Field("x", LENGTH_OR_ZERO, f"of its middle {X}"),
        Field("y", LENGTH_OR_ZERO, f"of its middle {Y}"),
        Field("length", POSITIVE_LENGTH, "along x"),
        Field("width", POSITIVE_LENGTH, "along y"),
        Field("drag", Number(AllowedSign.NOT_NEGATIVE), "force in the plane over the force that presses", 0.0, "0"),
        Field("drag angle", QuantityKind("angle"), "of that force from the plate's x", 0.0, "0"),
        Field("rock", POSITIVE_LENGTH, "diameter of the sharp end of what presses", None, "blunt"),
    ),
)
STRUCK = (Field("name", NAME, "of the load"), Field("patch", PATCH, "where"))
SHARE_OF_MASS = Field("mass", MASS, "the share of the vehicle's mass that falls or comes on")
PLATE_LOAD = OneForm(
    "kind",
    {
        "press": Form("press", "A force on a patch.", (*STRUCK, Field("force", QuantityKind("force"), "upward"))),
        "pressure": Form(
            "pressure",
            "A pressure over the whole plate.",
            (Field("name", NAME, "of the load"), Field("pressure", QuantityKind("stress"), "upward")),
        ),
        "drop": Form(
            "drop", "The vehicle falls.", (*STRUCK, SHARE_OF_MASS, Field("height", POSITIVE_LENGTH, "of the fall"))
        ),
        "step": Form(
            "step",
            "A wheel rolls off a step.",
            (
                *STRUCK,
                SHARE_OF_MASS,
                Field("step", POSITIVE_LENGTH, "how high it is"),
                Field("clearance", LENGTH_OR_ZERO, "under the plate"),
            ),
        ),
        "closing speed": Form(
            "closing speed",
            "The vehicle meets what strikes at a speed square to the plate.",
            (*STRUCK, SHARE_OF_MASS, Field("speed", QuantityKind("speed", AllowedSign.POSITIVE), "square to the plate")),
        ),
    },
)
SKID_PLATE = Form(
    "skid plate",
    "A rectangular plate under the frame; x from its rear edge forward, y from its right edge to the left.",
    (
        Field("name", NAME, "of the plate"),
        Field("length", POSITIVE_LENGTH, "along x"),
        Field("width", POSITIVE_LENGTH, "along y"),
        Field("thickness", THICKNESS, "of the sheet"),
        Field("material", NameOf("material"), "of the sheet"),
        Field("bolts", ListOf(PLATE_BOLT, 1, 60), "that hold it", (), "none"),
        Field("edges", ListOf(HELD_EDGE, 1, 4), "held along their length", (), "none"),
        Field("stiffeners", ListOf(STIFFENER, 1, 40), "beads and ribs", (), "none"),
        Field("loads", ListOf(PLATE_LOAD, 1, 100), "what strikes it"),
        Field("gap", LENGTH, "free height above it, to the pan", None, "not known"),
        Field(
            "in plane", choice_of(InPlane), "whether its bolts keep it from drawing in", InPlane.FREE, "free to draw in"
        ),
        Field(
            "mounting",
            choice_of(Mounting),
            "which side of the frame it lies against",
            Mounting.UNDER,
            "under the frame",
        ),
        Field(
            "lies",
            choice_of(Lies, Lies.UNSAID),
            "whether it lies against the members over it, bolted or not, or stands off them on spacers",
            Lies.UNSAID,
            "judged both ways, and said to be open",
        ),
        Field("along", WAY, "vehicle direction of the plate's x", (1.0, 0.0, 0.0), "forward"),
        Field("across", WAY, "vehicle direction of the plate's y", (0.0, 1.0, 0.0), "left"),
    ),
)
SKID_PLATES = ListOf(SKID_PLATE, 1, 20)


def plate_of(context: JointContext, record: Record) -> BoltedPlate:
    """Return a skid plate."""
    if not record["bolts"] and not record["edges"]:
        context.builder.diagnostics.refuse(record.line, record.subject, "nothing holds it", "write 'bolts' or 'edges'")
    plate = BoltedPlate(
        name=record["name"],
        length=record["length"],
        width=record["width"],
        thickness=record["thickness"],
        material=context.material(record["material"]),
        bolts=tuple(bolt_of(context, each, record) for each in record["bolts"]),
        edges=tuple(edge_of(context, each) for each in record["edges"]),
        stiffeners=tuple(stiffener_of(context, each, record) for each in record["stiffeners"]),
        loads=tuple(load_of(context, each, record) for each in record["loads"]),
        gap=record["gap"],
        in_plane=record["in plane"],
        mounting=record["mounting"],
        lies=record["lies"],
        along=unit(record["along"]),
        across=unit(record["across"]),
    )
    for each, bolt, nearer in exchanged(plate, context.builder.points):
        what = f"by the plate's sizes it sits beside '{nearer}', and not at '{bolt.frame_point}', which it is tied to"
        row = record["bolts"][each]
        context.builder.diagnostics.doubt(
            row.line, row.subject, what, "check its point and its x and y: left and right may be exchanged"
        )
    return plate


EXCHANGED = 0.5
"""A bolt is not where its point is if another point is nearer by so much of the way (common practice, no source)."""
BESIDE = 0.25
"""Of the plate's smaller side: a point as near as this to a bolt may be its own, one so far above or below the plate is not (common
practice, no source)."""


def exchanged(plate: BoltedPlate, points: Mapping[str, Vector]) -> Iterator[tuple[int, PlateBolt, str]]:
    """Yield each bolt, by its number, that the plate's sizes put beside another frame point than its own: the plate lies where half of
    its bolts say, each way.
    """
    tied = [(n, bolt) for n, bolt in enumerate(plate.bolts) if bolt.frame_point in points]
    if len(tied) < 2:
        return
    axes = np.array([plate.along, plate.across, np.cross(plate.along, plate.across)])
    there = np.array([axes @ np.array(points[str(bolt.frame_point)]) for _, bolt in tied])
    corner = np.median(there - np.array([(*bolt.at, 0.0) for _, bolt in tied]), axis=0)
    room = BESIDE * min(plate.length, plate.width)
    found = {name: axes @ np.array(place) - corner for name, place in points.items()}
    near = {name: place[:2] for name, place in found.items() if abs(place[2]) <= room}
    for number, bolt in tied:
        away = float(np.linalg.norm(found[str(bolt.frame_point)][:2] - bolt.at))
        apart, name = min(((float(np.linalg.norm(place - bolt.at)), name) for name, place in near.items()), default=(away, ""))
        if away > room and apart < EXCHANGED * away:
            yield number, bolt, name


def refuse_beyond(context: JointContext, record: Record, reach: tuple[float, float], plate: Record) -> None:
    """Note what reaches beyond the plate. reach: largest x and y, m."""
    x, y = reach
    if x > plate["length"] * (1 + 1e-9) or y > plate["width"] * (1 + 1e-9):
        sizes = f"{length(plate['length'])} by {length(plate['width'])}"
        context.builder.diagnostics.refuse(record.line, record.subject, "reaches beyond the plate", f"the plate is {sizes}")


def bolt_of(context: JointContext, record: Record, plate: Record) -> PlateBolt:
    """Return a bolt of a plate."""
    refuse_beyond(context, record, (record["x"], record["y"]), plate)
    bolt = None if record["bolt"] is None else context.bolt(record["bolt"])
    if bolt is not None and record["seat"] < bolt.thread.diameter:
        what = f"its seat, {length(record['seat'])}, is narrower than the bolt's own {length(bolt.thread.diameter)}"
        remedy = "'seat' is the diameter of the head or washer on the plate; the sheet folds about a point sooner than was counted"
        context.builder.diagnostics.doubt(record.line_of("seat"), record.subject, what, remedy)
    return PlateBolt(
        name=record["name"],
        at=(record["x"], record["y"]),
        seat=record["seat"],
        frame_point=None if record["point"] is None else context.builder.point(record["point"]),
        bolt=bolt,
        stiffness=record["stiffness"],
    )


def edge_of(context: JointContext, record: Record) -> HeldEdge:
    """Return a held edge."""
    points = record["points"]
    return HeldEdge(
        edge=record["edge"],
        hold=record["hold"],
        stiffness=record["stiffness"],
        turning=record["turning stiffness"],
        frame_points=None if points is None else (context.builder.point(points[0]), context.builder.point(points[1])),
    )


def stiffener_of(context: JointContext, record: Record, plate: Record) -> Stiffener:
    """Return a bead or a rib."""
    first, last, at = record["from"], record["to"], record["at"]
    refuse_beyond(context, record, (last, at) if record["runs"] is StiffenerRun.X else (at, last), plate)
    if not first < last:
        context.builder.diagnostics.refuse(record.line, record.subject, "ends where it begins", "give it a length: from, to")
    line = (record["name"], record["runs"], at, first, last)
    if record["kind"] == "rib":
        return Rib(*line, record["height"], record["thickness"], record["facing"])
    return Bead(*line, record["width"], record["height"], record["crest"], record["facing"])


def load_of(context: JointContext, record: Record, plate: Record) -> PlateLoad:
    """Return what strikes a plate."""
    if record["kind"] == "pressure":
        return Uniform(record["name"], record["pressure"])
    patch = patch_of(context, record["patch"], plate)
    if record["kind"] == "press":
        return Press(record["name"], patch, record["force"])
    return Strike(record["name"], patch, blow_of(record))


def patch_of(context: JointContext, record: Record, plate: Record) -> Patch:
    """Return where something presses."""
    half = record["length"] / 2, record["width"] / 2
    refuse_beyond(context, record, (record["x"] + half[0], record["y"] + half[1]), plate)
    if record["x"] < half[0] * (1 - 1e-9) or record["y"] < half[1] * (1 - 1e-9):
        context.builder.diagnostics.refuse(record.line, record.subject, "reaches beyond the plate", "move it inward")
    return Patch(
        at=(record["x"], record["y"]),
        size=(record["length"], record["width"]),
        drag=record["drag"],
        drag_angle=record["drag angle"],
        rock=record["rock"],
    )


def blow_of(record: Record) -> Blow:
    """Return a blow by its kind."""
    if record["kind"] == "drop":
        return Drop(record["mass"], record["height"])
    if record["kind"] == "step":
        return Step(record["mass"], record["step"], record["clearance"])
    return Closing(record["mass"], record["speed"])
