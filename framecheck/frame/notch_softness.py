"""A notch is softer than its net section over its own length. How much: from a small shell model, less what beams say.

Use, where a member has a cut:
1. `softness = notch_softness(shape, cut, e, nu, room)`, the shape and the cut's side both in the section's own axes.
2. The stretch from `cut.at - cut.length / 2` to `cut.at + cut.length / 2` is ONE element with the stiffness of
   `softened(net, softness, cut.length)`, net being the net section's properties. Its axis is the softened section's
   centroid, its pole the softened section's shear centre, measured as the net section's are. The neighbours are whole
   sections right up to the cut's ends. Stress is still recovered with `net` (N moved to its centroid, T to its pole).
3. A tube: its net stretch is open, its neighbours closed. Each end of the stretch gets a warping spring to the ground of
   `softness.warping_stiffness` (N m3: bimoment per unit rate of twist; inf: held, 0: free).
4. A channel: warping is passed on at both ends of the stretch (`warping_stiffness` is 0), and the two sections differ there
   by `softness.step`: the net section's own freedoms are u - step[0] psi, upward turn - step[1] psi, sideways turn -
   step[2] psi (upward turn: -w', sideways: -v', psi: rate of twist, v and w of the shear centre). An engine that passes
   psi on and no more takes `without_step(softness)` instead: the same flexibility, the step's bimoment left out.

Nothing here is fitted (docs/theory/notch_softness.md).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import inf, sqrt

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.joint.outlines import NotchedStrips, in_one_piece, notched
from framecheck.frame.notch_beams import (
    Thin,
    acting_torsion,
    bending,
    eased,
    held_twist,
    inverse,
    net_section,
    restrained_twist,
    spring_for_twist,
    step,
    step_flexibility,
    whole_section,
)
from framecheck.frame.notch_shell import Half, added_flexibility, reach
from framecheck.model.arrays import Array
from framecheck.model.frame import Cut
from framecheck.model.shapes import Channel, RectTube
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class, value_class

Rows = tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]
STEP_MOST = 0.8
AS_MOMENTS = np.diag([1.0, 1.0, -1.0])  # (N, My, Mz) to (N, Mv, Ms): Ms = integral(sigma y dA) turns about -z


@value_class
class NotchSoftness:
    """What a notch adds to its net section over its own length. SI.

    extra_length: for words: how much longer the net section would have to be to bend as much vertically, m.
    warping_stiffness: at each end of the net stretch, N m3. bending: stretch and turns (upwards, sideways) of the whole
    notch per unit N, Mv, Ms about the net section's centroid, beyond beam theory. shear: added slip per unit Vy, Vz.
    pole_shift: of the shear centre (y, z). step: m2, m, m, see above. step_bending: like bending, what the step gives.
    torsion_share, warping_share: of the net section's torsion and warping constants that act: beside a channel's cut the
    walls' ends bear no bimoment yet, so it twists as if a little longer; and its walls are free to warp through their
    thickness.
    """

    extra_length: float
    warping_stiffness: float
    bending: Rows
    shear: tuple[float, float]
    pole_shift: tuple[float, float]
    step: tuple[float, float, float]
    step_bending: Rows
    torsion_share: float = 1.0
    warping_share: float = 1.0


ZERO: Rows = ((0.0,) * 3,) * 3
NONE = NotchSoftness(0.0, 0.0, ZERO, (0.0, 0.0), (0.0, 0.0), (0.0, 0.0, 0.0), ZERO)


def without_step(softness: NotchSoftness) -> NotchSoftness:
    """Return the same softness for beams that pass on no more than the rate of twist where the section changes."""
    both = np.array(softness.bending) + np.array(softness.step_bending)
    return replace(softness, bending=_rows(both), step=(0.0, 0.0, 0.0), step_bending=ZERO)


@array_class
class _Halves:
    """Half a notch: what the cut adds in its shell, the sections, half the cut's length and the place of the plate in m."""

    added: Half
    whole: Thin
    net: Thin
    half: float
    end: float
    e: float
    g: float
    closed: bool


