"""The frame solved: one factorisation for all load cases, under each bound of what is left unsaid. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from types import MappingProxyType
from typing import Any

import numpy as np

from framecheck.errors import MechanismError
from framecheck.frame.kink_bends import readings_of
from framecheck.frame.kinks import kinks_of, leaves_kinks_open
from framecheck.frame.linear import Factored, factored_dense, factored_sparse
from framecheck.frame.loads import Loads, imbalance, loads_of
from framecheck.frame.mechanism import refuse_loose, refuse_unheld_loads, unused
from framecheck.frame.open_ends import leaves_joints_open, open_ends
from framecheck.frame.recover import load_vector, particular_ends, solved_pieces
from framecheck.frame.report import SolvedFrame, common_crossings, marked_places, solution_of
from framecheck.frame.results import Bound, FrameSolution, Joints, Shell, Warping
from framecheck.frame.stations import SOME, stretches_of, usual_count
from framecheck.frame.structure import DENSE
from framecheck.frame.structure import Structure as Structure
from framecheck.frame.structure import structure_of as structure_of
from framecheck.frame.supports import (
    Supports,
    SupportSet,
    from_mean_plane,
    grounds_of,
    holding_nodes,
    isostatic,
    refuse_unbalanced,
    rigid_moves,
)
from framecheck.frame.warping import any_open_end_unsaid
from framecheck.model.arrays import Array, IntArray, distinct, distinct_rows
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads
from framecheck.section.properties import SectionProperties

NO_MARKS: Mapping[str, Sequence[float]] = MappingProxyType({})


def bounds_of(frame: Frame, sections: Mapping[str, SectionProperties]) -> tuple[Bound, ...]:
    """Return every bound to solve: both ends of what the user has left unsaid, and one empty bound where nothing is."""
    warping_open = any_open_end_unsaid(frame, open_sections(sections))
    warpings: tuple[Warping | None, ...] = (Warping.FREE, Warping.FIXED) if warping_open else (None,)
    joints: tuple[Joints | None, ...] = (None,)
    if leaves_makes_unsaid(frame):
        joints = (Joints.SOFT, Joints.USUAL, Joints.STIFF)
    elif leaves_joints_open(frame) or leaves_kinks_open(frame):
        joints = (Joints.SOFT, Joints.STIFF)
    shells: tuple[Shell | None, ...] = (Shell.SOFT, Shell.STIFF) if frame.has_open_shell else (None,)
    return tuple(Bound(warping, joint, shell=shell) for warping in warpings for joint in joints for shell in shells)


def leaves_makes_unsaid(frame: Frame) -> bool:
    """Return whether it is not said of any end on a wall, or of any kink, how it is made, where a model covers it."""
    ends = any(each.unsaid and each.why is None for each in open_ends(frame))
    return ends or any(len(readings_of(each)) > 1 for each in kinks_of(frame))


def open_sections(sections: Mapping[str, SectionProperties]) -> frozenset[str]:
    """Return the names of the sections that resist warping."""
    return frozenset(name for name, each in sections.items() if not each.closed and each.warping_constant > 0)


def solve_frame(structure: Structure, loads: Sequence[CaseLoads]) -> FrameSolution:
    """Return the frame solved for all load cases under the structure's bound; see `solve_bounds`."""
    return solve_bounds((structure,), loads)[0]


def solve_bounds(
    structures: Sequence[Structure], loads: Sequence[CaseLoads], marks: Mapping[str, Sequence[float]] = NO_MARKS
) -> tuple[FrameSolution, ...]:
    """Return one frame solved under each of its bounds, at the same stations in each.

    marks: stations (m) by member that results are wanted at besides.
    MechanismError: something moves freely; UnsolvableError: a case that hangs on nothing is not in balance.
    """
    return solutions_of(answers_of(structures, loads), marks)


