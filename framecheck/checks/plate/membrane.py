"""Large deflections: what the plate gains as a membrane where its supports keep it from drawing in.

One shape, that of small deflections, scaled by a factor a. Its slopes stretch the sheet by half their product; the sheet moves in
its plane to ease that, held where it is clamped. What energy is left, c a4, stiffens the plate. Ritz's method: for that shape the
stiffness is from above, the deflection from below.
"""

from __future__ import annotations

from math import asinh, inf, sinh, sqrt
from typing import TYPE_CHECKING

import numpy as np

from framecheck.checks.plate.banded import BandedFactors, factored
from framecheck.checks.plate.bending import PlateMesh, UnitBending, added_up
from framecheck.checks.plate.lines import PlateLine
from framecheck.checks.plate.moments import Tensors
from framecheck.checks.plate.stiffeners import HELD_SIDES
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.plate import EdgeHold, InPlane, PlateBolt, StiffenerRun
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csr_array


@array_class
class Membrane:
    """What the shape of one unit of load stretches. energy: J at a = 1; forces: N_x, N_y, N_xy at the nodes, N/m, at a = 1; inside:
    the same at the Gauss points (3, gx, gy); pulls (n_bolts, 3): what the sheet puts on each bolt along x and y, N, and about z by its
    seat, Nm, at a = 1. All but energy (a4) go with a2.
    """

    energy: float
    forces: Tensors
    pulls: Array
    inside: Array


def amplitude(load: float, work: float, energy: float) -> float:
    """Return a of load = a + c a3, c = 4 energy / work: the balance of Ritz's method in one shape. load: in units."""
    c = 4 * energy / work
    if c * load**2 < 1e-12:
        return load
    root = sqrt(3 * c)
    return 2 / root * sinh(asinh(1.5 * abs(load) * root) / 3) * (1 if load > 0 else -1)


def load_of(a: float, work: float, energy: float) -> float:
    """Return the load, in units, that brings the shape to the amplitude a."""
    return a + 4 * energy / work * a**3


def elastic_energy(a: float, work: float, energy: float) -> float:
    """Return the energy at the amplitude a, J: bending work a2 / 2 and membrane energy a4."""
    return 0.5 * work * a**2 + energy * a**4


def stretch_of_shape(sheet: PlateMesh, shape: Array) -> Array:
    """Return N_x, N_y, N_xy (3, gx, gy) at the Gauss points if nothing moved in the plane, N/m: plane stress of half the
    products of the slopes (von Karman).
    """
    slope_x = sheet.x.slope @ shape @ sheet.y.value.T
    slope_y = sheet.x.value @ shape @ sheet.y.slope.T
    return plane_stress(sheet, np.stack([slope_x**2 / 2, slope_y**2 / 2, slope_x * slope_y]))


def plane_stress(sheet: PlateMesh, strain: Array) -> Array:
    """Return N_x, N_y, N_xy, N/m, of strains (3, ...), the third the shear angle: E t / (1 - nu2)."""
    material, nu = sheet.plate.material, sheet.plate.material.poissons_ratio
    rigid = material.youngs_modulus * sheet.plate.thickness / (1 - nu**2)
    return np.asarray(
        rigid * np.stack([strain[0] + nu * strain[1], strain[1] + nu * strain[0], (1 - nu) / 2 * strain[2]])
    )


def _forces_on_unknowns(sheet: PlateMesh, stretch: Array) -> Array:
    """Return the integral of N : strain of every in-plane unknown, shape (2, mx, my)."""
    x, y = sheet.x, sheet.y
    nx, ny, nxy = stretch * (x.weights[:, None] * y.weights[None, :])
    along = x.flat_slope.T @ nx @ y.flat_value + x.flat_value.T @ nxy @ y.flat_slope
    across = x.flat_value.T @ ny @ y.flat_slope + x.flat_slope.T @ nxy @ y.flat_value
    return np.stack([along, across])


def _matrices(line: PlateLine) -> tuple[Array, Array, Array]:
    value, slope = line.flat_value, line.flat_slope
    return line.weighed(value, value), line.weighed(slope, slope), line.weighed(slope, value)


