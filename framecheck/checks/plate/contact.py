"""A plate that lies against its frame: bolts hold it both ways, the rests beside them only press; the frame gives way under both.

The plate hangs on soft springs at its bolts; what the supports put on it is then found so that plate and frame move alike wherever
they touch, that no rest pulls and none is passed through. The springs are taken off again in the same balance.
"""

from __future__ import annotations

from dataclasses import replace
from math import isinf
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from framecheck.checks.plate.banded import factored
from framecheck.checks.plate.bending import (
    PlateMesh,
    UnitBending,
    held,
    load_vector,
    plate_stiffness,
    sense_of,
    shearing_of,
    sheet_of,
    spring_stiffness,
)
from framecheck.checks.plate.rib_shear import softening, taken
from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.model.plate import BoltedPlate, Mounting

if TYPE_CHECKING:
    from scipy.sparse import csr_array

SOFT = 1e3  # of the springs, over the plate's own stiffness D / area
ROUNDS = 1000
AT_ONCE = 60  # rounds in which the rests of every member change together
HAIR = 1e-9  # of the plate's own give: that of a place of contact
COARSE = 20  # elements along a side of the plate on which prying is found


class Touching(NamedTuple):
    """What plate and frame do where they may touch, bolts first. own (s, s): movement of the plate on its springs per newton; by_load
    (s,): under the load; frame (s, s): movement of the frame per newton; spring: N/m at each bolt; bolts: how many; groups (s,): rests
    of one member or bolt have one number.
    """

    own: Array
    by_load: Array
    frame: Array
    spring: float
    bolts: int
    groups: IntArray

    def forces(self, closed: BoolArray) -> Array:
        """Return what the plate puts on the frame (s,), N, where the closed places touch and no other."""
        part = np.ix_(closed, closed)
        freed = self.own[:, : self.bolts] @ self.frame[: self.bolts] * self.spring
        found = np.zeros(len(self.by_load))
        found[closed] = np.linalg.solve((self.own + self.frame - freed)[part], self.by_load[closed])
        return found

    def of_rests(self, way: float) -> tuple[Array, Array]:
        """Return how the rests (r, r) open per newton on each while the bolts hold, and how far each is passed through (r,), m, where
        none presses. way: 1 where rests press upward on the frame.
        """
        whole = self.own + self.frame - self.own[:, : self.bolts] @ self.frame[: self.bolts] * self.spring
        held, rests = whole[: self.bolts], whole[self.bolts :]
        by_bolts = np.linalg.solve(held[:, : self.bolts], np.column_stack([held[:, self.bolts :], self.by_load[: self.bolts]]))
        give = rests[:, self.bolts :] - rests[:, : self.bolts] @ by_bolts[:, :-1]
        through = self.by_load[self.bolts :] - rests[:, : self.bolts] @ by_bolts[:, -1]
        return (give + give.T) / 2, way * through

    def apart(self, forces: Array) -> Array:
        """Return how far the plate is above the frame (s,), m."""
        moved = self.frame @ forces
        return np.asarray(self.by_load - self.own @ forces + self.own[:, : self.bolts] @ moved[: self.bolts] * self.spring - moved)


def frame_give(plate: BoltedPlate, give: Array) -> Array:
    """Return the frame's movement (s, s) per newton, bolts' own stiffness in it, and a hair of the plate's own (s, s) at each rest: of
    two faces at one place each takes half. m/N.
    """
    count = len(plate.bolts) + len(plate.rests)
    given = np.array(plate.give) if plate.give else np.zeros((count, count))
    own = [0.0 if isinf(bolt.stiffness) else 1 / bolt.stiffness for bolt in plate.bolts]
    hair = HAIR * np.diag(give) * (np.arange(len(give)) >= len(own))
    behind = [own[rest.bolt] if rest.bolt is not None else 0.0 for rest in plate.rests]
    of_bolt = np.array([*range(len(own)), *(-1 - n if rest.bolt is None else rest.bolt for n, rest in enumerate(plate.rests))])
    return np.asarray(given + (of_bolt[:, None] == of_bolt[None, :]) * np.array([*own, *behind])[:, None] + np.diag(hair))


def bendings_on_ledges(plate: BoltedPlate) -> tuple[UnitBending, ...]:
    """Return the plate under one unit of each load, on one mesh without patches: good for forces and movement, not for moments."""
    bare = replace(plate, bolts=tuple(replace(bolt, seat=0.0) for bolt in plate.bolts), loads=())
    sheet = replace(sheet_of(bare, COARSE), plate=plate)
    return bendings_in_contact(sheet, tuple(sense_of(load) * load_vector(sheet, load) for load in plate.loads))


