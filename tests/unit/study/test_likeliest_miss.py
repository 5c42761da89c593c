"""The likeliest miss and the chance about it, against limits whose chance is known."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ndtr

from framecheck.model.arrays import Array
from framecheck.study.scatter import chance_about, likeliest_miss

STRENGTH, LOAD = (400.0, 20.0), (250.0, 30.0)


def margin(u: Array) -> Array:
    """Return strength less load, both normal, at places (n, 2)."""
    return np.asarray(STRENGTH[0] + STRENGTH[1] * u[:, 0] - LOAD[0] - LOAD[1] * u[:, 1])


def test_strength_less_load() -> None:
    """Both normal: index (400 - 250) / sqrt(20^2 + 30^2), chance by the normal table; share of the load 30^2 / (20^2 + 30^2)
    (textbook case of structural reliability: difference of two normal variables)."""
    found = likeliest_miss(margin, 2)
    index = 150 / np.sqrt(1300)
    assert found.settled
    assert found.index == pytest.approx(index)
    assert found.chance == pytest.approx(ndtr(-index))
    assert found.shares == pytest.approx([400 / 1300, 900 / 1300])


def test_a_ratio_of_lognormal_variables() -> None:
    """ln(R / S) is normal: index ln(rm / sm) / sqrt(vr^2 + vs^2); here the margin is R / S - 1, bent in u."""
    found = likeliest_miss(lambda u: np.exp(np.log(1.6) + 0.08 * u[:, 0] - 0.12 * u[:, 1]) - 1.0, 2)
    assert found.settled
    assert found.index == pytest.approx(np.log(1.6) / np.hypot(0.08, 0.12), rel=1e-3)


def test_a_middle_that_misses_has_an_index_below_zero() -> None:
    """Difference of normals again, the load's middle above the strength's: chance above a half."""
    found = likeliest_miss(lambda u: margin(u) - 200.0, 2)
    assert found.index == pytest.approx(-50 / np.sqrt(1300))
    assert found.chance > 0.5


def test_a_flat_margin_never_misses() -> None:
    found = likeliest_miss(lambda u: np.ones(len(u)), 3)
    assert not found.settled
    assert found.runs == 4


def test_draws_about_the_miss_give_a_rare_chance() -> None:
    """The chance of 1.6e-5 that plain draws would hardly see, within three standard errors, and that error a tenth of it."""
    true = float(ndtr(-150 / np.sqrt(1300)))
    found = chance_about(lambda u: margin(u) < 0, likeliest_miss(margin, 2).place, 2000, 1)
    assert found.chance == pytest.approx(true, abs=3 * found.error)
    assert found.error < 0.1 * true


def test_draws_about_the_miss_correct_a_bent_limit() -> None:
    """A limit u1 = 3 - u2^2 / 10: the chance by summing slices of u2 (trapezes), which the half space beyond u1 = 3 misses."""
    found = chance_about(lambda u: u[:, 0] > 3.0 - 0.1 * u[:, 1] ** 2, np.array([3.0, 0.0]), 20_000, 2)
    slices = np.linspace(-8, 8, 4001)
    density = np.exp(-(slices**2) / 2) / np.sqrt(2 * np.pi)
    exact = float(np.sum(density * ndtr(-(3.0 - 0.1 * slices**2))) * (slices[1] - slices[0]))
    assert found.chance == pytest.approx(exact, abs=3 * found.error)
    assert abs(ndtr(-3.0) - exact) > 10 * found.error
