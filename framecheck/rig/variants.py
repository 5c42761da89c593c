"""The frame as it may really be: every wall thicker or thinner, its joints softer, within what nobody can know from a drawing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np

from framecheck.frame.framed import loosened
from framecheck.frame.joints import seats_of
from framecheck.frame.kinks import kinks_of
from framecheck.frame.results import Bound
from framecheck.frame.solve import bounds_of
from framecheck.frame.structure import Structure, structure_of
from framecheck.model.body import Range
from framecheck.model.frame import Frame, Kinks, Make, MemberEnd, Section, StiffBody, sections_at
from framecheck.model.joining import Action
from framecheck.model.shapes import Angle, Channel, Hat, IShape, Plate, RectTube, RoundTube, ZShape
from framecheck.section.analysis import may_be_loose, net_properties, section_properties
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore
from framecheck.value_class import value_class

WALL_BAND = 0.10
"""How far a wall may be off what it is sold as: ASTM A500/A500M, wall thickness +-10 %; for other sections as for tubes."""
MODULUS_BAND = 0.02
"""How far the modulus of a metal may be off its table value (common practice, no source)."""
JOINT_POWER = 3.0
"""Springs of joints, kinks and splices follow the walls by this power: that of a plate's bending, the most that a wall can do."""
WALLS: dict[type, tuple[str, ...]] = {
    RectTube: ("wall",),
    Channel: ("wall",),
    Angle: ("wall",),
    Hat: ("wall",),
    ZShape: ("wall",),
    IShape: ("web", "flange"),
    RoundTube: ("wall",),
    Plate: ("thickness",),
}
"""The fields of a shape that are thicknesses of its walls; a shape built of others has theirs."""


def thicker(shape: Any, factor: float) -> Any:
    """Return a shape with all its walls times a factor; one that is told by numbers or solid stays."""
    own = {name: getattr(shape, name) * factor for name in WALLS.get(type(shape), ())}
    inner = {
        each.name: thicker_within(getattr(shape, each.name), factor)
        for each in fields(shape)
        if each.name not in own and is_made_of(getattr(shape, each.name))
    }
    flat = {name: getattr(shape, name) * factor for name in ("plate", "sheet") if isinstance(getattr(shape, name, None), float)}
    return replace(shape, **own, **inner, **flat)


def is_made_of(value: Any) -> bool:
    """Return whether a field holds a shape, or several."""
    return type(value) in WALLS or (isinstance(value, tuple) and bool(value) and type(value[0]) in WALLS) or is_shape(value)


def is_shape(value: Any) -> bool:
    """Return whether a value is a shape that is built of others."""
    return is_dataclass(value) and any(hasattr(value, name) for name in ("base", "channel", "outer", "first"))


def thicker_within(value: Any, factor: float) -> Any:
    """Return a shape, or each of several, with thicker walls."""
    return tuple(thicker(each, factor) for each in value) if isinstance(value, tuple) else thicker(value, factor)


def section_thicker(section: Section, factor: float) -> Section:
    """Return a section with all its walls times a factor."""
    sold = None if section.sold is None else thicker(section.sold, factor)
    return replace(section, shape=thicker(section.shape, factor), sold=sold)


def with_softness(frame: Frame, factor: float, ends: Sequence[tuple[Make, float]] = ()) -> Frame:
    """Return the frame with every joint so many times as soft as it is; ends: those of one kind of end so many times more."""
    by = {make: factor * own for make, own in ends}

    def softer(end: MemberEnd) -> MemberEnd:
        return replace(end, softness=end.softness * by.get(end.make, factor))

    return replace(frame, members=tuple(replace(each, start=softer(each.start), end=softer(each.end)) for each in frame.members))


def kinds_of_ends(frame: Frame) -> tuple[Make, ...]:
    """Return the kinds of member ends that give: those that stand on a wall and are not rigid, and those whose springs are given."""
    seated = seats_of(frame)
    found = set()
    for number, member in enumerate(frame.members):
        for end, made in ((0, member.start), (1, member.end)):
            if made.make is Make.GIVEN or ((number, end) in seated and made.make is not Make.RIGID):
                found.add(made.make)
    return tuple(make for make in Make if make in found)


