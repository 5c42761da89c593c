"""What bolts do to a ply as a whole (block, net and gross section, heads pulled through), and what clamps it: tightening."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot, pi

import numpy as np

from framecheck.checks.bolt_strength import Strength, torn
from framecheck.checks.bolts.group import BoltForces
from framecheck.checks.joint_rows import Capacity, Judging, Line, judged, of_joint, unjudged_joint
from framecheck.model.arrays import Array, Vector
from framecheck.model.joints import Bolt, BoltGroup, JointTargets, Ply, PlyKind
from framecheck.results.row import Check, Mode, Sizing
from framecheck.results.subjects import Remark
from framecheck.value_class import value_class

BLOCK_SOURCE = "ANSI/AISC 360-22, eq. (J4-5), Ubs 1; holes: B4.3b"
NET_SOURCE = "ANSI/AISC 360-22, eq. (J4-2) and (J4-4); holes: B4.3b (s2 / 4g)"
GROSS_SOURCE = "ANSI/AISC 360-22, eq. (J4-1) and (J4-3) (ASD 1.67)"
PULL_SOURCE = "EN 1993-1-8:2005, table 3.4 (0.6 pi dm tp fu), from memory, without the partial factor; hexagon dm 1.616 d"
DAMAGE = 0.0254 / 16
"""What a hole counts as wider than it is drilled, m. ANSI/AISC 360-22, B4.3b."""
GROSS_FACTOR = 1.67
"""ANSI/AISC 360-22, J4.1(a), ASD."""
LAG = 0.9
"""Share of a flat sheet's net section that its bolts reach: 0.9 + 0.1 d / s, its least. AISI S100-16, table J6.2-1, from memory."""
HEAD = 1.5 * (1 + 2 / 3**0.5) / 2
"""Mean of width across flats and across corners of a hexagon head or nut over the bolt's diameter: 1.5 d across flats is the least of
the inch and metric series (ASME B18.2.1, ISO 4014, from memory)."""


@value_class
class TearBlock:
    """The areas of a block that tears out along the pull, m2: gross and net in shear, net in tension."""

    gross_shear: float
    net_shear: float
    net_tension: float


def block_shear(block: TearBlock, yield_strength: float, ultimate: float) -> float:
    """Return the strength against a block tearing out, N: min(0.60 Fu Anv, 0.60 Fy Agv) + Ubs Fu Ant.

    ANSI/AISC 360-22, eq. (J4-5); Ubs 1: even tension.
    """
    return 0.6 * min(ultimate * block.net_shear, yield_strength * block.gross_shear) + ultimate * block.net_tension


def block_tearing_en(block: TearBlock, yield_strength: float, ultimate: float, share: float = 1.0) -> float:
    """Return the block tearing strength, N, partial factors 1: share fu Ant + fy Anv / sqrt(3).

    EN 1993-1-8:2005, 3.10.2: share 1 for a symmetric group under a central pull, eq. (3.9); 0.5 off the middle, eq. (3.10).
    """
    return share * ultimate * block.net_tension + yield_strength * block.net_shear / 3**0.5


def block_of(places: Array, hole: float, edge: float, thickness: float) -> TearBlock:
    """Return the block round all bolts. places (n, 2): along the pull and aside, m; hole: counted diameter; edge: to the end, m.

    A hole counts with the part of it that lies within each plane, so that a bolt moved by a hair changes it by a hair.
    """
    along, aside = places[:, 0] - places[:, 0].min(), places[:, 1]
    deep, low, high = float(along.max()), float(aside.min()), float(aside.max())
    within = np.clip(0.5 + along / hole, 0.0, 1.0)
    lost = sum(float(np.sum(crossed(aside - line, hole) * within)) for line in (low, high))
    cover = np.clip(np.minimum(aside + hole / 2, high) - np.maximum(aside - hole / 2, low), 0.0, hole) / hole
    tension = high - low - float(np.sum(crossed(along, hole) * cover))
    gross = 2 * (edge + deep)
    return TearBlock(thickness * gross, thickness * max(gross - lost, 0.0), thickness * max(tension, 0.0))


def crossed(away: Array, hole: float) -> Array:
    """Return how much of a line a hole takes, m: the whole hole up to half a diameter off the line, none from a diameter on.

    No less than its chord, and without the chord's steep end: a hair more moves it by a hair.
    """
    return np.asarray(np.clip(2 * hole - 2 * np.abs(away), 0.0, hole))


