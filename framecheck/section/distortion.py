"""Distortional buckling of bent sheets with lips or brims: the elastic force at which a lip and its flange turn about their corner.

Generalised beam theory of an open, unbranched mid-line (R. Schardt, Verallgemeinerte Technische Biegetheorie, 1989; from memory):
no wall stretches across the member or shears in its plane, so that the warping of the corners tells all movement; the walls bend as
a frame across the member. Over a half wave of length a, k = pi / a, the stiffness is k4 C + k2 T + B, and stress takes k2 S from it.
Bending and twist of the whole section follow, but what makes them buckle by themselves is left out of S: columns and lateral
buckling are checks of their own, with lengths of their own. The worst half wave counts. At that half wave the walls may move inside
themselves as well: a deep web that waves with its lips takes force from them (Z. Li, B. W. Schafer, finite strips at the half wave
of the constrained ones, 2010; from memory). Inside, lengths are in parts of the sheet's width and E is 1.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import inf, pi

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.elements import contracted
from framecheck.section.properties import Critical, SectionProperties, Wall
from framecheck.value_class import array_class

COUNTED = 0.97
"""Share of the critical force that is counted: walls that can neither stretch nor shear are too stiff, by 0.2 to 2.9 % against the
finite strips in tests/verification/distortion_finite_strip.yaml. With it no force of theirs is passed."""
WHOLE = 4
"""Movements of the whole section: along, bending both ways, twist."""
HALF_WAVES = np.geomspace(0.05, 50.0, 72)
CLOSER, ROUNDS = 9, 3
"""Half waves tried between the two beside the worst, and how often."""
NEAR = 20
"""Power of the share of the worst softness with which a half wave beside the worst counts: at 0.9 of it, an eighth. One half wave
alone would jump to another where two are as bad."""
LEAST_SHARE = 0.8
"""Share of the worst softness under which a half wave is not tried: it would count for an eightieth."""
_X, _W = (each / 2 for each in np.polynomial.legendre.leggauss(7))
AT, WEIGHT = _X + 0.5, _W
"""Gauss's places along a wall, 0 to 1, and weights."""


def is_chain(walls: tuple[Wall, ...]) -> bool:
    """Return whether walls follow one another from one free tip to another, enough of them for lips."""
    linked = all(before.end == after.start for before, after in pairwise(walls))
    return len(walls) >= WHOLE and linked and walls[0].free_start and walls[-1].free_end


def critical_distortion(section: SectionProperties) -> Critical | None:
    """Return at what force the lips of a bare bent sheet turn, elastically, over E; None where its walls are no chain."""
    if not is_chain(section.walls):
        return None
    chain = _chain(section)
    softness = _worst(*_theories(chain, section.youngs_modulus / (2 * section.shear_modulus) - 1))[1:]
    size = chain.size ** np.array([2, 3, 3, 3, 3, 4, 4])
    found = [COUNTED * s / one if one > 0 else inf for s, one in zip(size.tolist(), softness.tolist(), strict=True)]
    return Critical(*found)


@array_class
class _Chain:
    """n walls between n + 1 corners. nodes (n + 1, 2), thickness, length (n,), along (n, 2): in parts of `size`, the sheet's width, m.

    stress (4, n + 1): at the corners, of unit N, Mv, Ms, B.
    """

    size: float
    nodes: Array
    thickness: Array
    length: Array
    along: Array
    stress: Array


def _chain(section: SectionProperties) -> _Chain:
    """Return the walls of a section as a chain."""
    corners = np.array([section.walls[0].start, *(wall.end for wall in section.walls)])
    size = float(np.linalg.norm(np.diff(corners, axis=0), axis=1).sum())
    nodes = corners / size
    step = np.diff(nodes, axis=0)
    length = np.linalg.norm(step, axis=1)
    thickness = np.array([wall.thickness for wall in section.walls]) / size
    along = step / length[:, None]
    return _Chain(size, nodes, thickness, length, along, _stress(section, nodes, length * thickness, size))


def _stress(section: SectionProperties, nodes: Array, area: Array, size: float) -> Array:
    """Return the stress at the corners of unit N, Mv, Ms, B, (4, n_node); area: of each wall."""
    moments = np.array([[section.i_sideways, section.i_product], [section.i_product, section.i_vertical]]) / size**4
    sideways, vertical = np.linalg.solve(moments, nodes.T)
    return np.stack([np.full(len(nodes), size**2 / section.area), vertical, sideways, _bimoment(section, nodes, area, size)])


def _bimoment(section: SectionProperties, nodes: Array, area: Array, size: float) -> Array:
    """Return the stress at the corners of a unit bimoment: the sectorial coordinate about the shear centre, without its mean."""
    y, z = (nodes - np.array(section.shear_centre) / size).T
    omega = np.concatenate(([0.0], np.cumsum(y[1:] * z[:-1] - y[:-1] * z[1:])))
    omega -= (area @ (omega[1:] + omega[:-1])) / (2 * area.sum())
    return np.asarray(omega * size**6 / section.warping_constant, dtype=np.float64)


