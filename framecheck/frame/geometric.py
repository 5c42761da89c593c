"""Geometric stiffness of pieces: what the forces in them do when the frame moves sideways. SI; forces as in fields.py.

Second variation of the energy of a thin-walled beam whose sections turn as stiff discs, all turns counted to the second order, so
that moments turn with the members (semitangential) and members that meet at an angle stay together (J. H. Argyris et al., Comput.
Methods Appl. Mech. Eng. 20, 1979; Y.-B. Yang, S.-R. Kuo, Theory and Analysis of Nonlinear Framed Structures, 1994; from memory). With
v, w, f the movements and the twist of the shear centre (y, z from the centroid), V is half the integral of

    N (v'2 + w'2 + r2 f'2 + 2 z v'f' - 2 y w'f') + Mv (f v'' - f'v') - Vz f v' - Ms (f w'' - f'w') + Vy f w' + T (v''w' - w''v')

r2: polar radius about the shear centre squared; to N r2 Wagner's integrals of both moments are added (section/wagner.py). Left out:
Wagner's term of the bimoment, loads above or below the shear centre within a piece, and the arms of mounts.
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.bubbles import Bends, Shapes
from framecheck.frame.element import END, Beams, deformation_stiffness, deformations
from framecheck.frame.fields import Answer, Fields, forces_at, unloaded
from framecheck.frame.stations import Stations
from framecheck.model.arrays import Array, IntArray

SLOPE_V, SLOPE_W, TWIST, RATE, CURVE_V, CURVE_W = range(6)


def gauss_stations(beams: Beams, which: IntArray, shapes: Shapes) -> Stations:
    """Return the Gauss points of some pieces as stations."""
    length = beams.length[which, None]
    at = (length * shapes.place).ravel()
    return Stations(np.repeat(which, len(shapes.place)), at, at, (length * shapes.weight).ravel())


def strain_rows(answer: Answer, stations: Stations, shapes: Shapes, bends: Bends) -> tuple[Array, Array]:
    """Return (m, g, 6, own): slopes v', w', twist, its rate, curves of v, w; and (m, g, 3, own): movements along x, y, z.

    own: a piece's own movements, seven at its start, seven at its end, then its shapes.
    """
    beams, g = answer.beams, len(shapes.place)
    n, unit = len(beams.length), np.eye(2 * END)
    ends = np.broadcast_to(unit, (n, 2 * END, 2 * END))
    made = deformation_stiffness(beams) @ deformations(beams.length, ends[:, :END], ends[:, END:])
    fields = unloaded(Answer(beams, answer.loads, made.transpose(1, 0, 2), ends[:, :END].transpose(1, 0, 2)), stations)
    rows = rows_of_fields(beams, stations, fields).reshape(6, -1, g, 2 * END)
    line = fields.moves[:3].reshape(3, -1, g, 2 * END).transpose(1, 2, 0, 3)
    own, swayed = _shape_rows(beams, stations.piece[::g], shapes, bends)
    return np.concatenate((rows.transpose(1, 2, 0, 3), own), axis=3), np.concatenate((line, swayed), axis=3)


def rows_of_fields(beams: Beams, stations: Stations, fields: Fields) -> Array:
    """Return (6, m, k) at stations: slopes v', w', twist, its rate, curves of v, w."""
    piece, forces, moves = stations.piece, fields.forces, fields.moves
    sheared = np.einsum("mij,jmk->imk", beams.slip[piece], forces[1:3])
    curves = -np.einsum("mij,jmk->imk", beams.flexibility[piece], forces[4:6])
    rate = (forces[3] - forces[7]) / beams.twist[piece, None]
    return np.concatenate((moves[4:6] + sheared, moves[3:4], rate[None], curves))


def _shape_rows(beams: Beams, which: IntArray, shapes: Shapes, bends: Bends) -> tuple[Array, Array]:
    """Return the same rows of the shapes within: (m, g, 6, 3 s) and (m, g, 3, 3 s)."""
    length, warps = beams.length[which, None, None], beams.warps[which, None, None]
    m, g, r, p = len(which), len(shapes.place), bends.moved.shape[3], bends.turned.shape[2]
    rows, line = np.zeros((m, g, 6, shapes.count)), np.zeros((m, g, 3, shapes.count))
    for way, slope, curve in ((0, SLOPE_V, CURVE_V), (1, SLOPE_W, CURVE_W)):
        rows[:, :, slope, :r] = shapes.slope @ bends.moved[:, way] / length
        rows[:, :, curve, :r] = shapes.slope[:, :p] @ bends.turned[:, way] / length
        line[:, :, 1 + way, :r] = shapes.value @ bends.moved[:, way]
    rows[:, :, TWIST, r:] = np.where(warps, shapes.twisted, shapes.turned)
    rows[:, :, RATE, r:] = np.where(warps, shapes.twisted_rate, shapes.turned_rate) / length
    return rows, line


def form_at(beams: Beams, wagner: Array, piece: IntArray, forces: Array) -> Array:
    """Return the symmetric form (m, k, 6, 6) of the rows at stations under forces (8, m, k); wagner (n, 2): see wagner_of."""
    pull, shear_y, shear_z, torque, sideways, vertical = forces[:6]
    y, z = (beams.pole - beams.centroid)[piece].T[..., None]
    radius = polar_radius_squared(beams)[piece, None]
    form = np.zeros((*pull.shape, 6, 6))
    form[..., SLOPE_V, SLOPE_V] = form[..., SLOPE_W, SLOPE_W] = pull
    form[..., RATE, RATE] = pull * radius + np.sum(wagner[piece].T[..., None] * forces[4:6], axis=0)
    for first, second, value in (
        (SLOPE_V, RATE, pull * z - vertical / 2),
        (SLOPE_W, RATE, -pull * y + sideways / 2),
        (TWIST, CURVE_V, vertical / 2),
        (TWIST, CURVE_W, -sideways / 2),
        (TWIST, SLOPE_V, -shear_z / 2),
        (TWIST, SLOPE_W, shear_y / 2),
        (CURVE_V, SLOPE_W, torque / 2),
        (CURVE_W, SLOPE_V, -torque / 2),
    ):
        form[..., first, second] = form[..., second, first] = value
    return form


def wagner_of(beams: Beams, own: Array) -> Array:
    """Return Wagner's integrals (n, 2) per unit Ms and Mv in the members' axes, m; own (n, 2): per Ms and Mv in the sections' own."""
    turned: Array = (beams.turn @ own[..., None])[..., 0]
    return turned


