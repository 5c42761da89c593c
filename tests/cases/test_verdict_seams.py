"""Cases whose answer was once kinder than the truth: seams of built-up members. YAML in, JSON out; numbers by hand."""

from __future__ import annotations

import json
import re
from math import pi
from pathlib import Path
from random import Random
from typing import Any

import pytest
from pytest import approx

from framecheck.output.display import Units, spoken
from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.results.subjects import Question
from framecheck.run import run
from tests.cases.test_sections import LIBRARY

HERE = Path(__file__).parent / "verdict"
INCH, POUND = 0.0254, 4.4482216
E70 = 0.60 * 70000
"""lb/in2: ANSI/AISC 360-22, table J2.5."""


def text_of(name: str) -> str:
    return (HERE / f"{name}.yaml").read_text(encoding="utf-8")


def answer(text: str) -> Any:
    return json.loads(as_json(run(read_case(text, "case.yaml", LIBRARY)), "caution"))


def lowest(found: Any, check: str, words: str = "") -> Any:
    return min(
        (row for row in found["checks"] if row["check"] == check and words in row["words"]),
        key=lambda row: row["safety_factor"],
    )


def block(height: float, width: float, radius: float) -> tuple[float, float]:
    """Area and second moment of a rectangle with round corners: whole less four squares, plus four quarter discs (any handbook)."""
    arm, quarter = height / 2 - radius, pi * radius**2 / 4
    own = radius**4 * (pi / 16 - 4 / (9 * pi))
    disc = own + quarter * (arm + 4 * radius / (3 * pi)) ** 2
    square = radius**4 / 12 + radius**2 * (arm + radius / 2) ** 2
    area = height * width - (4 - pi) * radius**2
    return area, width * height**3 / 12 - 4 * square + 4 * disc


def tube(height: float, width: float, wall: float, radius: float) -> tuple[float, float]:
    """Area and second moment of a rectangular tube."""
    (a, i), (b, j) = block(height, width, radius), block(height - 2 * wall, width - 2 * wall, radius - wall)
    return a - b, i - j


def stitch_holds(leg: float, length: float) -> float:
    return E70 * 0.5**0.5 * leg * length


def test_stitches_of_a_plate_on_a_tube() -> None:
    """V Q / I by hand with the design wall, half to each edge: 0.67 (0.68 with the nominal wall); it said met, 2.39."""
    area, inertia = tube(4, 2, 0.93 * 3 / 16, 0.349)
    plate = 2 * 0.25
    middle = plate * 2.125 / (area + plate)
    whole = inertia + area * middle**2 + 2 * 0.25**3 / 12 + plate * (2.125 - middle) ** 2
    flow = 1500 * plate * (2.125 - middle) / whole / 2
    found = answer(text_of("plate-stitched-on-tube"))
    row = lowest(found, "seams", "weld metal of a stitch")
    assert row["safety_factor"] == approx(stitch_holds(1 / 16, 0.5) / (12 * flow), rel=0.005)
    assert row["safety_factor"] == approx(0.667, abs=0.004)
    assert (row["target"], row["grade"]) == (2.0, "LOW")
    assert all(check["holds"] for check in found["self_checks"])


def test_stitches_of_two_cover_plates() -> None:
    """V Q / I by hand with the design wall, half to each edge: 1.11 (1.15 with the nominal wall); it said met, 2.10."""
    _, inertia = tube(4, 2, 0.93 * 0.120, 0.223)
    plate = 1.25 * 0.25
    whole = inertia + 2 * (1.25 * 0.25**3 / 12 + plate * 2.125**2)
    flow = 2250 * plate * 2.125 / whole / 2
    row = lowest(answer(text_of("two-plates-weak-stitches")), "seams", "weld metal of a stitch")
    assert row["safety_factor"] == approx(stitch_holds(1 / 16, 1.0) / (12 * flow), rel=0.005)
    assert row["safety_factor"] == approx(1.114, abs=0.005)


