"""A tube of the tables counts on its design wall; one that a file describes counts as written, and the file is told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.cases.answers import checked

BEAM = """
title: a tube
origin: left end
targets: {{safety factor: 1.5}}
{sections}frame:
  points:
    a: {{x: 0 in, y: 0 in, z: 0 in}}
    b: {{x: 40 in, y: 0 in, z: 0 in}}
  members:
    - {{name: beam, points: [a, b], section: {name}, ends: rigid}}
  supports:
    - {{point: a, held: [x, y, z, turn x, turn y, turn z]}}
load cases:
  - pushed:
      forces: [{{point: b, force: {{z: -300 lb}}}}]
"""
OWN = """sections:
  own: {{shape: rectangular tube, height: 4 in, width: 2 in, wall: 3/16 in, outside radius: 0.349 in, {share}material: A500 grade B}}
"""
INCH = 0.0254


def told(folder: Path, name: str, sections: str = "") -> Any:
    """Return the JSON of a beam of a section."""
    return checked(BEAM.format(sections=sections, name=name), folder).data


def test_a_tube_of_the_tables_counts_on_its_design_wall(tmp_path: Path) -> None:
    """HSS4X2X3/16 of the AISC Shapes Database v16.0, design wall 0.174 in: I 3.66 and 1.22 in4, J 3.08 in4 (thin-wall), 6.87 lb/ft."""
    tube = told(tmp_path, "tube 4 x 2 x 3/16 in")["sections"]["tube 4 x 2 x 3/16 in"]
    assert tube["i_vertical_m4"] / INCH**4 == pytest.approx(3.66, rel=2e-3)
    assert tube["i_sideways_m4"] / INCH**4 == pytest.approx(1.22, rel=4e-3)
    assert tube["torsion_constant_m4"] / INCH**4 == pytest.approx(3.08, rel=0.015)
    assert tube["mass_per_length_kg_per_m"] * 0.3048 / 0.45359237 == pytest.approx(6.87, rel=2e-3)


def test_the_same_tube_written_out_with_its_share_is_the_same(tmp_path: Path) -> None:
    table = told(tmp_path, "tube 4 x 2 x 3/16 in")
    own = told(tmp_path, "own", OWN.format(share="design share: 0.93, "))
    assert own["governing"]["safety_factor"] == pytest.approx(table["governing"]["safety_factor"], rel=1e-9)


def test_a_tube_written_by_its_wall_alone_is_told(tmp_path: Path) -> None:
    plain = told(tmp_path, "own", OWN.format(share=""))
    table = told(tmp_path, "tube 4 x 2 x 3/16 in")
    assert plain["governing"]["safety_factor"] > 1.04 * table["governing"]["safety_factor"]
    assert any("write `design share: 0.93`" in each for each in plain["remarks"])
    assert not any("design share" in each for each in table["remarks"])
