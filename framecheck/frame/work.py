"""What the whole frame must satisfy: six equations of balance, work against strain energy, no force left over. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from framecheck.frame.afloat import rigid_moves
from framecheck.frame.fields import Fields
from framecheck.frame.links import Supports, supports_of
from framecheck.frame.loads import Loads, imbalance, reach_of
from framecheck.frame.particular import power
from framecheck.frame.stations import Stations
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array, frozen
from framecheck.model.loads import CaseLoads


@dataclass(frozen=True, eq=False, slots=True)
class Account:
    """What was found, k cases. reactions: by point (k, 6); balance (k,), residual (k,): shares of the loads' size.

    energy, work (k,): strain energy of all parts, and half the work of all that acts, J.
    """

    reactions: Mapping[str, Array]
    balance: Array
    residual: Array
    energy: Array
    work: Array


def account_of(
    structure: Structure,
    cases: Sequence[CaseLoads],
    outside: tuple[Loads, Array],
    inside: tuple[Array, Array, Stations, Fields],
) -> Account:
    """Return the account. outside: loads, and what the frame's matrix times the unknowns leaves of them (n, k); inside:
    unknowns (n, k), strain energy of pieces (n_piece, k), stations and their fields.
    """
    loads, left = outside
    unknowns, energy, stations, fields = inside
    supports = supports_of(structure.frame, structure.frame.supports)
    on_ground = np.array([not case.afloat for case in cases], dtype=np.float64)
    pushed, still_left = ground_forces(supports, unknowns, left, on_ground)
    sprung = supports.stiffness @ (unknowns[supports.sprung] ** 2) * on_ground / 2
    moved = np.sum(pushed[supports.held] * unknowns[supports.held], axis=0)
    return Account(
        reactions=_reactions(structure, supports, pushed),
        balance=frozen(_balance(structure, loads, pushed)),
        residual=frozen(_largest(structure, still_left) / load_size(structure, loads)),
        energy=frozen(energy.sum(axis=0) + _springs(structure, unknowns) + sprung),
        work=frozen(_work(structure, loads, unknowns, stations, fields) + moved / 2),
    )


def ground_forces(supports: Supports, unknowns: Array, left: Array, on_ground: Array) -> tuple[Array, Array]:
    """Return what the ground does on each unknown (n, k), and what is left over after that (n, k)."""
    pushed, still = np.zeros_like(left), left.copy()
    pushed[supports.held] = left[supports.held] * on_ground
    pushed[supports.sprung] = -supports.stiffness[:, None] * unknowns[supports.sprung] * on_ground
    still -= pushed
    return pushed, still


def _reactions(structure: Structure, supports: Supports, pushed: Array) -> Mapping[str, Array]:
    """Return what the ground does to each supported point (k, 6)."""
    nodes = np.unique(np.concatenate((supports.held, supports.sprung)) // 6).tolist()
    points = list(structure.frame.points)
    return {points[n]: frozen(np.ascontiguousarray(pushed[6 * n : 6 * n + 6].T)) for n in nodes}


def _balance(structure: Structure, loads: Loads, pushed: Array) -> Array:
    """Return the imbalance (k,) of loads and ground forces about the origin, as a share of their size."""
    places = structure.pieces.places
    six = pushed[: 6 * len(places)].reshape(len(places), 6, -1)
    rigid = rigid_moves(places)
    total = loads.total.T + np.einsum("nij,nik->jk", rigid, six[:, :3])
    total[3:] += six[:, 3:].sum(axis=0)
    pushes = np.abs(six[:, :3]).sum(axis=(0, 1))
    turns = np.abs(six[:, 3:]).sum(axis=(0, 1))
    return imbalance(places, total.T, loads.size + np.stack((pushes, turns), axis=1))


def _largest(structure: Structure, left: Array) -> Array:
    """Return the largest force (k,) left over on a node; moments as forces at the frame's size."""
    size = reach_of(structure.pieces.places)
    six = left[: 6 * structure.freedoms.n_node].reshape(-1, 6, left.shape[1])
    largest: Array = np.maximum(np.abs(six[:, :3]).max(axis=(0, 1)), np.abs(six[:, 3:]).max(axis=(0, 1)) / size)
    return largest


def load_size(structure: Structure, loads: Loads) -> Array:
    """Return the size (k,) of the loads, N; moments as forces at the frame's size. Where nothing acts: 1 N."""
    size: Array = loads.size[:, 0] + loads.size[:, 1] / reach_of(structure.pieces.places)
    size[size == 0] = 1.0
    return size


def _springs(structure: Structure, unknowns: Array) -> Array:
    """Return the energy (k,) of links, joints' springs and warping springs."""
    links, freedoms = structure.links, structure.freedoms
    own = np.concatenate((freedoms.ties.springs, freedoms.slips.stiffness))
    total: Array = own @ unknowns[6 * freedoms.n_node :] ** 2 / 2
    if len(links.nodes):
        stretch = np.einsum("ml,mlk->mk", links.rows, unknowns[links.freedoms])
        total += links.stiffness @ stretch**2 / 2
    return total


def _work(structure: Structure, loads: Loads, unknowns: Array, stations: Stations, fields: Fields) -> Array:
    """Return half the work (k,) of the loads on nodes and within pieces, less half of what warmth would do by itself."""
    nodal = loads.nodal.transpose(0, 2, 1).reshape(-1, unknowns.shape[1])
    total = np.sum(nodal * unknowns[: len(nodal)], axis=0)
    piece, weight = stations.piece, stations.weight[:, None]
    moves = fields.moves * np.array([1.0, 1.0, 1.0, 1.0, -1.0, -1.0])
    if loads.even is not None and loads.growing is not None:
        pull = loads.even[piece] + loads.growing[piece] * stations.at[:, None, None]
        total += np.sum(np.einsum("mkp,mkp->mk", pull, moves) * weight, axis=0)
    if loads.strain is not None:
        total -= np.sum(fields.forces[..., 0] * loads.strain[piece] * weight, axis=0)
    half: Array = (total + _begun_work(loads, stations, moves)) / 2
    return half


def _begun_work(loads: Loads, stations: Stations, moves: Array) -> Array:
    """Return the work (k,) of loads that begin within pieces."""
    begun, total = loads.begun, np.zeros(moves.shape[1])
    for load in range(len(begun.piece)):
        low, high = np.searchsorted(stations.piece, [begun.piece[load], begun.piece[load] + 1])
        along, case = stations.at[low:high] - begun.at[load], int(begun.case[load])
        gone = moves[low:high, case] @ begun.load[load]
        if begun.order[load] == -1:
            total[case] += gone[int(np.argmin(np.abs(along)))]
        else:
            reached = begun.at[load] <= stations.begin[low:high] + 1e-9
            total[case] += float(np.sum(power(along, reached, int(begun.order[load])) * gone * stations.weight[low:high]))
    return total
