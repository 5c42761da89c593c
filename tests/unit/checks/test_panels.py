"""Panels that wave are open and held to diagonal tension; those that do not have a row of their own."""

from __future__ import annotations

import pytest

from framecheck.reading.case_file import read_case
from framecheck.results.row import Mode
from framecheck.run import Results, run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.verification.panel_files import panel_in_rods, tub

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


def test_every_end_on_sheet_is_named() -> None:
    """A rail that ends on a floor beside a crossmember, a rocker that a wall closes: the sheet bends there, which is not solved.

    Where another member meets the end (here the stiffener, which runs on from the rails), it does not end on the sheet.
    """
    ends = [
        {
            (each.entry.subject.name, each.entry.subject.part)
            for each in run(read_case(text, "case.yaml", LIBRARY), STORE).verdict.ledger.open
            if "ends on it" in str(each.reason)
        }
        for text in (tub(), tub(stiffeners=True))
    ]
    sides, rails = ("left", "right"), (("front", "firewall"), ("rear", "bulkhead"))
    rockers = {(f"{side} {wall}", f"{side} rocker at {side} rocker {end}") for side in sides for end, wall in rails}
    on_floor = {(f"{side} floor", f"{side} {end} rail at {side} {end} rail end") for side in sides for end, _ in rails}
    assert ends == [rockers | on_floor, rockers]
