"""The frame as the search for its buckling sees it, and what forces do on the moved frame: (K + n G) x = f. SI.

n: the factor asked of the loads, so that a safety factor that meets it holds at the loads grown by it (ANSI/AISC 360-22, C2.1(d): at
1.6 times allowable loads). EN 1993-1-1:2005, 5.2.1(3): the moved frame need not be looked at where the frame buckles at ten times the
loads that are asked or more; what it does fades in between 20 and 10 times, so that no answer jumps. All from memory. Told are
forces, the bows of pieces between their ends counted; of those that twist, only what the ends do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.element import END, Beams
from framecheck.frame.fields import SolvedPieces, fields_at, of_cases
from framecheck.frame.geometric_stiffness import (
    EqualPieces,
    FreeMovements,
    arm_forms,
    end_forces,
    form_at,
    hold_of,
    offset_forms,
    rows_of_fields,
    times_geometric,
    wagner_of,
    weighed_forms,
)
from framecheck.frame.linear import Factored, StiffEnds
from framecheck.frame.recover import solved_pieces
from framecheck.frame.report import SolvedFrame
from framecheck.frame.results import FrameSolution
from framecheck.frame.solve import factor_of, hanging_supports
from framecheck.frame.supports import ground_of
from framecheck.frame.within_piece import MOST, Bow, own_movements
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

    forms (m, g, 6, 6, k): at the parts' Gauss points; ends (2, m, 3, 3, k): on twist, v' and w' of the parts' ends, (0, ...) where
    all pieces lie in their lines. stiff: see there.
    """

    count: int
    cases: IntArray
    answer: SolvedPieces
    wagner: Array
    parts: tuple[EqualPieces, ...]
    forms: tuple[Array, ...]
    ends: tuple[Array, ...]
    turning: Turning
    factor: Factored
    hold: FreeMovements | None
    stiff: StiffEnds | None = None

    @property
    def size(self) -> int:
        """Return the number of unknowns with the shapes within pieces."""
        return int(self.parts[-1].inner.stop)

    def among(self, which: IntArray) -> Search:
        """Return the search in some of its cases, by their places among them."""
        turning = Turning(self.turning.at, self.turning.forms[:, which])
        forms, ends = (tuple(each[..., which] for each in of) for of in (self.forms, self.ends))
        answer = of_cases(self.answer, which)
        stiff = None if self.stiff is None else replace(self.stiff, gain=self.stiff.gain[which])
        return replace(self, cases=self.cases[which], answer=answer, forms=forms, ends=ends, turning=turning, stiff=stiff)

    def felt(self, moved: Array) -> tuple[Array, ...]:
        """Return G times movements (N, k) on each part's own movements (m, own, k), arms to the nodes left out."""
        known = np.concatenate((moved[: self.count], np.zeros((1, moved.shape[1]))))
        found = []
        for part, forms, ends in zip(self.parts, self.forms, self.ends, strict=True):
            local = np.concatenate((part.maps @ known[part.at], part.shaped(moved)), axis=1)
            felt = times_geometric(part.rows, forms, local)
            for form, turns in zip(ends, TURNS, strict=False):
                felt[:, turns] += np.einsum("mijk,mjk->mik", form, local[:, turns])
            found.append(felt)
        return tuple(found)

    def gathered(self, felt: tuple[Array, ...]) -> Array:
        """Return forces (N, k) on the unknowns and shapes from those on the parts' own movements."""
        cases = felt[0].shape[2]
        summed, inner = np.zeros((self.count + 1, cases)), []
        for part, each in zip(self.parts, felt, strict=True):
            part.summing.add(summed, part.maps.transpose(0, 2, 1) @ each[:, : 2 * END])
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
        return np.negative(forces, out=forces)

    def movements(self, forces: Array) -> Array:
        """Return the movements (N, k) that forces (N, k) make of the frame as it is."""
        if self.hold is not None:
            forces = self.hold.off_forces(forces)
        moved, factor = np.zeros_like(forces), self.factor
        moved[factor.free] = factor.scale[:, None] * factor.solve(factor.scale[:, None] * forces[factor.free])
        if self.stiff is not None:
            moved[: self.count] = self.stiff.held(moved[: self.count])
        for part in self.parts:
            moved[part.inner] = own_movements(part.twist, part.shaped(forces)).reshape(-1, forces.shape[1])
        return moved if self.hold is None else self.hold.off_movements(moved)

    def start(self) -> Array:
        """Return forces (N, 1) with something of every movement, each as large as the root of its own stiffness."""
        scale = np.zeros(self.count)
        scale[self.factor.free] = 1 / self.factor.scale
        whole = np.concatenate((scale, *(part.sizes() for part in self.parts)))
        return np.asarray(whole * np.sin(np.arange(1.0, len(whole) + 1) ** 2))[:, None]


