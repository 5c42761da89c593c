"""The elastic critical moment of any section: how far moments along a length may grow until it gives way sideways and twists.

One half sine wave of twist, b sin(pi x / L), between ends held against twist and sideways movement but free to turn and warp. With
M(x) the moments, sideways bending follows from v'' = -M phi / E I, and what is left is one quadratic for the factor F:

    F2 / P (2/L) int M2 sin2 = G J + k2 E Cw + F [w (2/L) int M cos2 - h (2/L) int 2 M cos(2 k x)],  k = pi / L,  P = k2 E I sideways

w: Wagner's integral (section/plastic.py); h: height of the loads between the ends over the shear centre; the last integral is that
of the load times sin2 / k2, by parts. For even moments it is the classical formula; for others C1, C2 and C3 of the three-factor
formula (ENV 1993-1-1:1992, F.1.2) follow from the integrals. V. Z. Vlasov; N. S. Trahair, Flexural-Torsional Buckling of Structures,
chapters 2, 7 (from memory); what the in-plane sag before buckling adds is left out (unfavourable where the stiffer way is bent).
"""

from __future__ import annotations

from enum import Enum
from math import pi, sqrt

import numpy as np

from framecheck.model.arrays import Array, IntArray, distinct_values
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class, value_class


class BendingWay(Enum):
    """Which way a section is bent: Mv or Ms."""

    VERTICALLY = 0
    SIDEWAYS = 1


@value_class
class Bent:
    """What holds a section, bent one way, against giving way the other: E I (N m2), G J (N m2), E Cw (N m4).

    wagner: integral of sigma rho2 per unit moment, m; above, below: how far the outline reaches beyond the shear centre in the plane
    of the load, up or left and down or right, m.
    """

    lateral: float
    torsion: float
    warping: float
    wagner: float
    above: float
    below: float


@array_class
class MomentShape:
    """Moments along a length in every load case, (n_case,), Nm: root mean squares and means that buckling weighs them with.

    most: the largest, without its sign; squared: (2/L) int M2 sin2, Nm squared; mean: (2/L) int M cos2; load: (2/L) int 2 M cos(2kx).
    """

    most: Array
    squared: Array
    mean: Array
    load: Array

    def parted(self) -> tuple[MomentShape, MomentShape]:
        """Return the first and the second half of the load cases: two ways of bending worked out together."""
        half, of = len(self.most) // 2, (self.most, self.squared, self.mean, self.load)
        return MomentShape(*(each[:half] for each in of)), MomentShape(*(each[half:] for each in of))


def even(moment: float) -> MomentShape:
    """Return a moment that is the same all along, one load case, Nm; its sign tells which side is stretched."""
    one = np.array([moment])
    return MomentShape(np.abs(one), one**2, one, np.zeros(1))


def moment_shape(stations: Array, moments: Array, shears: Array) -> MomentShape:
    """Return the integrals of moments (n_station, n_case) and of the loads behind their shears, straight between stations.

    stations: (n_station,), m; one that comes twice is a jump. The load's integral is that of -V sin(2 k x) / k, by parts, so that a
    couple, which has no height, is not taken for a load.
    """
    length = max(float(stations[-1] - stations[0]), 1e-12)
    at = _sampling((stations - stations[0]) / length)
    sine, cosine, double = np.sin(pi * at.places) ** 2, np.cos(pi * at.places) ** 2, np.sin(2 * pi * at.places)
    moment, shear, most = at.values(moments), at.values(shears), np.abs(moments).max(axis=0)
    return MomentShape(
        most,
        np.maximum(2 * (at.weights * sine) @ moment**2, (most / MOST_GAINED) ** 2),
        2 * (at.weights * cosine) @ moment,
        -2 * length / pi * (at.weights * double) @ shear,
    )


def bounding_shapes(moments: Array, shears: Array, length: float) -> tuple[MomentShape, MomentShape]:
    """Return the largest moment (n_station, n_case) taken as even, once with the top or left stretched, once the other side.

    For lengths whose ends are not both held; all loads along them are taken to act where twist is largest, on the worse side.
    """
    most = np.abs(moments).max(axis=0)
    load = 2 * length / pi**2 * np.abs(np.diff(shears, axis=0)).sum(axis=0)
    stretched = np.maximum(moments.max(axis=0), 0.0), np.minimum(moments.min(axis=0), 0.0)
    first, second = (MomentShape(most, most**2, mean, load) for mean in stretched)
    return first, second


