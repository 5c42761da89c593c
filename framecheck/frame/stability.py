"""By how much all loads of a case may grow before the frame itself buckles, elastically. SI.

The least positive a with (K + a G) x = 0, G the geometric stiffness under the forces of the first-order answer. K stays as it is
factorised: shapes within pieces store no energy with it (bubbles.py). A frame that hangs on nothing is held by the mean of its own
mass, which neither moves nor turns.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from framecheck.frame.buckling_model import Part, parts_of
from framecheck.frame.grounds import Hold, hold_of_case
from framecheck.frame.lanczos import greatest
from framecheck.frame.report import Answered
from framecheck.frame.results import NEVER, Buckling, FrameSolution
from framecheck.frame.search import search_of
from framecheck.frame.second_order import Further, counted_share, moved_further, on_moved_frame, told_on_moved_frame
from framecheck.frame.solve import solutions_of
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.value_class import array_class

AT_ONCE = 4_000_000
"""Entries of forms at Gauss points that are held at once: 32 MB."""
FORM = 36
"""Entries of one form."""


@array_class
class Stable:
    """A frame under one bound: how it buckles, and what the moved frame adds, where that counts."""

    buckling: Buckling
    further: tuple[Further, ...]


def frame_buckling(answered: Answered, targets: Array) -> Stable:
    """Return at what factors the frame buckles in each case of an answer; targets (k,): factors asked of the loads."""
    held = [hold_of_case(case) for case in answered.cases]
    factors, settled = np.full(len(held), NEVER), np.ones(len(held), dtype=np.bool_)
    further: list[Further] = []
    parts = parts_of(answered.structure, answered.solved.answer)
    for cases in together(parts, held):
        search = search_of(answered, parts, cases)
        found = greatest(search, search.start(), len(cases))
        factors[cases], settled[cases] = 1 / np.maximum(found.values, 1 / NEVER), found.settled
        near = np.flatnonzero(counted_share(factors[cases], targets[cases]) > 0)
        if len(near):
            further.append(on_moved_frame(answered, search.among(near), factors[cases[near]], targets[cases[near]]))
    return Stable(Buckling(frozen(factors), settled, frozen(counted_share(factors, targets))), tuple(further))


def together(parts: Sequence[Part], held: Sequence[Hold]) -> Iterator[IntArray]:
    """Yield cases that are searched at once: all held in one way, few enough for the memory they take."""
    each = sum(len(part.pieces) * part.rows.shape[1] * FORM for part in parts)
    many = max(1, AT_ONCE // max(each, 1))
    for way in dict.fromkeys(held):
        cases = np.flatnonzero([each == way for each in held])
        yield from (cases[first : first + many] for first in range(0, len(cases), many))


def stable_solutions(
    answers: Sequence[Answered], targets: Array, marks: Mapping[str, Sequence[float]]
) -> tuple[tuple[FrameSolution, ...], tuple[Buckling, ...]]:
    """Return the solutions of a frame under its bounds, on the moved frame where that matters, and how it buckles."""
    found = [frame_buckling(each, targets) for each in answers]
    solutions = solutions_of(answers, marks)
    if any(each.further for each in found):
        moved = solutions_of([moved_further(*pair) for pair in zip(answers, (e.further for e in found), strict=True)], marks)
        solutions = tuple(told_on_moved_frame(*pair) for pair in zip(solutions, moved, strict=True))
    return solutions, tuple(each.buckling for each in found)
