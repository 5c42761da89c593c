"""How a section twists: warping function, torsion constant with both bounds, shear centre, warping constant and warping shear.

A twist of rate phi' moves points by u_x = phi' w and turns them: u_y = -phi' z, u_z = phi' y, both growing along x; so
tau_xy = G phi' (w,y - z) and tau_xz = G phi' (w,z + y).
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.elements import Elements
from framecheck.section.plane import Plane, body_means
from framecheck.section.potential import Potential, load_from
from framecheck.section.shear import nodal_flow
from framecheck.value_class import array_class

NO_WARPING = 1e-9
"""A warping constant below this share of area cubed is rounding: a round bar does not warp."""


@array_class
class Twist:
    """constant: torsion constant from the warping function, an upper bound, mm4. centre (2,): shear centre from the centroid, mm.

    warping (n,): about the shear centre, mm2; warping_constant: mm6.
    free (m, 6, 2): Saint-Venant shear stress at each triangle's nodes per unit torque, 1/mm3; held (m, 6, 2): the same for the
    torque carried by held warping.
    """

    constant: float
    centre: Array
    warping: Array
    warping_constant: float
    free: Array
    held: Array


def twist_of(potential: Potential, plane: Plane) -> Twist:
    """Return the twist of bodies that share their rotation, each free to warp."""
    elements = potential.elements
    about_centroid, constant = _warping(potential, plane)
    centre, warping = _about_shear_centre(potential, plane, about_centroid)
    rigid = elements.rigid[:, None, None]
    turned = _turned(elements.nodes[elements.ids] - plane.centroid)
    free = rigid * (nodal_flow(elements, about_centroid) + turned) / constant
    sampled = potential.values(warping)
    warping_constant = float(elements.stretched(sampled**2))
    if warping_constant < NO_WARPING * plane.area**3:
        return Twist(constant, centre, np.zeros_like(warping), 0.0, free, np.zeros_like(free))
    held = rigid * nodal_flow(elements, _warping_shear(potential, sampled, warping_constant))
    return Twist(constant, centre, warping, warping_constant, free, held)


def _turned(at: Array) -> Array:
    """Return the displacement of points (..., y z) in a unit turn about x: (-z, y)."""
    return np.stack([-at[..., 1], at[..., 0]], axis=-1)


def _warping(potential: Potential, plane: Plane) -> tuple[Array, float]:
    """Return the warping function (n,) about the centroid, mm2, and the torsion constant, mm4.

    A. J. C. Barre de Saint-Venant (1855): Laplace's equation, no shear across the border; J = Ip - integral of the load times w.
    Where metals differ each counts by its shear modulus (N. I. Muskhelishvili's compound bar, from memory).
    """
    elements = potential.elements
    arm, rigid = elements.at - plane.centroid, elements.rigid[:, None]
    load = load_from(elements, -(rigid[..., None] * _turned(arm))[..., None], np.zeros((*arm.shape[:2], 1)))[:, 0]
    warping = potential.solve(load)
    return warping, float(elements.integral(rigid * np.sum(arm**2, axis=-1)) - load @ warping)


def _about_shear_centre(potential: Potential, plane: Plane, warping: Array) -> tuple[Array, Array]:
    """Return the shear centre (2,) from the centroid and the warping about it, free of any stretch or bending.

    E. Trefftz, Z. angew. Math. Mech. 15 (1935): the centre about which warping stress has no resultant.
    """
    elements = potential.elements
    local = plane.local(elements)
    sampled = potential.values(warping)
    with_warping = elements.stretched(local * sampled[..., None])
    minus_z, y = -plane.bending() @ with_warping
    tilt = np.array([minus_z, y])
    sampled = sampled + local @ tilt
    mean = body_means(elements, plane.body, sampled)
    body = np.zeros(len(warping), dtype=np.int64)
    body[elements.ids] = plane.body[:, None]
    at = elements.nodes - plane.centroid - plane.own[body]
    return np.array([y, -minus_z]), warping + at @ tilt - mean[body]


def _warping_shear(potential: Potential, sampled: Array, warping_constant: float) -> Array:
    """Return the potential (n,) whose gradient balances the growth of the warping stress of unit torque.

    div tau = w / warping constant, no shear across the border: V. Z. Vlasov's secondary shear stress, carried by elasticity
    so that closed cells need no cut; its torque about the shear centre is 1 and it has no other resultant.
    """
    source = -(potential.elements.young[:, None] * sampled)[..., None] / warping_constant
    none = np.zeros((*sampled.shape, 2, 1))
    return potential.solve(load_from(potential.elements, none, source))[:, 0]


def smoothed(elements: Elements, values: Array) -> Array:
    """Return values (m, 6, ...) at the triangles' nodes as area-weighted means at the nodes, (n, ...), else 0."""
    flat = values.reshape(*values.shape[:2], -1)
    ids, n = elements.ids.ravel(), len(elements.nodes)
    weight = np.repeat(elements.area, 6)
    total = np.bincount(ids, weight, n)
    total = np.where(total > 0, total, 1.0)
    means = [np.bincount(ids, flat[..., k].ravel() * weight, n) / total for k in range(flat.shape[2])]
    return np.stack(means, axis=1).reshape(n, *values.shape[2:])
