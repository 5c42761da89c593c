"""What forces do on the moved frame: the answer of (K + n G) x = f in place of that of K x = f. SI.

n: the factor asked of the loads, so that a safety factor that meets it holds at the loads grown by it (ANSI/AISC 360-22, C2.1(d): at
1.6 times allowable loads). EN 1993-1-1:2005, 5.2.1(3): the moved frame need not be looked at where the frame buckles at ten times the
loads that are asked or more; what it does fades in between 20 and 10 times, so that no answer jumps. All from memory. Told are
forces, the bows of pieces between their ends counted; of those that twist, only what the ends do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.bow import MOST, Bow
from framecheck.frame.buckling_model import Part
from framecheck.frame.element import END, Beams
from framecheck.frame.fields import fields_at
from framecheck.frame.geometric import form_at, rows_of_fields
from framecheck.frame.recover import solved_pieces
from framecheck.frame.report import Answered
from framecheck.frame.results import FrameSolution
from framecheck.frame.search import Search
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

FULL, NONE = 10.0, 20.0
STEEPEST = 1.05
"""A frame that buckles below the loads asked is told as if it buckled at so many times of them: it misses its target anyhow."""
MOST_STEPS, SETTLED = 200, 1e-11


def counted_share(factors: Array, targets: Array) -> Array:
    """Return how much of what the moved frame adds is counted, (k,), 0 to 1; factors: at buckling, targets: asked of the loads."""
    return np.clip((NONE - factors / targets) / (NONE - FULL), 0.0, 1.0)


@array_class
class Further:
    """What the moved frame adds in some cases, as far as it counts: unknowns (n, j), and the bows of the pieces."""

    cases: IntArray
    unknowns: Array
    bow: Bow


def on_moved_frame(answered: Answered, search: Search, factors: Array, targets: Array) -> Further:
    """Return how much further the unknowns (n, j) move in the search's cases; factors, targets (j,) of them."""
    level = np.minimum(targets, factors / STEEPEST)
    share = counted_share(factors, targets)
    felt, push = _first_push(answered, search)
    moved = _grown(search, push * level, level)
    both = (share * level * (first + more) for first, more in zip(felt, search.felt(moved), strict=True))
    bow = bow_of(answered.structure.beams, search, share * moved, tuple(both))
    return Further(search.cases, share * moved[: search.count], bow)


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


def _first_push(answered: Answered, search: Search) -> tuple[tuple[Array, ...], Array]:
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


def _beyond_ends(search: Search, part: Part, ends: Array) -> Array:
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


def moved_further(answered: Answered, further: Sequence[Further]) -> Answered:
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