def answers_of(structures: Sequence[Structure], loads: Sequence[CaseLoads]) -> tuple[SolvedFrame, ...]:
    """Return the movements of one frame under each of its bounds."""
    return tuple(answered(structure, loads) for structure in structures)


def solutions_of(answers: Sequence[SolvedFrame], marks: Mapping[str, Sequence[float]] = NO_MARKS) -> tuple[FrameSolution, ...]:
    """Return the solutions of one frame under each of its bounds, at the same stations in each; marks: as in `solve_bounds`."""
    crossings = common_crossings(answers)
    crossings = distinct_rows(np.concatenate((crossings, marked_places(answers[0], marks))))
    first = answers[0].solved.answer
    count = usual_count(stretches_of(first.beams, first.loads))
    return tuple(solution_of(each, crossings, count) for each in answers)


def brief_solutions_of(answers: Sequence[SolvedFrame], marks: Mapping[str, Sequence[float]] = NO_MARKS) -> tuple[FrameSolution, ...]:
    """Return the solutions at the same few stations, those at which moments are extreme not among them; marks: as in `solve_bounds`.

    Even under growing load a moment between them is larger by 0.014 of load times length squared of a piece at the most.
    """
    places = marked_places(answers[0], marks)
    return tuple(solution_of(each, places, SOME) for each in answers)


def answered(structure: Structure, loads: Sequence[CaseLoads]) -> SolvedFrame:
    """Return the frame's movements in all load cases."""
    frame = structure.frame
    acting = loads_of(frame, structure.pieces, structure.beams, structure.links.bodies, loads)
    if structure.sheets is not None:
        acting = _with_sheet(structure, acting, loads)
    made = particular_ends(structure.beams, acting)
    vector = load_vector(structure.freedoms, structure.stiffness, acting, made)
    if structure.sheets is not None:
        structure.sheets.carry(vector)
    free_free = np.array([case.free_free for case in loads], dtype=np.bool_)
    alone = imbalance(structure.pieces.places, acting.total, acting.size)
    refuse_unbalanced([case.name for case in loads if case.free_free], alone[free_free])
    unknowns = np.zeros_like(vector)
    least = 1.0
    for ground in grounds_of(frame, loads):
        with named(loads[int(ground.cases[0])]):
            unknowns[:, ground.cases], factor = _grounded(structure, acting, vector, ground)
        least = min(least, factor.least)
    if free_free.any():
        hanging = np.flatnonzero(free_free)
        unknowns[:, hanging], factor = _hanging(structure, loads, vector, hanging)
        least = min(least, factor.least)
    refuse_unheld_loads(structure, [case.name for case in loads], vector, unknowns)
    return SolvedFrame(structure, loads, acting, vector, unknowns, least, solved_pieces(structure, acting, made, unknowns))


@contextmanager
def named(case: CaseLoads) -> Iterator[None]:
    """Say of a mechanism in which load case it is, where that one has supports of its own."""
    try:
        yield
    except MechanismError as error:
        if case.supports is None:
            raise
        raise MechanismError(f"load case '{case.name}', on supports of its own: {error}") from None


def _grounded(structure: Structure, loads: Loads, vector: Array, ground: SupportSet) -> tuple[Array, Factored]:
    """Return the unknowns (n, k) of the cases on some supports, moved supports included."""
    factor = factor_of(structure, ground.key, ground.supports)
    matrix = with_ground(structure.matrix, ground.supports)
    given = moved_by_supports(loads, len(vector), ground.cases)
    return _whole(structure, given + factor.movements(matrix, vector[:, ground.cases] - matrix @ given)), factor


def _with_sheet(structure: Structure, acting: Loads, cases: Sequence[CaseLoads]) -> Loads:
    """Return the loads with the weight of the frame's sheet."""
    from framecheck.frame.panel.weight import with_sheet_weight

    assert structure.sheets is not None
    motions = [case.motion for case in cases]
    return with_sheet_weight(structure.frame, structure.sheets, structure.pieces.places, acting, motions)


