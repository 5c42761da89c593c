"""Non-uniform torsion of a prismatic member, exact (V. Z. Vlasov, Thin-Walled Elastic Beams, 1961, ch. II; from memory).

T = GJ psi - E Cw psi'', B = E Cw psi', psi the rate of twist, k^2 = GJ / E Cw, z = kL/2. With the twist between the ends D and the
rates of twist at the ends a and b, the strain energy of an unloaded member falls into three squares:

    2U = GJ/L D^2 + (GJ/L) (1/t - 1) (D - L (a + b)/2)^2 + (E Cw k coth(z) / 2) (b - a)^2,   t = 1 - tanh(z)/z.

As k goes to 0 the second and third become 12 E Cw/L^3 and E Cw/L, the bending stiffness of a beam.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array

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