def net_width(places: Array, hole: float, width: float) -> float:
    """Return the least net width of any chain of holes across the pull, m: each takes its width less s2 / 4g to the one before.

    ANSI/AISC 360-22, B4.3b. The whole pull is taken at that chain, wherever it lies.
    """
    order = places[np.argsort(places[:, 1], kind="stable")]
    lost: list[float] = []
    for number, (along, aside) in enumerate(order.tolist()):
        before = [0.0]
        for other, (along_before, aside_before) in enumerate(order[:number].tolist()):
            gauge, stagger = aside - aside_before, along - along_before
            back = stagger**2 / (4 * gauge) if gauge > 0 else (np.inf if stagger else 0.0)
            before.append(lost[other] - back)
        lost.append(hole + max(before))
    return max(width - max(lost), 0.0)


def ply_width(places: Array, ply: Ply) -> float:
    """Return the width of a ply across the pull, m: its least edge distance on both sides of its bolts."""
    return float(np.ptp(places[:, 1])) + 2 * (ply.edge or 0.0)


@value_class
class Way:
    """One way in which a ply is pulled as a whole: unit vectors along and aside (vehicle axes), and what holds a pull.

    net, gross: of its section, and its width, m; None at a tube's wall, which has no edges at its sides: a block alone.
    """

    along: Vector
    aside: Vector
    block: Capacity
    section: tuple[Capacity, Capacity, float] | None


def ways_of(group: BoltGroup, ply: Ply, targets: JointTargets) -> tuple[Way, ...]:
    """Return the two ways in which a ply is pulled, none where its edge is not known."""
    if ply.edge is None:
        return ()
    along, across = group.plane.along, group.plane.across
    spots = np.array(group.positions, dtype=np.float64)[:, ::-1]
    return tuple(
        Way(*axes, block_capacity(group, ply, places, targets), section_of(group, ply, places, targets))
        for places, axes in ((spots, (along, across)), (spots[:, ::-1], (across, along)))
    )


def whole_rows(group: BoltGroup, of: tuple[Ply, Sequence[Way]], case: str, forces: BoltForces) -> Iterator[Line]:
    """Yield the rows of a ply as a whole under what all bolts put on it."""
    ply, ways = of
    subject = of_joint(Check.BOLTS, group.name)
    force = forces.shear.sum(axis=0) * ply.share
    for way in ways:
        pull, aside = (float(each) for each in np.array([way.along, way.aside]) @ force)
        yield judged(subject, case, abs(pull), way.block)
        if way.section is not None:
            yield from section_rows(subject, (group.name, ply), case, way.section, (pull, aside, forces.twist * ply.share))


def block_capacity(group: BoltGroup, ply: Ply, places: Array, targets: JointTargets) -> Capacity:
    """Return what holds a block that tears out of a ply's end, N."""
    block = block_of(places, group.bolt.hole + DAMAGE, ply.edge or 0.0, ply.thickness)
    metal = (ply.material.yield_strength, ply.material.ultimate_strength)
    strength = block_shear(block, *metal)
    share = block_tearing_en(block, *metal) / max(strength, 1e-9)
    other = f"EN 1993-1-8:2005, 3.10.2 gives {100 * share:.0f} % of it, without its factors"
    least = torn(Strength(strength, 2.0, BLOCK_SOURCE), ply.thickness, targets.strength)
    return Capacity(Mode.BLOCK_SHEAR, least.value, least.asked, least.source, part=ply.name, note=other)


def section_of(
    group: BoltGroup, ply: Ply, places: Array, targets: JointTargets
) -> tuple[Capacity, Capacity, float] | None:
    """Return what a ply's net and gross section across a pull hold, N, and its width, m; None for a tube's wall."""
    if ply.kind is not PlyKind.PLATE:
        return None
    width = ply_width(places, ply)
    net = net_width(places, group.bolt.hole + DAMAGE, width) * ply.thickness * ply.material.ultimate_strength
    gross = width * ply.thickness * ply.material.yield_strength
    least = torn(Strength(net, 2.0, NET_SOURCE), ply.thickness, targets.strength, LAG)
    across = Capacity(Mode.PLY_NET, least.value, least.asked, least.source, part=ply.name, note=WIDTH_TAKEN)
    return across, Capacity(Mode.PLY_GROSS, gross, GROSS_FACTOR, GROSS_SOURCE, part=ply.name), width


