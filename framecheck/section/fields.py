"""Unit stress fields at the rim of a meshed section."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.elements import Elements
from framecheck.section.plane import Plane
from framecheck.section.properties import UnitFields
from framecheck.section.rim import Rim
from framecheck.section.sharp import beside_sharp_corner
from framecheck.section.shear import Shear
from framecheck.section.twist import Twist, smoothed


def unit_fields(elements: Elements, rim: Rim, plane: Plane, shear: Shear, twist: Twist) -> UnitFields:
    """Return stress per unit force at the rim's nodes; points and stress in mm."""
    rim_nodes = np.unique(rim.sides)
    points = elements.nodes[rim_nodes] - plane.centroid
    normal = normal_field(elements, plane, twist)[rim_nodes]
    flow = smoothed(elements, shear_field(shear, twist))[rim_nodes]
    sharp = beside_sharp_corner(elements, rim, elements.nodes[rim_nodes])
    return UnitFields(points, normal, flow, sharp)


def normal_field(elements: Elements, plane: Plane, twist: Twist) -> Array:
    """Return normal stress at every node per unit N, Mv, Ms, B: (n, 4), 1/mm2, 1/mm3, 1/mm3, 1/mm4."""
    body = np.zeros(len(elements.nodes), dtype=np.int64)
    body[elements.ids] = plane.body[:, None]
    local = elements.nodes - plane.centroid - plane.own[body]
    sideways, vertical = (local @ plane.bending()).T
    stretch = np.full(len(local), 1 / plane.area)
    bimoment = twist.warping / twist.warping_constant if twist.warping_constant > 0 else np.zeros(len(local))
    return np.stack([stretch, vertical, sideways, bimoment], axis=1)


def shear_field(shear: Shear, twist: Twist) -> Array:
    """Return shear stress at each triangle's nodes per unit Vy, Vz, T, Tw: (m, 6, 2, 4), 1/mm2, 1/mm2, 1/mm3, 1/mm3.

    Vy and Vz act through the shear centre: what their stress lacks of torque about it is added as Saint-Venant torsion.
    """
    y, z = twist.centre
    lacking = np.array([-z, y]) - shear.torque
    bending = shear.at_nodes + twist.free[..., None] * lacking
    return np.concatenate([bending, twist.free[..., None], twist.held[..., None]], axis=-1)
