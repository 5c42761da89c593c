"""What a section is to a beam: its numbers, the stress that each unit force makes at its surface, and the metals of its parts."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, pi

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.frame import Section
from framecheck.model.shapes import RectTube
from framecheck.model.shop_tables import Material
from framecheck.value_class import array_class, value_class


@array_class
class UnitFields:
    """Stress at surface points per unit section force. Arrays are read-only.

    points: (n, 2) y, z from the centroid, m.
    normal: (n, 4) normal stress per unit N, Mv, Ms, B (1/m2, 1/m3, 1/m3, 1/m4).
    shear:  (n, 2, 4) tau_xy, tau_xz per unit Vy, Vz, T (Saint-Venant part), Tw (warping part) (1/m2, 1/m2, 1/m3, 1/m3).
    sharp:  (n,) bool, True beside a sharp re-entrant corner, where a peak does not converge with the mesh.
    metal:  (n,) the number of each point's metal in the section's `metals`; None: one metal. A point where two metals meet stands
    there twice.
    """

    points: Array
    normal: Array
    shear: Array
    sharp: BoolArray
    metal: IntArray | None = None


@value_class
class Wall:
    """A flat wall of a section for buckling checks: end points (y, z) from the centroid at its mid-line, flat width and thickness, m.

    free_start, free_end: True where that edge is held by nothing.
    metal: the number of its metal in the section's `metals`.
    gap: clear length between the welds or bolts that hold the whole of this sheet on the rest, m; 0: it is held all along.
    tip_gap: clear length between the welds or bolts that hold its free edge, m; inf: nothing holds it.
    """

    start: tuple[float, float]
    end: tuple[float, float]
    width: float
    thickness: float
    free_start: bool = False
    free_end: bool = False
    metal: int = 0
    gap: float = 0.0
    tip_gap: float = inf


@value_class
class Seam:
    """A line along which one part of a built-up section is joined to the rest, and the shear flow its joint must carry.

    place: (y, z) from the centroid, m; per_vertical, per_sideways: N/m per N of Vz and Vy, 1/m; per_torsion: N/m per Nm, 1/m2,
    as if the joint were continuous. Signs tell only whether two of them add or take away on this seam. part: the number of the part
    that it holds on.
    """

    name: str
    place: tuple[float, float]
    per_vertical: float
    per_sideways: float
    per_torsion: float
    part: int = 1


@value_class
class SectionMetal:
    """One of the metals that a section is made of, its area, m2, and its Young's modulus over the section's."""

    material: Material
    area: float
    young: float


@value_class
class Share:
    """What one part of a sleeved section carries of the forces on both, of 1: stretch, bending vertically and sideways, twist."""

    stretch: float
    vertical: float
    sideways: float
    twist: float


@value_class
class Critical:
    """At what force the lips or brims of a bent sheet turn, elastically, over E; inf for never.

    push: compression, m2; moments, m3, that stretch the top, bottom, left or right; bimoment with and against the warping field, m4.
    """

    push: float
    top: float
    bottom: float
    left: float
    right: float
    bimoment: float
    against: float


@array_class
class SectionProperties:
    """Properties in the section's own axes (y left, z up), SI.

    centroid: (y, z) from the middle of the outline's box; shear_centre: (y, z) from the centroid.
    box: (y_min, y_max, z_min, z_max) of the outline from the centroid.
    shear areas: inf where shear deformation is left out. closed: True where the twist runs round a closed cell.
    wagner: integral of stress times the square of the distance from the shear centre per unit Mv and per unit Ms, m: it adds to
    the torsional stiffness of a bent section (checks/lateral_buckling).
    torsion_bounds: lower and upper bound of the torsion constant, as far as known. seams: of a built-up section.
    distortion: of a bare bent sheet with lips or brims (section/distortion.py).
    metals: where its parts are of more than one; areas and second moments are then those of the transformed section, each part by its
    modulus over `youngs_modulus`, yield_strength is the least, plastic moduli are plastic moments over it. shares: of a sleeve and
    its core.
    without_stress: columns of a row of section forces (stress.py) whose stress the fields leave out, since it is not known.
    engine: "meshed", "mid-line" or "given". fields None: stress can't be given (catalogue numbers without fibre distances).
    """

    name: str
    area: float
    mass_per_length: float
    centroid: tuple[float, float]
    i_vertical: float
    i_sideways: float
    i_product: float
    torsion_constant: float
    warping_constant: float
    shear_centre: tuple[float, float]
    shear_area_vertical: float
    shear_area_sideways: float
    plastic_modulus_vertical: float
    plastic_modulus_sideways: float
    box: tuple[float, float, float, float]
    closed: bool
    youngs_modulus: float
    shear_modulus: float
    yield_strength: float
    engine: str
    fields: UnitFields | None = None
    walls: tuple[Wall, ...] = ()
    torsion_bounds: tuple[float, float] | None = None
    notes: tuple[str, ...] = ()
    seams: tuple[Seam, ...] = ()
    metals: tuple[SectionMetal, ...] = ()
    shares: tuple[Share, ...] = ()
    wagner: tuple[float, float] = (0.0, 0.0)
    without_stress: tuple[int, ...] = ()
    distortion: Critical | None = None

    @property
    def strengths(self) -> tuple[float, ...]:
        """Return the yield strength of each of its metals, Pa."""
        return tuple(each.material.yield_strength for each in self.metals) or (self.yield_strength,)

    @property
    def point_strengths(self) -> Array:
        """Return the yield strength at each surface point, (n,), Pa."""
        count = 0 if self.fields is None else len(self.fields.points)
        if self.fields is None or self.fields.metal is None:
            return np.full(count, self.yield_strength)
        found: Array = np.array(self.strengths)[self.fields.metal]
        return found

    @property
    def wall_strengths(self) -> Array:
        """Return the yield strength of each wall, (n_wall,), Pa."""
        found: Array = np.array(self.strengths)[[wall.metal for wall in self.walls] if self.metals else [0] * len(self.walls)]
        return found

    @property
    def wall_moduli(self) -> Array:
        """Return Young's modulus of each wall over the section's, (n_wall,)."""
        return np.array([self.metals[wall.metal].young if self.metals else 1.0 for wall in self.walls])


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


def metals_in(section: Section, areas: Sequence[float]) -> tuple[SectionMetal, ...]:
    """Return the metals with their areas, m2, in the order of `kinds_of`; () for one metal."""
    if not is_mixed(section):
        return ()
    young = section.material.youngs_modulus
    kinds = kinds_of(section)
    return tuple(SectionMetal(each, area, each.youngs_modulus / young) for each, area in zip(kinds, areas, strict=True))


def areas_by_metal(section: Section, numbers: IntArray, area: Array) -> list[float]:
    """Return the area of each metal from areas (m,) and the metal number of each (m,)."""
    found: list[float] = np.bincount(numbers, area, len(kinds_of(section))).tolist()
    return found


def mass_of(section: Section, area: float, metals: tuple[SectionMetal, ...]) -> float:
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


def least_yield(section: Section, metals: tuple[SectionMetal, ...]) -> float:
    """Return the least yield strength of what is there, Pa."""
    if not metals:
        return section.material.yield_strength
    return min(each.material.yield_strength for each in metals)


def metal_notes(section: Section) -> tuple[str, ...]:
    """Return what is to be said of a section's metals."""
    kinds = kinds_of(section)
    return (TOGETHER.format(", ".join(each.name for each in kinds)),) if len(kinds) > 1 else ()
