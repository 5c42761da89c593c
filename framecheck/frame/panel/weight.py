"""The mass of panels: as lines, and as what its weight and inertia put on the frame. SI.

Thin sheet hands what acts across it to the members it lies on by bending, which no membrane knows: each panel's force is shared evenly
among the frame's nodes it hangs on, its moment as forces that go as their distance, what is left of it as moments.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.geometry import cross
from framecheck.frame.loads import Loads
from framecheck.frame.panel.hung import Hung
from framecheck.frame.panel.sheets import Sheets
from framecheck.frame.panel.site import site_of
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.model.loads import Motion
from framecheck.model.panels import Panel
from framecheck.value_class import array_class

BESIDE = 0.2
"""Share of half a panel's diagonal within which points of members carry its mass where modes are sought (common practice, no
source)."""


@array_class
class Strips:
    """A panel's mass as m lines: ends (m, 2, 3) along its cells' middles, mass (m,) kg of each; nodes (j,): what it hangs on."""

    ends: Array
    mass: Array
    nodes: IntArray


def strips_of(frame: Frame, sheets: Sheets) -> Iterator[Strips]:
    """Yield the strips of every panel."""
    division = sheets.division
    for number, panel in enumerate(frame.panels):
        corners = division.places[division.cells[division.of == number]]
        edges = corners[:, [2, 3]] - corners[:, [0, 1]]
        area = np.linalg.norm(cross(edges[:, 0], edges[:, 1]), axis=1) / 2
        ends = np.stack((corners[:, [0, 3]].mean(axis=1), corners[:, [1, 2]].mean(axis=1)), axis=1)
        nodes = np.array(sorted(carrying(frame, sheets, number)), dtype=np.int64)
        yield Strips(ends, area * panel.weighing * panel.material.density, nodes)


def carrying(frame: Frame, sheets: Sheets, number: int) -> set[int]:
    """Return the nodes of members that a panel hangs on; where it hangs on none, those of its neighbours; its own points at last."""
    division, names = sheets.division, list(frame.points)
    reached = {name for member in frame.members for name in member.points}
    own = here = set(division.cells[division.of == number].ravel().tolist())
    for _ in frame.panels:
        hung = {int(node) for place in here for node in _nodes(sheets.hung[place])}
        found = {node for node in hung if node >= len(names) or names[node] in reached}
        if found:
            return found
        touching = np.isin(division.cells, list(here)).any(axis=1)
        here = set(division.cells[np.isin(division.of, division.of[touching])].ravel().tolist())
    return {int(node) for place in own for node in _nodes(sheets.hung[place])}


def _nodes(hung: Hung | None) -> list[int]:
    return [] if hung is None else hung.nodes.tolist()


def carriers_of(frame: Frame, panel: Panel) -> tuple[float, tuple[int, ...]]:
    """Return a panel's mass, kg, and the frame points of members (by place) on or beside it; its corners where there are none."""
    site = site_of(frame, panel)
    edges = site.corners[2:] - site.corners[0], site.corners[1:-1] - site.corners[0]
    area = float(np.linalg.norm(cross(*edges), axis=1).sum()) / 2
    reach = float(np.linalg.norm(np.ptp(site.corners, axis=0))) / 2
    number = {name: place for place, name in enumerate(frame.points)}
    nodes = sorted({number[name] for member in frame.members for name in member.points})
    places = np.array(list(frame.points.values()), dtype=np.float64)[nodes]
    low, high = site.corners.min(axis=0), site.corners.max(axis=0)
    away = np.maximum(np.abs(places - (low + high) / 2) - (high - low) / 2, 0.0)
    near = np.flatnonzero(np.linalg.norm(away, axis=1) <= BESIDE * reach)
    chosen = [nodes[row] for row in near.tolist()] or [number[name] for name in panel.corners]
    return area * panel.weighing * panel.material.density, tuple(chosen)


def with_sheet_weight(frame: Frame, sheets: Sheets, places: Array, loads: Loads, motions: Sequence[Motion]) -> Loads:
    """Return the loads with what the sheet's mass does under motions; places (n_node, 3): of the frame's nodes."""
    linear, angular, about = (
        np.array([getattr(motion, name) for motion in motions], dtype=np.float64).reshape(-1, 3)
        for name in ("linear", "angular", "about")
    )
    if not (linear.any() or angular.any()):
        return loads
    nodal, total, size = loads.nodal.copy(), loads.total.copy(), loads.size.copy()
    for strips in strips_of(frame, sheets):
        force, moment = _resultant(strips, linear, angular, about)
        total += np.concatenate((force, moment), axis=1)
        size[:, 0] += np.abs(force).sum(axis=1)
        nodal[strips.nodes] += _shared(places[strips.nodes], force, moment, _turning(frame, strips.nodes))
    return replace(loads, nodal=nodal, total=total, size=size)


def _resultant(strips: Strips, linear: Array, angular: Array, about: Array) -> tuple[Array, Array]:
    """Return force and moment about the origin (k, 3) of strips in a field linear - angular x (r - about); Simpson's rule is exact."""
    force, moment = np.zeros_like(linear), np.zeros_like(linear)
    for share, weight in ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6)):
        places = strips.ends[:, 0] + share * (strips.ends[:, 1] - strips.ends[:, 0])
        field = linear - cross(angular, places[:, None] - about)
        pull = weight * strips.mass[:, None, None] * field
        force += pull.sum(axis=0)
        moment += cross(places[:, None], pull).sum(axis=0)
    return force, moment


def _turning(frame: Frame, nodes: IntArray) -> bool:
    """Return whether the nodes take moments: points of sheet alone do not."""
    names, reached = list(frame.points), {name for member in frame.members for name in member.points}
    return all(node >= len(names) or names[node] in reached for node in nodes.tolist())


def _shared(places: Array, force: Array, moment: Array, turning: bool) -> Array:
    """Return loads (j, k, 6) on nodes at places (j, 3) with a force and a moment (k, 3) about the origin as their resultant."""
    count, middle = len(places), places.mean(axis=0)
    away = places - middle
    inertia = np.eye(3) * np.sum(away**2) - away.T @ away
    left = moment - cross(middle, force)
    spin = left @ np.linalg.pinv(inertia, rcond=1e-9).T
    found = np.zeros((count, len(force), 6))
    found[..., :3] = force / count + cross(spin, away[:, None])
    if turning:
        done = cross(away[:, None], found[..., :3]).sum(axis=0)
        found[..., 3:] = (left - done) / count
    return found
