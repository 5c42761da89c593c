"""One leg of a kink as flat walls on their middle lines, from the plane between both legs to a rigid plate. SI.

Axes: x the mean direction of both legs, y towards the inside of the turn, z square to the kink's plane; both legs' lines meet at the
origin; x = 0 is the plane between them. Corners of the section are sharp.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin, tan
from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.data import KinkLeg
from framecheck.frame.joint.panels import graded
from framecheck.frame.joint.shell_elements import Plates
from framecheck.model.arrays import Array, IntArray

HALF_WALL = 5  # elements over half a wall of a box; the one at the corner is about CORNER walls wide
CORNER = 4 / 3
ROUND = 40  # elements around a round tube
CLOSE = 4  # rows of elements one wall long beside the mitre (a bend: its last rows)
BEYOND = 16  # rows from there to the plate
BEND = 8  # rows over half a bend
SQUARED = 1.5  # sizes over which the rows turn from the mitre's plane into square ones


class LegMesh(NamedTuple):
    """places (n, 3), m; ring: (rows + 1, around) node numbers; corners, wall: of all elements, the leg's before the plate's.

    plates: the leg's elements, row by row, each (rows, around); share: (n_element,) of each that counts: half of what lies in the
    middle plane. along (rows,): how far each row's middle lies from the mitre, m.
    """

    places: Array
    ring: IntArray
    corners: IntArray
    plates: tuple[Plates, ...]
    share: Array
    along: Array


def length(corner: KinkLeg) -> float:
    """Return the length of leg that is kept, m: to where the outline is held, or has regained its shape."""
    return max(min(corner.reach, corner.room), 2 * corner.size + corner.radius * tan(corner.turn / 2))


def _sides(corner: KinkLeg) -> tuple[Array, Array]:
    """Return the grid lines (2 HALF_WALL + 1,) along a box's width and height, from one corner to the next, m."""
    found = []
    for side in (corner.width - corner.wall, corner.height - corner.wall):
        half = graded(0.0, side / 2, HALF_WALL, CORNER * corner.wall)
        found.append(np.concatenate((half, side - half[-2::-1])))
    return found[0], found[1]


def outline(corner: KinkLeg) -> Array:
    """Return the points (around, 2) of the section's middle line: left and up from its middle, all round to the left."""
    if corner.round:
        turns = np.arange(ROUND) * 2 * pi / ROUND
        return (corner.height - corner.wall) / 2 * np.stack((-np.sin(turns), np.cos(turns)), axis=1)
    wide, high = _sides(corner)
    left, top = wide[-1] / 2, high[-1] / 2
    upper = np.stack((left - wide, np.full(len(wide), top)), axis=1)[:-1]
    side = np.stack((np.full(len(high), -left), top - high), axis=1)[:-1]
    return np.concatenate((upper, side, -upper, -side))


def in_kink(corner: KinkLeg, points: Array) -> tuple[Array, Array]:
    """Return section points (n, 2) as distances towards the inside of the turn and square to the kink's plane."""
    left, up = points.T
    return left * sin(corner.tilt) + up * cos(corner.tilt), up * sin(corner.tilt) - left * cos(corner.tilt)


def axes(corner: KinkLeg) -> Array:
    """Return the leg's axes (3, 3) as rows: along it, square to it towards the inside of the turn, square to the kink's plane."""
    half = corner.turn / 2
    return np.array([[cos(half), sin(half), 0.0], [-sin(half), cos(half), 0.0], [0.0, 0.0, 1.0]])


def _lines(corner: KinkLeg) -> Array:
    """Return the places (rows + 1,) of the rows of nodes along a leg: from the mitre, or along the arc from its middle, m."""
    half, radius, wall = corner.turn / 2, corner.radius, corner.wall
    if radius == 0.0:
        return np.concatenate((np.arange(CLOSE) * wall, graded(CLOSE * wall, length(corner), BEYOND, wall)))
    close = np.linspace(0.0, max(radius * half, CLOSE * wall), BEND + 1)
    return np.concatenate((close, graded(close[-1], length(corner) - cut_off(corner), BEYOND, wall)[1:]))


def cut_off(corner: KinkLeg) -> float:
    """Return by how much a bend is shorter than its leg to the point, m."""
    return corner.radius * (tan(corner.turn / 2) - corner.turn / 2)


def _mitred(corner: KinkLeg, lines: Array, points: Array) -> Array:
    """Return the places (rows + 1, around, 3) of a mitred leg."""
    inward, square = in_kink(corner, points)
    slanted = 1 - np.clip((lines - CLOSE * corner.wall) / (SQUARED * corner.size), 0.0, 1.0)
    along = lines[:, None] + tan(corner.turn / 2) * slanted[:, None] * inward
    first, second, third = axes(corner)
    places: Array = along[..., None] * first + inward[:, None] * second + square[:, None] * third
    return places


