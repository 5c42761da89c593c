"""How a frame buckles where ends whose make is left out are soft and stiff as is worst for it, case by case. SI.

From the bounds under which it buckles first ends are changed that make it do so sooner (changed_ends.py), and it is solved anew, with
the springs of those ends beside the factors that are there (soft_frame.py), until nothing is gained.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.changed_ends import Change, ModeParts, changes_of, geometric_work
from framecheck.frame.discretise import Pieces
from framecheck.frame.geometric_stiffness import parts_of
from framecheck.frame.linear import StiffEnds
from framecheck.frame.report import SolvedFrame
from framecheck.frame.results import NEVER, Bound, EndsApart, Joints
from framecheck.frame.second_order import Search, search_of, search_under
from framecheck.frame.soft_frame import SoftFrame, Springs
from framecheck.frame.stability import Greatest, Stable, greatest_modes
from framecheck.frame.unlike import Ends, in_words
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.frame import Frame
from framecheck.value_class import array_class, value_class

AT_ONCE = 32
"""Load cases that are looked at together: so far memory serves."""
STARTS, NEAR, FEW_ENDS = 4, 1.12, 24
"""Most bounds from which a mixture is looked for, how near to the least factor theirs must be, and of how many ends: one start missed
5 to 12 % in two of nine random frames, four none. Of more ends each tells less: one start."""
EACH_ALONE = 12
"""Most ends of which each is changed alone, and solved anew, where the foretold changes have ended: of very soft ends they
may foretell 0.5 % too little."""
ROUNDS = 4
"""Most times that ends are changed from one start."""
SMALL = 1e-3
"""Share of 1 / a up to which it is taken as it is foretold: what that misses is near to the square of it."""
SOON, ASIDE = 4, 0.03
"""Steps of the search after which it may have settled, where it begins with the last mixture's mode and a little of all others."""


@value_class
class FoundMixture:
    """At what factor the frame buckles in a load case with some ends stiff, and whether the search settled."""

    case: int
    factor: float
    settled: bool
    stiff: Ends


@value_class
class MixedBuckling:
    """How the frame buckles in mixtures, each load case in its own; None where it never does. base: the bound of all else; every: the
    ends that may be unlike.
    """

    frame: Frame
    every: Ends
    base: Bound
    worst: tuple[FoundMixture | None, ...]

    def bound(self, stiff: Ends) -> Bound:
        """Return a mixture as a bound; stiff: the ends that are."""
        first = frozenset(sorted(stiff)[:1])
        return replace(self.base, apart=EndsApart(stiff, in_words(self.frame, self.every, first, stiff)) if stiff else None)


def mixed_buckling(soft: SoftFrame, answers: Sequence[SolvedFrame], stable: Sequence[Stable]) -> MixedBuckling:
    """Return how a frame buckles in the mixtures worst for it; answers, stable: under all bounds that are solved whole."""
    starts = starts_of(soft, answers, stable)
    seen = {(found.case, found.stiff) for _, here in starts for found in here}
    worst: list[FoundMixture | None] = [None] * len(soft.answered.cases)
    for answered, here in starts:
        for found in (*here, *descents(soft, answered, here, seen)):
            before = worst[found.case]
            if before is None or found.factor < before.factor:
                worst[found.case] = found
    if len(soft.every) <= EACH_ALONE:
        for found in changed_alone(soft, [each for each in worst if each is not None], seen):
            worst[found.case] = found
    return MixedBuckling(soft.frame, soft.every, soft.answered.structure.bound, tuple(worst))


Begun = tuple[SolvedFrame, list[FoundMixture]]
"""A bound from which a mixture is looked for, with the load cases that begin there."""


def starts_of(soft: SoftFrame, answers: Sequence[SolvedFrame], stable: Sequence[Stable]) -> list[Begun]:
    """Return the bounds from which a mixture is looked for, each with the load cases that begin there."""
    own = [(each, of.buckling) for each, of in zip(answers, stable, strict=True) if may_begin(soft, each)]
    least = np.array([of.factors for _, of in own])
    rank = np.argsort(np.argsort(least, axis=0, kind="stable"), axis=0)
    most = STARTS if len(soft.every) <= FEW_ENDS else 1
    first = np.min([of.buckling.factors for of in stable], axis=0)
    begun = (rank < most) & (least <= NEAR * first) & (least < NEVER)
    found = []
    for (answered, of), cases in zip(own, begun, strict=True):
        stiff = stiff_in(answered.structure.bound, soft.every)
        some = np.flatnonzero(cases).tolist()
        found.append((answered, [FoundMixture(case, float(of.factors[case]), bool(of.settled[case]), stiff) for case in some]))
    return [each for each in found if each[1]]


