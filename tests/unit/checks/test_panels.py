"""Panels that wave are open and held to diagonal tension; those that do not have a row of their own."""

from __future__ import annotations

import pytest

from framecheck.reading.case_file import read_case
from framecheck.results.row import Mode
from framecheck.run import Results, run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.verification.panel_files import panel_in_rods

STORE = SHARED


def results(carries: str, push: float) -> Results:
    """Return the panel in stiff rods under a push, N: its sheet waves at 3334 N (5.34 + 4 x 0.75^2 of sigma E at 300 mm)."""
    text = panel_in_rods(1e6, carries).replace("y: 1000 N", f"y: {push} N").replace("1e-4 mm4", "1e5 mm4")
    return run(read_case(text, "case.yaml", LIBRARY), STORE)


def modes(found: Results) -> set[Mode]:
    return {row.mode for row in found.rows if row.subject.name == "sheet"}


def parts(found: Results) -> set[str]:
    return {each.entry.subject.part for each in found.verdict.ledger.open if each.entry.subject.name == "sheet"}


@pytest.mark.parametrize("carries", ["shear and direct stress", "shear alone"])
def test_sheet_that_waves_is_open(carries: str) -> None:
    below, above = results(carries, 3300.0), results(carries, 3400.0)
    assert "tension field" not in parts(below)
    assert "tension field" in parts(above)
    assert Mode.FIELD_YIELDS in modes(above)
    assert Mode.SHEET_WAVES not in modes(above)