def section_rows(
    of: Judging,
    part: tuple[str, Ply],
    case: str,
    section: tuple[Capacity, Capacity, float],
    load: tuple[float, float, float],
) -> Iterator[Line]:
    """Yield net and gross section of a ply across one of its ways; load: pull, shear aside, N; moment in its plane, Nm.

    The ply is taken to run on the way it is pulled: the shear counts, by von Mises, up to the pull. A moment is left open where the
    least width that the ply may have does not carry it: as the pull 4 M / width that uses as much of the plastic section.
    """
    (pull, aside, moment), (net, gross, width) = load, section
    joint, ply = part
    demand = hypot(pull, 3**0.5 * min(abs(pull), abs(aside)))
    yield judged(of, case, demand, net)
    yield judged(of, case, demand, gross)
    allowed = min(each.value / each.target for each in (net, gross))
    if 4 * moment / width > NONE * gross.value and demand + 4 * moment / width > allowed:
        reason = f"its width is not known, and {WIDTH_TAKEN} it would not carry the moment of the joint"
        yield unjudged_joint(joint, f"section of {ply.name} in bending in its plane", reason)


NONE = 1e-9
"""Share of what a section carries below which a moment is none."""
WIDTH_TAKEN = "as wide as its least edge distance on both sides of its bolts"


def pulled_through(diameter: float, thickness: float, ultimate: float) -> float:
    """Return the pull at which a hexagon head or nut punches through a ply, N. EN 1993-1-8:2005, table 3.4: 0.6 pi dm tp fu."""
    return 0.6 * pi * HEAD * diameter * thickness * ultimate


def pull_rows(group: BoltGroup, case: str, tension: float, targets: JointTargets) -> Iterator[Line]:
    """Yield that the head or nut of the bolt that pulls most, N, goes through a ply; nothing where none pulls."""
    for ply in group.plies if tension > 0.0 else ():
        strength = pulled_through(group.bolt.thread.diameter, ply.thickness, ply.material.ultimate_strength)
        row = Capacity(Mode.PULL_THROUGH, strength, targets.strength, PULL_SOURCE, part=ply.name)
        yield judged(of_joint(Check.BOLTS, group.name), case, tension, row)


SOURCE = "torque = K F d; clamp 0.75 of proof load for a joint to be undone, 0.90 for a permanent one, from memory"


@value_class
class Tightening:
    """How to tighten a bolt. clamp: N; torque: Nm for the middle K.

    least_clamp, most_clamp: what that torque really gives at the two ends of the range of K, N.
    """

    clamp: float
    torque: float
    least_clamp: float
    most_clamp: float
    source: str


def torque(factor: float, clamp: float, diameter: float) -> float:
    """Return K F d, Nm: the torque equation in its short form."""
    return factor * clamp * diameter


def tightening(bolt: Bolt) -> Tightening | None:
    """Return clamp, torque and the scatter that K brings; None where the bolt is not tightened to a known share."""
    if bolt.clamp is None or bolt.torque_factor is None:
        return None
    factor = bolt.torque_factor
    asked = torque(factor.middle, bolt.clamp, bolt.thread.diameter)
    return Tightening(
        clamp=bolt.clamp,
        torque=asked,
        least_clamp=asked / (factor.most * bolt.thread.diameter),
        most_clamp=asked / (factor.least * bolt.thread.diameter),
        source=f"{SOURCE}; K: {factor.source}",
    )


def shop_lines(group: BoltGroup) -> Iterator[Sizing | Remark]:
    """Yield the torque of a group's bolts and the clamp that it gives at both ends of its scatter."""
    found = tightening(group.bolt)
    if found is None:
        missing = "how far the bolts are tightened" if group.bolt.clamp is None else "the state of their threads"
        yield Remark(f"{group.name}: tightening torque", f"{missing} is not given, so no torque can be said")
        return
    for what, value, unit in (
        ("tightening torque", found.torque, "Nm"),
        ("clamp at that torque, at least", found.least_clamp, "N"),
        ("clamp at that torque, at most", found.most_clamp, "N"),
    ):
        yield Sizing(Check.BOLTS, group.name, what, value, unit, None, found.source)
