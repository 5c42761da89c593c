"""How far loads may rise before a frame misses its target or yields, as text."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.model.case import Case
from framecheck.model.said import Said, Topic, Words
from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    shown_unit,
    spoken,
    table,
    titled,
    with_unit,
    wrapped,
)
from framecheck.output.wording import verdict_line
from framecheck.results.row import CheckResult
from framecheck.results.verdict import Verdict
from framecheck.study.limit_search import RateLimit
from framecheck.study.rate import Rating

NONE = "none"

JUDGED_ALONE = "What is open is in no rating below."


def rating_text(
    case: Case, found: Sequence[Rating], caution: str, units: Units, width: int = 80, verdict: Verdict | None = None
) -> str:
    """Return how the case came out, the table of ratings and a sentence for each on what governs it."""
    if not found:
        return wrapped("No load case of this file has a load that can be rated.", width)
    heads = [
        TextColumn("load"),
        TextColumn("unit"),
        TextColumn("in the\ncase", True),
        TextColumn("meets\ntarget", True),
        TextColumn("before\nyield", True),
        TextColumn("tyres\nhold", True),
    ]
    parts = [
        wrapped(f"How much {case.title} can take, one load at a time", width),
        wrapped(caution, width),
        "" if verdict is None else wrapped(f"As written: {verdict_line(verdict)} {JUDGED_ALONE}", width),
        table(heads, [line(each, units) for each in found], width),
        titled(
            "What governs at the target",
            "\n".join(wrapped(f"- {rating_in_words(each, units)}", width, "  ") for each in found),
        ),
    ]
    return "\n\n".join(part for part in parts if part)


def line(rating: Rating, units: Units) -> tuple[str, ...]:
    """Return the cells of one rating."""
    kind = rating.load.quantity
    cells = (value(limit, kind, units) for limit in (rating.meets_target, rating.before_yield))
    tyres = "" if rating.tyres is None else bare(rating.tyres, kind, units)
    return (rating.load.name, shown_unit(kind, units).label, bare(rating.now, kind, units), *cells, tyres)


def value(limit: RateLimit, kind: str, units: Units) -> str:
    """Return a limit: a number, a number that the frame doesn't set in brackets, or "none"."""
    if limit.value is None:
        return NONE
    text = bare(limit.value, kind, units)
    return text if limit.governs is not None else f"({text})"


def rating_in_words(rating: Rating, units: Units) -> str:
    """Return what governs a rating; for torque, power and what the tyres hold beside it."""
    limit, name = rating.meets_target, rating.load.name
    notes = (sentence_case(spoken(note, units)) for note in rating.notes if not is_travel(note))
    said = "".join(f" {note}." for note in notes) + tyre_sentence(rating, units)
    if limit.value is None:
        where = f" ({limit.governs.where}{place(limit.governs, units)})" if limit.governs else ""
        return f"{name}: the target is missed whatever this load: {limit.because}{where}.{said}"
    if limit.governs is None:
        return f"{name}: the frame does not set it; in brackets, up to where {limit.because}.{said}"
    row = limit.governs
    top = with_unit(limit.value, rating.load.quantity, units)
    return f"{name}, {top}: {row.where} ({row.check.words}, {spoken(row.words, units)}){place(row, units)}.{said}"


def sentence_case(text: str) -> str:
    """Return a text that begins with a capital."""
    return text[:1].upper() + text[1:]


def is_travel(note: Words) -> bool:
    """Return whether a note is on bump stop or droop: it belongs to the load case, not to what governs."""
    return isinstance(note, Said) and note.topic is Topic.TRAVEL


def place(row: CheckResult, units: Units) -> str:
    """Return where along its member a row was found, in words."""
    return "" if row.station is None else f", {with_unit(row.station, 'station', units)} from its first point"


def tyre_sentence(rating: Rating, units: Units) -> str:
    """Return which lets go first, tyres or frame, for torque and power; "" for other loads."""
    if rating.tyres is None:
        return ""
    at, limit = with_unit(rating.tyres, rating.load.quantity, units), rating.meets_target.value
    if limit is None or limit < rating.tyres:
        return f" The frame misses its target before the tyres let go at {at}."
    return f" The tyres let go first, at {at}."
