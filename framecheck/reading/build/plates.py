"""Read records of bolted plates as plates of the model."""

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
    HeldEdge,
    Patch,
    PlateBolt,
    PlateLoad,
    Press,
    Rib,
    Step,
    Stiffener,
    StiffenerRun,
    Strike,
    Uniform,
)
from framecheck.reading.build.joint_context import JointContext, unit
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record


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
