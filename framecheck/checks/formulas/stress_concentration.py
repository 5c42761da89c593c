"""Stress concentration at notches, fillets and holes: published fits, notch sensitivity, Neuber's rule.

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
NET_MIDDLE = "P / t (D - h), pulled through the net middle, x = h / D"
ONE_U = "6 M / t (D - h)2, x = h / D"

FITS: Mapping[str, Fit] = MappingProxyType({
    "one notch, bending": Fit((0.721, 2.394, -0.127), (-0.426, -8.827, 1.518), (2.161, 10.968, -2.455), (-1.456, -4.535, 1.064),
                              0.5, 4.0, ONE_U, f"{ROARK}, one U-notch, from memory, checked by finite elements"),
    "one notch, tension": Fit((0.721, 2.394, -0.127), (1.978, -11.489, 2.211), (-4.413, 18.751, -4.596), (2.714, -9.655, 2.512),
                              0.5, 4.0, NET_MIDDLE, f"{ROARK}, one U-notch, from memory"),
})  # fmt: skip


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
