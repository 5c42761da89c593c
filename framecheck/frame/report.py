"""A solved frame's results put together, whether they are alike left and right, and forces at any station asked for. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from framecheck.frame.fields import fields_at
from framecheck.frame.loads import Loads, reach_of
from framecheck.frame.recover import (
    Solved,
    all_stations,
    crossings_of,
    member_end_forces,
    member_forces,
    moves_at_arms,
    piece_energy,
    summed_over,
)
from framecheck.frame.results import FrameSolution
from framecheck.frame.selfcheck import account_of, self_checks
from framecheck.frame.stations import Stations, stretch_places, stretches_of
from framecheck.frame.structure import Structure
from framecheck.frame.supports import carried, turned
from framecheck.model.arrays import Array, IntArray, distinct_rows, frozen
from framecheck.model.frame import Frame, Member, MemberEnd
from framecheck.model.loads import CaseLoads
from framecheck.model.panels import Panel
from framecheck.value_class import array_class

FLIP = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])  # of displacements and turns, forces and moments, mirrored left to right
MOST = 200  # members of the largest frame that is looked at
PLACE = 12
"""Decimals of a metre to which places are compared: what is off by a hair is not alike, and need not move alike."""
ALIKE = 1e-12
"""Loads that differ by less than this share of the largest are alike, for the same reason."""


def images_of(frame: Frame) -> IntArray | None:
    """Return each point's mirror image (n_point,) across the upright plane midway between the outermost, None where one has none."""
    places = np.array(list(frame.points.values()))
    middle = (places.min(axis=0) + places.max(axis=0)) / 2 * (0.0, 1.0, 0.0)
    points = np.round(places - middle, PLACE) + 0.0
    number = {tuple(place): row for row, place in enumerate(points.tolist())}
    image = [number.get((x, -y + 0.0, z), -1) for x, y, z in points.tolist()]
    return np.array(image, dtype=np.int64) if min(image) >= 0 else None


def is_alike(frame: Frame, image: IntArray, even: frozenset[str]) -> bool:
    """Return whether members and supports are alike left and right; even: sections that are so themselves."""
    names = list(frame.points)
    other = {name: names[row] for name, row in zip(names, image.tolist(), strict=True)}
    drawn = {_drawn(member, even) for member in frame.members}
    alike = all(drawn & set(_mirrored(member, other, even)) for member in frame.members)
    held = {(support.point, support.stiffness) for support in frame.supports}
    sheet = {_sheet(panel, panel.corners, 1.0) for panel in frame.panels}
    alike &= all(_sheet(panel, [other[name] for name in panel.corners], -1.0) in sheet for panel in frame.panels)
    return alike and all((other[point], stiffness) in held for point, stiffness in held)


_Drawn = tuple[object, ...]


def _sheet(panel: Panel, corners: Sequence[str], hand: float) -> _Drawn:
    """Return what of a panel must be alike left and right; hand -1: of its mirror image, with these corners."""
    x, y, z = panel.offset
    kind = panel.thickness, panel.material, panel.carries, panel.cells, len(panel.joined), len(panel.loose)
    return frozenset(corners), (x, hand * y + 0.0, z), *kind


def _end(end: MemberEnd) -> _Drawn:
    x, y, z = end.arm
    return end.make, end.warping, end.stiffness, end.warping_stiffness, (x, y + 0.0, z)


def _drawn(member: Member, even: frozenset[str], flip: bool = False) -> _Drawn:
    alike = all(stretch.section in even for stretch in member.stretches)
    lie = (member.orientation.quarter_turns % 4, not alike and member.orientation.mirrored != flip, member.roll + 0.0)
    return member.points, member.stretches, lie, _end(member.start), _end(member.end), member.cuts


def _mirrored(member: Member, other: dict[str, str], even: frozenset[str]) -> Iterator[_Drawn]:
    """Yield the ways to draw a member's mirror image; only sections that stand upright, without cuts or arms, are looked at."""
    turned = member.orientation.quarter_turns % 4 or member.roll
    if turned or member.cuts or any(member.start.arm) or any(member.end.arm):
        return
    points = tuple(other[name] for name in member.points)
    flipped = _drawn(member, even, flip=True)
    yield (points, *flipped[1:])
    if len(member.stretches) == 1:
        backwards = _drawn(member, even)  # seen from its other end a section is mirrored once more
        yield (points[::-1], member.stretches, backwards[2], _end(member.end), _end(member.start), ())


