"""A body told by its stiffness: what it resists of six points' movements. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.freedoms import Blocks
from framecheck.frame.results import Bound, Shell
from framecheck.frame.supports import rigid_moves
from framecheck.model.arrays import Array, IntArray
from framecheck.model.body import Range, StatedBody
from framecheck.model.frame import Frame
from framecheck.value_class import array_class


@array_class
class BodySprings:
    """One or two springs: freedoms (s, j) unknowns, rows (s, j): them to how far each is strained (rad; m), stiffness (s,)."""

    freedoms: IntArray
    rows: Array
    stiffness: Array

    @property
    def blocks(self) -> Blocks:
        """Return their part of the frame's stiffness."""
        return Blocks(self.freedoms, self.stiffness[:, None, None] * self.rows[:, :, None] * self.rows[:, None, :])

    def energies(self, unknowns: Array) -> Array:
        """Return the energy (s, k) that each stores, J."""
        strained = np.einsum("sj,sjk->sk", self.rows, unknowns[self.freedoms])
        found: Array = self.stiffness[:, None] * strained**2 / 2
        return found


def body_springs(frame: Frame, bound: Bound) -> BodySprings | None:
    """Return the springs of a stated body under a bound, None where there is none."""
    if frame.body is None:
        return None
    strains = list(_strains(frame, frame.body))
    number = {name: place for place, name in enumerate(frame.points)}
    widest = max(len(names) for names, _, _ in strains)
    freedoms, rows = np.zeros((len(strains), 3 * widest), dtype=np.int64), np.zeros((len(strains), 3 * widest))
    for spring, (names, weights, _) in enumerate(strains):
        padded = (*names, *(names[0],) * (widest - len(names)))
        freedoms[spring] = (6 * np.array([number[name] for name in padded])[:, None] + np.arange(3)).ravel()
        rows[spring, : 3 * len(names)] = weights
    chosen = [_stiffness(each, bound) for _, _, each in strains]
    return BodySprings(freedoms, rows, np.array(chosen))


def _stiffness(between: Range, bound: Bound) -> float:
    return between[0] if bound.shell is Shell.SOFT else between[1]


def _strains(frame: Frame, body: StatedBody) -> Iterator[tuple[Sequence[str], Array, Range]]:
    """Yield points, what their movements (3 n,) strain, and the range of stiffness against it."""
    places = np.array([frame.points[name] for name in body.corners])
    front, rear = places[0, 1] - places[1, 1], places[2, 1] - places[3, 1]
    up = np.array([1 / front, -1 / front, -1 / rear, 1 / rear])
    yield body.corners, _in_balance(places, up), body.torsion
    if body.middle:
        names = (*body.corners, *body.middle)
        every = np.array([frame.points[name] for name in names])
        share = (every[4:, 0].mean() - places[2:, 0].mean()) / (places[:2, 0].mean() - places[2:, 0].mean())
        weights = np.array([share, share, 1 - share, 1 - share, -1.0, -1.0]) / 2
        yield names, _in_balance(every, weights), body.bending


def _in_balance(places: Array, up: Array) -> Array:
    """Return upward weights (n,) at places as a row (3 n,) that no rigid move strains."""
    row = np.zeros((len(places), 3))
    row[:, 2] = up
    rigid = rigid_moves(places - places.mean(axis=0)).reshape(-1, 6)
    flat = row.ravel()
    found: Array = flat - rigid @ (np.linalg.pinv(rigid) @ flat)
    return found
