"""Safety factor against depth and corner radius of a notch, for a drawing: quickly from given forces, or from solved frames."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.concentration import rail_factor
from framecheck.checks.notch.check import worst
from framecheck.checks.notch.corner import pulled_factor
from framecheck.checks.stretches import on_side
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Cut
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties
from framecheck.stress import Outcome
from framecheck.value_class import array_class


@array_class
class NotchCurve:
    """Safety factors over depths (n_depth,) and radii (n_radius,), m. Arrays are read-only; nan: not known.

    inertia_share: what is left of the second moment, (n_depth,); on_yield: first yield of the net section, (n_depth,); at_corner:
    yield over the elastic peak at the corner, (n_depth, n_radius) (below 1: the corner yields locally, which yield itself may bear).
    """

    depths: Array
    radii: Array
    inertia_share: Array
    on_yield: Array
    at_corner: Array


def moved_to(gross: SectionProperties, net: SectionProperties, side: Side, forces: Array) -> Array:
    """Return section forces (..., 9) of the whole section in the axes of the net one.

    Statics: the pull stays on the gross centroid, Mv - N dz, Ms - N dy; twist about the net shear centre. The faces that the cut
    leaves tell where the net centroid lies. All twist is taken as Saint-Venant's and no bimoment is carried over.
    """
    dy, dz = centroid_shift(gross, net, side)
    moved = forces.copy()
    moved[..., 4] -= forces[..., 0] * dz
    moved[..., 5] -= forces[..., 0] * dy
    lever_y = gross.shear_centre[0] - (dy + net.shear_centre[0])
    lever_z = gross.shear_centre[1] - (dz + net.shear_centre[1])
    moved[..., 3] += lever_y * forces[..., 2] - lever_z * forces[..., 1]
    moved[..., 6:] = 0.0
    moved[..., 7] = moved[..., 3]
    return moved


def centroid_shift(gross: SectionProperties, net: SectionProperties, side: Side) -> tuple[float, float]:
    """Return where the net centroid lies from the gross one, (y, z), m, from the faces that the cut leaves."""
    kept_y, kept_z = (0 if side is Side.LEFT else 1), (2 if side is Side.TOP else 3)
    return gross.box[kept_y] - net.box[kept_y], gross.box[kept_z] - net.box[kept_z]


def solved_curve(
    gross: SectionProperties, number: int, cuts: Sequence[Cut], outcomes: Sequence[Outcome], radii: Array
) -> NotchCurve:
    """Return the safety factors of a notch from frames solved with it, one outcome for each cut (deeper and deeper).

    number: the notched member, by its place in the frame. Nothing is left out: a deep notch softens the frame, which sheds load, and
    the solved frame says how much of the twist warps.
    """
    upright = cuts[0].side in (Side.TOP, Side.BOTTOM)
    whole = gross.i_vertical if upright else gross.i_sideways
    share, on_yield = np.full(len(cuts), np.nan), np.full(len(cuts), np.nan)
    at_corner = np.full((len(cuts), len(radii)), np.nan)
    for i, (cut, outcome) in enumerate(zip(cuts, outcomes, strict=True)):
        for j, radius in enumerate(radii):
            found = worst(outcome, number, replace(cut, corner_radius=float(radius)))
            if found is None:
                continue
            share[i] = (found.net.i_vertical if upright else found.net.i_sideways) / whole
            on_yield[i] = found.net.yield_strength / max(float(found.nominal.max()), 1e-9)
            at_corner[i, j] = found.net.yield_strength / np.maximum(found.peak.max(), 1e-9)
    depths = np.array([cut.depth for cut in cuts])
    return NotchCurve(frozen(depths), frozen(radii.copy()), frozen(share), frozen(on_yield), frozen(at_corner))


def corner_peaks(net: SectionProperties, side: Side, forces: Array, sizes: tuple[float, Array, float]) -> Array:
    """Return the largest elastic peak at the root for each radius, (n_radius,), Pa; sizes: depth, radii (n_radius,), gross height."""
    depth, radii, height = sizes
    if net.fields is None:
        return np.full(len(radii), np.nan)
    root = net.fields.normal[on_side(net, net.fields, side)]
    pulled = (forces[:, 0] / net.area)[:, None]
    bent = forces[:, [0, 4, 5, 6]] @ root.T - pulled
    deep = np.full(len(radii), depth)
    factors = rail_factor(deep, radii, height), pulled_factor(deep, radii, height)
    raised = factors[0][:, None, None] * bent + factors[1][:, None, None] * pulled
    return np.asarray(np.abs(raised).max(axis=(1, 2)), dtype=np.float64)
