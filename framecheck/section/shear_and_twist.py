"""How a meshed section shears and twists: shear stress, warping, shear centre, both bounds of the torsion constant; its rim and
sharp corners.

W. D. Pilkey, Analysis and Design of Elastic Beams (Wiley, 2002), chapter 6: shear stress = grad psi - nu / 4 (1 + nu) h with
h = (a (y2 - z2) + 2 b y z, 2 a y z - b (y2 - z2)), where a y + b z is the growth of the bending stress along the member.

A twist of rate phi' moves points by u_x = phi' w and turns them: u_y = -phi' z, u_z = phi' y, both growing along x; so
tau_xy = G phi' (w,y - z) and tau_xz = G phi' (w,z + y).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.section.elements import (
    NODE_SLOPES,
    SIDES,
    VALUES,
    Elements,
    Potential,
    StrainPlane,
    assembled,
    body_means,
    contracted,
    factorised,
    load_from,
)
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csc_array


@array_class
class Rim:
    """sides (s, 3): start, middle and end node of each side on the rim, material on the left; loop (s,): which loop it is of;
    enclosed (loops,): area inside each loop, mm2, negative for a void.
    """

    sides: IntArray
    loop: IntArray
    enclosed: Array

    @property
    def voids(self) -> IntArray:
        """Return the loops that are the edges of voids."""
        return np.flatnonzero(self.enclosed < 0)


def rim_of(elements: Elements) -> Rim:
    """Return the sides that belong to one triangle only, in loops."""
    all_sides = np.concatenate([elements.ids[:, [i, 3 + k, j]] for k, (i, j) in enumerate(SIDES)])
    _, first, count = np.unique(all_sides[:, 1], return_index=True, return_counts=True)
    sides = all_sides[first[count == 1]]
    loop = _loops(sides, len(elements.nodes))
    start, end = elements.nodes[sides[:, 0]], elements.nodes[sides[:, 2]]
    sector = (start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0]) / 2
    return Rim(sides, loop, np.asarray(np.bincount(loop, sector), dtype=np.float64))


def _loops(sides: IntArray, n: int) -> IntArray:
    """Return the loop number of each side, by following each to the next, doubling the stride."""
    following = np.arange(n, dtype=np.int64)
    following[sides[:, 0]] = sides[:, 2]
    label = np.arange(n)
    for _ in range(int(np.ceil(np.log2(max(len(sides), 2)))) + 1):
        label = np.minimum(label, label[following])
        following = following[following]
    _, loop = np.unique(label[sides[:, 0]], return_inverse=True)
    return loop.astype(np.int64)


def torsion_lower_bound(elements: Elements, matrix: csc_array, rim: Rim) -> float:
    """Return the torsion constant from the stress function, mm4, never above the true one.

    L. Prandtl (1903): Poisson's equation, zero on the outside and a constant on the edge of each void; J = twice its volume.
    The minimum of the complementary energy (I. S. Sokolnikoff, Mathematical Theory of Elasticity, chapter 4, from memory).
    matrix: of what yields to shear, 1 / shear modulus.
    """
    from scipy.sparse import coo_array

    unknown = _unknowns(elements, rim)
    known = unknown >= 0
    n = int(unknown.max()) + 1
    place = coo_array(
        (np.ones(int(known.sum())), (np.flatnonzero(known), unknown[known])), shape=(len(unknown), n)
    ).tocsc()
    blocks = 2 * contracted("mg,gi->mi", elements.weights, VALUES)
    load: Array = np.asarray(place.T @ assembled(elements, blocks[..., None])[:, 0], dtype=np.float64)
    load[n - len(rim.voids) :] -= 2 * rim.enclosed[rim.voids]
    return float(load @ factorised((place.T @ matrix @ place).tocsc())(load))


def _unknowns(elements: Elements, rim: Rim) -> IntArray:
    """Return the unknown of each node: its own inside, one for each void (the last ones), -1 on the outside."""
    inside = np.ones(len(elements.nodes), dtype=np.bool_)
    inside[rim.sides] = False
    unknown = np.full(len(elements.nodes), -1, dtype=np.int64)
    unknown[inside] = np.arange(int(inside.sum()))
    for i, void in enumerate(rim.voids):
        unknown[rim.sides[rim.loop == void]] = int(inside.sum()) + i
    return unknown


SHARP_TURN = np.radians(25.0)
"""A rim that turns into the material by more than this in one point is a sharp corner; the pieces of an arc turn far less."""


def sharp_corners(elements: Elements, rim: Rim) -> Array:
    """Return the sharp re-entrant corners of the rim, (k, 2), mm."""
    along = elements.nodes[rim.sides[:, 2]] - elements.nodes[rim.sides[:, 0]]
    arriving = np.zeros((len(elements.nodes), 2))
    arriving[rim.sides[:, 2]] = along
    before = arriving[rim.sides[:, 0]]
    turn = np.arctan2(before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0], np.sum(before * along, axis=1))
    corners: Array = elements.nodes[rim.sides[turn < -SHARP_TURN, 0]]
    return corners


def beside_sharp_corner(elements: Elements, rim: Rim, points: Array) -> BoolArray:
    """Return which points (n, 2) lie within a mean wall thickness (2 A / rim) of a sharp re-entrant corner."""
    corners = sharp_corners(elements, rim)
    if not len(corners):
        return np.zeros(len(points), dtype=np.bool_)
    distance = np.linalg.norm(points[:, None, :] - corners[None, :, :], axis=2).min(axis=1)
    near: BoolArray = distance <= mean_wall(elements, rim)
    return near


def mean_wall(elements: Elements, rim: Rim) -> float:
    """Return 2 A / rim, which for thin walls is their thickness, mm."""
    along = elements.nodes[rim.sides[:, 2]] - elements.nodes[rim.sides[:, 0]]
    return float(2 * elements.area.sum() / np.linalg.norm(along, axis=1).sum())


@array_class
class Shear:
    """Shear stress per unit Vy and Vz (last axis), 1/mm2.

    at_nodes (m, 6, 2, 2): tau_xy, tau_xz at each triangle's nodes; torque (2,): of the stress about the centroid, mm;
    areas (2,): A_s = 1 / integral of tau2 (complementary energy), mm2.
    """

    at_nodes: Array
    torque: Array
    areas: Array


def shear_of(potential: Potential, plane: StrainPlane, poisson: float) -> Shear:
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


def _local_nodes(elements: Elements, plane: StrainPlane) -> Array:
    """Return the triangles' nodes measured from the centroid of their body, (m, 6, 2)."""
    local: Array = elements.nodes[elements.ids] - plane.centroid - plane.own[plane.body][:, None, :]
    return local


