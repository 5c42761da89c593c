"""The lengths of a member that lie beside a weld, or beside what the file does not say is none."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from enum import Enum

import numpy as np

from framecheck.checks.heat import footprint
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Kinks, Make, Member, MemberEnd, Section, Splices, sections_at
from framecheck.model.joining import BoltRow
from framecheck.model.joints import AtMemberEnd, AtPoint, BoltGroup, GivenLoads, InSplice, PinnedSleeve, Terminal
from framecheck.model.loads import CaseLoads
from framecheck.model.shape_parts import shapes_within
from framecheck.model.shapes import Drilled, RectTube, RoundTube, Shape, Worn
from framecheck.model.weld_joints import Bracket, Joint, SpotGroup, Stitch, WeldGroup
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class, value_class

REACH = 0.025
"""How far from a weld the metal counts as softened, m (one inch: AISI and Aluminum Design Manual practice for weld-affected zones,
from memory; EN 1999-1-1:2007, 6.1.6.3, asks 20 to 30 mm for walls up to 12 mm, from memory)."""

KINK = 0.0087
"""The least turn at a point that counts as a kink, rad (half a degree: less is how a drawing is rounded)."""


class Why(Enum):
    """Why metal is taken as softened, in words; {} is the name of a point, member or joint."""

    END = "beside its welded end at '{}'"
    OPEN_END = "beside its end at '{}', taken as welded: describe the bolts there if it is bolted"
    END_PLATE = "beside its end at '{}': a plate for its bolts is taken as welded on"
    MEMBER = "beside '{}', welded on"
    OPEN_MEMBER = "beside the end of '{}', taken as welded: describe the bolts there if it is bolted"
    WELD = "beside weld '{}'"
    BRACKET = "beside bracket '{}', taken as welded: describe its bolts if it is bolted"
    MOUNT = "beside what is fixed at '{}', taken as welded: describe its bolts if it is bolted"
    KINK = "at the kink at '{}', taken as mitred and welded: write 'kinks: bent' if it is bent"
    MITRE = "at the mitred kink at '{}'"
    CHANGE = "where section {} begins, taken as welded: write 'splices: bolted' or 'formed from one piece' if it is"
    SPLICE = "where section {} is welded on"
    TAPER = "along the taper {}, taken as cut and welded: write 'splices: formed from one piece' if it is"
    SEAM = "along the welded seams of section {}"
    STITCH = "along the seams of stitch weld '{}'"


@value_class
class SoftenedZone:
    """A length of a member beside a weld, m from its first point; name: of what is welded there."""

    why: Why
    name: str
    low: float
    high: float

    @property
    def words(self) -> str:
        """Return why it is taken as softened."""
        return self.why.value.format(self.name)


@array_class
class Shop:
    """What is known of how a frame is made. loaded: points where something from outside pulls; sections: properties by name."""

    case: Case
    sections: Mapping[str, SectionProperties]
    loaded: Collection[str]

    @property
    def frame(self) -> Frame:
        """Return the frame."""
        return self.case.frame


def shop_of(case: Case, sections: Mapping[str, SectionProperties], loads: Collection[CaseLoads]) -> Shop:
    """Return what is known of how a case's frame is made."""
    frame = case.frame
    loaded = {load.point for each in loads for load in each.point_loads if any((*load.force, *load.moment))}
    loaded |= {support.point for support in frame.supports}
    loaded |= {support.point for each in loads for support in each.supports or ()}
    loaded |= {point for spring in frame.springs for point in spring.points}
    loaded |= {mount.point for body in frame.stiff_bodies for mount in body.mounts}
    return Shop(case, sections, frozenset(loaded))


def zones_of(shop: Shop, member: Member, span: tuple[float, float]) -> tuple[SoftenedZone, ...]:
    """Return the softened lengths of a member, within its span: the stations of its ends, m."""
    found = (
        *own_ends(shop, member, span),
        *members_on(shop, member),
        *joints_on(shop, member),
        *mounts_on(shop, member),
        *kinks_of(shop, member),
        *changes_of(shop, member),
        *seams_of(shop, member, span),
    )
    clipped = (SoftenedZone(z.why, z.name, max(z.low - REACH, span[0]), min(z.high + REACH, span[1])) for z in found)
    return tuple(zone for zone in clipped if zone.low <= zone.high)


