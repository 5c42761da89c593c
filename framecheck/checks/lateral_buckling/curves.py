"""From elastic buckling to strength: each metal's curves for columns and for bending. Nominal values, SI."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import Enum

import numpy as np

from framecheck.checks.lateral_buckling.formulas import bent_moment, column_stress
from framecheck.model.arrays import Array
from framecheck.value_class import value_class


class MetalKind(Enum):
    """Metals with rules of their own, as materials call their kind."""

    STEEL = "steel"
    ALUMINIUM = "aluminium"
    OTHER = "other"


def kind_of(kind: str) -> MetalKind:
    """Return the metal of a kind of material."""
    return next((each for each in MetalKind if each.value == kind), MetalKind.OTHER)


@value_class
class Curves:
    """A metal's curves. column: yield strength and elastic stress (n,), Pa, to column stress (n,); bent: full moment and elastic
    moment (n,), Nm, to what is left (n,). source: where they stand.
    """

    column: Callable[[float, Array], Array]
    bent: Callable[[float, Array], Array]
    source: str


def reduction(slenderness: Array, imperfection: float, plateau: float) -> Array:
    """Return chi, (n,): 1 / (phi + sqrt(phi2 - l2)) <= 1, phi = (1 + alpha (l - l0) + l2) / 2.

    J. Ayrton, J. Perry (1886); EN 1999-1-1:2007, eq. (6.50), and EN 1993-1-1:2005, eq. (6.49), have the same form.
    imperfection: alpha; plateau: l0.
    """
    phi = (1 + imperfection * (slenderness - plateau) + slenderness**2) / 2
    root = np.sqrt(np.maximum(phi**2 - slenderness**2, 0.0))
    return np.asarray(np.where(slenderness <= plateau, 1.0, np.minimum(1 / (phi + root), 1.0)), dtype=np.float64)


def perry_column(imperfection: float, plateau: float) -> Callable[[float, Array], Array]:
    """Return a column curve of Perry's form."""

    def stress(yield_strength: float, elastic: Array) -> Array:
        return yield_strength * reduction(np.sqrt(yield_strength / elastic), imperfection, plateau)

    return stress


def perry_bent(imperfection: float, plateau: float) -> Callable[[float, Array], Array]:
    """Return a lateral buckling curve of Perry's form."""

    def moment(full: float, critical: Array) -> Array:
        return full * reduction(np.sqrt(full / np.maximum(critical, 1e-12 * full)), imperfection, plateau)

    return moment


def steel_column(yield_strength: float, elastic: Array) -> Array:
    """Return the column stress of steel, Pa, (n,): `column_stress` case by case."""
    return np.array([column_stress(yield_strength, each) for each in elastic.tolist()])


CURVES: Mapping[MetalKind, Curves] = {
    MetalKind.STEEL: Curves(
        steel_column, bent_moment, "ANSI/AISC 360-22, E3, E4, E7 (column); AISI S100-16, F2.1 (lateral-torsional)"
    ),
    MetalKind.ALUMINIUM: Curves(
        perry_column(0.32, 0.0),
        perry_bent(0.20, 0.4),
        "EN 1999-1-1:2007, 6.3.1, buckling class B (the worse, for any temper), and 6.3.2.2, classes 3 and 4; from memory",
    ),
    MetalKind.OTHER: Curves(
        perry_column(0.76, 0.0),
        perry_bent(0.76, 0.0),
        "Euler's load with the imperfection of EN 1993-1-1:2005, curve d, without a plateau (no rule for this metal; from memory)",
    ),
}