def test_plates_whose_stitches_may_not_hold_are_counted_loose_too() -> None:
    """By hand: apart, tube and plates share the moment as their own second moments; 1.09, not 2.10, and a softer beam."""
    found = answer(text_of("two-plates-weak-stitches"))
    _, inertia = tube(4, 2, 0.93 * 0.120, 0.223)
    loose = inertia + 2 * 1.25 * 0.25**3 / 12
    row = lowest(found, "yield")
    assert row["demand"] == approx(6894.757 * 2250 * 24 * 2 / loose, rel=0.02)  # with a little shear beside it
    assert "seams loose" in json.dumps(row["bound"])
    strong = answer(text_of("two-plates-weak-stitches").replace("pitch: 12 in", "pitch: 6 in"))
    plate = 1.25 * 0.25
    full = loose + 2 * plate * 2.125**2
    kept = lowest(strong, "yield")
    assert lowest(strong, "seams", "weld metal")["safety_factor"] == approx(2 * 1.114, rel=0.01)
    assert kept["demand"] == approx(6894.757 * 2250 * 24 * 2.25 / full, rel=0.02)
    assert not kept["bound"]


def test_bolts_of_no_known_strength_leave_both_ends_of_the_range() -> None:
    """Mechanics: apart, the plate lends next to nothing; no seam left out makes a beam stronger."""
    unknown, known = (
        answer(BEAM.format(section=BUILT_UP["plated"].format(joined=each)).replace("-10 kN", "-4 kN"))
        for each in ("{bolts: {pitch: 60 mm}}", "{bolts: {pitch: 60 mm, holds: 90 kN}}")
    )
    assert lowest(unknown, "yield")["demand"] > 1.05 * lowest(known, "yield")["demand"]
    loose = [bound for bound in unknown["bounds"] if "loose" in json.dumps(bound)]
    assert len(unknown["bounds"]) == 2 * len(known["bounds"])
    assert len(loose) == len(known["bounds"])


def test_a_sheet_buckles_between_far_stitches() -> None:
    """EN 1993-1-8, table 3.3, note 2: a column of 0.6 x 22.5 in, 1/8 in thick, curve c of EN 1993-1-1, 6.3.1.2.

    Euler's stress alone is 14 MPa; with clamped ends and as a wide plate (no imperfection) 20 MPa; it was given 172 MPa.
    """
    row = lowest(answer(text_of("plate-stitched-far-apart")), "seams", "sheet")
    euler = pi**2 * 29e6 / 12 * (0.125 / (0.6 * 22.5)) ** 2
    slender = (46000 / euler) ** 0.5
    phi = 0.5 * (1 + 0.49 * (slender - 0.2) + slender**2)
    curve_c = 46000 / (phi + (phi**2 - slender**2) ** 0.5)
    assert row["capacity"] == approx(6894.757 * curve_c, rel=1e-3)
    assert row["capacity"] < 20e6
    moment = 1600 * 24
    area, inertia = tube(4, 2, 0.93 * 0.120, 0.223)
    plate = 1.75 * 0.125
    middle = plate * 2.0625 / (area + plate)
    whole = inertia + area * middle**2 + plate * (2.0625 - middle) ** 2
    assert row["demand"] == approx(6894.757 * moment * (2.0625 - middle) / whole, rel=0.03)  # grown 2 % by sideways buckling


