"""Suspensions: the left side as written, the right side as its mirror image."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from framecheck.model.arrays import Vector
from framecheck.model.suspension import (
    AntiRollBar,
    Arm,
    BumpStop,
    CoilSpring,
    Corner,
    Damper,
    DoubleWishbone,
    LateralLinkage,
    LeafAxle,
    LeafSpring,
    Link,
    LinkAxle,
    LiveAxle,
    Strut,
    SuspensionBracket,
    TrailingArm,
)
from framecheck.reading.blocks.common import XYZ, vector
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.form import Record
from framecheck.value_class import value_class


def whole_place(builder: FrameBuilder, record: Record, needed: tuple[str, ...] = ("y", "z")) -> Vector:
    """Return a place of a suspension or steering; one that is not wholly written is told: what acts there acts along another line."""
    for key in needed:
        if not record.given(key):
            what = f"its {key} is not written, so 0 was taken"
            builder.diagnostics.take(record.line, record.subject, what, f"write {key}; 0 where it is 0")
    return vector(record)


@value_class
class Hand:
    """One side of the vehicle: sign 1 for the left, as written, -1 for the right, its mirror image."""

    builder: FrameBuilder
    sign: float

    def place(self, record: Record) -> Vector:
        """Return a place on this side."""
        x, y, z = whole_place(self.builder, record)
        return (x, self.sign * y, z)

    def point(self, name: str) -> str:
        """Return the point on this side: "front axle" and "left front axle" both mean the left one on the left."""
        builder = self.builder
        known = builder.point(name) if builder.point(name) in builder.points else builder.point(f"left {name}")
        if self.sign > 0:
            return known
        mirror = builder.point(mirrored_name(known))
        return mirror if mirror in builder.points else known

    def bracket(self, value: str | Record) -> SuspensionBracket:
        """Return a bracket on this side."""
        if isinstance(value, str):
            return SuspensionBracket(self.point(value))
        own = self.builder.points.get(self.builder.point(value["point"]), None)
        if all(value[key] is None for key in XYZ):
            return SuspensionBracket(self.point(value["point"]))
        left = own or self.builder.points[self.builder.point(f"left {value['point']}")]
        x, y, z = (left[n] if value[key] is None else value[key] for n, key in enumerate(XYZ))
        return SuspensionBracket(self.point(value["point"]), (x, self.sign * y, z))

    def arm(self, record: Record) -> Arm:
        """Return a wishbone."""
        return Arm((self.bracket(record["front"]), self.bracket(record["rear"])), self.place(record["ball"]))

    def link(self, record: Record, name: str) -> Link:
        """Return a rod."""
        return Link(name, self.place(record["end"]), self.bracket(record["bracket"]))

    def spring(self, record: Record) -> CoilSpring:
        """Return a coil spring."""
        stop = record["stop"]
        return CoilSpring(
            end=self.place(record["end"]),
            bracket=self.bracket(record["bracket"]),
            rate=record["rate"],
            bump=record["bump"],
            droop=record["droop"],
            stop=self._stop(stop),
            stop_rate=record["bump stop rate"],
            strap=self._stop(record["droop strap"]),
            strap_rate=record["droop strap rate"],
        )

    def _stop(self, record: Record | None) -> BumpStop | None:
        return None if record is None else BumpStop(self.place(record["end"]), self.bracket(record["bracket"]))


def mirrored_name(name: str) -> str:
    """Return a name with left and right changed over."""
    change = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}
    return " ".join(change.get(word, word) for word in name.split(" "))


def double_wishbone(hand: Hand, record: Record) -> Corner:
    """Return one side of double wishbones."""
    return DoubleWishbone(
        upper=hand.arm(record["upper arm"]),
        lower=hand.arm(record["lower arm"]),
        tie_rod=hand.link(record["tie rod"], "tie rod"),
        spring=hand.spring(record["spring"]),
        spring_on=record["spring on"],
    )


def strut(hand: Hand, record: Record) -> Corner:
    """Return one side of a strut suspension."""
    return Strut(hand.arm(record["lower arm"]), hand.link(record["tie rod"], "tie rod"), hand.spring(record["spring"]))


def trailing_arm(hand: Hand, record: Record) -> Corner:
    """Return one side of a trailing arm suspension."""
    return TrailingArm((hand.bracket(record["inner"]), hand.bracket(record["outer"])), hand.spring(record["spring"]))


CORNERS: Mapping[str, Callable[[Hand, Record], Corner]] = {
    "double wishbone": double_wishbone,
    "strut": strut,
    "trailing arm": trailing_arm,
}


def corner_of(hand: Hand, record: Record | None) -> Corner | None:
    """Return how a wheel hangs on the frame, None where that is not known or it is a live axle."""
    return None if record is None or record["kind"] not in CORNERS else CORNERS[record["kind"]](hand, record)


def live_axle_of(left: Hand, right: Hand, record: Record | None) -> LiveAxle | None:
    """Return the suspension of a live axle, None where it is none."""
    if record is None or record["kind"] in CORNERS:
        return None
    if record["kind"] == "leaf springs":
        return LeafAxle(leaf_spring(left, record), leaf_spring(right, record))
    return link_axle(left, right, record)


def leaf_spring(hand: Hand, record: Record) -> LeafSpring:
    """Return one leaf spring."""
    return LeafSpring(
        eye=hand.bracket(record["eye"]),
        shackle_eye=hand.place(record["shackle eye"]),
        shackle=hand.bracket(record["shackle"]),
        rate=record["rate"],
        bump=record["bump"],
        droop=record["droop"],
        stop=None if record["stop"] is None else hand.bracket(record["stop"]),
        stop_rate=record["bump stop rate"],
        strap_rate=record["droop strap rate"],
    )


def link_axle(left: Hand, right: Hand, record: Record) -> LinkAxle:
    """Return a live axle on links: those of both sides in pairs, the others as written."""
    links: list[Link] = []
    for each in record["links"]:
        name = each["name"]
        if each["both sides"]:
            links += [left.link(each, f"left {name}"), right.link(each, f"right {name}")]
        else:
            links.append(left.link(each, name))
    linkage = record["lateral linkage"]
    return LinkAxle(
        links=tuple(links),
        springs=(left.spring(record["spring"]), right.spring(record["spring"])),
        linkage=None if linkage is None else _linkage(left, right, linkage),
        link_rate=record["link rate"],
    )


def _linkage(left: Hand, right: Hand, record: Record) -> LateralLinkage:
    pivot = whole_place(left.builder, record["pivot"], ("z",))  # it stands in the middle
    return LateralLinkage(pivot, (left.bracket(record["bracket"]), right.bracket(record["bracket"])))


def bar_of(left: Hand, right: Hand, record: Record | None) -> AntiRollBar | None:
    """Return an anti-roll bar, None where there is none."""
    if record is None:
        return None
    return AntiRollBar(
        rate=record["rate"],
        ends=(left.place(record["end"]), right.place(record["end"])),
        bushes=(left.bracket(record["bush"]), right.bracket(record["bush"])),
        on=record["on"],
    )


def dampers_of(left: Hand, right: Hand, record: Record | None) -> tuple[Damper, Damper] | None:
    """Return the dampers of an axle, None where they are not described."""
    if record is None:
        return None
    one, other = (
        Damper(hand.place(record["end"]), hand.bracket(record["bracket"]), record["force"], record["at speed"])
        for hand in (left, right)
    )
    return one, other


def points_hung_on(suspension: object, of: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Return the frame points of all brackets in a suspension, in the order written."""
    if isinstance(suspension, SuspensionBracket):
        return (*of, suspension.point)
    if isinstance(suspension, tuple):
        for each in suspension:
            of = points_hung_on(each, of)
    elif hasattr(suspension, "__dataclass_fields__"):
        for name in suspension.__dataclass_fields__:
            of = points_hung_on(getattr(suspension, name), of)
    return tuple(dict.fromkeys(of))
