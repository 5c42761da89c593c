"""What a person reads of a built-up section's seams."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytest import approx

from framecheck.cli.main import entry

BOXED = """\
title: a boxed rail
sections:
  rail:
    shape: boxed channel
    channel: {shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm, inside radius: 3 mm}
    plate: 3 mm
    joined: {stitches: {length: 1 in, pitch: 4 in}}
    material: A36
frame:
  points: {a: {x: 0 m}, b: {x: 1 m}}
  members:
    - {name: beam, points: [a, b], section: rail, ends: rigid}
  supports:
    - {point: a, held: all}
load cases:
  - pushed: {forces: [{point: b, force: {z: -1 kN}}]}
"""


def test_seams_and_what_a_torque_does_to_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Bredt (1896): T / 2A, A the area inside the mid-lines, 97 x 50 mm here (corners rounded: 1 % less); 100 Nm."""
    file = tmp_path / "rail.yaml"
    file.write_text(BOXED, encoding="utf-8")
    assert entry(["section", str(file)]) == 0
    said = capsys.readouterr().out
    assert "Shear flow in its seams: under 1.00 kN up, 1.00 kN sideways, 100.0 N·m" in said
    rows = [line.split() for line in said.splitlines() if line.startswith("part 2, seam")]
    assert len(rows) == 2
    torques = [float(row[-1]) for row in rows]
    assert torques == approx([100 / (2 * 0.097 * 0.050) / 1e3] * 2, rel=0.02)
    assert float(rows[0][5]) == approx(-float(rows[1][5]), rel=1e-3)  # one at the lower flange, one at the upper
