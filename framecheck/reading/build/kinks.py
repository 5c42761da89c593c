"""How members' kinks are made: words and sizes that belong together, and bends that fit between their neighbours."""

from __future__ import annotations

from collections.abc import Iterator
from math import tan
from typing import Any

from framecheck.model.ends import LEAST_PLATE
from framecheck.model.frame import Frame, Kinks
from framecheck.reading.build.draft import Draft
from framecheck.reading.desk import length
from framecheck.reading.form import Record

HAIR = 1e-9


def as_made(draft: Draft, record: Record) -> dict[str, Any]:
    """Return how a member's kinks and changes of section are made; a fault is noted where a size belongs to another make."""
    kinks, radius, plate = record["kinks"], record["bend radius"], record["kink plate"]
    for key, needs in (("bend radius", Kinks.BENT), ("kink plate", Kinks.PLATED)):
        if record[key] is not None and kinks is not needs:
            remedy = f"write 'kinks: {needs.value}', or leave it out"
            draft.desk.refuse(record.line_of(key), record.subject, f"has a {key}, and its kinks are not {needs.value}", remedy)
    if plate is not None and plate < LEAST_PLATE:
        remedy = "write 1 mm or more: thinner sheet burns away"
        draft.desk.refuse(record.line_of("kink plate"), record.subject, "has a plate under 1 mm in its kinks", remedy)
    return {"kinks": kinks, "splices": record["splices"], "bend_radius": radius, "kink_plate": plate}


def refuse_tight_bends(draft: Draft, frame: Frame) -> None:
    """Note every bend that is tighter than its tube is deep, or longer than a leg beside it."""
    if draft.desk.faults or all(member.bend_radius is None for member in frame.members):
        return
    for name, fault, remedy in dict.fromkeys(tight_bends(frame)):
        draft.desk.refuse(*draft.member_places[name], fault, remedy)


def tight_bends(frame: Frame) -> Iterator[tuple[str, str, str]]:
    """Yield member, fault and remedy of each bend that does not fit."""
    from framecheck.frame.kinks import kinks_of, leg_length, tightest_bend

    reach: dict[tuple[int, int], float] = {}
    for kink in kinks_of(frame):
        if kink.radius is None or not kink.is_said:
            continue
        least = tightest_bend(kink)
        if kink.radius < least * (1 - HAIR):
            fault = f"is bent at '{kink.point}' to less than its own depth, tighter than tubes are bent"
            yield kink.name, fault, f"write a radius of the middle line of {length(least)} or more, or 'kinks: {Kinks.MITRED.value}'"
        for side in kink.sides:
            leg = side.member, side.leg
            reach[leg] = reach.get(leg, 0.0) + kink.radius * tan(kink.turn / 2)
            if reach[leg] > leg_length(frame, side):
                fault = f"has no room for the bend at '{kink.point}': its arc begins beyond the next point"
                yield kink.name, fault, "write a smaller radius, or move the points apart"
