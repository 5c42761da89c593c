"""What `size`, `rate` and `compare` say: plates weigh, a joint that carries nothing divides nothing, what got worse comes first."""

from __future__ import annotations

import csv
from pathlib import Path

from pytest import approx, mark

from framecheck.output.study_text import shop_words
from framecheck.reading.case_file import read_case
from framecheck.study.compare import Better, ComparedRow
from framecheck.study.frame_measures import fitted_mass
from tests.cases.answers import ROOT, VERDICT, stored, told
from tests.cases.test_sections import LIBRARY

INCH, POUND = 0.0254, 0.45359237
STEEL, ALUMINIUM = 7850.0, 2680.0
"""kg/m3: structural steel (EN 1993-1-1, 3.2.6); 5052 (data sheets, from memory)."""


def test_size_counts_the_mass_of_the_plate(tmp_path: Path) -> None:
    """24 x 22 in: 1/4 in of 5052 weighs 12.8 lb, 3/16 in of steel 28.1 lb (area x thickness x density, by hand)."""
    rows_file = tmp_path / "rows.csv"
    answer = told("size", str(VERDICT / "pan-guard-study.yaml"), "--rows", str(rows_file))
    assert answer.code == 0
    assert "The lightest is variant 5" in " ".join(answer.out.split())
    rows = list(csv.DictReader(line for line in rows_file.read_text(encoding="utf-8").splitlines() if not line.startswith("#")))
    mass = {(row["plates.pan guard.thickness"], row["plates.pan guard.material"]): float(row["mass_kg"]) for row in rows}
    area = 24 * 22 * INCH**2
    apart = mass["3/16 in", "A36"] - mass["1/4 in", "5052-H32"]
    assert apart == approx(area * INCH * (3 / 16 * STEEL - 1 / 4 * ALUMINIUM), rel=0.01)
    assert apart / POUND == approx(28.1 - 12.8, abs=0.1)


def test_ribs_and_doublers_weigh_and_beads_do_not() -> None:
    """A rib of 22 x 1 x 1/8 in of the plate's metal; a doubler of its pad's size: volume x density by hand."""
    bare = fitted_mass(read_case(stored("pan-guard.yaml"), "case.yaml", LIBRARY))
    line = "runs: along x, at: 11 in, from: 1 in, to: 23 in"
    rib = f"    stiffeners:\n      - {{name: rib, kind: rib, {line}, height: 1/2 in, thickness: 1/8 in}}\n    loads:"
    bead = f"    stiffeners:\n      - {{name: bead, kind: bead, {line}, height: 1/4 in, width: 1 in}}\n    loads:"
    ribbed, beaded = (
        fitted_mass(read_case(stored("pan-guard.yaml").replace("    loads:", each, 1), "case.yaml", LIBRARY))
        for each in (rib, bead)
    )
    assert ribbed - bare == approx(22 * 0.5 * 0.125 * INCH**3 * ALUMINIUM, rel=0.01)
    assert beaded == bare


def test_ratings_are_told_though_a_joint_carries_nothing(tmp_path: Path) -> None:
    """Its target is missed without any load, which is what is said; `rate` has its own tests of words. Of its load cases two, as
    every rating solves them all time and again.
    """
    page, case = tmp_path / "report.html", tmp_path / "case.yaml"
    before, _, after = stored("joint-of-factor-zero.yaml").partition("\nload cases:\n")
    kept = "\nload cases:\n  - curb strike sideways\n  - pothole under braking\n\njoints:"
    case.write_text(before + kept + after.partition("joints:")[2], encoding="utf-8")
    assert told("report", str(case), "--ratings", "-o", str(page)).code in (0, 1)
    text = " ".join(page.read_text(encoding="utf-8").split())
    assert text.endswith("</html>")
    assert "missed even without this load (adapter on bracket)" in text


def test_compare_says_what_got_worse_first_with_verdicts() -> None:
    original, boxed = (str(ROOT / "cases" / name) for name in ("hill-truck-original.yaml", "hill-truck.yaml"))
    out = " ".join(told("compare", boxed, original).out.split())
    assert out.index("NOT MET") < out.index("WORSE: ") < out.index("In all: ")
    assert "WORSE: targets missed" in out
    assert " LOW " in out


def test_compare_calls_cases_of_one_title_by_their_files(tmp_path: Path) -> None:
    text = (ROOT / "cases/notched-rail.yaml").read_text(encoding="utf-8")
    files = [tmp_path / "before.yaml", tmp_path / "after.yaml"]
    for file, depth in zip(files, ("1 1/4 in", "1 1/2 in"), strict=True):
        file.write_text(text.replace("depth: 1 1/4 in", f"depth: {depth}"), encoding="utf-8")
    out = "".join(told("compare", *map(str, files)).out.split())
    for file in files:
        assert f"{file}" in out
    assert "WORSE:" in out


@mark.parametrize(
    ("better", "values", "worsening"),
    [
        (Better.MORE, (2.0, 1.0), 2.0),
        (Better.LESS, (2.0, 1.0), 1.0),
        (Better.LESS, (1.0, 3.0), 3.0),
        (Better.LESS, (0.0, 3.0), float("inf")),
        (Better.MORE, (0.004, -0.001), float("inf")),
        (Better.NEITHER, (1.0, 3.0), 1.0),
        (Better.MORE, (None, 3.0), 1.0),
    ],
)
def test_by_what_factor_a_quantity_is_worse(better: Better, values: tuple[float | None, ...], worsening: float) -> None:
    assert ComparedRow("", "number", values, "", better).worsening(1) == worsening


@mark.parametrize(
    ("written", "shown"),
    [
        ("0.1875 in", "3/16 in"),
        ("1.5 in", "1 1/2 in"),
        ("2.0 in", "2 in"),
        ("0.19 in", "0.19 in"),
        ("11 ga tube", "11 ga tube"),
        ("4.5 mm", "4.5 mm"),
        ("0.015625 in", "1/64 in"),
    ],
)
def test_sizes_are_shown_as_a_shop_writes_them(written: str, shown: str) -> None:
    assert shop_words(written) == shown
