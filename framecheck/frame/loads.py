"""Loads of all cases as the solver sees them: on unknowns, along whole pieces, and beginning somewhere within a piece. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams, across
from framecheck.frame.geometry import cross
from framecheck.frame.member_loads import Begun, Spots, begun_of
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads, Motion
from framecheck.value_class import array_class


@array_class
class Loads:
    """What acts in each of k load cases.

    nodal (n_node, k, 6): N and Nm at nodes, vehicle axes. even, growing (6, n, k) or None: load along whole pieces, N/m and
    N/m per m, components as in within_piece.py. begun: loads that begin within pieces. strain (n, k) or None: of warmth.
    moved: (node, way, case, amount) of supports. total (k, 6): force and moment about the origin of all that is applied;
    size (k, 2): sums of the sizes of forces and of moments, what a residual is measured by.
    """

    nodal: Array
    even: Array | None
    growing: Array | None
    begun: Begun
    strain: Array | None
    moved: tuple[tuple[int, int, int, float], ...]
    total: Array
    size: Array


def loads_of(frame: Frame, pieces: Pieces, beams: Beams, bodies: Mapping[str, int], cases: Sequence[CaseLoads]) -> Loads:
    """Return the loads of all cases."""
    points = {name: place for place, name in enumerate(frame.points)}
    members = {member.name: place for place, member in enumerate(frame.members)}
    begun, of_arms = begun_of(pieces, beams, members, cases)
    nodal = np.zeros((len(pieces.places), len(cases), 6))
    for spots in (_point_spots(points, bodies, cases), of_arms):
        np.add.at(nodal, (spots.node, spots.case), spots.load)
    total, size = _resultant(pieces.places, nodal)
    total, size = total + begun.total, size + begun.size
    weight = own_weight(beams, [case.motion for case in cases])
    if weight is not None:
        total, size = total + weight.total, size + weight.size
    return Loads(
        nodal=nodal,
        even=None if weight is None else weight.even,
        growing=None if weight is None else weight.growing,
        begun=begun,
        strain=_strain(frame, pieces, members, cases),
        moved=_moved(frame, points, cases),
        total=total,
        size=size,
    )


@array_class
class Along:
    """Load along whole pieces: even, growing (6, n, k); total (k, 6) and size (k, 2) of it."""

    even: Array
    growing: Array
    total: Array
    size: Array


def _point_spots(points: Mapping[str, int], bodies: Mapping[str, int], cases: Sequence[CaseLoads]) -> Spots:
    """Return the loads on points and stiff bodies."""
    rows = []
    for number, case in enumerate(cases):
        rows += [(points[load.point], number, *load.force, *load.moment) for load in case.point_loads]
        rows += [(bodies[load.body], number, *load.force, *load.moment) for load in case.body_loads]
    table = np.array(rows, dtype=np.float64).reshape(-1, 8)
    return Spots(table[:, 0].astype(np.int64), table[:, 1].astype(np.int64), table[:, 2:])


def _resultant(places: Array, nodal: Array) -> tuple[Array, Array]:
    """Return total (k, 6) about the origin and size (k, 2) of nodal loads (n, k, 6)."""
    swing = cross(places[:, None], nodal[..., :3]) + nodal[..., 3:]
    total = np.concatenate((nodal[..., :3].sum(axis=0), swing.sum(axis=0)), axis=1)
    pushes = np.abs(nodal[..., :3]).sum(axis=(0, 2))
    return total, np.stack((pushes, np.abs(nodal[..., 3:]).sum(axis=(0, 2))), axis=1)


def reach_of(places: Array) -> float:
    """Return the frame's largest size along an axis, m; not less than 1 mm."""
    return max(float(np.ptp(places, axis=0).max(initial=0.0)), 1e-3)


