"""A small shell model of half a notch: from the cut's middle to a rigid plate in the whole section beyond. SI.

x from the cut's middle along the member, y left, z up, both from the middle of the section's box.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from framecheck.frame.joint.outlines import LEFT, SAME, UP, FlatStrip, NotchedStrips
from framecheck.frame.joint.panels import PanelMesh, WallPanel, graded, merged
from framecheck.frame.joint.shell import condensed, held_by_mirror, system
from framecheck.frame.notch_beams import inverse
from framecheck.model.arrays import Array, BoolArray, IntArray

# Whole section kept beyond the cut, in depths times sqrt(depth/wall): a tube's outline loses its shape over lengths that
# go so (a beam on the elastic ground of its own walls), and has regained it there: results change by 1 % from 0.9 to 1.1.
REACH = 1.0
ACROSS = 10  # elements across a wall
PART = 5  # elements across a part of a wall: beside a cut's floor, half a tube's cut wall
WITHIN = 10  # elements along half the cut
BEYOND = 14  # elements from the cut's end to the plate
ROW = 1000  # more than grid lines along the member: so far apart are the names of neighbouring lines across


class Half(NamedTuple):
    """The plate's flexibility, SI: even (3, 3) for loads along x, about y, z; odd (3, 3) along y, z, about x."""

    even: Array
    odd: Array


def size(section: NotchedStrips) -> float:
    """Return the longer side of the section's middle line in m."""
    points = [point for strip in section.whole for point in (strip.start, strip.end)]
    return float(max(np.ptp(np.array(points), axis=0)))


def reach(section: NotchedStrips, half: float, room: float) -> float:
    """Return the place of the plate in m from the cut's middle; room: to where the outline is held in shape, m."""
    depth = size(section)
    wanted = REACH * depth * float(np.sqrt(depth / section.whole[0].wall))
    return half + max(min(wanted, room - half), depth / 2)


def _along(section: NotchedStrips, half: float, end: float) -> tuple[Array, Array]:
    """Return the grid lines within the cut and beyond it, finer towards the cut's end."""
    step = size(section) / ACROSS / 2
    return graded(half, 0.0, WITHIN, step)[::-1], graded(half, end, BEYOND, step)


class _Lined(NamedTuple):
    """A strip with grid lines across its run: places (n,) along it, rising, in m; names (n,): a corner has one in both its strips."""

    strip: FlatStrip
    places: Array
    names: IntArray


def _counts(section: NotchedStrips) -> list[int]:
    """Return the number of elements across each strip: by what it is, never by its size, so that no size makes it jump."""
    found, last = [], len(section.whole) - 1
    for number, strip in enumerate(section.whole):
        beside = [section.whole[other] for other in (number - 1, number + 1) if 0 <= other <= last]
        in_part = any(other.along == strip.along for other in beside) or (section.closed and number in (0, last))
        found.append(PART if in_part else ACROSS)
    return found


def _lined(section: NotchedStrips) -> list[_Lined]:
    """Return the section's strips with their grid lines, named in the order of the wall's run; a closed run ends as it began."""
    counts = _counts(section)
    firsts, found = np.cumsum([0, *counts]).tolist(), []
    for strip, first, count in zip(section.whole, firsts, counts, strict=False):
        a, b = strip.start[strip.along - 1], strip.end[strip.along - 1]
        places, names = np.linspace(a, b, count + 1), first + np.arange(count + 1)
        names = names % firsts[-1] if section.closed else names
        found.append(_Lined(strip, places, names) if b > a else _Lined(strip, places[::-1], names[::-1]))
    return found


def _panel(lined: _Lined, x: tuple[Array, IntArray], made: tuple[float, float]) -> WallPanel:
    """Return a strip over grid lines along the member: their places and names; made: Young's modulus in Pa, Poisson's ratio."""
    strip, other = lined.strip, LEFT + UP - lined.strip.along
    names = x[1][:, None] + ROW * lined.names
    return WallPanel(other, strip.start[other - 1], x[0], lined.places, strip.wall, *made, names)


def half_meshes(section: NotchedStrips, half: float, end: float, e: float, nu: float) -> tuple[PanelMesh, PanelMesh]:
    """Return the shell models from the cut's middle to the plate, as it is and as if uncut; half: half the cut's length."""
    inside, beyond = _along(section, half, end)
    whole = np.r_[inside, beyond[1:]]
    names, made = np.arange(len(whole)), (e, nu)
    lined = list(zip(_lined(section), section.taken, strict=True))
    past = beyond, names[len(inside) - 1 :]
    kept = [_panel(each, (whole, names), made) for each, taken in lined if not taken]
    cut, uncut = ([_panel(each, x, made) for each, taken in lined if taken] for x in (past, (whole, names)))
    return merged(kept + cut), merged(kept + uncut)


def _plate_modes(nodes: Array) -> Array:
    """Return the freedoms (6 n, 6) that move with the plate's six about the member's reference line."""
    plate = nodes[:, 0] > nodes[:, 0].max() - SAME
    y, z = nodes[plate, 1], nodes[plate, 2]
    moves = np.tile(np.eye(6), (len(y), 1, 1))
    moves[:, 0, 4], moves[:, 0, 5], moves[:, 1, 3], moves[:, 2, 3] = z, -y, -z, y
    modes = np.zeros((len(nodes), 6, 6))
    modes[plate] = moves
    return modes.reshape(-1, 6)


def _held(nodes: Array, even: int) -> BoolArray:
    """Return which freedoms (6 n,) the mirror at the cut's middle and the plate hold."""
    held = np.zeros((len(nodes), 6), dtype=bool)
    held[np.ix_(nodes[:, 0] < SAME, np.isin(range(6), held_by_mirror(0, even)))] = True
    held[nodes[:, 0] > nodes[:, 0].max() - SAME] = True
    return held.ravel()


def _flexibility(mesh: PanelMesh) -> Half:
    """Return how the plate moves under loads on it about the reference line, the cut's middle being a mirror.

    even: (u, turn about y, turn about z) under (N, My, Mz). odd: (v, w, twist) under (Vy, Vz, T), the plate kept upright.
    """
    model = system(mesh)
    modes = _plate_modes(model.nodes)
    even = inverse(condensed(model, modes[:, [0, 4, 5]], _held(model.nodes, 1)))
    odd = inverse(condensed(model, modes[:, 1:4], _held(model.nodes, -1)))
    return Half(even, odd)


def added_flexibility(section: NotchedStrips, half: float, end: float, e: float, nu: float) -> Half:
    """Return by how much the cut makes the half softer: never negative, and what mesh and plate do is in neither.

    even: (u, turn about y, turn about z) under (N, My, Mz). odd: (v, w, twist) under (Vy, Vz, T).
    """
    cut, uncut = (_flexibility(mesh) for mesh in half_meshes(section, half, end, e, nu))
    return Half(cut.even - uncut.even, cut.odd - uncut.odd)