def may_begin(soft: SoftFrame, answered: SolvedFrame) -> bool:
    """Return whether a bound is one with ends that are soft and stiff in the frame that is solved for its mixtures."""
    bound, base = answered.structure.bound, soft.answered.structure.bound
    alike = replace(bound, joints=base.joints, apart=None) == base and bound.joints in (Joints.SOFT, Joints.STIFF)
    return alike and answered.structure.pieces.count == soft.answered.structure.pieces.count


def stiff_in(bound: Bound, every: Ends) -> Ends:
    """Return which of the ends that may be unlike are stiff under a bound."""
    apart = frozenset[tuple[int, int]]() if bound.apart is None else bound.apart.ends & every
    return apart if bound.joints is Joints.SOFT else every - apart


@array_class
class Held:
    """Load cases of a frame with all ends soft that hang on the same supports, as the search for its buckling sees it."""

    soft: SoftFrame
    springs: Springs
    search: Search

    @property
    def pieces(self) -> Pieces:
        """Return the frame's pieces."""
        return self.soft.answered.structure.pieces

    @property
    def unit(self) -> Array:
        """Return the movements (N, n) under unit forces in the springs, of what is free to move."""
        found, free = np.zeros_like(self.springs.moved), self.search.factor.free
        found[free] = self.springs.moved[free]
        return found


@array_class
class MixtureModes:
    """How the frame buckles in some load cases, each with ends of its own stiff. force (N, j): what holds the mode in the soft frame's
    unknowns, of unit energy; settled (j,)."""

    force: Array
    settled: BoolArray
    parts: ModeParts

    def of(self, which: IntArray) -> MixtureModes:
        """Return the same of some of the cases."""
        return MixtureModes(self.force[:, which], self.settled[which], self.parts.of(which))

    def found(self) -> Iterator[FoundMixture]:
        """Yield at what factors it buckles."""
        for number, case in enumerate(self.parts.cases.tolist()):
            factor = 1 / max(float(self.parts.values[number]), 1 / NEVER)
            yield FoundMixture(case, factor, bool(self.settled[number]), self.parts.stiff[number])


Seen = set[tuple[int, Ends]]
"""Mixtures that were solved, by load case."""


def descents(soft: SoftFrame, answered: SolvedFrame, begun: Sequence[FoundMixture], seen: Seen) -> Iterator[FoundMixture]:
    """Yield what is found from one bound that is solved whole, in the cases that begin there."""
    parts = parts_of(soft.answered.structure, soft.answered.solved.answer)
    for springs in soft.springs:
        going = np.intersect1d(springs.cases, [each.case for each in begun])
        for cases in (going[at : at + AT_ONCE] for at in range(0, len(going), AT_ONCE)):
            held = Held(soft, springs, search_of(soft.answered, parts, cases))
            own = search_of(answered, parts_of(answered.structure, answered.solved.answer), cases)
            found, moved = greatest_modes(own, np.repeat(own.start(), len(cases), axis=1))
            modes = modes_of(held, (own, answered.structure.pieces), moved, (found, (begun[0].stiff,) * len(cases)))
            yield from descent(held, modes, seen, ROUNDS)


def descent(held: Held, modes: MixtureModes, seen: Seen, rounds: int, halved: int = 0) -> Iterator[FoundMixture]:
    """Yield what is found from some modes on: where all changes together gain nothing, half of them are tried."""
    changes = changes_of(held.springs, modes.parts)
    for number, each in enumerate(changes):
        if 0.0 < each.share <= SMALL:
            yield foretold(modes, number, each)
    stiff = [one ^ frozenset(each.ends[: len(each.ends) >> halved]) for one, each in zip(modes.parts.stiff, changes, strict=True)]
    cases = modes.parts.cases.tolist()
    new = [one != other for one, other in zip(stiff, modes.parts.stiff, strict=True)]
    going = [n for n, each in enumerate(changes) if each.share > SMALL and new[n] and (cases[n], stiff[n]) not in seen]
    if not going or not rounds:
        return
    seen |= {(cases[number], stiff[number]) for number in going}
    before, stiff = modes.of(np.array(going)), [stiff[number] for number in going]
    tried = tried_in(held, before, stiff)
    yield from tried.found()
    gained = tried.parts.values > before.parts.values
    if gained.any():
        yield from descent(held, tried.of(np.flatnonzero(gained)), seen, rounds - 1)
    if not gained.all():
        yield from descent(held, before.of(np.flatnonzero(~gained)), seen, rounds - 1, halved + 1)