def _bent(corner: KinkLeg, lines: Array, points: Array) -> Array:
    """Return the places of a bent leg: rows along the arc from its middle, then straight on."""
    half, radius = corner.turn / 2, corner.radius
    inward, square = in_kink(corner, points)
    turns = np.minimum(lines / radius, half)
    further = lines - radius * turns
    ways = np.stack((np.cos(turns), np.sin(turns), 0 * turns), axis=1)
    inside = np.stack((-np.sin(turns), np.cos(turns), 0 * turns), axis=1)
    middle = np.array([0.0, radius / cos(half), 0.0]) - radius * inside + further[:, None] * ways
    places: Array = middle[:, None] + inward[:, None] * inside[:, None] + square[:, None] * np.array([0.0, 0.0, 1.0])
    return places


def leg_of(corner: KinkLeg) -> LegMesh:
    """Return the mesh of a leg."""
    lines, points = _lines(corner), outline(corner)
    leg = _leg(corner, lines, (_bent if corner.radius > 0.0 else _mitred)(corner, lines, points))
    return leg if corner.plate == 0.0 else _with_plate(corner, leg)


def straight_quarter_of(corner: KinkLeg) -> LegMesh:
    """Return a quarter of a leg of a kink as if it ran straight to the point, without a plate, from the middle of its top to that of
    its right side; its rows are the kinked leg's.
    """
    lines = _lines(corner)
    lines[-1] += cut_off(corner)
    unbent = replace(corner, turn=0.0, tilt=0.0, radius=0.0, plate=0.0)
    first = 0 if corner.round else HALF_WALL
    points = outline(unbent)[first : first + (ROUND // 4 if corner.round else 2 * HALF_WALL) + 1]
    return _leg(unbent, lines, _mitred(unbent, lines, points), is_closed=False)


def _leg(corner: KinkLeg, lines: Array, rows: Array, is_closed: bool = True) -> LegMesh:
    """Return a leg without a plate, or an open strip along it; rows (rows + 1, around, 3): places."""
    ring = np.arange(rows.shape[0] * rows.shape[1]).reshape(rows.shape[:2])
    closed = np.concatenate((ring, ring[:, :1]), axis=1) if is_closed else ring
    near, beside = closed[:, :-1], closed[:, 1:]
    corners = np.stack((near[:-1], near[1:], beside[:-1], beside[1:]), axis=-1).reshape(-1, 4)
    places, share = rows.reshape(-1, 3), np.ones(len(corners))
    return LegMesh(places, ring, corners, (_plates(corner, places[corners], corner.wall),), share, (lines[1:] + lines[:-1]) / 2)


def _plates(corner: KinkLeg, corners: Array, wall: float) -> Plates:
    """Return elements with their corners (n, 4, 3) at these places, of one wall."""
    return Plates(corners, *(np.full(len(corners), each) for each in (wall, corner.e, corner.nu)))


def _plate_numbers(count: tuple[int, int], first: int) -> IntArray:
    """Return the node numbers (wide, high) of a plate's grid: the outline's own on its rim, new ones from `first` on within."""
    wide, high = count[0] - 1, count[1] - 1
    across, down = np.arange(wide + 1), np.arange(high + 1)
    numbers = np.empty(count, dtype=np.int64)
    numbers[1:-1, 1:-1] = first + np.arange((wide - 1) * (high - 1)).reshape(wide - 1, high - 1)
    numbers[0, :] = (2 * wide + 2 * high - down) % (2 * wide + 2 * high)
    numbers[across, 0], numbers[-1, :] = across, wide + down
    numbers[across, -1] = 2 * wide + high - across
    return numbers


def _with_plate(corner: KinkLeg, leg: LegMesh) -> LegMesh:
    """Return a leg with the plate in its mitre's plane, of which half is this leg's."""
    wide, high = _sides(corner)
    left, up = np.meshgrid(wide[-1] / 2 - wide[1:-1], high[-1] / 2 - high[1:-1], indexing="ij")
    inward, square = in_kink(corner, np.stack((left.ravel(), up.ravel()), axis=1))
    first, second, third = axes(corner)
    inner = inward[:, None] * (tan(corner.turn / 2) * first + second) + square[:, None] * third
    numbers = _plate_numbers((len(wide), len(high)), len(leg.places))
    corners = np.stack((numbers[:-1, :-1], numbers[1:, :-1], numbers[:-1, 1:], numbers[1:, 1:]), axis=-1).reshape(-1, 4)
    places = np.concatenate((leg.places, inner))
    plate = _plates(corner, places[corners], corner.plate)
    return leg._replace(
        places=places,
        corners=np.concatenate((leg.corners, corners)),
        plates=(*leg.plates, plate),
        share=np.concatenate((leg.share, np.full(len(corners), 0.5))),
    )
