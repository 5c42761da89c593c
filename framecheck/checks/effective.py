"""What is left of a section where its walls buckle: strips taken out of the walls, and the stress on the rest."""

from __future__ import annotations

from functools import cache, lru_cache

import numpy as np

from framecheck.checks.formulas.plate_buckling import (
    STEEPEST,
    class_free,
    class_internal,
    critical_stress,
    epsilon_of,
    factor_free_root,
    factor_free_tip,
    factor_internal,
    share_left_free,
    share_left_internal,
)
from framecheck.checks.member_stress import bending_plane, wall_end_stress, wall_ends
from framecheck.model.arrays import Array, BoolArray, IntArray, distinct, frozen
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.surface_stress import AT_ONCE, narrowed
from framecheck.value_class import array_class


@array_class
class WallState:
    """How each wall stands under each row of forces. Arrays (..., n_wall).

    psi: less over more compressed edge; compressed: stress at the more compressed edge, Pa, + = compression; starts: True where
    that edge is the wall's start; share_left: of the compressed width that is effective; classes: 0 without compression.
    thinned: the share is one of the thickness, all along the compressed width (EN 1999-1-1:2007, 6.1.5).
    """

    psi: Array
    compressed: Array
    starts: BoolArray
    share_left: Array
    classes: Array
    thinned: bool = False


@array_class
class Span:
    """How each wall is stressed from edge to edge, arrays (..., n_wall): psi, compressed, starts as in WallState."""

    psi: Array
    compressed: Array
    starts: BoolArray


@array_class
class Effective:
    """The effective section under each row of forces. Arrays (...,): area, m2; centroid (..., 2) y, z from the gross one, m;
    inertia (..., 3): vertical, sideways, product about the new centroid, m4.
    """

    area: Array
    centroid: Array
    inertia: Array


def thicknesses(section: SectionProperties) -> Array:
    """Return the thickness of each wall, (n_wall,), m."""
    return np.array([wall.thickness for wall in section.walls], dtype=np.float64)


def widths(section: SectionProperties) -> Array:
    """Return the flat width of each wall, (n_wall,), m."""
    return np.array([wall.width for wall in section.walls], dtype=np.float64)


def ratios(section: SectionProperties) -> Array:
    """Return the flat width over the thickness of each wall, (n_wall,)."""
    return widths(section) / thicknesses(section)


def edge_stress(section: SectionProperties, forces: Array) -> Span:
    """Return how forces (..., 9) stress every wall at its two edges."""
    ends = wall_end_stress(section, forces)
    first, second = -ends[..., 0], -ends[..., 1]
    starts, more, less = first >= second, np.maximum(first, second), np.minimum(first, second)
    psi = np.clip(np.where(more > 0, less / np.where(more > 0, more, 1.0), 1.0), STEEPEST, 1.0)
    return Span(psi, more, starts)


def walls_free(section: SectionProperties, starts: BoolArray) -> tuple[BoolArray, BoolArray, BoolArray]:
    """Return which walls have a free edge and which have two, (n_wall,), and where a free edge is the more compressed one."""
    free = np.array([wall.free_start or wall.free_end for wall in section.walls], dtype=bool)
    bare = np.array([wall.free_start and wall.free_end for wall in section.walls], dtype=bool)
    tip = np.where(np.array([wall.free_start for wall in section.walls], dtype=bool), starts, ~starts)
    return free, bare, tip


def wall_state(section: SectionProperties, forces: Array, level: float | None = None) -> WallState:
    """Return the state of every wall under forces (..., 9). EN 1993-1-5:2006, 4.4.

    level: the stress at which slenderness is taken, Pa; None: yield.
    """
    span = edge_stress(section, forces)
    psi, more, starts = span.psi, span.compressed, span.starts
    free, bare, tip = walls_free(section, starts)
    ratio, pinned, strength = ratios(section), pinned_edge(section), section.wall_strengths
    factor, any_free = factor_internal(psi), bool(free.any())
    if any_free:
        outer = np.where(tip, factor_free_tip(psi), factor_free_root(psi)) + pinned
        factor = np.where(free, np.minimum(outer, np.where(pinned > 0, np.maximum(factor, outer - pinned), np.inf)), factor)
    poisson = section.youngs_modulus / (2 * section.shear_modulus) - 1
    modulus, epsilon = section.youngs_modulus * section.wall_moduli, epsilon_of(strength)
    slenderness = np.sqrt((level or strength) / critical_stress(modulus, poisson, ratio, factor))
    left, ranked = share_left_internal(slenderness, psi), class_internal(ratio, psi, epsilon)
    if any_free:
        unheld = share_left_free(slenderness)
        left = np.where(free, np.where(pinned > 0, np.minimum(left, unheld), unheld), left)
        ranked = np.where(free, class_free(ratio, psi, factor, tip, epsilon), ranked)
    sound = (more <= 0) | bare
    return WallState(psi, more, starts, np.where(sound, 1.0, left), np.where(sound, 0.0, ranked))


