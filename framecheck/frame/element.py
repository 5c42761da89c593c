"""The exact beam between two places, and non-uniform torsion, exact (V. Z. Vlasov, Thin-Walled Elastic Beams, 1961, ch. II; from
memory).

Deformations of a piece: stretch; even bending (y, z): difference of the slopes; odd bending (y, z): sway less the mean slope
times the length; twist; odd and even warping. Timoshenko with the full product of inertia: in the slopes v', w'
the bending stiffness is D = E [[Is, Ip], [Ip, Iv]] and the shear flexibility S, both 2 x 2; even bending resists with D/L, odd
bending with (L^3/12 D^-1 + L S)^-1 (R. D. Cook et al., Concepts and Applications of Finite Element Analysis, 4th ed., 2.4, in
two planes; from memory). Stretch is of the centroid, sway and twist are of the shear centre. SI.

T = GJ psi - E Cw psi'', B = E Cw psi', psi the rate of twist, k^2 = GJ / E Cw, z = kL/2. With the twist between the ends D and the
rates of twist at the ends a and b, the strain energy of an unloaded member falls into three squares:

    2U = GJ/L D^2 + (GJ/L) (1/t - 1) (D - L (a + b)/2)^2 + (E Cw k coth(z) / 2) (b - a)^2,   t = 1 - tanh(z)/z.

As k goes to 0 the second and third become 12 E Cw/L^3 and E Cw/L, the bending stiffness of a beam.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.discretise import Pieces
from framecheck.frame.geometry import cross_rows, member_axes, section_turns
from framecheck.model.arrays import Array, BoolArray
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class

END = 7  # movements of a piece's end: stretch, v, w, twist, slope v', slope w', rate of twist
DEFORMATIONS = 8


@array_class
class Beams:
    """What the pieces are to the solver, n of them. Axes and offsets are the member's, from its reference line.

    axes (n, 3, 3) rows x, y, z; start (n,) station of the first end, m; ends (n, 2, 3) places; length (n,).
    stretch, twist, warping (n,): EA, GJ, E Cw (0: warping left out). bending, flexibility (n, 2, 2): D; its inverse.
    slip (n, 2, 2): S. centroid, pole (n, 2). turn (n, 2, 2): section's own (y, z) to the member's; mass (n,) kg/m. z (n,): kL/2.
    depth (n,): of the section in its own axes, m.
    """

    axes: Array
    start: Array
    ends: Array
    length: Array
    stretch: Array
    twist: Array
    warping: Array
    bending: Array
    flexibility: Array
    slip: Array
    centroid: Array
    pole: Array
    turn: Array
    mass: Array
    z: Array
    depth: Array

    @property
    def warps(self) -> BoolArray:
        """Return which pieces (n,) carry warping."""
        return self.warping > 0.0


def inverse_2x2(values: Array) -> Array:
    """Return the inverses of (n, 2, 2) matrices."""
    a, b, c, d = values[:, 0, 0], values[:, 0, 1], values[:, 1, 0], values[:, 1, 1]
    return np.stack([d, -b, -c, a], axis=1).reshape(-1, 2, 2) / (a * d - b * c)[:, None, None]


def section_table(sections: Sequence[SectionProperties]) -> Array:
    """Return the numbers (n_section, 14) that beams need of each section, SI.

    EA, GJ, E Cw (0: closed), E Is, E Ip, E Iv, 1/GAy, 1/GAz, centroid y and z and shear centre y and z from the middle of the
    outline's box, kg/m, depth.
    """
    rows = [
        (
            s.youngs_modulus * s.area,
            s.shear_modulus * s.torsion_constant,
            0.0 if s.closed else s.youngs_modulus * s.warping_constant,
            s.youngs_modulus * s.i_sideways,
            s.youngs_modulus * s.i_product,
            s.youngs_modulus * s.i_vertical,
            1 / (s.shear_modulus * s.shear_area_sideways),
            1 / (s.shear_modulus * s.shear_area_vertical),
            *s.centroid,
            s.centroid[0] + s.shear_centre[0],
            s.centroid[1] + s.shear_centre[1],
            s.mass_per_length,
            s.box[3] - s.box[2] or sqrt(6 * s.i_vertical / s.area),  # no outline: as a thin square box
        )
        for s in sections
    ]
    return np.array(rows, dtype=np.float64).reshape(-1, 14)


def beams_of(pieces: Pieces, table: Array, names: Sequence[str]) -> Beams:
    """Return the pieces as beams; table: of sections in the order of the pieces' keys (section_table), names of the members."""
    ends = pieces.places[pieces.nodes] + pieces.arms
    span = ends[:, 1] - ends[:, 0]
    length = np.linalg.norm(span, axis=1)
    _refuse_short(pieces, length, names)
    axes = member_axes(span / length[:, None])
    turn = section_turns(pieces.angle, pieces.mirrored)
    values = table[pieces.section]
    bending = turn @ values[:, [3, 4, 4, 5]].reshape(-1, 2, 2) @ turn.transpose(0, 2, 1)
    twist = least_torsion(values[:, 1], values[:, 2], length)
    return Beams(
        axes=axes,
        start=pieces.base + np.einsum("ni,ni->n", ends[:, 0] - pieces.origin, axes[:, 0]),
        ends=ends,
        length=length,
        stretch=values[:, 0],
        twist=twist,
        warping=values[:, 2],
        bending=bending,
        flexibility=inverse_2x2(bending),
        slip=(turn * values[:, None, 6:8]) @ turn.transpose(0, 2, 1),
        centroid=(turn @ values[:, 8:10, None])[..., 0],
        pole=(turn @ values[:, 10:12, None])[..., 0],
        turn=turn,
        mass=values[:, 12],
        z=np.sqrt(twist / np.where(values[:, 2] > 0, values[:, 2], np.inf)) * length / 2,
        depth=values[:, 13],
    )


