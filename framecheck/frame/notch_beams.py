"""What beam theory says of half a notch: whole and net section end to end, to be taken off, so nothing counts twice. SI.

Generalised stress (N, Mv, Ms) about the middle of the section's box; strain (stretch, curvatures) to match.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cosh, inf, sinh, sqrt, tanh

import numpy as np

from framecheck.frame.joint.beams import section_of
from framecheck.frame.joint.data import tube_outline
from framecheck.frame.joint.outlines import FlatStrip, NotchedStrips
from framecheck.model.arrays import Array
from framecheck.value_class import array_class

GAUSS = np.array([-sqrt(3 / 5), 0.0, sqrt(3 / 5)]) / 2 + 0.5
LEAST_ACROSS = 1e-3  # of the walls' warping through the thickness: enough to pass the rate of twist on
LEAST_SHARE = 0.4  # of the torsion constant; shells ask for 0.5 to 1
WEIGHTS = np.array([5.0, 8.0, 5.0]) / 18


@array_class
class Thin:
    """A thin-walled section. rigid (4, 4): integral of r r^T dA, r = (1, z, y, omega), omega about the box's middle.

    shear: shear areas (sideways, vertical); pole: shear centre (y, z) from the box's middle; warping: about that pole, of
    it `across` through the thickness of the walls.
    """

    rigid: Array
    j: float
    shear: tuple[float, float]
    pole: tuple[float, float]
    warping: float
    across: float = 0.0


def _lengths(strips: Sequence[FlatStrip]) -> Array:
    return np.array([np.hypot(s.end[0] - s.start[0], s.end[1] - s.start[1]) for s in strips])


def _growth(strips: Sequence[FlatStrip]) -> Array:
    """Return how much omega grows along each strip; omega' = y z' - z y'."""
    ends = np.array([(s.start, s.end) for s in strips])
    grow: Array = ends[:, 0, 0] * ends[:, 1, 1] - ends[:, 0, 1] * ends[:, 1, 0]
    return grow


def _rows(strips: Sequence[FlatStrip], origin: float = 0.0) -> Array:
    """Return (n, 2, 4): 1, z, y, omega at both ends of each strip of a chain; origin: omega at its start."""
    ends, grow = np.array([(s.start, s.end) for s in strips]), _growth(strips)
    rows = np.ones((len(strips), 2, 4))
    rows[:, :, 1], rows[:, :, 2] = ends[:, :, 1], ends[:, :, 0]
    rows[:, 1, 3] = origin + np.cumsum(grow)
    rows[:, 0, 3] = rows[:, 1, 3] - grow
    return rows


def _rigid(strips: Sequence[FlatStrip], origin: float) -> Array:
    """Return the integral (4, 4) of r r^T dA; r is linear along a strip."""
    rows, area = _rows(strips, origin), _lengths(strips) * np.array([s.wall for s in strips])
    both = np.sum(rows, axis=1)
    total: Array = (both.T * (area / 6)) @ both + sum((rows[:, end].T * (area / 6)) @ rows[:, end] for end in (0, 1))
    return total


def _shear_areas(strips: Sequence[FlatStrip], rigid: Array) -> tuple[float, float]:
    """Return the shear areas (sideways, vertical) of an open chain: 1/A_s = integral of q^2/t ds under unit force.

    q: the first moment so far of the stress that the moment's growth makes; handbook shear flow of thin walls.
    """
    rows, wall, length = _rows(strips)[:, :, :3], np.array([s.wall for s in strips]), _lengths(strips)
    areas = []
    for moment in (2, 1):
        growth = np.linalg.solve(rigid[:3, :3], np.eye(3)[moment])
        first, last = (rows @ growth).T
        done = np.cumsum(wall * length * (first + last) / 2) - wall * length * (first + last) / 2
        flow = done + wall * length * (GAUSS[:, None] * first + GAUSS[:, None] ** 2 * (last - first) / 2)
        areas.append(float(1 / np.sum(WEIGHTS[:, None] * flow**2 * length / wall)))
    return areas[0], areas[1]


