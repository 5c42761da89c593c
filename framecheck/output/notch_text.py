"""One notch as text: what governs, what is left of the section, how deep, where, and what mends it."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from framecheck.checks.notch.repair import Repair, RepairKind
from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    factor,
    shown_unit,
    spoken,
    table,
    titled,
    with_unit,
    wrapped,
)
from framecheck.output.notch_curve_text import NOT_KNOWN, curve_table, zone_table
from framecheck.output.wording import case_words, open_lines, verdict_line
from framecheck.results.verdict import State
from framecheck.section.properties import SectionProperties
from framecheck.study.compare import at_yield, torque_at_yield
from framecheck.study.notch import NotchStudy

MOST_ROWS = 10
NARROW = 72
"""A screen less wide has the load case and the mode below each row."""
NO_PLATE = 0.0001
"""A plate thinner than this, m, is none: the cut section meets its target without."""
LEAST_LEG = 0.003175
"""Least fillet leg, m, on walls up to 1/4 in: ANSI/AISC 360-22, table J2.4."""
CLOSING = (RepairKind.FLANGE, RepairKind.BOX)
"""Repairs that close the cell that a cut opened."""


def as_text(title: str, study: NotchStudy, caution: str, units: Units, width: int = 80) -> str:
    """Return all that is to be said of a notch, what governs first."""
    parts = [
        wrapped(title, width),
        wrapped(caution, width),
        wrapped(sentence(study, units), width),
        titled("What was judged over its length, the governing one first", row_table(study, units, width)),
        titled("Open: not judged", "\n".join(wrapped(f"- {each}", width, "  ") for each in open_lines(study.verdict, units))),
        titled("What the cut leaves", f"{property_table(study, units, width)}\n\n{wrapped(left(study, units), width)}"),
        titled("Safety factor against depth and corner radius", curve_table(study, units, width)),
        titled(f"Where {study.member} may be cut or drilled", zone_table(study, units, width)),
        titled("What mends it, the thinnest plate first", repair_table(study, units, width)),
        titled("Notes", "\n".join(wrapped(f"- {note}", width, "  ") for note in notes(study, units))),
    ]
    return "\n\n".join(part for part in parts if part)


def sentence(study: NotchStudy, units: Units) -> str:
    """Return what governs a cut, and the cut, in a few sentences."""
    said = f"Over its length {verdict_line(study.verdict)}"
    if study.verdict.state is State.NOT_JUDGED:
        return f"{said} {cut_words(study, units)}"
    row = study.rows[0]
    mode = f", {spoken(row.words, units)}" if row.words else ""
    return (
        f"{said} {row.check.words.capitalize()} governs{case_words(row)}, safety factor {factor(row.safety_factor)} against a target "
        f"of {factor(row.target)}{mode}.{twist_words(study)} {cut_words(study, units)}"
    )


def cut_words(study: NotchStudy, units: Units) -> str:
    """Return where a cut is, and how large."""
    cut = study.cut
    radius = f"corners of {with_unit(cut.corner_radius, 'size', units)}" if cut.corner_radius else "sharp corners"
    return (
        f"Notch '{cut.name}' in the {study.side.value} of {study.member}, {with_unit(cut.at, 'station', units)} from its first "
        f"point: {with_unit(cut.depth, 'size', units)} deep of {with_unit(study.size, 'size', units)}, "
        f"{with_unit(cut.length, 'size', units)} long, {radius}."
    )


def twist_words(study: NotchStudy) -> str:
    """Return that twist is what fails, where it is: a plate sized for bending mends nothing of it."""
    if not study.twist_fails:
        return ""
    opened = study.gross.closed and not study.net.closed
    helps = "only one that closes the cell again helps" if opened else "hold the rail against twist there, or move the cut"
    return (
        f" TWIST is what fails, not bending: by pull and bending alone the factor is {factor(study.by_bending)}. No repair below is "
        f"sized for it: {helps}."
    )


def row_table(study: NotchStudy, units: Units, width: int) -> str:
    """Return the rows over the cut's length."""
    rows = [
        (
            row.check.words,
            factor(row.safety_factor),
            factor(row.target),
            row.grade.value,
            row.load_case or "-",
            spoken(row.words, units),
        )
        for row in study.rows[:MOST_ROWS]
    ]
    heads = [
        TextColumn("check"),
        TextColumn("safety\nfactor", True),
        TextColumn("target", True),
        TextColumn(""),
        TextColumn("load case"),
        TextColumn("mode"),
    ]
    if not rows:
        return ""
    if width >= NARROW:
        return table(heads, rows, width)
    return table(heads[:-2], [row[:-2] for row in rows], width, ["; ".join((row[-1], row[-2])) for row in rows])


def properties(s: SectionProperties) -> list[tuple[str, float | None, str]]:
    """Return the quantities of a section that a cut changes."""
    return [
        ("area", s.area, "area"),
        ("inertia, bending vertically", s.i_vertical, "inertia"),
        ("inertia, bending sideways", s.i_sideways, "inertia"),
        ("torsion constant", s.torsion_constant, "inertia"),
        ("warping constant", s.warping_constant, "warping"),
        ("shear area, vertical", s.shear_area_vertical, "area"),
        ("shear area, sideways", s.shear_area_sideways, "area"),
        ("moment at first yield, vertically", at_yield(s, 1), "moment"),
        ("moment at first yield, sideways", at_yield(s, 2), "moment"),
        ("torque at first yield, free to warp", torque_at_yield(s), "moment"),
    ]