def asymmetry(
    structure: Structure, cases: Sequence[CaseLoads], loads: Loads, unknowns: Array, largest: Array
) -> Iterator[tuple[str, float]]:
    """Yield, per case whose frame and loads are alike left and right, how far its movements are not, of the largest.

    largest: movement (k,) along any member, m. Turns count at the frame's size: where no point is displaced, they are what moves.
    """
    frame = structure.frame
    if structure.bound.apart is not None or len(frame.members) > MOST:
        return
    if frame.stiff_bodies or frame.springs or frame.splices or frame.body is not None:
        return
    if len(loads.begun.piece) or loads.moved or loads.strain is not None:
        return
    image = images_of(frame)
    if image is None:
        return
    points, names = len(image), list(frame.points)
    alike = [number for number, case in enumerate(cases) if _alike(case, loads.nodal[:points, number], image, names)]
    if not alike or not is_alike(frame, image, _even_sections(structure)):
        return
    moved = unknowns[: 6 * points].reshape(points, 6, -1)
    at_size = np.array([1.0, 1.0, 1.0, *3 * (reach_of(structure.pieces.places),)])
    for number in alike:
        own = moved[..., number] * at_size
        gap = np.abs(own[image] * FLIP - own).max()
        yield cases[number].name, float(gap / max(np.abs(own).max(), largest[number], np.finfo(float).tiny))


EVEN = 1e-9
"""A section off its middle by less than this share of its width is alike left and right: its mesh is, but for rounding."""


def _even_sections(structure: Structure) -> frozenset[str]:
    """Return the names of the sections that are alike left and right themselves."""
    return frozenset(
        name
        for (member, name), of in zip(structure.pieces.keys, structure.sections, strict=True)
        if not member
        and max(abs(of.centroid[0]), abs(of.shear_centre[0])) < EVEN * (of.box[1] - of.box[0])
        and abs(of.i_product) < EVEN * of.i_vertical
    )


def _alike(case: CaseLoads, nodal: Array, image: IntArray, names: list[str]) -> bool:
    """Return whether a case's loads, and the points it is measured from, are alike left and right."""
    motion = case.motion
    sideways = (motion.linear[1], motion.angular[0], motion.angular[2])
    pushes = np.abs(nodal[image] * FLIP - nodal).max(initial=0.0) <= ALIKE * np.abs(nodal).max(initial=0.0)
    mirrored = {names[image[names.index(name)]] for name in case.reference}
    measured = not case.free_free or (len(case.reference) >= 3 and mirrored == set(case.reference))
    return bool(pushes) and not any(sideways) and measured and case.supports is None


@array_class
class SolvedFrame:
    """A frame solved for some cases, before results are put together. vector, unknowns (n, k): loads and movements of the
    freedoms; least: see Factored.
    """

    structure: Structure
    cases: Sequence[CaseLoads]
    loads: Loads
    vector: Array
    unknowns: Array
    least: float
    solved: Solved


LITTLE = 300_000
"""Places times load cases times bounds, up to which all load cases are told at the places of all: 240 MB and two seconds."""


def common_crossings(answers: Sequence[SolvedFrame], any_number: bool = False) -> Array:
    """Return where a moment is extreme in any of some answers (n, 2), so that bounds are told at the same stations.

    None where that would be more than LITTLE: the load cases are then judged in blocks (load_blocks.py), and what is told of all of
    them together does without. any_number: return them all the same.
    """
    found = distinct_rows(np.concatenate([crossings_of(each.solved.answer) for each in answers]))
    many = len(found) * len(answers) * len(answers[0].cases) > LITTLE
    return found[:0] if many and not any_number else found


def marked_places(answered: SolvedFrame, marks: Mapping[str, Sequence[float]]) -> Array:
    """Return marks, stations (m) by member, as stretch and share of it (n, 2)."""
    if not marks:
        return np.empty((0, 2))
    structure, answer = answered.structure, answered.solved.answer
    rows = [
        (number, station)
        for number, member in enumerate(structure.frame.members)
        for station in marks.get(member.name, ())
    ]
    stretches = stretches_of(answer.beams, answer.loads)
    return stretch_places(answer.beams, stretches, structure.pieces.member, np.array(rows).reshape(-1, 2))


def solution_of(answered: SolvedFrame, crossings: Array) -> FrameSolution:
    """Return the solution, with stations at the crossings (n, 2) too."""
    structure, cases, loads, solved = answered.structure, answered.cases, answered.loads, answered.solved
    vector, unknowns, least = answered.vector, answered.unknowns, answered.least
    stations, fields = all_stations(solved.answer, crossings)
    summing = summed_over(solved.answer, stations, fields)
    energy = piece_energy(structure.beams, *summing)
    left = structure.matrix @ unknowns - vector
    account = account_of(structure, cases, (loads, left), (unknowns, energy, *summing))
    uneven = asymmetry(structure, cases, loads, unknowns, np.abs(fields.moves[:3]).max(axis=(0, 1), initial=0.0))
    points = len(structure.frame.points)
    six = unknowns[: 6 * points].reshape(points, 6, -1)
    return FrameSolution(
        bound=structure.bound,
        cases=tuple(case.name for case in cases),
        points=tuple(structure.frame.points),
        displacements=frozen(np.ascontiguousarray(six.transpose(0, 2, 1))),
        reactions=account.reactions,
        members=member_forces(structure, stations, fields),
        member_ends=member_end_forces(structure, solved),
        mounts=mount_forces(structure, unknowns),
        balance=account.balance,
        energy=account.energy,
        energies=member_energies(structure, energy, unknowns),
        self_checks=self_checks(cases, account, uneven, least),
        notes=structure.notes,
        bodies=body_movements(structure, unknowns),
        splices=splice_forces(structure, unknowns),
        **_of_panels(structure, unknowns),
        body_energy=None if structure.body is None else frozen(structure.body.energies(unknowns).sum(axis=0)),
    )


