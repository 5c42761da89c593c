"""The rows of a bolt group: every mode, worst bolt, the governing one first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.checks.bolt_strength import (
    BOTH_SOURCE,
    SOURCES,
    TUBE_SOURCE,
    Strength,
    bearing_of_metal,
    bearing_of_tube_wall,
    largest_edge,
    least_edge,
    least_spacing,
    shear_strength,
    slip_as_aimed,
    slip_resistance,
    tension_strength,
    torn_out,
    used_by_both,
    weakest,
)
from framecheck.checks.bolts.group import (
    BY_MEMBER,
    TAKEN,
    BoltForces,
    all_bolt_forces,
    taken_prying,
    tension_with_prying,
)
from framecheck.checks.bolts.group import SOURCE as PRYING_SOURCE
from framecheck.checks.bolts.plies import pull_rows, ways_of, whole_rows
from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint, unjudged_joint
from framecheck.model.arrays import Array
from framecheck.model.joints import (
    ASKED,
    HAND_TIGHT,
    Bolt,
    BoltGroup,
    JointLoad,
    JointTargets,
    Ply,
    PlyKind,
    Prying,
    Tightened,
)
from framecheck.model.shop_tables import EdgeDistance
from framecheck.results.row import Check, Mode


def check_group(
    group: BoltGroup,
    loads: Sequence[JointLoad],
    edges: tuple[EdgeDistance, ...],
    targets: JointTargets = ASKED,
    offset: float | None = None,
) -> tuple[Line, ...]:
    """Return a row a mode (worst bolt, worst load case), governing first, and what could not be checked.

    offset: from the bolts to the face of what pulls, m; None: not known.
    """
    pry = flanges(group, offset)
    rows: list[Line] = list(layout(group, edges))
    plies = [(ply, shear_capacities(group, ply, targets), ways_of(group, ply, targets)) for ply in group.plies]
    for load, forces in zip(loads, all_bolt_forces(group, loads), strict=True):
        shear = np.linalg.norm(forces.shear, axis=1)
        rows += strength_rows(group, load.load_case, (shear, forces.tension), pry, targets)
        rows += slip_rows(group, load.load_case, shear, forces.tension, targets)
        rows += pull_rows(group, load.load_case, float(forces.tension.max()), targets)
        for ply, capacities, ways in plies:
            rows += ply_rows(group, (ply, capacities), load.load_case, float(shear.max()))
            rows += whole_rows(group, (ply, ways), load.load_case, forces)
        rows += left_over(group, load.load_case, forces)
    return governing_first(rows)


Pry = tuple[tuple[Prying, ...], str]
"""What may pry bolts, and what was taken for it where the file does not write it."""


def strength_rows(
    group: BoltGroup, case: str, forces: tuple[Array, Array], pry: Pry, targets: JointTargets
) -> Iterator[Line]:
    """Yield shear, tension and both together. forces: shear and tension per bolt, each (n,), N."""
    subject, bolt = of_joint(Check.BOLTS, group.name), group.bolt
    shear, tension = forces
    in_shear, in_tension = shear_strength(bolt), pulling_strength(bolt, pry)
    sheared = Capacity(Mode.BOLT_SHEAR, in_shear.value, targets.strength, in_shear.source, part=bolt.threads.value)
    yield judged(subject, case, float(shear.max()), sheared)
    pulled = tension_capacity(pry, in_tension, targets)
    if tension.max() > 0.0:
        yield judged(subject, case, float(tension.max()), pulled)
    used = max(used_by_both(v / in_shear.value, t / in_tension.value) for v, t in zip(shear, tension, strict=True))
    yield judged(subject, case, used, Capacity(Mode.BOLT_BOTH, 1.0, targets.strength, BOTH_SOURCE, "1"))
    if not pry[0] and tension.max() > 0.0:
        reason = "the flange's bolt offset, edge and thickness are not given; a thin flange adds to the tension"
        yield unjudged_joint(group.name, "prying", reason, "write the group's `prying`")


def flanges(group: BoltGroup, offset: float | None) -> Pry:
    """Return what may pry the bolts: as the file writes it, else every plate of the joint by its own size."""
    if group.prying is not None:
        return (group.prying,), ""
    plates = tuple(each for each in (taken_prying(group, ply, offset) for ply in group.plies) if each is not None)
    return plates, TAKEN if offset is None else BY_MEMBER


def pulling_strength(bolt: Bolt, pry: Pry) -> Strength:
    """Return the tension strength per bolt, with prying where the flange is known."""
    alone = tension_strength(bolt)
    pried = min((tension_with_prying(bolt, alone.value, each) for each in pry[0]), default=alone.value)
    return Strength(pried, alone.asked, f"{alone.source}; {PRYING_SOURCE}" if pry[0] else alone.source)


def tension_capacity(pry: Pry, strength: Strength, targets: JointTargets) -> Capacity:
    """Return the tension capacity under its name: bolt alone, or bolt and flange with prying."""
    if not pry[0]:
        return Capacity(Mode.BOLT_TENSION, strength.value, targets.strength, strength.source)
    return Capacity(Mode.BOLT_TENSION_PRYING, strength.value, targets.strength, strength.source, note=pry[1])


def slip_rows(group: BoltGroup, case: str, shear: Array, tension: Array, targets: JointTargets) -> Iterator[Line]:
    """Yield the slip of the bolt nearest to slipping, or why slip was not checked."""
    bolt = group.bolt
    resistances = [slip_resistance(bolt, float(each)) for each in tension]
    known = np.array([each for each in resistances if each is not None])
    if bolt.surface is None or len(known) < len(resistances):
        missing = "the faces' friction is not given" if bolt.clamp else "the bolts are not tightened to a known clamp"
        yield unjudged_joint(group.name, "slip", f"{missing}; the joint is taken to slip until the bolts bear")
        return
    worst = int(np.argmax(shear / np.maximum(known, 1e-12)))
    source = f"{SOURCES[bolt.surface.rule]}; friction: {bolt.surface.source}"
    words = slip_words(bolt, float(shear[worst]), float(tension[worst]))
    capacity = Capacity(Mode.SLIP, known[worst], targets.slip, source, part=bolt.surface.name, note=words)
    yield judged(of_joint(Check.BOLTS, group.name), case, float(shear[worst]), capacity)


def slip_words(bolt: Bolt, shear: float, tension: float) -> str:
    """Return what clamp slip counts on, in words, and the safety factor with the clamp aimed at where that is more."""
    aimed = slip_as_aimed(bolt, tension)
    return clamp_words(bolt) + ("" if aimed is None or shear <= 0.0 else f"; {aimed / shear:.2f} with the clamp aimed at")


def clamp_words(bolt: Bolt) -> str:
    """Return what clamp slip counts on, in words."""
    first = 100 * bolt.closing / bolt.clamp if bolt.clamp else 0.0
    return clamp_made(bolt) + (f", less the {first:.0f} % of it that first closes the play of the fit" if first > 0.0 else "")


def clamp_made(bolt: Bolt) -> str:
    """Return what clamp the tightening is counted to make, in words."""
    if bolt.tightened is Tightened.CONTROLLED:
        return "clamp controlled"
    if bolt.torque_factor is None:
        return f"{100 * HAND_TIGHT:.0f} % of the clamp counted, for the state of the threads is not given"
    least = 100 * bolt.torque_factor.middle / bolt.torque_factor.most
    return f"{least:.0f} % of the clamp counted, the least that its torque makes"


def ply_rows(group: BoltGroup, of: tuple[Ply, Sequence[Capacity]], case: str, shear: float) -> Iterator[Line]:
    """Yield bearing and tear-out of one ply under the worst bolt's shear, N, in the least favourable direction."""
    ply, capacities = of
    subject, demand = of_joint(Check.BOLTS, group.name), shear * ply.share
    yield from (judged(subject, case, demand, each) for each in capacities)
    if ply.edge is None:
        reason = "the distance from its holes to its edge is not given"
        yield unjudged_joint(group.name, f"tear-out and edge distance of {ply.name}", reason)


