"""When flat and swaged sheet waves under forces in its plane. SI."""

from __future__ import annotations

from math import pi

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.panels import Runs, Swages
from framecheck.model.shop_tables import Material

WAVES_SOURCE = (
    "EN 1993-1-5:2006, eq. (A.1), (A.5): 4.0 and 5.34 + 4 (b/a)2, simply held edges; direct stress and the square of shear "
    "together (common practice, unfavourable)"
)
SWAGED_SOURCE = "EN 1993-1-5:2006, Annex D.3, from memory: 32.4 (Dx Dz3)^0.25 / t b2, and waves between swages by (A.5)"


def euler(material: Material, thickness: float, width: Array) -> Array:
    """Return sigma E of plate buckling, Pa: pi2 E / (12 (1 - nu2)) (t / b)2. EN 1993-1-5:2006, eq. (A.1)."""
    stiff = pi**2 * material.youngs_modulus / (12 * (1 - material.poissons_ratio**2))
    found: Array = stiff * (thickness / width) ** 2
    return found


def shear_factor(one: Array, other: Array) -> Array:
    """Return k of a plate in shear with simply held edges, referred to its shorter side: 5.34 + 4 (b/a)2. EN 1993-1-5:2006, (A.5)."""
    ratio: Array = np.minimum(one, other) / np.maximum(one, other)
    return 5.34 + 4.0 * ratio**2


def critical_shear(material: Material, thickness: float, bays: Array) -> Array:
    """Return the shear stress (m,) at which flat fields (m, 2) wave, Pa."""
    return shear_factor(bays[:, 0], bays[:, 1]) * euler(material, thickness, bays.min(axis=1))


def swaged_shear(material: Material, thickness: float, bays: Array, swages: Swages) -> Array:
    """Return the shear stress (m,) at which swaged fields wave, Pa: between swages, or as a whole; not less than the flat field's.

    As a whole: EN 1993-1-5:2006, Annex D.3, from memory: 32.4 (Dx Dz3)^(1/4) / (t b2), b along the swages.
    """
    along, across = along_and_across(swages)
    between = np.minimum(swages.pitch, bays[:, across])
    local = shear_factor(bays[:, along], between) * euler(material, thickness, np.minimum(between, bays[:, along]))
    weak, strong = stiffnesses(material, thickness, swages)
    whole = 32.4 / (thickness * bays[:, along] ** 2) * (weak * strong**3) ** 0.25
    found: Array = np.maximum(np.minimum(local, whole), critical_shear(material, thickness, bays))
    return found


def along_and_across(swages: Swages) -> tuple[int, int]:
    """Return which of a panel's own axes runs along its swages, and which across them."""
    return (0, 1) if swages.runs is Runs.ALONG else (1, 0)


def stiffnesses(material: Material, thickness: float, swages: Swages) -> tuple[float, float]:
    """Return Dx across swages, E t3 / (12 (1 - nu2)) w / s, and Dz along them, E Iz / w, Nm. EN 1993-1-5:2006, D.3, from memory."""
    developed = swages.pitch - swages.width + 2 * float(np.hypot(swages.width / 2, swages.depth))
    weak = material.plate_stiffness(thickness) * swages.pitch / developed
    return weak, material.youngs_modulus * swage_inertia(thickness, swages) / swages.pitch


def swage_inertia(thickness: float, swages: Swages) -> float:
    """Return I of one pitch of sheet with a swage of two straight flanks, m4: its middle line's, about its own middle (geometry)."""
    slope = float(np.hypot(swages.width / 2, swages.depth))
    land, flanks = swages.pitch - swages.width, 2 * slope
    middle = flanks * swages.depth / 2 / (land + flanks)
    own = flanks * swages.depth**2 / 12
    return thickness * (own + flanks * (swages.depth / 2 - middle) ** 2 + land * middle**2)


def critical_pressed(material: Material, thickness: float, bays: Array, swages: Swages | None) -> Array:
    """Return the stresses (m, 2) along x and y, each alone, at which fields (m, 2) wave, Pa.

    2 pi2 (sqrt(D1 D2) + D) / (t b2), b across the stress, D that of flat sheet: a long plate with two bending stiffnesses, simply held
    (S. G. Lekhnitskii, Anisotropic Plates, 1968; from memory); 4 pi2 D / (t b2) where they are one. Along swages not above what the
    flat sheet between them bears.
    """
    flat = material.plate_stiffness(thickness)
    both = (flat, flat) if swages is None else stiffnesses(material, thickness, swages)
    per_width = 2 * pi**2 * ((both[0] * both[1]) ** 0.5 + flat) / thickness
    found = np.stack([per_width / bays[:, 1] ** 2, per_width / bays[:, 0] ** 2], axis=1)
    if swages is not None:
        along, across = along_and_across(swages)
        between = np.minimum(swages.pitch, bays[:, across])
        found[:, along] = np.minimum(found[:, along], 4.0 * euler(material, thickness, between))
    return found


def room_left(pressed: Array, sheared: Array, critical: tuple[Array, Array]) -> Array:
    """Return by how much stresses, pressed (m, k, 2) and sheared (m, k), may grow until their fields wave (m, k).

    critical: pressed (m, 2) and sheared (m,). Compression over its critical stress, both ways, plus the square of shear over its
    own, is 1 then: A r + B r2 = 1.
    """
    direct = np.sum(pressed / critical[0][:, None], axis=-1)
    root = np.sqrt(direct**2 + 4 * (sheared / critical[1][:, None]) ** 2) + direct
    found: Array = 2 / np.maximum(root, 1e-12)
    return found
