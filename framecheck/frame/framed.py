"""A frame made ready to be solved under every bound that its file leaves open: its sections, and how their seams act. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field, replace
from functools import lru_cache

from framecheck.frame.geometry import OneFrame
from framecheck.frame.results import Joints
from framecheck.frame.solve import bounds_of
from framecheck.frame.structure import Structure, structure_of
from framecheck.frame.unlike import unlike_bounds
from framecheck.model.frame import Frame, Section, sections_at
from framecheck.model.joining import Action
from framecheck.section.analysis import may_be_loose, net_properties, section_properties
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore
from framecheck.value_class import array_class, value_class


@array_class
class Framed:
    """Section properties by name, and by (member, cut); the frame under each bound.

    loose: properties by name where seams are loose, {} where none can be; the structures in which they are stand last.
    """

    sections: Mapping[str, SectionProperties]
    loose: Mapping[str, SectionProperties]
    cuts: Mapping[tuple[str, str], SectionProperties]
    structures: tuple[Structure, ...]


def framed(frame: Frame, store: SectionStore | None, unlike: bool = False) -> Framed:
    """Return a frame under every bound; where seams may not hold, with the parts they join as one and each by itself.

    unlike: also with some of the ends whose make is left out unlike the others.
    """
    is_loose = any(may_be_loose(section.shape) for section in frame.sections.values())
    ways = (Action.FULL, Action.LOOSE) if is_loose else (None,)
    found = [_framed(_Framing(OneFrame(frame), (frame.supports, frame.springs, frame.stiff_bodies), way, store)) for way in ways]
    apart = [_apart(frame, each, store) if unlike else () for each in found]
    structures = tuple(one for each, more in zip(found, apart, strict=True) for one in (*each.structures, *more))
    return replace(found[0], loose=found[-1].sections if is_loose else {}, structures=structures)


def loosened(sections: Mapping[str, Section]) -> dict[str, Section]:
    """Return the sections with those seams loose that may not hold."""
    return {
        name: replace(section, action=Action.LOOSE) if may_be_loose(section.shape) else section
        for name, section in sections.items()
    }


@value_class
class _Framing:
    """A frame, what holds and loads it, and how its seams act; where sections are kept tells nothing."""

    drawn: OneFrame
    held: tuple[object, ...]
    action: Action | None
    store: SectionStore | None = field(compare=False)


@lru_cache(maxsize=4)
def _framed(of: _Framing) -> Framed:
    """Return a frame whose seams act in one way, all ends whose make is left out alike."""
    frame, store = of.drawn.frame, of.store
    sections = loosened(frame.sections) if of.action is Action.LOOSE else frame.sections
    found = {name: section_properties(section, store) for name, section in sections.items()}
    cuts = {
        (member.name, cut.name): net_properties(sections[sections_at(member, cut.at)[0]], cut, store)
        for member in frame.members
        for cut in member.cuts
    }
    bounds = (replace(bound, seams=of.action) for bound in bounds_of(frame, found))
    return Framed(found, {}, cuts, tuple(structure_of(frame, found, bound, cuts, store) for bound in bounds))


def _apart(frame: Frame, of: Framed, store: SectionStore | None) -> Iterator[Structure]:
    """Yield the frame with some of the ends whose make is left out unlike the others."""
    for each in of.structures:
        if each.bound.joints is Joints.SOFT:
            for bound in unlike_bounds(frame, each.bound):
                yield structure_of(frame, of.sections, bound, of.cuts, store)
