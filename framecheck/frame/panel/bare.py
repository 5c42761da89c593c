"""Points that hang on sheet alone: across it nothing holds them, so that they follow the members that the sheet lies on. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.panel.division import DividedSheet
from framecheck.frame.panel.hung import Hung
from framecheck.frame.supports import rigid_moves
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.value_class import array_class

NOTHING = 1e-9
"""Share of the sheet's stiffest way, below which a place on it resists nothing that way: across flat sheet."""


@array_class
class Bare:
    """A way (3,) that sheet does not hold at a point that hangs on it alone, and the panel's place in the frame.

    row (j,): unknowns `freedoms` (j,) to how far it goes beyond what the panel's other nodes, moved as one rigid piece, do there.
    """

    node: int
    panel: int
    way: Array
    freedoms: IntArray
    row: Array


def bare_of(
    frame: Frame, division: DividedSheet, hung: Sequence[Hung | None], pieces: Pieces, sheet: tuple[IntArray, Array]
) -> Iterator[Bare]:
    """Yield what points that hang on sheet alone do across it; sheet: its unknowns and their stiffness."""
    (unknowns, values), names = sheet, list(frame.points)
    reached = {name for member in frame.members for name in member.points} | {
        end for each in frame.springs for end in each.points
    }
    stiffest = float(np.abs(values.diagonal()).max(initial=0.0))
    for first in range(0, len(unknowns), 6):
        node = int(unknowns[first]) // 6
        if node >= len(names) or names[node] in reached:
            continue
        sizes, ways = np.linalg.eigh(values[first : first + 3, first : first + 3])
        for way in ways.T[sizes <= NOTHING * stiffest]:
            panel = _panel_of(division, names[node])
            yield Bare(node, panel, way, *_following(_others(frame, division, hung, panel), pieces.places, node, way))


def _panel_of(division: DividedSheet, name: str) -> int:
    """Return a panel that a point lies on."""
    here = division.points.index(name)
    return int(division.of[np.flatnonzero((division.cells == here).any(axis=1))[0]])


def _others(frame: Frame, division: DividedSheet, hung: Sequence[Hung | None], panel: int) -> IntArray:
    """Return the frame's nodes with members that a panel hangs on."""
    names = list(frame.points)
    reached = {name for member in frame.members for name in member.points}
    nodes = {
        int(node) for cell in division.cells[division.of == panel] for each in cell for node in _nodes(hung[int(each)])
    }
    return np.array(sorted(n for n in nodes if n >= len(names) or names[n] in reached), dtype=np.int64)


def _nodes(hung: Hung | None) -> list[int]:
    return [] if hung is None else hung.nodes.tolist()


def _following(others: IntArray, places: Array, node: int, way: Array) -> tuple[IntArray, Array]:
    """Return unknowns, and how far a point goes one way beyond what others, moved and turned as one rigid piece, do there."""
    away = places[others] - places[node]
    extent = max(float(np.abs(away).max(initial=0.0)), 1e-9)
    moves = np.zeros((len(others), 6, 6))
    moves[:, :3], moves[:, 3:, 3:] = rigid_moves(away / extent), np.eye(3)
    fit = np.linalg.pinv(moves.reshape(-1, 6))[:3].reshape(3, len(others), 6)
    fit[:, :, 3:] *= extent
    freedoms = (6 * np.append(node, others)[:, None] + np.arange(6)).ravel()
    row = np.concatenate((way, np.zeros(3), -(way @ fit.reshape(3, -1))))
    return freedoms, row