def search_of(answered: SolvedFrame, parts: tuple[EqualPieces, ...], cases: IntArray) -> Search:
    """Return the search in some cases that are all held in one way; parts: of the structure."""
    return search_under(answered, parts, cases, of_cases(answered.solved.answer, cases))


def search_under(answered: SolvedFrame, parts: tuple[EqualPieces, ...], cases: IntArray, answer: SolvedPieces) -> Search:
    """Return the same under the forces of another answer in those cases."""
    structure = answered.structure
    sections = np.array([section.wagner[::-1] for section in structure.sections])
    wagner = wagner_of(structure.beams, sections[structure.pieces.section])
    forms = tuple(weighed_forms(answer, wagner, part.stations, len(part.pieces)) for part in parts)
    pushes = end_forces(answer)
    offsets = offset_forms(structure.beams, pushes).transpose(0, 1, 3, 4, 2)
    ends = tuple(offsets[: 2 * offsets.any(), part.pieces] for part in parts)
    first = answered.cases[int(cases[0])]
    if first.free_free:
        factor, hold = factor_of(structure, "free_free", hanging_supports(structure)), hold_of(structure, parts)
    else:
        factor, hold = factor_of(structure, *ground_of(structure.frame, first)), None
    return Search(structure.freedoms.count, cases, answer, wagner, parts, forms, ends, _arms(answered, pushes), factor, hold)


def _arms(answered: SolvedFrame, pushes: Array) -> Turning:
    """Return what the pieces' end forces (2, n, k, 3) do on the arms to the nodes."""
    pieces = answered.structure.pieces
    long = np.flatnonzero(pieces.arms.any(axis=(1, 2)))
    nodes = pieces.nodes[long].T.reshape(-1)
    forms = arm_forms(answered.structure.beams, pushes, pieces.arms)[:, long]
    return Turning(6 * nodes[:, None] + np.array([3, 4, 5]), forms.reshape(len(nodes), pushes.shape[2], 3, 3))


FULL, NONE = 10.0, 20.0
STEEPEST = 1.05
"""A frame that buckles below the loads asked is told as if it buckled at so many times of them: it misses its target anyhow."""
MOST_STEPS, SETTLED = 200, 1e-11


def counted_share(factors: Array, targets: Array) -> Array:
    """Return how much of what the moved frame adds is counted, (k,), 0 to 1; factors: at buckling, targets: asked of the loads."""
    return np.clip((NONE - factors / targets) / (NONE - FULL), 0.0, 1.0)


@array_class
class MovedFrameTerms:
    """What the moved frame adds in some cases, as far as it counts: unknowns (n, j), and the bows of the pieces."""

    cases: IntArray
    unknowns: Array
    bow: Bow

    def of(self, first: int, count: int) -> MovedFrameTerms:
        """Return the same of some cases that follow each other, which may be none."""
        some = np.flatnonzero((self.cases >= first) & (self.cases < first + count))
        bow = Bow(self.bow.bent[..., some], self.bow.moved[..., some], self.bow.pushes[..., some], self.bow.length)
        return MovedFrameTerms(self.cases[some] - first, self.unknowns[:, some], bow)


def on_moved_frame(answered: SolvedFrame, search: Search, factors: Array, targets: Array) -> MovedFrameTerms:
    """Return how much further the unknowns (n, j) move in the search's cases; factors, targets (j,) of them."""
    level = np.minimum(targets, factors / STEEPEST)
    share = counted_share(factors, targets)
    felt, push = _first_push(answered, search)
    moved = _grown(search, push * level, level)
    both = (share * level * (first + more) for first, more in zip(felt, search.felt(moved), strict=True))
    bow = bow_of(answered.structure.beams, search, share * moved, tuple(both))
    return MovedFrameTerms(search.cases, share * moved[: search.count], bow)


def bow_of(beams: Beams, search: Search, moved: Array, felt: tuple[Array, ...]) -> Bow:
    """Return the bows of all pieces from movements (N, j) and what the parts feel of G (m, own, j)."""
    n, j = len(beams.length), moved.shape[1]
    bent, shapes, pushes = np.zeros((2, MOST, n, j)), np.zeros((2, MOST, n, j)), np.zeros((n, 2, END, j))
    for part, each in zip(search.parts, felt, strict=True):
        amounts = part.shaped(moved)[:, : part.bends.moved.shape[3]]
        turned = np.einsum("mipr,mrj->impj", part.bends.turned, amounts) / beams.length[part.pieces, None, None]
        bent[:, : turned.shape[2], part.pieces] = -np.einsum("mab,bmpj->apmj", beams.bending[part.pieces], turned)
        own = np.einsum("mipr,mrj->ipmj", part.bends.moved, amounts)
        shapes[:, : own.shape[1], part.pieces] = own
        pushes[part.pieces] = each[:, : 2 * END].reshape(-1, 2, END, j)
    return Bow(bent, shapes, pushes, beams.length)


