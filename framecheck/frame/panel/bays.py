"""Fields of sheet between what holds it across: edges, and members joined along a line. Seams, and what passes through them. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np

from framecheck.frame.panel.division import DividedSheet
from framecheck.frame.panel.grid import SAME_SPOT
from framecheck.frame.panel.touch import OnLine
from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.model.panels import Panel

KEPT = 512
"""So many panels are kept: of one frame every load case, and rest, asks for the same."""
FREE = 3.0
"""A free edge counts as if the sheet reached so many times as far to a held one: 4.0 over 0.43, the factors of a compressed plate held
at both edges and at one (EN 1993-1-5:2006, tables 4.1 and 4.2), is 9.3, its root 3.05."""


ALIKE = 5e-3
"""m: cells whose walls lie so far apart are in fields of their own, those between in part (common practice, no source): where an edge
slants, no field begins at a hair."""


@lru_cache(maxsize=KEPT)
def bays_of(panel: Panel, number: int, division: DividedSheet) -> tuple[Array, Array]:
    """Return how wide the field of each cell is along the panel's own x and y (m, 2), m, and how much of each other cell lies in it
    (m, m), 0 to 1.
    """
    site = division.sites[number]
    flat = site.flat(site.corners)
    free = [edge in panel.free_edges or edge[::-1] in panel.free_edges for edge in panel.edges]
    lines = [np.array([a, b]) for a, b in zip(flat, np.roll(flat, -1, axis=0), strict=True)]
    lines += [site.flat(touch.ends) for touch in division.touches[number] if isinstance(touch, OnLine)]
    reach = np.array([FREE if each else 1.0 for each in free] + [1.0] * (len(lines) - len(free)))
    middles = division.flat[division.of == number].mean(axis=1)
    near = [_reached(middles, way, np.array(lines), reach) for way in WAYS]
    met = [middles @ np.abs(way) + way.sum() * away for way, (away, _) in zip(WAYS, near, strict=True)]
    walls = np.stack(met, axis=1)
    wide = np.stack([(one[0] + other[0]) * np.maximum(one[1], other[1]) for one, other in (near[:2], near[2:])], axis=1)
    apart = np.abs(walls[:, None] - walls).max(axis=2)
    return frozen(wide), frozen(np.maximum(1.0 - apart / ALIKE, 0.0))


WAYS = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])


def _reached(places: Array, way: Array, lines: Array, reach: Array) -> tuple[Array, Array]:
    """Return how far it is from places (m, 2) one way (2,) to the nearest of lines (n, 2, 2), and its reach (n,), (m,) each."""
    span = lines[:, 1] - lines[:, 0]
    size = way[0] * span[:, 1] - way[1] * span[:, 0]
    safe = np.where(np.abs(size) > 1e-12, size, np.inf)
    away = lines[:, 0] - places[:, None]
    along = (away[..., 0] * span[:, 1] - away[..., 1] * span[:, 0]) / safe
    share = (away[..., 0] * way[1] - away[..., 1] * way[0]) / safe
    met = (along > 1e-9) & (share >= -1e-9) & (share <= 1 + 1e-9) & np.isfinite(safe)
    nearest = np.argmin(np.where(met, along, np.inf), axis=1)
    return along[np.arange(len(places)), nearest], reach[nearest]


@lru_cache(maxsize=KEPT)
def seam_sides(panel: Panel, number: int, division: DividedSheet) -> tuple[IntArray, IntArray, Array]:
    """Return where a panel's seams run, cell side by cell side: seam (r,) that each belongs to, cell (r,) and outward way (r, 2).

    A side at the panel's rim is a seam by itself, unless that edge is free; along a member's line both cells beside it are one.
    """
    cells = division.cells[division.of == number]
    flat = division.flat[division.of == number]
    found: dict[tuple[int, int], list[tuple[int, Array]]] = {}
    for cell, (nodes, corners) in enumerate(zip(cells.tolist(), flat, strict=True)):
        for side in range(4):
            pair = nodes[side], nodes[(side + 1) % 4]
            span = corners[(side + 1) % 4] - corners[side]
            outward = np.array([span[1], -span[0]]) / max(float(np.linalg.norm(span)), 1e-300)
            found.setdefault((min(pair), max(pair)), []).append((cell, outward))
    on = seam_pairs(panel, number, division, [(pair, len(sides) == 1) for pair, sides in found.items()])
    rows = [(seam, cell, outward) for seam, pair in enumerate(on) for cell, outward in found[pair]]
    seams, of = (np.array([row[way] for row in rows], dtype=np.int64) for way in (0, 1))
    outward = np.array([row[2] for row in rows], dtype=np.float64).reshape(-1, 2)
    for each in (seams, of):
        each.flags.writeable = False
    return seams, of, frozen(outward)


def seam_pairs(
    panel: Panel, number: int, division: DividedSheet, pairs: list[tuple[tuple[int, int], bool]]
) -> Iterator[tuple[int, int]]:
    """Yield those neighbouring nodes between which a seam runs; with each pair: whether it lies at the rim."""
    site = division.sites[number]
    corners = site.flat(site.corners)
    free = [
        (corners[place], corners[(place + 1) % len(corners)])
        for place, edge in enumerate(panel.edges)
        if edge in panel.free_edges or edge[::-1] in panel.free_edges
    ]
    lines = [tuple(site.flat(each.ends)) for each in division.touches[number] if isinstance(each, OnLine)]
    ends = site.flat(division.places[np.array([pair for pair, _ in pairs], dtype=np.int64).ravel()]).reshape(-1, 2, 2)
    on_free, on_lines = _on_any(ends, free), _on_any(ends, lines)
    for place, (pair, at_rim) in enumerate(pairs):
        if at_rim != bool(on_free[place] if at_rim else on_lines[place]):
            yield pair


def _on_any(ends: Array, lines: Sequence[tuple[Array, ...]]) -> BoolArray:
    """Return which pairs of places (n, 2, 2) lie on one of the lines from one place to another."""
    found = np.zeros(len(ends), dtype=bool)
    for first, second in lines:
        span = second - first
        shares = np.clip((ends - first) @ span / max(float(span @ span), 1e-300), 0, 1)
        found |= (np.linalg.norm(first + shares[..., None] * span - ends, axis=2) <= SAME_SPOT).all(axis=1)
    return found
