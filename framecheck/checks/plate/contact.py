"""A plate that lies against its frame: bolts hold it both ways, the rests beside them only press; the frame gives way under both.

The plate hangs on soft springs at its bolts; what the supports put on it is then found so that plate and frame move alike wherever
they touch, that no rest pulls and none is passed through. The springs are taken off again in the same balance.
"""

from __future__ import annotations

from dataclasses import replace
from math import isinf
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from framecheck.checks.plate.bending import (
    Bending,
    Sheet,
    held,
    load_vector,
    patch_of,
    plate_stiffness,
    sense_of,
    sheet_of,
    solve_banded,
    spring_stiffness,
)
from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.plate import Mounting, Plate, PlateLoad

if TYPE_CHECKING:
    from scipy.sparse import csr_array

SOFT = 1e3  # of the springs, over the plate's own stiffness D / area
ROUNDS = 1000
COARSE = 20  # elements along a side of the plate on which prying is found
SPREAD = 12  # places along a side of a patch there


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
    return bendings_in_contact(sheet, (sense_of(load) * load_vector(sheet, load),))[0]


def bendings_on_ledges(plate: Plate) -> tuple[Bending, ...]:
    """Return the plate under one unit of each load, on one mesh without patches: good for forces and movement, not for moments."""
    bare = replace(plate, bolts=tuple(replace(bolt, seat=0.0) for bolt in plate.bolts), loads=())
    sheet = replace(sheet_of(bare, COARSE), plate=plate)
    return bendings_in_contact(sheet, tuple(sense_of(load) * spread(sheet, load) for load in plate.loads))


def spread(sheet: Sheet, load: PlateLoad) -> Array:
    """Return what one unit of a load puts on the unknowns, shape of W, whatever lines the mesh has."""
    patch = patch_of(load)
    if patch is None:
        return load_vector(sheet, load)
    shares = (np.arange(SPREAD) + 0.5) / SPREAD - 0.5
    parts = (
        np.mean([line.value_at(at + share * size) for share in shares], axis=0)
        for line, at, size in zip((sheet.x, sheet.y), patch.at, patch.size, strict=True)
    )
    return np.outer(*parts)


def bendings_in_contact(sheet: Sheet, loads: tuple[Array, ...]) -> tuple[Bending, ...]:
    """Return the plate under loads (each of the shape of W), from one factorisation."""
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
    moved = solve_banded(base, ~held(bare).ravel(), np.column_stack([*(each.ravel() for each in loads), touch]), sheet.shape)
    by_touch = moved[:, len(loads) :]
    free = Touching(touch.T @ by_touch, np.zeros(len(spots)), frame_give(plate), spring, len(plate.bolts))
    return tuple(_settled_bending(sheet, own, (touch, by_touch), free, (put, moved[:, n])) for n, put in enumerate(loads))


def _settled_bending(
    sheet: Sheet, own: csr_array, touching: tuple[Array, Array], free: Touching, loaded: tuple[Array, Array]
) -> Bending:
    """Return one load's answer. touching: the rests' places on the unknowns, what a newton at each does; loaded: load, its doing."""
    (touch, by_touch), put = touching, loaded[0].ravel()
    at = free._replace(by_load=touch.T @ loaded[1])
    forces = settled(at, 1.0 if sheet.plate.mounting is Mounting.UNDER else -1.0)
    back = -forces
    back[: at.bolts] += at.spring * (at.frame @ forces)[: at.bolts]
    shape = loaded[1] + by_touch @ back
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