def shear_capacities(group: BoltGroup, ply: Ply, targets: JointTargets) -> tuple[Capacity, ...]:
    """Return what one ply holds of one bolt's shear: bearing, and tear-out where its edge is known."""
    bears = bearing_capacity(group, ply, targets)
    if ply.edge is None:
        return (bears,)
    clear = min(ply.edge - group.bolt.hole / 2, closest(group) - group.bolt.hole)
    least = torn_out(clear, ply.thickness, ply.material.ultimate_strength, targets.strength)
    return bears, Capacity(Mode.TEAR_OUT, least.value, least.asked, least.source, part=ply.name)


def bearing_capacity(group: BoltGroup, ply: Ply, targets: JointTargets) -> Capacity:
    """Return the bearing capacity by the rule for what the ply is: hollow wall, sheet or plate."""
    size, metal = group.bolt.thread.diameter, ply.material
    rules = [bearing_of_metal(size, ply.thickness, metal.ultimate_strength, targets.strength)]
    if ply.kind is PlyKind.TUBE_WALL:
        rules.append(Strength(bearing_of_tube_wall(size, ply.thickness, metal.yield_strength), 2.0, TUBE_SOURCE))
    least = weakest(rules, targets.strength)
    return Capacity(Mode.BEARING, least.value, least.asked, least.source, part=ply.name)


