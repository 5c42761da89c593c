"""One section as text and as JSON: its numbers, the moments at first yield, and what is to be said about it."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import isfinite
from typing import Any

from framecheck import __version__
from framecheck.output.display import TextColumn, Units, bare, shown_unit, spoken, table, titled, with_unit, wrapped
from framecheck.output.json_text import section
from framecheck.section.midline_crosscheck import cross_check, torsion_spread
from framecheck.section.properties import SectionProperties
from framecheck.section.twisting import twisting
from framecheck.study.compare import at_yield, torque_at_yield
from framecheck.versions import MADE_BY, SCHEMA, Origin


def as_json(
    found: Sequence[SectionProperties], sold: Sequence[SectionProperties], opinions: Mapping[str, Any] | None, caution: str,
    inputs: Sequence[Origin] = (),
) -> str:  # fmt: skip
    """Return the sections as JSON text. opinions: by name, None where none was asked for.

    inputs: the files that they were read from. sold: those that count on a thinner design wall, by the wall they are sold by.
    """
    sections = {each.name: record(each) for each in found}
    for each in sold:
        sections[each.name]["as_sold"] = record(each)
    data: dict[str, Any] = {
        "made_by": MADE_BY,
        "schema_version": SCHEMA,
        "program_version": __version__,
        "inputs": [{"file": each.file, "sha256": each.sha256} for each in inputs],
        "caution": caution,
        "sections": sections,
    }
    if opinions is not None:
        data["second_opinion"] = dict(opinions)
    return json.dumps(data, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def record(each: SectionProperties) -> dict[str, Any]:
    """Return all numbers of a section."""
    return {
        **section(each),
        "plastic_modulus_vertical_m3": each.plastic_modulus_vertical,
        "plastic_modulus_sideways_m3": each.plastic_modulus_sideways,
        "torsion_constant_bounds_m4": None if each.torsion_bounds is None else list(each.torsion_bounds),
        "yield_strength_pa": each.yield_strength,
        "first_yield_vertical_nm": known(at_yield(each, 1)),
        "first_yield_sideways_nm": known(at_yield(each, 2)),
        "first_yield_torque_nm": known(torque_at_yield(each)),
        "notes": list(each.notes),
    }


def known(value: float | None) -> float | None:
    """Return a number, null where there is none."""
    return None if value is None or not isfinite(value) else value


NOT_KNOWN = "-"
SEAM_SHEAR = 1000.0
"""N: the shear force under which the flow in seams is shown; it goes with the force."""
TORQUE, LENGTH = 100.0, 1.0
"""The torque and length of the twist sentence, Nm and m: shares and kinds of stress do not depend on the torque."""


def as_text(
    section: SectionProperties,
    midline: SectionProperties | None,
    source: str,
    units: Units,
    width: int = 80,
    sold: SectionProperties | None = None,
) -> str:
    """Return a section's properties in its own axes (y left, z up, seen along the member).

    midline: the same section by mid-line theory, for the self-check; None where that theory has nothing to say of it.
    sold: the same by the wall that it is sold by, None where that is the wall that counts.
    """
    shear, torque = with_unit(SEAM_SHEAR, "force", units), with_unit(TORQUE, "moment", units)
    parts = [
        wrapped(f"{section.name} ({section.engine})", width),
        property_table(section, sold, units, width),
        titled(
            f"A length of {with_unit(LENGTH, 'length', units)}, twisted by a torque",
            wrapped(spoken(twisting(section, TORQUE, LENGTH).sentence, units), width),
        ),
        titled(f"Shear flow in its seams: under {shear} up, {shear} sideways, {torque}", seam_table(section, units, width)),
        titled("Self-check: the mesh beside mid-line theory", wrapped(check_sentence(section, midline), width)),
        titled("Notes", "\n".join(wrapped(f"- {note}", width, "  ") for note in notes(section, source, units))),
    ]
    return "\n\n".join(part for part in parts if part)


def property_table(section: SectionProperties, sold: SectionProperties | None, units: Units, width: int) -> str:
    """Return the table of properties; both walls side by side where a thinner one is counted on than the one it is sold by."""
    if sold is None:
        return table([TextColumn("property"), TextColumn("value", True), TextColumn("unit")], rows(section, units), width)
    heads = [TextColumn("property"), TextColumn("design\nwall", True), TextColumn("wall as\nsold", True), TextColumn("unit")]
    weighed = replace(section, mass_per_length=sold.mass_per_length)  # the metal that is bought weighs, whichever wall counts
    both = zip(rows(weighed, units), rows(sold, units), strict=True)
    return table(heads, [(name, value, other, unit) for (name, value, unit), (_, other, _) in both], width)


def rows(section: SectionProperties, units: Units) -> list[tuple[str, str, str]]:
    """Return the lines of the table."""
    s = section
    values: list[tuple[str, float | None, str]] = [
        ("mass per length", s.mass_per_length, "line mass"),
        ("area", s.area, "area"),
        ("inertia, bending vertically", s.i_vertical, "inertia"),
        ("inertia, bending sideways", s.i_sideways, "inertia"),
        ("inertia, product", s.i_product, "inertia"),
        ("torsion constant", s.torsion_constant, "inertia"),
        ("warping constant", s.warping_constant, "warping"),
        ("centroid from the middle of the outline, to the left", s.centroid[0], "length"),
        ("centroid from the middle of the outline, up", s.centroid[1], "length"),
        ("shear centre from the centroid, to the left", s.shear_centre[0], "length"),
        ("shear centre from the centroid, up", s.shear_centre[1], "length"),
        ("shear area, vertical", s.shear_area_vertical, "area"),
        ("shear area, sideways", s.shear_area_sideways, "area"),
        ("plastic modulus, vertically", s.plastic_modulus_vertical, "modulus"),
        ("plastic modulus, sideways", s.plastic_modulus_sideways, "modulus"),
        ("yield strength", s.yield_strength, "stress"),
        ("moment at first yield, vertically", at_yield(s, 1), "moment"),
        ("moment at first yield, sideways", at_yield(s, 2), "moment"),
        ("torque at first yield, free to warp", torque_at_yield(s), "moment"),
    ]
    noise = {"length": 1e-7, "inertia": 1e-9 * (s.i_vertical + s.i_sideways)}
    return [
        (name, cell(without_noise(value, noise.get(kind, 0.0)), kind, units), shown_unit(kind, units).label)
        for name, value, kind in values
    ]


def seam_table(section: SectionProperties, units: Units, width: int) -> str:
    """Return what each seam of a built-up section carries per length, as if it ran on; the least stitch follows from it."""
    rows = [
        (
            each.name,
            *(bare(place, "length", units) for place in each.place),
            *(
                bare(abs(flow) * size, "line force", units)
                for flow, size in ((each.per_vertical, SEAM_SHEAR), (each.per_sideways, SEAM_SHEAR), (each.per_torsion, TORQUE))
            ),
        )
        for each in section.seams
    ]
    length, flow = shown_unit("length", units).label, shown_unit("line force", units).label
    headings = (f"left\n{length}", f"up\n{length}", *(f"{way}\n{flow}" for way in ("vertical", "sideways", "torque")))
    return table([TextColumn("seam"), *(TextColumn(each, True) for each in headings)], rows, width) if rows else ""


def check_sentence(section: SectionProperties, midline: SectionProperties | None) -> str:
    """Return how far both engines are apart, and every quantity that is farther than it may be."""
    if midline is None:
        return ""
    found = cross_check(section, midline)
    worst = max(found, key=lambda row: abs(row.difference) / row.allowed)
    low, high = torsion_spread(section, midline)
    spread = f"; torsion constant within {100 * (high - low) / high:.1f} % by three estimates" if high > 0 else ""
    said = f"{len(found)} quantities agree, the nearest to its limit: {worst.quantity}, {100 * worst.difference:+.1f} %{spread}."
    wrong = [
        f"{row.quantity} differs by {100 * row.difference:+.1f} % ({row.reason})" for row in found if not row.agrees
    ]
    return f"DIFFERS: {'; '.join(wrong)}." if wrong else said


def without_noise(value: float | None, noise: float) -> float | None:
    """Return 0 for what is only rounding: a tenth of a micrometre, a billionth of the section's inertia."""
    return 0.0 if value is not None and abs(value) < noise else value


def cell(value: float | None, kind: str, units: Units) -> str:
    """Return a number, "-" where it is not known."""
    return NOT_KNOWN if value is None or not isfinite(value) else bare(value, kind, units)


def notes(section: SectionProperties, source: str, units: Units) -> list[str]:
    """Return what is to be said: how torsion is bounded, the section's own notes, where its sizes come from."""
    said = list(section.notes)
    if section.torsion_bounds is not None:
        low, high = (with_unit(value, "inertia", units) for value in section.torsion_bounds)
        said.append(f"torsion constant between {low} and {high}: worked out once from below and once from above")
    if source:
        said.append(f"source of the metal's strength: {source}")
    return said
