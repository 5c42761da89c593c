"""Three tubes that meet at one point, none of them passing: the two ends of the range against shell models (star_shell.yaml)."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from tests.verification.manual import FrontDoor, Kind, proof

SHELLS = yaml.safe_load((Path(__file__).parent / "star_shell.yaml").read_text(encoding="utf-8"))
Row = Mapping[str, Any]
OVERLAP = 0.04
"""Within the point tubes overlap, which beams do not know: a shell may be stiffer by so much than ends rigid at the point."""


def section(name: str, height: float, width: float, wall: float) -> str:
    sizes = f"height: {height + wall} mm, width: {width + wall} mm, wall: {wall} mm, outside radius: 0 mm"
    return f"  {name}: {{shape: rectangular tube, {sizes}, material: reference}}"


def case_of(row: Row) -> str:
    """Return the case file of three tubes from o: the plates of b and c held, 1 kN along and 1 kNm about each axis at a."""
    one = row["height"], row["width"], row["wall"]
    at = [(400 * cos(radians(each)), 400 * sin(radians(each))) for each in row["angles"]]
    points = [f"    {name}: {{x: {x!r} mm, y: {y!r} mm, z: 0 mm}}" for name, (x, y) in zip("abc", at, strict=True)]
    ways = [(kind, axis, unit) for kind, unit in (("force", "N"), ("moment", "Nm")) for axis in "xyz"]
    loads = [f"  - {kind} {axis}: {{forces: [{{point: a, {kind}: {{{axis}: 1000 {unit}}}}}]}}" for kind, axis, unit in ways]
    return "\n".join([
        "title: three tubes",
        "materials:",
        "  - {name: reference, youngs modulus: 205 GPa, poissons ratio: 0.3, density: 7850 kg/m3, yield strength: 350 MPa,",
        "     ultimate strength: 450 MPa}",
        "sections:", section("one", *one), section("two", *row.get("branch", one)),
        "frame:", "  points:", "    o: {x: 0 mm, y: 0 mm, z: 0 mm}", *points,
        "  members:", "    - {name: first, points: [o, a], section: one}", "    - {name: second, points: [o, b], section: two}",
        "    - {name: third, points: [c, o], section: two}",
        "  supports: [{point: b, held: all}, {point: c, held: all}]",
        "load cases:", *loads, "",
    ])  # fmt: skip


def gives(written: Mapping[str, Any], bound: str) -> np.ndarray:
    """Return how far a goes along (mm) and turns about (rad) x, y, z, each under its own load."""
    cases = {each["name"]: each["points"]["a"] for each in written["load_cases"] if bound in each["bound"]}
    moves = [1000 * cases[f"force {axis}"]["displacement_m"][way] for way, axis in enumerate("xyz")]
    return np.array(moves + [cases[f"moment {axis}"]["rotation_rad"][way] for way, axis in enumerate("xyz")])


def name_of(row: Row) -> str:
    return f"{row['make']} {row['height']:g}x{row['width']:g}x{row['wall']:g} at {row['angles'][1]:g} and {row['angles'][2]:g}"


@proof(Kind.SHELL, "openseespy 3.7.1 shells, star_shell.yaml: what one of three tubes gives lies between both ends of the range")
@pytest.mark.parametrize("row", SHELLS, ids=name_of)
def test_what_three_tubes_give_lies_in_the_range(front_door: FrontDoor, row: Row) -> None:
    """None of 48 gives is more than at the soft end, nor less than at the stiff one, but for the overlap at the point."""
    written = front_door(case_of(row))
    shell = np.array(row["give"])
    assert (gives(written, "softest") >= shell).all()
    assert (gives(written, "stiffest") <= shell * (1 + OVERLAP)).all()