def _grown(search: Search, push: Array, level: Array) -> Array:
    """Return x of (K + n G) x = push, by conjugate gradients with K's inverse beside them (G. H. Golub, C. F. Van Loan, 11.5)."""
    moved, left = np.zeros_like(push), push.copy()
    step = search.movements(left)
    held = left.copy()  # K times the step
    size = start = np.sum(left * step, axis=0)
    for _ in range(MOST_STEPS):
        if not (size > SETTLED**2 * start).any():
            break
        force = held - level * search.forces(step)
        along = np.sum(step * force, axis=0)
        share = np.where(along > 0, size / np.where(along > 0, along, 1.0), 0.0)
        moved, left = moved + share * step, left - share * force
        turned = search.movements(left)
        now = np.sum(left * turned, axis=0)
        ratio = np.where(size > 0, now / np.where(size > 0, size, 1.0), 0.0)
        step, held, size = turned + ratio * step, left + ratio * held, now
    return moved


def _first_push(answered: SolvedFrame, search: Search) -> tuple[tuple[Array, ...], Array]:
    """Return what the parts feel (m, own, j) of G in the first answer, loads within pieces counted, and minus it (N, j)."""
    numbers = search.cases
    whole = np.zeros((search.size, len(numbers)))
    whole[: search.count] = answered.unknowns[:, numbers]
    known = np.concatenate((whole[: search.count], np.zeros((1, len(numbers)))))
    felt = tuple(
        each + _beyond_ends(search, part, part.maps @ known[part.at])
        for part, each in zip(search.parts, search.felt(whole), strict=True)
    )
    return felt, search.on_arms(search.gathered(felt), whole)


def _beyond_ends(search: Search, part: EqualPieces, ends: Array) -> Array:
    """Return what a part feels (m, own, j) of the movements that its loads make beyond those of its ends (m, 2 END, j)."""
    beams, (m, g) = search.answer.beams, part.rows.shape[:2]
    fields = fields_at(search.answer, part.stations)
    true = rows_of_fields(beams, part.stations, fields).transpose(1, 0, 2).reshape(m, g, 6, -1)
    beyond = true - part.rows[..., : 2 * END] @ ends[:, None]
    form = form_at(beams, search.wagner, part.stations.piece, fields.forces)
    weighed = (form * part.stations.weight[:, None, None, None]).reshape(m, g, -1, 6, 6)
    pulled = (weighed @ beyond.transpose(0, 1, 3, 2)[..., None])[..., 0]
    felt: Array = np.einsum("mgio,mgki->mok", part.rows, pulled)
    return felt


def moved_further(answered: SolvedFrame, further: Sequence[MovedFrameTerms]) -> SolvedFrame:
    """Return an answer with what the moved frame adds to some of its cases."""
    structure, unknowns = answered.structure, answered.unknowns.copy()
    k = unknowns.shape[1]
    beams = structure.beams
    bow = Bow(*_blank(len(beams.length), k), beams.length)
    for each in further:
        unknowns[:, each.cases] += each.unknowns
        for whole, part in ((bow.bent, each.bow.bent), (bow.moved, each.bow.moved), (bow.pushes, each.bow.pushes)):
            whole[..., each.cases] = part
    vector = answered.vector + structure.matrix @ (unknowns - answered.unknowns)
    solved = solved_pieces(structure, answered.loads, answered.solved.made, unknowns, bow)
    return replace(answered, unknowns=unknowns, vector=vector, solved=solved)


def _blank(n: int, k: int) -> tuple[Array, Array, Array]:
    """Return the numbers of pieces without bows."""
    return np.zeros((2, MOST, n, k)), np.zeros((2, MOST, n, k)), np.zeros((n, 2, END, k))


def told_on_moved_frame(first: FrameSolution, moved: FrameSolution) -> FrameSolution:
    """Return the first solution, its reactions in balance with the loads, with the forces and movements of the moved frame."""
    return replace(
        first, displacements=moved.displacements, members=moved.members, member_ends=moved.member_ends, mounts=moved.mounts
    )
