"""Unit stress fields at the surface of a meshed section."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.elements import Elements
from framecheck.section.plane import Plane
from framecheck.section.properties import UnitFields
from framecheck.section.rim import Rim, rim_of
from framecheck.section.sharp import beside_sharp_corner
from framecheck.section.shear import Shear
from framecheck.section.twist import Twist, smoothed

Mesh = tuple[Elements, Rim]


def unit_fields(mesh: Mesh, metal: IntArray, plane: Plane, stress: tuple[Shear, Twist]) -> UnitFields:
    """Return stress per unit force at the surface's nodes; points and stress in mm. metal (m,): the number of each triangle's.

    Where there is more than one metal each has a surface of its own: what touches another metal is on it.
    """
    elements, rim = mesh
    normal, flow = normal_field(elements, plane, stress[1]), shear_field(*stress)
    present = np.unique(metal)
    rows = [_of_metal(elements, rim if len(present) == 1 else None, metal == each, (normal, flow)) for each in present]
    nodes, stretch, shear = (np.concatenate(column) for column in zip(*rows, strict=True))
    of_metal = np.repeat(present, [len(row[0]) for row in rows])
    sharp = beside_sharp_corner(elements, rim, elements.nodes[nodes])
    points = elements.nodes[nodes] - plane.centroid
    return UnitFields(points, stretch, shear, sharp, of_metal if present.any() else None)


def _of_metal(
    elements: Elements, rim: Rim | None, on: Array, unit: tuple[Array, Array]
) -> tuple[IntArray, Array, Array]:
    """Return the surface nodes of one metal, and normal and shear stress there; rim: None, to be found."""
    normal, flow = unit
    part = elements if rim is not None else _picked(elements, on)
    nodes = np.unique((rim or rim_of(part)).sides)
    young = float(part.young[0])
    return nodes, young * normal[nodes], smoothed(part, flow if rim is not None else flow[on])[nodes]


def _picked(elements: Elements, on: Array) -> Elements:
    """Return some of the triangles, (m,) bool, on the same nodes."""
    names = ("ids", "part", "area", "steepness", "young", "rigid")
    return replace(elements, **{name: getattr(elements, name)[on] for name in names})


def normal_field(elements: Elements, plane: Plane, twist: Twist) -> Array:
    """Return normal stress at every node per unit N, Mv, Ms, B, in metal of the reference modulus: (n, 4), 1/mm2 to 1/mm4."""
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
