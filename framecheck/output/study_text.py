"""A study as text: the lightest that pass, the near misses, what governs each, where a stiffener pays, what scatter does."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import field
from fractions import Fraction

from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.study import Study
from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    factor,
    listed,
    shown_unit,
    table,
    titled,
    with_unit,
    wrapped,
)
from framecheck.results.verdict import State, Verdict
from framecheck.study.engines import RareMiss
from framecheck.study.measure import (
    CLEARANCE,
    DEFLECTION,
    FREQUENCY,
    QUANTITIES,
    SAFETY,
    STIFFNESS,
    MeasuredAim,
    VariantRow,
)
from framecheck.study.scatter import Scattered
from framecheck.study.sweep import Shortlist
from framecheck.value_class import value_class


def scatter_lines(found: Scattered | None) -> Iterator[str]:
    """Yield the chance of a missed target with its sampling error, and the spread of the lowest safety factor."""
    if found is None:
        return
    yield (
        f"{found.missed} of {found.draws} draws miss a target: chance {percent(found.chance)}, between {percent(found.low)} and "
        f"{percent(found.high)} (Wilson's interval, 95 % sure). Seed {found.seed}."
    )
    told = ", ".join(f"{factor(value)} at {100 * share:g} %" for share, value in found.quantiles)
    yield f"The lowest safety factor: mean {found.mean:.3f}, standard deviation {found.deviation:.3f}; below {told} of draws."
    if found.faulty:
        yield f"{found.faulty} of the draws could not be run; they count as missed."


def rare_lines(study: Study, found: RareMiss | None) -> Iterator[str]:
    """Yield the likeliest miss, what counts most in it, and the chance about it."""
    if found is None or study.scatter is None:
        return
    point, about, tolerances = found.point, found.about, study.scatter.tolerances
    held = ", ".join(
        f"{each.field} {shortened(amount)}" for each, amount in zip(tolerances, found.amounts, strict=True)
    )
    if not point.settled:
        yield f"No likeliest miss was found in {point.runs} runs; as far as the search came: {held}."
        return
    counted = sorted(zip(point.shares.tolist(), tolerances, strict=True), key=lambda pair: -pair[0])
    shares = ", ".join(f"{each.field} {100 * share:.0f} %" for share, each in counted)
    yield f"The likeliest miss: {held}; {point.index:.2f} standard deviations away, to first order a chance of {point.chance:.1e}."
    yield f"What counts in it: {shares}."
    yield (
        f"Chance of a missed target from {about.draws} draws about it: {about.chance:.2g}, standard error {about.error:.1g}. "
        f"Seed {study.scatter.seed}."
    )


def shortened(amount: str) -> str:
    """Return an amount with four digits; what is no number stays as it is."""
    number, blank, unit = amount.partition(" ")
    try:
        return f"{float(number):.4g}{blank}{unit}"
    except ValueError:
        return amount


def percent(share: float) -> str:
    """Return a share in per cent."""
    return f"{100 * share:.2g} %"


DECIMAL_INCHES = re.compile(r"(\d*\.\d+) in")
LETTERS = "ABCDEFGHIJKLMNOPQRST"
NONE = "-"
FIRST_PASS = "*"
MOST_SHARES = 5
MOST_OPEN = 3


@value_class
class StudyRemarks:
    """What is told beside the ranked variants. notes: how they were run; left_open: what of the best variant was not judged; drawn: it
    as drawn and as measured, where a test found the case otherwise than drawn.
    """

    notes: tuple[str, ...]
    stiffness: FrameStiffness | None = None
    scattered: Scattered | None = None
    rare: RareMiss | None = None
    optimum: tuple[str, ...] = field(default=())
    left_open: str = ""
    drawn: tuple[str, ...] = field(default=())


def as_text(study: Study, found: Shortlist, beside: StudyRemarks, caution: str, units: Units, width: int = 80) -> str:
    """Return the whole study as text."""
    parts = [
        wrapped(study.title, width),
        wrapped(caution, width),
        wrapped(f"{verdict(study, found, units)} {beside.left_open}".rstrip(), width),
        titled("The lightest, or nearest, as drawn and as measured", listed(beside.drawn, width)),
        titled("What is varied", legend(study, width)),
        titled(
            f"Lightest first; {FIRST_PASS} the first that misses no target{not_all(found)}",
            ranked(study, found.winners, units, width),
        ),
        titled(f"Near misses{lighter(found)}", ranked(study, found.near, units, width, "")),
        titled("What governs", listed(sentences((*found.winners, *found.near), units), width)),
        titled("Where a stiffener pays", listed(shares(beside.stiffness), width)),
        titled("Between the sizes", listed(beside.optimum, width)),
        titled("Scatter", listed((*scatter_lines(beside.scattered), *rare_lines(study, beside.rare)), width)),
        titled("How it was run", listed((*beside.notes, *faults(found)), width)),
    ]
    return "\n\n".join(part for part in parts if part)


def not_all(found: Shortlist) -> str:
    """Return how many of those that miss no target are shown, "" where all are."""
    return "" if found.passed <= len(found.winners) else f"; {len(found.winners)} of {found.passed} shown"


def verdict(study: Study, found: Shortlist, units: Units) -> str:
    """Return the answer in one or two sentences."""
    tried = f"{found.passed} of {found.count} variants miss no target that was judged"
    if found.winners:
        best = found.winners[0]
        return f"{tried}. The lightest is variant {best.number + 1}, {mass(best, units)}: {told(study, best)}{left_open(best)}."
    if found.best is None:
        return f"No variant could be run: {found.first_fault.fault if found.first_fault else 'there are none'}."
    best = found.best
    near = f"Variant {best.number + 1} comes nearest ({told(study, best)})"
    return f"NO VARIANT MEETS EVERY TARGET ({found.count} were run). {near}: {governing(best.governs, units)}."


def open_words(verdict: Verdict) -> str:
    """Return how much of the best variant was not judged, in a sentence; "" where all of it was."""
    groups = verdict.ledger.groups
    if not groups:
        return ""
    named = "; ".join(group.question.title for group in groups[:MOST_OPEN])
    more = f" and {len(groups) - MOST_OPEN} more" if len(groups) > MOST_OPEN else ""
    return f"So far: not judged of it are {named}{more}."


def left_open(row: VariantRow) -> str:
    """Return what a variant's verdict says, with what is open."""
    if row.state is None:
        return "; NOT JUDGED but for yield"
    if row.state is State.MET:
        return "; MET: every target is met, nothing is open"
    return f"; {row.state.value.upper()}: {row.open} {'group is' if row.open == 1 else 'groups are'} open"


