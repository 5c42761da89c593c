"""A stretch whose section changes evenly from one to another, as prismatic steps: how many it takes, and what they leave wrong.

Bending by end forces is exact but for the flexibility integrals of 1 / I, which steps take by the midpoint rule: its error falls with
the square of the step, so that halving the steps tells it. Stress errs with the step itself, from its middle to its thinner end.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from functools import lru_cache
from math import isfinite
from typing import Any

import numpy as np
from numpy.polynomial import chebyshev

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Section
from framecheck.model.shapes import Shape
from framecheck.section.midline import midline_properties
from framecheck.value_class import array_class, value_class

STIFFNESS_WITHIN = 0.005
"""Largest error of any flexibility that steps may leave, a share."""
STRESS_WITHIN = 0.05
"""Largest share by which stress at the thin end of a step may exceed that of its middle."""
COUNTS = (1, 2, 4, 8, 16, 32)
SAMPLES = 9
"""Sections evaluated along a taper; between them the logarithm of each property follows a polynomial."""
FLEXIBLE, STRONG = slice(0, 4), (0, 4, 5)
"""Rows of `logarithms`: those that stiffness hangs on (area, both inertias, torsion), those that stress does (area, both moduli)."""


@array_class
class Curve:
    """Properties along a taper. coefficients: (SAMPLES, 6) of Chebyshev polynomials of their logarithms."""

    coefficients: Array

    def at(self, shares: Array) -> Array:
        """Return the properties at shares (n,) of the way, (6, n), SI."""
        return np.asarray(np.exp(chebyshev.chebval(2 * shares - 1, self.coefficients)), dtype=np.float64)


@value_class
class Steps:
    """A taper as equal prismatic steps, first to last. stiffness_error, stress_error: shares, see the limits above.

    closed: whether its sections are; in an open one, inclined flanges make a twist that steps don't know of.
    """

    shapes: tuple[Shape, ...]
    stiffness_error: float
    stress_error: float
    closed: bool

    @property
    def meets_limits(self) -> bool:
        """Return whether both errors are within their limits."""
        return self.stiffness_error <= STIFFNESS_WITHIN and self.stress_error <= STRESS_WITHIN


def steps_between(first: Section, last: Section) -> Steps:
    """Return the fewest steps within the limits from one section to another, at most COUNTS[-1].

    InputError: they are of two metals or two kinds, or there is no mid-line theory for their shape.
    """
    if (first.material, first.metals) != (last.material, last.metals):
        raise unlike(first.name, last.name, "are of two metals", "give both the same material")
    curve = _curve(first, last)
    for count in COUNTS:
        shapes = tuple(between(first.shape, last.shape, (step + 0.5) / count) for step in range(count))
        found = Steps(
            shapes, stiffness_error(curve, count), stress_error(curve, count), midline_properties(first).closed
        )
        if found.meets_limits:
            break
    return found


def between(first: Any, last: Any, share: float) -> Any:
    """Return what lies at a share of the way from one shape to another of its kind: every size straight between the two."""
    if type(first) is type(last):
        if first == last:
            return first
        if isinstance(first, float) and isfinite(first):
            return first + share * (last - first)
        if is_dataclass(first) and not isinstance(first, type):
            sizes = {
                each.name: between(getattr(first, each.name), getattr(last, each.name), share) for each in fields(first)
            }
            return type(first)(**sizes)
    raise unlike("first", "last", "are not of one kind", "taper between two sections that differ in sizes alone")


@lru_cache(maxsize=256)
def _curve(first: Section, last: Section) -> Curve:
    """Return the properties along a taper."""
    shares = (1 - np.cos(np.pi * np.arange(SAMPLES) / (SAMPLES - 1))) / 2
    rows = [logarithms(first, between(first.shape, last.shape, float(share))) for share in shares]
    return Curve(frozen(np.asarray(chebyshev.chebfit(2 * shares - 1, np.array(rows), SAMPLES - 1), dtype=np.float64)))


def logarithms(like: Section, shape: Shape) -> Array:
    """Return the logarithms of area, both inertias, torsion constant and both section moduli of a shape, (6,), SI."""
    s = midline_properties(replace(like, shape=shape))
    y_min, y_max, z_min, z_max = s.box
    moduli = s.i_vertical / max(z_max, -z_min), s.i_sideways / max(y_max, -y_min)
    return np.log([s.area, s.i_vertical, s.i_sideways, s.torsion_constant, *moduli])


def stiffness_error(curve: Curve, count: int) -> float:
    """Return the error of the worst flexibility with so many steps, a share: 4/3 of what halving them changes.

    L. F. Richardson (1911): the error of the midpoint rule falls to a quarter.
    """
    rough, fine = flexibilities(curve, count), flexibilities(curve, 2 * count)
    return float(4 / 3 * np.max(np.abs(rough / fine - 1)))


def flexibilities(curve: Curve, count: int) -> Array:
    """Return the integrals of w / p over the taper, (4, 3): p each stiffness, w 1, x2, (1 - x)2; steps take p of their middle."""
    ends = np.linspace(0.0, 1.0, count + 1)
    middles = (ends[:-1] + ends[1:]) / 2
    weights = np.stack([np.diff(ends), np.diff(ends**3) / 3, np.diff(-((1 - ends) ** 3)) / 3], axis=1)
    return np.asarray((1 / curve.at(middles)[FLEXIBLE]) @ weights, dtype=np.float64)


def stress_error(curve: Curve, count: int) -> float:
    """Return by how much stress at the thinner end of a step exceeds that of its middle, the worst share."""
    values = curve.at(np.linspace(0.0, 1.0, 2 * count + 1))[list(STRONG)]
    ends, middles = np.minimum(values[:, :-1:2], values[:, 2::2]), values[:, 1::2]
    return float(np.max(middles / ends) - 1.0)


def unlike(first: str, last: str, fault: str, remedy: str) -> InputError:
    """Return why there is no taper between two sections."""
    return InputError([Fault("", f"taper from '{first}' to '{last}'", fault, remedy)])