NO_WARPING = 1e-9
"""A warping constant below this share of area cubed is rounding: a round bar does not warp."""


@array_class
class SolidTwist:
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


def twist_of(potential: Potential, plane: StrainPlane) -> SolidTwist:
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
        return SolidTwist(constant, centre, np.zeros_like(warping), 0.0, free, np.zeros_like(free))
    held = rigid * nodal_flow(elements, _warping_shear(potential, sampled, warping_constant))
    return SolidTwist(constant, centre, warping, warping_constant, free, held)


def _turned(at: Array) -> Array:
    """Return the displacement of points (..., y z) in a unit turn about x: (-z, y)."""
    return np.stack([-at[..., 1], at[..., 0]], axis=-1)


def _warping(potential: Potential, plane: StrainPlane) -> tuple[Array, float]:
    """Return the warping function (n,) about the centroid, mm2, and the torsion constant, mm4.

    A. J. C. Barre de Saint-Venant (1855): Laplace's equation, no shear across the border; J = Ip - integral of the load times w.
    Where metals differ each counts by its shear modulus (N. I. Muskhelishvili's compound bar, from memory).
    """
    elements = potential.elements
    arm, rigid = elements.at - plane.centroid, elements.rigid[:, None]
    load = load_from(elements, -(rigid[..., None] * _turned(arm))[..., None], np.zeros((*arm.shape[:2], 1)))[:, 0]
    warping = potential.solve(load)
    return warping, float(elements.integral(rigid * np.sum(arm**2, axis=-1)) - load @ warping)


def _about_shear_centre(potential: Potential, plane: StrainPlane, warping: Array) -> tuple[Array, Array]:
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
