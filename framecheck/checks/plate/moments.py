"""Moments and stresses at the nodes of the plate, per unit of load. A point support's own node, where theory gives infinity,
and what lies under its seat are left out: the moment beside a bolt is taken at the edge of its seat.
"""

from __future__ import annotations

import numpy as np

from framecheck.checks.plate.bending import PlateMesh, UnitBending
from framecheck.checks.plate.softening import sheet_yield
from framecheck.checks.plate.stiffeners import Beam
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.plate import StiffenerRun
from framecheck.value_class import array_class, value_class
from framecheck.yield_criterion import equivalent_in_sheet


@array_class
class Tensors:
    """xx, yy and xy of a plane tensor at the nodes, shape (3, nx, ny)."""

    values: Array

    def __add__(self, other: Tensors) -> Tensors:
        return Tensors(self.values + other.values)

    def times(self, factor: float) -> Tensors:
        """Return every value times a factor."""
        return Tensors(self.values * factor)

    def von_mises(self) -> Array:
        """Return the equivalent stress, shape (nx, ny)."""
        return equivalent_in_sheet(*self.values)


def curvatures(sheet: PlateMesh, shape: Array) -> Tensors:
    """Return w_xx, w_yy, w_xy at the nodes, 1/m, mean of the elements that meet there."""
    x, y = sheet.x, sheet.y
    return Tensors(
        frozen(np.stack([
            x.node_bend @ shape @ y.node_value.T,
            x.node_value @ shape @ y.node_bend.T,
            x.node_slope @ shape @ y.node_slope.T,
        ]))
    )  # fmt: skip


def moments(sheet: PlateMesh, shape: Array) -> Tensors:
    """Return M_x, M_y, M_xy at the nodes, N: D (w_xx + nu w_yy) and so on (Kirchhoff), + with tension at the bottom."""
    nu, d = sheet.plate.material.poissons_ratio, sheet.plate.rigidity
    xx, yy, xy = curvatures(sheet, shape).values
    return Tensors(frozen(d * np.stack([xx + nu * yy, yy + nu * xx, (1 - nu) * xy])))


def clear_of_seats(sheet: PlateMesh) -> BoolArray:
    """Return which nodes (nx, ny) lie outside every bolt's seat, or on its edge."""
    clear = np.ones((len(sheet.x.nodes), len(sheet.y.nodes)), dtype=bool)
    for bolt in sheet.plate.bolts:
        away = np.hypot(sheet.x.nodes[:, None] - bolt.at[0], sheet.y.nodes[None, :] - bolt.at[1])
        clear &= away > max(bolt.seat / 2 * (1 - 1e-6), 1e-9)
    return clear


def surface_stress(sheet: PlateMesh, bending: UnitBending) -> Tensors:
    """Return the bending stress at the surface per unit of load, Pa: 6 M / t2."""
    return moments(sheet, bending.shape).times(6 / sheet.plate.thickness**2)


@value_class
class Peak:
    """The stress nearest to the yield strength of its place, both in Pa, and where (m)."""

    stress: float
    yield_strength: float
    at: tuple[float, float]


def worst_of(sheet: PlateMesh, stress: Array, counts: BoolArray) -> Peak:
    """Return the stress (nx, ny) nearest to yield of the nodes that count, clear of the bolts' seats."""
    strength = yields(sheet)
    share = np.where(clear_of_seats(sheet) & counts, stress / strength, 0.0)
    i, j = np.unravel_index(int(np.argmax(share)), share.shape)
    at = float(sheet.x.nodes[i]), float(sheet.y.nodes[j])
    return Peak(float(stress[i, j]) if share[i, j] > 0 else 0.0, float(strength[i, j]), at)


def yields(sheet: PlateMesh) -> Array:
    """Return the sheet's yield strength at the nodes, Pa, shape (nx, ny)."""
    return sheet_yield(sheet.plate, sheet.x.nodes[:, None], sheet.y.nodes[None, :])


def beam_stress(sheet: PlateMesh, beam: Beam, curvature: Array) -> float:
    """Return the largest stress in a stiffener's outermost fibre, Pa."""
    return float(np.abs(fibre_stress(sheet, beam, curvature, beam.reach)).max(initial=0.0))


def fibre_stress(sheet: PlateMesh, beam: Beam, curvature: Array, height: float) -> Array:
    """Return the stress in a stiffener at a height (m, up) over its centroid, Pa, at the Gauss points along it, + in tension.
    curvature (g,): how fast its section turns there, 1/m.

    E times curvature times distance, less towards its ends: they are free of stress, which flows in over a length like its height.
    """
    along = sheet.x if beam.stiffener.run is StiffenerRun.X else sheet.y
    inside = along.within(beam.stiffener.start, beam.stiffener.end) > 0
    spots = along.gauss[inside]
    to_end = np.minimum(spots - beam.stiffener.start, beam.stiffener.end - spots)
    passed = np.clip(to_end / beam.stiffener.height, 0.0, 1.0)
    return np.asarray(-sheet.plate.material.youngs_modulus * height * curvature[inside] * passed)


def deflection(shape: Array) -> Array:
    """Return the movement at the nodes, m, up, shape (nx, ny)."""
    return shape[::2, ::2]
