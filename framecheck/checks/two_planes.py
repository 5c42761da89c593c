"""Fasteners in two planes, one on either side of a tube: how a load with all six components is shared among them."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.joints import JointLoad, Plane
from framecheck.value_class import array_class


@array_class
class Pattern:
    """A group in space: positions (n, 3) from its centroid, m; axes (3, 3): rows across, along, facing; centroid (3,),
    m.
    """

    positions: Array
    axes: Array
    centroid: Array

    @property
    def facing(self) -> Array:
        """Return the unit normal, (3,)."""
        return np.asarray(self.axes[2], dtype=np.float64)


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


def pattern(plane: Plane, positions: tuple[tuple[float, float], ...]) -> Pattern:
    """Return the group's positions from its centroid, in vehicle axes."""
    axes = np.array([plane.across, plane.along, plane.facing], dtype=np.float64)
    points = np.asarray(plane.origin) + np.asarray(positions, dtype=np.float64) @ axes[:2]
    centroid = points.mean(axis=0)
    return Pattern(frozen(points - centroid), frozen(axes), frozen(centroid))


def forces_in_two_planes(group: Pattern, lever: float, load: JointLoad) -> CrossingForces:
    """Return the forces at every crossing: the least sum of squares in balance with the load, as equal springs share it.

    The elastic method of a bolt group (AISC Steel Construction Manual, part 7), in space: crossings push in the walls' plane alone.
    lever: between the two planes, m.
    """
    centre = group.centroid - (group.centroid @ group.facing) * group.facing
    force = np.asarray(load.force, dtype=np.float64)
    moment = np.asarray(load.moment, dtype=np.float64) - np.cross(centre, force)
    along = float(force @ group.facing)
    across = force - along * group.facing
    size = float(np.abs(group.positions).max()) + lever
    balance = balance_of(group, lever) * np.repeat((1.0, 1.0 / size), 3)[:, None]
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
