"""A straight line through readings: one slope, and one level for each run of the load up or down. SI."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class


@array_class
class Slope:
    """Reading per load. sigma: its standard deviation by the scatter about the line, at least what the dial's own error makes it.

    left (n,): what each reading misses the line by, NaN where there is none; loop: mean reading going down less going up, NaN where
    there is one run alone; count: of readings.
    """

    value: float
    sigma: float
    left: Array
    loop: float
    count: int


def runs_of(loads: Array) -> IntArray:
    """Return the number of the run (n,) that each load belongs to: a new one begins after the load has turned round."""
    runs, way = np.zeros(len(loads), dtype=np.int64), 0.0
    for row in range(1, len(loads)):
        step = float(np.sign(loads[row] - loads[row - 1]))
        runs[row] = runs[row - 1] + (1 if step * way < 0 else 0)
        way = step or way
    return runs


def rising(loads: Array) -> Array:
    """Return whether each load (n,) was come to by a larger one (1), by a smaller one (-1), in size; 0 for the first."""
    change = np.diff(np.abs(loads), prepend=abs(loads[0]) if len(loads) else 0.0)
    return np.asarray(np.sign(change))


def slope_of(loads: Array, values: Array, error: float) -> Slope | None:
    """Return the line through readings (n,) over loads (n,); None where fewer than two loads were read.

    Least squares; sigma^2 = s^2 / sum of squared loads about their run's mean, s the scatter with n - runs - 1 degrees of freedom, at
    least error / sqrt(3) (an error evenly spread between its limits: GUM, JCGM 100:2008, 4.3.7).
    """
    known = np.isfinite(values)
    x, y, runs = loads[known], values[known], runs_of(loads)[known]
    names = np.unique(runs)
    means = {run: (x[runs == run].mean(), y[runs == run].mean()) for run in names.tolist()}
    dx = x - np.array([means[run][0] for run in runs.tolist()])
    dy = y - np.array([means[run][1] for run in runs.tolist()])
    about = float(dx @ dx)
    if len(x) < 2 or about <= 1e-12 * max(float(x @ x), 1e-300):
        return None
    value = float(dx @ dy) / about
    free = len(x) - len(names) - 1
    scatter = float(np.sqrt(np.sum((dy - value * dx) ** 2) / free)) if free > 0 else 0.0
    left = np.full(len(loads), np.nan)
    left[known] = dy - value * dx
    return Slope(value, max(scatter, error / 3**0.5) / about**0.5, left, loop_of(loads[known], y), len(x))


def loop_of(loads: Array, values: Array) -> float:
    """Return how much more a dial reads with the load coming off than going on, at the same loads, on the mean of the side where that
    is most; NaN: not read."""
    ways, apart = rising(loads), dict[float, list[float]]()
    for load in np.unique(loads[np.abs(loads) > 0]):
        at = np.abs(loads - load) <= 1e-9 * np.abs(loads).max()
        on, off = values[at & (ways > 0)], values[at & (ways < 0)]
        if len(on) and len(off):
            apart.setdefault(float(np.sign(load)), []).append(float(off.mean() - on.mean()))
    return max((float(np.mean(each)) for each in apart.values()), key=abs, default=float("nan"))


def pooled(loads: Array, values: Array, error: float) -> tuple[Array, Array]:
    """Return slopes (n_dial,) of readings (n, n_dial) with standard deviations by the scatter of all dials together."""
    slopes, squares, about, free = [], 0.0, [], 0
    runs = runs_of(loads)
    for column in values.T:
        known = np.isfinite(column)
        x, y, names = loads[known], column[known], runs[known]
        dx, dy = (each - np.array([each[names == run].mean() for run in names.tolist()]) for each in (x, y))
        slope = float(dx @ dy) / float(dx @ dx)
        slopes.append(slope)
        about.append(float(dx @ dx))
        squares += float(np.sum((dy - slope * dx) ** 2))
        free += max(len(x) - len(np.unique(names)) - 1, 0)
    scatter = max(np.sqrt(squares / free) if free else 0.0, error / 3**0.5)
    return np.array(slopes), scatter / np.sqrt(np.array(about))
