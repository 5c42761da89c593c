"""The running gear: records to masses, axles and coupling."""

from __future__ import annotations

from itertools import pairwise

from framecheck.model.running_gear import BrakedBy, Coupling, GearAxle, RunningGear
from framecheck.model.vehicle import Axle, Mass, Wheel
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.suspension import Hand
from framecheck.reading.build.vehicle import points_of
from framecheck.reading.form import Record


def gear_of(draft: Draft, record: Record) -> RunningGear:
    """Return the running gear of a case."""
    coupling, axles = record["coupling"], record["axles"]
    for before, after in pairwise(axles):
        if before["x"] - after["x"] < before["tyre radius"] + after["tyre radius"]:
            fault = f"does not stand behind '{before['name']}' by as much as both tyres need"
            draft.desk.refuse(after.line_of("x"), after.subject, fault, "write axles front to rear; x runs forward")
    return RunningGear(
        masses=tuple(
            Mass(part["name"], part["mass"], vector(part), points_of(draft, part["on"]), part["kind"])
            for part in record["masses"]
        ),
        axles=tuple(_axle(draft, each, record["ground"]) for each in axles),
        coupling=None if coupling is None else Coupling(points_of(draft, coupling["on"]), vector(coupling)),
        braked_by=BrakedBy.WHEELS if coupling is None else coupling["braked by"],
        ground=record["ground"],
        friction=record["tyre friction"],
        use=record["use"],
        is_friction_stated=record.given("tyre friction"),
    )


def _axle(draft: Draft, record: Record, ground: float) -> GearAxle:
    """Return an axle with both its wheels."""
    if record["track"] < record["tyre radius"]:
        fault = "its two tyres would be in one another"
        draft.desk.refuse(record.line_of("track"), record.subject, fault, "check the units of track and tyre radius")
    left, right = (_wheel(Hand(draft, sign), record, ground) for sign in (1.0, -1.0))
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
