"""Stress concentration at notches, fillets and holes: published fits, notch sensitivity, Neuber's rule. Shared by notch and fatigue.

Every fit is Kt = C1 + C2 x + C3 x2 + C4 x3 with Ci = a + b sqrt(k) + c k; k: depth over radius of the notch, x: its share of the
depth. At x = 1 nothing is left beside the notch and each must give 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from framecheck.model.arrays import Array
from framecheck.value_class import value_class

Row = tuple[float, float, float]


@value_class
class Fit:
    """One fit: its four coefficients, each (a, b, c), the range of k it holds in, what x and the nominal stress are, its source."""

    c1: Row
    c2: Row
    c3: Row
    c4: Row
    least: float
    most: float
    nominal: str
    source: str

    def factor(self, k: Array, x: Array) -> Array:
        """Return Kt, the shape of k and x together."""
        root = np.sqrt(k)
        c1, c2, c3, c4 = (a + b * root + c * k for a, b, c in (self.c1, self.c2, self.c3, self.c4))
        whole: Array = c1 + x * (c2 + x * (c3 + x * c4))
        return whole


ROARK = "W. C. Young, R. G. Budynas, Roark's Formulas for Stress and Strain, 7th ed., table 17.1"
PETERSON = "R. E. Peterson, Stress Concentration Factors, shoulder fillet in a flat bar"
NET_MIDDLE = "P / t (D - h), pulled through the net middle, x = h / D"
ONE_U, TWO_U, STEP = "6 M / t (D - h)2, x = h / D", "6 M / t (D - 2h)2, x = 2h / D", "6 M / t d2, x = 2h / H"

FITS: Mapping[str, Fit] = MappingProxyType({
    "one notch, bending": Fit((0.721, 2.394, -0.127), (-0.426, -8.827, 1.518), (2.161, 10.968, -2.455), (-1.456, -4.535, 1.064),
                              0.5, 4.0, ONE_U, f"{ROARK}, one U-notch, from memory, checked by finite elements"),
    "one notch, tension": Fit((0.721, 2.394, -0.127), (1.978, -11.489, 2.211), (-4.413, 18.751, -4.596), (2.714, -9.655, 2.512),
                              0.5, 4.0, NET_MIDDLE, f"{ROARK}, one U-notch, from memory"),
    "two notches, tension": Fit((0.850, 2.628, -0.413), (-1.119, -4.826, 2.575), (3.563, -0.514, -2.402), (-2.294, 2.713, 0.240),
                                0.1, 2.0, "P / t (D - 2h), x = 2h / D", f"{ROARK}, two U-notches"),
    "two deep notches, tension": Fit((0.833, 2.069, -0.009), (2.732, -4.157, 0.176), (-8.859, 5.327, -0.320), (6.294, -3.239, 0.154),
                                     2.0, 50.0, "P / t (D - 2h), x = 2h / D", f"{ROARK}, two U-notches"),
    "two notches, bending": Fit((0.723, 2.845, -0.504), (-1.836, -5.746, 1.314), (7.254, -1.885, 1.646), (-5.140, 4.785, -2.456),
                                0.25, 2.0, TWO_U, f"{ROARK}, two U-notches"),
    "two deep notches, bending": Fit((0.833, 2.069, -0.009), (0.024, -5.383, 0.126), (-0.856, 6.460, -0.199), (0.999, -3.146, 0.082),
                                     2.0, 50.0, TWO_U, f"{ROARK}, two U-notches"),
    "fillet, tension": Fit((1.006, 1.008, -0.044), (-0.115, -0.584, 0.315), (0.245, -1.006, -0.257), (-0.135, 0.582, -0.017),
                           0.1, 2.0, "P / t d, x = 2h / H", PETERSON),
    "sharp fillet, tension": Fit((1.020, 1.009, -0.048), (-0.065, -0.165, -0.007), (-3.459, 1.266, -0.016), (3.505, -2.109, 0.069),
                                 2.0, 20.0, "P / t d, x = 2h / H", PETERSON),
    "fillet, bending": Fit((1.007, 1.000, -0.031), (-0.270, -2.404, 0.749), (0.677, 1.133, -0.904), (-0.414, 0.271, 0.186),
                           0.1, 2.0, STEP, f"{ROARK}, shoulder fillet"),
    "sharp fillet, bending": Fit((1.042, 0.982, -0.036), (-3.599, 1.619, -0.431), (6.084, -5.607, 1.158), (-2.527, 3.006, -0.691),
                                 2.0, 20.0, STEP, f"{ROARK}, shoulder fillet"),
    "fillet, bending, Peterson": Fit((1.006, 0.967, 0.013), (-0.270, -2.372, 0.708), (0.662, 1.157, -0.908), (-0.405, 0.249, 0.200),
                                     0.1, 2.0, STEP, f"{PETERSON}; C4 ends in +0.200, a copy has -0.200"),
    "sharp fillet, bending, Peterson": Fit((1.058, 1.002, -0.038), (-3.652, 1.639, -0.436), (6.170, -5.687, 1.175),
                                           (-2.558, 3.046, -0.701), 2.0, 20.0, STEP, PETERSON),
})  # fmt: skip


def hole_in_strip(share: Array) -> Array:
    """Return Kt on the net stress of a round hole in a strip in tension: 3 - 3.13 x + 3.66 x2 - 1.53 x3, x: diameter over width.

    Roark's Formulas, table 17.1.
    """
    whole: Array = 3.0 + share * (-3.13 + share * (3.66 - 1.53 * share))
    return whole


RAIL_ALLOWANCE = 1.10
SHALLOW, TIP = 0.15, 2.21
SHARPEST = 10.0
RAIL_SOURCE = (
    f"{ROARK}, one U-notch in a flat bar, times 1.10 (plane-stress finite elements of notched box and channel rails, 4 to 12 % above)"
)


def rail_factor(depth: Array, radius: Array, height: float) -> Array:
    """Return Kt on the net bending stress at a corner of a notch `depth` deep in a rail `height` high, m; nan: sharper than any fit.

    The flat-bar fit times 1.10 (see RAIL_SOURCE). Between k = 4 and 10 it is carried on beyond its range: there it lay 2 to 13 %
    above the finite elements. A notch shallower than 0.15 of the height peaks where it leaves the flange: at least 2.21 (ditto).
    """
    ratio = depth / np.where(radius > 0, radius, np.nan)
    share = depth / height
    fitted = RAIL_ALLOWANCE * FITS["one notch, bending"].factor(np.maximum(ratio, 0.5), share)
    least = np.where(share < SHALLOW, TIP, 1.0)
    return np.where(ratio <= SHARPEST, np.maximum(fitted, least), np.nan)


def neuber_constant(ultimate: float) -> float:
    """Return sqrt(a) of a steel in bending or axially, m^0.5; ultimate: tensile strength, Pa, 340 to 1700 MPa.

    1.24 - 2.25e-3 S + 1.60e-6 S2 - 4.11e-10 S3 in mm^0.5 and MPa: J. E. Shigley, Mechanical Engineering Design, eq. (6-35). The inch
    form has 1.51e-5 S2; copies with 1.15e-5 give less than half.
    """
    s = min(max(ultimate / 1e6, 340.0), 1700.0)
    return float((1.24 - 2.25e-3 * s + 1.60e-6 * s**2 - 4.11e-10 * s**3) * 1e-3**0.5)


def notch_sensitivity(ultimate: float, radius: Array) -> Array:
    """Return q = 1 / (1 + sqrt(a / r)) by H. Neuber; radius in m."""
    return np.asarray(1.0 / (1.0 + neuber_constant(ultimate) / np.sqrt(radius)), dtype=np.float64)


def peterson_constant(ultimate: float) -> float:
    """Return a of a steel, m: 0.0254 (2070 / Su)^1.8 mm, Su in MPa. R. E. Peterson, from memory."""
    return float(0.0254e-3 * (2070e6 / ultimate) ** 1.8)


def notch_sensitivity_peterson(ultimate: float, radius: Array) -> Array:
    """Return q = 1 / (1 + a / r) by R. E. Peterson; radius in m."""
    return np.asarray(1.0 / (1.0 + peterson_constant(ultimate) / radius), dtype=np.float64)


def fatigue_factor(stress_factor: Array, sensitivity: Array) -> Array:
    """Return Kf = 1 + q (Kt - 1). R. E. Peterson."""
    return np.asarray(1.0 + sensitivity * (stress_factor - 1.0), dtype=np.float64)


def local_stress(nominal: float, stress_factor: float, metal: tuple[float, float, float]) -> tuple[float, float]:
    """Return local stress (Pa) and strain at a notch by Neuber's rule: sigma epsilon = Kt2 S2 / E (S elastic).

    With W. Ramberg and W. R. Osgood's line epsilon = sigma / E + (sigma / K')^(1/n'). metal: E, K' (Pa), n'.
    """
    from scipy.optimize import brentq

    e, strength, exponent = metal
    elastic = abs(nominal) * stress_factor
    if elastic == 0.0:
        return 0.0, 0.0

    def strain(stress: float) -> float:
        return float(stress / e + (stress / strength) ** (1 / exponent))

    found = float(brentq(lambda stress: stress * strain(stress) - elastic**2 / e, 0.0, elastic, xtol=1.0))
    return found, strain(found)


def cyclic_metal(youngs_modulus: float, ultimate: float) -> tuple[float, float, float]:
    """Return (E, K', n') of an unalloyed steel: K' = 1.65 Su, n' = 0.15. A. Baeumel, T. Seeger, uniform material law, from memory."""
    return youngs_modulus, 1.65 * ultimate, 0.15
