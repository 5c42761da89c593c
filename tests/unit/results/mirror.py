"""The mirror image of a case about its middle plane: y turns over, every name stays with its thing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

from framecheck.model.case import Case, LoadCase
from framecheck.model.duty import Detail
from framecheck.model.frame import Frame, Member, Orientation
from framecheck.model.joints import BoltGroup, InSplice, PatternPlane
from framecheck.model.loads import MovedSupport
from framecheck.model.plate import BoltedPlate, Edge, HeldEdge, Patch, PlateBolt, StiffenerRun
from framecheck.model.shapes import Side
from framecheck.model.suspension import AntiRollBar, LateralLinkage, LeafAxle, LinkAxle
from framecheck.model.vehicle import Axle, WheelPlace
from framecheck.model.weld_joints import SpotGroup

Way = tuple[float, float, float]
PLACES = frozenset(
    ("arm", "at", "contact", "anchor", "normal", "force", "force_start", "force_end", "linear", "about", "ball", "end", "start",
     "shackle_eye", "link_end", "pivot", "ends", "origin", "middle", "axes", "offset")
)  # fmt: skip
"""Fields that hold places and directions: y turns over. A number or a word under such a name stays."""
TURNS = frozenset(("moment", "angular"))
"""Fields that hold turns and moments: x and z turn over."""
OTHER_SIDE = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
OTHER_EDGE = {Edge.LEFT: Edge.RIGHT, Edge.RIGHT: Edge.LEFT}


def is_way(value: Any) -> bool:
    return isinstance(value, tuple) and len(value) == 3 and all(isinstance(each, float | int) for each in value)


def over(value: Any) -> Any:
    """Return a place or direction, or a tuple of them, on the other side."""
    if is_way(value):
        return (value[0], -value[1], value[2])
    return tuple(over(each) for each in value) if isinstance(value, tuple) else value


def back(way: Way) -> Way:
    return (-way[0], -way[1], -way[2])


def mirrored(value: Any) -> Any:
    """Return the mirror image of a value of the model."""
    if isinstance(value, tuple):
        return tuple(mirrored(each) for each in value)
    if isinstance(value, Mapping):
        return {key: mirrored(each) for key, each in value.items()}
    if not is_dataclass(value) or isinstance(value, type):
        return value
    inside = {each.name: mirrored(getattr(value, each.name)) for each in fields(value)}
    for name, each in inside.items():
        if name in PLACES:
            inside[name] = over(each)
        elif name in TURNS and is_way(each):
            inside[name] = (-each[0], each[1], -each[2])
    return turned_over(replace(value, **inside))


def turned_over(value: Any) -> Any:
    """Return a value whose parts are mirrored with what its own meaning asks: sides changed, patterns turned over."""
    match value:
        case InSplice():
            return replace(value, along=over(value.along))
        case Frame():
            return replace(value, points={name: over(at) for name, at in value.points.items()})
        case Member():
            return replace(value, roll=-value.roll)
        case Orientation():
            return Orientation(-value.quarter_turns % 4, not value.mirrored)
        case Axle():
            left, right = value.left, value.right
            pairs = {name: each[::-1] for name in ("dampers",) if (each := getattr(value, name, None))}
            return replace(value, left=replace(right, name=left.name), right=replace(left, name=right.name), **pairs)
        case LeafAxle():
            return replace(value, left=value.right, right=value.left)
        case LinkAxle():
            return replace(value, springs=value.springs[::-1])
        case LateralLinkage():
            return replace(value, brackets=value.brackets[::-1])
        case AntiRollBar():
            return replace(value, ends=value.ends[::-1], bushes=value.bushes[::-1])
        case MovedSupport():
            return replace(value, amount=-value.amount if value.direction in (1, 3, 5) else value.amount)
        case PatternPlane():
            return PatternPlane(back(over(value.across)), over(value.along), over(value.facing), value.origin)
        case BoltGroup():
            contact = value.contact and (-value.contact[1], -value.contact[0], *value.contact[2:])
            return replace(value, positions=across_over(value.positions), contact=contact)
        case SpotGroup():
            return replace(value, positions=across_over(value.positions))
        case Detail():
            return replace(value, side=value.side and OTHER_SIDE.get(value.side, value.side))
        case WheelPlace():
            return replace(value, wheel=other_words(value.wheel))
        case LoadCase():
            return mirrored_load_case(value)
        case BoltedPlate():
            return mirrored_plate(value)
    return value


def across_over(positions: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((-across, along) for across, along in positions)


def other_words(value: Any) -> Any:
    """Return words with left and right changed over."""
    if not isinstance(value, str):
        return value
    sides = {"left": "right", "right": "left"}
    return " ".join(sides.get(word, word) for word in value.split(" "))


def mirrored_load_case(case: LoadCase) -> LoadCase:
    """Return a load case from the other side; a pull's angle sideways turns over, a point keeps its name."""
    factors = {key: value if key in ("point", "points") else other_words(value) for key, value in case.factors.items()}
    angle = factors.get("sideways")
    if case.kind == "tow or recovery pull" and isinstance(angle, float):
        factors["sideways"] = -angle
    return replace(case, kind=other_words(case.kind), factors=factors, **other_side_of(case))


def other_side_of(case: LoadCase) -> dict[str, Any]:
    """Return the side that a load case happens on, if it says one, changed over."""
    side = getattr(case, "side", None)
    return {} if side is None else {"side": type(side)(other_words(side.value))}


def mirrored_plate(plate: BoltedPlate) -> BoltedPlate:
    """Return a plate turned over about its middle line along x: its y is counted from the right edge as before."""
    width = plate.width

    def spot(at: tuple[float, float]) -> tuple[float, float]:
        return (at[0], width - at[1])

    def patch(of: Patch) -> Patch:
        return replace(of, at=spot(of.at), drag_angle=-of.drag_angle)

    def stiffener(of: Any) -> Any:
        return replace(of, at=width - of.at) if of.run is StiffenerRun.X else replace(of, start=width - of.end, end=width - of.start)

    def edge(of: HeldEdge) -> HeldEdge:
        across = of.edge in (Edge.FRONT, Edge.REAR)
        points = of.frame_points[::-1] if of.frame_points and across else of.frame_points
        return replace(of, edge=OTHER_EDGE.get(of.edge, of.edge), frame_points=points)

    def bolt(of: PlateBolt) -> PlateBolt:
        return replace(of, at=spot(of.at))

    return replace(
        plate,
        along=over(plate.along),
        across=back(over(plate.across)),
        bolts=tuple(bolt(each) for each in plate.bolts),
        edges=tuple(edge(each) for each in plate.edges),
        stiffeners=tuple(stiffener(each) for each in plate.stiffeners),
        loads=tuple(replace(each, patch=patch(each.patch)) if hasattr(each, "patch") else each for each in plate.loads),
    )


def is_handed(case: LoadCase) -> bool:
    """Return whether a load case has a hand of its own: the shaft of an engine turns one way, and its mirror image the other."""
    return case.kind == "drive torque"


def without_handed(case: Case) -> Case:
    """Return a case without load cases that have a hand, and without the swings of its life that go to them."""
    handed = {each.name for each in case.load_cases if is_handed(each)}
    kept = replace(case, load_cases=tuple(each for each in case.load_cases if each.name not in handed))
    if kept.fatigue is None:
        return kept
    duty = kept.fatigue.duty
    events = tuple(each for each in duty.events if not handed & {each.high, each.low})
    return replace(kept, fatigue=replace(kept.fatigue, duty=replace(duty, events=events)))
