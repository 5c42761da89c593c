"""A solved frame's results put together. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from framecheck.frame.equivalent import Made
from framecheck.frame.loads import Loads
from framecheck.frame.recover import (
    all_stations,
    member_end_forces,
    member_forces,
    piece_energy,
    solved_pieces,
)
from framecheck.frame.results import FrameSolution
from framecheck.frame.selfcheck import self_checks
from framecheck.frame.structure import Structure
from framecheck.frame.work import account_of
from framecheck.model.arrays import Array, frozen
from framecheck.model.loads import CaseLoads


def solution_of(
    structure: Structure,
    cases: Sequence[CaseLoads],
    loads: Loads,
    made: Made | None,
    vector: Array,
    unknowns: Array,
    least: float,
) -> FrameSolution:
    """Return the solution from the solved unknowns (n, k); vector (n, k): the loads on them; least: see Factored."""
    solved = solved_pieces(structure, loads, made, unknowns)
    stations, fields = all_stations(solved.answer)
    energy = piece_energy(structure.beams, stations, fields)
    left = structure.matrix @ unknowns - vector
    account = account_of(structure, cases, (loads, left), (unknowns, energy, stations, fields))
    points = len(structure.frame.points)
    six = unknowns[: 6 * points].reshape(points, 6, -1)
    return FrameSolution(
        bound=structure.bound,
        cases=tuple(case.name for case in cases),
        points=tuple(structure.frame.points),
        displacements=frozen(np.ascontiguousarray(six.transpose(0, 2, 1))),
        reactions=account.reactions,
        members=member_forces(structure, stations, fields),
        member_ends=member_end_forces(structure, solved.ends),
        mounts=mount_forces(structure, unknowns),
        balance=account.balance,
        energy=account.energy,
        energies=member_energies(structure, energy, unknowns),
        self_checks=self_checks(structure, cases, account, least),
        notes=structure.notes,
    )


def mount_forces(structure: Structure, unknowns: Array) -> Mapping[tuple[str, str], Array]:
    """Return what each stiff body does to each of its points (k, 3), N, vehicle axes."""
    links = structure.links
    found = {}
    for name, first in links.mounts.items():
        rows = slice(first, first + 3)
        stretch = np.einsum("ml,mlk->mk", links.rows[rows], unknowns[links.freedoms[rows]])
        found[name] = frozen(np.ascontiguousarray(-(links.stiffness[rows, None] * stretch).T))
    return found


def member_energies(structure: Structure, energy: Array, unknowns: Array) -> Mapping[str, Array]:
    """Return the strain energy (k,) of every member with its joints' springs; energy (n, k): of the pieces."""
    slips, first = structure.freedoms.slips, 6 * structure.freedoms.n_node + structure.freedoms.n_tie
    total = energy.copy()
    np.add.at(total, slips.piece, slips.stiffness[:, None] / 2 * unknowns[first:] ** 2)
    summed = frozen(np.add.reduceat(total, structure.pieces.first, axis=0)) if len(total) else total
    return {member.name: summed[number] for number, member in enumerate(structure.frame.members)}


