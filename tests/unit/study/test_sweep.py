"""Variants through every check: physics, order, faults, executors."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from math import pi

import pytest

from framecheck.frame.framed import _framed
from framecheck.frame.geometry import _met
from framecheck.model.case import Targets
from framecheck.model.study import Aims
from framecheck.reading.variants import CaseBuilder, field_path, tree_of
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.run import run
from framecheck.section.store import decoded
from framecheck.study.compare import frame_mass
from framecheck.study.engines import Builders, run_variants
from framecheck.study.measure import VariantRow, asked
from framecheck.study.sweep import sweep
from tests.cases.test_sections import LIBRARY
from tests.unit.study.studies import CASE, MEMORY, WALLS, rows_of_walls, study_file


def numbered(numbers: range) -> tuple[VariantRow, ...]:
    return tuple(VariantRow(number, (str(number),), "none") for number in numbers)


def test_mass_follows_the_walls_area() -> None:
    """By hand: outer less inner rounded rectangle, (4 - pi) r^2 off each; two rails of 2 m, two crossmembers that reach to the middle
    of the rails' near walls, 7850 kg/m3. 3e-4: 16 chords stand for each corner's arc, 1.6e-3 of the circle's area."""

    def area(height: float, width: float, wall: float, radius: float = 6.0) -> float:
        inside = max(radius - wall, 0.0)
        outer = height * width - (4 - pi) * radius**2
        return outer - ((height - 2 * wall) * (width - 2 * wall) - (4 - pi) * inside**2)

    for row, wall in zip(rows_of_walls(), (2.0, 2.5, 3.0, 4.0, 5.0, 6.0), strict=True):
        by_hand = 7850e-6 * (2 * 2.0 * area(100, 50, wall) + 2 * (0.75 + wall / 1000) * area(50, 50, 3.0))
        assert row.mass == pytest.approx(by_hand, rel=3e-4)


def test_a_thicker_wall_is_safer_and_bends_less() -> None:
    """Statics: the forces of a frame on four supports hardly move with one wall, its stress falls as the wall grows."""
    factors = [row.safety_factor or 0.0 for row in rows_of_walls()]
    moved = [row.deflection or 0.0 for row in rows_of_walls()]
    assert factors == sorted(set(factors))
    assert moved == sorted(set(moved), reverse=True)


def test_a_row_says_what_check_says_of_the_case_alone() -> None:
    """A variant is the case with another wall: what is found for it alone is the same to 1e-9."""
    row = rows_of_walls()[1]
    from framecheck.reading.case_file import read_case
    from tests.cases.test_sections import LIBRARY

    alone = run(read_case(CASE.replace("wall: 3 mm", "wall: 2.5 mm", 1), "ladder.yaml", LIBRARY), MEMORY)
    assert alone.governing is not None
    assert row.governs is not None
    assert row.safety_factor == pytest.approx(alone.governing.safety_factor, rel=1e-9)
    assert row.mass == pytest.approx(frame_mass(alone), rel=1e-9)
    assert (row.governs.where, row.governs.load_case) == (alone.governing.where, alone.governing.load_case)


def test_other_executors_and_a_late_start_give_the_same_rows() -> None:
    file = study_file(WALLS)
    with ThreadPoolExecutor(2) as executor:
        threaded = tuple(run_variants(file.study, Builders(file.build, MEMORY), executor=executor, workers=2))
    assert threaded == rows_of_walls()
    assert tuple(run_variants(file.study, Builders(file.build, MEMORY), start=4)) == rows_of_walls()[4:]


FIELDS = {
    "sections.cross tube.wall": ("3 mm", "4 mm"),
    "frame.ladder.crossmembers.fore.x": ("700 mm", "650 mm"),
    "load cases.corner.forces.left middle.force.z": ("-9 kN", "-7 kN"),
    "targets.safety factor": ("1.5", "2"),
}


@pytest.mark.parametrize("field", FIELDS)
def test_what_went_before_makes_no_difference_to_a_variant(field: str) -> None:
    """Rows of variants in any order are, to the last digit, those of a process that has seen no other."""
    build = CaseBuilder(CASE, "ladder.yaml", LIBRARY.texts, (field_path(tree_of(CASE, "ladder.yaml"), field),))
    values = FIELDS[field]

    def found(value: str) -> str:
        results = run(build((value,)), MEMORY)
        return repr((results.rows, results.verdict.state, results.remarks))

    alone = {}
    for value in values:
        for each in (_met, _framed, decoded):
            each.cache_clear()
        alone[value] = found(value)
    assert {value: found(value) for value in (*values[::-1], *values)} == alone
    assert len(set(alone.values())) >= 2


@pytest.mark.parametrize("start", [0, 3, 8, 10])
def test_rows_come_in_order_from_where_they_are_asked(start: int) -> None:
    with ThreadPoolExecutor(3) as executor:
        rows = sweep(numbered, 10, 4, start=start, executor=executor, workers=3)
        assert [row.number for row in rows] == list(range(start, 10))


def test_a_variant_that_cannot_be_is_a_row_that_says_why() -> None:
    """A wall of 30 mm does not fit into a tube 50 mm wide; the others are run all the same."""
    file = study_file(WALLS.replace("2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm", "30 mm, 3 mm"))
    refused, sound = run_variants(file.study, Builders(file.build, MEMORY))
    assert "rail tube" in refused.fault
    assert not refused.passes
    assert sound.fault == ""
    assert sound.passes


def test_a_target_of_the_study_stands_in_place_of_the_cases() -> None:
    """The third wall's factor lies between 1.5 (the case's target) and 2."""
    file = study_file(WALLS)
    stricter = replace(file.study, aims=Aims(by_check={"yield": 2.0}))
    row = next(run_variants(stricter, Builders(file.build, MEMORY), start=2))
    assert rows_of_walls()[2].passes
    assert not row.passes
    assert row.governs is not None
    assert row.governs.asked == 2.0


def test_a_deflection_asked_governs_where_it_is_missed_by_most() -> None:
    file = study_file(WALLS)
    moved = rows_of_walls()[2].deflection
    assert moved is not None
    row = next(run_variants(replace(file.study, aims=Aims(deflection=moved / 3)), Builders(file.build, MEMORY), start=2))
    assert row.governs is not None
    assert row.governs.aim == "largest deflection"
    assert row.ratio == pytest.approx(1 / 3, rel=1e-9)


def test_what_a_rule_asks_by_itself_is_not_lowered_or_raised_by_the_study() -> None:
    """A bolt's 2.0 and a layout's 1.0 stay; the case's own 1.5 gives way; a check's own target in the study goes before all."""

    def row(check: Check, mode: Mode, load_case: str | None, target: float) -> CheckResult:
        return CheckResult(check, mode, Subject(Thing.JOINT, "here"), load_case, 1.0, 2.0, "N", target, "none")

    aims, targets = Aims(safety_factor=1.2, by_check={"welds": 3.0}), Targets(1.5)
    rows = (
        row(Check.YIELD, Mode.FIRST_YIELD, "bump", 1.5),
        row(Check.BOLTS, Mode.BOLT_SHEAR, "bump", 2.0),
        row(Check.BOLTS, Mode.BOLT_SPACING, None, 1.0),
        row(Check.WELDS, Mode.WELD_METAL, "bump", 1.5),
    )
    assert [asked(each, aims, targets) for each in rows] == [1.2, 2.0, 1.0, 3.0]
