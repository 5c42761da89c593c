"""A frame with all ends soft that is solved for every mixture of soft and stiff ends at once: once solved, all others follow. SI.

Between two mixtures nothing differs but springs at ends. The frame's answer to a unit force in each of them, found with the factors
that are there, is all that is needed (M. A. Woodbury, Inverting modified matrices, 1950; from memory): class by class of ends the
stiff half of the mixtures is eliminated from the soft one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from framecheck.frame.fields import SolvedPieces, fields_at
from framecheck.frame.joints import seats_of
from framecheck.frame.loads import Loads
from framecheck.frame.member_loads import Begun
from framecheck.frame.open_ends import open_ends
from framecheck.frame.recover import member_end_forces, member_forces, solved_pieces
from framecheck.frame.report import SolvedFrame, brief_stations
from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.frame.solve import factor_of, hanging_supports, with_ground
from framecheck.frame.stations import Stations
from framecheck.frame.structure import Structure
from framecheck.frame.supports import Supports, grounds_of
from framecheck.frame.unlike import EVERY_ALONE, EVERY_MIXTURE, MOST_CLASSES, MOST_MIXED, Ends
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.value_class import array_class

_Left = tuple[Array, Array, Array, Array]
MOST_CASES = 3000
"""Most members times load cases of which 512 mixtures are told at the ends: so far memory serves (300 MB). Beyond, a quarter; of an
eighth all 4096 of 12 ends."""


@array_class
class UnitTold:
    """What is told of answers to unit forces: as in FrameSolution."""

    members: tuple[MemberForces, ...]
    member_ends: Mapping[str, Array]


Numbers = Callable[[FrameSolution | UnitTold], Array]
"""What is picked, (p, k), of what is told."""


@array_class
class Springs:
    """The springs (n,) at ends that may be unlike, the ends' in a row, of the cases (k,) that hang on the same supports.

    ends: where each end's begin and end; give (n, n): slips under unit forces; less (n,): one over what a stiff spring has more, 0
    where it is rigid; slips (n, k): in the answer with all ends soft; unit: what is told under unit forces; at (n,), moved (N, n),
    pieces: the slips among the unknowns, those and the pieces' answer under unit forces.
    """

    ends: Mapping[tuple[int, int], slice]
    give: Array
    less: Array
    slips: Array
    unit: UnitTold
    cases: IntArray
    at: IntArray
    moved: Array
    pieces: SolvedPieces

    def of(self, ends: Ends) -> IntArray:
        """Return the numbers of some ends' springs."""
        none = np.zeros(0, dtype=np.int64)
        return np.concatenate([none, *(np.arange(self.ends[end].start, self.ends[end].stop) for end in sorted(ends))])


@array_class
class SoftFrame:
    """A frame with all ends soft, and the springs at those that may be unlike, set of supports by set of supports.

    told: the answer at few stations, of the frame as it is and on the moved frame; what the moved frame adds is taken to be the same
    in every mixture. every: the ends; stations: those of what is told.
    """

    answered: SolvedFrame
    told: tuple[FrameSolution, FrameSolution]
    every: Ends
    springs: tuple[Springs, ...]
    stations: Stations

    @property
    def frame(self) -> Frame:
        """Return the frame."""
        return self.answered.structure.frame

    @property
    def is_told_whole(self) -> bool:
        """Return whether its ends are so few that every mixture of them is a bound by itself."""
        return len(self.every) <= EVERY_MIXTURE

    @property
    def most_classes(self) -> int:
        """Return the most classes of ends in its mixtures: memory holds 4096 of some load cases, 512 of most."""
        asked = len(seated_members(self.frame)) * len(self.answered.cases)
        return EVERY_ALONE if 8 * asked <= MOST_CASES else MOST_CLASSES if asked <= MOST_CASES else MOST_CLASSES - 2

    def first_row(self, number: int) -> int:
        """Return where the stations of a member, by its place in the frame, begin."""
        return int(np.searchsorted(self.answered.structure.pieces.member[self.stations.piece], number))

    def mixtures(self, classes: Sequence[Ends], numbers: Numbers, cases: slice = slice(None)) -> Array:
        """Return some numbers of what is told (2^c, p, k) in every mixture of c classes of ends, in all load cases or some."""
        as_it_is, moved = (numbers(each)[:, cases] for each in self.told)
        found = np.empty((2 ** len(classes), *moved.shape))
        asked = np.arange(len(self.answered.cases))[cases]
        for held in self.springs:
            own = np.flatnonzero(np.isin(held.cases, asked))
            at = np.searchsorted(asked, held.cases[own])
            order = np.concatenate([held.of(ends) for ends in classes])
            slips = held.slips[np.ix_(order, own)]
            of = held.give[np.ix_(order, order)], slips, numbers(held.unit)[:, order], as_it_is[:, at]
            found[..., at] = every_mixture(of, held.less[order], [len(held.of(ends)) for ends in classes])
        found += moved - as_it_is
        return found


