"""Section properties of any shape: given by a catalogue, read from the store, meshed, or by mid-line theory."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import product
from math import inf

import numpy as np

from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Cut, Section
from framecheck.model.joining import Action, ContinuousWeld
from framecheck.model.shape_parts import built_up_in
from framecheck.model.shapes import Drilled, GivenProperties, Shape, Sleeve
from framecheck.section.mesh import MesherMissingError, require_mesher
from framecheck.section.outline_built_up import box_sides, cut_parts, drilled_walls, parts_of
from framecheck.section.parts import Parts, loosened
from framecheck.section.properties import SectionProperties, UnitFields, metal_notes
from framecheck.section.shape_geometry import Lips, lips_of
from framecheck.section.store import SectionStore, decoded, encoded, section_key
from framecheck.section.touch import cut_depth_faults, part_faults
from framecheck.section.validate import cut_faults, refuse, section_faults
from framecheck.section.walls import cut_walls, in_metals, walls_of

Compute = Callable[[], SectionProperties]


def section_properties(section: Section, store: SectionStore | None = None) -> SectionProperties:
    """Return a section's properties and unit stress fields, SI.

    InputError: the shape can't be made; MeshError: it can be made but not meshed.
    """
    refuse(section_faults(section))
    if isinstance(section.shape, GivenProperties):
        return given_properties(section, section.shape)
    found = _kept(section, section_key(section), store, lambda: _computed(section))
    notes = (*section.notes, *found.notes, *metal_notes(section))
    return replace(found, notes=notes) if notes != found.notes else found


def net_properties(section: Section, cut: Cut, store: SectionStore | None = None) -> SectionProperties:
    """Return what a notch leaves of a section, SI; centroid: from the middle of the whole section's outline box."""
    refuse((*section_faults(section), *cut_faults(section, cut)))
    return _kept(section, section_key(section, cut), store, lambda: _notched(section, cut))


def _kept(section: Section, key: str, store: SectionStore | None, compute: Compute) -> SectionProperties:
    """Return what the store keeps, else compute and keep it. What mid-line theory gave in need is not kept."""
    content = store.get(key) if store else None
    found = decoded(content, section) if content else None
    if found is not None:
        return found
    fresh = compute()
    if store and fresh.engine == "meshed":
        store.put(key, encoded(fresh))
    return fresh


def _computed(section: Section) -> SectionProperties:
    """Return the meshed section, or mid-line theory's where the mesher can't be loaded."""
    try:
        require_mesher()
    except MesherMissingError as missing:
        return _by_mid_line(section, missing)

    parts = parts_of(section.shape)
    refuse(part_faults(section, parts))
    return with_lips(section, _meshed(section, parts))


def may_be_loose(shape: Shape) -> bool:
    """Return whether a shape has seams that may not hold: at intervals, or welded with a leg that may be too small."""
    joinings = [built.joined for built in built_up_in(shape) if not isinstance(built, Sleeve)]
    return any(not isinstance(each, ContinuousWeld) or each.leg is not None for each in joinings)


def with_lips(section: Section, found: SectionProperties) -> SectionProperties:
    """Return a section with what its lips or brims bear, where it is a bare bent sheet that has some."""
    if lips_of(section.shape) is not Lips.BARE:
        return found
    from framecheck.section.distortion import critical_distortion

    return replace(found, distortion=critical_distortion(found))


def _meshed(section: Section, parts: Parts) -> SectionProperties:
    """Return the meshed section; a drilled one from its base."""
    from framecheck.section.meshed_section import meshed_properties

    if isinstance(section.shape, Drilled):
        return _drilled(section, section.shape, parts)
    bonded = loosened(parts) if section.action is Action.LOOSE else parts
    return meshed_properties(section, bonded, in_metals(section, walls_of(section.shape)))


def _drilled(section: Section, shape: Drilled, net: Parts) -> SectionProperties:
    """Return a drilled section from its meshed base."""
    from framecheck.section.meshed_section import drilled_loose, drilled_properties

    base, whole = replace(section, shape=shape.base, action=Action.FULL), parts_of(shape.base)
    full = _meshed(base, whole)
    found = drilled_properties(section, shape, full, net, drilled_walls(shape.base, whole, shape.holes))
    if section.action is Action.FULL:
        return found
    return drilled_loose(full, found, _meshed(replace(base, action=Action.LOOSE), whole))


def _by_mid_line(section: Section, missing: MesherMissingError) -> SectionProperties:
    """Return mid-line theory's properties, saying so."""
    from framecheck.section.midline import midline_properties

    found = with_lips(section, midline_properties(section))
    return replace(found, notes=(*found.notes, f"by mid-line theory: {missing}"))


def _notched(section: Section, cut: Cut) -> SectionProperties:
    """Return the meshed net section."""
    require_mesher()
    from framecheck.section.meshed_section import meshed_properties

    whole = parts_of(section.shape)
    refuse((*part_faults(section, whole), *cut_depth_faults(section, cut, whole)))
    net, walls = cut_parts(whole, cut), in_metals(section, walls_of(section.shape))
    net = loosened(net) if section.action is Action.LOOSE else net
    return meshed_properties(section, net, cut_walls(walls, cut, box_sides(whole)))


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
