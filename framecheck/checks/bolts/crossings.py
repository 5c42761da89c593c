"""Bolts right through one tube in another: each crosses the walls that meet at its two sides, and every crossing is a spring."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from framecheck.checks.bolts.group import Pattern, pattern
from framecheck.model.arrays import Array, frozen
from framecheck.model.joints import BoltGroup, JointLoad, PinnedSleeve, PlyKind
from framecheck.model.weld_joints import Joint
from framecheck.value_class import array_class, value_class

SOURCE = (
    "statics: equal springs where the bolts cross the walls, all six components of the load at once; "
    "lever: between the two planes in which the tubes meet"
)


@value_class
class Through:
    """Bolts that go right through one tube in another. lever: between the two planes in which the tubes' walls meet, m.

    sleeve: the pinned sleeve that the file writes for the same bolts; None where it writes none.
    """

    group: BoltGroup
    lever: float
    sleeve: PinnedSleeve | None = None


@array_class
class CrossingForces:
    """What the crossings carry. forces: (n, 2, 3), N, of each bolt at its two sides; along: force along the bolts, N, that the tubes'
    walls pass on by pressing on each other; moment (3,), shear (3,): bending of the joint about the bolts' middle, Nm, and the force
    across the bolts, N; left: moment about a single bolt that nothing carries, Nm.
    """

    forces: Array
    along: float
    shear: Array
    moment: Array
    left: float

    @property
    def worst(self) -> float:
        """Return the largest force at a crossing, N."""
        return float(np.linalg.norm(self.forces, axis=2).max())


def through(joints: Iterable[Joint], group: BoltGroup) -> Through | None:
    """Return how bolts go through one tube in another; None where they do not, or the tube's depth is not known."""
    twins = (each for each in joints if isinstance(each, PinnedSleeve) and each.place == group.place)
    sleeve = next((each for each in twins if each.bolt.thread == group.bolt.thread), None)
    if sleeve is not None:
        return Through(group, sleeve.depth - 2 * sleeve.walls[0].thickness, sleeve)
    if is_through(group) and group.tube is not None:
        return Through(group, group.tube.depth - 2 * group.plies[0].thickness)
    return None


def is_through(group: BoltGroup) -> bool:
    """Return whether bolts cross two hollow walls at both of their sides."""
    hollow = [ply for ply in group.plies if ply.kind is PlyKind.TUBE_WALL]
    return len(hollow) > 1 and len(hollow) == len(group.plies) and group.bolt.shear_planes > 1


def crossing_forces(joint: Through, load: JointLoad) -> CrossingForces:
    """Return the forces at every crossing: the least sum of squares in balance with the load, as equal springs share it.

    The elastic method of a bolt group (AISC Steel Construction Manual, part 7), in space: crossings push in the walls' plane alone.
    """
    group = pattern(joint.group.plane, joint.group.positions)
    centre = group.centroid - (group.centroid @ group.facing) * group.facing
    force = np.asarray(load.force, dtype=np.float64)
    moment = np.asarray(load.moment, dtype=np.float64) - np.cross(centre, force)
    along = float(force @ group.facing)
    across = force - along * group.facing
    size = float(np.abs(group.positions).max()) + joint.lever
    balance = balance_of(group, joint.lever) * np.repeat((1.0, 1.0 / size), 3)[:, None]
    asked = np.concatenate((across, moment / size))
    pushes, *_ = np.linalg.lstsq(balance, asked, rcond=1e-9)
    forces = np.einsum("nsk,kj->nsj", pushes.reshape(-1, 2, 2), group.axes[:2])
    left = float(np.linalg.norm((asked - balance @ pushes)[3:])) * size
    return CrossingForces(frozen(forces), along, frozen(across), frozen(moment), left)


def balance_of(group: Pattern, lever: float) -> Array:
    """Return (6, 4 n): force and moment about the bolts' middle of a unit push at each crossing, across and along in turn."""
    columns = [
        np.concatenate((way, np.cross(place + side * lever / 2 * group.facing, way)))
        for place in group.positions
        for side in (1.0, -1.0)
        for way in group.axes[:2]
    ]
    return np.array(columns).T