@array_class
class _Theory:
    """Stiffness C, T, B, each (n_mode, n_mode), and S of unit N, Mv, Ms, B, (4, n_mode, n_mode)."""

    stiffness: tuple[Array, Array, Array]
    softening: Array


def _theories(chain: _Chain, poisson: float) -> tuple[_Theory, _Theory]:
    """Return the matrices of a chain whose walls follow its corners, and of one whose walls move inside themselves as well.

    The whole section's movements come first, which stress alone does not soften.
    """
    modes = _modes(chain)
    slide = np.diff(modes, axis=0) / -chain.length[:, None]
    bent, own = _bent(chain, slide), _own(chain)
    more = own.shape[2]
    still = np.zeros((len(modes), more))
    wide = np.concatenate([modes, still], axis=1), np.concatenate([slide, still[1:]], axis=1), np.concatenate([bent, own], axis=2)
    return _theory(chain, poisson, modes, slide, bent), _theory(chain, poisson, *wide)


def _theory(chain: _Chain, poisson: float, modes: Array, slide: Array, bent: Array) -> _Theory:
    """Return the matrices of movements: warping of the corners, slide along and movement across of the walls."""
    softening = _softening(chain, slide, bent)
    softening[:, :WHOLE, :WHOLE] = 0.0
    return _Theory(_stiffness(chain, poisson, modes, bent), softening)


def _softness(theory: _Theory, half_waves: Array) -> Array:
    """Return 1 over the critical value of N, -N, Mv, -Mv, Ms, -Ms, B, -B, each over half waves of its own, (n, 8)."""
    k2 = (pi / half_waves[..., None, None]) ** 2
    along, twist, across = theory.stiffness
    root = np.linalg.inv(np.linalg.cholesky(k2**2 * along + k2 * twist + across))
    eigen = np.linalg.eigvalsh(root @ (k2 * np.repeat(theory.softening, 2, axis=0)) @ np.swapaxes(root, -1, -2))
    return np.where(np.arange(8) % 2 == 0, -eigen[..., 0], eigen[..., -1])


def _worst(distorted: _Theory, moving: _Theory) -> Array:
    """Return the softness of walls that move inside themselves, about the half wave at which the lips turn worst, (8,)."""
    first = np.repeat(HALF_WAVES[:, None], 8, axis=1)
    peak = _largest(lambda tried: _softness(distorted, tried), first)

    def share(tried: Array) -> Array:
        return np.maximum(_softness(distorted, tried), 0.0) / np.where(peak > 0, peak, inf)

    near = (share(first) >= LEAST_SHARE).any(axis=1)
    return _largest(lambda tried: _softness(moving, tried) * share(tried) ** NEAR, first[near])


def _largest(of: Callable[[Array], Array], tried: Array) -> Array:
    """Return the largest value of a function of half waves (n, 8), (8,), closing in on it."""
    for _ in range(ROUNDS):
        most = np.argmax(of(tried), axis=0)
        beside = (np.clip(most + step, 0, len(tried) - 1)[None] for step in (-1, 1))
        low, high = (np.take_along_axis(tried, each, axis=0)[0] for each in beside)
        tried = np.geomspace(low, high, CLOSER)
    return np.asarray(of(tried).max(axis=0), dtype=np.float64)


def _modes(chain: _Chain) -> Array:
    """Return the warping of the corners, (n_node, n_node): the whole section's four, then those without any share of them."""
    y, z = chain.nodes.T
    omega = np.concatenate(([0.0], np.cumsum(y[1:] * z[:-1] - y[:-1] * z[1:])))
    whole = np.stack([np.ones_like(y), y, z, omega], axis=1)
    whole, _ = np.linalg.qr(whole)
    ends = chain.thickness * chain.length / 6
    mass = np.diag(2 * (np.append(ends, 0.0) + np.append(0.0, ends))) + np.diag(ends, 1) + np.diag(ends, -1)
    _, _, rest = np.linalg.svd((mass @ whole).T)
    return np.concatenate([whole, rest[WHOLE:].T], axis=1)


def _bent(chain: _Chain, slide: Array) -> Array:
    """Return each wall's movement across itself: place and slope at start and end, (n_wall, 4, n_mode); slide (n_wall, n_mode): along.

    Corners go where both walls' slides take them; slopes there, and the places of the tips, are those of least bending.
    """
    n = len(chain.length)
    normal = np.stack([-chain.along[:, 1], chain.along[:, 0]], axis=1)
    given = np.zeros((n, SHAPES, slide.shape[1]))
    for k in range(1, n):
        corner = np.linalg.solve(chain.along[k - 1 : k + 1], slide[k - 1 : k + 1])
        given[k - 1, 2], given[k, 0] = normal[k - 1] @ corner, normal[k] @ corner
    free = _own(chain)[..., : n + 3]
    bending = _plate(chain)[:, None, None] * _integral(chain, *(_shapes(chain, 2),) * 2)
    against = np.swapaxes(free, 1, 2) @ bending
    found = np.linalg.solve((against @ free).sum(axis=0), -(against @ given).sum(axis=0))
    return np.asarray(given + free @ found, dtype=np.float64)


