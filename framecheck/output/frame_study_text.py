"""What studies of a frame find, as text: stiffness on the rig, natural frequencies, how much of each load it can take."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import floor, log10, radians

import numpy as np

from framecheck.frame.modes import Modes, VibrationMode
from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.case import Case
from framecheck.model.said import Said, Topic, Words
from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    number,
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
from framecheck.study.body import STIFF_ENOUGH, BodyAnswers
from framecheck.study.modes import ModeSet, Vibrations
from framecheck.study.rate import RateLimit, Rating

NOT_KNOWN = "-"
NO_BODY = BodyAnswers(None, ())
SHOWN_PLACES = 9
SAME_STIFFNESS = 1.01  # answers nearer than this are one to a reader
MOST_LABELS = 2  # columns headed by a bound's full name; more are headed by its number
MOST_TWIST = radians(
    5.0
)  # between the axles, in the stiffest of the answers: a round couple is shown that twists no more


def stiffness_text(
    title: str,
    found: Sequence[FrameStiffness],
    caution: str,
    units: Units,
    width: int = 80,
    body: BodyAnswers = NO_BODY,
) -> str:
    """Return the stiffness under each bound, the twist curve and the members' shares of the strain energy.

    body: the suspension's roll stiffness beside it, and how openings' diagonals change.
    """
    parts = [
        wrapped(title, width),
        wrapped(caution, width),
        wrapped(stiffness_in_words(found, units), width),
        wrapped(stiff_enough(found, body, units), width),
        titled("Openings with one wheel up", openings_table(body, units, width)),
        titled("Stiffness of the bare frame", stiffness_table(found, units, width)),
        titled("Twist along the frame", twist_table(found, units, width)),
        *(
            titled(f"Which members give{under(each) if len(extremes(found)) > 1 else ''}", share_table(each, width))
            for each in extremes(found)
        ),
        titled("Notes", listed_notes((*notes(found), *openings_notes(body)), width)),
    ]
    return "\n\n".join(part for part in parts if part)


def listed_notes(said: Iterable[str], width: int) -> str:
    """Return notes as a list."""
    return "\n".join(wrapped(f"- {note}", width, "  ") for note in said)


def under(each: FrameStiffness) -> str:
    """Return which bound an answer belongs to, "" where nothing is open."""
    return f": {each.bound.name}" if each.bound.name else ""


def extremes(found: Sequence[FrameStiffness]) -> tuple[FrameStiffness, ...]:
    """Return the softest and the stiffest in twist, the only one where nothing is open."""
    low, high = (pick(found, key=lambda each: each.torsional) for pick in (min, max))
    return (low, high) if high.torsional > SAME_STIFFNESS * low.torsional else (low,)


def labels(found: Sequence[FrameStiffness]) -> list[str]:
    """Return the bounds' names, numbered where there are several."""
    if len(found) == 1:
        return [found[0].bound.name or "as written"]
    return [f"{number} {each.bound.name}" for number, each in enumerate(found, start=1)]


def both_units(value: float, quantity: str, units: Units) -> str:
    """Return a value in the asked units, with the other ones in brackets."""
    other = Units.US if units is Units.SI else Units.SI
    return f"{with_unit(value, quantity, units)} ({with_unit(value, quantity, other)})"


def stiffness_in_words(found: Sequence[FrameStiffness], units: Units) -> str:
    """Return the torsional stiffness in one sentence, as a range where the case leaves something open."""
    low, high = (pick(found, key=lambda each: each.torsional) for pick in (min, max))
    text = f"Torsional stiffness between the axles: {both_units(low.torsional, 'twist stiffness', units)}"
    if low is high:
        return f"{text}."
    if high.torsional < SAME_STIFFNESS * low.torsional:
        return f"{text}; what the case leaves open ({low.bound.name} to {high.bound.name}) changes it by less than 1 %."
    ratio = number(high.torsional / low.torsional, 3)
    return (
        f"{text} with {low.bound.name}, {both_units(high.torsional, 'twist stiffness', units)} with {high.bound.name}: "
        f"{ratio} times as much. {closes(low, high)}, and the range closes."
    )


