"""Cases whose answer was once kinder than the truth: parts of different metals taken for one. YAML in, JSON out; numbers by hand."""

from __future__ import annotations

import json
from math import pi
from pathlib import Path
from random import Random
from typing import Any

import pytest
from pytest import approx

from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.cases.test_verdict_seams import tube

HERE = Path(__file__).parent / "verdict"


def answer(text: str) -> Any:
    return json.loads(as_json(run(read_case(text, "case.yaml", LIBRARY)), "caution"))


def lowest(found: Any, check: str) -> Any:
    return min((row for row in found["checks"] if row["check"] == check), key=lambda row: row["safety_factor"])


def bent_channel(height: float, flange: float, wall: float, radius: float) -> float:
    """Second moment of a stamped channel: web, two flanges and two quarter rings (parallel axes)."""
    arc, out = radius + wall, radius + wall / 2
    web, foot = height - 2 * arc, flange - arc
    ring = pi / 2 * out * wall
    middle = height / 2 - arc + 2 * out / pi
    return wall * web**3 / 12 + 2 * foot * wall * (height / 2 - wall / 2) ** 2 + 2 * ring * middle**2


def test_a_soft_rail_inside_a_strong_tube() -> None:
    """By hand: both take one curvature, so the rail's flange is at M z / (I + I): 26.6 ksi of 26 ksi, 0.98; it said met, 1.50."""
    whole = tube(4.5, 2.25, 3 / 16, 0.375)[1] + bent_channel(4.0, 1.75, 0.1046, 3 / 16)
    stress = 6600 / 2 * 30 * 2.0 / whole
    row = lowest(answer((HERE / "sleeve-over-soft-rail.yaml").read_text(encoding="utf-8")), "yield")
    assert row["capacity"] == approx(26e3 * 6894.757, rel=0.005)
    assert row["demand"] == approx(stress * 6894.757, rel=0.01)
    assert row["safety_factor"] == approx(0.98, abs=0.01)
    assert "1010" in row["words"]


# lightly loaded, so that the growth of its moments by the frame's own buckling is under 1e-4
BEAM = """\
title: A built-up beam of two metals
targets: {{safety factor: 1.5}}
materials:
  - {{name: soft, youngs modulus: 200 GPa, yield strength: {soft} MPa, ultimate strength: 700 MPa, density: 7850 kg/m3, source: test}}
  - {{name: hard, youngs modulus: 200 GPa, yield strength: 500 MPa, ultimate strength: 600 MPa, density: 7850 kg/m3, source: test}}
  - {{name: light, youngs modulus: 70 GPa, yield strength: 240 MPa, ultimate strength: 260 MPa, density: 2700 kg/m3, kind: aluminium,
      source: test}}
sections:
  soft rail: {{shape: channel, height: 100 mm, flange: 50 mm, wall: 4 mm, material: soft}}
  rail: {section}
frame:
  points: {{a: {{x: 0 m}}, b: {{x: -1 m}}, c: {{x: -2 m}}}}
  members: [{{name: beam, points: [a, b, c], section: rail, ends: rigid}}]
  supports: [{{point: a, held: [x, y, z, turn x]}}, {{point: c, held: [y, z]}}]
load cases:
  - pushed: {{forces: [{{point: b, force: {{z: -0.1 kN}}}}]}}
"""
TUBE = "shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm"


def beam(section: str, soft: float = 200.0) -> Any:
    return answer(BEAM.format(section=section, soft=repr(soft)))