def pinned_edge(section: SectionProperties) -> Array:
    """Return what stitches or bolts along a free edge add to its buckling factor, (n_wall,): (b / clear length)2.

    S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, 2nd ed., article 9.5, from memory: a plate simply supported on three
    sides, k = 0.456 + (b / a)2 for a length a; the edge is taken as free between two stitches (unfavourable).
    """
    gaps = np.array([max(wall.tip_gap, 1e-9) for wall in section.walls], dtype=np.float64)
    return np.asarray((widths(section) / gaps) ** 2, dtype=np.float64)


def lost_strips(section: SectionProperties, state: WallState) -> tuple[Array, Array]:
    """Return the strips that carry nothing: (offset from the most compressed edge, length), each (..., n_wall), m.

    EN 1993-1-5:2006, tables 4.1 and 4.2: held walls keep 2 / (5 - psi) (or 0.4, where part is in tension) of the effective width
    at that edge; a free tip goes first; a wall most compressed at its root keeps the root.
    """
    width, psi, left = widths(section), state.psi, state.share_left
    compressed = width / (1 - np.minimum(psi, 0.0))
    if state.thinned:
        return np.zeros_like(compressed), compressed
    free_start = np.array([wall.free_start for wall in section.walls], dtype=bool)
    free_end = np.array([wall.free_end for wall in section.walls], dtype=bool)
    tip = np.where(state.starts, free_start, free_end)
    at_edge = np.where(psi < 0, 0.4, 2 / (5 - np.maximum(psi, 0.0))) * left * compressed
    offset = np.where(free_start | free_end, np.where(tip, 0.0, left * compressed), at_edge)
    return offset, compressed * (1 - left)


def effective(section: SectionProperties, state: WallState) -> Effective:
    """Return the gross section less the lost strips, by the parallel-axis theorem."""
    gross = np.array([section.i_vertical, section.i_sideways, section.i_product])
    if not (state.share_left < 1.0).any():
        rows = state.share_left.shape[:-1]
        return Effective(np.full(rows, section.area), np.zeros((*rows, 2)), np.broadcast_to(gross, (*rows, 3)))
    offset, length = lost_strips(section, state)
    ends, thick = wall_ends(section.walls), thicknesses(section)
    span = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    direction = (ends[:, 1] - ends[:, 0]) / span[:, None]
    spare = _spare(section, span)
    from_start = np.where(state.starts, spare[:, 0] + offset + length / 2, span - spare[:, 1] - offset - length / 2)
    middle = ends[:, 0] + from_start[..., None] * direction
    lost = length * thick * section.wall_moduli * (1 - state.share_left if state.thinned else 1.0)
    area = section.area - lost.sum(axis=-1)
    centroid = -np.sum(lost[..., None] * middle, axis=-2) / area[..., None]
    own = lost * length**2 / 12
    taken = [
        np.sum(lost * middle[..., i] * middle[..., j] + own * direction[:, i] * direction[:, j], axis=-1)
        for i, j in ((1, 1), (0, 0), (0, 1))
    ]
    moved = [centroid[..., i] * centroid[..., j] for i, j in ((1, 1), (0, 0), (0, 1))]
    inertia = gross - np.stack(taken, axis=-1) - area[..., None] * np.stack(moved, axis=-1)
    return Effective(area, centroid, inertia)


def _spare(section: SectionProperties, span: Array) -> Array:
    """Return what lies between a wall's flat part and its drawn ends, (n_wall, 2), m: shared, or all at the held edge."""
    left_over = np.maximum(span - widths(section), 0.0)
    free = np.array([(wall.free_start, wall.free_end) for wall in section.walls], dtype=bool).reshape(-1, 2)
    share = np.where(np.any(free, axis=1, keepdims=True), ~free, 0.5)
    return np.asarray(left_over[:, None] * share, dtype=np.float64)