def _of_panels(structure: Structure, unknowns: Array) -> Mapping[str, Any]:
    """Return what the panels carry and store, nothing without any."""
    if structure.sheets is None:
        return {}
    from framecheck.frame.panel.recover import panel_energies, panel_forces

    of = structure.frame, structure.sheets, unknowns
    return {"panels": panel_forces(*of), "panel_energies": panel_energies(*of)}


def body_movements(structure: Structure, unknowns: Array) -> Mapping[str, Array]:
    """Return displacement and turn (k, 6) of each stiff body at its centre of mass, m and rad, vehicle axes."""
    return {
        name: frozen(np.ascontiguousarray(unknowns[6 * node : 6 * node + 6].T))
        for name, node in structure.links.bodies.items()
    }


def mount_forces(structure: Structure, unknowns: Array) -> Mapping[tuple[str, str], Array]:
    """Return what each stiff body does to each of its points (k, 3), N, vehicle axes."""
    links = structure.links
    found: dict[tuple[str, str], Array] = {}
    for body, point, first in links.mounts:
        rows = slice(first, first + 3)
        stretch = np.einsum("ml,mlk->mk", links.rows[rows], unknowns[links.freedoms[rows]])
        force = -(links.stiffness[rows, None] * stretch).T
        found[body, point] = found.get((body, point), 0.0) + force  # two mounts of a body may share a point
    return {name: frozen(force) for name, force in found.items()}


def splice_forces(structure: Structure, unknowns: Array) -> Mapping[str, Array]:
    """Return what each splice's second member puts on its first (k, 6), N and Nm, at the lap's middle, vehicle axes."""
    links, points = structure.links, structure.frame.points
    middles = {each.name: np.array(each.middle) for each in structure.frame.splices}
    found: dict[str, Array] = {}
    for tie, first in links.ties:
        rows = slice(first, first + 6)
        stretch = np.einsum("ml,mlk->mk", links.rows[rows], unknowns[links.freedoms[rows]])
        own = turned(tie.axes).T @ (links.stiffness[rows, None] * stretch)
        away = (np.array(points[tie.points[0]]) + np.array(points[tie.points[1]])) / 2 - middles[tie.splice]
        moved = carried(away).T @ own
        found[tie.splice] = found.get(tie.splice, 0.0) + moved.T
    return {name: frozen(np.ascontiguousarray(force)) for name, force in found.items()}


def member_energies(structure: Structure, energy: Array, unknowns: Array) -> Mapping[str, Array]:
    """Return the strain energy (k,) of every member with its joints' springs; energy (n, k): of the pieces."""
    slips, first = structure.freedoms.slips, 6 * structure.freedoms.n_node + structure.freedoms.n_tie
    total = energy.copy()
    np.add.at(total, slips.piece, slips.stiffness[:, None] / 2 * unknowns[first:] ** 2)
    summed = frozen(np.add.reduceat(total, structure.pieces.first, axis=0)) if len(total) else total
    return {member.name: summed[number] for number, member in enumerate(structure.frame.members)}


def moved_at(answered: SolvedFrame, member: str, stations: Sequence[float], arms: Array) -> Array:
    """Return the displacements (n, k, 3) of places of a member: at stations (m, rising), at arms (n, 3) from the reference line."""
    answer, places = answered.solved.answer, places_at(answered, member, stations)
    return moves_at_arms(answer.beams, places, fields_at(answer, places), arms)


def places_at(answered: SolvedFrame, member: str, stations: Sequence[float]) -> Stations:
    """Return where stations (m, rising) of a member lie on its pieces: at a jump just beyond it, at the end just before it.

    A length that an arm shortens ends before the next point's station: between the two its end holds.
    """
    structure, answer = answered.structure, answered.solved.answer
    number = next(place for place, each in enumerate(structure.frame.members) if each.name == member)
    stretches = stretches_of(answer.beams, answer.loads)
    mine = np.flatnonzero(structure.pieces.member[stretches.piece] == number)
    starts = answer.beams.start[stretches.piece[mine]] + stretches.start[mine]
    wanted = np.array(stations, dtype=np.float64)
    stretch = mine[np.clip(np.searchsorted(starts, wanted, side="right") - 1, 0, len(mine) - 1)]
    piece = stretches.piece[stretch]
    on_piece = np.clip(wanted - answer.beams.start[piece], 0.0, stretches.end[stretch])
    return Stations(piece, on_piece, stretches.start[stretch], np.zeros(len(wanted)))