def _whole(structure: Structure, unknowns: Array) -> Array:
    """Return the unknowns (n, k) with those of points that move with members they lie on."""
    if structure.sheets is not None:
        structure.sheets.follow(unknowns)
    return unknowns


def moved_by_supports(loads: Loads, count: int, cases: IntArray) -> Array:
    """Return the unknowns (n, k) that moved supports give, zero elsewhere; cases (k,): which."""
    moved = np.zeros((count, len(cases)))
    for node, way, case, amount in loads.moved:
        moved[6 * node + way, np.flatnonzero(cases == case)] += amount
    return moved


def _hanging(
    structure: Structure, cases: Sequence[CaseLoads], vector: Array, hanging: IntArray
) -> tuple[Array, Factored]:
    """Return the unknowns (n, k) of the cases that hang on nothing, measured from the mean plane of each one's points."""
    supports = hanging_supports(structure)
    factor = factor_of(structure, "free_free", supports)
    moved = _whole(structure, factor.movements(structure.matrix, vector[:, hanging]))
    nodes = structure.freedoms.n_node
    six = moved[: 6 * nodes].reshape(nodes, 6, -1)
    asked = [cases[case].reference for case in hanging.tolist()]
    for reference in dict.fromkeys(asked):
        columns = [column for column, each in enumerate(asked) if each == reference]
        six[..., columns] = from_asked_plane(structure, reference, supports, six[..., columns])
    return moved, factor


def hanging_supports(structure: Structure) -> Supports:
    """Return what holds a frame that hangs on nothing: six movements of three of its points, without force."""
    points = len(structure.frame.points)
    idle = np.asarray(unused(structure)[: 6 * points].reshape(-1, 6).all(axis=1), dtype=np.bool_)
    if structure.sheets is not None:
        idle[[each.node for each in structure.sheets.bare]] = True
    used = np.flatnonzero(~idle)
    none = np.zeros(0, dtype=np.int64)
    places = structure.pieces.places
    return Supports(isostatic(places, holding_nodes(places, used)), none, np.zeros(0))


def from_asked_plane(structure: Structure, named: Sequence[str], supports: Supports, six: Array) -> Array:
    """Return nodes' movements (n_node, 6, j) less the rigid move of the reference points named, or of the holding ones."""
    number = {name: place for place, name in enumerate(structure.frame.points)}
    asked = np.array([number[name] for name in named], dtype=np.int64)
    reference = asked if len(asked) >= 3 else distinct(supports.held // 6)
    fit = from_mean_plane(six[:, :3], structure.pieces.places, reference)
    left = six.copy()
    left[:, :3] -= rigid_moves(structure.pieces.places) @ fit
    left[:, 3:] -= fit[3:]
    return left


def factor_of(structure: Structure, name: object, supports: Supports) -> Factored:
    """Return the factors of the frame on some supports, made once for each name; MechanismError where something moves freely."""
    found = structure.factors.get(name)
    if found is None:
        held = unused(structure)
        held[supports.held] = True
        free = np.flatnonzero(~held)
        matrix: Any = with_ground(structure.matrix, supports)
        found = (factored_dense if structure.freedoms.count <= DENSE else factored_sparse)(matrix, free)
        structure.factors[name] = found
    refuse_loose(structure, found, supports, name == "free_free")
    return found


def with_ground(matrix: Array, supports: Supports) -> Array:
    """Return the matrix with springs to the ground added."""
    if not len(supports.sprung):
        return matrix
    if isinstance(matrix, np.ndarray):
        total = matrix.copy()
        np.add.at(total, (supports.sprung, supports.sprung), supports.stiffness)
        return total
    from scipy.sparse import coo_array

    ground = coo_array((supports.stiffness, (supports.sprung, supports.sprung)), shape=matrix.shape)
    summed: Array = (matrix + ground).tocsr()
    return summed