def plane_stiffness(sheet: PlateMesh) -> csr_array:
    """Return the in-plane stiffness (n, n), unknowns as _flat gives them: u and v side by side at each place.

    Plane stress, E t / (1 - nu2); quadratic rectangles.
    """
    nu = sheet.plate.material.poissons_ratio
    rigid = sheet.plate.material.youngs_modulus * sheet.plate.thickness / (1 - nu**2)
    (mx, sx, cx), (my, sy, cy) = _matrices(sheet.x), _matrices(sheet.y)
    one, two, mixed = np.diag([1.0, 0.0]), np.diag([0.0, 1.0]), np.array([[0.0, 1.0], [0.0, 0.0]])
    half = (1 - nu) / 2
    parts = (
        (sx, np.kron(my, one) + half * np.kron(my, two)),
        (mx, half * np.kron(sy, one) + np.kron(sy, two)),
        (cx, nu * np.kron(cy.T, mixed) + half * np.kron(cy.T, mixed.T)),
        (cx.T, half * np.kron(cy, mixed) + nu * np.kron(cy, mixed.T)),
    )
    pattern = np.kron(np.abs(my) + np.abs(cy) + np.abs(cy.T), np.ones((2, 2)))
    whole = np.abs(mx) + np.abs(cx) + np.abs(cx.T)
    return added_up(whole, pattern, ((rigid * along, across) for along, across in parts))


def under_seat(sheet: PlateMesh, bolt: PlateBolt) -> BoolArray:
    """Return which in-plane places (mx, my) lie under a bolt's seat: its nearest one at least."""
    x, y = sheet.x.flat_nodes, sheet.y.flat_nodes
    away = np.hypot(x[:, None] - bolt.at[0], y[None, :] - bolt.at[1])
    return np.asarray(away <= max(bolt.seat / 2 * (1 + 1e-6), float(away.min())))


def plane_held(sheet: PlateMesh) -> BoolArray:
    """Return which in-plane places (mx, my) are held: under bolts, along held edges."""
    found = np.zeros((len(sheet.x.flat_nodes), len(sheet.y.flat_nodes)), dtype=bool)
    for bolt in sheet.plate.bolts:
        found |= under_seat(sheet, bolt)
    for edge in sheet.plate.edges:
        if edge.hold is not EdgeHold.ELASTIC:
            run, end = HELD_SIDES[edge.edge]
            (found.T if run is StiffenerRun.X else found)[end] = True
    return found


def _at_nodes(sheet: PlateMesh, shape: Array, moved: Array) -> Tensors:
    """Return the membrane forces at the nodes from the shape's slopes and the in-plane movement (2, mx, my)."""
    x, y = sheet.x, sheet.y
    slope_x = x.node_slope @ shape @ y.node_value.T
    slope_y = x.node_value @ shape @ y.node_slope.T
    along, across = moved[:, :, ::2], moved[:, ::2, :]
    strain = np.stack([
        x.node_flat_slope @ along[0] + slope_x**2 / 2,
        across[1] @ y.node_flat_slope.T + slope_y**2 / 2,
        across[0] @ y.node_flat_slope.T + x.node_flat_slope @ along[1] + slope_x * slope_y,
    ])  # fmt: skip
    return Tensors(frozen(plane_stress(sheet, strain)))


@array_class
class MembranePlane:
    """The sheet in its own plane: stiffness (n, n), factored where it is not held; places along x and y."""

    sheet: PlateMesh
    matrix: csr_array
    solver: BandedFactors
    places: tuple[int, int]


def plane_of(sheet: PlateMesh) -> MembranePlane:
    """Return the sheet in its own plane, held as the plate is."""
    matrix, places = plane_stiffness(sheet), (len(sheet.x.flat_nodes), len(sheet.y.flat_nodes))
    return MembranePlane(sheet, matrix, factored(matrix, ~np.repeat(plane_held(sheet).ravel(), 2), places), places)


