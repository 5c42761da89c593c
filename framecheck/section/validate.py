"""Is this a section that can be made? Every fault found, before the mesher sees anything."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from framecheck.errors import Fault, InputError
from framecheck.model.frame import Cut, Section
from framecheck.model.nesting import pieces_in
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
    OutlinePolygon,
    Piece,
    Plated,
    RectTube,
    RoundBar,
    RoundTube,
    Shape,
    Sleeve,
    Worn,
    ZShape,
)
from framecheck.section.boxes import as_new
from framecheck.section.faults_built_up import built_up_faults, drilled_faults, worn_faults
from framecheck.section.faults_pieces import Found, given_faults, piece_faults, size_faults


def section_faults(section: Section) -> tuple[Fault, ...]:
    """Return every fault in a section's sizes; what only shows in the outline (crossings, overlaps) is `touch`'s matter."""
    return tuple(Fault("", section.name, fault, remedy) for fault, remedy in shape_faults(section.shape))


PLAIN = (RectTube, Channel, Angle, Hat, ZShape, IShape, RoundTube, Flat)
RAILS = (BoxedChannel, FloorClosed, ChannelPair)
MADE_OF: Mapping[type, tuple[type, ...]] = {
    BoxedChannel: (Channel,),
    Sleeve: (RectTube, RoundTube, Channel),
    FloorClosed: (Channel, Hat),
    Plated: (RectTube, Channel, Hat, IShape, ZShape, Angle, Flat, *RAILS),
    ChannelPair: (Channel,),
    Worn: PLAIN,
    Drilled: (*PLAIN, *RAILS, Plated),
}
"""Of which pieces each shape of several can be made, each as new or worn, and (but in a sleeve) drilled before it was built in."""
TAKEN: Mapping[type, str] = {
    BoxedChannel: "a channel",
    Sleeve: "a rectangular or round tube over a tube or channel",
    FloorClosed: "a channel or hat",
    Plated: "a tube, channel, hat, I, Z, angle, flat, boxed channel, floor-closed section or channel pair",
    ChannelPair: "channels",
    Worn: "a piece of one thickness of metal",
    Drilled: "a piece, or a boxed, plated, floor-closed or paired one",
}
"""MADE_OF in words."""
WORDS: Mapping[type, str] = {
    RectTube: "a rectangular tube",
    Channel: "a channel",
    Angle: "an angle",
    Hat: "a hat",
    ZShape: "a Z",
    IShape: "an I",
    RoundTube: "a round tube",
    Flat: "a flat",
    RoundBar: "a round bar",
    OutlinePolygon: "an outline",
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
    return f"a worn section of {words_for(shape.base)}" if isinstance(shape, Worn) else WORDS[type(shape)]


def strange_parts(shape: Shape) -> tuple[Shape, ...]:
    """Return the parts of a shape of which it can't be made."""
    parts = pieces_in(shape)
    strange = [part for part in parts if not isinstance(part if isinstance(shape, Worn) else as_new(part), MADE_OF[type(shape)])]
    if isinstance(shape, Sleeve) and not isinstance(as_new(shape.outer), RectTube | RoundTube):
        strange.append(shape.outer)
    return tuple(dict.fromkeys(strange))


def other_way(shape: Shape, part: Shape) -> str:
    """Return what would do in place of a part of which a shape can't be made."""
    match shape, part:
        case Worn(), BoxedChannel() | FloorClosed() | Plated() | ChannelPair() | Sleeve():
            return "write the piece in it as `worn`, and build that up"
        case Worn(), Worn():
            return "write both losses in one"
        case Sleeve(), Drilled():
            return "leave the holes out of the sleeved length and drill the section beside it; bolts through a sleeve are a joint"
        case BoxedChannel() | FloorClosed() | ChannelPair(), Plated():
            return "write it the other way round: plates on what is closed or paired"
        case _:
            as_found = "" if isinstance(shape, Worn) else ", new or worn,"
            return f"take {TAKEN[type(shape)]}{as_found} or the sizes that are left as a plain piece"


def shape_faults(shape: Shape) -> Found:
    """Yield faults of a shape: first of the pieces in it, then, if those are sound, of how they fit."""
    strange = strange_parts(shape)
    for part in strange:
        yield f"a part of it is {words_for(part)}: {WORDS[type(shape)]} is not made of that", other_way(shape, part)
    if strange:
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