def with_kinks(frame: Frame, kinks: Sequence[tuple[Kinks, float]], splices: float) -> Frame:
    """Return the frame with kinks of a kind, and its splices, so many times as soft as they are."""
    if not kinks and splices == 1.0:
        return frame
    soft = dict(frame.kink_softness)
    soft |= {made: soft.get(made, 1.0) * factor for made, factor in kinks}
    softer = tuple(replace(each, softness=each.softness * splices) for each in frame.splices)
    return replace(frame, kink_softness=tuple(soft.items()), splices=softer)


def kinds_of_kinks(frame: Frame) -> tuple[Kinks, ...]:
    """Return the kinds of kinks that a frame has; unsaid is one."""
    found = {each.made for each in kinks_of(frame)}
    return tuple(made for made in Kinks if made in found)


def with_body(frame: Frame, torsion: float, bending: float) -> Frame:
    """Return the frame with its stated body so many times as stiff as the middle of what is stated, and no range left."""
    if frame.body is None:
        return frame
    turning, pushing = torsion * middle(frame.body.torsion), bending * middle(frame.body.bending)
    return replace(frame, body=replace(frame.body, torsion=(turning, turning), bending=(pushing, pushing)))


def middle(of: Range) -> float:
    """Return the middle of a range."""
    return (of[0] + of[1]) / 2


def with_panels(frame: Frame, factor: float) -> Frame:
    """Return the frame with the sheet of every panel so many times as thick."""
    if factor == 1.0:
        return frame
    return replace(frame, panels=tuple(replace(each, thickness=each.thickness * factor) for each in frame.panels))


@value_class
class FoundFactors:
    """Factors of a frame: walls by section, joints' softness, that by kind of end, the thickness of panels, the stiffness of a stated
    body in torsion and in bending by the middle of what is stated; None: as stated. kinks: how soft, by kind; splices: how soft.
    """

    walls: tuple[tuple[str, float], ...] = ()
    joints: float = 1.0
    ends: tuple[tuple[Make, float], ...] = ()
    panels: float = 1.0
    body: tuple[float, float] | None = None
    kinks: tuple[tuple[Kinks, float], ...] = ()
    splices: float = 1.0


NOTHING_FOUND = FoundFactors()


@value_class
class ChangeOfFrame:
    """How a frame differs from its drawing: walls and modulus times so much, joints so many times as soft."""

    walls: float = 1.0
    joints: float = 1.0
    modulus: float = 1.0


AS_DRAWN = ChangeOfFrame()


def structures_of(frame: Frame, change: ChangeOfFrame, store: SectionStore | None) -> Iterator[Structure]:
    """Yield the frame with its walls and joints changed, under each bound, as `framed` does.

    Sections are worked out with their new walls; the springs of joints, kinks and splices, which take long to work out, follow them by
    the power of JOINT_POWER. The modulus is the caller's: it changes all readings alike.
    """
    follow = change.walls**-JOINT_POWER
    given = frame if follow == 1.0 else with_kinks(frame, [(made, follow) for made in kinds_of_kinks(frame)], follow)
    softer = with_softness(given, change.joints * follow)
    if not any(may_be_loose(section.shape) for section in frame.sections.values()):
        yield from _changed(softer, frame.sections, change.walls, store, None)
        return
    yield from _changed(softer, frame.sections, change.walls, store, Action.FULL)
    yield from _changed(softer, loosened(frame.sections), change.walls, store, Action.LOOSE)


