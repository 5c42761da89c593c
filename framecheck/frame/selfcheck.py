"""What every solution must satisfy: balance of the whole frame, work against strain energy, no force left over. SI."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from framecheck.frame.discretise import SAME
from framecheck.frame.fields import Fields, felt
from framecheck.frame.loads import Loads, imbalance, reach_of
from framecheck.frame.results import SelfCheck
from framecheck.frame.stations import Stations
from framecheck.frame.structure import Structure
from framecheck.frame.supports import Supports, SupportSet, grounds_of, rigid_moves, supports_of
from framecheck.model.arrays import Array, IntArray, distinct, frozen
from framecheck.model.loads import CaseLoads
from framecheck.value_class import array_class


@array_class
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
    grounds = tuple(grounds_of(structure.frame, cases))
    pushed, sprung, moved = np.zeros_like(left), np.zeros(len(cases)), np.zeros(len(cases))
    for ground in grounds:
        on, held = ground.cases, ground.supports.held
        pushed[:, on] = ground_forces(ground.supports, unknowns[:, on], left[:, on])
        sprung[on] = ground.supports.stiffness @ unknowns[np.ix_(ground.supports.sprung, on)] ** 2 / 2
        moved[on] = np.sum(pushed[np.ix_(held, on)] * unknowns[np.ix_(held, on)], axis=0)
    still_left = left - pushed
    return Account(
        reactions=_reactions(structure, grounds, pushed),
        balance=frozen(_balance(structure, loads, pushed)),
        residual=frozen(_largest(structure, still_left) / load_size(structure, loads)),
        energy=frozen(energy.sum(axis=0) + _springs(structure, unknowns) + sprung),
        work=frozen(_work(structure, loads, unknowns, stations, fields) + moved / 2),
    )


def ground_forces(supports: Supports, unknowns: Array, left: Array) -> Array:
    """Return what the ground does on each unknown (n, k); left (n, k): what the frame's matrix leaves of the loads."""
    pushed = np.zeros_like(left)
    pushed[supports.held] = left[supports.held]
    pushed[supports.sprung] = -supports.stiffness[:, None] * unknowns[supports.sprung]
    return pushed


def _reactions(structure: Structure, grounds: Sequence[SupportSet], pushed: Array) -> Mapping[str, Array]:
    """Return what the ground does to each point (k, 6) that is supported in any case."""
    known = supports_of(structure.frame, structure.frame.supports)
    held = [known, *(ground.supports for ground in grounds)]
    nodes = distinct(np.concatenate([each for one in held for each in (one.held, one.sprung)]) // 6).tolist()
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
    """Return the energy (k,) of links, joints' springs, warping springs, panels and a stated body."""
    links, freedoms = structure.links, structure.freedoms
    own = np.concatenate((freedoms.ties.springs, freedoms.slips.stiffness))
    total: Array = own @ unknowns[6 * freedoms.n_node :] ** 2 / 2
    if len(links.nodes):
        stretch = np.einsum("ml,mlk->mk", links.rows, unknowns[links.freedoms])
        total += links.stiffness @ stretch**2 / 2
    if structure.body is not None:
        total += structure.body.energies(unknowns).sum(axis=0)
    if structure.sheets is not None:
        from framecheck.frame.panel.recover import panel_energies

        total += sum(panel_energies(structure.frame, structure.sheets, unknowns).values())
        total += structure.sheets.seams.energy(unknowns[structure.sheets.unknowns])
    return total


def _work(structure: Structure, loads: Loads, unknowns: Array, stations: Stations, fields: Fields) -> Array:
    """Return half the work (k,) of the loads on nodes and within pieces, less half of what warmth would do by itself."""
    nodal = loads.nodal.transpose(0, 2, 1).reshape(-1, unknowns.shape[1])
    total: Array = np.sum(nodal * unknowns[: len(nodal)], axis=0)
    if loads.strain is not None:
        total -= np.sum(fields.forces[0] * loads.strain[stations.piece] * stations.weight[:, None], axis=0)
    if loads.even is None and not len(loads.begun.piece):
        return np.asarray(total / 2)
    moves = fields.moves * np.array([1.0, 1.0, 1.0, 1.0, -1.0, -1.0])[:, None, None]
    if loads.even is not None and loads.growing is not None:
        pull = loads.even[:, stations.piece] + loads.growing[:, stations.piece] * stations.at[:, None]
        total += stations.weight @ np.einsum("pmk,pmk->mk", pull, moves)
    half: Array = (total + _begun_work(loads, stations, moves)) / 2
    return half


def _begun_work(loads: Loads, stations: Stations, moves: Array) -> Array:
    """Return the work (k,) of loads that begin within pieces."""
    begun = loads.begun
    load, here = felt(begun, stations)
    gone = np.einsum("pm,pm->m", moves[:, here, begun.case[load]], begun.load[:, load])
    along, order = stations.at[here] - begun.at[load], begun.order[load]
    reached = begun.at[load] <= stations.begin[here] + SAME
    spread = np.where(order == 0, 1.0, along) * reached * stations.weight[here]
    share = np.where(order == -1, _nearest(load, np.abs(along), len(begun.piece)), spread)
    return np.bincount(begun.case[load], share * gone, moves.shape[2]).astype(np.float64)


def _nearest(load: IntArray, distance: Array, count: int) -> Array:
    """Return 1 at the pair (m,) of each load (of `count`) whose station is nearest to it, else 0."""
    order = np.lexsort((distance, load))
    firsts = np.searchsorted(load[order], np.arange(count))
    chosen = np.zeros(len(load))
    chosen[order[firsts]] = 1.0
    return chosen


BALANCE, ENERGY, RESIDUAL, SYMMETRY = 1e-7, 1e-6, 1e-7, 1e-7
"""Forces left over or out of balance are shares of the loads; by so much movements are off too. Pieces of 0.2 to 0.4 mm, where lines
of sheet nearly meet on a member, leave up to 2e-8 in rounding; no answer is told to more than 1e-4."""
DIGITS = 9.0
"""Decimal digits that may be lost before a plain warning: of sixteen, seven are left."""


def self_checks(
    cases: Sequence[CaseLoads], account: Account, uneven: Iterable[tuple[str, float]], least: float
) -> tuple[SelfCheck, ...]:
    """Return the checks of all cases, then that of the whole.

    uneven: see symmetry.asymmetry; least: least eigenvalue of the scaled stiffness.
    """
    says = "a frame loaded alike left and right moves alike"
    symmetry = (SelfCheck("symmetry", name, value, SYMMETRY, says) for name, value in uneven)
    return (*_of_cases(cases, account), *symmetry, _digits(least))


def _of_cases(cases: Sequence[CaseLoads], account: Account) -> Iterator[SelfCheck]:
    scale = np.maximum(np.maximum(np.abs(account.energy), np.abs(account.work)), np.finfo(float).tiny)
    gap = np.abs(account.energy - account.work) / scale
    for number, case in enumerate(cases):
        yield SelfCheck("balance", case.name, float(account.balance[number]), BALANCE, "loads and reactions balance")
        yield SelfCheck("energy", case.name, float(gap[number]), ENERGY, "strain energy is half the work of the loads")
        yield SelfCheck("residual", case.name, float(account.residual[number]), RESIDUAL, "no force is left over on a point")


def _digits(least: float) -> SelfCheck:
    """Return how many decimal digits the solution may lose."""
    lost = float(np.log10(1 / max(least, 1e-300)))
    return SelfCheck("digits lost", "", max(lost, 0.0), DIGITS, "something is far softer than the rest: answers keep fewer digits")