def bendings_in_contact(sheet: PlateMesh, loads: tuple[Array, ...], taut: csr_array | None = None) -> tuple[UnitBending, ...]:
    """Return the plate under loads (each of the shape of W), from one factorisation; taut: as in `bendings`."""
    from scipy.sparse import csr_array, diags_array

    plate = sheet.plate
    spots = [*(bolt.at for bolt in plate.bolts), *(rest.at for rest in plate.rests)]
    touch = np.column_stack([np.outer(sheet.x.value_at(x), sheet.y.value_at(y)).ravel() for x, y in spots])
    spring = SOFT * plate.rigidity / (plate.length * plate.width)
    bare = replace_bolts(sheet)
    springs = np.zeros(sheet.shape)
    for bolt in plate.bolts:
        springs[2 * sheet.x.index(bolt.at[0]), 2 * sheet.y.index(bolt.at[1])] += spring
    own = plate_stiffness(sheet) if taut is None else plate_stiffness(sheet) + taut
    beams, loose = shearing_of(sheet), ~held(bare).ravel()
    matrix = csr_array(own + spring_stiffness(bare) + diags_array(springs.ravel()))
    solver = factored(matrix, loose, sheet.shape, softening(beams, loose))
    put = np.column_stack([each.ravel() for each in loads])
    touched, pushed = solver.half(touch), solver.half(put)
    give = touched.T @ touched
    free = Touching(give, np.zeros(len(spots)), frame_give(plate, give), spring, len(plate.bolts), groups_of(plate))
    forces = np.column_stack([settled(free._replace(by_load=touched.T @ each), way_of(plate)) for each in pushed.T])
    back = -forces
    back[: free.bolts] += free.spring * (free.frame @ forces)[: free.bolts]
    moved = solver.solve(put + touch @ back)
    left = own @ moved - taken(beams, len(loose)) @ moved - put + touch @ forces
    return tuple(_bending(sheet, (moved[:, n], put[:, n], left[:, n]), forces[:, n]) for n in range(len(loads)))


def groups_of(plate: BoltedPlate) -> IntArray:
    """Return a number for each bolt and rest (s,): of the member or the bolt that it belongs to."""
    names: list[object] = [*range(len(plate.bolts)), *((rest.member, rest.bolt) for rest in plate.rests)]
    distinct = list(dict.fromkeys(names))
    return np.array([distinct.index(name) for name in names])


def way_of(plate: BoltedPlate) -> float:
    """Return which way the frame's face is from the plate: 1 above it."""
    return 1.0 if plate.mounting is Mounting.UNDER else -1.0


def _bending(sheet: PlateMesh, columns: tuple[Array, ...], forces: Array) -> UnitBending:
    """Return one load's answer from columns (n,) of movement, load and reactions, and what touches (s,)."""
    bolts = len(sheet.plate.bolts)
    whole, load, left = (frozen(each.reshape(sheet.shape).copy()) for each in columns)
    return UnitBending(whole, load, left, frozen(forces[:bolts].copy()), frozen(forces[bolts:].copy()))


def replace_bolts(sheet: PlateMesh) -> PlateMesh:
    """Return the sheet without its bolts."""
    return replace(sheet, plate=replace(sheet.plate, bolts=(), rests=()))


def worst_of_each(groups: IntArray, through: Array, least: float) -> IntArray:
    """Return which rests are passed through most of their group, by more than the least."""
    order = np.argsort(-through, kind="stable")
    order = order[through[order] > least]
    return order[np.unique(groups[order], return_index=True)[1]]


def settled(at: Touching, way: float) -> Array:
    """Return the forces (s,) at which no rest pulls and none is passed through. way: 1 where rests press upward on the frame.

    Of each member and bolt the rest that is passed through most closes, all that pull open; where that goes round, `pressed`.
    """
    closed = np.arange(len(at.by_load)) < at.bolts
    least = 1e-9 * float(np.abs(at.by_load).max())
    for _ in range(AT_ONCE):
        forces = at.forces(closed)
        through = np.where(closed, 0.0, way * at.apart(forces))
        pulls = np.where(closed, -way * forces, 0.0)
        pulls[: at.bolts] = 0.0
        enough = 1e-9 * float(np.abs(forces).max())
        if pulls.max(initial=0.0) <= enough and through.max(initial=0.0) <= least:
            return forces
        closed = closed & (pulls <= enough)
        closed[worst_of_each(at.groups, through, least)] = True
    closed = np.arange(len(at.by_load)) < at.bolts
    closed[at.bolts :] = pressed(*at.of_rests(way), least) > 0
    return at.forces(closed)


def pressed(give: Array, through: Array, least: float) -> Array:
    """Return how hard rests press (r,), N >= 0: none is passed through by more than the least, m, and what is clear bears none.

    give (r, r): symmetric, how they open per newton; through (r,): how far each is passed through where none presses.
    C. L. Lawson, R. J. Hanson, Solving Least Squares Problems, 1974, chapter 23 (from memory): one more presses a time, and on the
    way to the new balance what would pull is let go first. It ends after finitely many steps.
    """
    found, presses = np.zeros(len(through)), np.zeros(len(through), dtype=bool)
    for _ in range(ROUNDS):
        left = np.where(presses, -np.inf, through - give @ found)
        if left.max(initial=-np.inf) <= least:
            return found
        presses[int(np.argmax(left))] = True
        while True:
            new = np.zeros(len(through))
            new[presses] = np.linalg.solve(give[np.ix_(presses, presses)], through[presses])
            pulls = presses & (new <= 0.0)
            if not pulls.any():
                break
            share = found[pulls] / np.maximum(found[pulls] - new[pulls], 1e-300)
            found = found + float(share.min()) * (new - found)
            first = np.flatnonzero(pulls)[share <= share.min()]
            presses[first], found[first] = False, 0.0
        found = new
    raise UnsolvableError("a plate and what it lies against do not settle; ask for it on spacers, or give its bolts a stiffness")
