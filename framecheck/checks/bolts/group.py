"""Bolt groups: how the load of a joint is shared among equal bolts (elastic method), and how a flange that bends levers them up
(prying).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

import numpy as np

from framecheck.checks.joint_forces import Pattern, pattern
from framecheck.frame.geometry import cross
from framecheck.model.arrays import Array, frozen
from framecheck.model.joints import Bolt, BoltGroup, JointLoad, Ply, PlyKind, Prying
from framecheck.value_class import array_class, value_class

SMALL = 1e-9


@array_class
class BoltForces:
    """Force on each bolt, N: shear (n, 3) in the plane; tension (n,), never below 0.

    twist: moment in the plane about the bolts' middle, Nm; twist_left, bending_left: the parts of the moment that the group can't
    carry (a single bolt, a single row), Nm.
    """

    shear: Array
    tension: Array
    twist: float
    twist_left: float
    bending_left: float


def shear_forces(group: Pattern, forces: Array, moments: Array) -> tuple[Array, Array]:
    """Return the in-plane force on each bolt (k, n, 3), N, and the twisting moment it can't carry (k,), Nm.

    V / n plus M r / sum(r2), added as vectors. AISC Steel Construction Manual, part 7, elastic method. forces, moments (k, 3): about
    the centroid.
    """
    normal, count = group.facing, len(group.positions)
    direct = ((forces - (forces @ normal)[:, None] * normal) / count)[:, None]
    polar, twist = float(np.sum(group.positions**2)), moments @ normal
    if polar < SMALL**2:
        return np.repeat(direct, count, axis=1), twist
    return direct + (twist / polar)[:, None, None] * cross(normal, group.positions), 0.0 * twist


def tension_about_centroid(group: Pattern, pulls: Array, moments: Array) -> tuple[Array, Array]:
    """Return each bolt's force along the normal (k, n), N, and the bending moment the group can't carry (k,), Nm.

    N / n plus M y / sum(y2) about the centroid, in both directions at once (statics of a rigid plate on equal springs).
    The compressed side stays at its force below zero here. A pushing load (pull < 0) is borne by the plate, not the
    bolts.
    """
    levers = cross(group.positions, group.facing)
    bending = moments - (moments @ group.facing)[:, None] * group.facing
    turn, *_ = np.linalg.lstsq(levers.T @ levers, bending.T, rcond=1e-12)
    forces = (levers @ turn).T
    return np.maximum(pulls, 0.0)[:, None] / len(levers) + forces, np.linalg.norm(bending - forces @ levers, axis=1)


def tension_about_contact(group: Pattern, pulls: Array, moments: Array, corners: Array, area: float) -> Array:
    """Return each bolt's tension (k, n), N, when the plate presses on its face by elastic contact: N / n + M A (y - x) / I.

    The face presses over a depth x from its edge, as stiff for its area as the bolts are for theirs (both grip the same metal), and
    takes no pull: b x2 / 2 = A sum(y - x), I = b x3 / 3 + A sum((y - x)2), as in a cracked section (statics, elastic). The pressure's
    middle lies x / 3 from the edge: a plate never turns about its very edge. corners (4, 3): of the contact face, from the
    centroid, m; area: of a bolt, m2. The two directions of bending are added, which is unfavourable.
    """
    total = np.repeat(np.maximum(pulls, 0.0)[:, None] / len(group.positions), len(group.positions), axis=1)
    for axis in group.axes[:2]:
        parts, breadth = moments @ axis, float(np.ptp(corners @ axis))
        for sign in (1.0, -1.0):
            turned, way = np.flatnonzero(sign * parts > 0.0), sign * cross(group.facing, axis)
            if len(turned):
                lever = group.positions @ way - float(np.min(corners @ way))
                total[turned] += np.abs(parts[turned])[:, None] * pulls_per_moment(lever, breadth, area)
    return np.asarray(total, dtype=np.float64)


def pulls_per_moment(lever: Array, breadth: float, area: float) -> Array:
    """Return each bolt's tension (n,) for a moment of one, 1/m.

    lever (n,): from the pressed edge, breadth: of the face, m; area: of a bolt, m2.
    """
    depth = pressed_depth(lever, breadth, area)
    beyond = np.maximum(lever - depth, 0.0)
    inertia = breadth * depth**3 / 3 + area * float(np.sum(beyond**2))
    return np.asarray(area * beyond / inertia) if inertia > 0 else np.full(len(lever), np.inf)


def pressed_depth(lever: Array, breadth: float, area: float) -> float:
    """Return how deep a face presses, m: the root x of b x2 / 2 = A sum(max(y - x, 0)), bolts in order of their lever y."""
    outward = np.sort(lever)
    for number in range(len(outward)):
        count, total = len(outward) - number, float(outward[number:].sum())
        depth = (sqrt((area * count) ** 2 + 2 * breadth * area * max(total, 0.0)) - area * count) / breadth
        if depth <= outward[number]:
            return depth
    return float(max(outward[-1], 0.0))


UNDER_A_HEAD = 0.75
"""Of a bolt's diameter: half the width of a hexagon head, under which parts press on one another whatever they look like."""


