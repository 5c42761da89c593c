"""What is left along a notch, and which stretches are used up, as text."""

from __future__ import annotations

from math import isfinite

from framecheck.checks.notch.room import UsedStretch
from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    factor,
    shown_unit,
    table,
    with_unit,
    wrapped,
)
from framecheck.output.wording import station_text
from framecheck.study.notch import NotchStudy, asks_of_corner, deepest, deepest_for_corner


def curve_table(study: NotchStudy, units: Units, width: int) -> str:
    """Return safety factors by depth: first yield of the net section, then yield over the corner's peak for each radius."""
    curve, length = study.curve, shown_unit("length", units).label
    rows = [
        (
            f"{bare(float(depth), 'length', units)}{' *' if abs(depth - study.cut.depth) < 1e-9 else ''}",
            f"{100 * share:.0f}",
            known(float(on_yield)),
            *(known(float(each)) for each in at_corner),
        )
        for depth, share, on_yield, at_corner in zip(
            curve.depths, curve.inertia_share, curve.on_yield, curve.at_corner, strict=True
        )
    ]
    heads = [
        "depth\n" + length,
        "inertia\nleft %",
        "net\nsection",
        *(f"corner\nR {bare(float(r), 'length', units)}" for r in curve.radii),
    ]
    return (
        f"{wrapped(curve_words(study, units), width)}\n\n{table([TextColumn(head, True) for head in heads], rows, width)}"
    )


def curve_words(study: NotchStudy, units: Units) -> str:
    """Return how the curve is to be read, and how deep the net section, and a corner that is asked not to yield, may be cut."""
    limits = {"net section": deepest(study), "corner, at its own radius,": deepest_for_corner(study)}
    may = [f"The {what} meets its target to about {with_unit(to, 'length', units)}. " for what, to in limits.items() if to is not None]
    counts = "which the file asks it not to do" if asks_of_corner(study) else "which counts for fatigue and not for yield"
    return (
        f"{''.join(may)}The lowest of all load cases, the frame solved anew with each depth; * as written. Corner: yield over the "
        f"elastic peak; below 1 the corner yields locally, {counts}. '-': no published factor."
    )


def known(value: float) -> str:
    """Return a safety factor, "-" where it is not known."""
    return factor(value) if isfinite(value) else NOT_KNOWN


def zone_table(study: NotchStudy, units: Units, width: int) -> str:
    """Return the zones of each part of the member, without this cut."""
    if not study.zones:
        return ""
    unit = shown_unit("station", units).label
    rows = [
        (
            zone.part,
            station_text(zone.start, units),
            station_text(zone.end, units),
            f"{zone.utilisation:.2f}",
            word(zone),
        )
        for zone in study.zones
    ]
    heads = [
        TextColumn("part"),
        TextColumn(f"from {unit}", True),
        TextColumn(f"to {unit}", True),
        TextColumn("stress\nover yield", True),
        TextColumn(""),
    ]
    said = (
        f"Of the member without this cut; permitted below {study.zone_share:.2f} of yield (common practice, no source). What twist "
        "does to a cell that is opened is not in it: that is judged above."
    )
    return f"{wrapped(f'{said} {here(study)}', width)}\n\n{table(heads, rows, width)}"


def word(zone: UsedStretch) -> str:
    """Return whether a zone may be cut."""
    return "may be cut" if zone.permitted else "leave whole"


def here(study: NotchStudy) -> str:
    """Return whether the cut sits where it may, on the part that it takes away."""
    part = next(
        name for name in ("top flange", "bottom flange", "left web", "right web") if name.startswith(study.side.value)
    )
    start, end = study.cut.at - study.cut.length / 2, study.cut.at + study.cut.length / 2
    met = [zone for zone in study.zones if zone.part == part and zone.start < end and zone.end > start]
    if not met:
        return ""
    inside = (
        "inside a zone that may be cut"
        if all(zone.permitted for zone in met)
        else "partly or wholly in one to leave whole"
    )
    return f"This cut is {inside} ({part})."


NOT_KNOWN = "-"