def soft_frame(
    answered: SolvedFrame, stiff: Structure, told: tuple[FrameSolution, FrameSolution], marks: Mapping[str, Sequence[float]]
) -> SoftFrame | None:
    """Return a frame with its springs, None where too few ends may be unlike, or too many; answered: with all ends soft.

    stiff: the frame with all ends stiff. told: see SoftFrame, at the stations that marks ask for too.
    """
    slips = slips_by_end(answered.structure, stiff)
    if len(slips) < 2 or len(slips) > MOST_MIXED:
        return None
    stations = brief_stations(answered, marks)
    springs = [springs_of(answered, slips, stations, held) for held in held_alike(answered)]
    return SoftFrame(answered, told, frozenset(slips), tuple(springs), stations)


def seated_members(frame: Frame) -> list[int]:
    """Return the members, by their places in the frame, that stand on others."""
    return list(dict.fromkeys(number for number, _ in sorted(seats_of(frame))))


Slips = Mapping[tuple[int, int], Sequence[tuple[int, float]]]
Held = tuple[object, Supports, IntArray]


def springs_of(answered: SolvedFrame, slips: Slips, stations: Stations, held: Held) -> Springs:
    """Return the springs at ends for the cases on some supports."""
    key, supports, cases = held
    structure = answered.structure
    rows = [row for each in slips.values() for row in each]
    at = 6 * structure.freedoms.n_node + structure.freedoms.n_tie + np.array([row for row, _ in rows])
    moved, pieces, unit = unit_answers(structure, (key, supports), at, stations)
    stops = np.cumsum([len(each) for each in slips.values()]).tolist()
    ends = {end: slice(stop - len(slips[end]), stop) for end, stop in zip(slips, stops, strict=True)}
    less = np.array([share for _, share in rows])
    return Springs(ends, moved[at], less, answered.unknowns[at][:, cases], unit, cases, at, moved, pieces)


def slips_by_end(soft: Structure, stiff: Structure) -> dict[tuple[int, int], list[tuple[int, float]]]:
    """Return the slips of every end that may be unlike others (member, 0 start or 1 end): the number of each among the soft frame's,
    and one over what a stiff end has more than a soft one. Left out: ends that sit elsewhere as they are stiffer.
    """
    known = {tuple(row): each for *row, each in zip(*_keys(stiff), stiff.freedoms.slips.stiffness.tolist(), strict=True)}
    own: dict[tuple[int, int], list[tuple[int, float]]] = {}
    for number, (piece, end, way) in enumerate(zip(*_keys(soft), strict=True)):
        more = known.get((piece, end, way), np.inf) - float(soft.freedoms.slips.stiffness[number])
        if more > 0.0:
            own.setdefault((piece, end), []).append((number, 1.0 / more))
    found = {}
    for member, end in sorted(each.at for each in open_ends(soft.frame) if each.is_left_out):
        piece = int((soft.pieces.first, soft.pieces.last)[end][member])
        same = soft.pieces.count == stiff.pieces.count and np.array_equal(soft.pieces.arms[piece], stiff.pieces.arms[piece])
        if same and (piece, end) in own:
            found[member, end] = own[piece, end]
    return found


