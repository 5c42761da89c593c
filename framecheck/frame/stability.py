"""By how much all loads of a case may grow before the frame buckles, by the greatest eigenvalues of many pencils at once. SI.

Lanczos' three-term recurrence in the measure of the stiffness (G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed., 10.1 to
10.3; from memory). Directions found long ago come back once the greatest value has settled; that repeats values and adds none.

The least positive a with (K + a G) x = 0, G the geometric stiffness under the forces of the first-order answer. K stays as it is
factorised: shapes within pieces store no energy with it. A frame that hangs on nothing is held by the mean of its own
mass, which neither moves nor turns.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Protocol, Self

import numpy as np

from framecheck.frame.geometric_stiffness import EqualPieces, parts_of
from framecheck.frame.report import SolvedFrame
from framecheck.frame.results import NEVER, Buckling, FrameSolution
from framecheck.frame.second_order import (
    MovedFrameTerms,
    counted_share,
    moved_further,
    on_moved_frame,
    search_of,
    told_on_moved_frame,
)
from framecheck.frame.solve import brief_solutions_of, solutions_of
from framecheck.frame.supports import Hold, hold_of_case
from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.value_class import array_class

MOST_STEPS = 120
FIRST_LOOK, LOOK_EVERY = 12, 4
SETTLED = 3e-4
"""Largest residual of a value, as a share of it: its own error is near to the square of this."""
SPENT = 1e-13
"""Of the values: what is left of a direction below it is rounding, and there is no other."""
FAINT = 1e-3  # of the greatest size: a positive value below it is not worth more steps


class Pencil(Protocol):
    """Symmetric forms side by side, and the stiffness that they share."""

    def forces(self, moved: Array) -> Array:
        """Return the forces (n, j) of movements (n, j), column by column in another case."""
        ...

    def among(self, which: IntArray) -> Self:
        """Return the same in some of the cases."""
        ...

    def movements(self, forces: Array) -> Array:
        """Return the movements (n, j) that forces make of the stiffness."""
        ...


@array_class
class Greatest:
    """The greatest value (k,) of each case, zero where none is positive, and whether it has settled (k,)."""

    values: Array
    settled: BoolArray


@array_class
class _Step:
    """One direction of each case, of unit energy: movements and the forces that hold them (n, j); last: those before."""

    moved: Array
    force: Array
    last: tuple[Array, Array]
    norm: Array


def greatest(pencil: Pencil, start: Array, count: int) -> Greatest:
    """Return the greatest values of all `count` cases; start (n, 1): forces to begin with, something of every movement."""
    values, settled = np.zeros(count), np.zeros(count, dtype=np.bool_)
    left: IntArray = np.arange(count)
    step = _first(pencil, np.repeat(start, count, axis=1))
    table = np.zeros((2, count, MOST_STEPS))
    for number in range(MOST_STEPS):
        step, table[0, left, number], table[1, left, number] = _next(pencil, step)
        if number + 1 < FIRST_LOOK or (number + 1 - FIRST_LOOK) % LOOK_EVERY:
            continue
        values[left], settled[left] = _looked(table[:, left, : number + 1])
        going = np.flatnonzero(~settled[left])
        left = left[going]
        if not len(left):
            break
        pencil = pencil.among(going)
        step = _Step(step.moved[:, going], step.force[:, going], tuple(e[:, going] for e in step.last), step.norm[going])  # type: ignore[arg-type]
    return Greatest(values, settled)


def greatest_modes(pencil: Pencil, start: Array, first_look: int = FIRST_LOOK) -> tuple[Greatest, Array]:
    """Return the greatest values of all cases, and the movements (n, j) in which they are, of unit energy; start (n, j)."""
    count = start.shape[1]
    step, along = _first(pencil, start), []
    table = np.zeros((2, count, MOST_STEPS))
    for number in range(MOST_STEPS):
        along.append(step.moved)
        step, table[0, :, number], table[1, :, number] = _next(pencil, step)
        if number + 1 >= first_look and not (number + 1 - first_look) % LOOK_EVERY:
            values, settled = _looked(table[:, :, : number + 1])
            if settled.all():
                break
    own = np.linalg.eigh(_three_term(table[:, :, : len(along)]))[1][:, :, -1]
    return Greatest(values, settled), np.einsum("snj,js->nj", np.array(along), own)


def _first(pencil: Pencil, force: Array) -> _Step:
    moved = pencil.movements(force)
    norm = np.sqrt(np.maximum(np.sum(moved * force, axis=0), 0.0)) + 1e-300
    nothing = np.zeros_like(moved)
    return _Step(moved / norm, force / norm, (nothing, nothing), np.zeros_like(norm))


def _next(pencil: Pencil, step: _Step) -> tuple[_Step, Array, Array]:
    """Return the next directions, and the entries (j,) on and beside the diagonal that the last ones give."""
    force = pencil.forces(step.moved)
    own = np.einsum("nj,nj->j", force, step.moved)
    moved = pencil.movements(force)
    moved -= own * step.moved
    moved -= step.norm * step.last[0]
    force -= own * step.force
    force -= step.norm * step.last[1]
    norm = np.sqrt(np.maximum(np.einsum("nj,nj->j", moved, force), 0.0))
    safe = np.where(norm > SPENT * (np.abs(own) + step.norm), norm, np.inf)
    moved /= safe
    force /= safe
    return _Step(moved, force, (step.moved, step.force), norm), own, norm


def _looked(table: Array) -> tuple[Array, BoolArray]:
    """Return the greatest value so far (j,), not below zero, and whether its residual says that it has settled.

    table (2, j, steps): entries on and beside the diagonal.
    """
    values, vectors = np.linalg.eigh(_three_term(table))
    residual = table[1, :, -1] * np.abs(vectors[:, -1, -1])
    top, size = np.maximum(values[:, -1], 0.0), np.abs(values).max(axis=1)
    return top, residual <= SETTLED * np.maximum(top, FAINT * size)


def _three_term(table: Array) -> Array:
    """Return the matrices (j, steps, steps) of what stands on and beside their diagonals (2, j, steps)."""
    _, count, steps = table.shape
    matrix, at = np.zeros((count, steps, steps)), np.arange(steps)
    matrix[:, at, at] = table[0]
    matrix[:, at[1:], at[:-1]] = matrix[:, at[:-1], at[1:]] = table[1, :, :-1]
    return matrix


AT_ONCE = 4_000_000
"""Entries of forms at Gauss points that are held at once: 32 MB."""
FORM = 36
"""Entries of one form."""


@array_class
class Stable:
    """A frame under one bound: how it buckles, and what the moved frame adds, where that counts."""

    buckling: Buckling
    further: tuple[MovedFrameTerms, ...]

    def of(self, first: int, count: int) -> Stable:
        """Return the same of some cases that follow each other."""
        at, whole = slice(first, first + count), self.buckling
        buckling = Buckling(whole.factors[at], whole.settled[at], whole.counted[at])
        some = (each.of(first, count) for each in self.further)
        return Stable(buckling, tuple(each for each in some if len(each.cases)))


def frame_buckling(answered: SolvedFrame, targets: Array) -> Stable:
    """Return at what factors the frame buckles in each case of an answer; targets (k,): factors asked of the loads."""
    held = [hold_of_case(case) for case in answered.cases]
    factors, settled = np.full(len(held), NEVER), np.ones(len(held), dtype=np.bool_)
    further: list[MovedFrameTerms] = []
    parts = parts_of(answered.structure, answered.solved.answer)
    for cases in together(parts, held):
        search = search_of(answered, parts, cases)
        found = greatest(search, search.start(), len(cases))
        factors[cases], settled[cases] = 1 / np.maximum(found.values, 1 / NEVER), found.settled
        near = np.flatnonzero(counted_share(factors[cases], targets[cases]) > 0)
        if len(near):
            further.append(on_moved_frame(answered, search.among(near), factors[cases[near]], targets[cases[near]]))
    return Stable(Buckling(frozen(factors), settled, frozen(counted_share(factors, targets))), tuple(further))


def together(parts: Sequence[EqualPieces], held: Sequence[Hold]) -> Iterator[IntArray]:
    """Yield cases that are searched at once: all held in one way, few enough for the memory they take."""
    each = sum(len(part.pieces) * part.rows.shape[1] * FORM for part in parts)
    many = max(1, AT_ONCE // max(each, 1))
    for way in dict.fromkeys(held):
        cases = np.flatnonzero([each == way for each in held])
        yield from (cases[first : first + many] for first in range(0, len(cases), many))


Told = Callable[[Sequence[SolvedFrame], Mapping[str, Sequence[float]]], tuple[FrameSolution, ...]]


def stable_solutions(
    answers: Sequence[SolvedFrame], stable: Sequence[Stable], marks: Mapping[str, Sequence[float]]
) -> tuple[FrameSolution, ...]:
    """Return the solutions of a frame under its bounds, on the moved frame where that matters; stable: its `frame_buckling`."""
    return _with_moved(solutions_of, answers, stable, marks)


def brief_stable_solutions(
    answers: Sequence[SolvedFrame], stable: Sequence[Stable], marks: Mapping[str, Sequence[float]]
) -> tuple[FrameSolution, ...]:
    """Return the same at few stations (brief_solutions_of)."""
    return _with_moved(brief_solutions_of, answers, stable, marks)


def _with_moved(
    told: Told, answers: Sequence[SolvedFrame], stable: Sequence[Stable], marks: Mapping[str, Sequence[float]]
) -> tuple[FrameSolution, ...]:
    """Return what is told of answers, on the moved frame where that matters."""
    solutions = told(answers, marks)
    if not any(each.further for each in stable):
        return solutions
    moved = told([moved_further(*pair) for pair in zip(answers, (e.further for e in stable), strict=True)], marks)
    return tuple(told_on_moved_frame(*pair) for pair in zip(solutions, moved, strict=True))
