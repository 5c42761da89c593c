"""A frame made ready for the search of its buckling: how its pieces, with shapes within them, hang on its unknowns. SI."""

from __future__ import annotations

import numpy as np

from framecheck.frame.afloat import rigid_moves
from framecheck.frame.bubbles import LONG, SHORT, TINY, Bends, Shapes, bends_of, twist_flexibility, unit_shapes
from framecheck.frame.element import END
from framecheck.frame.fields import Answer
from framecheck.frame.freedoms import NONE
from framecheck.frame.geometric import gauss_stations, strain_rows
from framecheck.frame.stations import Stations
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

SHORT_SHARE, TINY_SHARE = 0.1, 0.02
"""Pieces below these shares of the frame's extent are small parts of any wave: fewer shapes err by less than 1e-6 of it."""


@array_class
class Part:
    """Pieces with equally many shapes. maps (m, 2 END, d): unknowns `at` (m, d), the last for none, to the ends' movements.

    inner: where its shapes stand among all unknowns. twist: inverse stiffness of its twist shapes. rows, line: see strain_rows.
    """

    pieces: IntArray
    maps: Array
    at: IntArray
    inner: slice
    shapes: Shapes
    bends: Bends
    twist: Array
    stations: Stations
    rows: Array
    line: Array

    def shaped(self, whole: Array) -> Array:
        """Return what belongs to the shapes (m, 3 s, j) of movements or forces (N, j)."""
        return whole[self.inner].reshape(len(self.pieces), self.shapes.count, -1)

    def sizes(self) -> Array:
        """Return the root of each shape's own stiffness, in the order of `inner`."""
        twist = np.diagonal(self.twist, axis1=1, axis2=2) ** -0.5
        bent = np.ones((len(twist), self.shapes.count - twist.shape[1]))
        return np.asarray(np.concatenate((bent, twist), axis=1).ravel())


@array_class
class Hold:
    """What keeps a frame that hangs on nothing: free (N, 6): its free movements; measure (6, N): their means; one undoes the other."""

    free: Array
    measure: Array

    def off_movements(self, moved: Array) -> Array:
        """Return movements (N, j) less their mean free movement."""
        rest: Array = moved - self.free @ (self.measure @ moved)
        return rest

    def off_forces(self, forces: Array) -> Array:
        """Return forces (N, j) in balance with the inertia they set off."""
        rest: Array = forces - self.measure.T @ (self.free.T @ forces)
        return rest


def parts_of(structure: Structure, answer: Answer) -> tuple[Part, ...]:
    """Return the long pieces, the short ones and the tiny ones."""
    extent = float(np.linalg.norm(np.ptp(structure.pieces.places, axis=0)))
    share = structure.beams.length / extent
    tiny, short = share < TINY_SHARE, share < SHORT_SHARE
    maps, at = maps_of(structure)
    parts: list[Part] = []
    first = structure.freedoms.count
    for chosen, rule in ((~short, LONG), (short & ~tiny, SHORT), (tiny, TINY)):
        which = np.flatnonzero(chosen)
        if not len(which):
            continue
        shapes = unit_shapes(rule)
        bends, twist = bends_of(structure.beams, which, shapes), twist_flexibility(structure.beams, which, shapes)
        stations = gauss_stations(structure.beams, which, shapes)
        rows, line = strain_rows(answer, stations, shapes, bends)
        inner = slice(first, first + shapes.count * len(which))
        parts.append(Part(which, maps[which], at[which], inner, shapes, bends, twist, stations, rows, line))
        first = inner.stop
    return tuple(parts)


def maps_of(structure: Structure) -> tuple[Array, IntArray]:
    """Return (n, 2 END, d): unknowns to movements of the pieces' ends, and which unknowns (n, d), the last for none."""
    n, count = structure.pieces.count, structure.freedoms.count
    width = max(group.freedoms.shape[1] for group in structure.freedoms.groups)
    maps, at = np.zeros((n, 2 * END, width)), np.full((n, width), count, dtype=np.int64)
    for group in structure.freedoms.groups:
        used = group.freedoms.shape[1]
        at[group.pieces, :used] = np.where(group.freedoms == NONE, count, group.freedoms)
        maps[group.pieces, :, :used] = group.ends.reshape(len(group.pieces), 2 * END, used)
    return maps, at


def hold_of(structure: Structure, parts: tuple[Part, ...]) -> Hold:
    """Return the whole's free movements and the means over its own mass that measure them."""
    nodes, count = structure.pieces.places, structure.freedoms.count
    middle = nodes.mean(axis=0)
    measure = np.zeros((6, parts[-1].inner.stop))
    summed = np.zeros((count + 1, 6))
    for part in parts:
        weighed = _weighed_moves(structure, part, middle)
        np.add.at(summed, part.at, (weighed[:, :, : 2 * END] @ part.maps).transpose(0, 2, 1))
        measure[:, part.inner] = weighed[:, :, 2 * END :].transpose(1, 0, 2).reshape(6, -1)
    measure[:, :count] = summed[:-1].T
    free = np.zeros((measure.shape[1], 6))
    turned = np.tile(np.eye(6)[3:], (len(nodes), 1, 1))
    free[: 6 * len(nodes)] = np.concatenate((rigid_moves(nodes - middle), turned), axis=1).reshape(-1, 6)
    return Hold(free @ np.linalg.inv(measure @ free), measure)


def _weighed_moves(structure: Structure, part: Part, middle: Array) -> Array:
    """Return (m, 6, own): the integral of each free movement times the pieces' own movements, by mass."""
    beams, stations = structure.beams, part.stations
    places = beams.ends[stations.piece, 0] + stations.at[:, None] * beams.axes[stations.piece, 0]
    weight = stations.weight * (beams.mass if beams.mass.any() else np.ones_like(beams.mass))[stations.piece]
    moves = (rigid_moves(places - middle) * weight[:, None, None]).reshape(*part.line.shape[:2], 3, 6)
    local = beams.axes[part.pieces][:, None] @ moves
    m, g, _, own = part.line.shape
    weighed: Array = local.reshape(m, g * 3, 6).transpose(0, 2, 1) @ part.line.reshape(m, g * 3, own)
    return weighed