def closes(low: FrameStiffness, high: FrameStiffness) -> str:
    """Return what would close the range between two answers."""
    ends = (low.bound.joints, low.bound.warping) != (high.bound.joints, high.bound.warping)
    shell = low.bound.shell is not high.bound.shell
    parts = (("how the ends are made", ends), ("what the body carries", shell))
    return f"Say {' and '.join(words for words, is_open in parts if is_open) or 'what is left open'}"


def stiff_enough(found: Sequence[FrameStiffness], body: BodyAnswers, units: Units) -> str:
    """Return the frame's stiffness against the roll stiffness of its suspension, "" where that is not known."""
    if body.rolls is None:
        return ""
    front, rear = body.rolls
    low, high = (pick(each.torsional for each in found) / (front + rear) for pick in (min, max))
    times = number(low, 2) if high < SAME_STIFFNESS * low else f"{number(low, 2)} to {number(high, 2)}"
    road, track = STIFF_ENOUGH
    shown = f"{with_unit(front, 'twist stiffness', units)} in front, {with_unit(rear, 'twist stiffness', units)} behind"
    return (
        f"That is {times} times what the suspension holds in roll ({shown}). From {number(road, 2)} times on a frame is held to be"
        f" stiff enough for the road, from {number(track, 2)} on for springs and bars to do what they are set to (common practice,"
        " no source)."
    )


def openings_table(body: BodyAnswers, units: Units, width: int) -> str:
    """Return the worst diagonal of each opening, its change with one wheel up, and the share of the door's gap that it takes."""
    if not body.changes:
        return ""
    label = shown_unit("deflection", units).label
    numbers = (TextColumn(f"change {label}", True), TextColumn("of gap", True))
    heads = [TextColumn("opening"), *numbers, TextColumn("diagonal"), TextColumn("load case")]
    rows = [
        (
            each.opening,
            bare(each.change, "deflection", units),
            NOT_KNOWN if each.share_of_gap is None else f"{100 * each.share_of_gap:.0f} %",
            " to ".join(each.diagonal),
            each.load_case,
        )
        for each in body.changes
    ]
    return table(heads, rows, width)


def openings_notes(body: BodyAnswers) -> Iterator[str]:
    """Yield how openings were measured, or why they were not."""
    if body.unwatched:
        yield "Openings: not watched; add 'one wheel up' to the load cases."
    if body.changes:
        from_rest = all(each.from_rest for each in body.changes)
        against = "at rest" if from_rest else "without load (add 'static' to the load cases for at rest)"
        yield f"Openings: the diagonal that changes most, longer +, against the frame {against}; the worst of all answers."


def stiffness_table(found: Sequence[FrameStiffness], units: Units, width: int) -> str:
    """Return one row per bound."""
    twist, push = shown_unit("twist stiffness", units).label, shown_unit("stiffness", units).label
    heads = ["", f"torsional {twist}", f"bending upwards {push}", f"sideways {push}"]
    rows = [
        (
            label,
            bare(each.torsional, "twist stiffness", units),
            *(push_cell(v, units) for v in (each.bending, each.sideways)),
        )
        for label, each in zip(labels(found), found, strict=True)
    ]
    return table([TextColumn(heads[0]), *(TextColumn(head, True) for head in heads[1:])], rows, width)


def push_cell(value: float | None, units: Units) -> str:
    """Return a stiffness against a force, "-" where it was not measured."""
    return NOT_KNOWN if value is None else bare(value, "stiffness", units)


def shown_couple(found: Sequence[FrameStiffness], units: Units) -> float:
    """Return the couple in Nm, a power of ten in the shown unit, for which the twist is shown."""
    size = shown_unit("moment", units).size
    most = max(each.torsional for each in found) * MOST_TWIST / size
    return float(10 ** floor(log10(most))) * size


def twist_table(found: Sequence[FrameStiffness], units: Units, width: int) -> str:
    """Return the twist at a few places from front to rear under a round couple, one column per bound."""
    curves = [each for each in found if len(each.x)]
    if not curves:
        return ""
    couple, places = shown_couple(found, units), np.linspace(curves[0].x[-1], curves[0].x[0], SHOWN_PLACES)
    columns = [np.interp(places, each.x, each.twist) * couple for each in curves]
    kinds = ["length", *("angle" for _ in curves)]
    rows = [
        [bare(v, kind, units) for v, kind in zip(row, kinds, strict=True)] for row in zip(places, *columns, strict=True)
    ]
    names = labels(curves) if len(curves) <= MOST_LABELS else [label.split()[0] for label in labels(curves)]
    heads = [TextColumn(f"x {shown_unit('length', units).label}", True), *(TextColumn(name, True) for name in names)]
    under_couple = (
        f"In {shown_unit('angle', units).label} under {with_unit(couple, 'moment', units)} at the front axle."
    )
    return f"{under_couple}\n\n{table(heads, rows, width)}"