def told(study: Study, row: VariantRow) -> str:
    """Return what the varied fields hold, in words."""
    return ", ".join(f"{short(each.field)} {shop_words(text)}" for each, text in zip(study.varied, row.values, strict=True))


def shop_words(text: str) -> str:
    """Return what a field holds as a shop writes it: decimals of an inch that are 64ths as a fraction, "3/16 in"."""
    decimal = DECIMAL_INCHES.fullmatch(text)
    parts = round(float(decimal[1]) * 64, 9) if decimal else 0.5
    if not parts.is_integer():
        return text
    whole, left = divmod(int(parts), 64)
    fraction = Fraction(left, 64)
    return " ".join([*([str(whole)] if whole else []), *([str(fraction)] if fraction else []), "in"])


def short(path: str) -> str:
    """Return a field by its last two keys: "front rail wall"."""
    return " ".join(path.split(".")[-2:])


def mass(row: VariantRow, units: Units) -> str:
    """Return the mass of a variant's frame."""
    return "of unknown mass" if row.mass is None else with_unit(row.mass, "mass", units)


def legend(study: Study, width: int) -> str:
    """Return the letters of the columns."""
    return "\n".join(
        wrapped(f"{LETTERS[number]}  {each.field}", width, "   ") for number, each in enumerate(study.varied)
    )