def _halves(section: NotchedStrips, half: float, room: float, e: float, nu: float) -> _Halves:
    end = reach(section, half, room)
    added = added_flexibility(section, half, end, e, nu)
    return _Halves(
        added, whole_section(section), net_section(section), half, end, e, e / (2 * (1 + nu)), section.closed
    )


def _softness_of(notch: _Halves) -> Array:
    """Return the whole flexibility (3, 3) of half the notch's own length for N, Mv, Ms about the box's middle."""
    total: Array = AS_MOMENTS @ notch.added.even @ AS_MOMENTS + notch.half * bending(notch.whole, notch.e)
    return total


def _extra_bending(notch: _Halves) -> Array:
    """Return what of it the net section's own length does not explain."""
    extra: Array = _softness_of(notch) - notch.half * bending(notch.net, notch.e)
    return extra


def _of_step(notch: _Halves) -> tuple[float, Array]:
    """Return the share of the step that counts, and half the notch's flexibility (3, 3) that comes of it.

    Warping passed on across the ends must not make up more than STEP_MOST of the softness: over a cut much shorter than the
    section is deep, beam theory's step is too large.
    """
    lengths = notch.half, notch.end - notch.half
    full = step_flexibility(notch.net, notch.whole, lengths, notch.e, notch.g)
    taken = float(np.trace(inverse(_softness_of(notch)) @ full))
    square = min(1.0, STEP_MOST / taken) if taken > 0.0 else 1.0
    return sqrt(square), square * full


def _added_slip(notch: _Halves) -> Array:
    """Return half the notch's added movement (2,) per unit Vy, Vz that neither its bending nor beams' shear explain."""
    curvature = _softness_of(notch) / notch.half - bending(notch.whole, notch.e)
    bent = notch.half**3 / 3 * np.array([curvature[2, 2], curvature[1, 1]])
    sheared = notch.half / notch.g * (1 / np.array(notch.net.shear) - 1 / np.array(notch.whole.shear))
    slip: Array = np.diag(notch.added.odd)[:2] - bent - sheared
    return slip


def _of_tube(notch: _Halves) -> tuple[float, tuple[float, float], tuple[float, float]]:
    """Return warping spring, extra shear flexibility of half the notch and the shear centre's shift."""
    rigidity, warping, odd = notch.g * notch.net.j, notch.e * notch.net.warping, notch.added.odd
    twist = float(odd[2, 2]) + notch.half / (notch.g * notch.whole.j)
    spring = spring_for_twist(notch.half, rigidity, warping, twist)
    turn = restrained_twist(notch.half, rigidity, warping, spring)
    arm = odd[:2, 2] / turn
    slip = _added_slip(notch) - arm**2 * turn
    shift = -arm[1] - notch.net.pole[0], arm[0] - notch.net.pole[1]
    return spring, (float(slip[0]), float(slip[1])), (float(shift[0]), float(shift[1]))


def _at_centroid(flexibility: Array, section: Thin) -> Array:
    """Return the flexibility about the section's centroid: N there is N with moments about the box's middle."""
    move = np.eye(3)
    move[1:, 0] = section.rigid[1:3, 0] / section.rigid[0, 0]
    moved: Array = move.T @ flexibility @ move
    return moved


def _longer(extra: Array, notch: _Halves) -> float:
    loss = bending(notch.net, notch.e) - bending(notch.whole, notch.e)
    return 2 * float(extra[1, 1] / loss[1, 1])


def _rows(values: Array) -> Rows:
    a, b, c = (tuple(map(float, row)) for row in values)
    return (a[0], a[1], a[2]), (b[0], b[1], b[2]), (c[0], c[1], c[2])


def _tube_softness(notch: _Halves) -> NotchSoftness:
    extra = _extra_bending(notch)
    spring, slip, shift = _of_tube(notch)
    bent = _rows(2 * _at_centroid(extra, notch.net))
    return NotchSoftness(_longer(extra, notch), spring, bent, (2 * slip[0], 2 * slip[1]), shift, (0.0, 0.0, 0.0), ZERO)