def _changed(
    frame: Frame, sections: Mapping[str, Section], walls: float, store: SectionStore | None, action: Action | None
) -> Iterator[Structure]:
    """Yield a frame whose seams act in one way, with sections of changed walls."""
    thick = {name: section_thicker(each, walls) for name, each in sections.items()} if walls != 1.0 else sections
    found = {name: section_properties(each, store) for name, each in thick.items()}
    cuts = {
        (member.name, cut.name): net_properties(thick[sections_at(member, cut.at)[0]], cut, store)
        for member in frame.members
        for cut in member.cuts
    }
    for bound in bounds_of(frame, found):
        yield structure_of(frame, found, replace(bound, seams=action), cuts, store)


def is_made_of_walls(shape: Any) -> bool:
    """Return whether a shape has walls that may be thicker or thinner than they are sold as."""
    return bool(thicker(shape, 2.0) != shape)


NODES = (1 - WALL_BAND, 1.0, 1 + WALL_BAND)
"""Factors of the walls at which a section is worked out; between and beyond, its numbers follow the parabola through them."""
STIFF = (
    "area", "mass_per_length", "centroid", "i_vertical", "i_sideways", "i_product", "torsion_constant", "warping_constant",
    "shear_centre", "shear_area_vertical", "shear_area_sideways",
)  # fmt: skip
"""The numbers of a section that its stiffness is made of."""


class Springy:
    """A frame whose walls and joints are changed again and again: its sections are worked out three times, then read off parabolas.

    finds_body: whether a stated body is found too; its range then leaves nothing open.
    """

    def __init__(self, frame: Frame, store: SectionStore | None, finds_body: bool = False) -> None:
        self.frame, self.store = with_body(frame, 1.0, 1.0) if finds_body else frame, store
        self.nodes = {
            name: tuple(section_properties(section_thicker(each, factor), store) for factor in NODES)
            for name, each in frame.sections.items()
        }
        self.kinks = kinds_of_kinks(self.frame)
        self.bounds = bounds_of(self.frame, {name: each[1] for name, each in self.nodes.items()})

    def structure(self, found: FoundFactors, bound: Bound, bodies: tuple[StiffBody, ...] | None = None) -> Structure:
        """Return the frame with its sections' walls and its joints times so much, under a bound; joints, kinks and splices follow
        the rails' walls.

        bodies: what stands on mounts; None: as the frame has it.
        """
        walls = dict(found.walls)
        sections = {name: between_nodes(each, walls.get(name, 1.0)) for name, each in self.nodes.items()}
        cuts = {
            (member.name, cut.name): net_properties(self.frame.sections[sections_at(member, cut.at)[0]], cut, self.store)
            for member in self.frame.members
            for cut in member.cuts
        }
        rails = [stretch.section for member in self.frame.members if member.role == "rail" for stretch in member.stretches]
        thick = float(np.exp(np.mean([np.log(walls.get(name, 1.0)) for name in rails]))) if rails else 1.0
        follow = thick**-JOINT_POWER
        own = dict(found.kinks)
        kinks = [(made, own.get(made, 1.0) * follow) for made in self.kinks]
        given = with_kinks(with_panels(self.frame, found.panels), kinks, found.splices * follow)
        softer = with_softness(given, found.joints * follow, found.ends)
        whole = softer if found.body is None else with_body(softer, *found.body)
        return structure_of(whole if bodies is None else replace(whole, stiff_bodies=bodies), sections, bound, cuts, self.store)


def between_nodes(nodes: Sequence[SectionProperties], factor: float) -> SectionProperties:
    """Return a section with walls times a factor: the parabola through its numbers at NODES."""
    if factor == 1.0:
        return nodes[1]
    weights = [
        np.prod([(factor - other) / (node - other) for other in NODES if other != node]) for node in NODES
    ]
    return replace(nodes[1], **{name: mixed([getattr(each, name) for each in nodes], weights) for name in STIFF})


def mixed(values: Sequence[Any], weights: Sequence[Any]) -> Any:
    """Return the weighted sum of numbers, or of tuples of them; what has no end stays."""
    if isinstance(values[0], tuple):
        return tuple(mixed(each, weights) for each in zip(*values, strict=True))
    total = float(sum(weight * value for weight, value in zip(weights, values, strict=True)))
    return total if np.isfinite(total) else values[1]
