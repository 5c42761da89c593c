"""Shear stress from bending shear: B. D. Pilkey's elasticity solution of a prismatic beam.

W. D. Pilkey, Analysis and Design of Elastic Beams (Wiley, 2002), chapter 6: shear stress = grad psi - nu / 4 (1 + nu) h with
h = (a (y2 - z2) + 2 b y z, 2 a y z - b (y2 - z2)), where a y + b z is the growth of the bending stress along the member.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.elements import NODE_SLOPES, Elements, contracted
from framecheck.section.plane import Plane
from framecheck.section.potential import Potential, load_from
from framecheck.value_class import array_class


@array_class
class Shear:
    """Shear stress per unit Vy and Vz (last axis), 1/mm2.

    at_nodes (m, 6, 2, 2): tau_xy, tau_xz at each triangle's nodes; torque (2,): of the stress about the centroid, mm;
    areas (2,): A_s = 1 / integral of tau2 (complementary energy), mm2.
    """

    at_nodes: Array
    torque: Array
    areas: Array


def shear_of(potential: Potential, plane: Plane, poisson: float) -> Shear:
    """Return the shear stress of unit Vy and Vz, no twist; where metals differ, with one Poisson's ratio for all."""
    elements = potential.elements
    local = plane.local(elements)
    growth = plane.bending()
    share = poisson / (4 * (1 + poisson))
    bulge = share * lateral(local, growth)
    young, rigid = (each[:, None, None] for each in (elements.young, elements.rigid))
    psi = potential.solve(load_from(elements, rigid[..., None] * bulge, young * (local @ growth)))
    stress = rigid[..., None] * (potential.flow(psi) - bulge)
    arm = elements.at - plane.centroid
    torque = elements.integral(stress[:, :, 1] * arm[..., :1] - stress[:, :, 0] * arm[..., 1:])
    areas = 1 / elements.integral(np.sum(stress**2, axis=2) / rigid)
    at_nodes = nodal_flow(elements, psi) - share * lateral(_local_nodes(elements, plane), growth)
    return Shear(rigid[..., None] * at_nodes, torque, areas)


def lateral(at: Array, growth: Array) -> Array:
    """Return Pilkey's h at points (..., 2) for stress growing as (y, z) @ growth (2, k): (..., 2, k)."""
    y, z = at[..., 0, None], at[..., 1, None]
    a, b = growth
    r, q = y**2 - z**2, 2 * y * z
    return np.stack([a * r + b * q, a * q - b * r], axis=-2)


def nodal_flow(elements: Elements, potential: Array) -> Array:
    """Return the gradient at each triangle's nodes, (m, 6, 2, ...), of potentials (n, ...)."""
    return contracted("mgid,mi...->mgd...", elements.slopes(NODE_SLOPES), potential[elements.ids])


def _local_nodes(elements: Elements, plane: Plane) -> Array:
    """Return the triangles' nodes measured from the centroid of their body, (m, 6, 2)."""
    local: Array = elements.nodes[elements.ids] - plane.centroid - plane.own[plane.body][:, None, :]
    return local
