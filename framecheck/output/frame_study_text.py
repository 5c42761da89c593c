"""What studies of a frame find, as text: stiffness on the rig, natural frequencies, how much of each load it can take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, log10, radians

import numpy as np

from framecheck.frame.stiffness import FrameStiffness
from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    number,
    shown_unit,
    table,
    titled,
    with_unit,
    wrapped,
)
from framecheck.study.body import STIFF_ENOUGH, BodyAnswers

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
        titled("Notes", "\n".join(wrapped(f"- {note}", width, "  ") for note in (*notes(found), *openings_notes(body)))),
    ]
    return "\n\n".join(part for part in parts if part)


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
