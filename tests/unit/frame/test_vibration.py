"""The eigenvalue solver alone, on chains of masses and springs whose frequencies are known in closed form."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from framecheck.frame.vibration import GroundSprings, no_springs, vibration
from framecheck.model.arrays import Array

N, RATE, MASS = 40, 2.0e5, 3.0


def chain(held: bool) -> Array:
    """Return the stiffness (N, N) of N masses in a row, springs between; held: a spring from each end to a wall."""
    stiff = 2 * np.eye(N) - np.eye(N, k=1) - np.eye(N, k=-1)
    if not held:
        stiff[0, 0] = stiff[-1, -1] = 1.0
    return RATE * stiff


def softness_of(stiff: Array) -> Array:
    """Return the pseudo-inverse; what is 1e-12 of the largest singular value or less is the free movement (a LAPACK's noise)."""
    return np.linalg.pinv(stiff, rcond=1e-12)


def hertz(halves: Array) -> Array:
    """Return 2 sqrt(k/m) sin(half angle) / 2 pi (Rayleigh, Theory of Sound, art. 120; from memory)."""
    return 2 * np.sqrt(RATE / MASS) * np.sin(halves) / (2 * pi)


def test_a_held_chain() -> None:
    stiff = chain(held=True)
    found = vibration(lambda f: np.linalg.solve(stiff, f), MASS * np.eye(N), np.zeros((N, 0)), no_springs(N), 6)
    assert found.frequencies == pytest.approx(hertz(np.arange(1, 7) * pi / (2 * (N + 1))), rel=1e-8)
    assert found.shapes.T @ found.shapes * MASS == pytest.approx(np.eye(6), abs=1e-8)


def test_a_free_chain_leaves_its_free_movement_out() -> None:
    softness = softness_of(chain(held=False))
    found = vibration(lambda f: softness @ f, MASS * np.eye(N), np.ones((N, 1)), no_springs(N), 6)
    assert found.frequencies == pytest.approx(hertz(np.arange(1, 7) * pi / (2 * N)), rel=1e-8)


def test_a_free_chain_on_ground_springs_is_the_held_chain() -> None:
    # the held chain's two end springs, given as springs to the ground
    softness = softness_of(chain(held=False))
    ends = np.eye(N)[:, [0, -1]]
    springs = GroundSprings(ends, np.array([RATE, RATE]))
    found = vibration(lambda f: softness @ f, MASS * np.eye(N), np.ones((N, 1)), springs, 6)
    assert found.frequencies == pytest.approx(hertz(np.arange(1, 7) * pi / (2 * (N + 1))), rel=1e-8)


def test_a_soft_ground_spring_is_a_mass_on_a_spring() -> None:
    # all masses as one on a spring a million times softer than the chain: sqrt(k / N m)
    softness = softness_of(chain(held=False))
    springs = GroundSprings(np.eye(N)[:, [0]], np.array([RATE * 1e-6]))
    found = vibration(lambda f: softness @ f, MASS * np.eye(N), np.ones((N, 1)), springs, 2)
    assert found.frequencies[0] == pytest.approx(np.sqrt(RATE * 1e-6 / (N * MASS)) / (2 * pi), rel=1e-4)
    assert found.frequencies[1] == pytest.approx(hertz(np.array([pi / (2 * N)]))[0], rel=1e-3)
