"""The corners of a unit body's roof: where the cant rails turn into the first and the last pillars."""

from __future__ import annotations

from dataclasses import replace

from framecheck.model.frame import EndCorner, Kinks, Make
from framecheck.model.joining import LEAST_PLATE
from framecheck.reading.blocks.joining import END
from framecheck.reading.build.body_draft import BodyDraft, filled
from framecheck.reading.form import Record


def corner_of(draft: BodyDraft) -> EndCorner | None:
    """Return how the roof's corners are made, None where it is not said."""
    cant = draft.body["cant rails"]
    if cant is None or cant["corners"] is Kinks.UNSAID:
        return None
    return EndCorner(cant["corners"], cant["bend radius"], cant["kink plate"])


def refuse_corners(draft: BodyDraft, part: Record) -> None:
    """Note a size that belongs to another make of corner, and ends that are said besides."""
    for key, needs in (("bend radius", Kinks.BENT), ("kink plate", Kinks.PLATED)):
        if part[key] is not None and part["corners"] is not needs:
            remedy = f"write 'corners: {needs.value}', or leave it out"
            draft.refuse(part, f"has a {key}, and its corners are not {needs.value}", remedy)
    if part["kink plate"] is not None and part["kink plate"] < LEAST_PLATE:
        draft.refuse(part, "has a plate under 1 mm in its corners", "write the plate's thickness, or 'corners: mitred'")
    said = [key for key in ("ends", "start", "end") if part[key] is not None]
    if corner_of(draft) is not None and said:
        draft.refuse(part, f"says both 'corners' and '{said[0]}'", "leave one of the two out")


def turns_at_top(draft: BodyDraft, pillar: Record) -> bool:
    """Return whether a pillar's top is a corner that is said to be made some way; a top said besides is a fault."""
    tops = draft.tops
    found = pillar["top"] is not None and corner_of(draft) is not None and any(pillar is each for each in (tops[0], tops[-1]))
    if found and pillar["end"] is not None:
        draft.refuse(pillar, "says how its end is made, and the cant rails say it of their corners", "leave one of the two out")
    return found


def with_corners(draft: BodyDraft, part: Record, *which: str) -> Record:
    """Return a part whose named ends turn into others at the corners of the roof."""
    made = filled(END, part, {"make": Make.UNSAID})
    turning = replace(made, values={**made.values, "corner": corner_of(draft)})
    return replace(part, values={**part.values, **dict.fromkeys(which, turning)})


def at_open_corners(draft: BodyDraft, header: Record) -> Record:
    """Return headers whose ends, where they are left out, are one with corners that are said to be mitred and open."""
    corner = corner_of(draft)
    if corner is None or corner.kinks is not Kinks.MITRED or header["ends"] is not None:
        return header
    made = filled(END, header, {"make": Make.RIGID})
    return replace(header, values={**header.values, **{key: header[key] or made for key in ("start", "end")}})
