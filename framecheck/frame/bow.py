"""What shapes within pieces add to the answer of a moved frame: bows between the nodes, and their moments and shears. SI."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.bubbles import LONG
from framecheck.frame.stations import Stations
from framecheck.model.arrays import Array
from framecheck.value_class import array_class

MOST = LONG[0]


@array_class
class Bow:
    """Of n pieces in k cases. bent (2, MOST, n, k): Ms and Mv of each Legendre polynomial of degree 2 and more, Nm; moved (2, MOST, n,
    k): amount of each shape in v and w, m; pushes (n, 2, 7, k): what is outside must do to the ends for it; length (n,).
    """

    bent: Array
    moved: Array
    pushes: Array
    length: Array

    def add_forces(self, forces: Array, stations: Stations) -> None:
        """Add shears and moments to forces (8, m, k) at stations."""
        length = self.length[stations.piece]
        curve, rise = (_at(_polynomials()[each], stations.at / length) for each in (0, 3))
        for way in (0, 1):
            bent = self.bent[way][:, stations.piece]
            forces[4 + way] += np.einsum("sm,smk->mk", curve, bent)
            forces[1 + way] += np.einsum("sm,smk->mk", rise / length, bent)

    def add_moves(self, moves: Array, stations: Stations) -> None:
        """Add movements of the shear centre to moves (6, m, k) at stations; slopes as if nothing sheared."""
        length = self.length[stations.piece]
        value, slope = (_at(_polynomials()[each], stations.at / length) for each in (2, 1))
        for way in (0, 1):
            moved = self.moved[way][:, stations.piece]
            moves[1 + way] += np.einsum("sm,smk->mk", value, moved)
            moves[4 + way] += np.einsum("sm,smk->mk", slope / length, moved)


@lru_cache(maxsize=1)
def _polynomials() -> tuple[tuple[np.polynomial.Legendre, ...], ...]:
    """Return the shapes' curves, slopes, values, and the slopes of their curves, over 0 to 1."""
    curves = tuple(np.polynomial.Legendre.basis(degree, domain=[0.0, 1.0]) for degree in range(2, 2 + MOST))
    integrals = (tuple(each.integ(times, lbnd=0.0) for each in curves) for times in (1, 2))
    return (curves, *integrals, tuple(each.deriv() for each in curves))


def _at(polynomials: tuple[np.polynomial.Legendre, ...], place: Array) -> Array:
    """Return polynomials at places (m,) of 0 to 1, (s, m)."""
    return np.stack([each(place) for each in polynomials])