MOST_GAINED = 2.27
"""By how much a changing moment may exceed an even one: ends equal and opposite, ANSI/AISC 360-22, commentary to F1. Beyond it one
half wave no longer tells enough."""
TINY = 1e-290
"""Stands for nothing where it divides."""
ALIKE = 1e-5
"""Share of a section's size within which a mesh keeps its symmetry."""
PIECE = 1 / 8
"""Longest piece of a length over which it is sampled, as a share."""
GAUSS = np.polynomial.legendre.leggauss(4)


@array_class
class GaussPlaces:
    """Gauss's places along a length (n,), 0 to 1, their weights (n,), the station after each (n,), and how far on the way to it."""

    places: Array
    weights: Array
    after: IntArray
    share: Array

    def values(self, values: Array) -> Array:
        """Return values (n_station, n_case) at the places, straight between stations, (n, n_case)."""
        before = values[self.after - 1]
        return np.asarray(before + self.share[:, None] * (values[self.after] - before), dtype=np.float64)


def _sampling(stations: Array) -> GaussPlaces:
    """Return four places in each piece between stations (n_station,), 0 to 1, none longer than PIECE."""
    ends = distinct_values(np.concatenate((stations, np.arange(0.0, 1.0, PIECE))))
    middle, half = (ends[:-1] + ends[1:]) / 2, np.diff(ends) / 2
    places = (middle[:, None] + half[:, None] * GAUSS[0]).ravel()
    weights = (half[:, None] * GAUSS[1]).ravel()
    after = np.clip(np.searchsorted(stations, places), 1, len(stations) - 1)
    span = np.maximum(stations[after] - stations[after - 1], 1e-15)
    return GaussPlaces(places, weights, after.astype(np.int64), (places - stations[after - 1]) / span)


def critical_factor(bent: Bent, length: float, shape: MomentShape) -> Array:
    """Return by how much the moments may grow until the length buckles elastically, (n_case,); inf where there are none.

    Loads between the ends act on the outline, on the side from which they push (unfavourable).
    """
    k2 = (pi / length) ** 2
    stiff = bent.torsion + k2 * bent.warping
    curve = shape.squared / (k2 * bent.lateral)
    lever = np.where(shape.load > 0, bent.above, bent.below) * np.abs(shape.load)
    slope = bent.wagner * shape.mean - lever
    root = np.sqrt(slope**2 + 4 * curve * stiff)
    rising, falling = (slope + root) / np.maximum(2 * curve, TINY), 2 * stiff / np.maximum(root - slope, TINY)
    return np.where(shape.most > 0, np.where(slope > 0, rising, falling), np.inf)


def critical_moment(bent: Bent, length: float, sign: float) -> float:
    """Return the elastic critical moment under even bending, Nm, unsigned; sign: of the moment, + stretches the top or left.

    The quadratic for M the same all along; with no Wagner's term (pi / L) sqrt(E I G J + (pi / L)2 E I E Cw), S. Timoshenko.
    """
    k2 = (pi / length) ** 2
    push, stiff, half = k2 * bent.lateral, bent.torsion + k2 * bent.warping, sign * bent.wagner / 2
    root = sqrt(stiff / push + half**2)
    return push * (root + half) if half > 0 else stiff / (root - half)


def is_alike_both_ways(bent: Bent) -> bool:
    """Return whether a section bent one way is as strong bent the other: by symmetry, but for what a mesh errs."""
    size = bent.above + bent.below
    return abs(bent.wagner) < ALIKE * size and abs(bent.above - bent.below) < ALIKE * size


def bent_of(section: SectionProperties, stiffness: tuple[float, float, float], bending: BendingWay) -> Bent:
    """Return what holds a section against giving way sideways to its bending; stiffness: E I the other way, G J, E Cw, SI.

    Where the main axes are turned, bending one way is free to turn: E I is that of 1 / (inverse of the moments).
    """
    turned = 1 - section.i_product**2 / (section.i_vertical * section.i_sideways)
    lateral, torsion, warping = stiffness
    wagner = section.wagner[bending.value]
    y_low, y_high, z_low, z_high = section.box
    y, z = section.shear_centre
    above, below = (z_high - z, z - z_low) if bending is BendingWay.VERTICALLY else (y_high - y, y - y_low)
    return Bent(lateral * turned, torsion, warping, wagner, max(above, 0.0), max(below, 0.0))
