"""The line method in space: fillet runs as lines of equal spring stiffness between two rigid parts.

For a plane group it gives the textbook f = V / Lw, M / Sw, T c / Jw, added as vectors; for a group in space it stays
exact,
because a run's second moments are integrated in closed form and the force per length varies straight along a run.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.geometry import cross
from framecheck.model.arrays import Array, frozen
from framecheck.model.joints import JointLoad
from framecheck.model.weld_joints import WeldRun
from framecheck.value_class import array_class


@array_class
class LineProperties:
    """Properties of a weld group as lines. length: m; centroid (3,), m; inertia (3, 3) about it, m3.

    Lines are weighed by leg over the largest leg, so that unequal legs share as their throats do; length is weighed
    too.
    inertia = integral of (|r|2 I - r r^T): for a plane group its normal entry is Jw, the in-plane ones are Iw.
    """

    length: float
    centroid: Array
    inertia: Array


@array_class
class WeldForces:
    """Force per length of throat-weighed weld at both ends of each run, N/m: per_length (n, 2, 3).

    moment_left: the moment the lines can't carry (about a single straight run), Nm.
    """

    per_length: Array
    moment_left: float


def ends_of(runs: tuple[WeldRun, ...]) -> Array:
    """Return the end points of the runs, (n, 2, 3), m."""
    return np.array([(run.start, run.end) for run in runs], dtype=np.float64)


def line_properties(runs: tuple[WeldRun, ...]) -> LineProperties:
    """Return weighed length, centroid and inertia of the lines; each run integrated exactly.

    A straight run of length L with mid-point m and direction d: integral r r^T = L m m^T + L3 / 12 d d^T.
    """
    ends = ends_of(runs)
    legs = np.array([run.leg for run in runs])
    spans = ends[:, 1] - ends[:, 0]
    weights = legs / legs.max() * np.linalg.norm(spans, axis=1)
    middles = ends.mean(axis=1)
    length = float(weights.sum())
    centroid = weights @ middles / length
    arms = middles - centroid
    spread = np.einsum("n,ni,nj->ij", weights, arms, arms) + np.einsum("n,ni,nj->ij", weights / 12, spans, spans)
    return LineProperties(length, frozen(centroid), frozen(np.trace(spread) * np.eye(3) - spread))


def weld_forces(runs: tuple[WeldRun, ...], loads: Sequence[JointLoad]) -> tuple[WeldForces, ...]:
    """Return, load by load, the force per length at the ends of every run, where it is largest (a straight-varying vector).

    f = w (F / L + turn x r) with inertia turn = moment; w: leg over the largest leg. Elastic line method, O. W.
    Blodgett,
    Design of Welded Structures, 7.4; AISC Steel Construction Manual, part 8, elastic method.
    """
    lines = line_properties(runs)
    force = np.array([load.force for load in loads], dtype=np.float64).reshape(-1, 3)
    moment = np.array([load.moment for load in loads], dtype=np.float64).reshape(-1, 3) - cross(lines.centroid, force)
    turn = np.asarray(np.linalg.lstsq(lines.inertia, moment.T, rcond=1e-12)[0], dtype=np.float64)
    left = np.linalg.norm(moment.T - lines.inertia @ turn, axis=0).tolist()
    legs = np.array([run.leg for run in runs])
    along = force[:, None, None] / lines.length + cross(turn.T[:, None, None], ends_of(runs) - lines.centroid)
    per_length = frozen(along * (legs / legs.max())[:, None, None])
    return tuple(WeldForces(each, rest) for each, rest in zip(per_length, left, strict=True))


def forces_on_runs(runs: tuple[WeldRun, ...], loads: Array) -> Array:
    """Return the force per length at the ends of runs of one leg under many loads (n, 6), N and Nm: (n, n_run, 2, 3), N/m.

    As `weld_forces`; the runs must hold a moment about every axis.
    """
    lines = line_properties(runs)
    force, moment = loads[:, :3], loads[:, 3:]
    about = moment - cross(np.broadcast_to(lines.centroid, force.shape), force)
    turn = np.asarray(np.linalg.solve(lines.inertia, about.T).T, dtype=np.float64)
    arms = np.broadcast_to(ends_of(runs) - lines.centroid, (len(loads), len(runs), 2, 3))
    return np.asarray(force[:, None, None] / lines.length + cross(turn[:, None, None], arms), dtype=np.float64)


def angles(runs: tuple[WeldRun, ...], per_length: Array) -> Array:
    """Return the angle between the force and the run at both ends of each run, (n, 2), rad."""
    ends = ends_of(runs)
    spans = ends[:, 1] - ends[:, 0]
    directions = spans / np.linalg.norm(spans, axis=1, keepdims=True)
    size = np.linalg.norm(per_length, axis=2)
    along = np.abs(np.einsum("nki,ni->nk", per_length, directions))
    return np.asarray(np.arccos(np.clip(along / np.maximum(size, 1e-30), 0.0, 1.0)), dtype=np.float64)
