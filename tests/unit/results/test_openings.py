"""Diagonals of openings by geometry: a rigid move changes none, a shear g of a rectangle b x h changes both by g b h / diagonal."""

from __future__ import annotations

from math import hypot
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from framecheck.errors import InputError
from framecheck.model.openings import Opening
from framecheck.reading.case_file import read_case
from framecheck.results.openings import DiagonalChange, diagonal_changes
from tests.cases.test_sections import LIBRARY

WIDE, HIGH, SHEAR = 1.1, 0.9, 2e-3
CORNERS = {"a": (0.0, 0.6, 0.0), "b": (-WIDE, 0.6, 0.0), "c": (-WIDE, 0.6, HIGH), "d": (0.0, 0.6, HIGH)}


def seen(moves: dict[str, np.ndarray], gap: float = 5e-3) -> tuple[DiagonalChange, ...]:
    """Return the changes of one opening; moves: of its points (4, 3) by load case."""
    moved = np.zeros((4, len(moves), 6))
    for number, each in enumerate(moves.values()):
        moved[:, number, :3] = each
    solution: Any = SimpleNamespace(points=tuple(CORNERS), displacements=moved, cases=tuple(moves))
    kinds = {"static": "static", "wheel": "one wheel up"}
    cases = tuple(SimpleNamespace(name=name, kind=kinds[name]) for name in moves)
    frame = SimpleNamespace(openings=(Opening("door", tuple(CORNERS), gap),), points=CORNERS)
    outcome: Any = SimpleNamespace(case=SimpleNamespace(frame=frame, load_cases=cases), solutions=(solution,))
    return diagonal_changes(outcome)


PLACES = np.array(list(CORNERS.values()))
TURNED = np.cross([1e-3, -2e-3, 3e-3], PLACES) + np.array([0.01, 0.02, -0.03])
RACKED = np.outer(PLACES[:, 2], [SHEAR, 0.0, 0.0])


def test_a_rigid_move_changes_no_diagonal() -> None:
    (found,) = seen({"wheel": TURNED})
    assert found.change == pytest.approx(0.0, abs=1e-15)
    assert not found.from_rest


def test_a_racked_opening_changes_as_geometry_says() -> None:
    (found,) = seen({"wheel": TURNED + RACKED})
    expected = SHEAR * HIGH * WIDE / hypot(WIDE, HIGH)
    assert abs(found.change) == pytest.approx(expected, rel=1e-12)
    assert found.share_of_gap == pytest.approx(expected / 5e-3)


def test_it_is_told_against_the_vehicle_at_rest() -> None:
    (found,) = seen({"static": RACKED, "wheel": 3 * RACKED}, gap=0.0)
    assert abs(found.change) == pytest.approx(2 * SHEAR * HIGH * WIDE / hypot(WIDE, HIGH), rel=1e-12)
    assert found.share_of_gap is None
    assert found.from_rest


def test_without_one_wheel_up_nothing_is_told() -> None:
    assert seen({"static": RACKED}) == ()


def test_corners_at_one_place_are_refused_by_line() -> None:
    points = "".join(f"    {name}: {{x: {x} m, y: {y} m, z: {0.0 if name == 'c' else z} m}}\n" for name, (x, y, z) in CORNERS.items())
    text = f"title: t\nframe:\n  points:\n{points}    e: {{x: 0 m, y: 0.6 m, z: 0 m}}\n  members:\n"
    text += "    - {name: all, points: [e, b, c, d], section: tube 2 x 2 x 11 ga}\n"
    text += "    - {name: more, points: [a, d], section: tube 2 x 2 x 11 ga}\n"
    text += "  openings:\n    - {name: door, corners: [a, b, e, d]}\n  supports: [{point: b, held: all}]\n"
    with pytest.raises(InputError, match="opposite corners are at one place"):
        read_case(text + "load cases:\n  - pull: {forces: [{point: d, force: {z: 1 N}}]}\n", "t.yaml", LIBRARY)