def ranked(study: Study, rows: Sequence[VariantRow], units: Units, width: int, mark: str = FIRST_PASS) -> str:
    """Return a table of variants; empty where there are none."""
    if not rows:
        return ""
    measures = [key for key in MEASURES if any(getattr(row, key) is not None for row in rows)]
    heads = [
        TextColumn("variant", True),
        *(TextColumn(LETTERS[number]) for number in range(len(study.varied))),
        TextColumn(f"mass,\n{shown_unit('mass', units).label}", True),
        *(TextColumn(heading(key, units), True) for key in measures),
        TextColumn("of what\nis asked", True),
        TextColumn("groups\nopen", True),
        TextColumn("governed\nby"),
    ]
    return table(heads, [line(row, measures, units, mark if row is rows[0] else "") for row in rows], width)


MEASURES = {
    "safety_factor": ("lowest\nfactor", SAFETY),
    "deflection": ("deflec-\ntion,", DEFLECTION),
    "torsional_stiffness": ("twist\nstiffness,", STIFFNESS),
    "frequency": ("first\nmode,", FREQUENCY),
}

IN_A_WORD = {SAFETY: "safety", DEFLECTION: "movement", STIFFNESS: "twist", FREQUENCY: "first mode", CLEARANCE: "gap"}


def heading(key: str, units: Units) -> str:
    """Return a measure's heading with its unit."""
    words, aim = MEASURES[key]
    return f"{words}\n{shown_unit(QUANTITIES[aim], units).label}".rstrip()


def line(row: VariantRow, measures: Sequence[str], units: Units, mark: str) -> tuple[str, ...]:
    """Return the cells of a variant."""
    numbers = (cell(getattr(row, key), MEASURES[key][1], units) for key in measures)
    asked = NONE if row.governs is None else f"{int(min(row.governs.ratio, 99.0) * 100 + 1e-9)} %"
    weight = NONE if row.mass is None else bare(row.mass, "mass", units)
    governed = NONE if row.governs is None else row.governs.check or IN_A_WORD[row.governs.aim]
    still = NONE if row.open is None else str(row.open)
    return (f"{mark}{row.number + 1}", *map(shop_words, row.values), weight, *numbers, asked, still, governed)


def cell(value: float | None, aim: str, units: Units) -> str:
    """Return a measure as shown; safety factors are rounded down."""
    if value is None:
        return NONE
    return factor(value) if aim == SAFETY else bare(value, QUANTITIES[aim], units)


def lighter(found: Shortlist) -> str:
    """Return that near misses are no heavier, where anything passes."""
    return ", no heavier than that one" if found.winners else ""


def sentences(rows: Sequence[VariantRow], units: Units) -> Iterator[str]:
    """Yield what governs each variant."""
    for row in rows:
        if row.governs is not None:
            yield f"Variant {row.number + 1}: {governing(row.governs, units)}"


def governing(judged: MeasuredAim | None, units: Units) -> str:
    """Return what governs, how much of what is asked it reaches, and where."""
    if judged is None:
        return "nothing could be judged"
    value, asked = (cell(each, judged.aim, units) for each in (judged.value, judged.asked))
    unit = shown_unit(QUANTITIES[judged.aim], units).label
    place = "".join(
        (
            f", {judged.where}" if judged.where else "",
            f" at {with_unit(judged.station, 'station', units)}" if judged.station is not None else "",
            f", in '{judged.load_case}'" if judged.load_case else "",
        )
    )
    kind = f" ({judged.check})" if judged.check else ""
    return f"{judged.aim}{kind} {value} of {asked} {unit}".rstrip() + place


def shares(found: FrameStiffness | None) -> Iterator[str]:
    """Yield the members that take most of the strain energy: there a stiffener works on most of what gives."""
    if found is None:
        return
    yield "Share of the strain energy of the best variant's bare frame; stiffen what takes most, first."
    for each in found.shares[:MOST_SHARES]:
        bent = "" if each.bending is None else f", {100 * each.bending:.0f} % when it is bent upwards"
        yield f"{each.member}: {100 * each.twist:.0f} % when the frame is twisted{bent}"


def faults(found: Shortlist) -> Iterator[str]:
    """Yield how many variants could not be run, and why the first could not."""
    first = found.first_fault
    if first is not None:
        said = "1 variant" if found.faulty == 1 else f"{found.faulty} variants"
        yield f"{said} could not be run; the first, {first.number + 1} ({', '.join(first.values)}): {first.fault}."
