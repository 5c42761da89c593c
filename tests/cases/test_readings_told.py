"""Where a reading is taken on its section, from a case file to its JSON: on the outside of the wall it names, or nowhere."""

from __future__ import annotations

from math import hypot, pi
from pathlib import Path
from typing import Any

import pytest
from pytest import approx

from tests.cases.answers import Answer, checked

TUBE = "{shape: rectangular tube, height: 80 mm, width: 40 mm, wall: 1 mm, outside radius: 4 mm, material: A500 grade B}"
ROUND = "{shape: round tube, diameter: 60 mm, wall: 3 mm, material: A500 grade B}"
ANGLE = "{shape: angle, height: 60 mm, width: 60 mm, wall: 4 mm, material: A500 grade B}"
BEAM = """title: a cantilever with a gauge
sections: {{s: {section}}}
frame:
  points: {{root: {{x: 0 mm}}, tip: {{x: 1000 mm}}}}
  members: [{{name: beam, points: [root, tip], section: s, ends: rigid}}]
  supports: [{{point: root, held: all}}]
load cases:
  - load: {{forces: [{{point: tip, force: {{z: -1000 N}}}}]}}
readings: [{{name: gauge, member: beam, at: 200 mm, {place}}}]
"""


def read(section: str, place: str, folder: Path) -> Answer:
    return checked(BEAM.format(section=section, place=place), folder)


def gauge(section: str, place: str, folder: Path) -> Any:
    (row,) = read(section, place, folder).data["readings"]
    return row


def rounded(width: float, height: float, radius: float) -> float:
    """Return I of a rectangle with round corners: each takes away (1 - pi / 4) r^2, 0.223 r from the corner (geometry)."""
    return width * height**3 / 12 - 4 * (1 - pi / 4) * radius**2 * (height / 2 - 0.223 * radius) ** 2


def test_on_a_thin_wall_it_reads_the_outside(tmp_path: Path) -> None:
    """Was 39 of 40 mm: the inside of a wall thinner than a fiftieth of the depth was taken for its outside."""
    row = gauge(TUBE, "side: top", tmp_path)
    assert row["place_z_m"] == approx(0.040, rel=1e-6)
    by_hand = 800e3 * 40 / (rounded(40, 80, 4) - rounded(38, 78, 3))
    assert row["normal_stress_pa"] / 1e6 == approx(by_hand, rel=2e-3)


@pytest.mark.parametrize("offset", [-29.0, 10.0, 20.0, 29.0])
def test_on_a_round_tube_it_reads_where_the_offset_is(offset: float, tmp_path: Path) -> None:
    """Was clipped to 8 mm without a word: 29 MPa for 106. M z / I, I = pi (D^4 - d^4) / 64."""
    row = gauge(ROUND, f"side: left, offset: {offset} mm", tmp_path)
    assert row["place_z_m"] * 1e3 == approx(offset, abs=1e-6)
    by_hand = 800e3 * offset / (pi * (60**4 - 54**4) / 64)
    assert row["normal_stress_pa"] / 1e6 == approx(by_hand, rel=2e-3)


@pytest.mark.parametrize("wall", [1.0, 3.0, 12.0])
@pytest.mark.parametrize("offset", [-30.0, -29.9, -17.3, 0.0, 7.7, 21.2, 29.0, 30.0])
def test_in_twist_a_round_tube_reads_that_of_its_circle(offset: float, wall: float, tmp_path: Path) -> None:
    """T r / J alike all round, J = pi (D^4 - d^4) / 32 (mechanics texts); at a polygon's corner it was 2.7 % low."""
    turned = BEAM.replace("force: {{z: -1000 N}}", "moment: {{x: 200 Nm}}")
    section = ROUND.replace("wall: 3 mm", f"wall: {wall} mm")
    data = checked(turned.format(section=section, place=f"side: top, offset: {offset} mm"), tmp_path).data
    (row,) = data["readings"]
    by_hand = 200e3 * 30 / (pi * (60**4 - (60 - 2 * wall) ** 4) / 32)
    assert hypot(row["shear_stress_y_pa"], row["shear_stress_z_pa"]) / 1e6 == approx(by_hand, rel=1e-3)


def test_where_a_side_has_no_metal_there_it_is_refused(tmp_path: Path) -> None:
    """An angle's upright stands at one end of its top: its middle was read 28 mm aside, on the upright."""
    answer = read(ANGLE, "side: top", tmp_path)
    assert answer.code == 2
    assert answer.err.startswith(f"{tmp_path / 'case.yaml'}:9: readings: gauge: sits where the section is open;")
    assert read(ANGLE, "side: top, offset: 28 mm", tmp_path).code != 2