def _keys(structure: Structure) -> tuple[list[int], list[int], list[int]]:
    slips = structure.freedoms.slips
    return slips.piece.tolist(), slips.end.tolist(), slips.way.tolist()


def held_alike(answered: SolvedFrame) -> Iterator[Held]:
    """Yield the key of the frame's factors on some supports, those, and the numbers of the cases that hang on them."""
    for each in grounds_of(answered.structure.frame, answered.cases):
        yield each.key, each.supports, each.cases
    hanging = np.flatnonzero([case.free_free for case in answered.cases])
    if len(hanging):
        yield "free_free", hanging_supports(answered.structure), hanging


def unit_answers(
    structure: Structure, held: tuple[object, Supports], unknowns: IntArray, stations: Stations
) -> tuple[Array, SolvedPieces, UnitTold]:
    """Return the movements (n, j) under a unit force on each of some unknowns (j,), the pieces' answer, and what is told of it at
    some stations."""
    count = len(unknowns)
    forces = np.zeros((structure.freedoms.count, count))
    forces[unknowns, np.arange(count)] = 1.0
    moved = factor_of(structure, *held).movements(with_ground(structure.matrix, held[1]), forces)
    if structure.sheets is not None:
        structure.sheets.follow(moved)
    solved = solved_pieces(structure, no_loads(structure, count), None, moved)
    lines = member_forces(structure, stations, fields_at(solved.answer, stations))
    return moved, solved.answer, UnitTold(tuple(lines), member_end_forces(structure, solved))


def no_loads(structure: Structure, count: int) -> Loads:
    """Return that nothing acts in so many cases but forces on unknowns."""
    none = np.zeros(0, dtype=np.int64)
    total, size = np.zeros((count, 6)), np.zeros((count, 2))
    begun = Begun(none, none, none, np.zeros(0), np.zeros((6, 0)), np.zeros((0, 6)), total, size)
    return Loads(np.zeros((len(structure.pieces.places), count, 6)), None, None, begun, None, (), total, size)


def every_mixture(of: _Left, less: Array, sizes: Sequence[int]) -> Array:
    """Return what is told (2^c, p, k) in every mixture of c classes of springs; the k-th class is stiff in mixtures whose k-th bit is.

    of: give (n, n): slips under unit forces in the springs; slips (n, k); what is told under unit forces (p, n), and with all springs
    soft (p, k). less (n,): one over what a stiff spring has more. sizes: of the classes.
    """
    give, slips, unit, told = of
    scale = 1.0 / np.sqrt(np.diagonal(give))
    left: _Left = ((scale[:, None] * give * scale)[None], (scale[:, None] * slips)[None], (unit * scale)[None], told[None])
    own = scale**2 * less
    for size in sizes:
        soft, stiff = _halves(left, own[:size], size)
        left = (
            np.concatenate((soft[0], stiff[0])), np.concatenate((soft[1], stiff[1])),
            np.concatenate((soft[2], stiff[2])), np.concatenate((soft[3], stiff[3])),
        )  # fmt: skip
        own = own[size:]
    return left[3]


def _halves(left: _Left, own: Array, size: int) -> tuple[_Left, _Left]:
    """Return what is left of the mixtures where the first springs are soft, and where they are stiff."""
    give, slips, unit, told = left
    first = give[:, :size, :size] + np.diag(own)
    gain = np.linalg.solve(first, np.concatenate((give[:, :size, size:], slips[:, :size]), axis=2))
    rest, push = gain[:, :, : give.shape[2] - size], gain[:, :, give.shape[2] - size :]
    beside, felt = give[:, size:, :size], unit[:, :, :size]
    soft = give[:, size:, size:], slips[:, size:], unit[:, :, size:], told
    stiff = soft[0] - beside @ rest, soft[1] - beside @ push, soft[2] - felt @ rest, told - felt @ push
    return soft, stiff
