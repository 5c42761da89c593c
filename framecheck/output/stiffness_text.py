"""Frame stiffness as text: what the rig would measure, the twist along the frame, and which members give."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, log10, radians

import numpy as np

from framecheck.frame.stiffness import FrameStiffness
from framecheck.output.display import Units, bare, number, shown_unit, with_unit
from framecheck.output.text_table import Column, table, titled, wrapped

NOT_KNOWN = "-"
SHOWN_PLACES = 9
SAME = 1.01  # answers nearer than this are one to a reader
MOST_NAMED = 2  # columns headed by a bound's full name; more are headed by its number
MOST_TWIST = radians(
    5.0
)  # between the axles, in the stiffest of the answers: a round couple is shown that twists no more


def as_text(title: str, found: Sequence[FrameStiffness], caution: str, units: Units, width: int = 80) -> str:
    """Return the stiffness under each bound, the twist curve and the members' shares of the strain energy."""
    parts = [
        wrapped(title, width),
        wrapped(caution, width),
        wrapped(sentence(found, units), width),
        titled("Stiffness of the bare frame", stiffness_table(found, units, width)),
        titled("Twist along the frame", twist_table(found, units, width)),
        *(
            titled(f"Which members give{under(each) if len(extremes(found)) > 1 else ''}", share_table(each, width))
            for each in extremes(found)
        ),
        titled("Notes", "\n".join(wrapped(f"- {note}", width, "  ") for note in notes(found))),
    ]
    return "\n\n".join(part for part in parts if part)


def under(each: FrameStiffness) -> str:
    """Return which bound an answer belongs to, "" where nothing is open."""
    return f": {each.bound.name}" if each.bound.name else ""


def extremes(found: Sequence[FrameStiffness]) -> tuple[FrameStiffness, ...]:
    """Return the softest and the stiffest in twist, the only one where nothing is open."""
    low, high = (pick(found, key=lambda each: each.torsional) for pick in (min, max))
    return (low, high) if high.torsional > SAME * low.torsional else (low,)


def labels(found: Sequence[FrameStiffness]) -> list[str]:
    """Return the bounds' names, numbered where there are several."""
    if len(found) == 1:
        return [found[0].bound.name or "as written"]
    return [f"{number} {each.bound.name}" for number, each in enumerate(found, start=1)]


def both_units(value: float, quantity: str, units: Units) -> str:
    """Return a value in the asked units, with the other ones in brackets."""
    other = Units.US if units is Units.SI else Units.SI
    return f"{with_unit(value, quantity, units)} ({with_unit(value, quantity, other)})"


def sentence(found: Sequence[FrameStiffness], units: Units) -> str:
    """Return the torsional stiffness in one sentence, as a range where the case leaves something open."""
    low, high = (pick(found, key=lambda each: each.torsional) for pick in (min, max))
    text = f"Torsional stiffness between the axles: {both_units(low.torsional, 'twist stiffness', units)}"
    if low is high:
        return f"{text}."
    if high.torsional < SAME * low.torsional:
        return f"{text}; what the case leaves open ({low.bound.name} to {high.bound.name}) changes it by less than 1 %."
    ratio = number(high.torsional / low.torsional, 3)
    return (
        f"{text} with {low.bound.name}, {both_units(high.torsional, 'twist stiffness', units)} with {high.bound.name}: "
        f"{ratio} times as much. Say how the ends are made, and the range closes."
    )


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
    return table([Column(heads[0]), *(Column(head, True) for head in heads[1:])], rows, width)


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
    names = labels(curves) if len(curves) <= MOST_NAMED else [label.split()[0] for label in labels(curves)]
    heads = [Column(f"x {shown_unit('length', units).label}", True), *(Column(name, True) for name in names)]
    under_couple = (
        f"In {shown_unit('angle', units).label} under {with_unit(couple, 'moment', units)} at the front axle."
    )
    return f"{under_couple}\n\n{table(heads, rows, width)}"


def share_table(each: FrameStiffness, width: int) -> str:
    """Return the members' shares of the strain energy in per cent, the softest in twist first."""
    heads = [Column("member"), *(Column(head, True) for head in ("twist %", "upwards %", "sideways %"))]
    rows = [(s.member, percent(s.twist), percent(s.bending), percent(s.sideways)) for s in each.shares]
    return table(heads, rows, width)


def percent(share: float | None) -> str:
    """Return a share in per cent, "-" where it is not known."""
    return NOT_KNOWN if share is None else f"{100 * share:.1f}"


def notes(found: Sequence[FrameStiffness]) -> list[str]:
    """Return how it was measured, and what follows."""
    said = [
        "Torsional: a couple by upward forces on the front axle's points, the rear axle's held; twist between the two.",
        "Upwards and sideways: a force shared by the rails at mid wheelbase, held at both axles (common practice, no source).",
        "A member with a large share is the one to stiffen; its joints' give is counted with it.",
    ]
    if any(each.bending is None for each in found):
        said.append("Upwards and sideways: not done, no member with the role of a rail passes mid wheelbase.")
    return [*said, *dict.fromkeys(note for each in found for note in each.notes)]
