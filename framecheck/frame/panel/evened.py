"""What sheet carries, read as means over squares: beside the corner of a stiff box stress grows as cells get narrower. SI.

In an elastic sheet it grows there without bound (M. L. Williams, J. Appl. Mech. 19, 1952; from memory), so that a cell cut narrow by
two lines that nearly meet would tell how far apart they lie, and not what the sheet bears.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.panel.bays import KEPT, bays_of
from framecheck.frame.panel.division import DividedSheet
from framecheck.frame.panel.grid import SAME_SPOT
from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.model.panels import Panel

EVENED = 0.0127
"""m: side of the square, the width of a spot-welded flange (common practice, no source). Cells twice as wide tell what they told."""


@lru_cache(maxsize=KEPT)
def evening(panel: Panel, number: int, division: DividedSheet) -> tuple[IntArray, IntArray, Array]:
    """Return what makes means of the forces in quarters of a panel's cells (4 m): rows (r,), from which quarters (r,), shares (r,).

    Of sheet in one field between members. Sheet within the box of a member does not strain: it is left out of the mean, unless it is
    more than half of the square, so that a strip between two boxes goes over into none.
    """
    mine = division.of == number
    low, high, full = quarters_of(division.flat[mine])
    middle, mates = (low + high) / 2, bays_of(panel, number, division)[1]
    stiff = np.repeat(stiff_cells(division, np.flatnonzero(mine)), 4)
    rows = np.arange(len(low))
    narrow = np.flatnonzero(~stiff & (high - low < EVENED).any(axis=1))
    shares = np.ones((len(narrow), len(low)))
    for way in (0, 1):
        begins, ends = (middle[narrow, way, None] + side * EVENED / 2 for side in (-1, 1))
        shares *= np.maximum(np.minimum(high[:, way], ends) - np.maximum(low[:, way], begins), 0.0)
    shares *= full * np.repeat(mates[narrow // 4], 4, axis=1)
    bearing = shares * ~stiff
    shares = bearing / np.maximum(bearing.sum(axis=1), shares.sum(axis=1) / 2)[:, None]
    place, source = np.nonzero(shares)
    alone = np.setdiff1d(rows, narrow)
    found = np.append(narrow[place], alone), np.append(source, alone), np.append(shares[place, source], np.ones(len(alone)))
    order = np.argsort(found[0], kind="stable")
    return found[0][order], found[1][order], frozen(found[2][order])


def quarters_of(flat: Array) -> tuple[Array, Array, Array]:
    """Return the boxes round the quarters of cells with corners (m, 4, 2), low and high (4 m, 2), and how full each is (4 m,)."""
    middle = flat.mean(axis=1, keepdims=True)
    sides = (flat + np.roll(flat, -1, axis=1)) / 2
    corners = np.stack((flat, sides, np.broadcast_to(middle, flat.shape), np.roll(sides, 1, axis=1)), axis=2).reshape(-1, 4, 2)
    low, high = corners.min(axis=1), corners.max(axis=1)
    one, other = corners[:, 2] - corners[:, 0], corners[:, 3] - corners[:, 1]
    area = np.abs(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]) / 2
    return low, high, area / (high - low).prod(axis=1)


def stiff_cells(division: DividedSheet, cells: IntArray) -> BoolArray:
    """Return which cells (m,) hang with all four corners on one place of one member: within a box, where sheet does not strain."""
    return np.array([_is_stiff(division, division.cells[cell].tolist()) for cell in cells.tolist()], dtype=np.bool_)


def _is_stiff(division: DividedSheet, nodes: list[int]) -> bool:
    feet = [foot for node in nodes for foot in division.feet[node]]
    return all(len(division.feet[node]) == 1 for node in nodes) and all(
        foot.leg.member == feet[0].leg.member and np.abs(foot.place - feet[0].place).max() <= SAME_SPOT for foot in feet[1:]
    )


def evened(forces: Array, shares: tuple[IntArray, IntArray, Array]) -> Array:
    """Return forces (m, 4, k, 3) read as means; shares: of `evening`."""
    rows, source, share = shares
    flat = forces.reshape(len(forces) * 4, -1)
    found: Array = np.add.reduceat(flat[source] * share[:, None], np.searchsorted(rows, np.arange(len(flat)))).reshape(forces.shape)
    return found
