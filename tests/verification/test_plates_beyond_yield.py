"""Plates that stretch and fold against closed forms, a table of large deflections and yield-line theory."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from framecheck.checks.plate.bending import bendings, sheet_of
from framecheck.checks.plate.membrane import amplitude, membranes
from framecheck.checks.plate.moments import surface_stress
from framecheck.checks.plate.yield_lines import collapse_loads, plastic_moment
from framecheck.model.plate import (
    Edge,
    HeldEdge,
    Hold,
    InPlane,
    Plate,
    Uniform,
)
from tests.unit.checks.plates import STEEL, T, central, edges, plain, round_bolts
from tests.verification.manual import Held, Status, proof

MP = 250e6 * T**2 / 4


@proof(Status.DERIVED)
def test_narrow_strip_stretches_as_a_string_does(held: Held):
    """A strip simply supported at ends that do not draw in: E A / L (1/2 int w'2)2 / 2 with the shape of an even load.

    The beam's own shape 16/5 (x - 2 x3 + x4) has int w'2 = (16/5)2 17/35 / L (calculus).
    """
    ends = (HeldEdge(Edge.REAR, Hold.SIMPLE), HeldEdge(Edge.FRONT, Hold.SIMPLE))
    plate = plain(1.0, 0.02, edges=ends, in_plane=InPlane.HELD)
    sheet = sheet_of(plate)
    shapes = bendings(sheet, plate.loads)
    height = float(shapes[0].shape[::2, ::2].max())
    half = 0.5 * (16 / 5) ** 2 * 17 / 35 * height**2
    held(membranes(sheet, shapes)[0].energy, 0.5 * 200e9 * T * 0.02 * half**2, rel=0.01)


LARGE = {
    Hold.SIMPLE: (0.430, 0.650, 0.930, 1.13, 1.26, 1.37, 1.47, 1.56, 1.63, 1.77),
    Hold.CLAMPED: (0.165, 0.32, 0.59, 0.80, 0.95, 1.08, 1.19, 1.28, 1.38, 1.54),
}


@proof(Status.MEMORY)
@pytest.mark.parametrize("hold", LARGE)
def test_large_deflections_of_held_square_plates(held: Held, hold):
    """Roark, 7th ed., table 11.11 (after S. Levy), a/b = 1, from memory, nu 0.316: y / t at q b4 / E t4 of 12.5 to 250.

    7 %: what one shape can do; it errs toward more deflection.
    """
    metal = replace(STEEL, shear_modulus=200e9 / 2 / 1.316)
    plate = plain(1.0, edges=edges(hold), in_plane=InPlane.HELD, material=metal)
    sheet = sheet_of(plate)
    shapes = bendings(sheet, plate.loads)
    energy, height = membranes(sheet, shapes)[0].energy, float(shapes[0].shape[::2, ::2].max())
    loads = np.array([12.5, 25, 50, 75, 100, 125, 150, 175, 200, 250]) * 200e9 * T**4
    found = [amplitude(load, shapes[0].work, energy) * height / T for load in loads]
    held(found, LARGE[hold], rel=0.07)


def collapse(plate: Plate) -> float:
    return collapse_loads(sheet_of(plate), plate.loads)[0] / MP


@proof(Status.MEMORY)
def test_yield_lines_of_plates(held: Held):
    """Yield-line theory, closed forms (K. W. Johansen; square plates: from memory): 24 mp / L2 simply supported,
    48 mp / L2 clamped with fans at the corners left out and 42.85 with them (E. N. Fox, exact), 8 mp a central load on a
    simply supported square, 4 mp b / a on four corners.
    """
    assert plastic_moment(250e6, T) == MP
    held(collapse(plain(1.0, edges=edges(Hold.SIMPLE))), 24.0, rel=1e-6)
    assert 42.85 < collapse(plain(1.0, edges=edges(Hold.CLAMPED))) <= 48.0
    small = central(1.0, 0.01)
    held(collapse(plain(1.0, edges=edges(Hold.SIMPLE), loads=(small,))), 8.0, rel=0.03)
    held(collapse(plain(2.0, bolts=round_bolts(2.0, 4), loads=(central(2.0, 0.01),))), 4 * 1 / 2, rel=0.02)
    held(collapse(plain(1.0, edges=edges(Hold.CLAMPED), loads=(small,))), 4 * pi, rel=0.01)


def test_collapse_is_above_first_yield():
    """The plastic modulus of a sheet is 1.5 times its elastic one, so folding comes later than yield (statics)."""
    for hold in (Hold.SIMPLE, Hold.CLAMPED):
        plate = plain(1.0, edges=edges(hold), loads=(Uniform("even", 1.0),))
        sheet = sheet_of(plate)
        stress = surface_stress(sheet, bendings(sheet, plate.loads)[0]).von_mises().max()
        assert collapse(plate) * MP > 1.5 * 250e6 / stress
