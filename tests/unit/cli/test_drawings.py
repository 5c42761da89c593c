"""Outlines from drawings beside a case file: read from its folder and from nowhere else."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest
from pytest import approx

from framecheck.cli.context import read
from framecheck.cli.drawings import DrawingsBeside, as_text
from framecheck.cli.main import entry
from framecheck.errors import InputError
from framecheck.section.analysis import section_properties
from tests.unit.reading.test_drawing import drawn, square

CASE = """\
title: A drawn beam
sections:
  rail:
    shape: outline
    drawing: {name}
    {unit}
    material: A36
frame:
  points: {{a: {{x: 0 m}}, b: {{x: 1 m}}}}
  members:
    - {{name: beam, points: [a, b], section: rail, ends: rigid}}
  supports:
    - {{point: a, held: all}}
load cases:
  - pushed: {{forces: [{{point: b, force: {{z: -1 kN}}}}]}}
"""


def written(folder: Path, name: str = "rail.dxf", unit: str = "unit: mm") -> str:
    """Write the case and a hollow square of 50 with a wall of 3 beside it."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "rail.dxf").write_text(drawn(square(50.0), square(44.0, 3.0)), encoding="utf-8")
    file = folder / "beam.yaml"
    file.write_text(CASE.format(name=name, unit=unit), encoding="utf-8")
    return str(file)


def fault(file: str) -> str:
    with pytest.raises(InputError) as caught:
        read(file)
    return str(caught.value)


def test_a_section_is_drawn_and_its_size_is_told(tmp_path: Path) -> None:
    # hollow square: A = 50^2 - 44^2 mm2, I = (50^4 - 44^4) / 12 mm4
    section = read(written(tmp_path)).frame.sections["rail"]
    found = section_properties(section)
    assert found.area == approx((50**2 - 44**2) * 1e-6, rel=1e-6)
    assert found.i_vertical == approx((50**4 - 44**4) / 12 * 1e-12, rel=1e-6)
    (note,) = found.notes
    for words in ("rail.dxf", "read in mm", "1.969 in (50 mm) wide", "area 564 mm2", "1 holes"):
        assert words in note


def test_the_unit_is_stated_and_scales_it(tmp_path: Path) -> None:
    section = read(written(tmp_path, unit="unit: cm")).frame.sections["rail"]
    assert section_properties(section).area == approx((50**2 - 44**2) * 1e-4, rel=1e-6)
    assert "its unit is missing" in fault(written(tmp_path, unit="source: a drawing"))
    assert "beam.yaml" in fault(written(tmp_path, unit="unit: furlong"))


def test_a_part_of_the_case_folder_may_hold_it(tmp_path: Path) -> None:
    file = written(tmp_path, "parts/rail.dxf")
    (tmp_path / "parts").mkdir()
    (tmp_path / "rail.dxf").rename(tmp_path / "parts/rail.dxf")
    assert read(file).frame.sections["rail"].notes


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("../secret.dxf", "leads outside"),
        ("parts/../../secret.dxf", "leads outside"),
        ("link.dxf", "leads outside"),
        ("far/secret.dxf", "leads outside"),
        ("ring.dxf", "can't be followed|there is no such file"),
        ("C:/secret.dxf", "not a path inside"),
        ("'..\\secret.dxf'", "not a path inside"),
        ("missing.dxf", "there is no such file"),
        ("folder.dxf", "there is no such file"),
        ("beam.yaml", "not a .dxf file"),
    ],
)
def test_nothing_outside_the_folder_is_read(name: str, said: str, tmp_path: Path) -> None:
    file = written(tmp_path / "case", name)
    (tmp_path / "secret.dxf").write_text(drawn(square(50.0)), encoding="utf-8")
    (tmp_path / "case/link.dxf").symlink_to(tmp_path / "secret.dxf")
    (tmp_path / "case/far").symlink_to(tmp_path, target_is_directory=True)
    (tmp_path / "case/ring.dxf").symlink_to("ring.dxf")
    (tmp_path / "case/folder.dxf").mkdir()
    (tmp_path / "case/parts").mkdir()
    with pytest.raises(InputError, match=said):
        read(file)


def test_an_absolute_path_is_refused_even_into_the_folder(tmp_path: Path) -> None:
    assert "not a path inside" in fault(written(tmp_path, str(tmp_path / "rail.dxf")))


def test_faults_of_the_drawing_carry_the_case_line(tmp_path: Path) -> None:
    file = written(tmp_path)
    (tmp_path / "rail.dxf").write_text("no drawing", encoding="utf-8")
    assert "beam.yaml:" in fault(file)
    assert "drawing 'rail.dxf'" in fault(file)


def test_corners_and_drawing_are_one_or_the_other(tmp_path: Path) -> None:
    file = Path(written(tmp_path))
    text = file.read_text(encoding="utf-8")
    corners = "corners: [{y: 0 mm, z: 0 mm}, {y: 20 mm, z: 0 mm}, {y: 0 mm, z: 20 mm}]"
    file.write_text(text.replace("unit: mm", f"unit: mm\n    {corners}"), encoding="utf-8")
    assert "stands beside corners" in fault(str(file))
    file.write_text(text.replace("    drawing: rail.dxf\n    unit: mm\n", ""), encoding="utf-8")
    assert "neither 'corners' nor 'drawing'" in fault(str(file))


def test_a_reader_of_drawings_goes_to_other_processes(tmp_path: Path) -> None:
    reader = pickle.loads(pickle.dumps(DrawingsBeside(written(tmp_path))))
    assert reader("rail.dxf").startswith("  0")
    assert as_text("ø".encode("cp1252")) == "ø"


def test_the_section_command_tells_what_was_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert entry(("section", written(tmp_path))) == 0
    assert "hold it against the drawing" in " ".join(capsys.readouterr().out.split())
