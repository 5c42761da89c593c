"""A rig from what is asked: stands, loads and dials on the frame of a case. One function a kind of rig, one row in RIGS each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Vector
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member
from framecheck.rig.corner import corner
from framecheck.rig.places import (
    axle_pairs,
    between,
    length_of,
    mean_x,
    pair_at,
    runs_across,
    spot_at_point,
    spot_on,
    twist_dials,
)
from framecheck.rig.setup import UP, AskedTest, Dial, HeldFront, Part, Rig, RigKind, Spot, Stand
from framecheck.study.frame_measures import bare
from framecheck.units import INCH, Units

ARM = {Units.SI: 1.0, Units.US: 40 * INCH}
"""m; from the pivot to where the weight hangs, where nothing else is said: a beam that two people carry."""
Four = tuple[tuple[Spot, Spot], tuple[Spot, Spot]]


def rig_of(case: Case, asked: AskedTest) -> Rig:
    """Return the rig that is asked for on a case's frame. InputError: it can't stand there."""
    with_bodies = asked.bodies or asked.kind is RigKind.CORNER
    tested = replace(case, frame=replace(case.frame, supports=())) if with_bodies else bare(case)
    found = RIGS[asked.kind](replace(tested, vehicle=case.vehicle), asked)
    return refuse_same_places(found)


def refuse_same_places(rig: Rig) -> Rig:
    """Return a rig whose stands span an area. InputError where they stand in one line."""
    at = np.array([stand.at for stand in rig.stands])
    spread = np.linalg.svd(at[:, :2] - at[:, :2].mean(axis=0), compute_uv=False)
    if spread[1] < 1e-6 * max(spread[0], 1e-12):
        fault = "the stands would be in one line, so the frame falls over"
        raise InputError([Fault("", "test", fault, "say between which points: --front LEFT RIGHT --rear LEFT RIGHT")])
    return rig


def upward(spot: Spot, share: float) -> Part:
    """Return an upward force of so many newtons per newton of load at a spot."""
    return Part(spot, (0.0, 0.0, share))


def alone(name: str, spot: Spot, words: str) -> Stand:
    """Return a stand under one spot."""
    return Stand(name, spot.at, (upward(spot, 1.0),), words)


def across(name: str, pair: tuple[Spot, Spot], words: str) -> Stand:
    """Return a stand in the middle of a beam under two spots."""
    x, y, z = ((a + b) / 2 for a, b in zip(pair[0].at, pair[1].at, strict=True))
    return Stand(name, (x, y, z), tuple(upward(spot, 0.5) for spot in pair), words)


def torsion(case: Case, asked: AskedTest) -> Rig:
    """Return the front twisted against the rear that stands still."""
    front, rear, notes = axle_pairs(case, asked)
    span = front[0].at[1] - front[1].at[1]
    pivoted = asked.held is HeldFront.THREE
    arm = (asked.arm or ARM[case.written_in]) if pivoted else span
    share = arm / span
    pivot = across(PIVOT_NAME if pivoted else "front jacks, their mean", front, PIVOT if pivoted else JACKS)
    stands = (*rear_stands(rear), pivot)
    dials, planes = twist_dials(case.frame, front, rear, asked.planes)
    return Rig(
        asked=asked,
        frame=case.frame,
        load_words=PIVOT_LOAD if pivoted else JACK_LOAD,
        loads=(upward(front[0], share), upward(front[1], -share)),
        stands=stands,
        dials=dials,
        torque=arm,
        planes=planes,
        notes=(*notes, *(() if pivoted else (LEVELLED,))),
    )


PIVOT_NAME = "front pivot"
PIVOT = (
    "a beam across under both rails, on one pivot (a round bar along the frame) in its middle, which carries the weight too; "
    "rails strapped to the beam"
)
JACKS = "one jack on a scale under each rail; after each change both are brought back to the height where they stood in the mean"
PIVOT_LOAD = "weight hung from the beam's right end, so that the left rail goes up (− : from its left end)"
JACK_LOAD = "force moved from the right jack to the left: left scale so much more, right scale so much less (− : the other way)"
LEVELLED = "On two jacks the frame may also go up and down as a whole: dials read that too; twist is told from left less right."
TIED = "a stand under the rail, the rail chained down to it; free to slide lengthwise"
FIXED = "a stand under the rail, the rail chained down to it and kept from sliding"


def rear_stands(rear: tuple[Spot, Spot]) -> tuple[Stand, Stand]:
    """Return the rear's two stands."""
    return alone("rear left stand", rear[0], FIXED), alone("rear right stand", rear[1], TIED)


def four_stands(front: tuple[Spot, Spot], rear: tuple[Spot, Spot]) -> tuple[Stand, ...]:
    """Return stands under both rails at both axles."""
    names = ("front left stand", "front right stand", "rear left stand", "rear right stand")
    return tuple(
        alone(name, spot, FIXED if name.startswith("rear left") else TIED)
        for name, spot in zip(names, (*front, *rear), strict=True)
    )


def stand_dials(stands: Sequence[Stand]) -> tuple[Dial, ...]:
    """Return a dial at each stand, to read its give."""
    return tuple(Dial(f"at {each.name}", each.parts[0].spot, UP, at_stand=True) for each in stands)


