"""A plane-stress finite-element model (scikit-fem, 9-node quadrilaterals) of a strip with a notch or a hole at x = 0.

Modelled: x >= 0 of a strip of height D with the notch at its upper edge. Rays from the middle of the notch's round bottom divide the
strip, level lines its straight side, so the elements are small where the stress is high.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

import numpy as np
from skfem import Basis, ElementQuad2, ElementVector, FacetBasis, LinearForm, MeshQuad, asm, condense, solve
from skfem.models.elasticity import lame_parameters, linear_elasticity

from framecheck.model.arrays import Array


class Edge(Enum):
    """What holds the upper or lower edge: nothing, or a plane of symmetry (loads alike, or opposite, on both sides)."""

    FREE = "free"
    SYMMETRIC = "symmetric"
    OPPOSITE = "opposite"


@dataclass(frozen=True)
class Strip:
    """Height D, notch depth h, radius r of its bottom, length modelled; what holds the edges."""

    height: float
    depth: float
    radius: float
    length: float
    top: Edge = Edge.FREE
    bottom: Edge = Edge.FREE


def outline(strip: Strip, round_parts: int, side_parts: int) -> tuple[Array, Array]:
    """Return places on the notch, from its root upwards, and facing places on the strip's outside, (n, 2) each."""
    centre = np.array([0.0, strip.height - strip.depth + strip.radius])
    corner = np.arctan2(strip.length, centre[1])
    angles = np.unique(np.concatenate((np.linspace(0, np.pi / 2, round_parts + 1), [corner])))
    turned = np.stack((np.sin(angles), -np.cos(angles)), axis=1)
    with np.errstate(divide="ignore"):
        reach = np.minimum(strip.length / np.maximum(turned[:, 0], 1e-15), centre[1] / np.maximum(-turned[:, 1], 1e-15))
    inner, outer = centre + strip.radius * turned, centre + reach[:, None] * turned
    if strip.depth > strip.radius * (1 + 1e-9):
        levels = np.linspace(centre[1], strip.height, side_parts + 1)[1:]
        inner = np.vstack((inner, np.stack((np.full_like(levels, strip.radius), levels), axis=1)))
        outer = np.vstack((outer, np.stack((np.full_like(levels, strip.length), levels), axis=1)))
    return inner, outer


def mesh_of(strip: Strip, round_parts: int = 20, side_parts: int = 10, across: int = 20) -> MeshQuad:
    """Return the mesh, graded towards the notch."""
    inner, outer = outline(strip, round_parts, side_parts)
    share = (np.geomspace(1.0, 40.0, across + 1) - 1) / 39
    places = inner[:, None] + share[None, :, None] * (outer - inner)[:, None]
    count, deep = places.shape[:2]
    number = np.arange(count * deep).reshape(count, deep)
    cells = np.stack((number[:-1, :-1], number[:-1, 1:], number[1:, 1:], number[1:, :-1])).reshape(4, -1)
    return MeshQuad(places.reshape(-1, 2).T, cells)


def root_stress(strip: Strip, pull: Callable[[Array], Array]) -> float:
    """Return the stress along x at the notch's root under a pull (stress along x over y) at the far end, per unit of the pull."""
    mesh, modulus, poisson = mesh_of(strip), 1.0, 0.3
    basis = Basis(mesh, ElementVector(ElementQuad2()), intorder=4)
    lame, shear = lame_parameters(modulus, poisson)
    plane = 2 * lame * shear / (lame + 2 * shear)
    stiffness = asm(linear_elasticity(plane, shear), basis)
    far = FacetBasis(mesh, basis.elem, facets=mesh.facets_satisfying(lambda x: np.isclose(x[0], strip.length)), intorder=4)
    load = asm(LinearForm(lambda v, w: pull(w.x[1]) * v[0]), far)
    moved = solve(*condense(stiffness, load, D=held(strip, basis)))
    corners = Basis(mesh, basis.elem, quadrature=(np.array([[0.0, 1.0, 1.0, 0.0], [0.0, 0.0, 1.0, 1.0]]), np.full(4, 0.25)))
    strain = np.asarray(corners.interpolate(moved).grad)
    stress = plane * (strain[0, 0] + strain[1, 1]) + 2 * shear * strain[0, 0]
    at = np.asarray(corners.global_coordinates())
    root = np.unravel_index(np.argmin(np.hypot(at[0], at[1] - (strip.height - strip.depth))), stress.shape)
    return float(stress[root])


def held(strip: Strip, basis: Basis) -> Array:
    """Return the numbers of the movements that are held: symmetry at x = 0, the edges, and one point against floating."""
    found = [basis.get_dofs(lambda x: np.isclose(x[0], 0.0)).all("u^1")]
    for edge, level in ((strip.top, strip.height), (strip.bottom, 0.0)):
        if edge is not Edge.FREE:
            way = "u^2" if edge is Edge.SYMMETRIC else "u^1"
            found.append(basis.get_dofs(lambda x, level=level: np.isclose(x[1], level)).all(way))
    if Edge.SYMMETRIC not in (strip.top, strip.bottom):
        found.append(basis.get_dofs(lambda x: np.isclose(x[0], 0.0) & np.isclose(x[1], 0.0)).all("u^2"))
    return np.unique(np.concatenate(found))
