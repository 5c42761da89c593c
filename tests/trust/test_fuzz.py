"""Whatever a file holds: an exit code from 0 to 3, words where there is no answer, finite numbers where there is one.

The recorded run of many more inputs is `benchmarks/fuzz.py`; what it found stands below by name. The limit on time only ends a hang.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from tracemalloc import get_traced_memory, start, stop

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from framecheck.cli.main import entry
from framecheck.reading.diagnostics import BOUNDS
from framecheck.section.properties import UnitFields
from framecheck.surface_stress import largest_shear
from framecheck.units import QUANTITIES
from tests.trust.texts import ROOT, SMALL, drawn
from tests.trust.trial import tried

HANG = 60.0


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Yield a folder for the case; sections are kept in it."""
    made = tmp_path_factory.mktemp("fuzz")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(made / "store"))
        yield made


@settings(
    max_examples=120, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(seed=st.integers(0, 2**32))
def test_any_text_ends_in_order(seed: int, folder: Path) -> None:
    assert tried(drawn(seed)[1], folder, seed, HANG).fault == ""


@settings(
    max_examples=100, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(text=st.binary(max_size=300) | st.text(max_size=300).map(lambda text: text.encode(errors="replace")))
def test_any_bytes_end_in_order(text: bytes, folder: Path) -> None:
    assert tried(text, folder, 0, HANG).fault == ""


FOUND = (
    ("x: 1000 mm", "x: 1.6e101 in", "1.6e101 in"),
    ("height: 100 mm", "height: 1e-9 mm", "1e-9 mm"),
    ("own weight: 1", "own weight: 1e300", "1e+300"),
    ("rise: 40 K", "rise: 1e30 K", "1e30 K"),
)
"""Sizes that overflowed in the stiffness of members before they were refused."""


@pytest.mark.parametrize(("written", "instead", "said"), FOUND)
def test_sizes_beyond_any_vehicle_are_refused_with_their_line(
    written: str, instead: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(SMALL.replace(written, instead), encoding="utf-8")
    assert entry(["check", str(case)]) == 2
    place = f"case.yaml:{next(n for n, line in enumerate(case.read_text().split(chr(10)), 1) if instead in line)}"
    told = capsys.readouterr().err
    assert place in told
    assert said in told


WELD = """\
joints:
  - name: seam
    kind: welds
    at: {member: first, end: left}
    runs: [{leg: 5 mm, corners: [{y: 0 mm}, {y: 0 mm}, {y: 50 mm}]}]
    electrode: E70
    parts: [{name: wall, thickness: 4 mm, material: S235}]
"""


def test_a_fillet_without_length_is_refused_not_divided_by(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(SMALL + WELD.replace("end: left", "end: start"), encoding="utf-8")
    assert entry(["check", str(case)]) == 2
    assert "two corners in a row are at one place" in capsys.readouterr().err


def test_a_seat_that_covers_the_plate_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing was left of the plate to judge."""
    demo = (ROOT / "cases" / "skid-plate.yaml").read_text(encoding="utf-8")
    case = tmp_path / "case.yaml"
    case.write_text(demo.replace("x: 25 in, y: 1 in, seat: 1 in", "x: 25 in, y: 1 in, seat: 100 in"), encoding="utf-8")
    assert entry(["check", str(case)]) == 2
    assert "seats cover most of it" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("x", "said"), [("0.0001 mm", "which are at one place"), ("0.05 mm", "which are only 0.05 mm apart")]
)
def test_a_member_too_short_to_be_one_is_refused(
    x: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(SMALL.replace("b: {x: 1000 mm", f"b: {{x: {x}"), encoding="utf-8")
    assert entry(["check", str(case)]) == 2
    assert said in capsys.readouterr().err


def test_a_section_that_would_take_gigabytes_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A flange of 14 m in 3 mm sheet: 1.1 GB and seven seconds before it was."""
    case = tmp_path / "case.yaml"
    case.write_text(SMALL.replace("flange: 45 mm", "flange: 14000 mm"), encoding="utf-8")
    assert entry(["check", str(case)]) == 3
    assert "too thin for the size of the section" in capsys.readouterr().err


def test_every_bound_is_of_a_known_quantity() -> None:
    assert set(BOUNDS) <= set(QUANTITIES)


def test_a_slender_wall_in_many_load_cases_takes_no_gigabytes() -> None:
    """Found by fuzz: a rail 200 in wide held shear stress at 8600 points, 187 stations and 21 load cases at once: 1.3 GB."""
    points, rows = 8000, 4000
    fields = UnitFields(np.zeros((points, 2)), np.ones((points, 4)), np.ones((points, 2, 4)), np.zeros(points, dtype=bool))
    start()
    found = largest_shear(fields, np.ones((rows, 9)), np.ones(points, dtype=bool))
    peak = get_traced_memory()[1]
    stop()
    assert found == pytest.approx(np.full(rows, 4 * 2**0.5))  # four unit forces, each one pascal along both axes
    assert peak < 50e6


IN_LINE = """\
title: in line
origin: the left end
sections:
  brim: {shape: hat, height: 30 mm, crown: 30 mm, brim: 7.2 mm, wall: 2 mm, material: S235}
  eye: {shape: I, height: 60 mm, width: 30 mm, web: 2 mm, flange: 2 mm, material: S235}
  round: {shape: round tube, diameter: 30 mm, wall: 2 mm, material: S235}
  pair: {shape: channel pair, first: "channel 5 x 2 x 10 ga", second: "channel 5 x 2 x 10 ga", material: S355}
frame:
  points:
    p0: {x: 0 m, y: 0.4 m, z: 0.1778 m}
    p1: {x: 0 m, y: -0.4 m, z: 0.1778 m}
    p2: {x: -0.6 m, y: 0.4 m, z: 0.1778 m}
    p3: {x: -0.6 m, y: -0.4 m, z: 0.1778 m}
    p4: {x: -1.2 m, y: 0.4 m, z: 0.1778 m}
    p5: {x: -1.2 m, y: -0.4 m, z: 0.1778 m}
    p6: {x: -1.8 m, y: 0.4 m, z: 0.1778 m}
    p7: {x: -1.8 m, y: -0.4 m, z: 0.1778 m}
  members:
    - {name: m0, points: [p2, p0], section: eye}
    - {name: m1, points: [p3, p1], section: round}
    - {name: m2, points: [p2, p4], section: round, ends: pinned}
    - {name: m3, points: [p3, p5], section: eye}
    - {name: m4, points: [p6, p4], section: round, ends: gusseted}
    - {name: m5, points: [p7, p5], section: brim, ends: rigid}
    - {name: m6, points: [p0, p1], section: eye, changes: [{at: 0.15 m, section: pair}, {at: 0.3 m, section: eye}]}
    - {name: m8, points: [p5, p4], section: pair, start: through both faces, roll: -30 deg}
  supports: [{point: p1, held: [x, y, z]}, {point: p3, held: [x, y, z]}, {point: p4, held: [x, y, z]}]
load cases: [{push: {own weight: 1, forces: [{point: p5, force: {z: -0.2 kN, x: 100 N}}]}}]
"""


def test_an_end_on_the_end_of_a_round_rail_in_line_with_it_is_judged_or_left_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Seed 1809: its way out along the rail's radius was zero over zero."""
    assert tried(IN_LINE.encode(), tmp_path, 0, HANG).fault == ""
    (tmp_path / "case.yaml").write_text(IN_LINE, encoding="utf-8")
    assert entry(["check", str(tmp_path / "case.yaml")]) in (0, 1)
    assert "Open: not judged" in capsys.readouterr().out


ASIDE = """\
title: a channel's flanges on an I
sections:
  eye: {shape: I, height: 100 mm, width: 50 mm, web: 2 mm, flange: 2 mm, material: S355}
frame:
  points:
    a: {x: 0.1778 m, y: 0.2 m, z: 0.1778 m}
    b: {x: 0.4778 m, y: 0 m, z: 0.1778 m}
    c: {x: 0.7778 m, y: 0.2 m, z: 0.4278 m}
    d: {x: 1.0778 m, y: 0 m, z: 0.1778 m}
  members:
    - {name: rail, points: [a, d], section: eye, ends: rigid}
    - {name: upright, points: [a, c], section: eye, ends: butt on one face}
    - {name: branch, points: [c, d], section: channel 5 x 2 x 10 ga, ends: butt on one face}
    - {name: lower, points: [b, c], section: channel 5 x 2 x 10 ga, start: through both faces}
  supports: [{point: c, held: all}]
load cases: [{push: {own weight: 1, forces: [{point: a, force: {z: -0.2 kN}}]}}]
"""


def test_a_branch_that_is_no_mirror_image_of_itself_stands_on_an_i_as_on_a_box(tmp_path: Path) -> None:
    """Seed 57968: the grid under it met the web between two lines; what no model covers is taken on the box for the rail."""
    assert tried(ASIDE.encode(), tmp_path, 0, HANG).fault == ""


def test_a_member_called_rails_is_refused_where_it_is_warmed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "case.yaml").write_text(SMALL.replace("first", "rails"), encoding="utf-8")
    assert entry(["check", str(tmp_path / "case.yaml")]) == 2
    assert "'rails' means both rails" in capsys.readouterr().err


DOUBLED = """\
title: A bar doubled by another that goes back
frame:
  points: {a: {x: 0 m}, b: {x: 1 m}, c: {x: 1 m, y: 1 m}}
  members:
    - {name: one, points: [a, b], section: channel 5 x 2 x 10 ga, start: through both faces}
    - {name: twin, points: [a, b], section: channel 5 x 2 x 10 ga}
    - {name: branch, points: [b, c], section: channel 5 x 2 x 10 ga, start: through both faces}
  supports: [{point: a, held: all}]
load cases: [{pull: {forces: [{point: c, force: {z: 100 N}}]}}]
"""


def test_a_bar_doubled_by_another_runs_on_nowhere(tmp_path: Path) -> None:
    """Seeds 22250 and 70582: the two were one member with a kink of 180 degrees, which has no direction at its turn."""
    assert tried(DOUBLED.encode(), tmp_path, 0, HANG).fault == ""


@pytest.mark.parametrize(("height", "code"), [("0 mm", 2), ("0.01 mm", 2), ("10 mm", 2), ("50 mm", 0)])
def test_a_member_that_turns_back_along_itself_is_refused(
    height: str, code: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its legs lay in each other; at the turn it had no direction, and the run ended with exit 4."""
    text = SMALL.replace("[a, b]", "[a, b, e]").replace("    d: {x", f"    e: {{x: 0 mm, y: 0 mm, z: {height}}}\n    d: {{x")
    (tmp_path / "case.yaml").write_text(text, encoding="utf-8")
    assert entry(["check", str(tmp_path / "case.yaml"), "-q"]) == code
    assert not code or "case.yaml:14: frame > members > first: turns back along itself at 'b'" in capsys.readouterr().err