def property_table(study: NotchStudy, units: Units, width: int) -> str:
    """Return gross and net properties side by side, with what is left of each in per cent."""
    rows = [
        (name, shown_unit(kind, units).label, cell(gross, kind, units), cell(net, kind, units), kept(gross, net, name))
        for (name, gross, kind), (_, net, _) in zip(properties(study.gross), properties(study.net), strict=True)
    ]
    heads = [
        TextColumn("property"),
        TextColumn("unit"),
        TextColumn("whole", True),
        TextColumn("net", True),
        TextColumn("left %", True),
    ]
    return table(heads, rows, width)


def cell(value: float | None, kind: str, units: Units) -> str:
    """Return a number, "-" where it is not known."""
    return NOT_KNOWN if value is None or not isfinite(value) else bare(value, kind, units)


def kept(gross: float | None, net: float | None, name: str) -> str:
    """Return what is left in per cent; of the warping constant nothing can be said so: an opened tube has more of it."""
    if not gross or net is None or not isfinite(gross) or not isfinite(net) or name.startswith("warping"):
        return NOT_KNOWN
    share = 100 * net / gross
    return f"{share:.0f}" if share >= 10 else f"{share:.2g}"


def left(study: NotchStudy, units: Units) -> str:
    """Return how the axis moves and whether a cell is opened, in words."""
    sideways, up = study.shift
    across, along = (("up", "down"), up) if abs(up) >= abs(sideways) else (("left", "right"), sideways)
    way = across[0] if along > 0 else across[1]
    moved = (
        f"The axis moves {with_unit(abs(along), 'length', units)} {way} in the section's own axes: a pull bends what is left by "
        "that arm."
    )
    if study.gross.closed and not study.net.closed:
        ratio = study.gross.torsion_constant / study.net.torsion_constant
        return f"{moved} The cut opens the cell: what is left is an open section, {ratio:.0f} times softer in twist if free to warp."
    return f"{moved} {'The cell stays closed.' if study.net.closed else 'The section was open before.'}"


def repair_table(study: NotchStudy, units: Units, width: int) -> str:
    """Return the ways to mend the cut."""
    first = study.repairs[0]
    rows = [repair_line(each, units, study) for each in study.repairs]
    named = "factor,\nbending" if study.twist_fails else "safety\nfactor"
    heads = ("for\nstiffness", "for\nstrength", "inertia\n%", named, "weld\nleg", "closes\nthe cell")
    said = (
        f"Plates in {shown_unit('length', units).label}, of the member's own metal, {with_unit(first.length, 'size', units)} long "
        f"over all with tapers of {with_unit(first.taper, 'size', units)}. For stiffness: the whole inertia; for strength: safety "
        f"factor {factor(study.asked.safety_factor)} on yield by pull and bending; the rest holds for the thicker of the two."
    )
    columns = [TextColumn("repair"), *(TextColumn(head, True) for head in heads)]
    return f"{wrapped(said, width)}\n\n{table(columns, rows, width)}"


def repair_line(each: Repair, units: Units, study: NotchStudy) -> tuple[str, ...]:
    """Return the cells of a repair; what it does for strength is open where twist fails."""
    opened = study.gross.closed and not study.net.closed
    stiff = plate_cell(each.for_stiffness, units)
    strong = "not judged" if study.twist_fails else plate_cell(each.for_strength, units)
    closes = ("yes" if each.kind in CLOSING else "no") if opened else NOT_KNOWN
    leg = "least" if each.leg < LEAST_LEG else bare(each.leg, "length", units)
    return (each.kind.value, stiff, strong, f"{100 * each.stiffness_share:.0f}", factor(each.safety_factor), leg, closes)


def plate_cell(thickness: float | None, units: Units) -> str:
    """Return a plate's thickness in words where there is none to give."""
    if thickness is None:
        return "none does"
    return "not needed" if thickness < NO_PLATE else bare(thickness, "length", units)


def notes(study: NotchStudy, units: Units) -> Iterator[str]:
    """Yield what the tables leave out."""
    yield (
        "Repairs are reckoned for pull, bending and shear, not for twist: where the opened cell governs, only a repair that closes "
        "the cell helps. Do not use a plate thinner than the wall."
    )
    yield (
        f"Weld leg: of E70 metal; least: strength asks for less than {with_unit(LEAST_LEG, 'size', units)}, the least leg on walls "
        "up to 1/4 in (ANSI/AISC 360-22, table J2.4)."
    )
    yield f"Source of the repairs: {study.repairs[0].source}."
    if len(study.together) > 1:
        yield f"Cut alike in {' and '.join(study.together)}: the depths of the curve are changed in all of them."
    yield from (f"Left out of the curve: {each}" for each in study.left_out)
    yield from (f"Net section: {each}" for each in study.net.notes)