def ends_of(member: Member) -> tuple[tuple[str, MemberEnd, Terminal], ...]:
    """Return each end's point, make and name."""
    return (member.points[0], member.start, Terminal.START), (member.points[-1], member.end, Terminal.END)


def bolts_at(shop: Shop, member: Member, end: Terminal) -> tuple[BoltGroup | PinnedSleeve, ...]:
    """Return the bolts that hold a member's end."""
    place = AtMemberEnd(member.name, end)
    return tuple(
        each for each in shop.case.joints if isinstance(each, BoltGroup | PinnedSleeve) and each.place == place
    )


def own_ends(shop: Shop, member: Member, span: tuple[float, float]) -> Iterator[SoftenedZone]:
    """Yield the member's own ends, unless pinned or bolted through its walls."""
    for (point, end, terminal), at in zip(ends_of(member), span, strict=True):
        bolts = bolts_at(shop, member, terminal)
        if end.make is Make.PINNED and not bolts:
            continue
        if not bolts:
            yield SoftenedZone(Why.OPEN_END if end.make in (Make.UNSAID, Make.GIVEN) else Why.END, point, at, at)
        elif any(isinstance(each, BoltGroup) and faces_along(shop, member, point, each) for each in bolts):
            yield SoftenedZone(Why.END_PLATE, point, at, at)


def faces_along(shop: Shop, member: Member, point: str, bolts: BoltGroup) -> bool:
    """Return whether bolts run along a member, so that they sit in a plate on its end and not in its walls."""
    legs = footprint.legs_at(shop.frame, member, point)
    return bool(np.abs(legs @ np.array(bolts.plane.facing)).max() > 0.5)


def members_on(shop: Shop, member: Member) -> Iterator[SoftenedZone]:
    """Yield the ends of other members at this one's points, unless pinned or bolted."""
    stations = footprint.stations_at(shop.frame, member)
    for other in shop.frame.members:
        for point, end, terminal in ends_of(other):
            if other is member or point not in stations or end.make is Make.PINNED or bolts_at(shop, other, terminal):
                continue
            stretch = other.stretches[0 if terminal is Terminal.START else -1]
            legs = footprint.legs_at(shop.frame, member, point)
            of = other, terminal is Terminal.START, shop.sections[stretch.section]
            least, most = footprint.foot(shop.frame, legs, *of)
            if point in (member.points[0], member.points[-1]):
                least, most = footprint.spliced(shop.frame, legs, *of) or (least, most)
            why = Why.OPEN_MEMBER if end.make in (Make.UNSAID, Make.GIVEN) else Why.MEMBER
            yield SoftenedZone(why, other.name, stations[point] + least, stations[point] + most)


def point_of(shop: Shop, joint: Joint) -> str | None:
    """Return the frame point that a joint sits at; None where it sits at none."""
    if isinstance(joint, Stitch) or isinstance(joint.place, GivenLoads | InSplice):
        return None
    if isinstance(joint.place, AtPoint):
        return joint.place.point
    member = next(each for each in shop.frame.members if each.name == joint.place.member)
    return member.points[0 if joint.place.end is Terminal.START else -1]


def joints_on(shop: Shop, member: Member) -> Iterator[SoftenedZone]:
    """Yield the weld groups, spots, welded brackets and stitches on a member."""
    stations, bolted = footprint.stations_at(shop.frame, member), bolted_points(shop)
    for joint in shop.case.joints:
        if isinstance(joint, Stitch) and joint.member == member.name:
            yield SoftenedZone(Why.STITCH, joint.name, 0.0, max(stations.values()))
        yield from laps_on(shop.frame, joint, member, stations)
        point = point_of(shop, joint)
        if point not in stations or not isinstance(joint, WeldGroup | SpotGroup | Bracket):
            continue
        if isinstance(joint, Bracket) and point in bolted and not joint.doubler:
            continue
        legs = footprint.legs_at(shop.frame, member, point)
        least, most = footprint.along(legs, footprint.weld_offsets(joint))
        why = Why.BRACKET if isinstance(joint, Bracket) else Why.WELD
        yield SoftenedZone(why, joint.name, stations[point] + least, stations[point] + most)


