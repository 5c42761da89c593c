"""Geometric stiffness of pieces, and a frame made ready for the search of its buckling. SI.

Second variation of the energy of a thin-walled beam whose sections turn as stiff discs, all turns counted to the second order, so
that moments turn with the members (semitangential) and members that meet at an angle stay together (J. H. Argyris et al., Comput.
Methods Appl. Mech. Eng. 20, 1979; Y.-B. Yang, S.-R. Kuo, Theory and Analysis of Nonlinear Framed Structures, 1994; from memory). With
v, w, f the movements and the twist of the shear centre (y, z from the centroid), V is half the integral of

    N (v'2 + w'2 + r2 f'2 + 2 z v'f' - 2 y w'f') + Mv (f v'' - f'v') - Vz f v' - Ms (f w'' - f'w') + Vy f w' + T (v''w' - w''v')

r2: polar radius about the shear centre squared; to N r2 Wagner's integrals of both moments are added (section/plastic.py). Left out:
Wagner's term of the bimoment, loads above or below the shear centre within a piece, and the arms of mounts.
"""

from __future__ import annotations

import numpy as np

from framecheck.frame.element import END, Beams, deformation_stiffness, deformations
from framecheck.frame.fields import Fields, SolvedPieces, forces_at, unloaded
from framecheck.frame.freedoms import NONE
from framecheck.frame.stations import Stations
from framecheck.frame.structure import Structure
from framecheck.frame.summing import Summing, summing_at
from framecheck.frame.supports import rigid_moves
from framecheck.frame.within_piece import LONG, SHORT, TINY, Bends, Shapes, bends_of, twist_flexibility, unit_shapes
from framecheck.model.arrays import Array, IntArray
from framecheck.value_class import array_class

SLOPE_V, SLOPE_W, TWIST, RATE, CURVE_V, CURVE_W = range(6)


def gauss_stations(beams: Beams, which: IntArray, shapes: Shapes) -> Stations:
    """Return the Gauss points of some pieces as stations."""
    length = beams.length[which, None]
    at = (length * shapes.place).ravel()
    return Stations(np.repeat(which, len(shapes.place)), at, at, (length * shapes.weight).ravel())


def strain_rows(answer: SolvedPieces, stations: Stations, shapes: Shapes, bends: Bends) -> tuple[Array, Array]:
    """Return (m, g, 6, own): slopes v', w', twist, its rate, curves of v, w; and (m, g, 3, own): movements along x, y, z.

    own: a piece's own movements, seven at its start, seven at its end, then its shapes.
    """
    beams, g = answer.beams, len(shapes.place)
    n, unit = len(beams.length), np.eye(2 * END)
    ends = np.broadcast_to(unit, (n, 2 * END, 2 * END))
    made = deformation_stiffness(beams) @ deformations(beams.length, ends[:, :END], ends[:, END:])
    fields = unloaded(SolvedPieces(beams, answer.loads, made.transpose(1, 0, 2), ends[:, :END].transpose(1, 0, 2)), stations)
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


def weighed_forms(answer: SolvedPieces, wagner: Array, stations: Stations, pieces: int) -> Array:
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


def end_forces(answer: SolvedPieces) -> Array:
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


SHORT_SHARE, TINY_SHARE = 0.1, 0.02
"""Pieces below these shares of the frame's extent are small parts of any wave: fewer shapes err by less than 1e-6 of it."""


@array_class
class EqualPieces:
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
    summing: Summing

    def shaped(self, whole: Array) -> Array:
        """Return what belongs to the shapes (m, 3 s, j) of movements or forces (N, j)."""
        return whole[self.inner].reshape(len(self.pieces), self.shapes.count, -1)

    def sizes(self) -> Array:
        """Return the root of each shape's own stiffness, in the order of `inner`."""
        twist = np.diagonal(self.twist, axis1=1, axis2=2) ** -0.5
        bent = np.ones((len(twist), self.shapes.count - twist.shape[1]))
        return np.asarray(np.concatenate((bent, twist), axis=1).ravel())


@array_class
class FreeMovements:
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


def parts_of(structure: Structure, answer: SolvedPieces) -> tuple[EqualPieces, ...]:
    """Return the long pieces, the short ones and the tiny ones."""
    extent = float(np.linalg.norm(np.ptp(structure.pieces.places, axis=0)))
    share = structure.beams.length / extent
    tiny, short = share < TINY_SHARE, share < SHORT_SHARE
    maps, at = maps_of(structure)
    parts: list[EqualPieces] = []
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
        of = (which, maps[which], at[which], inner, shapes, bends, twist, stations, rows, line)
        parts.append(EqualPieces(*of, summing_at(at[which])))
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


def hold_of(structure: Structure, parts: tuple[EqualPieces, ...]) -> FreeMovements:
    """Return the whole's free movements and the means over its own mass that measure them."""
    nodes, count = structure.pieces.places, structure.freedoms.count
    middle = nodes.mean(axis=0)
    measure = np.zeros((6, parts[-1].inner.stop))
    summed = np.zeros((count + 1, 6))
    for part in parts:
        weighed = _weighed_moves(structure, part, middle)
        part.summing.add(summed, (weighed[:, :, : 2 * END] @ part.maps).transpose(0, 2, 1))
        measure[:, part.inner] = weighed[:, :, 2 * END :].transpose(1, 0, 2).reshape(6, -1)
    measure[:, :count] = summed[:-1].T
    free = np.zeros((measure.shape[1], 6))
    turned = np.tile(np.eye(6)[3:], (len(nodes), 1, 1))
    free[: 6 * len(nodes)] = np.concatenate((rigid_moves(nodes - middle), turned), axis=1).reshape(-1, 6)
    return FreeMovements(free @ np.linalg.inv(measure @ free), measure)


def _weighed_moves(structure: Structure, part: EqualPieces, middle: Array) -> Array:
    """Return (m, 6, own): the integral of each free movement times the pieces' own movements, by mass."""
    beams, stations = structure.beams, part.stations
    places = beams.ends[stations.piece, 0] + stations.at[:, None] * beams.axes[stations.piece, 0]
    weight = stations.weight * (beams.mass if beams.mass.any() else np.ones_like(beams.mass))[stations.piece]
    moves = (rigid_moves(places - middle) * weight[:, None, None]).reshape(*part.line.shape[:2], 3, 6)
    local = beams.axes[part.pieces][:, None] @ moves
    m, g, _, own = part.line.shape
    weighed: Array = local.reshape(m, g * 3, 6).transpose(0, 2, 1) @ part.line.reshape(m, g * 3, own)
    return weighed
