"""What beam theory already says of the joint's cut-out: to be taken off, so that nothing counts twice. SI.

Loads and movements are six-vectors in the mesh's axes: force or displacement x, y, z, then
moment or turn about x, y, z.
"""

from __future__ import annotations

from math import sqrt, tanh

import numpy as np

from framecheck.frame.joint.data import Branch, Chord
from framecheck.frame.joint.mesh import Outline
from framecheck.model.arrays import Array
from framecheck.value_class import value_class


@value_class
class Wall:
    """Thin-wall properties about the centroid. up: along the depth; across: along the width.

    i_up = integral of z^2; shear_up: shear area for force along z; centroid and shear_centre: places along the width
    from the web's (a tube: near wall's) middle line, growing towards the flange tips; warping 0 for a tube.
    """

    area: float
    i_up: float
    i_across: float
    j: float
    warping: float
    shear_up: float
    shear_across: float
    centroid: float
    shear_centre: float


def _tube_shear_area(h: float, b: float, t: float) -> float:
    """Return the shear area of a thin tube for force along h.

    Energy of the shear flow q = V S / I: 1/A_s = integral (S/I)^2 ds / t, S the first moment from the axis of symmetry:
    in a flange S = t s h/2, in a web S = t h b/4 + t (h^2/4 - z^2)/2.
    """
    second = t * h**3 / 6 + t * b * h**2 / 2
    flange = 4 * (t * h / 2) ** 2 * (b / 2) ** 3 / 3
    top, rise = t * h * b / 4, t * h**2 / 8
    web = 2 * h * (top**2 + 2 * top * rise * 2 / 3 + rise**2 * 8 / 15)
    return second**2 * t / (flange + web)


def _channel_shear_up(h: float, b: float, t: float) -> float:
    """Return the shear area of a thin channel along its web.

    As for the tube, with S = t s h/2 in a flange, t b h/2 + t (h^2/4 - z^2)/2 in the web.
    """
    second = t * h**3 / 12 + t * b * h**2 / 2
    flange = 2 * (t * h / 2) ** 2 * b**3 / 3
    top, rise = t * b * h / 2, t * h**2 / 8
    return second**2 * t / (flange + h * (top**2 + 2 * top * rise * 2 / 3 + rise**2 * 8 / 15))


def tube(h: float, b: float, t: float) -> Wall:
    """Return a thin rectangular tube's properties; h, b middle-line depth and width. J: Bredt plus the walls' own."""
    return Wall(
        area=2 * (h + b) * t,
        i_up=t * h**3 / 6 + t * b * h**2 / 2,
        i_across=t * b**3 / 6 + t * h * b**2 / 2,
        j=2 * t * (h * b) ** 2 / (h + b) + 2 * (h + b) * t**3 / 3,
        warping=0.0,
        shear_up=_tube_shear_area(h, b, t),
        shear_across=_tube_shear_area(b, h, t),
        centroid=b / 2,
        shear_centre=b / 2,
    )


def channel(h: float, b: float, t: float) -> Wall:
    """Return a thin channel's properties; h web, b flange, middle lines.

    Shear centre 3 b^2/(h + 6 b) behind the web, warping constant t b^3 h^2/12 (3 b + 2 h)/(6 b + h): handbook
    formulas (Vlasov). shear_across: 5/6 of the two flanges.
    """
    area, centroid = (h + 2 * b) * t, b**2 / (h + 2 * b)
    return Wall(
        area=area,
        i_up=t * h**3 / 12 + t * b * h**2 / 2,
        i_across=2 * t * b**3 / 3 - area * centroid**2,
        j=(h + 2 * b) * t**3 / 3,
        warping=t * b**3 * h**2 / 12 * (3 * b + 2 * h) / (6 * b + h),
        shear_up=_channel_shear_up(h, b, t),
        shear_across=5 / 3 * b * t,
        centroid=centroid,
        shear_centre=-3 * b**2 / (h + 6 * b),
    )


def moved(x: float, y: float) -> Array:
    """Return the matrix (6, 6) that takes a load at the origin to the same load at (x, y, 0)."""
    matrix = np.eye(6)
    matrix[3:, :3] = [[0.0, 0.0, -y], [0.0, 0.0, x], [y, -x, 0.0]]
    return matrix


def _twist_flexibility(section: Wall, e: float, g: float, length: float) -> float:
    """Return turn per moment at one end of a member whose two ends keep from warping, the other held.

    Non-uniform torsion (Vlasov): (L - (2/k) tanh(k L/2)) / GJ, k^2 = GJ / E I_w.
    """
    if section.warping == 0.0:
        return length / (g * section.j)
    k = sqrt(g * section.j / (e * section.warping))
    return (length - 2 / k * tanh(k * length / 2)) / (g * section.j)


def _half_stiffness(e: float, second: float, shear: float, length: float) -> tuple[float, float]:
    """Return end stiffness (N/m guided, Nm/rad pinned) of a Timoshenko beam held at the other end; shear: G A_s."""
    phi = 12 * e * second / (shear * length**2)
    return 12 * e * second / (length**3 * (1 + phi)), e * second / length * (4 + phi) / (1 + phi)


def rail_flexibility(chord: Chord, rail: Outline) -> Array:
    """Return the flexibility (6, 6) at the face's middle of a rail of twice that length, held at both ends."""
    section = (tube if chord.closed else channel)(rail.depth, rail.width, rail.wall)
    g = chord.e / (2 * (1 + chord.nu))
    lift, pitch = _half_stiffness(chord.e, section.i_up, g * section.shear_up, rail.length)
    push, yaw = _half_stiffness(chord.e, section.i_across, g * section.shear_across, rail.length)
    pull = chord.e * section.area / rail.length
    bent = np.diag([0.5 / pull, 0.5 / push, 0.5 / lift, 0.0, 0.5 / pitch, 0.5 / yaw])
    turned = np.diag([0.0, 0.0, 0.0, _twist_flexibility(section, chord.e, g, rail.length) / 2, 0.0, 0.0])
    at_centroid, at_shear_centre = moved(0.0, -section.centroid), moved(0.0, -section.shear_centre)
    total: Array = at_centroid.T @ bent @ at_centroid + at_shear_centre.T @ turned @ at_shear_centre
    return total


def branch_flexibility(branch: Branch, stub: Outline) -> Array:
    """Return the flexibility (6, 6) at the tip of the branch as a cantilever from the face; exact two-point integral.

    A channel's web lies at -x; its own twist is left out: with its warping it is the frame's business.
    """
    section = (tube if branch.closed else channel)(stub.depth, stub.width, stub.wall)
    e, g = branch.e, branch.e / (2 * (1 + branch.nu))
    twist = 1 / (g * section.j) if branch.closed else 0.0
    shears = 1 / (g * section.shear_across), 1 / (e * section.area), 1 / (g * section.shear_up)
    turns = 1 / (e * section.i_up), twist, 1 / (e * section.i_across)
    x = section.centroid - stub.width / 2
    slices = [moved(x, stub.length * (0.5 + side / sqrt(12))) for side in (-1, 1)]
    parts = [slice_.T @ np.diag([*shears, *turns]) @ slice_ for slice_ in slices]
    total: Array = stub.length / 2 * (parts[0] + parts[1])
    return total
