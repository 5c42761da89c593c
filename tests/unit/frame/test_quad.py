"""The shell quadrilateral by closed forms of plane elasticity and beam theory; its mesh-wide tests are those of the joints."""

from __future__ import annotations

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.joint.panels import graded
from framecheck.frame.joint.shell_elements import Plates, stiffness
from framecheck.model.arrays import Array

P, Q, WALL, E, NU = 0.03, 0.02, 0.003, 200e9, 0.3
CORNERS = np.array([(0.0, 0.0), (P, 0.0), (0.0, Q), (P, Q)]) - (P / 2, Q / 2)


def element() -> Array:
    return stiffness(Plates(places(CORNERS)[None], *np.array([[WALL], [E], [NU]])))[0]


def places(flat: Array) -> Array:
    """Return corners (4, 2) as places (4, 3)."""
    return np.column_stack((flat, np.zeros(4)))


def energy(moves: Array) -> float:
    """Return twice the strain energy of corner movements (4, 6)."""
    return float(moves.ravel() @ element() @ moves.ravel())


def moved(**freedoms: Array) -> Array:
    found = np.zeros((4, 6))
    for name, values in freedoms.items():
        found[:, ["u", "v", "w", "rx", "ry", "rz"].index(name)] = values
    return found


@pytest.mark.parametrize(("along", "across"), [(0, 1), (1, 0)])
def test_bending_in_its_plane_stores_what_a_beam_does(along: int, across: int) -> None:
    """Curvature k of a beam of length p, depth q, width t: E I k2 p with I = t q3 / 12, either way round."""
    length, depth = ((P, Q), (Q, P))[along]
    stretched = CORNERS[:, along] * CORNERS[:, across]
    sideways = -(CORNERS[:, along] ** 2) / 2 - NU * CORNERS[:, across] ** 2 / 2
    names = "uv"
    bent = moved(**{names[along]: stretched, names[across]: sideways})
    assert energy(bent) == approx(E * WALL * depth**3 / 12 * length)


def test_even_strain_stores_what_plane_stress_says() -> None:
    """E t / (1 - nu2) (ex2 + ey2 + 2 nu ex ey) + G t g2, times the area; no spin, so nothing in the drilling springs."""
    ex, ey, g = 1e-3, -2e-4, 6e-4
    x, y = CORNERS.T
    strained = moved(u=ex * x + g / 2 * y, v=ey * y + g / 2 * x)
    by_hand = E * WALL / (1 - NU**2) * (ex**2 + ey**2 + 2 * NU * ex * ey) + E * WALL / (2 * (1 + NU)) * g**2
    assert energy(strained) == approx(by_hand * P * Q)


def test_even_curvature_stores_what_a_thin_plate_does() -> None:
    """w = -(kx x2 + ky y2) / 2, turns rx = w,y and ry = -w,x: D (kx2 + ky2 + 2 nu kx ky) times the area (Kirchhoff)."""
    kx, ky = 0.4, -0.7
    x, y = CORNERS.T
    bent = moved(w=-(kx * x**2 + ky * y**2) / 2, rx=-ky * y, ry=kx * x)
    rigidity = E * WALL**3 / (12 * (1 - NU**2))
    assert energy(bent) == approx(rigidity * (kx**2 + ky**2 + 2 * NU * kx * ky) * P * Q)


def test_six_movements_as_one_store_nothing() -> None:
    x, y = CORNERS.T
    ones = np.ones(4)
    spun = moved(u=-y, v=x, rz=ones)
    tipped = moved(w=y, rx=ones)
    for still in (moved(u=ones), moved(v=ones), moved(w=ones), spun, tipped, moved(w=-x, ry=ones)):
        assert energy(still) == approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("parts", "first"), [(6, 0.01), (12, 0.002), (3, 0.05)])
def test_graded_steps_grow_by_one_ratio_from_the_first(parts: int, first: float) -> None:
    """first (r^n - 1) / (r - 1) = length (geometric series)."""
    points = graded(0.0, 0.5, parts, first)
    steps = np.diff(points)
    ratios = steps[1:] / steps[:-1]
    assert (points[0], points[-1]) == approx((0.0, 0.5))
    assert ratios == approx(ratios[0])
    assert steps[0] == approx(first, rel=1e-6)


def test_steps_that_fill_the_length_are_even() -> None:
    assert np.diff(graded(0.5, 0.0, 4, 0.2)) == approx(-0.125)


@pytest.mark.parametrize("turn", [0.0, 0.7, 2.1])
def test_a_crooked_element_passes_even_strain_and_curvature(turn: float) -> None:
    """The patch test on one element of any shape, turned in its plane: the energies of the rectangle's tests by its own area."""
    crooked = CORNERS + np.array([(0.0, 0.0), (0.004, -0.003), (-0.002, 0.003), (0.003, 0.005)])
    c, s = np.cos(turn), np.sin(turn)
    x, y = (crooked @ np.array([(c, s), (-s, c)])).T
    of = stiffness(Plates(places(np.column_stack((x, y)))[None], *np.array([[WALL], [E], [NU]])))[0]
    area = abs((x[3] - x[0]) * (y[2] - y[1]) - (y[3] - y[0]) * (x[2] - x[1])) / 2
    ex, ey, g, kx, ky = 1e-3, -2e-4, 6e-4, 0.4, -0.7
    strained = moved(u=ex * x + g / 2 * y, v=ey * y + g / 2 * x).ravel()
    by_hand = E * WALL / (1 - NU**2) * (ex**2 + ey**2 + 2 * NU * ex * ey) + E * WALL / (2 * (1 + NU)) * g**2
    assert strained @ of @ strained == approx(by_hand * area)
    bent = moved(w=-(kx * x**2 + ky * y**2) / 2, rx=-ky * y, ry=kx * x).ravel()
    rigidity = E * WALL**3 / (12 * (1 - NU**2))
    assert bent @ of @ bent == approx(rigidity * (kx**2 + ky**2 + 2 * NU * kx * ky) * area, rel=0.05)
