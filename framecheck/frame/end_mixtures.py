"""What members' ends do in every mixture of soft and stiff ends at once: the frame is solved for one, all others follow from it. SI.

Between two mixtures nothing differs but springs at ends. The frame's answer to a unit force in each of them, found with the factors
that are there, is all that is needed (M. A. Woodbury, Inverting modified matrices, 1950; from memory): class by class of ends the
stiff half of the mixtures is eliminated from the soft one. Told is what the checks of walls and welds at ends ask: the forces of
members' ends, and what the rails carry there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from framecheck.frame.fields import fields_at
from framecheck.frame.geometry import point_stations
from framecheck.frame.joints import seats_of
from framecheck.frame.loads import Loads
from framecheck.frame.member_loads import Begun
from framecheck.frame.open_ends import open_ends
from framecheck.frame.recover import member_end_forces, member_forces, solved_pieces
from framecheck.frame.report import SolvedFrame
from framecheck.frame.results import Bound, EndsApart, FrameSolution, MemberForces
from framecheck.frame.solve import factor_of, hanging_supports, with_ground
from framecheck.frame.stations import Stations
from framecheck.frame.structure import Structure
from framecheck.frame.supports import Supports, grounds_of
from framecheck.frame.unlike import Ends, classes_about, in_words
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.model.frame import SAME_STATION, Frame
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class, value_class

_Left = tuple[Array, Array, Array, Array]
STRETCHING = [0, 4, 5, 6]
"""Columns of section forces that make normal stress: N, Mv, Ms, B."""
MOST_ENDS, MOST_CASES = 60, 3000
"""Most ends of which mixtures are solved at the ends alone, and most members times load cases: so far memory serves (300 MB)."""


@array_class
class RailRows:
    """What a member carries at a point in m mixtures: its sections (r,) there, and forces (m, r, k, 4): N, Mv, Ms, B."""

    sections: tuple[SectionProperties, ...]
    forces: Array


@array_class
class EndMixtures:
    """What one member's ends do in m mixtures. base: the bound of all else; every: the ends that may be unlike; classes: of them; the
    k-th is stiff in the mixtures whose k-th bit is. ends: (m, k, 2, 6) as FrameSolution.member_ends; rails: by place in the frame and
    point.
    """

    member: str
    frame: Frame
    base: Bound
    every: Ends
    classes: tuple[Ends, ...]
    ends: Array
    rails: Mapping[tuple[int, str], RailRows]

    def bound(self, number: int) -> Bound:
        """Return one of the mixtures as a bound."""
        stiff, base = frozenset(end for k, ends in enumerate(self.classes) if number >> k & 1 for end in ends), self.base
        apart = EndsApart(stiff, in_words(self.frame, self.every, frozenset(sorted(stiff)[:1]), stiff)) if stiff else None
        return Bound(base.warping, base.joints, base.seams, base.shell, apart)


@array_class
class UnitTold:
    """What is told of answers to unit forces: as in FrameSolution."""

    members: tuple[MemberForces, ...]
    member_ends: Mapping[str, Array]


@array_class
class Springs:
    """The springs (n,) at ends that may be unlike, the ends' in a row, of the cases (k,) that hang on the same supports.

    ends: where each end's begin and end; give (n, n): slips under unit forces; less (n,): one over what a stiff spring has more, 0
    where it is rigid; slips (n, k): in the answer with all ends soft; unit: what is told under unit forces.
    """

    ends: Mapping[tuple[int, int], slice]
    give: Array
    less: Array
    slips: Array
    unit: UnitTold
    cases: IntArray

    def of(self, ends: Ends) -> IntArray:
        """Return the numbers of some ends' springs."""
        return np.concatenate([np.arange(self.ends[end].start, self.ends[end].stop) for end in sorted(ends)])


def end_mixtures(answered: SolvedFrame, stiff: Structure, told: tuple[FrameSolution, FrameSolution]) -> Iterator[EndMixtures]:
    """Yield what the ends of every member that stands on another do in the mixtures about it; answered: with all ends soft.

    stiff: the frame with all ends stiff. told: the answer at few stations, of the frame as it is and on the moved frame; what the
    moved frame adds is taken to be the same in every mixture.
    """
    frame, slips = answered.structure.frame, slips_by_end(answered.structure, stiff)
    members = list(dict.fromkeys(number for number, _ in sorted(seats_of(frame))))
    if len(slips) < 2 or len(slips) > MOST_ENDS or len(members) * len(answered.cases) > MOST_CASES:
        return
    springs = [springs_of(answered, slips, *held) for held in held_alike(answered)]
    for number in members:
        classes = classes_about(frame, frozenset(slips), number)
        places = places_of(frame, number)
        as_it_is, moved = (numbers_of(each, places) for each in told)
        found = np.empty((2 ** len(classes), *moved.shape))
        for held in springs:
            order = np.concatenate([held.of(ends) for ends in classes])
            of = held.give[np.ix_(order, order)], held.slips[order], numbers_of(held.unit, places)[:, order], as_it_is[:, held.cases]
            found[..., held.cases] = every_mixture(of, held.less[order], [len(held.of(ends)) for ends in classes])
        found += moved - as_it_is
        yield _told((answered, frozenset(slips), classes), places, told[1], found)


