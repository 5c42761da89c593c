"""A frame made ready to be solved under everything that a case leaves open: sections, what notches leave of them, structures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from framecheck.frame.solve import bounds_of
from framecheck.frame.structure import Structure, structure_of
from framecheck.model.frame import Frame, Section, sections_at
from framecheck.model.joining import Action
from framecheck.section.analysis import may_be_loose, net_properties, section_properties
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore
from framecheck.value_class import array_class


@array_class
class Framed:
    """Section properties by name, and by (member, cut); the frame under each bound.

    loose: properties by name where seams are loose, {} where none can be; the structures in which they are stand last.
    """

    sections: Mapping[str, SectionProperties]
    loose: Mapping[str, SectionProperties]
    cuts: Mapping[tuple[str, str], SectionProperties]
    structures: tuple[Structure, ...]


def framed(frame: Frame, store: SectionStore | None) -> Framed:
    """Return a frame under every bound; where seams may not hold, with the parts they join as one and each by itself."""
    if not any(may_be_loose(section.shape) for section in frame.sections.values()):
        return _framed(frame, frame.sections, store, None)
    held = _framed(frame, frame.sections, store, Action.FULL)
    loose = _framed(frame, loosened(frame.sections), store, Action.LOOSE)
    return replace(held, loose=loose.sections, structures=(*held.structures, *loose.structures))


def loosened(sections: Mapping[str, Section]) -> dict[str, Section]:
    """Return the sections with those seams loose that may not hold."""
    return {
        name: replace(section, action=Action.LOOSE) if may_be_loose(section.shape) else section
        for name, section in sections.items()
    }


def _framed(
    frame: Frame, sections: Mapping[str, Section], store: SectionStore | None, action: Action | None
) -> Framed:
    """Return a frame whose seams act in one way."""
    found = {name: section_properties(section, store) for name, section in sections.items()}
    cuts = {
        (member.name, cut.name): net_properties(sections[sections_at(member, cut.at)[0]], cut, store)
        for member in frame.members
        for cut in member.cuts
    }
    bounds = (replace(bound, seams=action) for bound in bounds_of(frame, found))
    return Framed(found, {}, cuts, tuple(structure_of(frame, found, bound, cuts, store) for bound in bounds))