def beaming(case: Case, asked: AskedTest) -> Rig:
    """Return the frame bent downwards between its axles by weights on both rails."""
    front, rear, notes = axle_pairs(case, asked)
    stands = four_stands(front, rear)
    places = list(between(mean_x(front), mean_x(rear), 3))
    pairs = [pair for x in places if (pair := pair_at(case.frame, x)) is not None]
    middle = pair_at(case.frame, places[1])
    if middle is None:
        raise InputError([Fault("", "test", "no rail passes mid wheelbase on both sides", "choose another rig: --rig torsion")])
    names = ("front quarter", "middle", "rear quarter") if len(pairs) == 3 else ("middle",)
    dials = tuple(
        Dial(f"{name} {side}", spot)
        for name, pair in zip(names, pairs if len(pairs) == 3 else [middle], strict=True)
        for side, spot in zip(("left", "right"), pair, strict=True)
    )
    sag = tuple(number for number, dial in enumerate(dials) if dial.name.startswith("middle"))
    return Rig(
        asked=asked,
        frame=case.frame,
        load_words="weight on both rails at mid wheelbase, half on each, all told",
        loads=tuple(upward(spot, -0.5) for spot in middle),
        stands=stands,
        dials=(*dials, *stand_dials(stands)),
        sag=sag,
        notes=notes,
    )


def bracket(case: Case, asked: AskedTest) -> Rig:
    """Return the frame held at both axles and pulled at one of its points."""
    if asked.at not in case.frame.points:
        known = "name a frame point: --at POINT"
        fault = f"'{asked.at}' is no point of the frame" if asked.at else "a pull on a bracket needs the point it is made at"
        raise InputError([Fault("", "test", fault, known)])
    front, rear, notes = axle_pairs(case, asked)
    stands, spot = four_stands(front, rear), spot_at_point(case.frame, asked.at)
    dials = (Dial(f"{asked.at}", spot, asked.direction), *neighbours(case.frame, spot, asked.direction))
    return Rig(
        asked=asked,
        frame=case.frame,
        load_words=f"pull at {asked.at}, {direction_words(asked.direction)}",
        loads=(Part(spot, asked.direction),),
        stands=stands,
        dials=(*dials, *stand_dials(stands)),
        sag=(0,),
        notes=(*notes, "The bracket itself and its wall are not in these readings: set the dial on the rail, not on the bracket."),
    )


def neighbours(frame: Frame, spot: Spot, direction: Vector) -> Iterator[Dial]:
    """Yield dials at the ends of the longest member that a point lies on, left before right, front before rear."""
    members = [each for each in frame.members if spot.point in each.points]
    member = max(members, key=lambda each: round(length_of(frame, each), 6), default=None)
    if member is None:
        return
    others = [name for name in (member.points[0], member.points[-1]) if name != spot.point]
    for name in sorted(others, key=lambda name: tuple(-part for part in frame.points[name][1::-1])):
        yield Dial(f"{name}", spot_at_point(frame, name), direction)


WAYS = {(1.0, 0.0, 0.0): "forward", (-1.0, 0.0, 0.0): "rearward", (0.0, 1.0, 0.0): "to the left",
        (0.0, -1.0, 0.0): "to the right", (0.0, 0.0, 1.0): "upward", (0.0, 0.0, -1.0): "downward"}  # fmt: skip


def direction_words(direction: Vector) -> str:
    """Return a direction in words."""
    return WAYS.get(direction, "along " + ", ".join(f"{part:g}" for part in direction))


def crossmember(case: Case, asked: AskedTest) -> Rig:
    """Return a crossmember pressed downwards in its middle, the rails held beside its ends and at the axle that is farther away."""
    member = crossmember_named(case.frame, asked.at)
    front, rear, notes = axle_pairs(case, asked)
    ends = tuple(spot_at_point(case.frame, name) for name in (member.points[0], member.points[-1]))
    left, right = sorted(ends, key=lambda each: -each.at[1])
    x = (left.at[0] + right.at[0]) / 2
    far, where = max(((front, "front"), (rear, "rear")), key=lambda each: abs(mean_x(each[0]) - x))
    middle = spot_on(case.frame, member, length_of(case.frame, member) / 2, f"middle of {member.name}")
    quarter = [spot_on(case.frame, member, length_of(case.frame, member) * share, "") for share in (0.25, 0.75)]
    stands = (
        alone("left stand", left, FIXED),
        alone("right stand", right, TIED),
        across(f"{where} bar", far, "a bar across under both rails, on one stand in its middle"),
    )
    quarter.sort(key=lambda spot: -spot.at[1])
    dials = (
        Dial("middle", middle),
        *(Dial(f"quarter {side}", spot) for side, spot in zip(("left", "right"), quarter, strict=True)),
    )
    return Rig(
        asked=asked,
        frame=case.frame,
        load_words=f"press down on the middle of {member.name}",
        loads=(upward(middle, -1.0),),
        stands=stands,
        dials=(*dials, *stand_dials(stands[:2])),
        sag=(0,),
        notes=notes,
    )


def crossmember_named(frame: Frame, name: str) -> Member:
    """Return a crossmember by name. InputError where there is none of that name."""
    every = [each for each in frame.members if each.role != "rail" and runs_across(frame, each)]
    found = [each for each in every if each.name == name]
    if not found:
        fault = f"'{name}' is no crossmember of the frame" if name else "a crossmember to press is not named"
        named = ", ".join(each.name for each in every[:8]) or "none"
        raise InputError([Fault("", "test", fault, f"name one with --at: {named}")])
    return found[0]


RIGS: Mapping[RigKind, Callable[[Case, AskedTest], Rig]] = {
    RigKind.TORSION: torsion,
    RigKind.CORNER: corner,
    RigKind.BEAMING: beaming,
    RigKind.BRACKET: bracket,
    RigKind.CROSSMEMBER: crossmember,
}
