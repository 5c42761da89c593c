"""What three box tubes give where they meet mitred and open, as in the corners of a body's roof: from a shell model of the corner.

Each tube runs from the corner along its own direction, its walls in planes of two of the three directions. Over the corner itself only
its three outer walls stand: into each tube it is open. The tubes end in rigid plates. Docs: docs/theory/kinks.md. SI.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.panels import graded
from framecheck.frame.joint.shell import assembled, condensed
from framecheck.frame.joint.shell_elements import Plates, stiffness
from framecheck.frame.kink_halves import plate_modes
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import value_class

HALF_WALL = 5  # elements over half a side of the corner; the one at its edge is about EDGE walls wide
EDGE = 4 / 3
BEYOND = 14  # rows of elements from the corner's mouth to a tube's plate, the first as wide
REACH = 1.5  # sizes times sqrt(size / wall): so far away an outline has regained its shape
Three = tuple[float, float, float]


@value_class
class OpenCorner:
    """Three box tubes that meet. sizes: of the corner along the three directions, on middle lines, m; walls: of the tubes, m.

    cosines: of the angles between the second and the third, the third and the first, the first and the second; e in Pa.
    """

    sizes: Three
    walls: Three
    cosines: Three = (0.0, 0.0, 0.0)
    e: float = 200e9
    nu: float = 0.3


class CornerMesh(NamedTuple):
    """places (n, 3), m; corners (m, 4), wall (m,): of the elements; ends: node numbers of each tube's plate; middle: of the corner;
    lengths: of each tube from there to its plate, m.
    """

    places: Array
    corners: IntArray
    wall: Array
    ends: tuple[IntArray, ...]
    middle: Array
    lengths: Array


def directions(corner: OpenCorner) -> Array:
    """Return unit directions (3, 3), as rows, with the cosines between them: the first along x, the second in the plane of x and y."""
    a, b, c = corner.cosines
    found: Array = np.linalg.cholesky(np.array([[1.0, c, b], [c, 1.0, a], [b, a, 1.0]]))
    return found


def _lines(size: float, wall: float, reach: float) -> Array:
    """Return the grid lines along one direction: over the corner, from its outer wall to its mouth, then along the tube, m."""
    half = graded(0.0, size / 2, HALF_WALL, EDGE * wall)
    across = np.concatenate((half, size - half[-2::-1]))
    return np.concatenate((across, graded(size, size + reach, BEYOND, EDGE * wall)[1:]))


def mesh_of(corner: OpenCorner) -> CornerMesh:
    """Return the shell mesh of a corner: its outer walls, and each tube's four."""
    size, wall = max(corner.sizes), min(corner.walls)
    reach = REACH * size * np.sqrt(size / wall)
    lines = [_lines(each, wall, reach) for each in corner.sizes]
    mouth, last = 2 * HALF_WALL, 2 * HALF_WALL + BEYOND
    within, beyond = np.arange(mouth + 1), np.arange(mouth, last + 1)
    quads: list[IntArray] = []
    walls: list[Array] = []

    def stand(across: int, at: int, spans: dict[int, IntArray], thickness: float) -> None:
        (one, first), (other, second) = spans.items()
        grid = np.zeros((len(first), len(second), 3), dtype=np.int64)
        grid[..., across], grid[..., one], grid[..., other] = at, first[:, None], second[None, :]
        quads.append(np.stack((grid[:-1, :-1], grid[1:, :-1], grid[:-1, 1:], grid[1:, 1:]), axis=2).reshape(-1, 4, 3))
        walls.append(np.full(len(quads[-1]), thickness))

    for across in range(3):
        one, other = (way for way in range(3) if way != across)
        stand(across, 0, {one: within, other: within}, wall)
        for along, side in ((one, other), (other, one)):
            for at in (0, mouth):
                stand(across, at, {along: beyond, side: within}, corner.walls[along])
    named, corners = np.unique(np.concatenate(quads).reshape(-1, 3), axis=0, return_inverse=True)
    skew = np.stack([lines[way][named[:, way]] for way in range(3)], axis=1)
    ways = directions(corner)
    ends = tuple(np.flatnonzero(named[:, way] == last) for way in range(3))
    lengths = reach + np.array(corner.sizes) / 2
    return CornerMesh(skew @ ways, corners.reshape(-1, 4), np.concatenate(walls), ends, np.array(corner.sizes) / 2 @ ways, lengths)


def turns_felt(corner: OpenCorner, mesh: CornerMesh) -> Array:
    """Return how the second's and the third's plates turn (6, 6), rad, under unit moments on them, Nm, the first's held."""
    count = len(mesh.corners)
    plates = Plates(mesh.places[mesh.corners], mesh.wall, np.full(count, corner.e), np.full(count, corner.nu))
    model = assembled(mesh.places, mesh.corners, stiffness(plates))
    held, modes = np.zeros((len(mesh.places), 6), dtype=bool), np.zeros((len(mesh.places), 6, 12))
    for number, nodes in enumerate(mesh.ends):
        held[model.number[nodes]] = True
        if number > 0:
            moves = plate_modes(mesh.places[nodes] - mesh.middle).reshape(-1, 6, 6)
            modes[model.number[nodes], :, 6 * (number - 1) : 6 * number] = moves
    felt = condensed(model, modes.reshape(-1, 12), held.ravel())
    turning = np.r_[3:6, 9:12]
    return np.asarray(np.linalg.inv(felt)[np.ix_(turning, turning)], dtype=np.float64)


def straight_turns(corner: OpenCorner, way: int, length: float) -> Array:
    """Return how a straight tube's end turns (3, 3) under unit moments, rad/Nm: St Venant twist by Bredt, bending by Bernoulli."""
    ways, wall = directions(corner), corner.walls[way]
    one, other = (corner.sizes[each] * ways[each] for each in range(3) if each != way)
    along = ways[way]
    one, other = (each - along * float(along @ each) for each in (one, other))
    second, area = np.zeros((3, 3)), float(np.linalg.norm(np.cross(one, other)))
    for side, away in ((one, other), (other, one)):
        long = float(np.linalg.norm(side))
        second += 2 * wall * long * (np.outer(away, away) / 4 + np.outer(side, side) / 12)
    round_ = 2 * (np.linalg.norm(one) + np.linalg.norm(other))
    turned = np.cross(along, np.eye(3))  # moments about an axis bend across it
    bending = turned @ np.linalg.pinv(turned @ turned.T @ second @ turned @ turned.T) @ turned.T
    twist = float(round_) * 2 * (1 + corner.nu) / (4 * area**2 * wall)
    return np.asarray(length / corner.e * (bending + twist * np.outer(along, along)), dtype=np.float64)


def corner_turns(corner: OpenCorner) -> Array:
    """Return what each tube's end at the corner turns (3, 3, 3) per unit moment on it, rad/Nm, in the corner's own axes.

    Beyond what straight tubes up to the middle give; the moments on all three balance. Never negative about any axis.
    """
    mesh = mesh_of(corner)
    felt = turns_felt(corner, mesh)
    first = (felt[:3, 3:] + felt[3:, :3]) / 2
    found = [first, felt[:3, :3] - first, felt[3:, 3:] - first]
    return np.stack([positive_part(each - straight_turns(corner, way, mesh.lengths[way])) for way, each in enumerate(found)])


def positive_part(turns: Array) -> Array:
    """Return the part of a flexibility that gives."""
    values, ways = np.linalg.eigh((turns + turns.T) / 2)
    return np.asarray((ways * np.maximum(values, 0.0)) @ ways.T, dtype=np.float64)