Slips = Mapping[tuple[int, int], Sequence[tuple[int, float]]]


def springs_of(answered: SolvedFrame, slips: Slips, key: object, supports: Supports, cases: IntArray) -> Springs:
    """Return the springs at ends for the cases on some supports."""
    structure = answered.structure
    rows = [row for each in slips.values() for row in each]
    at = 6 * structure.freedoms.n_node + structure.freedoms.n_tie + np.array([row for row, _ in rows])
    moved, unit = unit_answers(structure, (key, supports), at)
    stops = np.cumsum([len(each) for each in slips.values()]).tolist()
    ends = {end: slice(stop - len(slips[end]), stop) for end, stop in zip(slips, stops, strict=True)}
    return Springs(ends, moved[at], np.array([share for _, share in rows]), answered.unknowns[at][:, cases], unit, cases)


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


def held_alike(answered: SolvedFrame) -> Iterator[tuple[object, Supports, IntArray]]:
    """Yield the key of the frame's factors on some supports, those, and the numbers of the cases that hang on them."""
    for each in grounds_of(answered.structure.frame, answered.cases):
        yield each.key, each.supports, each.cases
    hanging = np.flatnonzero([case.free_free for case in answered.cases])
    if len(hanging):
        yield "free_free", hanging_supports(answered.structure), hanging


def unit_answers(structure: Structure, held: tuple[object, Supports], unknowns: IntArray) -> tuple[Array, UnitTold]:
    """Return the movements (n, j) under a unit force on each of some unknowns (j,), and what is told of them."""
    count = len(unknowns)
    forces = np.zeros((structure.freedoms.count, count))
    forces[unknowns, np.arange(count)] = 1.0
    moved = factor_of(structure, *held).movements(with_ground(structure.matrix, held[1]), forces)
    if structure.sheets is not None:
        structure.sheets.follow(moved)
    solved = solved_pieces(structure, no_loads(structure, count), None, moved)
    stations = ends_of_pieces(structure)
    lines = member_forces(structure, stations, fields_at(solved.answer, stations))
    return moved, UnitTold(tuple(lines), member_end_forces(structure, solved))


def ends_of_pieces(structure: Structure) -> Stations:
    """Return both ends of every piece as stations."""
    length = structure.beams.length
    at = np.stack((np.zeros_like(length), length), axis=1).ravel()
    return Stations(np.repeat(np.arange(len(length)), 2), at, np.zeros_like(at), np.zeros_like(at))


def no_loads(structure: Structure, count: int) -> Loads:
    """Return that nothing acts in so many cases but forces on unknowns."""
    none = np.zeros(0, dtype=np.int64)
    total, size = np.zeros((count, 6)), np.zeros((count, 2))
    begun = Begun(none, none, none, np.zeros(0), np.zeros((6, 0)), np.zeros((0, 6)), total, size)
    return Loads(np.zeros((len(structure.pieces.places), count, 6)), None, None, begun, None, (), total, size)


# what is told, as one column of numbers a case ---------------------------------------------------------------------------


@value_class
class EndPlaces:
    """What is told about a member's ends: its name, and the places (place in the frame, point, station) of others under them."""

    member: str
    rails: tuple[tuple[int, str, float], ...]


def places_of(frame: Frame, number: int) -> EndPlaces:
    """Return what is told about a member's ends."""
    own = frame.members[number]
    rails = tuple(
        (other, point, station)
        for other, member in enumerate(frame.members)
        for point, station in zip(member.points, point_stations(frame, member), strict=True)
        if other != number and point in (own.points[0], own.points[-1])
    )
    return EndPlaces(own.name, rails)


def rows_at(line: MemberForces, station: float) -> list[int]:
    """Return the rows of a member's line at a station."""
    found: list[int] = np.flatnonzero(np.abs(line.stations - station) < SAME_STATION).tolist()
    return found


def numbers_of(told: FrameSolution | UnitTold, places: EndPlaces) -> Array:
    """Return what is told, (p, k): the forces of both ends, then what others carry there."""
    ends = told.member_ends[places.member].transpose(1, 2, 0)
    found = [ends.reshape(12, -1)]
    for number, _, station in places.rails:
        line = told.members[number]
        rows = line.forces[rows_at(line, station)][..., STRETCHING].transpose(0, 2, 1)
        found.append(rows.reshape(-1, rows.shape[2]))
    return np.concatenate(found)


def _told(
    of: tuple[SolvedFrame, Ends, tuple[Ends, ...]], places: EndPlaces, told: FrameSolution, found: Array
) -> EndMixtures:
    """Return a member's mixtures from their numbers (m, p, k), in the order of numbers_of."""
    (answered, every, classes), (m, _, k) = of, found.shape
    ends = found[:, :12].reshape(m, 2, 6, k).transpose(0, 3, 1, 2)
    rails, at = {}, 12
    for other, point, station in places.rails:
        line = told.members[other]
        sections = tuple(line.sections[row] for row in rows_at(line, station))
        own = found[:, at : at + 4 * len(sections)].reshape(m, len(sections), 4, k).transpose(0, 1, 3, 2)
        rails[other, point], at = RailRows(sections, frozen(own)), at + 4 * len(sections)
    return EndMixtures(places.member, answered.structure.frame, answered.structure.bound, every, classes, frozen(ends), rails)


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
