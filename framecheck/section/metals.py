"""The metals of a section whose parts are not all of one: moduli over the reference, strength over the least, and areas."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Section
from framecheck.model.materials import Material
from framecheck.model.shapes import RectTube
from framecheck.section.properties import Metal

Stiffness = tuple[tuple[float, float], ...]
"""Young's and shear modulus of each part over those that the whole is referred to."""
TOGETHER = (
    "its parts are of different metals: {}; area, second moments and torsion constant are those of the transformed section, "
    "each part by its modulus over that of the first"
)


def kinds_of(section: Section) -> tuple[Material, ...]:
    """Return the different metals of a section, that of the piece that was there first leading."""
    return tuple(dict.fromkeys((section.material, *section.metals)))


def is_mixed(section: Section) -> bool:
    """Return whether a section is of more than one metal."""
    return len(kinds_of(section)) > 1


def numbers_of(section: Section, part: IntArray) -> IntArray:
    """Return the number of the metal of each part number."""
    kinds = kinds_of(section)
    if len(kinds) == 1:
        return np.zeros_like(part)
    of_part = np.array([kinds.index(metal) for metal in section.metals], dtype=np.int64)
    numbers: IntArray = of_part[part]
    return numbers


def stiffness_of(section: Section) -> Stiffness:
    """Return the moduli of each part over those of the section's material; (): one metal."""
    if not is_mixed(section):
        return ()
    whole = section.material
    return tuple(
        (each.youngs_modulus / whole.youngs_modulus, each.shear_modulus / whole.shear_modulus)
        for each in section.metals
    )


def strength_shares(section: Section, numbers: IntArray) -> Array:
    """Return the yield strength of each metal number over the least one."""
    strengths = np.array([each.yield_strength for each in kinds_of(section)])
    shares: Array = (strengths / strengths.min())[numbers]
    return shares


def metals_in(section: Section, areas: Sequence[float]) -> tuple[Metal, ...]:
    """Return the metals with their areas, m2, in the order of `kinds_of`; () for one metal."""
    if not is_mixed(section):
        return ()
    young = section.material.youngs_modulus
    kinds = kinds_of(section)
    return tuple(Metal(each, area, each.youngs_modulus / young) for each, area in zip(kinds, areas, strict=True))


def areas_by_metal(section: Section, numbers: IntArray, area: Array) -> list[float]:
    """Return the area of each metal from areas (m,) and the metal number of each (m,)."""
    found: list[float] = np.bincount(numbers, area, len(kinds_of(section))).tolist()
    return found


def mass_of(section: Section, area: float, metals: tuple[Metal, ...]) -> float:
    """Return the mass per length, kg/m; where a thinner design wall is counted on, that of the wall it is sold by."""
    if not metals:
        return area * section.material.density * _heavier(section)
    return sum(each.area * each.material.density for each in metals)


def _heavier(section: Section) -> float:
    """Return how much heavier a tube is as sold than with its design wall."""
    if section.sold is None or not isinstance(section.shape, RectTube):
        return 1.0
    return _area(section.sold) / _area(section.shape)


def _area(tube: RectTube) -> float:
    """Return the area of a rectangular tube, m2: the outer rectangle less the inner one, corners rounded."""
    t, r = tube.wall, tube.outside_radius
    inner = (tube.height - 2 * t) * (tube.width - 2 * t) - (4 - pi) * max(r - t, 0.0) ** 2
    return tube.height * tube.width - (4 - pi) * r**2 - inner


def least_yield(section: Section, metals: tuple[Metal, ...]) -> float:
    """Return the least yield strength of what is there, Pa."""
    if not metals:
        return section.material.yield_strength
    return min(each.material.yield_strength for each in metals)


def metal_notes(section: Section) -> tuple[str, ...]:
    """Return what is to be said of a section's metals."""
    kinds = kinds_of(section)
    return (TOGETHER.format(", ".join(each.name for each in kinds)),) if len(kinds) > 1 else ()
