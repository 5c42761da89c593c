"""Sharing a force and moment between points."""

from __future__ import annotations

import numpy as np
import pytest

from framecheck.vehicle.statics import shared

SQUARE = ((1.0, 1.0, 0.0), (1.0, -1.0, 0.0), (-1.0, 1.0, 0.0), (-1.0, -1.0, 0.0))


def test_a_force_in_the_middle_is_shared_alike() -> None:
    assert shared(np.array([0.0, 0.0, -8.0, 0.0, 0.0, 0.0]), (0.0, 0.0, 0.0), SQUARE)[:, 2] == pytest.approx([-2.0] * 4)


def test_a_torque_on_a_bolt_group() -> None:
    """Elastic method: each force is M r / sum r2, square to its arm (mechanics texts, from memory)."""
    rows = shared(np.array([0.0, 0.0, 0.0, 0.0, 0.0, 8.0]), (0.0, 0.0, 0.0), SQUARE)
    assert np.linalg.norm(rows[:, :3], axis=1) == pytest.approx([8 * 2**0.5 / (4 * 2)] * 4)
    assert rows[0, :2] == pytest.approx([-1.0, 1.0])


def test_two_points_carry_by_their_lever_arms() -> None:
    """A beam on two supports, 3 N at a third of the span."""
    rows = shared(np.array([0.0, 0.0, -3.0, 0.0, 0.0, 0.0]), (1.0, 0.0, 0.0), ((0.0, 0.0, 0.0), (3.0, 0.0, 0.0)))
    assert rows[:, 2] == pytest.approx([-2.0, -1.0])


def test_a_moment_about_the_line_of_two_points_is_left_as_moments() -> None:
    rows = shared(np.array([0.0, 0.0, -3.0, 0.0, 0.0, 0.0]), (1.0, 0.5, 0.0), ((0.0, 0.0, 0.0), (2.0, 0.0, 0.0)))
    assert rows[:, 3] == pytest.approx([-0.75, -0.75])
    assert rows[:, 2] == pytest.approx([-1.5, -1.5])


def test_one_point_takes_everything() -> None:
    rows = shared(np.array([0.0, 0.0, -3.0, 0.0, 0.0, 0.0]), (1.0, 0.0, 0.0), ((0.0, 0.0, 0.0),))
    assert rows[0] == pytest.approx([0.0, 0.0, -3.0, 0.0, 3.0, 0.0])
