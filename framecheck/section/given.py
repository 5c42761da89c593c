"""Properties that come from a catalogue, and the stress that can honestly be given from them."""

from __future__ import annotations

from itertools import product
from math import inf

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Section
from framecheck.model.shapes import GivenProperties
from framecheck.section.properties import SectionProperties, UnitFields

NO_FIBRES = "given without fibre distances: its bending stress can't be checked"
NO_TORSION = "given without a torsion modulus: its twist stress is left out"
NO_WARPING = "given without shape: the stress of held warping is left out"


def given_properties(section: Section, shape: GivenProperties) -> SectionProperties:
    """Return catalogue numbers as section properties; the reference point is the centroid."""
    material = section.material
    left, right, top, bottom = _reach(shape)
    return SectionProperties(
        name=section.name,
        area=shape.area,
        mass_per_length=shape.area * material.density,
        centroid=(0.0, 0.0),
        i_vertical=shape.i_vertical,
        i_sideways=shape.i_sideways,
        i_product=shape.i_product,
        torsion_constant=shape.torsion_constant,
        warping_constant=shape.warping_constant,
        shear_centre=shape.shear_centre,
        shear_area_vertical=shape.shear_area_vertical or inf,
        shear_area_sideways=shape.shear_area_sideways or inf,
        plastic_modulus_vertical=_modulus(shape.i_vertical, top, bottom),
        plastic_modulus_sideways=_modulus(shape.i_sideways, left, right),
        box=(-right, left, -bottom, top),
        closed=shape.warping_constant == 0,
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=material.yield_strength,
        engine="given",
        fields=_fields(shape) if shape.fibres else None,
        notes=_notes(shape),
        without_stress=_without_stress(shape),
    )


def _reach(shape: GivenProperties) -> tuple[float, float, float, float]:
    """Return fibre distances left, right, top, bottom; 0 where unknown."""
    if shape.fibres is None:
        return 0.0, 0.0, 0.0, 0.0
    top, bottom, left, right = shape.fibres
    return left, right, top, bottom


def _modulus(inertia: float, one: float, other: float) -> float:
    """Return the elastic modulus, in place of the unknown plastic one; 0 where the fibres are unknown."""
    furthest = max(one, other)
    return inertia / furthest if furthest else 0.0


def _notes(shape: GivenProperties) -> tuple[str, ...]:
    """Return what can't be checked."""
    missing = (
        (shape.fibres is None, NO_FIBRES),
        (shape.torsion_modulus is None, NO_TORSION),
        (shape.warping_constant > 0, NO_WARPING),
    )
    return tuple(note for applies, note in missing if applies)


TWIST, BIMOMENT = 3, 6
"""Columns of a row of section forces: T and B."""


def _without_stress(shape: GivenProperties) -> tuple[int, ...]:
    """Return the section forces whose stress is left out."""
    twist = () if shape.torsion_modulus is not None else (TWIST,)
    return (*twist, BIMOMENT) if shape.warping_constant > 0 else twist


def _fields(shape: GivenProperties) -> UnitFields:
    """Return stress at the corners of the fibre box, each twice: with the twist stress along and against the shear.

    On the safe side: the largest bending, shear (V / shear area) and twist (T / torsion modulus) are put in one place.
    """
    left, right, top, bottom = _reach(shape)
    corners = np.array([(y, z) for y, z, _ in product((left, -right), (top, -bottom), (1, -1))])
    way = np.array([float(w) for _, _, w in product((left, -right), (top, -bottom), (1, -1))])
    none = np.zeros(len(corners), dtype=np.bool_)
    return UnitFields(frozen(corners), frozen(_normal(shape, corners)), frozen(_shear(shape, way)), none)


def _normal(shape: GivenProperties, points: Array) -> Array:
    """Return normal stress per unit N, Mv, Ms, B, (n, 4), by unsymmetrical bending; none from B."""
    moments = np.array([[shape.i_sideways, shape.i_product], [shape.i_product, shape.i_vertical]])
    sideways, vertical = (points @ np.linalg.inv(moments)).T
    return np.stack([np.full(len(points), 1 / shape.area), vertical, sideways, np.zeros(len(points))], axis=1)


def _shear(shape: GivenProperties, way: Array) -> Array:
    """Return shear stress per unit Vy, Vz, T, Tw, (n, 2, 4); the twist stress acts with Vy and Vz or against them."""
    stress = np.zeros((len(way), 2, 4))
    stress[:, 0, 0] = 1 / shape.shear_area_sideways if shape.shear_area_sideways else 0.0
    stress[:, 1, 1] = 1 / shape.shear_area_vertical if shape.shear_area_vertical else 0.0
    if shape.torsion_modulus:
        stress[:, 1, 2] = way / shape.torsion_modulus
    return stress
