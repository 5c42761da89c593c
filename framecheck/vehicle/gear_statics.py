"""Loads of any number of axles and a coupling: statics where it is enough, else by the springs. SI.

Three supports and more are statically indeterminate. They share as the body settles on its springs, which all touch when it stands
level and unloaded (N = k (a + b x)); a spring can't pull. What holds it at the coupling does not give way.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.running_gear import RunningGear
from framecheck.value_class import array_class
from framecheck.vehicle.scene import axle_x, axle_y, track

NONE = 1e-12


@array_class
class GearLoads:
    """axles (n,): load of each, N; coupling: its upward force on the frame, N, either way."""

    axles: Array
    coupling: float


@array_class
class Rows:
    """Supports that share by springs: x and rate (m,), and (m, n) how the load of each falls to the axles."""

    x: Array
    rate: Array
    falls: Array


def supports_of(gear: RunningGear) -> Rows:
    """Return the supports: axles with a share count as one, at the place where their loads balance. A rate not said is 1."""
    count, shared = len(gear.axles), [n for n, each in enumerate(gear.axles) if each.share is not None]
    alone = [n for n in range(count) if n not in shared]
    falls = [np.eye(count)[n] for n in alone]
    rates = [gear.axles[n].rate or 1.0 for n in alone]
    if shared:
        shares = np.array([each.share or 0.0 for each in gear.axles])
        falls.append(shares / shares.sum())
        rates.append(sum(gear.axles[n].rate or 1.0 for n in shared))
    rows = np.array(falls)
    return Rows(rows @ np.array([axle_x(each.axle) for each in gear.axles]), np.array(rates), rows)


def is_determinate(gear: RunningGear) -> bool:
    """Return whether statics alone gives every load: two supports in all, those with a share counting as one."""
    return len(supports_of(gear).x) + (gear.coupling is not None) <= 2


def axle_loads(gear: RunningGear, weight: float, pitch: float) -> GearLoads:
    """Return the loads that hold a weight, N, and its moment about x = 0, sum of x N, Nm. What can't be held by pushes is left."""
    rows = supports_of(gear)
    if gear.coupling is None:
        last = np.clip(pitch, weight * rows.x.min(), weight * rows.x.max())
        return GearLoads(_settled(rows, weight, float(last)) @ rows.falls, 0.0)
    arms = rows.x - gear.coupling.at[0]
    found = _about_coupling(arms, rows.rate, pitch - gear.coupling.at[0] * weight) @ rows.falls
    return GearLoads(found, weight - float(found.sum()))


def _about_coupling(arms: Array, rates: Array, moment: float) -> Array:
    """Return N = k b arm where it pushes: the body turns about the coupling, sum of N arm is the moment where it can be."""
    pushing = np.where(arms * np.sign(moment) > 0, rates * np.abs(arms), 0.0)
    size = float(pushing @ np.abs(arms))
    return np.asarray(pushing * abs(moment) / size if size > 0 else 0.0 * arms, dtype=np.float64)


def _settled(rows: Rows, weight: float, pitch: float) -> Array:
    """Return N = k max(a + b x, 0) with sum N = weight, sum N x = pitch: the largest set of supports that all push."""
    count, rates = len(rows.x), rows.rate / rows.rate.max()
    middle, reach = float(rows.x.mean()), max(float(np.ptp(rows.x)), NONE)
    at = (rows.x - middle) / reach
    right = np.array([weight, (pitch - middle * weight) / reach])
    for size in range(count, 1, -1):
        for chosen in map(list, combinations(range(count), size)):
            x, k = at[chosen], rates[chosen]
            sums = np.array([[k.sum(), k @ x], [k @ x, k @ x**2]])
            if np.linalg.det(sums) < NONE * k.sum() ** 2:
                continue
            a, b = np.linalg.solve(sums, right)
            loads = np.where(np.isin(np.arange(count), chosen), rates * (a + b * at), 0.0)
            others = [n for n in range(count) if n not in chosen]
            if loads.min() >= -NONE * weight and (a + b * at[others] <= NONE * weight).all():
                return np.maximum(loads, 0.0)
    return np.where(np.arange(count) == int(np.argmin(np.abs(at - right[1] / max(weight, NONE)))), weight, 0.0)


def wheel_loads(gear: RunningGear, found: GearLoads, roll: float) -> tuple[Array, float]:
    """Return the loads (n, 2) of left and right wheels that hold a roll moment, sum of y N, Nm, and how much of it they can't.

    By axle load, as where no roll stiffness is known; an axle whose inner wheel is off the ground leaves the rest to the others.
    """
    tracks = np.array([track(each.axle) for each in gear.axles])
    asked = roll - float(found.axles @ np.array([axle_y(each.axle) for each in gear.axles]))
    limits = found.axles * tracks / 2
    couples = np.clip(asked * found.axles / max(float(found.axles.sum()), NONE), -limits, limits)
    room = limits - couples * np.sign(asked)
    left = asked - float(couples.sum())
    couples += np.sign(asked) * room * min(abs(left) / max(float(room.sum()), NONE), 1.0)
    sides = found.axles[:, None] / 2 + couples[:, None] / tracks[:, None] * np.array([1.0, -1.0])
    return np.maximum(sides, 0.0), asked - float(couples.sum())
