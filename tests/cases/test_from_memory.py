"""What a result rests on that nobody could open a source for is said beside it: on the first screen and in the JSON."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cases.answers import checked

BEAM = """
title: a beam of a metal
origin: left end
targets: {{safety factor: 1.5}}
sections:
  bar: {{shape: flat, height: 2 in, width: 1 in, material: {metal}}}
frame:
  points:
    a: {{x: 0 in, y: 0 in, z: 0 in}}
    b: {{x: 20 in, y: 0 in, z: 0 in}}
  members:
    - {{name: beam, points: [a, b], section: bar, ends: rigid}}
  supports:
    - {{point: a, held: [x, y, z, turn x, turn y, turn z]}}
load cases:
  - pushed:
      forces: [{{point: b, force: {{z: -100 lb}}}}]
"""


METALS = [
    ("A1011 SS grade 36", True), ("1010 hot-rolled sheet", False),
    ("A1011 SS grade 45", True),
    ("A1011 HSLAS grade 50", True),
    ("A1011 HSLAS grade 60", True),
    ("A1011 HSLAS grade 70", True),
    ("A500 grade B", False),
    ("A36", False),
]


@pytest.mark.parametrize(("metal", "is_told"), METALS)
def test_a_metal_from_memory_is_named_where_it_governs(tmp_path: Path, metal: str, is_told: bool) -> None:
    answer = checked(BEAM.format(metal=metal), tmp_path)
    governing = answer.data["governing"]
    assert governing["from_memory"] == ([metal] if is_told else [])
    assert (f"From memory, its source was not opened: {metal}." in " ".join(answer.out.split())) == is_told


LIFE = """
fatigue:
  duty:
    life in years: 10
    distance per year: 1 km
    events: [{{name: swing, to: pushed, cycles per year: 1000000, source: the example}}]
    partial factors: {{load: 1.0, strength: 1.35}}
  details:
    - {{name: detail, member: beam, class: "{of}"}}
"""


@pytest.mark.parametrize("of", ["EN hole", "EN gusset, sharp", "IIW tube butt weld"])
def test_a_fatigue_class_from_memory_is_named_where_it_governs(tmp_path: Path, of: str) -> None:
    """Three classes that no opened source quotes from their own standard (EN 1993-1-9, 8.1 and 8.4; IIW, 3.2-1)."""
    answer = checked(BEAM.format(metal="A36").replace("-100 lb", "-300 lb") + LIFE.format(of=of), tmp_path)
    governing = answer.data["governing"]
    assert governing["mode"] == "damage"
    assert of in governing["from_memory"]
    assert of in " ".join(answer.out.split()).partition("From memory, ")[2]


TEE = """
title: a crossmember on a rail, of one metal
origin: left end
sections:
  rail: {shape: rectangular tube, height: 4 in, width: 2 in, wall: 3/16 in, material: METAL}
  cross: {shape: rectangular tube, height: 2 in, width: 2 in, wall: 3/16 in, material: METAL}
frame:
  points:
    a: {x: 0 in, y: 0 in, z: 0 in}
    m: {x: 20 in, y: 0 in, z: 0 in}
    b: {x: 40 in, y: 0 in, z: 0 in}
    c: {x: 20 in, y: 20 in, z: 0 in}
  members:
    - {name: rail, points: [a, m, b], section: rail}
    - {name: cross, points: [m, c], section: cross, start: butt on one face, end: rigid}
  supports:
    - {point: a, held: all}
    - {point: b, held: all}
load cases:
  - pushed:
      forces: [{point: c, force: {z: -100 lb}}]
fatigue:
  duty:
    life in years: 10
    distance per year: 1 km
    events: [{name: swing, to: pushed, cycles per year: 1000000, source: the example}]
"""


@pytest.mark.parametrize(("metal", "named"), [("A500 grade B", []), ("6061-T6", ["IIW aluminium hot spot at a fillet"])])
def test_walls_under_member_ends_name_the_class_of_their_own_metal(tmp_path: Path, metal: str, named: list[str]) -> None:
    """Steel's class of the hot spot was quoted by an opened source, aluminium's by none."""
    rows = [row for row in checked(TEE.replace("METAL", metal), tmp_path).data["checks"] if row["check"] == "fatigue"]
    told = [row["from_memory"] for row in rows if row["subject"]["thing"] == "member end"]
    assert told == [named]
