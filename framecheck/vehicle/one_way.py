"""A rigid vehicle on supports that only push (stands, tyres) or only pull (straps): which carry, and how much."""

from __future__ import annotations

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector
from framecheck.value_class import value_class
from framecheck.vehicle.scene import wrench
from framecheck.vehicle.statics import WAYS


@value_class
class Hold:
    """A support: the force on the vehicle along `direction` (unit) at a place; below zero only where `both_ways`.

    stiffness N/m; preload: its force before anything moves, N.
    """

    name: str
    at: Vector
    direction: Vector
    stiffness: float = 1.0
    preload: float = 0.0
    both_ways: bool = False


def settled(what: str, holds: tuple[Hold, ...], load: Array) -> Array:
    """Return the forces (n,) of the holds, N, that balance a load (6,) about the origin.

    The vehicle moves as one piece until the holds balance it: f_i = max(0, preload_i - k_i g_i . q). Repeated with
    the slack ones left out until the same ones carry; UnsolvableError where those that carry can't balance the load.
    """
    columns = np.stack([wrench(np.array(hold.direction), np.array(hold.at), np.zeros(3)) for hold in holds], axis=1)
    stiffness = np.array([hold.stiffness for hold in holds])
    preload = np.array([hold.preload for hold in holds])
    always = np.array([hold.both_ways for hold in holds])
    tight = np.ones(len(holds), dtype=bool)
    for _ in range(100):
        active = columns[:, tight]
        missing = load + active @ preload[tight]
        moved = np.linalg.lstsq(active * stiffness[tight] @ active.T, missing, rcond=1e-9)[0]
        forces = preload - stiffness * (columns.T @ moved)
        now = always | (forces > -1e-9 * max(1.0, float(np.abs(load).max())))
        if bool(np.all(now == tight)):
            break
        tight = now
    carried = np.where(always, forces, np.where(tight, np.maximum(forces, 0.0), 0.0))
    if float(np.abs(load + columns @ carried).max()) > 1e-6 * max(float(np.abs(load).max()), 1.0):
        way = WAYS[int(np.argmax(np.abs(unheld(holds, load))))]
        raise UnsolvableError(f"{what}: nothing holds the vehicle against {way}; add or move what holds it")
    return np.asarray(carried, dtype=np.float64)


def unheld(holds: tuple[Hold, ...], load: Array) -> Array:
    """Return the part (6,) of a load about the origin that the holds can't carry, about the middle of the holds.

    The least that is left when every hold pushes as it may (non-negative least squares, Lawson and Hanson, by scipy).
    """
    from scipy.optimize import nnls

    middle = np.mean([hold.at for hold in holds], axis=0)
    ways = [(hold, sign) for hold in holds for sign in ((1.0, -1.0) if hold.both_ways else (1.0,))]
    columns = np.stack([sign * wrench(np.array(hold.direction), np.array(hold.at), middle) for hold, sign in ways], 1)
    there = np.concatenate([load[:3], load[3:] - np.cross(middle, load[:3])])
    return np.asarray(there + columns @ nnls(columns, -there)[0], dtype=np.float64)