def contact_corners(joint: BoltGroup, group: Pattern) -> Array:
    """Return the corners of the contact face from the centroid, (4, 3), m.

    A face that is not said ends under the outermost heads: a plate that reaches farther pulls less at its bolts.
    """
    around = np.array(joint.positions)
    reach = UNDER_A_HEAD * joint.bolt.thread.diameter
    (left, low), (right, high) = around.min(axis=0) - reach, around.max(axis=0) + reach
    if joint.contact is not None:
        left, right, low, high = joint.contact
    flat = np.array([(left, low), (left, high), (right, low), (right, high)])
    return np.asarray(joint.plane.origin) + flat @ group.axes[:2] - group.centroid


def bolt_forces(joint: BoltGroup, load: JointLoad) -> BoltForces:
    """Return the force on every bolt; where both ways to reckon tension apply, the larger for each bolt."""
    return all_bolt_forces(joint, (load,))[0]


def all_bolt_forces(joint: BoltGroup, loads: Sequence[JointLoad]) -> tuple[BoltForces, ...]:
    """Return the force on every bolt, load by load."""
    group = pattern(joint.plane, joint.positions)
    forces, moments = np.array([each.force for each in loads]).reshape(-1, 3), np.array([each.moment for each in loads]).reshape(-1, 3)
    moments = moments - cross(group.centroid, forces)
    shear, twist_left = shear_forces(group, forces, moments)
    pulls, twist = forces @ group.facing, np.abs(moments @ group.facing)
    tension, bending_left = tension_about_centroid(group, pulls, moments)
    pressed = tension_about_contact(group, pulls, moments, contact_corners(joint, group), joint.bolt.thread.stress_area)
    tension = np.maximum(np.maximum(tension, pressed), 0.0)
    bending_left = bending_left if joint.contact is None else 0.0 * bending_left
    by_load = zip(frozen(shear), frozen(tension), twist.tolist(), twist_left.tolist(), bending_left.tolist(), strict=True)
    return tuple(BoltForces(*each) for each in by_load)


SOURCE = "AISC Steel Construction Manual, part 9 (W. A. Thornton, Engineering Journal 1985), nominal strengths"


@value_class
class PryingTerms:
    """offset b', edge a', m; ratio rho = b' / a'; net share delta of the flange at the bolt line."""

    offset: float
    ratio: float
    net_share: float


def prying_terms(diameter: float, hole: float, plate: Prying) -> PryingTerms:
    """Return b', rho and delta. AISC Manual, part 9: b' = b - d/2, a' = min(a, 1.25 b) + d/2, delta = 1 - d'/p."""
    offset = max(plate.offset - diameter / 2, 0.0)
    edge = min(plate.edge, 1.25 * plate.offset) + diameter / 2
    return PryingTerms(offset, offset / edge, 1.0 - hole / plate.pitch)


def thickness_without_prying(tension: float, offset: float, pitch: float, ultimate: float) -> float:
    """Return the flange thickness that makes prying vanish at a bolt tension, m: tc = sqrt(4 T b' / (p Fu)).

    AISC Manual, part 9, with nominal strength (its 4.44 and 6.66 hold 4 / 0.90 and 4 x 1.67).
    """
    return sqrt(4 * tension * offset / (pitch * ultimate))


def share_of_bolt(thickness: float, thickness_at_full: float, terms: PryingTerms) -> float:
    """Return Q: the share of the bolt's tension strength that is left for the load. AISC Manual, part 9."""
    if thickness_at_full == 0.0:
        return 1.0
    square = (thickness / thickness_at_full) ** 2
    bending = (1 / square - 1) / (terms.net_share * (1 + terms.ratio))
    return min(1.0, square * (1 + terms.net_share * min(max(bending, 0.0), 1.0)))


def tension_with_prying(bolt: Bolt, strength: float, plate: Prying) -> float:
    """Return the load per bolt, N, at which bolt or flange gives way; strength: of the bolt alone, N."""
    terms = prying_terms(bolt.thread.diameter, bolt.hole, plate)
    full = thickness_without_prying(strength, terms.offset, plate.pitch, plate.material.ultimate_strength)
    return strength * share_of_bolt(plate.thickness, full, terms)


TAKEN = "what pulls is taken to run in the middle between two lines of bolts"
BY_MEMBER = "by the plates' own size and the member that pulls"


def taken_prying(group: BoltGroup, ply: Ply, offset: float | None = None) -> Prying | None:
    """Return the prying of a ply by its own size. offset: from the bolts to what pulls, m; None: it runs between two lines of bolts.

    Each of two halves of the bolts has an even share of the ply's length, at most twice the offset (AISC Manual, part 9). None: a
    tube's wall, a ply whose edge is not known, or a single line of bolts: where it is pulled from is not known.
    """
    spreads = sorted(max(ways) - min(ways) for ways in zip(*group.positions, strict=True))
    away = spreads[0] / 2 if offset is None else offset
    if ply.kind is not PlyKind.PLATE or ply.edge is None or away <= 0.0:
        return None
    length = (spreads[1] + 2 * ply.edge) / max(len(group.positions) / 2, 1.0)
    pitch = max(min(length, 2 * away), 1.05 * group.bolt.hole)
    return Prying(away, ply.edge, pitch, ply.thickness, ply.material)
