"""A plate that lies against its frame: bolts hold it both ways, the rests beside them only press; the frame gives way under both.

The plate hangs on soft springs at its bolts; what the supports put on it is then found so that plate and frame move alike wherever
they touch, that no rest pulls and none is passed through. The springs are taken off again in the same balance.
"""

from __future__ import annotations

from dataclasses import replace
from math import isinf
from typing import NamedTuple

import numpy as np

from framecheck.checks.plate.bending import (
    Bending,
    Sheet,
    held,
    load_vector,
    plate_stiffness,
    sense_of,
    solve_banded,
    spring_stiffness,
)
from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.plate import Mounting, Plate, PlateLoad

SOFT = 1e3  # of the springs, over the plate's own stiffness D / area
ROUNDS = 200


class Touching(NamedTuple):
    """What plate and frame do where they may touch, bolts first. own (s, s): movement of the plate on its springs per newton; by_load
    (s,): under the load; frame (s, s): movement of the frame per newton; spring: N/m at each bolt; bolts: how many.
    """

    own: Array
    by_load: Array
    frame: Array
    spring: float
    bolts: int

    def forces(self, closed: BoolArray) -> Array:
        """Return what the plate puts on the frame (s,), N, where the closed places touch and no other."""
        part = np.ix_(closed, closed)
        freed = self.own[:, : self.bolts] @ self.frame[: self.bolts] * self.spring
        found = np.zeros(len(self.by_load))
        found[closed] = np.linalg.solve((self.own + self.frame - freed)[part], self.by_load[closed])
        return found

    def apart(self, forces: Array) -> Array:
        """Return how far the plate is above the frame (s,), m."""
        moved = self.frame @ forces
        return np.asarray(self.by_load - self.own @ forces + self.own[:, : self.bolts] @ moved[: self.bolts] * self.spring - moved)


def frame_give(plate: Plate) -> Array:
    """Return the frame's movement (s, s) per newton, bolts' own stiffness in it, m/N."""
    count = len(plate.bolts) + len(plate.rests)
    given = np.array(plate.give) if plate.give else np.zeros((count, count))
    own = [0.0 if isinf(bolt.stiffness) else 1 / bolt.stiffness for bolt in plate.bolts]
    behind = [own[rest.bolt] if rest.bolt is not None else 0.0 for rest in plate.rests]
    of_bolt = np.array([*range(len(own)), *(-1 - n if rest.bolt is None else rest.bolt for n, rest in enumerate(plate.rests))])
    return np.asarray(given + (of_bolt[:, None] == of_bolt[None, :]) * np.array([*own, *behind])[:, None])


def bending_in_contact(sheet: Sheet, load: PlateLoad) -> Bending:
    """Return the plate under one unit of a load, in the load's own sense."""
    from scipy.sparse import csr_array, diags_array

    plate = sheet.plate
    spots = [*(bolt.at for bolt in plate.bolts), *(rest.at for rest in plate.rests)]
    touch = np.column_stack([np.outer(sheet.x.value_at(x), sheet.y.value_at(y)).ravel() for x, y in spots])
    spring = SOFT * plate.rigidity / (plate.length * plate.width)
    bare = replace_bolts(sheet)
    springs = np.zeros(sheet.shape)
    for bolt in plate.bolts:
        springs[2 * sheet.x.index(bolt.at[0]), 2 * sheet.y.index(bolt.at[1])] += spring
    own = plate_stiffness(sheet)
    base = csr_array(own + spring_stiffness(bare) + diags_array(springs.ravel()))
    put = sense_of(load) * load_vector(sheet, load).ravel()
    moved = solve_banded(base, ~held(bare).ravel(), np.column_stack([put, touch]), sheet.shape)
    at = Touching(touch.T @ moved[:, 1:], touch.T @ moved[:, 0], frame_give(plate), spring, len(plate.bolts))
    forces = settled(at, 1.0 if plate.mounting is Mounting.UNDER else -1.0)
    back = -forces
    back[: at.bolts] += spring * (at.frame @ forces)[: at.bolts]
    shape = moved[:, 0] + moved[:, 1:] @ back
    reactions = own @ shape - put
    whole, load_, left = (frozen(each.reshape(sheet.shape).copy()) for each in (shape, put, reactions + touch @ forces))
    return Bending(whole, load_, left, frozen(forces[: at.bolts]), frozen(forces[at.bolts :]))


def replace_bolts(sheet: Sheet) -> Sheet:
    """Return the sheet without its bolts."""
    return replace(sheet, plate=replace(sheet.plate, bolts=(), rests=()))


def settled(at: Touching, way: float) -> Array:
    """Return the forces (s,) at which no rest pulls and none is passed through. way: 1 where rests press upward on the frame.

    One rest at a time, the worst first, as in the simplex method.
    """
    closed = np.arange(len(at.by_load)) < at.bolts
    least = 1e-9 * float(np.abs(at.by_load).max())
    for _ in range(ROUNDS):
        forces = at.forces(closed)
        through = np.where(closed, 0.0, way * at.apart(forces))
        pulls = np.where(closed, -way * forces, 0.0)
        pulls[: at.bolts] = 0.0
        if pulls.max(initial=0.0) > 1e-9 * float(np.abs(forces).max()):
            closed = closed & (pulls <= 1e-9 * float(np.abs(forces).max()))
        elif through.max(initial=0.0) > least:
            closed = closed.copy()
            closed[int(np.argmax(through))] = True
        else:
            return forces
    raise UnsolvableError("a plate and what it lies against do not settle; ask for it on spacers, or give its bolts a stiffness")
