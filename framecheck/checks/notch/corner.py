"""Stress at the corner of a notch."""

from __future__ import annotations

import numpy as np

from framecheck.checks.concentration import FITS, RAIL_ALLOWANCE, SHARPEST, rail_factor
from framecheck.checks.stretches import on_side
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Cut
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.value_class import array_class


@array_class
class Corner:
    """Normal stress at a notch's root, Pa, each (...,): on the net section, and the elastic peak. factors: Kt bent and pulled."""

    nominal: Array
    peak: Array
    factors: tuple[float, float]


def height_before(cut: Cut, net: SectionProperties) -> float:
    """Return the height of the section before it was cut, along the cut's depth, m: what is left and the depth of the cut."""
    y_min, y_max, z_min, z_max = net.box
    return cut.depth + (z_max - z_min if cut.side in (Side.TOP, Side.BOTTOM) else y_max - y_min)


def pulled_factor(depth: Array, radius: Array, height: float) -> Array:
    """Return Kt on the net stress of a pull through the net middle, with the allowance of `rail_factor`; nan: sharper than any fit."""
    ratio = depth / np.where(radius > 0, radius, np.nan)
    fitted = RAIL_ALLOWANCE * FITS["one notch, tension"].factor(np.maximum(ratio, 0.5), depth / height)
    return np.where(ratio <= SHARPEST, np.maximum(fitted, 1.0), np.nan)


def corner_factors(cut: Cut, net: SectionProperties) -> tuple[float, float] | None:
    """Return Kt (bent, pulled) of a notch's corner; None where no fit gives them."""
    depth, radius, height = np.array(cut.depth), np.array(cut.corner_radius), height_before(cut, net)
    found = float(rail_factor(depth, radius, height)), float(pulled_factor(depth, radius, height))
    return None if any(np.isnan(each) for each in found) else found


def corner(cut: Cut, net: SectionProperties, fields: UnitFields, forces: Array) -> Corner | None:
    """Return the stress at the notch's root under forces (..., 9) in the net section's axes; None where no fit gives its factors.

    The offset moment of the pull, N times the shift of the axis, is in the forces already: they act about the net centroid.
    """
    factors = corner_factors(cut, net)
    if factors is None:
        return None
    root = on_side(net, fields, cut.side)
    pulled = (forces[..., 0] / net.area)[..., None]
    whole = forces[..., [0, 4, 5, 6]] @ fields.normal[root].T
    raised = factors[0] * (whole - pulled) + factors[1] * pulled
    return Corner(frozen(np.abs(whole).max(axis=-1)), frozen(np.abs(raised).max(axis=-1)), factors)