SHAPES = 6
"""Shapes of a bent wall: place and slope at its start, at its end, and two between held ends."""


def _own(chain: _Chain) -> Array:
    """Return the walls' movement across themselves that no warping goes with, (n_wall, 6, 3 n_wall + 3): both tips, slopes at corners
    and tips, then each wall's own two shapes.
    """
    n = len(chain.length)
    own = np.zeros((n, SHAPES, 3 * n + 3))
    own[0, 0, 0] = own[-1, 2, 1] = 1.0
    walls = np.arange(n)
    own[walls, 1, walls + 2] = own[walls, 3, walls + 3] = 1.0
    own[walls, 4, walls + n + 3] = own[walls, 5, walls + 2 * n + 3] = 1.0
    return own


def _shapes(chain: _Chain, slope: int) -> Array:
    """Return the shapes of a bent wall, four cubic and two between held ends, or their first or second slope, (n_wall, n_place, 6)."""
    x, b = AT[None, :], chain.length[:, None]
    one = np.ones_like(b)
    rows = (
        ((1 - 3 * x**2 + 2 * x**3) * one, b * (x - 2 * x**2 + x**3), (3 * x**2 - 2 * x**3) * one, b * (x**3 - x**2),
         16 * x**2 * (1 - x) ** 2 * one, 32 * x**2 * (1 - x) ** 2 * (2 * x - 1) * one),
        ((6 * x**2 - 6 * x) / b, (1 - 4 * x + 3 * x**2) * one, (6 * x - 6 * x**2) / b, (3 * x**2 - 2 * x) * one,
         32 * (x - 3 * x**2 + 2 * x**3) / b, 64 * (-x + 6 * x**2 - 10 * x**3 + 5 * x**4) / b),
        ((12 * x - 6) / b**2, (6 * x - 4) / b, (6 - 12 * x) / b**2, (6 * x - 2) / b,
         32 * (1 - 6 * x + 6 * x**2) / b**2, 64 * (-1 + 12 * x - 30 * x**2 + 20 * x**3) / b**2),
    )  # fmt: skip
    return np.stack(rows[slope], axis=-1)


def _integral(chain: _Chain, f: Array, g: Array, weight: Array | float = 1.0) -> Array:
    """Return the integral of f g over each wall, (n_wall, i, j), of values (n_wall, n_place, i) and (n_wall, n_place, j)."""
    return contracted("wp,wpi,wpj->wij", WEIGHT * chain.length[:, None] * weight, f, g)


def _plate(chain: _Chain, poisson: float = 0.0) -> Array:
    """Return the bending stiffness of each wall, (n_wall,): t3 / 12 (1 - nu2)."""
    return np.asarray(chain.thickness**3 / (12 * (1 - poisson**2)), dtype=np.float64)


def _stiffness(chain: _Chain, poisson: float, modes: Array, bent: Array) -> tuple[Array, Array, Array]:
    """Return C, T and B, each (n_mode, n_mode): walls stretched and bent along, twisted, and bent across."""
    place, slope, curve = (_shapes(chain, each) @ bent for each in range(3))
    warp = (1 - AT)[None, :, None] * modes[:-1, None, :] + AT[None, :, None] * modes[1:, None, :]
    plate = _plate(chain, poisson)[:, None]
    along = _integral(chain, warp, warp, chain.thickness[:, None]) + _integral(chain, place, place, plate)
    mixed = _integral(chain, place, curve, poisson * plate)
    twist = _integral(chain, slope, slope, 2 * (1 - poisson) * plate) - mixed - np.swapaxes(mixed, 1, 2)
    across = _integral(chain, curve, curve, plate)
    return along.sum(axis=0), twist.sum(axis=0), across.sum(axis=0)


def _softening(chain: _Chain, slide: Array, bent: Array) -> Array:
    """Return S of unit N, Mv, Ms, B, (4, n_mode, n_mode): stress times the squares of what the walls move."""
    place = _shapes(chain, 0) @ bent
    stress = (1 - AT) * chain.stress[:, :-1, None] + AT * chain.stress[:, 1:, None]
    weights = stress * WEIGHT * (chain.thickness * chain.length)[:, None]
    across = contracted("fwp,wpi,wpj->fij", weights, place, place)
    return across + contracted("fw,wi,wj->fij", weights.sum(axis=-1), slide, slide)
