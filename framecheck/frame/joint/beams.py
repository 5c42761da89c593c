"""What beam theory already says of the joint's cut-out: to be taken off, so that nothing counts twice. SI.

Loads and movements are six-vectors in the mesh's axes: force or displacement x, y, z, then
moment or turn about x, y, z.
"""

from __future__ import annotations

from functools import cache
from math import cosh, sinh, sqrt, tanh

import numpy as np

from framecheck.frame.joint.data import Branch, BranchMake, Chord, Outline, RailFinish
from framecheck.frame.joint.lines import branch_length, kept_length
from framecheck.model.arrays import Array
from framecheck.section.midline_theory import midline_variants
from framecheck.section.midline_walls import WallGraph
from framecheck.value_class import array_class

LEAST_DECAY = 0.02
"""Of k L in non-uniform torsion: below it both ends' warping governs alone and the closed forms lose their digits."""


@array_class
class ThinWallSection:
    """Thin-wall properties by middle lines. centroid, shear_centre: (2,) in the outline's axes; bent: (2, 2) second moments there,
    [[z2, -product], [-product, y2]]; shear: areas for force along the first and the second axis; warping 0 where a cell is closed."""

    area: float
    bent: Array
    j: float
    warping: float
    shear: tuple[float, float]
    centroid: Array
    shear_centre: Array


@cache
def section_of(outline: Outline) -> ThinWallSection:
    """Return an outline's properties by mid-line theory (framecheck/section/midline_theory.py), corners sharp."""
    none = np.zeros(len(outline.strips))
    found = midline_variants(
        WallGraph(
            nodes=np.array(outline.corners),
            ends=tuple((each.first, each.second) for each in outline.strips),
            thickness=np.array([each.wall for each in outline.strips]),
            solid=none + 1.0,
            curvature=none,
            bend=none > 0,
            extra_torsion=np.array(0.0),
        )
    )
    z2, y2, product = (float(each) for each in (found.inertias.vertical, found.inertias.sideways, found.inertias.product))
    return ThinWallSection(
        area=float(found.area),
        bent=np.array([[z2, -product], [-product, y2]]),
        j=float(found.twist.torsion_constant),
        warping=0.0 if outline.closed else float(found.twist.warping_constant),
        shear=(float(found.shear_area_sideways), float(found.shear_area_vertical)),
        centroid=found.centroid,
        shear_centre=found.centroid + found.twist.shear_centre,
    )


def transport(x: float, y: float, z: float) -> Array:
    """Return the matrix (6, 6) that takes a load at the origin to the same load at (x, y, z): its moment less r x force."""
    matrix = np.eye(6)
    matrix[3:, :3] = [[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]]
    return matrix


def carried_up(flexibility: Array, height: float) -> Array:
    """Return a flexibility (6, 6) as it is felt so far above the place it is told at, m."""
    to_place = transport(0.0, 0.0, -height)
    found: Array = to_place.T @ flexibility @ to_place
    return found


def _compliance(of: ThinWallSection, e: float, g: float, along: int) -> Array:
    """Return the strains (6, 6) of a beam along axis 0 or 1 per unit load at its centroid, twist left out."""
    first, found = 1 - along, np.zeros((6, 6))
    found[along, along] = 1 / (e * of.area)
    found[first, first], found[2, 2] = 1 / (g * of.shear[0]), 1 / (g * of.shear[1])
    turns = np.ix_((3 + first, 5), (3 + first, 5))
    found[turns] = np.linalg.inv(e * of.bent)
    return found


def bent_over(compliance: Array, start: Array, end: Array) -> Array:
    """Return the flexibility (6, 6) at the origin of a cantilever whose axis runs from start to end (3,); exact two-point integral."""
    points = [start + (end - start) * (0.5 + side / sqrt(12)) for side in (-1, 1)]
    one, other = (transport(*point.tolist()) for point in points)
    found: Array = float(np.linalg.norm(end - start)) / 2 * (one.T @ compliance @ one + other.T @ compliance @ other)
    return found


