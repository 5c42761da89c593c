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


@pytest.mark.parametrize(("metal", "is_told"), [("1010 hot-rolled sheet", True), ("A500 grade B", False), ("A36", False)])
def test_a_metal_from_memory_is_named_where_it_governs(tmp_path: Path, metal: str, is_told: bool) -> None:
    answer = checked(BEAM.format(metal=metal), tmp_path)
    governing = answer.data["governing"]
    assert governing["from_memory"] == ([metal] if is_told else [])
    assert (f"From memory, its source was not opened: {metal}." in " ".join(answer.out.split())) == is_told
