"""The cases of cases/, read once, and their verdicts with one store of sections."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.results.verdict import State
from framecheck.run import Results, run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

MEMORY = SHARED
FOLDER = Path(__file__).parents[3] / "cases"
LONG = "coast-coupe-stiffened"
"""Solved under two bounds with splices: too long to be run again and again here; tests/cases/ runs it whole."""
NAMES = tuple(sorted(path.stem for path in FOLDER.glob("*.yaml") if not path.stem.endswith("-study") and path.stem != LONG))
BETTER = (State.NOT_JUDGED, State.NOT_MET, State.MET_SO_FAR, State.MET)


@cache
def case_of(name: str) -> Case:
    path = FOLDER / f"{name}.yaml"
    return read_case(path.read_text(encoding="utf-8"), path.name, LIBRARY)


def solved_again(case: Case) -> Results:
    return run(case, MEMORY)


@cache
def results_of(name: str) -> Results:
    return solved_again(case_of(name))