def changed_alone(soft: SoftFrame, worst: Sequence[FoundMixture], seen: Seen) -> Iterator[FoundMixture]:
    """Yield what is found where single ends of the worst mixtures are changed, again and again until nothing is gained."""
    parts = parts_of(soft.answered.structure, soft.answered.solved.answer)
    for springs in soft.springs:
        here = [each for each in worst if each.case in springs.cases]
        if not here:
            continue
        held = Held(soft, springs, search_of(soft.answered, parts, np.array([each.case for each in here])))
        while here:
            asked = [(each.case, each.stiff ^ {end}) for each in here for end in springs.ends]
            new = [each for each in asked if each not in seen]
            seen |= set(new)
            best = {each.case: each for each in here}
            for at in range(0, len(new), AT_ONCE):
                for found in solved_in(held, new[at : at + AT_ONCE]):
                    best[found.case] = min(best[found.case], found, key=lambda each: each.factor)
            here = [each for each in best.values() if each not in here]
            yield from here


def solved_in(held: Held, asked: Sequence[tuple[int, Ends]]) -> Iterator[FoundMixture]:
    """Yield at what factor the frame buckles in each of some mixtures of load cases."""
    search = held.search.among(np.searchsorted(held.search.cases, [case for case, _ in asked]))
    own = mixed_search(held, search, [stiff for _, stiff in asked])
    found, _ = greatest_modes(own, np.repeat(own.start(), len(asked), axis=1))
    for (case, stiff), value, settled in zip(asked, found.values.tolist(), found.settled.tolist(), strict=True):
        yield FoundMixture(case, 1 / max(value, 1 / NEVER), settled, stiff)


def foretold(modes: MixtureModes, number: int, change: Change) -> FoundMixture:
    """Return a case with its changes, as they are foretold."""
    parts = modes.parts
    stiff = parts.stiff[number] ^ frozenset(change.ends)
    factor = float(1 / (parts.values[number] * (1.0 + change.share)))
    return FoundMixture(int(parts.cases[number]), factor, bool(modes.settled[number]), stiff)


def tried_in(held: Held, before: MixtureModes, stiff: Sequence[Ends]) -> MixtureModes:
    """Return the modes in some mixtures; before: the modes to begin with."""
    search = held.search.among(np.searchsorted(held.search.cases, before.parts.cases))
    own = mixed_search(held, search, stiff)
    one, other = before.force, search.start()
    size = [np.sqrt(np.sum(each * search.movements(each), axis=0)) for each in (one, other)]
    found, moved = greatest_modes(own, one / size[0] + ASIDE * other / size[1], SOON)
    return modes_of(held, (own, held.pieces), moved, (found, tuple(stiff)))


def mixed_search(held: Held, search: Search, stiff: Sequence[Ends]) -> Search:
    """Return a search with the ends of each case stiff that are said, and the forces that go with them."""
    springs, n = held.springs, len(held.springs.less)
    gain, whole = np.zeros((len(stiff), n, n)), springs.give + np.diag(springs.less)
    scale = 1.0 / np.sqrt(np.diagonal(whole))
    whole = scale[:, None] * whole * scale
    for ends in set(stiff):
        rows = springs.of(ends)
        inverse = scale[rows, None] * np.linalg.inv(whole[np.ix_(rows, rows)]) * scale[rows]
        for own in (own for own, each in zip(gain, stiff, strict=True) if each == ends):
            own[np.ix_(rows, rows)] = inverse
    slips = springs.slips[:, np.searchsorted(springs.cases, search.cases)]
    pushed = (gain @ slips.T[..., None])[..., 0].T
    forces, start = (getattr(search.answer, of) - getattr(springs.pieces, of) @ pushed for of in ("forces", "start"))
    answer = replace(search.answer, forces=forces, start=start)
    under = search_under(held.soft.answered, search.parts, search.cases, answer)
    return replace(under, stiff=StiffEnds(springs.at, held.unit, gain))


def modes_of(
    held: Held, own: tuple[Search, Pieces], moved: Array, told: tuple[Greatest, tuple[Ends, ...]]
) -> MixtureModes:
    """Return modes, as movements (N, j) of a search of its own with its pieces; told: their values, and the ends that are stiff."""
    (search, pieces), (found, stiff) = own, told
    force = search.on_arms(held.search.gathered(search.felt(moved)), moved) / np.maximum(found.values, 1 / NEVER)
    if held.search.hold is not None:
        force = held.search.hold.off_forces(force)
    slips = held.unit.T @ force[: held.search.count]
    made = -geometric_work(search, pieces, held.springs.pieces, moved)
    return MixtureModes(force, found.settled, ModeParts(search.cases, found.values, slips, made, stiff))
