"""Sections as JSON: what `framecheck section --json` writes. SI, the unit in each key."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Any

from framecheck import __version__
from framecheck.output.json_text import section
from framecheck.output.origin import MADE_BY, Origin
from framecheck.section.properties import SectionProperties
from framecheck.study.compare import at_yield, torque_at_yield
from framecheck.versions import SCHEMA


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