def share_table(each: FrameStiffness, width: int) -> str:
    """Return the members' shares of the strain energy in per cent, the softest in twist first."""
    heads = [TextColumn("member"), *(TextColumn(head, True) for head in ("twist %", "upwards %", "sideways %"))]
    rows = [(s.member, percent(s.twist), percent(s.bending), percent(s.sideways)) for s in each.shares]
    return table(heads, rows, width)


def percent(share: float | None) -> str:
    """Return a share in per cent, "-" where it is not known."""
    return NOT_KNOWN if share is None else f"{100 * share:.1f}"


def notes(found: Sequence[FrameStiffness]) -> list[str]:
    """Return how it was measured, and what follows."""
    said = [
        "Torsional: a couple by upward forces on the front axle's points, the rear axle's held; twist between the two.",
        "Upwards and sideways: a force shared by the rails (without rails, the lowest members along it) at mid wheelbase, held at both"
        " axles (common practice, no source).",
        "A member with a large share is the one to stiffen; its joints' give is counted with it.",
    ]
    if any(each.bending is None for each in found):
        said.append("Upwards and sideways: not done, no rail and no pair of members along the vehicle passes mid wheelbase.")
    return [*said, *dict.fromkeys(note for each in found for note in each.notes)]


NAMED_FROM = 0.05  # parts with a smaller share of the moving energy are not named
MOST_NAMED = 3
SAME = 0.01  # relative; frequencies nearer than this are one to a reader


def modes_text(title: str, found: Vibrations, caution: str, units: Units, width: int = 80) -> str:
    """Return the first modes of each standing under each bound; a bound that changes nothing is named, not shown again."""
    shown = [each for i, each in enumerate(found.sets) if not any(alike(each, other) for other in found.sets[:i])]
    parts = [wrapped(title, width), wrapped(caution, width)]
    parts += [titled(heading, mode_table(modes, units, width)) for each in shown for heading, modes in headed(each)]
    said = [*found.notes, *(f"The same within 1 %: {name(each)}." for each in found.sets if each not in shown)]
    parts.append(titled("Notes", "\n".join(wrapped(f"- {note}", width, "  ") for note in said)))
    return "\n\n".join(part for part in parts if part)


def name(each: ModeSet) -> str:
    """Return the name of a set's bound."""
    return each.bare.bound.name


def alike(first: ModeSet, second: ModeSet) -> bool:
    """Return whether all frequencies of two sets are within SAME of each other."""
    pairs = zip((first.bare, first.loaded, first.wheels), (second.bare, second.loaded, second.wheels), strict=True)
    both = [(a, b) for a, b in pairs if a is not None and b is not None]
    return all(
        abs(x.frequency / y.frequency - 1) < SAME for a, b in both for x, y in zip(a.modes, b.modes, strict=False)
    )


def headed(each: ModeSet) -> Iterator[tuple[str, Modes]]:
    """Yield the sets that were found, each under its heading."""
    sets = (
        ("The bare frame, hanging free", each.bare),
        ("With all it carries, hanging free", each.loaded),
        ("With all it carries, on its wheels", each.wheels),
        ("On its supports", each.supported),
    )
    for heading, modes in sets:
        if modes is not None:
            yield f"{heading}: {modes.bound.name}" if modes.bound.name else heading, modes


def mode_table(modes: Modes, units: Units, width: int) -> str:
    """Return one row per mode, the lowest first."""
    heads = [TextColumn("Hz", True), TextColumn("the frame"), TextColumn("what moves, share of the moving energy")]
    rows = [(bare(mode.frequency, "frequency", units), mode.motion, moving(mode)) for mode in modes.modes]
    return table(heads, rows, width)


def moving(mode: VibrationMode) -> str:
    """Return the parts that hold most of the moving energy."""
    named = [(name, share) for name, share in mode.parts if share >= NAMED_FROM][:MOST_NAMED]
    return ", ".join(f"{name} {100 * share:.0f} %" for name, share in named)


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
