"""Is this a section that can be made? Every fault found, before the mesher sees anything."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from framecheck.errors import Fault, InputError
from framecheck.model.frame import Cut, Section
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    GivenProperties,
    Hat,
    IShape,
    Piece,
    Plated,
    RectTube,
    RoundTube,
    Shape,
    Sleeve,
    Worn,
    ZShape,
    pieces_in,
)
from framecheck.section.faults_built_up import built_up_faults, drilled_faults, worn_faults
from framecheck.section.faults_pieces import Found, given_faults, piece_faults, size_faults


def section_faults(section: Section) -> tuple[Fault, ...]:
    """Return every fault in a section's sizes; what only shows in the outline (crossings, overlaps) is `touch`'s matter."""
    return tuple(Fault("", section.name, fault, remedy) for fault, remedy in shape_faults(section.shape))


MADE_OF: Mapping[type, tuple[type, ...]] = {
    BoxedChannel: (Channel,),
    Sleeve: (RectTube, RoundTube, Channel),
    FloorClosed: (Channel, Hat),
    Plated: (RectTube, Channel, Hat, IShape, ZShape, Angle, Flat),
    ChannelPair: (Channel,),
    Worn: (RectTube, Channel, Angle, Hat, ZShape, IShape, RoundTube, Flat),
    Drilled: (RectTube, Channel, Angle, Hat, ZShape, IShape, RoundTube, Flat, BoxedChannel),
}
"""Of which pieces each shape of several can be made."""
WORDS: Mapping[type, str] = {
    BoxedChannel: "a boxed channel",
    Sleeve: "a sleeve",
    FloorClosed: "a floor-closed section",
    Plated: "a plated section",
    ChannelPair: "a channel pair",
    Worn: "a worn section",
    Drilled: "a drilled section",
    GivenProperties: "a section of given properties",
}


def words_for(shape: Shape) -> str:
    """Return what a shape is, in words."""
    return WORDS.get(type(shape), "of another shape")


def shape_faults(shape: Shape) -> Found:
    """Yield faults of a shape: first of the pieces in it, then, if those are sound, of how they fit."""
    strange = [part for part in pieces_in(shape) if not isinstance(part, MADE_OF[type(shape)])]
    if isinstance(shape, Sleeve) and not isinstance(shape.outer, RectTube | RoundTube):
        strange.append(shape.outer)
    if strange:
        fault = f"a part of it is {' and '.join(words_for(part) for part in strange)}: {words_for(shape)} is made of plain pieces"
        yield fault, "give that part's sizes as they are left, as a plain piece"
        return
    inner = [found for part in pieces_in(shape) for found in shape_faults(part)]
    yield from inner
    if inner:
        return
    match shape:
        case GivenProperties():
            yield from given_faults(shape)
        case BoxedChannel() | Sleeve() | FloorClosed() | Plated() | ChannelPair():
            yield from built_up_faults(shape)
        case Worn():
            yield from _sized(shape, worn_faults(shape))
        case Drilled():
            yield from drilled_faults(shape)
        case _:
            yield from _sized(shape, piece_faults(shape))


def _sized(shape: Piece | Worn, further: Found) -> Found:
    """Yield faults of sizes, and only if there are none the further ones."""
    sizes = list(size_faults(shape))
    yield from sizes or further


def cut_faults(section: Section, cut: Cut) -> tuple[Fault, ...]:
    """Return the faults of a notch by itself, and of one in a section without outline."""
    found: list[tuple[str, str]] = []
    if isinstance(section.shape, GivenProperties):
        found.append(
            (f"the cut {cut.name} needs an outline, and only numbers are given", "describe the section by its shape")
        )
    if not cut.depth > 0:
        found.append((f"the cut {cut.name} has no depth", "give a depth above zero"))
    about = ("frame", "cuts", cut.name)
    return tuple(Fault("", section.name, fault, remedy, about) for fault, remedy in found)


def refuse(faults: Sequence[Fault]) -> None:
    """Raise every fault at once, if there are any."""
    if faults:
        raise InputError(faults)