def imbalance(places: Array, total: Array, size: Array) -> Array:
    """Return the imbalance (k,) of totals (k, 6) about the origin as a share of sizes (k, 2); moments about the frame's middle."""
    reach, middle = reach_of(places), (places.min(axis=0) + places.max(axis=0)) / 2
    scale = size[:, 0] + size[:, 1] / reach
    force = np.linalg.norm(total[:, :3], axis=1)
    moment = np.linalg.norm(total[:, 3:] - cross(middle, total[:, :3]), axis=1)
    share: Array = np.maximum(force, moment / reach) / np.where(scale > 0, scale, 1.0)
    return share


def own_weight(beams: Beams, motions: Sequence[Motion]) -> Along | None:
    """Return the load of the pieces' own mass along their centroid lines; None where nothing moves.

    m f(r), f(r) = linear - angular x (r - about), straight along a piece; it twists about the shear centre.
    """
    linear, angular, about = (
        np.array([getattr(motion, name) for motion in motions], dtype=np.float64).reshape(-1, 3)
        for name in ("linear", "angular", "about")
    )
    if not (linear.any() or angular.any()):
        return None
    lines = beams.ends + across(beams.axes, beams.centroid)[:, None]
    field = linear - cross(angular, lines[:, :, None] - about) if angular.any() else linear + 0 * lines[:, :, None]
    pull = field * beams.mass[:, None, None, None]  # (n, 2, k, 3)
    local = (pull @ beams.axes.transpose(0, 2, 1)[:, None]).transpose(3, 1, 0, 2)  # (3, 2, n, k)
    arm = (beams.centroid - beams.pole)[:, :, None]
    torque = local[2] * arm[:, 0] - local[1] * arm[:, 1]
    loads = np.concatenate((local, torque[None], np.zeros((2, *torque.shape))))
    growing = (loads[:, 1] - loads[:, 0]) / beams.length[:, None]
    return Along(loads[:, 0], growing, *_line_resultant(lines, pull, beams.length))


def _line_resultant(lines: Array, pull: Array, length: Array) -> tuple[Array, Array]:
    """Return total (k, 6) and size (k, 2) of load pull (n, 2, k, 3) at the ends of lines (n, 2, 3), straight between.

    Simpson's rule is exact: the moment's integrand is of second degree.
    """
    middle = (pull[:, 0] + pull[:, 1]) / 2
    force = middle * length[:, None, None]
    swing = cross(lines[:, 0, None], pull[:, 0]) + cross(lines[:, 1, None], pull[:, 1])
    swing += 4 * cross(lines.mean(axis=1)[:, None], middle)
    moment = swing * (length / 6)[:, None, None]
    pushes = np.abs(force).sum(axis=(0, 2))
    total = np.concatenate((force.sum(axis=0), moment.sum(axis=0)), axis=1)
    return total, np.stack((pushes, 0.0 * pushes), axis=1)


def _strain(frame: Frame, pieces: Pieces, members: Mapping[str, int], cases: Sequence[CaseLoads]) -> Array | None:
    """Return the strain of warmth (n, k), None where nothing is warmer."""
    if not any(case.warmings for case in cases):
        return None
    strain = np.zeros((pieces.count, len(cases)))
    for number, case in enumerate(cases):
        for warming in case.warmings:
            place = members[warming.member]
            strain[pieces.first[place] : pieces.last[place] + 1, number] += warming.rise * warming.expansion
    return strain


def _moved(
    frame: Frame, points: Mapping[str, int], cases: Sequence[CaseLoads]
) -> tuple[tuple[int, int, int, float], ...]:
    """Return the moved supports; UnsolvableError where that direction is not held."""
    held = {(each.point, way) for each in frame.supports for way, value in enumerate(each.stiffness) if value == np.inf}
    found = []
    for number, case in enumerate(cases):
        for move in case.moved_supports:
            if (move.point, move.direction) not in held or case.free_free:
                raise UnsolvableError(
                    f"load case '{case.name}' moves point '{move.point}' in a direction that no support holds; hold it there"
                )
            found.append((points[move.point], move.direction, number, move.amount))
    return tuple(found)
