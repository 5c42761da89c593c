"""Unit stress fields of mid-line theory, at both faces of every wall."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.section.midline_theory import MidlineResults, bending_fields
from framecheck.section.midline_walls import LinearField, WallGraph, coordinate
from framecheck.section.properties import UnitFields
from framecheck.value_class import array_class

STATIONS = (0.0, 0.5, 1.0)
"""Where stress is given along a straight wall; half-way only along a piece of a bend."""


@array_class
class MidlineFields:
    """Unit fields of every variant, laid out as UnitFields with leading axes (...): points (..., n, 2), normal (..., n, 4),
    shear (..., n, 2, 4)."""

    points: Array
    normal: Array
    shear: Array


@array_class
class Places:
    """Surface points: which wall, where along it (0 to 1), on which face (+1 or -1 along the wall's normal). Each (n,)."""

    wall: IntArray
    along: Array
    face: Array


def places(graph: WallGraph) -> Places:
    """Return the surface points of a graph: three along each straight, one along each piece of a bend, both faces; no links."""
    rows = [
        (wall, along, face)
        for wall in np.flatnonzero(graph.solid.reshape(-1, len(graph.ends))[0] > 0.0)
        for along in ((0.5,) if graph.bend[wall] else STATIONS)
        for face in (1.0, -1.0)
    ]
    wall, along, face = (np.array(column) for column in zip(*rows, strict=True))
    return Places(wall.astype(np.int64), along, face)


def midline_fields(m: MidlineResults) -> MidlineFields:
    """Return stress at surface points per unit force, for every variant."""
    at = places(m.graph)
    y, z = coordinate(m.lines, 0), coordinate(m.lines, 1)
    per_ms, per_mv = bending_fields(y, z, m.inertias)
    offset = 0.5 * at.face * _at(m.lines.thickness, at)
    points = np.stack([_face_value(each, at, offset) for each in (y, z)], axis=-1)
    bimoment = _face_value(m.twist.omega, at, offset) / _divisor(m.twist.warping_constant)
    stretch = np.broadcast_to(1.0 / m.area[..., None], bimoment.shape)
    normal = np.stack([stretch, _face_value(per_mv, at, offset), _face_value(per_ms, at, offset), bimoment], axis=-1)
    if m.graph.young is not None:
        normal = normal * _at(m.graph.young, at)[..., None]
    return MidlineFields(points, normal, _shear(m, at, offset))


def _divisor(values: Array) -> Array:
    """Return (..., 1) to divide by, infinite in place of zero."""
    return np.asarray(np.where(values > 0.0, values, np.inf)[..., None])


def _at(values: Array, at: Places) -> Array:
    """Return the wall's value at every place, (..., n)."""
    return np.take(values, at.wall, axis=-1)


def _face_value(field: LinearField, at: Places, offset: Array) -> Array:
    """Return a field on the faces, (..., n); offset: signed distance from the mid-line."""
    s = at.along
    middle = _at(field.start, at) * (1.0 - s) + _at(field.stop, at) * s
    across = _at(field.across_start, at) * (1.0 - s) + _at(field.across_stop, at) * s
    return np.asarray(middle + offset * across)


def _shear(m: MidlineResults, at: Places, offset: Array) -> Array:
    """Return shear along y and z per unit Vy, Vz, T, Tw, (..., n, 2, 4).

    Each flow over the thickness, alike on both faces; twist: T/J (flow over thickness x (1 - curvature x offset) + 2 offset),
    exact in a straight narrow wall and in a round tube.
    """
    s, thickness = at.along, _at(m.lines.thickness, at)
    weights = np.stack([(1 - s) * (1 - 2 * s), 4 * s * (1 - s), s * (2 * s - 1)])
    vy, vz, warping = (
        (weights[0] * _at(f.start, at) + weights[1] * _at(f.middle, at) + weights[2] * _at(f.stop, at)) / thickness
        for f in m.flows
    )
    cell = _at(m.twist.flow, at) * (1.0 - _at(m.graph.curvature, at) * offset)
    across = offset if m.graph.rigid is None else offset * _at(m.graph.rigid, at)
    twist = (cell + 2.0 * across) / m.twist.torsion_constant[..., None]
    vy, vz = vy - twist * m.lever[..., 1, None], vz + twist * m.lever[..., 0, None]
    along = np.stack([_at(m.lines.ey, at), _at(m.lines.ez, at)], axis=-1)
    return np.asarray(along[..., None] * np.stack([vy, vz, twist, warping], axis=-1)[..., None, :])


def unit_fields(m: MidlineResults, metal: IntArray | None = None) -> UnitFields:
    """Return the fields of a single section. No point is marked sharp: this theory has no peak at a corner.

    metal (n_walls,): the number of each wall's metal; None: one metal.
    """
    found = midline_fields(m)
    sharp = np.zeros(len(found.points), dtype=np.bool_)
    sharp.flags.writeable = False
    of_metal = None if metal is None else metal[places(m.graph).wall]
    return UnitFields(frozen(found.points), frozen(found.normal), frozen(found.shear), sharp, of_metal)
