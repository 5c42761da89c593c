"""Skid plates that were said to be better than they are. YAML in, JSON out; independent numbers beside each.

Independent: a von Mises limit analysis and plastic shells (openseespy) of another hand, stored with the attack that found these.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from pytest import approx

from tests.cases.answers import checked, stored


def rows(name: str, folder: Path, mode: str, part: str = "") -> list[Any]:
    """Return the JSON rows of a mode of a stored file."""
    return picked(checked(stored(name), folder).data, mode, part)


def picked(data: Any, mode: str, part: str = "") -> list[Any]:
    """Return the rows of a mode."""
    return [row for row in data["checks"] if row["mode"] == mode and part in row["where"]]


# collapse, N: limit analysis of another hand; never more than 5 % above it (upper bound)
COLLAPSE = {
    "guard-pressed-at-its-edge.yaml": 23329.0,
    "guard-corner-in-the-air.yaml": 3723.0,
    "guard-on-four-bolts.yaml": 15615.0,
    "guard-folds-beside-a-rib.yaml": 1.26 * 2800.0,
}


@pytest.mark.parametrize("name", COLLAPSE)
def test_collapse_is_von_mises_s(name: str, tmp_path: Path) -> None:
    (row,) = rows(name, tmp_path, "plate_folds")
    assert row["capacity"] == approx(COLLAPSE[name], rel=0.02)


def test_what_stands_beside_a_load_changes_nothing(tmp_path: Path) -> None:
    """One sheet under one press: as much whatever else presses elsewhere at another time."""
    name, patch = "guard-pressed-at-its-edge.yaml", "patch: {x: 480 mm, y: 60 mm, length: 100 mm, width: 100 mm}}\n"
    beside = "      - {name: other, kind: press, force: 1 N, patch: {x: 201 mm, y: 333 mm, length: 40 mm, width: 70 mm}}\n"
    alone, both = (checked(text, tmp_path).data for text in (stored(name), stored(name).replace(patch, patch + beside)))
    for mode in ("plate_folds", "plate_bends", "touches_pan"):
        assert picked(alone, mode)[0]["safety_factor"] == picked(both, mode)[0]["safety_factor"]


def test_a_plate_lies_on_its_crossmember(tmp_path: Path) -> None:
    """The crossmember takes 33.7 kN of the blow (shells on the frame); by a single force at its middle F L / 4 Z that is 0.67."""
    data = checked(stored("guard-lies-on-a-crossmember.yaml"), tmp_path).data
    assert data["verdict"]["state"] == "not met"
    (row,) = (each for each in picked(data, "first_yield", "middle crossmember") if "ledge" in each["load_case"])
    assert 0.6 < row["safety_factor"] < 0.85


def test_prying_pulls_bolts(tmp_path: Path) -> None:
    """4276 N in each bolt, by a plate that lies on a ledge round it; never less."""
    pulled = picked(checked(stored("guard-on-four-bolts.yaml"), tmp_path).data, "bolt_tension_prying")
    assert len(pulled) == 4
    assert all(4276 < row["demand"] < 1.06 * 4276 for row in pulled)


@pytest.mark.parametrize("name", ["guard-blow-as-a-fall.yaml", "guard-blow-as-a-speed.yaml"])
def test_one_blow_has_one_answer(name: str, tmp_path: Path) -> None:
    """Energy to the pan over m g (h + travel): the weight works on the way, however the blow is written."""
    (row,) = rows(name, tmp_path, "strike_energy")
    assert row["safety_factor"] == approx(0.68, abs=0.005)


def test_a_strike_on_a_held_sheet_is_not_capped_by_bending(tmp_path: Path) -> None:
    """About 33 kN on the sheet and 99 kN in the middle bolts (membrane); one shape's stiffness is from above, so never less."""
    sheared = rows("guard-held-struck-hard.yaml", tmp_path, "bolt_shear")
    assert max(row["demand"] for row in sheared) > 99e3


def test_nothing_unloaded_is_graded(tmp_path: Path) -> None:
    data = checked(stored("guard-on-four-bolts.yaml"), tmp_path).data
    assert all(row["demand"] > 0 for row in data["checks"] if row["check"] == "plate")