BEAM = """\
title: A built-up beam
targets: {{safety factor: 1.5}}
sections:
  rail: {section}
frame:
  points: {{a: {{x: 0 m}}, b: {{x: -1 m}}, c: {{x: -2 m}}}}
  members: [{{name: beam, points: [a, b, c], section: rail, ends: rigid}}]
  supports: [{{point: a, held: [x, y, z, turn x]}}, {{point: c, held: [y, z]}}]
load cases:
  - pushed: {{forces: [{{point: b, force: {{z: -10 kN, y: 2 kN}}}}]}}
"""
STITCHED = "{stitches: {length: 20 mm, pitch: 100 mm, leg: 2 mm}}"
BUILT_UP = {
    "boxed": "{{shape: boxed channel, channel: {{shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm}}, plate: 3 mm, "
    "inset: 0 mm, joined: {joined}, material: A36}}",
    "plated": "{{shape: plated, base: {{shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 3 mm}}, "
    "plates: [{{side: top, width: 40 mm, thickness: 4 mm}}], joined: {joined}, material: A36}}",
    "floor": "{{shape: floor closed, base: {{shape: hat, height: 60 mm, crown: 60 mm, brim: 20 mm, wall: 2 mm}}, sheet: 1 mm, "
    "joined: {joined}, material: A36}}",
    "pair": "{{shape: channel pair, first: {{shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm}}, "
    "second: {{shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm}}, pairing: toe to toe, joined: {joined}, material: A36}}",
    "sleeve": "{{shape: sleeve, outer: {{shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 3 mm}}, "
    "core: {{shape: rectangular tube, height: 94 mm, width: 44 mm, wall: 3 mm}}, joined: {joined}, material: A36}}",
    "drilled": "{{shape: drilled, base: {{shape: boxed channel, channel: {{shape: channel, height: 100 mm, flange: 50 mm, "
    "wall: 3 mm}}, plate: 3 mm, inset: 0 mm, joined: {joined}}}, holes: [{{side: left, size: 10 mm}}], material: A36}}",
}


def beam(kind: str, joined: str) -> Any:
    return answer(BEAM.format(section=BUILT_UP[kind].format(joined=joined)))


def open_seams(kind: str, joined: str) -> str:
    text = BEAM.format(section=BUILT_UP[kind].format(joined=joined))
    ledger = run(read_case(text, "case.yaml", LIBRARY)).verdict.ledger
    return "; ".join(spoken(each.reason, Units.SI) for each in ledger.open if each.entry.question is Question.SEAM)


@pytest.mark.parametrize("kind", BUILT_UP)
def test_no_built_up_shape_is_without_a_word_on_its_seams(kind: str) -> None:
    """Whatever level of the shape says how it is joined: a row where the size is known, open where it is not."""
    known = beam(kind, "{bolts: {pitch: 60 mm, holds: 9 kN}}")
    assert lowest(known, "seams")["safety_factor"] > 0
    for unknown in ("{bolts: {pitch: 60 mm}}", "welded all along"):
        assert re.search(r"\d N/mm|\d kN;", open_seams(kind, unknown))


def test_the_order_of_the_plates_and_the_side_change_nothing() -> None:
    """Symmetry: reordered, and turned about the member's length, a pair of unequal plates asks the same of its stitches."""
    one, other = "{side: top, width: 40 mm, thickness: 4 mm}", "{side: bottom, width: 30 mm, thickness: 5 mm}"
    base = BUILT_UP["plated"].format(joined=STITCHED)
    texts = [
        BEAM.format(section=base.replace("{side: top, width: 40 mm, thickness: 4 mm}", f"{first}, {second}"))
        for first, second in ((one, other), (other, one))
    ]
    first, second = (lowest(answer(text), "seams", "weld metal")["safety_factor"] for text in texts)
    assert first == approx(second, rel=1e-5)


@pytest.mark.parametrize("seed", range(4))
def test_a_hair_more_of_any_size_moves_no_seam_by_more_than_a_hair(seed: int) -> None:
    draw = Random(seed)
    width, thick, pitch = (draw.uniform(*each) for each in ((20, 48), (1, 8), (40, 500)))

    def factors(step: float) -> list[float]:
        plates = f"{{side: top, width: {width * step!r} mm, thickness: {thick * step!r} mm}}"
        joined = f"{{stitches: {{length: 20 mm, pitch: {pitch * step!r} mm, leg: 2 mm}}}}"
        section = BUILT_UP["plated"].format(joined=joined).replace("{side: top, width: 40 mm, thickness: 4 mm}", plates)
        found = answer(BEAM.format(section=section))
        asked = (("seams", "weld metal"), ("seams", "sheet"), ("yield", ""), ("buckling", ""))
        return [lowest(found, *each)["safety_factor"] for each in asked]

    assert factors(1 + 1e-7) == approx(factors(1.0), rel=1e-4)
