"""Membranes tell any even stress exactly, and bend as a beam does."""

from __future__ import annotations

import numpy as np
import pytest

from framecheck.frame.panel.membrane import cells_of, elasticity
from framecheck.frame.panel.site import is_convex, warp_of
from framecheck.model.shop_tables import Material

METAL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 250e6, 400e6, "")
ELASTIC = elasticity(METAL, 0.001)
CROOKED = np.array([[0.0, 0.0], [1.1, -0.1], [0.9, 0.8], [-0.2, 0.6]])


@pytest.mark.parametrize("strain", [(1e-3, 0, 0), (0, 1e-3, 0), (0, 0, 1e-3), (1e-3, -4e-4, 7e-4)])
def test_even_strain_in_a_crooked_cell(strain: tuple[float, float, float]) -> None:
    """Elasticity: movements that are linear in x and y make one strain everywhere (the patch test)."""
    x, y = CROOKED.T
    moved = np.stack([strain[0] * x + strain[2] / 2 * y, strain[1] * y + strain[2] / 2 * x], axis=1).ravel()
    made = cells_of(CROOKED[None], ELASTIC[None])
    assert made.strain[0] @ moved == pytest.approx(np.tile(strain, (4, 1)), abs=1e-15)
    area = 0.5 * abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))
    assert made.area[0] == pytest.approx(area, rel=1e-12)
    energy = moved @ made.stiffness[0] @ moved / 2
    assert energy == pytest.approx(area * np.array(strain) @ ELASTIC @ np.array(strain) / 2, rel=1e-10)


def test_a_long_cell_bends_as_a_beam() -> None:
    """Beam theory: ends turned by t against each other store E I t2 / 2L, I = thickness x height3 / 12."""
    length, height, turn = 1.0, 0.1, 1e-3
    corners = np.array([[0.0, 0.0], [length, 0.0], [length, height], [0.0, height]])
    half = turn / 2 * height / 2
    moved = np.array([-half, 0, half, 0, -half, 0, half, 0])
    moved[[1, 3, 5, 7]] = 0.0
    made = cells_of(corners[None], ELASTIC[None])
    second = 0.001 * height**3 / 12
    assert moved @ made.stiffness[0] @ moved / 2 == pytest.approx(200e9 * second * turn**2 / (2 * length), rel=1e-9)


def test_shapes() -> None:
    """Plane geometry: a corner lifted by d of a square lies d off the plane of the others."""
    square = np.array([[0.0, 0, 0], [1, 0, 0], [1, 1, 0.05], [0, 1, 0]])
    assert warp_of(square) == pytest.approx(0.05 / np.sqrt(2 + 0.05**2), rel=1e-9)
    assert is_convex(square[:, :2])
    assert not is_convex(square[[0, 2, 1, 3], :2])
