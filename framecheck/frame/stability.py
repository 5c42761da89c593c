"""By how much all loads of a case may grow before the frame itself buckles, elastically. SI.

The least positive a with (K + a G) x = 0, G the geometric stiffness under the forces of the first-order answer. K stays as it is
factorised: shapes within pieces store no energy with it (bubbles.py). A frame that hangs on nothing is held by the mean of its own
mass, which neither moves nor turns.
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.bubbles import own_movements
from framecheck.frame.buckling_model import Hold, Part, hold_of, parts_of
from framecheck.frame.element import END
from framecheck.frame.geometric import arm_forms, end_forces, geometric_stiffness, offset_forms
from framecheck.frame.lanczos import greatest
from framecheck.frame.linear import Factored
from framecheck.frame.links import supports_of
from framecheck.frame.report import Answered
from framecheck.frame.results import NEVER, Buckling
from framecheck.frame.second_order import growth_of
from framecheck.frame.solve import factor_of, hanging_supports
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.value_class import array_class


@array_class
class Turning:
    """Forms (m, k, 3, 3) on three unknowns `at` (m, 3)."""

    at: IntArray
    forms: Array


@array_class
class Search:
    """A frame of `count` unknowns as Lanczos' iteration sees it: parts, geometric stiffness (m, k, own, own), factors."""

    count: int
    parts: tuple[Part, ...]
    own: tuple[Array, ...]
    turning: Turning
    factor: Factored
    hold: Hold | None

    def forces(self, moved: Array, cases: IntArray) -> Array:
        """Return minus G times movements (N, j): the unknowns, then the shapes of the parts."""
        known = np.concatenate((moved[: self.count], np.zeros((1, moved.shape[1]))))
        summed, inner = np.zeros_like(known), []
        for part, own in zip(self.parts, self.own, strict=True):
            local = np.concatenate((part.maps @ known[part.at], part.shaped(moved)), axis=1)
            felt = (own[:, cases] @ local.transpose(0, 2, 1)[..., None])[..., 0].transpose(0, 2, 1)
            np.add.at(summed, part.at, part.maps.transpose(0, 2, 1) @ felt[:, : 2 * END])
            inner.append(felt[:, 2 * END :].reshape(-1, moved.shape[1]))
        if len(self.turning.at):
            turned = (self.turning.forms[:, cases] @ known[self.turning.at].transpose(0, 2, 1)[..., None])[..., 0]
            np.add.at(summed, self.turning.at, turned.transpose(0, 2, 1))
        return -np.concatenate((summed[:-1], *inner))

    def movements(self, forces: Array) -> Array:
        """Return the movements (N, j) that forces (N, j) make of the frame as it is."""
        if self.hold is not None:
            forces = self.hold.off_forces(forces)
        moved, factor = np.zeros_like(forces), self.factor
        moved[factor.free] = factor.scale[:, None] * factor.solve(factor.scale[:, None] * forces[factor.free])
        for part in self.parts:
            moved[part.inner] = own_movements(part.bend, part.twist, part.shaped(forces)).reshape(-1, forces.shape[1])
        return moved if self.hold is None else self.hold.off_movements(moved)

    def start(self) -> Array:
        """Return forces (N, 1) with something of every movement, each as large as the root of its own stiffness."""
        scale = np.zeros(self.count)
        scale[self.factor.free] = 1 / self.factor.scale
        whole = np.concatenate((scale, *(part.sizes() for part in self.parts)))
        return np.asarray(whole * np.sin(np.arange(1.0, len(whole) + 1) ** 2))[:, None]


def frame_buckling(answered: Answered, targets: Array) -> Buckling:
    """Return the factors at which the frame buckles in each case of an answer; targets (k,): factors asked of the loads."""
    afloat = np.array([case.afloat for case in answered.cases], dtype=np.bool_)
    factors, settled = np.full(len(afloat), NEVER), np.ones(len(afloat), dtype=np.bool_)
    for hanging in (False, True):
        cases = np.flatnonzero(afloat == hanging)
        if len(cases):
            search = search_of(answered, cases, hanging)
            found = greatest(search, search.start(), len(cases))
            factors[cases], settled[cases] = 1 / np.maximum(found.values, 1 / NEVER), found.settled
    return Buckling(frozen(factors), settled, frozen(growth_of(factors, targets)))


def search_of(answered: Answered, cases: IntArray, hanging: bool) -> Search:
    """Return the search in some cases that all hang on the supports, or all on nothing."""
    structure, answer = answered.structure, answered.solved.answer
    parts = parts_of(structure, answer)
    own = [geometric_stiffness(answer, part.rows, part.stations, cases) for part in parts]
    pushes = end_forces(answer)[:, :, cases]
    offsets = offset_forms(structure.beams, pushes)
    for part, stiff in zip(parts, own, strict=True):
        for end in (0, 1):
            at = END * end + np.array([3, 4, 5])
            stiff[..., at[:, None], at] += offsets[end, part.pieces]
    if hanging:
        factor, hold = factor_of(structure, "afloat", hanging_supports(structure)), hold_of(structure, parts)
    else:
        factor, hold = factor_of(structure, "supports", supports_of(structure.frame, structure.frame.supports)), None
    return Search(structure.freedoms.count, parts, tuple(own), _arms(answered, pushes), factor, hold)


def _arms(answered: Answered, pushes: Array) -> Turning:
    """Return what the pieces' end forces (2, n, k, 3) do on the arms to the nodes."""
    pieces = answered.structure.pieces
    long = np.flatnonzero(pieces.arms.any(axis=(1, 2)))
    nodes = pieces.nodes[long].T.reshape(-1)
    forms = arm_forms(answered.structure.beams, pushes, pieces.arms)[:, long]
    return Turning(6 * nodes[:, None] + np.array([3, 4, 5]), forms.reshape(len(nodes), pushes.shape[2], 3, 3))