def _refuse_short(pieces: Pieces, length: Array, names: Sequence[str]) -> None:
    """Raise where nothing is left of a member between its arms."""
    reach = np.linalg.norm(pieces.places[pieces.nodes[:, 1]] - pieces.places[pieces.nodes[:, 0]], axis=1)
    short = np.flatnonzero(length <= 1e-6 * np.maximum(reach, 1e-3))
    if len(short):
        name = names[int(pieces.member[short[0]])]
        raise UnsolvableError(f"member '{name}' has a part without length; move its points or shorten its arms")


def deformation_stiffness(beams: Beams) -> Array:
    """Return the stiffness (n, 8, 8) against a piece's eight deformations."""
    n, length = len(beams.length), beams.length
    stiff = np.zeros((n, DEFORMATIONS, DEFORMATIONS))
    stiff[:, 0, 0] = beams.stretch / length
    stiff[:, 1:3, 1:3] = beams.bending / length[:, None, None]
    sway = beams.flexibility * (length**3 / 12)[:, None, None] + beams.slip * length[:, None, None]
    stiff[:, 3:5, 3:5] = inverse_2x2(sway)
    stiff[:, 5, 5] = beams.twist / length
    warps = beams.warps
    z, held, span = beams.z[warps], beams.warping[warps], length[warps]
    stiff[warps, 6, 6] = 12 * held / span**3 * antisymmetric_factor(z)
    stiff[warps, 7, 7] = held / span * symmetric_factor(z)
    return stiff


def end_movements(beams: Beams, arms: Array) -> Array:
    """Return matrices (n, 2, 7, 6): node movements (m and rad, vehicle axes) to the movements of the piece's ends.

    arms (n, 2, 3): from node to piece's end. The rate of twist (row 6) is no node movement: zero here.
    """
    n = len(beams.length)
    x, y, z = (np.repeat(beams.axes[:, None, row], 2, axis=1) for row in range(3))
    to_centroid = arms + across(beams.axes, beams.centroid)[:, None]
    to_pole = arms + across(beams.axes, beams.pole)[:, None]
    rows = np.zeros((n, 2, END, 6))
    rows[:, :, 0, :3], rows[:, :, 0, 3:] = x, cross_rows(to_centroid, x)
    rows[:, :, 1, :3], rows[:, :, 1, 3:] = y, cross_rows(to_pole, y)
    rows[:, :, 2, :3], rows[:, :, 2, 3:] = z, cross_rows(to_pole, z)
    rows[:, :, 3, 3:], rows[:, :, 4, 3:], rows[:, :, 5, 3:] = x, z, -y
    return rows


def across(axes: Array, offset: Array) -> Array:
    """Return offsets (n, 2) across members as vectors (n, 3) in vehicle axes."""
    return offset[:, :1] * axes[:, 1] + offset[:, 1:] * axes[:, 2]


def deformations(length: Array, first: Array, second: Array) -> Array:
    """Return the eight deformations (n, 8, ...) from the ends' seven movements (n, 7, ...)."""
    half = (length / 2).reshape(-1, *([1] * (first.ndim - 2)))
    span = second - first
    both = first + second
    bent = half[:, None]
    return np.concatenate(
        [
            span[:, :1],
            span[:, 4:6],
            span[:, 1:3] - bent * both[:, 4:6],
            span[:, 3:4],
            span[:, 3:4] - bent * both[:, 6:7],
            span[:, 6:7],
        ],
        axis=1,
    )


SMALL = 0.03  # z below which series are used: their next terms are below 1e-11
LEAST_Z = 1e-4  # a section without torsion constant is given this z; it adds 1e-9 to the member's twist stiffness


def least_torsion(rigidity: Array, warping: Array, length: Array) -> Array:
    """Return GJ (n,), raised to what LEAST_Z asks where a member warps and hardly resists in Saint-Venant's way."""
    return np.maximum(rigidity, warping * (2 * LEAST_Z / length) ** 2)


def antisymmetric_factor(z: Array) -> Array:
    """Return z^2 (1 - t)/(3 t), t = 1 - tanh(z)/z: stiffness against D - L (a + b)/2 is 12 E Cw/L^3 times this."""
    safe = np.maximum(z, SMALL)
    exact = safe**2 * np.tanh(safe) / (3 * (safe - np.tanh(safe)))
    return np.where(z < SMALL, 1 + z**2 / 15 - z**4 / 525, exact)


def symmetric_factor(z: Array) -> Array:
    """Return z coth(z): stiffness against b - a is E Cw/L times this."""
    safe = np.maximum(z, SMALL)
    return np.where(z < SMALL, 1 + z**2 / 3 - z**4 / 45, safe / np.tanh(safe))


def even_shape(kx: Array, z: Array) -> tuple[Array, Array]:
    """Return cosh(kx)/cosh(z) and sinh(kx)/cosh(z), -z <= kx <= z, without overflow."""
    far, near, whole = np.exp(kx - z), np.exp(-kx - z), 1 + np.exp(-2 * z)
    return (far + near) / whole, (far - near) / whole


def odd_shape(kx: Array, z: Array) -> tuple[Array, Array]:
    """Return sinh(kx)/sinh(z) and cosh(kx)/sinh(z), -z <= kx <= z, without overflow; z > 0."""
    size, whole = np.abs(kx), -np.expm1(-2 * z)
    far, near = np.exp(size - z), np.exp(-size - z)
    return -np.sign(kx) * far * np.expm1(-2 * size) / whole, (far + near) / whole
