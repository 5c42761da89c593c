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
