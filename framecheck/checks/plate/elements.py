"""The plate's rectangles one by one: what their sixteen unknowns do at their own places."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.checks.plate.bending import PlateMesh
from framecheck.checks.plate.lines import PlateLine
from framecheck.model.arrays import Array, IntArray


class LineElements(NamedTuple):
    """A line's elements. unknowns (e, 4); value, slope, bend (e, 4 places, 4 unknowns); weights, spots (e, 4), m."""

    unknowns: IntArray
    value: Array
    slope: Array
    bend: Array
    weights: Array
    spots: Array


def elements_of(line: PlateLine) -> LineElements:
    """Return a line by its elements, four Gauss points each."""
    count = len(line.nodes) - 1
    unknowns = 2 * np.arange(count)[:, None] + np.arange(4)
    rows = np.arange(len(line.gauss)).reshape(count, -1)
    value, slope, bend = (part[rows[:, :, None], unknowns[:, None, :]] for part in (line.value, line.slope, line.bend))
    return LineElements(unknowns, value, slope, bend, line.weights[rows], line.gauss[rows])


def unknowns_of(sheet: PlateMesh) -> IntArray:
    """Return the numbers of each rectangle's unknowns in W.ravel() (e, 16), rectangles along y first."""
    x, y = (2 * np.arange(len(line.nodes) - 1)[:, None] + np.arange(4) for line in (sheet.x, sheet.y))
    return np.asarray(sheet.shape[1] * x[:, None, :, None] + y[None, :, None, :]).reshape(-1, 16)