def _twist_stiffness(of: ThinWallSection, e: float, g: float, length: float, sign: int) -> Array:
    """Return the stiffness (2, 2) against turn and rate of twist at one end of a member whose other end keeps from both.

    Non-uniform torsion (Vlasov), k^2 = GJ / E I_w; sign: which way the member runs.
    """
    if of.warping == 0.0:
        return np.diag([g * of.j / length, 0.0])
    k = max(sqrt(g * of.j / (e * of.warping)), LEAST_DECAY / length)
    run = k * length
    s, c = sinh(run), cosh(run)
    below = (2 * (1 - c) + run * s) / (g * of.j)
    coupled = sign * (c - 1) / below
    return np.array([[k * s / below, coupled], [coupled, (run * c - s) / (k * below)]])


def _loose_stiffness(of: ThinWallSection, e: float, g: float, length: float) -> Array:
    """Return the same of a length whose other end is free: it turns along, and only its warping resists."""
    if of.warping == 0.0:
        return np.zeros((2, 2))
    k = sqrt(g * of.j / (e * of.warping))
    return np.diag([0.0, e * of.warping * k * tanh(k * length)])


def rail_flexibility(chord: Chord, branch: Branch) -> Array:
    """Return the flexibility (6, 6) at the face's middle of the kept rail: held where its ends are, loose where they are not."""
    of, e, g = section_of(chord.outline), chord.e, chord.e / (2 * (1 + chord.nu))
    compliance, stiff, twist = _compliance(of, e, g, 0), np.zeros((5, 5)), np.zeros((2, 2))
    untwisted = [0, 1, 2, 4, 5]
    for sign, end in zip((-1, 1), chord.ends, strict=True):
        length = kept_length(chord, branch, sign)
        if end.finish is RailFinish.HELD:
            side = bent_over(compliance, np.zeros(3), np.array([sign * length, 0.0, 0.0]))
            stiff += np.linalg.inv(side[np.ix_(untwisted, untwisted)])
            twist += _twist_stiffness(of, e, g, length, sign)
        else:
            twist += _loose_stiffness(of, e, g, length)
    bent, turned = np.zeros((6, 6)), np.zeros((6, 6))
    bent[np.ix_(untwisted, untwisted)] = np.linalg.inv(stiff)
    turned[3, 3] = 1 / (twist[0, 0] - (twist[0, 1] ** 2 / twist[1, 1] if twist[1, 1] else 0.0))
    at_centroid, at_shear_centre = (transport(0.0, *each.tolist()) for each in (of.centroid, of.shear_centre))
    total: Array = at_centroid.T @ bent @ at_centroid + at_shear_centre.T @ turned @ at_shear_centre
    return total


def branch_flexibility(chord: Chord, branch: Branch, make: BranchMake) -> Array:
    """Return the flexibility (6, 6) at the tip of the branch as a cantilever from the face.

    An open section's own twist is left out: with its warping it is the frame's business.
    """
    of, e, g = section_of(branch.outline), branch.e, branch.e / (2 * (1 + branch.nu))
    compliance, length = _compliance(of, e, g, 1), branch_length(chord, branch, make)
    if branch.outline.closed:
        compliance[4, 4] = 1 / (g * of.j)
    x, z = of.centroid.tolist()
    return bent_over(compliance, np.array([x, 0.0, z]), np.array([x, length, z]))


def branch_compliance(chord: Chord, branch: Branch, make: BranchMake) -> Array:
    """Return the flexibility (6,) of the kept length of branch, way by way, without levers: what is a small share of it is lost."""
    of, e, g = section_of(branch.outline), branch.e, branch.e / (2 * (1 + branch.nu))
    found = np.diag(_compliance(of, e, g, 1)).copy()
    found[4] = 1 / (g * of.j)
    return found * branch_length(chord, branch, make)