def membrane_of(plane: MembranePlane, shape: Array) -> Membrane:
    """Return the membrane action of a shape of W."""
    sheet = plane.sheet
    stretch = stretch_of_shape(sheet, shape)
    push = _flat(_forces_on_unknowns(sheet, stretch))[:, None]
    moved = plane.solver.solve(-push)
    left, there = _pair((plane.matrix @ moved + push)[:, 0], plane.places), _pair(moved[:, 0], plane.places)
    return Membrane(
        _energy(sheet, shape, stretch) + 0.5 * float(moved[:, 0] @ push[:, 0]),
        _at_nodes(sheet, shape, there),
        frozen(np.array([_pull(sheet, bolt, left) for bolt in sheet.plate.bolts]).reshape(-1, 3)),
        frozen(stretch + plane_stress(sheet, _strain_inside(sheet, there))),
    )


def membranes(sheet: PlateMesh, shapes: tuple[UnitBending, ...]) -> tuple[Membrane, ...]:
    """Return the membrane action of each shape; none of it where the plate is free to draw in."""
    if sheet.plate.in_plane is InPlane.FREE:
        return tuple(none_of(sheet) for _ in shapes)
    plane = plane_of(sheet)
    return tuple(membrane_of(plane, each.shape) for each in shapes)


def _strain_inside(sheet: PlateMesh, moved: Array) -> Array:
    """Return the strains (3, gx, gy) at the Gauss points of an in-plane movement (2, mx, my)."""
    x, y = sheet.x, sheet.y
    shear = x.flat_value @ moved[0] @ y.flat_slope.T + x.flat_slope @ moved[1] @ y.flat_value.T
    return np.stack([x.flat_slope @ moved[0] @ y.flat_value.T, x.flat_value @ moved[1] @ y.flat_slope.T, shear])


def none_of(sheet: PlateMesh) -> Membrane:
    """Return no membrane action."""
    nodes = (3, len(sheet.x.nodes), len(sheet.y.nodes))
    pulls, inside = np.zeros((len(sheet.plate.bolts), 3)), np.zeros((3, len(sheet.x.gauss), len(sheet.y.gauss)))
    return Membrane(0.0, Tensors(frozen(np.zeros(nodes))), frozen(pulls), frozen(inside))


def _flat(pair: Array) -> Array:
    """Return (2, mx, my) as one row, the two of each place side by side."""
    return pair.transpose(1, 2, 0).ravel()


def _pair(row: Array, places: tuple[int, int]) -> Array:
    """Return the row of _flat as (2, mx, my)."""
    return row.reshape(*places, 2).transpose(2, 0, 1)


def _energy(sheet: PlateMesh, shape: Array, stretch: Array) -> float:
    """Return half the integral of N : strain of the slopes alone, J."""
    slope_x = sheet.x.slope @ shape @ sheet.y.value.T
    slope_y = sheet.x.value @ shape @ sheet.y.slope.T
    strain = np.stack([slope_x**2 / 2, slope_y**2 / 2, slope_x * slope_y])
    return 0.5 * float(sheet.x.weights @ np.sum(strain * stretch, axis=0) @ sheet.y.weights)


def _pull(sheet: PlateMesh, bolt: PlateBolt, left: Array) -> tuple[float, float, float]:
    """Return what the sheet puts on a bolt: against what holds the places under its seat (2, mx, my), with its turning about z."""
    seat = under_seat(sheet, bolt)
    x, y = np.meshgrid(sheet.x.flat_nodes - bolt.at[0], sheet.y.flat_nodes - bolt.at[1], indexing="ij")
    along, across = -left[0][seat], -left[1][seat]
    return float(along.sum()), float(across.sum()), float(x[seat] @ across - y[seat] @ along)


def yield_amplitude(bending: Array, stretching: Array, strength: Array) -> float:
    """Return the amplitude at which the surface first yields. bending, stretching (3, n): Pa at a = 1, both surfaces; the first goes
    with a, the second with a2; strength (n,): Pa. von Mises; bisection.
    """

    def share(a: float) -> float:
        return float((Tensors(bending * a + stretching * a**2).von_mises() / strength).max())

    high = 1.0
    while share(high) < 1.0:
        high *= 2
        if high > 1e30:
            return inf
    low = 0.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if share(middle) < 1.0 else (low, middle)
    return high
