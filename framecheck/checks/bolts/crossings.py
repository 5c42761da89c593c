"""Bolts right through one tube in another: each crosses the walls that meet at its two sides, and every crossing is a spring."""

from __future__ import annotations

from collections.abc import Iterable

from framecheck.checks.two_planes import CrossingForces, forces_in_two_planes, pattern
from framecheck.model.joints import BoltGroup, JointLoad, PinnedSleeve, PlyKind
from framecheck.model.weld_joints import Joint
from framecheck.value_class import value_class

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


def through(joints: Iterable[Joint], group: BoltGroup) -> Through | None:
    """Return how bolts go through one tube in another; None where they do not, or the tube's depth is not known."""
    twins = (each for each in joints if isinstance(each, PinnedSleeve) and each.place == group.place)
    sleeve = next((each for each in twins if each.bolt.thread == group.bolt.thread), None)
    if sleeve is not None:
        return Through(group, sleeve.depth - 2 * sleeve.walls[0].thickness, sleeve)
    depth = group.depth if group.tube is None else group.tube.depth
    return Through(group, depth - 2 * group.plies[0].thickness) if is_through(group) and depth is not None else None


def is_through(group: BoltGroup) -> bool:
    """Return whether bolts cross two hollow walls at both of their sides."""
    hollow = [ply for ply in group.plies if ply.kind is PlyKind.TUBE_WALL]
    return len(hollow) > 1 and len(hollow) == len(group.plies) and group.bolt.shear_planes > 1


def crossing_forces(joint: Through, load: JointLoad) -> CrossingForces:
    """Return the forces at every crossing of bolts and walls."""
    return forces_in_two_planes(pattern(joint.group.plane, joint.group.positions), joint.lever, load)