def laps_on(frame: Frame, joint: Joint, member: Member, stations: Mapping[str, float]) -> Iterator[SoftenedZone]:
    """Yield the length over which a member is welded to another that it laps."""
    if isinstance(joint, WeldGroup | SpotGroup) and isinstance(joint.place, InSplice):
        splice = next(each for each in frame.splices if each.name == joint.place.splice)
        tied = [stations[point] for pair in splice.ties for point in pair if point in stations and member.name in splice.members]
        if tied:
            yield SoftenedZone(Why.WELD, joint.name, min(tied), max(tied))


def bolted_points(shop: Shop) -> frozenset[str]:
    """Return the points at which something is bolted on: bolt groups there, bolts of skid plates."""
    groups = {
        each.place.point
        for each in shop.case.joints
        if isinstance(each, BoltGroup | PinnedSleeve) and isinstance(each.place, AtPoint)
    }
    plates = {bolt.frame_point for plate in shop.case.plates for bolt in plate.bolts if bolt.frame_point is not None}
    return frozenset(groups | plates)


def mounts_on(shop: Shop, member: Member) -> Iterator[SoftenedZone]:
    """Yield the points where something from outside pulls and the file does not say that it is bolted on."""
    told = bolted_points(shop) | {
        point_of(shop, each) for each in shop.case.joints if isinstance(each, WeldGroup | SpotGroup | Bracket)
    }
    pinned = {point for point, end, _ in ends_of(member) if end.make is Make.PINNED}
    for point, at in footprint.stations_at(shop.frame, member).items():
        if point in shop.loaded and point not in told and point not in pinned:
            yield SoftenedZone(Why.MOUNT, point, at, at)


def kinks_of(shop: Shop, member: Member) -> Iterator[SoftenedZone]:
    """Yield the kinks of a member that is not said to be bent."""
    if member.kinks is Kinks.BENT:
        return
    stations = footprint.stations_at(shop.frame, member)
    for point in member.points[1:-1]:
        angle = footprint.turn_between(footprint.legs_at(shop.frame, member, point))
        if angle >= KINK:
            beside = (shop.sections[name] for name in sections_at(member, stations[point]))
            half = max(footprint.mitre_half(angle, each) for each in beside)
            why = Why.MITRE if member.kinks is Kinks.MITRED else Why.KINK
            yield SoftenedZone(why, point, stations[point] - half, stations[point] + half)


def changes_of(shop: Shop, member: Member) -> Iterator[SoftenedZone]:
    """Yield the places where one section follows another, and tapers, unless they are bolted or formed from one piece."""
    if member.splices in (Splices.BOLTED, Splices.FORMED):
        return
    begun = 0.0
    for stretch, following in zip(member.stretches, (*member.stretches[1:], None), strict=True):
        here = shop.frame.sections[stretch.section]
        if here.family and isinstance(here.shape, RectTube | RoundTube):
            yield SoftenedZone(Why.TAPER, f"'{here.family}'", begun, min(stretch.until, 1e9))
        if following is not None and welded_change(here, shop.frame.sections[following.section]):
            why = Why.SPLICE if member.splices is Splices.WELDED else Why.CHANGE
            yield SoftenedZone(why, f"'{following.section}'", stretch.until, stretch.until)
        begun = stretch.until


def welded_change(first: Section, second: Section) -> bool:
    """Return whether one section followed by another may be a weld: not within a taper, of one piece worn or drilled, or bolted on."""
    if first.family or second.family or (bare(first.shape), first.material) == (bare(second.shape), second.material):
        return False
    return not any(isinstance(joined, BoltRow) for each in (first, second) for joined in joinings(each.shape))


def bare(shape: Shape) -> Shape:
    """Return a shape as it was before rust and drill."""
    while isinstance(shape, Worn | Drilled):
        shape = shape.base
    return shape


def joinings(shape: Shape) -> Iterator[object]:
    """Yield how the parts of a section are joined, part by part."""
    yield from (each.joined for each in shapes_within(shape) if hasattr(each, "joined"))


def seams_of(shop: Shop, member: Member, span: tuple[float, float]) -> Iterator[SoftenedZone]:
    """Yield the stretches whose section has seams that are welded, all along or in stitches."""
    begun = span[0]
    for stretch in member.stretches:
        if any(not isinstance(each, BoltRow) for each in joinings(shop.frame.sections[stretch.section].shape)):
            yield SoftenedZone(Why.SEAM, f"'{stretch.section}'", begun, min(stretch.until, span[1]))
        begun = stretch.until
