"""What shapes within pieces add to the answer of a moved frame: bows between the nodes, and their moments and shears. SI."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.bubbles import LONG
from framecheck.frame.stations import Stations
from framecheck.model.arrays import Array
from framecheck.value_class import array_class

MOST = LONG.polynomials


@array_class
class Bow:
    """Of n pieces in k cases. bent (2, MOST, n, k): Ms and Mv of each Legendre polynomial, Nm; moved (2, MOST, n, k): amount of each
    integral of one in v and w, m; pushes (n, 2, 7, k): what is outside must do to the ends for it; length (n,).
    """

    bent: Array
    moved: Array
    pushes: Array
    length: Array

    def add_forces(self, forces: Array, stations: Stations) -> None:
        """Add shears and moments to forces (8, m, k) at stations."""
        length, (_, curve, rise) = self.length[stations.piece], _polynomials()
        at = stations.at / length
        for way in (0, 1):
            bent = self.bent[way][:, stations.piece]
            forces[4 + way] += np.einsum("sm,smk->mk", _at(curve, at), bent)
            forces[1 + way] += np.einsum("sm,smk->mk", _at(rise, at) / length, bent)

    def add_moves(self, moves: Array, stations: Stations) -> None:
        """Add movements of the shear centre to moves (6, m, k) at stations; slopes as if nothing sheared."""
        length, (value, slope, _) = self.length[stations.piece], _polynomials()
        at = stations.at / length
        for way in (0, 1):
            moved = self.moved[way][:, stations.piece]
            moves[1 + way] += np.einsum("sm,smk->mk", _at(value, at), moved)
            moves[4 + way] += np.einsum("sm,smk->mk", _at(slope, at) / length, moved)


Polynomials = tuple[np.polynomial.Legendre, ...]


@lru_cache(maxsize=1)
def _polynomials() -> tuple[Polynomials, Polynomials, Polynomials]:
    """Return the integrals of Legendre's polynomials over 0 to 1, the polynomials, their slopes."""
    basis = tuple(np.polynomial.Legendre.basis(degree, domain=[0.0, 1.0]) for degree in range(1, MOST + 1))
    return tuple(each.integ(lbnd=0.0) for each in basis), basis, tuple(each.deriv() for each in basis)


def _at(polynomials: Polynomials, place: Array) -> Array:
    """Return polynomials at places (m,) of 0 to 1, (s, m)."""
    return np.stack([each(place) for each in polynomials])