@lru_cache(maxsize=256)
def extreme_points(fields: UnitFields) -> IntArray:
    """Return the extreme points of each metal of a section, by number."""
    if fields.metal is None:
        return extremes_of(fields)
    points = [np.flatnonzero(fields.metal == metal) for metal in distinct(fields.metal).tolist()]
    return np.concatenate([on[extremes_of(narrowed(fields, on))] for on in points])


def extremes_of(fields: UnitFields) -> IntArray:
    """Return the surface points, by number, one of which is strained most by any pull, bending and bimoment together.

    Normal stress is straight in y, z and the warping field, so its extremes lie on the hull of those three: the points that lie
    furthest in each of many directions, which miss by less than 0.1 % round a bend.
    """
    place = np.column_stack((fields.points, fields.normal[:, 3]))
    size = np.ptp(place, axis=0)
    place = place / np.where(size > 0, size, 1.0)
    return distinct(np.concatenate([np.argmax(each @ place.T, axis=1) for each in directions()]))


@cache
def directions() -> Array:
    """Return many directions in three dimensions, (15, 128, 3), of unit length; read-only."""
    turn, lift = np.meshgrid(np.linspace(0, 2 * np.pi, 128, endpoint=False), np.linspace(-1.4, 1.4, 15))
    return frozen(np.stack((np.cos(turn) * np.cos(lift), np.sin(turn) * np.cos(lift), np.sin(lift)), axis=-1))


def effective_normal(fields: UnitFields, forces: Array, left: Effective, moduli: Array | None = None) -> Array:
    """Return the normal stress on the effective section at every point of its surface, (..., n), Pa; forces (..., 9).

    moduli (n_metal,): of each metal over the section's; None: one metal.
    N stays on the gross centroid and so bends the effective section: EN 1993-1-1:2005, 6.2.9.3 (Delta M = N e).
    """
    amounts, each = stress_product(fields, forces, left, np.arange(len(fields.points)), moduli)
    return np.asarray(amounts @ each, dtype=np.float64)


def stress_product(
    fields: UnitFields, forces: Array, left: Effective, at: IntArray, moduli: Array | None = None
) -> tuple[Array, Array]:
    """Return the two factors of `effective_normal` at points, by number: amounts (..., 4) by row of forces, and the stress of each
    (4, n_at).
    """
    points, warping = fields.points[at], fields.normal[at, 3]
    young = np.ones(len(at)) if moduli is None or fields.metal is None else moduli[fields.metal[at]]
    axial = forces[..., 0]
    moments = forces[..., 4] - axial * left.centroid[..., 1], forces[..., 5] - axial * left.centroid[..., 0]
    up, side = bending_plane(left.inertia[..., 0], left.inertia[..., 1], left.inertia[..., 2], moments)
    middle = axial / left.area - up * left.centroid[..., 1] - side * left.centroid[..., 0]
    amounts = np.stack((middle, side, up, forces[..., 6]), axis=-1)
    return amounts, np.stack((young, points[:, 0] * young, points[:, 1] * young, warping))


def most_used(section: SectionProperties, forces: Array, left: Effective) -> tuple[Array, Array]:
    """Return the (normal stress, yield strength) at the point of the effective section that uses most of it, each (...,), Pa."""
    assert section.fields is not None
    moduli = np.array([each.young for each in section.metals])
    extreme = extreme_points(section.fields)
    amounts, each = stress_product(section.fields, forces, left, extreme, moduli)
    strengths = section.point_strengths[extreme]
    rows, together = amounts.reshape(-1, 4), max(1, AT_ONCE // len(strengths))
    worst, place = np.zeros(len(rows)), np.zeros(len(rows), dtype=np.int64)
    for first in range(0, len(rows), together):
        normal, piece = np.abs(rows[first : first + together] @ each), slice(first, first + together)
        place[piece] = np.argmax(normal / strengths, axis=-1)
        worst[piece] = normal[np.arange(len(normal)), place[piece]]
    return worst.reshape(amounts.shape[:-1]), strengths[place].reshape(amounts.shape[:-1])


def can_buckle(section: SectionProperties) -> bool:
    """Return whether enough is known of a section to check its walls."""
    return bool(section.walls) and section.fields is not None


def worst_wall(state: WallState) -> IntArray:
    """Return the wall with the highest class, then the most compression, (...,)."""
    rank = state.classes + state.compressed / (1 + np.abs(state.compressed).max(initial=1.0))
    return np.asarray(np.argmax(rank, axis=-1), dtype=np.int64)