def open_section(strips: Sequence[FlatStrip], origin: float = 0.0) -> Thin:
    """Return the properties of an open chain of strips: Vlasov's sectorial coordinate, J = sum of b t^3/3."""
    rigid = _rigid(strips, origin)
    link = np.linalg.solve(rigid[:3, :3], rigid[:3, 3])
    j = float(np.sum(_lengths(strips) * np.array([s.wall for s in strips]) ** 3) / 3)
    pole = float(link[1]), -float(link[2])
    across = _across_walls(strips, pole)
    warping = max(float(rigid[3, 3] - rigid[3, :3] @ link), 0.0) + across
    return Thin(rigid, j, _shear_areas(strips, rigid), pole, warping, across)


def eased(net: Thin) -> Thin:
    """Return a net section whose walls may warp through their thickness as they like: at the step they all but do.

    Held there as the whole section's walls are, an angle would hardly twist; in truth each wall adjusts within a
    few of its thicknesses.
    """
    return replace(net, warping=net.warping - (1 - LEAST_ACROSS) * net.across, across=LEAST_ACROSS * net.across)


def _across_walls(strips: Sequence[FlatStrip], pole: tuple[float, float]) -> float:
    """Return the warping constant of warping through the walls' thickness: sum of t^3/12 x integral of s^2 ds, m6.

    s: along the wall from the pole's foot on it (thin-wall handbooks, secondary warping). All that an angle or a T has.
    """
    ends = np.array([(s.start, s.end) for s in strips]) - np.array(pole)
    along = (ends[:, 1] - ends[:, 0]) / _lengths(strips)[:, None]
    reach = np.einsum("nei,ni->ne", ends, along)
    wall = np.array([s.wall for s in strips])
    return float(np.sum(wall**3 * (reach[:, 1] ** 3 - reach[:, 0] ** 3)) / 36)


def closed_section(strips: Sequence[FlatStrip]) -> Thin:
    """Return a rectangular tube's properties from its walls; it does not warp."""
    points = np.array([point for strip in strips for point in (strip.start, strip.end)])
    width, height = np.ptp(points, axis=0)
    found = section_of(tube_outline(float(width), float(height), strips[0].wall))
    rigid = np.diag([found.area, found.bent[0, 0], found.bent[1, 1], 0.0])
    return Thin(rigid, found.j, found.shear, (0.0, 0.0), 0.0)


def whole_section(section: NotchedStrips) -> Thin:
    """Return the properties of the section beside the cut."""
    return closed_section(section.whole) if section.closed else open_section(section.whole)


def net_section(section: NotchedStrips) -> Thin:
    """Return the properties of what the cut leaves, omega counted from where the whole section's is."""
    before = section.whole[: section.taken.index(False)]
    return open_section(section.left, float(np.sum(_growth(before))) if before else 0.0)


def inverse(matrix: Array) -> Array:
    """Return the inverse, as plain 64-bit numbers."""
    return np.asarray(np.linalg.inv(matrix), dtype=np.float64)


def bending(section: Thin, e: float) -> Array:
    """Return the compliance (3, 3) per length: stretch and curvatures per unit N, Mv, Ms."""
    return inverse(e * section.rigid[:3, :3])


def _pole_link(section: Thin) -> Array:
    """Return (3,): bimoment about the box's middle per unit N, Mv, Ms where nothing warps."""
    return inverse(section.rigid[:3, :3]) @ section.rigid[:3, 3]


def _warping_grip(section: Thin, length: float, e: float, g: float) -> float:
    """Return the bimoment per rate of twist, N m3, at the end of a stretch that keeps from warping at its other end.

    E I_w k coth(k L), k^2 = GJ / E I_w (Vlasov).
    """
    rigidity, warping = g * section.j, e * section.warping
    return sqrt(rigidity * warping) / tanh(length * sqrt(rigidity / warping)) if warping > 0.0 else 0.0


def step(net: Thin, whole: Thin) -> Array:
    """Return (3,): stretch and turns of the net section against the whole one per unit rate of twist at their joint.

    Both warp alike on the walls they share, so what differs is linear in z and y: from the two poles, and where each
    counts omega from (Vlasov; both omegas about one pole and one origin). m2, m, m, about the box's middle.
    """
    return _pole_link(net) - _pole_link(whole)


