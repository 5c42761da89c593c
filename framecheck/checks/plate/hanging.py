"""What the plate puts on its bolts and edges, and through them on the frame."""

from __future__ import annotations

from math import cos, sin

import numpy as np

from framecheck.checks.plate.bending import PlateMesh, UnitBending, edge_rows, patch_of
from framecheck.checks.plate.membrane import Membrane
from framecheck.checks.plate.stiffeners import HELD_SIDES
from framecheck.model.arrays import Array, frozen
from framecheck.model.plate import BoltedPlate, HeldEdge, Patch, PlateLoad, StiffenerRun
from framecheck.value_class import value_class


@value_class
class EdgeForce:
    """What the plate puts on what holds an edge: upward at its two ends, N, least coordinate first, as a beam would pass it on;
    turning: about the plate axis the edge runs along, Nm.
    """

    edge: HeldEdge
    ends: tuple[float, float]
    turning: float


def drag_shares(plate: BoltedPlate, patch: Patch, drag: float) -> Array:
    """Return each bolt's share (n, 2) of a drag force (N) in the plane of the plate: bolts alone, all alike.

    Elastic bolt group: V / n and M r / sum r2, added as vectors (statics; J. E. Shigley, Mechanical Engineering Design, from memory).
    """
    spots = np.array([bolt.at for bolt in plate.bolts])
    force = drag * np.array([cos(patch.drag_angle), sin(patch.drag_angle)])
    arms = spots - spots.mean(axis=0)
    lever = np.array(patch.at) - spots.mean(axis=0)
    moment, polar = float(lever[0] * force[1] - lever[1] * force[0]), float(np.sum(arms**2))
    turned = np.column_stack([-arms[:, 1], arms[:, 0]]) * (moment / polar if polar > 0 else 0.0)
    return np.asarray(force / len(spots) + turned)


def bolt_forces(
    sheet: PlateMesh, bending: UnitBending, membrane: Membrane, load: PlateLoad, reached: tuple[float, float]
) -> Array:
    """Return what the plate puts on each bolt, N, plate axes, shape (n, 3): drag and membrane pull in the plane, and upward.

    reached: the load in units, and the shape's amplitude at it. A uniform load drags nothing.
    """
    level, a = reached
    plate, patch = sheet.plate, patch_of(load)
    found = np.zeros((len(plate.bolts), 3))
    found[:, 2] = level * bending.at_bolts
    found[:, :2] = membrane.pulls[:, :2] * a**2
    if patch is not None and patch.drag and plate.bolts:
        found[:, :2] += drag_shares(plate, patch, patch.drag * abs(level))
    return frozen(found)


def edge_forces(sheet: PlateMesh, bending: UnitBending, level: float) -> tuple[EdgeForce, ...]:
    """Return what the plate puts on each held edge. What acts at a corner of two held edges is halved between them."""
    rows = [edge_rows(sheet, edge) for edge in sheet.plate.edges]
    shared = np.maximum(sum((part.astype(np.float64) for part in rows), np.zeros(sheet.shape)), 1.0)
    put = -level * bending.reactions / shared
    return tuple(_edge_force(sheet, edge, np.where(part, put, 0.0)) for edge, part in zip(sheet.plate.edges, rows, strict=True))


def _edge_force(sheet: PlateMesh, edge: HeldEdge, put: Array) -> EdgeForce:
    """Return the force at the edge's ends from what acts on its unknowns: forces at the nodes, moments on the slopes."""
    run, end = HELD_SIDES[edge.edge]
    lines, along = (put.T, sheet.x) if run is StiffenerRun.X else (put, sheet.y)
    first = 0 if end == 0 else len(lines) - 2
    forces, couples = lines[first, ::2], lines[first, 1::2]
    total = float(forces.sum())
    far = float(forces @ along.nodes + couples.sum()) / float(along.nodes[-1])
    across = float(lines[first + 1, ::2].sum())
    return EdgeForce(edge, (total - far, far), across if run is StiffenerRun.X else -across)