def polar_radius_squared(beams: Beams) -> Array:
    """Return r2 (n,) about the shear centre, m2: (Iv + Is) / A + y2 + z2."""
    offset = beams.pole - beams.centroid
    own: Array = (beams.bending[:, 0, 0] + beams.bending[:, 1, 1]) / beams.stretch + np.sum(offset**2, axis=1)
    return own


def weighed_forms(answer: Answer, wagner: Array, stations: Stations, pieces: int) -> Array:
    """Return the forms (m, g, 6, 6, k) of the rows at the Gauss points of so many pieces, each times its weight."""
    form = form_at(answer.beams, wagner, stations.piece, forces_at(answer, stations))
    weighed = np.ascontiguousarray(form.transpose(0, 2, 3, 1)) * stations.weight[:, None, None, None]
    return weighed.reshape(pieces, -1, *weighed.shape[1:])


def times_geometric(rows: Array, forms: Array, moved: Array) -> Array:
    """Return the geometric stiffness of pieces times their own movements (m, own, k), point by point: it is never put together.

    rows (m, g, 6, own) of strain_rows, forms (m, g, 6, 6, k) of weighed_forms.
    """
    m, g, _, own = rows.shape
    flat = rows.reshape(m, g * 6, own)
    strains = (flat @ moved).reshape(m, g, 6, -1)
    pulled = np.einsum("mgijk,mgjk->mgik", forms, strains).reshape(m, g * 6, -1)
    felt: Array = flat.transpose(0, 2, 1) @ pulled
    return felt


def end_forces(answer: Answer) -> Array:
    """Return N, Vy, Vz (2, n, k, 3) at both ends, as what the nodes do to the piece: minus the section's at its start."""
    n = len(answer.beams.length)
    found = []
    for end, sign in ((0.0, -1.0), (1.0, 1.0)):
        at = end * answer.beams.length
        found.append(sign * forces_at(answer, Stations(np.arange(n), at, at if end else at - 1.0, 0 * at))[:3])
    return np.stack(found).transpose(0, 2, 3, 1)


def turning_form(force: Array, arm: Array) -> Array:
    """Return (..., 3, 3): twice the work that a force does on the end of an arm as it turns, to the second order, per turns squared.

    F . (t x (t x a)) = (F . t)(t . a) - (F . a)(t . t).
    """
    both = force[..., :, None] * arm[..., None, :]
    along = np.sum(force * arm, axis=-1)[..., None, None]
    form: Array = (both + np.swapaxes(both, -1, -2)) / 2 - along * np.eye(3)
    return form


def offset_forms(beams: Beams, pushes: Array) -> Array:
    """Return (2, n, k, 3, 3) on twist, v' and w' of the ends: pull swings about the reference line with the centroid, shear with the
    shear centre; pushes (2, n, k, 3): end_forces.
    """
    total = np.zeros((*pushes.shape, 3))
    for offset, ways in ((beams.centroid, (1.0, 0.0, 0.0)), (beams.pole, (0.0, 1.0, 1.0))):
        if offset.any():
            arm = np.concatenate((0 * offset[:, :1], offset), axis=1)[:, None]
            total += _as_slopes(turning_form(pushes * np.array(ways), arm))
    return total


def _as_slopes(form: Array) -> Array:
    """Return a form of turns about x, y, z as one of twist, v' and w': the turn about y is -w', that about z is v'."""
    turned = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]])  # rows: turns about x, y, z
    changed: Array = turned.T @ form @ turned
    return changed


def arm_forms(beams: Beams, pushes: Array, arms: Array) -> Array:
    """Return (2, n, k, 3, 3) on the turns of the nodes, vehicle axes: what the ends' forces do on the arms (n, 2, 3) to them."""
    vehicle = pushes @ beams.axes
    return turning_form(vehicle, arms.transpose(1, 0, 2)[:, :, None])