def test_each_plate_and_each_piece_may_be_of_a_metal_of_its_own() -> None:
    """By hand: a tube of 500 MPa with a plate of 200 MPa on top and one below yields first in its plates."""
    plates = "[{side: top, width: 40 mm, thickness: 5 mm, of}, {side: bottom, width: 40 mm, thickness: 5 mm, of}]"
    text = f"{{shape: plated, base: {{{TUBE}}}, plates: {plates}, joined: {{weld: {{leg: 4 mm}}}}, material: hard}}"
    inertia = (50 * 100**3 - 42 * 92**3) / 12 + 2 * (40 * 5**3 / 12 + 200 * 52.5**2)
    soft = lowest(beam(text.replace(", of", ", material: soft")), "yield")
    assert soft["demand"] == approx(5e4 * 55 / inertia * 1e6, rel=0.002)
    assert soft["capacity"] == 200e6
    assert lowest(beam(text.replace(", of", "")), "yield")["capacity"] == 500e6
    inline = text.replace(", of", "").replace(f"{{{TUBE}}}", f"{{{TUBE}, material: soft}}")
    hollow = lowest(beam(inline), "yield")
    assert hollow["demand"] == approx(5e4 * 50 / inertia * 1e6, rel=0.002)
    assert hollow["capacity"] == 200e6


def test_an_aluminium_core_takes_its_share_by_its_modulus() -> None:
    """By hand: stress is E times curvature times height in each, M / sum of E I."""
    core = "{shape: rectangular tube, height: 90 mm, width: 40 mm, wall: 4 mm, material: light}"
    found = beam(f"{{shape: sleeve, outer: {{{TUBE}}}, core: {core}, joined: {{bolts: {{pitch: 50 mm}}}}, material: hard}}")
    outer, inner = (50 * 100**3 - 42 * 92**3) / 12, (40 * 90**3 - 32 * 82**3) / 12
    curvature = 5e4 / (200e3 * outer + 70e3 * inner)
    steel, light = 200e3 * curvature * 50, 70e3 * curvature * 45
    assert 500 / steel < 240 / light
    assert lowest(found, "yield")["demand"] == approx(steel * 1e6, rel=0.002)


@pytest.mark.parametrize("order", [("soft rail", "{name}"), ("{name}", "soft rail")])
def test_the_order_of_the_parts_changes_nothing(order: tuple[str, str]) -> None:
    """Symmetry: two channels toe to toe, the soft one left or right, bent vertically."""
    piece = "{shape: channel, height: 100 mm, flange: 50 mm, wall: 4 mm}"
    first, second = (each.format(name=piece) for each in order)
    row = lowest(
        beam(f"{{shape: channel pair, first: {first}, second: {second}, pairing: toe to toe, material: hard}}"), "yield"
    )
    inertia = 2 * (4 * 100**3 / 12 + 2 * (46 * 4**3 / 12 + 46 * 4 * 48**2))
    assert row["capacity"] == 200e6
    assert row["demand"] == approx(5e4 * 50 / inertia * 1e6, rel=0.01)


def test_a_size_of_the_library_is_no_stronger_than_the_shop_table_or_the_file_says() -> None:
    """`tube 4 x 2 x 11 ga` stands in the table in A500 grade B (46 ksi, ASTM A500): a file may mean the size alone."""
    plates = "[{{side: top, width: 1 in, thickness: 1/8 in, material: hard}}]"
    plated = f"{{{{shape: plated, base: tube 4 x 2 x 11 ga, plates: {plates}, material: {{0}}}}}}"
    capacities = [lowest(beam(plated.format(metal)), "yield")["capacity"] for metal in ("soft", "hard")]
    assert capacities == [approx(200e6), approx(46e3 * 6894.757, rel=1e-4)]


@pytest.mark.parametrize("seed", range(3))
def test_a_hair_more_of_any_size_or_strength_moves_nothing_by_more_than_a_hair(seed: int) -> None:
    draw = Random(seed)
    thick, soft = draw.uniform(2, 8), draw.uniform(150, 600)

    def factors(step: float) -> list[float]:
        plates = f"[{{side: top, width: 40 mm, thickness: {thick * step!r} mm, material: soft}}]"
        found = beam(f"{{shape: plated, base: {{{TUBE}}}, plates: {plates}, material: hard}}", soft * step)
        return [lowest(found, check)["safety_factor"] for check in ("yield", "local buckling", "buckling")]

    assert factors(1 + 1e-7) == approx(factors(1.0), rel=1e-4)
