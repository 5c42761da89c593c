"""A frame as the search for its buckling, and the answer on the moved frame, see it: K's factors, and G piece by piece. SI."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.frame.bubbles import own_movements
from framecheck.frame.buckling_model import Hold, Part, hold_of
from framecheck.frame.element import END
from framecheck.frame.fields import Answer, of_cases
from framecheck.frame.geometric import arm_forms, end_forces, offset_forms, times_geometric, wagner_of, weighed_forms
from framecheck.frame.grounds import ground_of
from framecheck.frame.linear import Factored
from framecheck.frame.report import Answered
from framecheck.frame.solve import factor_of, hanging_supports
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

TURNS = (slice(3, 6), slice(END + 3, END + 6))
"""Twist, v' and w' of a piece's ends among its own movements."""


@array_class
class Turning:
    """Forms (m, k, 3, 3) on three unknowns `at` (m, 3)."""

    at: IntArray
    forms: Array


@array_class
class Search:
    """A frame of `count` unknowns as Lanczos' iteration sees it: parts, what forces in them do, factors.

    forms (m, g, 6, 6, k): at the parts' Gauss points; ends (2, m, 3, 3, k): on twist, v' and w' of the parts' ends.
    """

    count: int
    cases: IntArray
    answer: Answer
    wagner: Array
    parts: tuple[Part, ...]
    forms: tuple[Array, ...]
    ends: tuple[Array, ...]
    turning: Turning
    factor: Factored
    hold: Hold | None

    @property
    def size(self) -> int:
        """Return the number of unknowns with the shapes within pieces."""
        return int(self.parts[-1].inner.stop)

    def among(self, which: IntArray) -> Search:
        """Return the search in some of its cases, by their places among them."""
        turning = Turning(self.turning.at, self.turning.forms[:, which])
        forms, ends = (tuple(each[..., which] for each in of) for of in (self.forms, self.ends))
        answer = of_cases(self.answer, which)
        return replace(self, cases=self.cases[which], answer=answer, forms=forms, ends=ends, turning=turning)

    def felt(self, moved: Array) -> tuple[Array, ...]:
        """Return G times movements (N, k) on each part's own movements (m, own, k), arms to the nodes left out."""
        known = np.concatenate((moved[: self.count], np.zeros((1, moved.shape[1]))))
        found = []
        for part, forms, ends in zip(self.parts, self.forms, self.ends, strict=True):
            local = np.concatenate((part.maps @ known[part.at], part.shaped(moved)), axis=1)
            felt = times_geometric(part.rows, forms, local)
            for form, turns in zip(ends, TURNS, strict=True):
                felt[:, turns] += np.einsum("mijk,mjk->mik", form, local[:, turns])
            found.append(felt)
        return tuple(found)

    def gathered(self, felt: tuple[Array, ...]) -> Array:
        """Return forces (N, k) on the unknowns and shapes from those on the parts' own movements."""
        cases = felt[0].shape[2]
        summed, inner = np.zeros((self.count + 1, cases)), []
        for part, each in zip(self.parts, felt, strict=True):
            np.add.at(summed, part.at, part.maps.transpose(0, 2, 1) @ each[:, : 2 * END])
            inner.append(each[:, 2 * END :].reshape(-1, cases))
        return np.concatenate((summed[:-1], *inner))

    def forces(self, moved: Array) -> Array:
        """Return minus G times movements (N, k): the unknowns, then the shapes of the parts."""
        return self.on_arms(self.gathered(self.felt(moved)), moved)

    def on_arms(self, forces: Array, moved: Array) -> Array:
        """Return minus forces (N, k) with what arms to the nodes add, of movements (N, k)."""
        if len(self.turning.at):
            turned = (self.turning.forms @ moved[self.turning.at].transpose(0, 2, 1)[..., None])[..., 0]
            np.add.at(forces, self.turning.at, turned.transpose(0, 2, 1))
        return -forces

    def movements(self, forces: Array) -> Array:
        """Return the movements (N, k) that forces (N, k) make of the frame as it is."""
        if self.hold is not None:
            forces = self.hold.off_forces(forces)
        moved, factor = np.zeros_like(forces), self.factor
        moved[factor.free] = factor.scale[:, None] * factor.solve(factor.scale[:, None] * forces[factor.free])
        for part in self.parts:
            moved[part.inner] = own_movements(part.twist, part.shaped(forces)).reshape(-1, forces.shape[1])
        return moved if self.hold is None else self.hold.off_movements(moved)

    def start(self) -> Array:
        """Return forces (N, 1) with something of every movement, each as large as the root of its own stiffness."""
        scale = np.zeros(self.count)
        scale[self.factor.free] = 1 / self.factor.scale
        whole = np.concatenate((scale, *(part.sizes() for part in self.parts)))
        return np.asarray(whole * np.sin(np.arange(1.0, len(whole) + 1) ** 2))[:, None]


def search_of(answered: Answered, parts: tuple[Part, ...], cases: IntArray) -> Search:
    """Return the search in some cases that are all held in one way; parts: of the structure."""
    structure, answer = answered.structure, of_cases(answered.solved.answer, cases)
    sections = np.array([section.wagner[::-1] for section in structure.sections])
    wagner = wagner_of(structure.beams, sections[structure.pieces.section])
    forms = tuple(weighed_forms(answer, wagner, part.stations, len(part.pieces)) for part in parts)
    pushes = end_forces(answer)
    offsets = offset_forms(structure.beams, pushes).transpose(0, 1, 3, 4, 2)
    ends = tuple(offsets[:, part.pieces] for part in parts)
    first = answered.cases[int(cases[0])]
    if first.afloat:
        factor, hold = factor_of(structure, "afloat", hanging_supports(structure)), hold_of(structure, parts)
    else:
        factor, hold = factor_of(structure, *ground_of(structure.frame, first)), None
    return Search(structure.freedoms.count, cases, answer, wagner, parts, forms, ends, _arms(answered, pushes), factor, hold)


def _arms(answered: Answered, pushes: Array) -> Turning:
    """Return what the pieces' end forces (2, n, k, 3) do on the arms to the nodes."""
    pieces = answered.structure.pieces
    long = np.flatnonzero(pieces.arms.any(axis=(1, 2)))
    nodes = pieces.nodes[long].T.reshape(-1)
    forms = arm_forms(answered.structure.beams, pushes, pieces.arms)[:, long]
    return Turning(6 * nodes[:, None] + np.array([3, 4, 5]), forms.reshape(len(nodes), pushes.shape[2], 3, 3))


