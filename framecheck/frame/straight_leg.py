"""A leg of a kink as if it ran straight to the point: a quarter of it between its mirrors, from a shell model. SI.

The plane between both legs is a mirror, and the tube's own two middle planes are: each load is even or odd about each of them.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.frame.joint.data import KinkLeg
from framecheck.frame.joint.shell import assembled, condensed_moves, held_by_mirror
from framecheck.frame.joint.shell_elements import stiffness, stresses
from framecheck.frame.kink_halves import plate_modes
from framecheck.frame.kink_mesh import LegMesh, straight_quarter_of
from framecheck.model.arrays import Array, BoolArray
from framecheck.value_class import array_class

LOADS = ((5, (1, -1, 1)), (4, (1, 1, -1)), (3, (-1, -1, -1)), (0, (1, 1, 1)))
"""The plate's movement under a moment about z, y and x and under pull, and whether each is even (1) or odd about x, y and z = 0."""
COPIES = ((1, 1), (-1, 1), (1, -1), (-1, -1))
"""The quarters, by the sides of y and z = 0 on which they lie."""


@array_class
class StraightLeg:
    """along (rows,): as the mesh's. turns (3,): of the plate under unit moments about x, y, z, rad/Nm. pulled, bent (rows, around, 3,
    4): as `Felt`'s, all round.
    """

    along: Array
    turns: Array
    pulled: Array
    bent: Array


@lru_cache(maxsize=16)
def straight(corner: KinkLeg) -> StraightLeg:
    """Return what a straight leg answers that has its height in the plane it is bent in."""
    leg = straight_quarter_of(corner)
    model = assembled(leg.places, leg.corners, stiffness(leg.plates[0]))
    plate, gives, moved = model.number[leg.ring[-1]], [], []
    modes = np.zeros((len(leg.places), 6, 6))
    modes[plate] = plate_modes(model.nodes[plate]).reshape(-1, 6, 6)
    for freedom, even in LOADS:
        mode = modes[:, :, [freedom]].reshape(-1, 1)
        stiff, moves = condensed_moves(model, mode, _held(leg, even)[np.argsort(model.number)].ravel())
        gives.append(1 / (len(COPIES) * float(stiff[0, 0])))
        moved.append(moves.reshape(-1, 6)[model.number] * gives[-1])
    at_corners = np.stack(moved, axis=-1)[leg.corners].reshape(len(leg.corners), 24, 4)
    pulled, bent = (_all_round(each.reshape(len(leg.along), -1, 3, 4)) for each in stresses(leg.plates[0], at_corners))
    return StraightLeg(leg.along, np.array(gives[2::-1]), pulled, bent)


def _held(leg: LegMesh, even: tuple[int, int, int]) -> BoolArray:
    """Return which freedoms (n, 6) the plate and the mirrors hold under a load that is so about each."""
    held = np.zeros((len(leg.places), 6), dtype=bool)
    for axis, (line, way) in enumerate(zip((leg.ring[0], leg.ring[:, -1], leg.ring[:, 0]), even, strict=True)):
        held[np.ix_(line, held_by_mirror(axis, way))] = True
    held[leg.ring[-1]] = True
    return held


def _all_round(quarter: Array) -> Array:
    """Return the stress in all quarters (rows, around, 3, 4); where a load is odd about a mirror it turns its sign beyond it.

    Shear's own sign, which turns with each mirror for all loads alike, is left: no principal stress has it.
    """
    signs = [[y if even[1] < 0 else 1, z if even[2] < 0 else 1] for y, z in COPIES for _, even in LOADS]
    each = np.prod(signs, axis=1).reshape(len(COPIES), 1, 1, 1, len(LOADS))
    return np.concatenate(list(quarter * each), axis=1)
