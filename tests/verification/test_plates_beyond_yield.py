"""Plates that stretch and fold against closed forms, a table of large deflections and yield-line theory."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from framecheck.checks.plate.bending import bendings, sheet_of
from framecheck.checks.plate.collapse import collapse_loads
from framecheck.checks.plate.folds import plastic_moment, point_load
from framecheck.checks.plate.membrane import amplitude, membranes
from framecheck.checks.plate.moments import surface_stress
from framecheck.model.plate import (
    BoltedPlate,
    Edge,
    EdgeHold,
    HeldEdge,
    InPlane,
    Patch,
    PlateBolt,
    Press,
    Uniform,
)
from tests.unit.checks.plates import STEEL, T, central, edges, plain
from tests.verification.manual import Held, Kind, proof

MP = 250e6 * T**2 / 4


@proof(Kind.DERIVED)
def test_narrow_strip_stretches_as_a_string_does(held: Held):
    """A strip simply supported at ends that do not draw in: E A / L (1/2 int w'2)2 / 2 with the shape of an even load.

    The beam's own shape 16/5 (x - 2 x3 + x4) has int w'2 = (16/5)2 17/35 / L (calculus).
    """
    ends = (HeldEdge(Edge.REAR, EdgeHold.SIMPLE), HeldEdge(Edge.FRONT, EdgeHold.SIMPLE))
    plate = plain(1.0, 0.02, edges=ends, in_plane=InPlane.HELD)
    sheet = sheet_of(plate)
    shapes = bendings(sheet, plate.loads)
    height = float(shapes[0].shape[::2, ::2].max())
    half = 0.5 * (16 / 5) ** 2 * 17 / 35 * height**2
    held(membranes(sheet, shapes)[0].energy, 0.5 * 200e9 * T * 0.02 * half**2, rel=0.01)


LARGE = {
    EdgeHold.SIMPLE: (0.430, 0.650, 0.930, 1.13, 1.26, 1.37, 1.47, 1.56, 1.63, 1.77),
    EdgeHold.CLAMPED: (0.165, 0.32, 0.59, 0.80, 0.95, 1.08, 1.19, 1.28, 1.38, 1.54),
}


@proof(Kind.MEMORY)
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


def collapse(plate: BoltedPlate) -> float:
    return collapse_loads(plate, plate.loads)[0] / MP


@proof(Kind.MEMORY)
def test_collapse_of_plates_by_von_mises(held: Held):
    """P. G. Hodge and T. Belytschko (1968), from memory: square plates under an even load, 24.86 to 26.54 Mp / L2 simply supported,
    42.86 to 49.25 clamped; A. Capsoni and L. Corradi (1999), from memory: 25.02 and 44.13, finite elements from above.
    """
    assert plastic_moment(250e6, T) == MP
    held(collapse(plain(1.0, edges=edges(EdgeHold.SIMPLE))), 25.02, rel=0.005)
    held(collapse(plain(1.0, edges=edges(EdgeHold.CLAMPED))), 44.13, rel=0.005)


@proof(Kind.DERIVED)
def test_collapse_of_a_strip_on_two_edges(held: Held):
    """Virtual work: one fold across the middle, P L / 4 less P a / 8 under a patch a wide, of a plate so wide that the fold can't
    narrow: 2 / sqrt 3 Mp (von Mises in plane strain), Mp at least (a narrow strip).
    """
    ends = (HeldEdge(Edge.REAR, EdgeHold.SIMPLE), HeldEdge(Edge.FRONT, EdgeHold.SIMPLE))
    for width, gain in ((0.02, 1.0), (4.0, 2 / sqrt(3))):
        load = Press("line", Patch((0.5, width / 2), (0.1, width * 0.999)), 1.0)
        held(collapse(plain(1.0, width, edges=ends, loads=(load,))), gain * width / (1 / 4 - 0.1 / 8), rel=0.03)


# x, y in mm; a von Mises limit analysis of another hand (stored with the attack that asked for it), 6 mm sheet, Fy 345 MPa
ELSEWHERE = {
    "corner out in the air": ((500, 500), ((0, 0), (500, 0), (0, 500)), (490, 490, 20), 3723.0),
    "edge between bolts": (
        (660, 600), ((30, 30), (330, 30), (630, 30), (30, 570), (330, 570), (630, 570)), (480, 60, 100), 23329.0,
    ),
    "middle of four bolts": ((660, 600), ((30, 30), (630, 30), (30, 570), (630, 570)), (330, 300, 100), 15615.0),
}  # fmt: skip


@proof(Kind.SHELL)
@pytest.mark.parametrize("name", ELSEWHERE)
def test_collapse_on_bolts(held: Held, name):
    """Another von Mises limit analysis; plastic shells (openseespy) give 3570 N for the first."""
    (length, width), spots, (x, y, a), load = ELSEWHERE[name]
    bolts = tuple(PlateBolt(str(n), (u / 1e3, v / 1e3), 0.025) for n, (u, v) in enumerate(spots))
    press = Press("press", Patch((x / 1e3, y / 1e3), (a / 1e3, a / 1e3)), 1.0)
    metal = replace(STEEL, yield_strength=345e6)
    plate = BoltedPlate("plate", length / 1e3, width / 1e3, 0.006, metal, bolts=bolts, loads=(press,))
    held(collapse_loads(plate, plate.loads)[0], load, rel=0.02)


@proof(Kind.MEMORY)
def test_collapse_under_a_point(held: Held):
    """H. G. Hopkins and A. J. Wang (1954), from memory: a point load on a plate of von Mises metal, 4 pi / sqrt 3 Mp = 7.26 Mp."""
    plate = plain(1.0, edges=edges(EdgeHold.CLAMPED))
    held(point_load(plate) / MP, 7.26, rel=1e-3)
    assert collapse(replace(plate, loads=(central(1.0, 0.002),))) > 7.255


def test_collapse_is_above_first_yield():
    """The plastic modulus of a sheet is 1.5 times its elastic one, so folding comes later than yield (statics)."""
    for hold in (EdgeHold.SIMPLE, EdgeHold.CLAMPED):
        plate = plain(1.0, edges=edges(hold), loads=(Uniform("even", 1.0),))
        sheet = sheet_of(plate)
        stress = surface_stress(sheet, bendings(sheet, plate.loads)[0]).von_mises().max()
        assert collapse(plate) * MP > 1.5 * 250e6 / stress
