"""What a section is to a beam: numbers, and the stress that each unit force makes at its surface."""

from __future__ import annotations

from math import inf

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.materials import Material
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
class Metal:
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
    metals: tuple[Metal, ...] = ()
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
