"""Every file in cases/ is read, solved, in balance, and gives finite results that can be told and written."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from framecheck.model.arrays import Vector
from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.results.row import Grade
from framecheck.run import Results, run
from tests.cases.test_sections import LIBRARY

CASES = sorted(
    file for file in (Path(__file__).parents[2] / "cases").glob("*.yaml") if not file.stem.endswith("-study")
)
LOW = {"hill-truck-original", "sleeved-rail-joint", "coast-coupe", "coast-coupe-stiffened"}
"""Cases that are meant to miss a target: stamped rails never made for these loads, stitches weaker than the bolts
beside them, a shell that folds where the work has moved the load to."""


@cache
def results(path: Path) -> Results:
    return run(read_case(path.read_text(encoding="utf-8"), path.name, LIBRARY))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_case_is_in_balance(path: Path) -> None:
    """Statics: applied forces, inertia and reactions add to nothing, 1e-9 of their size."""
    for solution in results(path).outcome.solutions:
        assert np.abs(solution.balance).max() < 1e-9


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_case_says_what_governs(path: Path) -> None:
    found = results(path)
    assert found.governing is not None
    assert found.governing.safety_factor == min(
        row.safety_factor for row in found.rows if row.target == found.governing.target
    )
    missed = any(row.grade is Grade.LOW for row in found.rows)
    assert missed == (path.stem in LOW)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_case_is_written_as_strict_json(path: Path) -> None:
    def refuse(word: str) -> float:
        raise AssertionError(word)

    written = json.loads(as_json(results(path), "a caution"), parse_constant=refuse)
    assert written["title"]
    outcome = results(path).outcome
    alike = {each.bound.name for each in outcome.solutions if each.bound.apart is None}
    told = {each["bound"] for each in written["load_cases"]}
    assert alike <= told <= {*alike, written["governing"]["bound"]}
    assert len(written["load_cases"]) == len(outcome.loads) * len(told)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_a_case_explains_itself(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.startswith("#")
    assert sum(line.lstrip().startswith("#") for line in text.splitlines()) >= 8


def test_the_trucks_weigh_what_their_masses_add_up_to() -> None:
    """By hand: 110 + 210 + 600 + 75 + 450 + 360 + 100 + 125 + 270 + 700 lb carried, 180 + 330 lb of axles: 3510 lb, and the frame."""
    for name in ("hill-truck", "hill-truck-original"):
        found = results(next(path for path in CASES if path.stem == name))
        assert found.masses is not None
        frame = sum(row.mass for row in found.masses.rows if row.name == "frame")
        assert (found.masses.total - frame) / 0.45359237 == pytest.approx(3510, rel=1e-9)
        assert 1500 < found.masses.total < 2000


def without_pan(points: Mapping[str, Vector]) -> dict[str, Vector]:
    """Return a frame's points but the one on the crossmember below the pan, which the new truck has slung lower under its rails."""
    return {name: at for name, at in points.items() if name != "below the pan"}


def test_the_trucks_differ_in_their_frames_only() -> None:
    first, second = (results(path).outcome.case for path in CASES if path.stem.startswith("hill-truck"))
    assert first.vehicle == second.vehicle
    assert first.load_cases == second.load_cases
    assert without_pan(first.frame.points) == without_pan(second.frame.points)
    assert len(first.load_cases) >= 15
