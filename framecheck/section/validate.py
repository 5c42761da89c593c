"""Is this a section that can be made? Faults of built-up and changed shapes, and all of a section's faults before it is meshed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from framecheck.errors import Fault, InputError
from framecheck.model.frame import Cut, Section
from framecheck.model.joining import BoltRow, Joining, StitchWeld
from framecheck.model.shape_parts import pieces_in
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    BuiltUp,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    GivenProperties,
    Hat,
    IShape,
    OutlinePolygon,
    Pairing,
    Piece,
    Plated,
    RectTube,
    RoundBar,
    RoundTube,
    Shape,
    Side,
    Sleeve,
    Worn,
    ZShape,
)
from framecheck.section.faults_pieces import Found, given_faults, mm, piece_faults, size_faults
from framecheck.section.shape_geometry import as_new, box_of, channel_in


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


Base = RectTube | Channel | Angle | Hat | ZShape | IShape | RoundTube | Flat


def built_up_faults(shape: BuiltUp) -> Found:
    """Yield what does not fit together in a built-up shape whose parts are sound."""
    yield from joining_faults(shape.joined)
    match shape:
        case BoxedChannel():
            yield from _boxed(shape)
        case Sleeve():
            yield from _sleeve(shape)
        case FloorClosed():
            yield from size_faults(shape)
        case Plated():
            if not shape.plates:
                yield "has no plates", "give one or more, or the base by itself"
            for plate in shape.plates:
                yield from size_faults(plate)
        case ChannelPair():
            yield from _pair(shape)


def joining_faults(joined: Joining) -> Found:
    """Yield a spacing that can't be."""
    if isinstance(joined, StitchWeld | BoltRow) and not joined.pitch > 0:
        yield "the pitch of its joints is zero or negative", "give the distance from joint to joint"
    if isinstance(joined, StitchWeld) and not 0 < joined.length <= joined.pitch:
        yield (
            f"stitches of {mm(joined.length)} do not fit a pitch of {mm(joined.pitch)}",
            "give a length up to the pitch, or weld all along",
        )


def _boxed(shape: BoxedChannel) -> Found:
    """Yield the faults of a boxed channel."""
    channel = channel_in(shape.channel)
    yield from size_faults(shape)
    if shape.inset is None:
        return
    if channel.lip:
        yield "an inset plate does not go between lips", "lay the plate over the lips: leave the inset out"
    room = channel.flange - channel.wall - channel.inside_radius
    if shape.inset + shape.plate > room:
        yield (
            f"inset {mm(shape.inset)} and plate {mm(shape.plate)} run into the bend: the flange is flat for {mm(room)}",
            "give a smaller inset",
        )


def _sleeve(shape: Sleeve) -> Found:
    """Yield a core that is too big for its sleeve, with the interference."""
    outer, core = as_new(shape.outer), shape.core
    if isinstance(outer, RoundTube) and not isinstance(as_new(core), RoundTube):
        return
    box = box_of(core)
    for name, room, size in zip(("high", "wide"), _inside(outer), (box.height, box.width), strict=True):
        if size > room + 1e-9:
            yield (
                f"the core is {mm(size)} {name}, the inside of the sleeve {mm(room)}: they interfere by {mm(size - room)}",
                "give a larger sleeve or a smaller core",
            )


def _inside(outer: Shape) -> tuple[float, float]:
    """Return the clear height and width of a sleeve; rust takes from the outside alone."""
    if isinstance(outer, RoundTube):
        return outer.diameter - 2 * outer.wall, outer.diameter - 2 * outer.wall
    assert isinstance(outer, RectTube)
    return outer.height - 2 * outer.wall, outer.width - 2 * outer.wall


def _pair(shape: ChannelPair) -> Found:
    """Yield the faults of two channels together."""
    first, second = channel_in(shape.first), channel_in(shape.second)
    if shape.pairing is Pairing.NESTED:
        room, inner = first.height - 2 * first.wall, box_of(shape.second).height
        if inner > room + 1e-9:
            fault = f"the inner channel is {mm(inner)} high, the outer one {mm(room)} inside: they interfere by"
            yield f"{fault} {mm(inner - room)}", "give a lower inner channel"
    elif shape.pairing is Pairing.TOE_TO_TOE and not (first.lip or second.lip):
        step = abs(first.height - second.height) / 2
        if step >= min(first.wall, second.wall):
            yield f"the flange tips stand {mm(step)} apart and do not meet", "give channels of one height"


def worn_faults(shape: Worn) -> Found:
    """Yield rust that eats through a wall, or lies on a side that has none."""
    walls = _wall_by_side(shape.base)
    losses = {Side.TOP: shape.top, Side.BOTTOM: shape.bottom, Side.LEFT: shape.left, Side.RIGHT: shape.right}
    if isinstance(shape.base, RoundTube) and len(set(losses.values())) > 1:
        yield "a round tube has one wall all round", "give the same loss for all four sides"
    for side, loss in losses.items():
        if loss and side not in walls:
            yield (
                f"there is no flat wall on its {side.value} to lose thickness",
                f"leave out the loss on the {side.value}",
            )
        elif loss and loss >= walls[side]:
            yield (
                f"a loss of {mm(loss)} eats through the {mm(walls[side])} wall on the {side.value}",
                "give what is left some thickness, or cut it out",
            )
    if shape.bends and shape.bends >= min(walls.values()):
        yield f"a loss of {mm(shape.bends)} at the bends eats through the wall", "give a smaller loss"


def _wall_by_side(base: Base) -> dict[Side, float]:
    """Return the thickness of the flat walls that lie on a side of the outline box."""
    match base:
        case RectTube() | RoundTube():
            return dict.fromkeys(Side, base.wall)
        case Channel():
            sides = (Side.TOP, Side.BOTTOM, Side.LEFT) + ((Side.RIGHT,) if base.lip else ())
            return dict.fromkeys(sides, base.wall)
        case Angle():
            return dict.fromkeys((Side.LEFT, Side.BOTTOM), base.wall)
        case Hat() | ZShape():
            return dict.fromkeys((Side.TOP, Side.BOTTOM), base.wall)
        case IShape():
            return dict.fromkeys((Side.TOP, Side.BOTTOM), base.flange)
        case Flat():
            return {Side.TOP: base.height, Side.BOTTOM: base.height, Side.LEFT: base.width, Side.RIGHT: base.width}


def drilled_faults(shape: Drilled) -> Found:
    """Yield holes without size or number."""
    if not shape.holes:
        yield "has no holes", "give one or more, or the section by itself"
    for hole in shape.holes:
        yield from size_faults(hole)
