"""Where a plate touches what it lies against: no rest pulls, none is passed through, however many lie side by side."""

from __future__ import annotations

import numpy as np
import pytest
from pytest import approx
from scipy.optimize import nnls

from framecheck.checks.plate.contact import pressed


@pytest.mark.parametrize("seed", range(12))
def test_rests_press_as_in_the_reference_library(seed: int) -> None:
    """The forces are the least of a convex energy; scipy's nnls finds the same from the matrix' own root (least squares)."""
    draw = np.random.default_rng(seed)
    count = int(draw.integers(2, 40))
    root = draw.normal(size=(count + 3, count)) * np.exp(draw.normal(size=count))
    through = draw.normal(size=count)
    give = root.T @ root
    found = pressed(give, through, 1e-12 * float(np.abs(through).max()))
    right, *_ = np.linalg.lstsq(root.T, through, rcond=None)
    by_library, _ = nnls(root, right)
    assert found == approx(by_library, rel=1e-7, abs=1e-9 * float(np.abs(by_library).max()))
    assert found.min() >= 0.0
    assert (through - give @ found).max() <= 1e-9 * float(np.abs(through).max())


def test_rests_side_by_side_settle() -> None:
    """Sixty rests of a beam 1 mm apart, nearly alike: they press where the load is, and nowhere pull (the definition)."""
    x = np.linspace(0.0, 0.06, 60)
    give = np.exp(-np.abs(x[:, None] - x[None, :]) / 0.2) + 1e-9 * np.eye(60)
    through = np.exp(-((x - 0.02) ** 2) / 1e-4) - 0.2
    found = pressed(give, through, 1e-9)
    left = through - give @ found
    assert found.min() >= 0.0
    assert left.max() <= 1e-9
    assert float(found @ np.abs(left)) <= 1e-8 * float(found.sum())
