"""A solved frame's results put together, whether they are alike left and right, and forces at any station asked for. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from framecheck.frame.fields import fields_at
from framecheck.frame.loads import Loads
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
from framecheck.frame.stations import SOME, Stations, stations_of, stretch_places, stretches_of, with_more
from framecheck.frame.structure import Structure
from framecheck.frame.supports import carried, turned
from framecheck.frame.symmetry import asymmetry
from framecheck.model.arrays import Array, distinct_rows, frozen
from framecheck.model.loads import CaseLoads
from framecheck.value_class import array_class


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


def brief_stations(answered: SolvedFrame, marks: Mapping[str, Sequence[float]]) -> Stations:
    """Return the few stations at which a solution is told in brief, and those that marks ask for."""
    answer = answered.solved.answer
    stretches, places = stretches_of(answer.beams, answer.loads), marked_places(answered, marks)
    stations = stations_of(answer.beams, stretches, SOME)
    return with_more(stations, stretches, places[:, 0].astype(np.int64), places[:, 1]) if len(places) else stations


def solution_of(answered: SolvedFrame, crossings: Array, count: int) -> FrameSolution:
    """Return the solution at `count` stations a stretch, and at the crossings (n, 2) too."""
    structure, cases, loads, solved = answered.structure, answered.cases, answered.loads, answered.solved
    vector, unknowns, least = answered.vector, answered.unknowns, answered.least
    stations, fields = all_stations(solved.answer, crossings, count)
    summing = summed_over(solved.answer, stations, fields, count)
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