def _channel_softness(own: _Halves) -> NotchSoftness:
    notch = replace(own, net=eased(own.net))
    share, stepped = _of_step(notch)
    extra, across = _extra_bending(notch) - stepped, share * step(notch.net, notch.whole)
    bent, of_step = (_rows(2 * _at_centroid(part, notch.net)) for part in (extra, stepped))
    return NotchSoftness(
        extra_length=_longer(extra, notch),
        warping_stiffness=0.0,
        bending=bent,
        shear=(0.0, 0.0),
        pole_shift=(0.0, 0.0),
        step=(float(across[0]), float(across[1]), float(across[2])),
        step_bending=of_step,
        torsion_share=_torsion_share(notch),
        warping_share=notch.net.warping / own.net.warping,
    )


def _torsion_share(notch: _Halves) -> float:
    twist = float(notch.added.odd[2, 2]) + held_twist(notch.whole, notch.end, notch.e, notch.g)
    return acting_torsion(notch.net, notch.whole, (notch.half, notch.end - notch.half), notch.e, notch.g, twist)


@cache
def _softness(shape: RectTube | Channel, cut: Cut, e: float, nu: float, room: float) -> NotchSoftness:
    section = notched(shape, cut.side, cut.depth)
    if not section.gone or cut.length <= 0.0:
        return NONE
    if not in_one_piece(section.left):
        raise UnsolvableError(f"a cut from the {cut.side.value} leaves the section in separate pieces")
    notch = _halves(section, cut.length / 2, room, e, nu)
    return _tube_softness(notch) if section.closed else _channel_softness(notch)


def notch_softness(
    shape: RectTube | Channel, cut: Cut, e: float = 200e9, nu: float = 0.3, room: float = inf
) -> NotchSoftness:
    """Return what the cut adds to its net section's flexibility.

    shape and the cut's side in the section's own axes; e in Pa; room: from the cut's middle to where the member's outline
    is held in shape (its nearer end, another cut), m.
    """
    return _softness(shape, replace(cut, name="", at=0.0, corner_radius=0.0), e, nu, room)


def _compliance(net: SectionProperties) -> Array:
    """Return the compliance (3, 3) per length for N, Mv, Ms about the centroid."""
    e = net.youngs_modulus
    moments = np.array([[net.i_vertical, net.i_product], [net.i_product, net.i_sideways]]) * e
    compliance = np.zeros((3, 3))
    compliance[0, 0], compliance[1:, 1:] = 1 / (e * net.area), inverse(moments)
    return compliance


def _softer_area(area: float, g: float, slip: float, length: float) -> float:
    """Return the shear area with the notch's slip in it; inf where the shell is no softer than bending alone."""
    flexibility = 1 / area + g * slip / length
    return 1 / flexibility if flexibility > 0.0 else inf


def softened(net: SectionProperties, softness: NotchSoftness, length: float) -> SectionProperties:
    """Return the net section's properties made as soft as the notch is, for stiffness only: no walls, no stress fields.

    length: the cut's, m. Its box and points keep their place: they are measured from the softened centroid.
    """
    rigid = inverse(_compliance(net) + np.array(softness.bending) / length) / net.youngs_modulus
    area, up, left = float(rigid[0, 0]), float(rigid[1, 0] / rigid[0, 0]), float(rigid[2, 0] / rigid[0, 0])
    pole = softness.pole_shift[0] - left, softness.pole_shift[1] - up
    return replace(
        net,
        area=area,
        centroid=(net.centroid[0] + left, net.centroid[1] + up),
        i_vertical=float(rigid[1, 1]) - area * up**2,
        i_sideways=float(rigid[2, 2]) - area * left**2,
        i_product=float(rigid[1, 2]) - area * up * left,
        torsion_constant=net.torsion_constant * softness.torsion_share,
        warping_constant=net.warping_constant * softness.warping_share,
        shear_centre=(net.shear_centre[0] + pole[0], net.shear_centre[1] + pole[1]),
        shear_area_sideways=_softer_area(net.shear_area_sideways, net.shear_modulus, softness.shear[0], length),
        shear_area_vertical=_softer_area(net.shear_area_vertical, net.shear_modulus, softness.shear[1], length),
        box=(net.box[0] - left, net.box[1] - left, net.box[2] - up, net.box[3] - up),
        fields=None,
        walls=(),
    )