def closest(group: BoltGroup) -> float:
    """Return the least distance between two bolts, m; infinite for a single one."""
    places = np.asarray(group.positions)
    first, second = np.triu_indices(len(places), k=1)
    return float(np.linalg.norm(places[first] - places[second], axis=1).min(initial=np.inf))


def layout(group: BoltGroup, edges: tuple[EdgeDistance, ...]) -> Iterator[Line]:
    """Yield spacing and edge distances: what is there (capacity) against what the rules ask (demand), m."""
    subject, size = of_joint(Check.BOLTS, group.name), group.bolt.thread.diameter
    if len(group.positions) > 1:
        spacing = Capacity(Mode.BOLT_SPACING, closest(group), 1.0, "ANSI/AISC 360-22, J3.4: 2 2/3 d", "m")
        yield judged(subject, None, least_spacing(size), spacing)
    for ply in group.plies:
        if ply.edge is None:
            continue
        row = least_edge(edges, size)
        yield judged(subject, None, row.least, Capacity(Mode.LEAST_EDGE, ply.edge, 1.0, row.source, "m", ply.name))
        aisc = "ANSI/AISC 360-22, J3.6"
        most = Capacity(Mode.LARGEST_EDGE, largest_edge(ply.thickness), 1.0, aisc, "m", ply.name)
        yield judged(subject, None, ply.edge, most)


def left_over(group: BoltGroup, case: str, forces: BoltForces) -> Iterator[Line]:
    """Yield a LOW row where a moment finds no lever in the pattern: it would pass unseen otherwise."""
    subject, source = of_joint(Check.BOLTS, group.name), "statics"
    scale = 1e-9 * (float(np.abs(forces.shear).sum() + forces.tension.sum()) + 1.0)
    if abs(forces.twist_left) > scale:
        alone = Capacity(Mode.TWIST_ON_ONE_BOLT, 0.0, 1.0, source, "Nm")
        yield judged(subject, case, abs(forces.twist_left), alone)
    if forces.bending_left > scale:
        row = Capacity(Mode.BENDING_ON_ONE_ROW, 0.0, 1.0, source, "Nm")
        yield judged(subject, case, forces.bending_left, row)