def step_flexibility(net: Thin, whole: Thin, lengths: tuple[float, float], e: float, g: float) -> Array:
    """Return the flexibility (3, 3) for N, Mv, Ms that the step gives two open stretches of those lengths (net, whole).

    Both ends away from the step keep from warping; bimoment and rate of twist are the same on both sides of it.
    """
    grip = _warping_grip(net, lengths[0], e, g) + _warping_grip(whole, lengths[1], e, g)
    flexibility: Array = np.outer(step(net, whole), step(net, whole)) / grip
    return flexibility


def restrained_twist(half: float, rigidity: float, warping: float, spring: float) -> float:
    """Return the twist per torque of half an open stretch of that half length, m.

    rigidity: G J; warping: E I_w; spring: N m3, holds warping at the stretch's end. Non-uniform torsion (Vlasov):
    rate = (1 - a cosh kx) T/GJ, from EI_w rate' = -spring rate at the end: a = s/(s cosh + EI_w k sinh).
    """
    if warping <= 0.0 or spring == 0.0:
        return half / rigidity
    k = sqrt(rigidity / warping)
    grip = 1 / cosh(k * half) if spring == inf else spring / (spring * cosh(k * half) + warping * k * sinh(k * half))
    return (half - grip * sinh(k * half) / k) / rigidity


def spring_for_twist(half: float, rigidity: float, warping: float, twist: float) -> float:
    """Return the warping spring, N m3, that gives the half stretch this twist per torque: restrained_twist turned round.

    0 where it twists as if free to warp or more, inf where as if held or less.
    """
    if warping <= 0.0:
        return 0.0
    k = sqrt(rigidity / warping)
    grip = (half - rigidity * twist) * k / sinh(k * half)
    if grip <= 0.0:
        return 0.0
    slack = 1 - grip * cosh(k * half)
    return grip * warping * k * sinh(k * half) / slack if slack > 0.0 else inf


def held_twist(section: Thin, length: float, e: float, g: float) -> float:
    """Return the twist per torque of an open length, free to warp at one end, held at the other: (L - tanh(kL)/k)/GJ (Vlasov)."""
    k = sqrt(g * section.j / (e * section.warping))
    return (length - tanh(k * length) / k) / (g * section.j)


def passed_on_twist(net: Thin, whole: Thin, lengths: tuple[float, float], e: float, g: float, share: float) -> float:
    """Return the twist per torque of half an open notch of those lengths (net, whole): warping held at the whole's end.

    share: of the net section's torsion constant that acts. Vlasov: rates T/GJ + C cosh(kx) and T/GJ (1 - cosh ks) + D sinh ks,
    s from the held end; the rate and the bimoment E I_w rate' go on from one to the other.
    """
    a, b = lengths
    loose, held = 1 / (share * g * net.j), 1 / (g * whole.j)
    warps = e * net.warping, e * whole.warping
    p, q = sqrt(1 / (loose * warps[0])), sqrt(1 / (held * warps[1]))
    grip_net, grip_whole = warps[0] * p * tanh(p * a), warps[1] * q / tanh(q * b)
    # the whole's end with rate r bears bimoment grip_whole (r - r0); r0 is its rate where it bears none
    r0 = held * (1 - 1 / cosh(q * b))
    rate = (grip_net * loose + grip_whole * r0) / (grip_net + grip_whole)
    inside = loose * a + (rate - loose) * tanh(p * a) / p
    beyond = held * (b - tanh(q * b) / q) + (rate - r0) * tanh(q * b / 2) / q
    return inside + beyond


def acting_torsion(net: Thin, whole: Thin, lengths: tuple[float, float], e: float, g: float, twist: float) -> float:
    """Return the share of the net section's torsion constant with which half an open notch twists so: passed_on_twist
    turned round (more share, less twist); between LEAST_SHARE and 1."""
    low, high = LEAST_SHARE, 1.0
    for _ in range(60):
        middle = sqrt(low * high)
        low, high = (middle, high) if passed_on_twist(net, whole, lengths, e, g, middle) > twist else (low, middle)
    return high
