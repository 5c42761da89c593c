"""Section properties of any shape, whole or notched: given, stored or meshed; by mid-line theory where there is no mesher."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from framecheck.model.frame import Cut, Section
from framecheck.model.joining import Action, ContinuousWeld
from framecheck.model.nesting import built_up_in
from framecheck.model.shapes import Drilled, GivenProperties, Shape, Sleeve
from framecheck.section.codec import decoded, encoded
from framecheck.section.given import given_properties
from framecheck.section.lips import Lips, lips_of
from framecheck.section.mesh import MesherMissingError, require_mesher
from framecheck.section.metals import metal_notes
from framecheck.section.parts import Parts, loosened
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore, section_key
from framecheck.section.validate import cut_faults, refuse, section_faults

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
    from framecheck.section.assembly import parts_of
    from framecheck.section.touch import part_faults

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
    from framecheck.section.walls import in_metals, walls_of

    if isinstance(section.shape, Drilled):
        return _drilled(section, section.shape, parts)
    bonded = loosened(parts) if section.action is Action.LOOSE else parts
    return meshed_properties(section, bonded, in_metals(section, walls_of(section.shape)))


def _drilled(section: Section, shape: Drilled, net: Parts) -> SectionProperties:
    """Return a drilled section from its meshed base."""
    from framecheck.section.assembly import parts_of
    from framecheck.section.changed import drilled_walls
    from framecheck.section.drilled import drilled_loose, drilled_properties

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
    from framecheck.section.assembly import parts_of
    from framecheck.section.changed import box_sides, cut_parts
    from framecheck.section.meshed_section import meshed_properties
    from framecheck.section.touch import cut_depth_faults, part_faults
    from framecheck.section.walls import cut_walls, in_metals, walls_of

    whole = parts_of(section.shape)
    refuse((*part_faults(section, whole), *cut_depth_faults(section, cut, whole)))
    net, walls = cut_parts(whole, cut), in_metals(section, walls_of(section.shape))
    net = loosened(net) if section.action is Action.LOOSE else net
    return meshed_properties(section, net, cut_walls(walls, cut, box_sides(whole)))
