"""One tube in another held by through bolts: what each crossing of walls carries, and what of it slips, bears or shears."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.bolt_strength import (
    SOURCES,
    TUBE_SOURCE,
    Strength,
    bearing_of_metal,
    bearing_of_tube_wall,
    share_in_long_joint,
    shear_strength,
    slip_resistance,
    torn_out,
    weakest,
)
from framecheck.checks.bolts.fit import closing_force, fit_rows
from framecheck.checks.bolts.group_rows import bearing_capacity, closest, layout, slip_words
from framecheck.checks.bolts.plies import Way, ways_of
from framecheck.checks.joint_forces import CrossingForces, forces_in_two_planes, pattern
from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint, unjudged_joint
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import Case
from framecheck.model.joints import ASKED, Bolt, BoltGroup, JointLoad, JointTargets, PinnedSleeve, Ply, PlyKind
from framecheck.model.shop_tables import EdgeDistance
from framecheck.results.row import Check, Mode, Sizing
from framecheck.results.subjects import Remark
from framecheck.value_class import value_class

SOURCE = (
    "statics: equal springs where the bolts cross the walls, all six components of the load at once; "
    "lever: between the two planes in which the tubes meet"
)


@value_class
class Through:
    """Bolts that go right through one tube in another. lever: between the two planes in which the tubes' walls meet, m.

    sleeve: the pinned sleeve that the file writes for the same bolts; None where it writes none.
    """

    group: BoltGroup
    lever: float
    sleeve: PinnedSleeve | None = None


def through(case: Case, group: BoltGroup) -> Through | None:
    """Return how bolts go through one tube in another, with what closing the fit's play takes of their clamp; None where they do not,
    or the tube's depth is not known.
    """
    twins = (each for each in case.joints if isinstance(each, PinnedSleeve) and each.place == group.place)
    sleeve = next((each for each in twins if each.bolt.thread == group.bolt.thread), None)
    levers = list(levers_of(group, sleeve)) if sleeve is not None or is_through(group) else []
    if not levers:
        return None
    bolt = replace(group.bolt, closing=closing_force(case.frame, group, sleeve) or 0.0)
    return Through(replace(group, bolt=bolt), min(levers), sleeve)


def levers_of(group: BoltGroup, sleeve: PinnedSleeve | None) -> Iterator[float]:
    """Yield how far apart the two planes lie in which the tubes meet, m: by what the file says of the tubes, else as they are drawn.

    The least counts. A tube's depth goes with its own wall, whichever order the plies are written in.
    """
    if sleeve is not None:
        yield lever_of(sleeve)
    if group.tube is not None:
        yield group.tube.depth - 2 * group.tube.wall
    if sleeve is None and group.tube is None and group.lever is not None:
        yield group.lever


def lever_of(sleeve: PinnedSleeve) -> float:
    """Return how far apart the two planes lie in which the tubes of a pinned sleeve meet, m."""
    return sleeve.depth - 2 * sleeve.walls[0].thickness


def is_through(group: BoltGroup) -> bool:
    """Return whether bolts cross two hollow walls at both of their sides."""
    hollow = [ply for ply in group.plies if ply.kind is PlyKind.TUBE_WALL]
    return len(hollow) > 1 and len(hollow) == len(group.plies) and group.bolt.shear_planes > 1


def crossing_forces(joint: Through, load: JointLoad) -> CrossingForces:
    """Return the forces at every crossing of bolts and walls."""
    return forces_in_two_planes(pattern(joint.group.plane, joint.group.positions), joint.lever, load)


def wall_force(torsion: float, bolts: int, lever: float) -> float:
    """Return the force at each wall crossing, N: V = T / (n D). Statics: a bolt crosses from tube to tube twice, D apart."""
    return torsion / (bolts * lever)


def play_angle(clearance: float, width: float) -> float:
    """Return the twist before a square slip fit bites, rad: about 2 c / B (geometry, without the pins' own play)."""
    return 2 * clearance / width


def pin_play_angle(bolt: Bolt, depth: float) -> float:
    """Return the twist before the bolts bear, rad: 2 (d0 - d) / D. Each wall's hole lets the bolt move (d0 - d) / 2 to a side, half
    the depth from the axis.
    """
    return 2 * max(bolt.hole - bolt.thread.diameter, 0.0) / depth


PLAY = "geometry, to either side of the middle; a tight fit has none of it"


def play_lines(sleeve: PinnedSleeve) -> Iterator[Line]:
    """Yield how far one tube turns in the other before anything bears, either way, or that the clearance is not known."""

    def turn(what: str, angle: float) -> Sizing:
        return Sizing(Check.PINNED_SLEEVE, sleeve.name, what, angle, "rad", None, PLAY)

    yield turn("free turn until the bolts bear", pin_play_angle(sleeve.bolt, sleeve.depth))
    if sleeve.clearance is None:
        yield unjudged_joint(sleeve.name, "play", "the clearance of the fit is not given")
    else:
        yield turn("free turn until a square fit bites", play_angle(sleeve.clearance, sleeve.depth))
    reason = "the frame is solved without the joint's play: it turns so much further, either way, before it is stiff"
    yield Remark(sleeve.name, reason)


def check_pinned_sleeve(
    sleeve: PinnedSleeve, axis: Vector, loads: Sequence[JointLoad], targets: JointTargets = ASKED
) -> tuple[Line, ...]:
    """Return the rows of a pinned sleeve in torsion. axis: unit direction of the tubes, vehicle axes."""
    rows: list[Line] = []
    for load in loads:
        torsion = abs(float(np.dot(load.moment, axis)))
        across = np.asarray(load.force) - np.dot(load.force, axis) * np.asarray(axis)
        along = abs(float(np.dot(load.force, axis))) + float(np.linalg.norm(across))
        force = wall_force(torsion, sleeve.bolts, lever_of(sleeve)) + along / (2 * sleeve.bolts)
        rows += pinned_crossing_rows(sleeve, load.load_case, (force, shear_strength(one_face(sleeve.bolt))), targets)
    rows += play_lines(sleeve)
    rows.append(unjudged_joint(sleeve.name, "bending of the tubes in each other", "only torsion and force are checked"))
    return governing_first(rows)


def placed_check(
    sleeve: PinnedSleeve, shear: Strength, worst: Sequence[tuple[str, float]], targets: JointTargets = ASKED
) -> tuple[Line, ...]:
    """Return the rows of a pinned sleeve whose bolts are placed. shear: what a bolt holds at a crossing; worst: (load case, force
    at the crossing that carries most, N).
    """
    rows: list[Line] = [row for case, force in worst for row in pinned_crossing_rows(sleeve, case, (force, shear), targets)]
    return governing_first([*rows, *play_lines(sleeve)])


def pinned_crossing_rows(
    sleeve: PinnedSleeve, case: str, at: tuple[float, Strength], targets: JointTargets
) -> Iterator[Line]:
    """Yield shear, bearing and tear-out at one crossing of a bolt through both walls. at: the force there, N, and what shears it."""
    subject, (force, shear) = of_joint(Check.PINNED_SLEEVE, sleeve.name), at
    yield judged(subject, case, force, Capacity(Mode.SHEAR_AT_WALL, shear.value, targets.strength, shear.source))
    for wall in sleeve.walls:
        yield judged(subject, case, force, wall_bearing(sleeve, wall, targets))
        if wall.edge is None:
            reason = "the distance from its holes to its end is not given"
            yield unjudged_joint(sleeve.name, f"tear-out of {wall.name}", reason)
            continue
        clear = wall.edge - sleeve.bolt.hole / 2
        yield judged(subject, case, force, wall_tear_out(wall, clear, targets))


def wall_tear_out(wall: Ply, clear: float, targets: JointTargets) -> Capacity:
    """Return what a wall holds before a bolt tears out of it, `clear` from its hole to the edge or the next hole, m."""
    least = torn_out(clear, wall.thickness, wall.material.ultimate_strength, targets.strength)
    return Capacity(Mode.TEAR_OUT, least.value, least.asked, least.source, part=wall.name)


def wall_bearing(sleeve: PinnedSleeve, wall: Ply, targets: JointTargets) -> Capacity:
    """Return the lower of plate bearing and bearing of a hollow wall, N."""
    size = sleeve.bolt.thread.diameter
    metal = bearing_of_metal(size, wall.thickness, wall.material.ultimate_strength, targets.strength)
    hollow = Strength(bearing_of_tube_wall(size, wall.thickness, wall.material.yield_strength), 2.0, TUBE_SOURCE)
    least = weakest((metal, hollow), targets.strength)
    return Capacity(Mode.BEARING, least.value, least.asked, least.source, part=wall.name)


def check_through_bolts(
    joint: Through,
    axis: Vector,
    loads: Sequence[JointLoad],
    edges: tuple[EdgeDistance, ...],
    targets: JointTargets = ASKED,
) -> tuple[Line, ...]:
    """Return a row a mode, governing first, of bolts through one tube in another. axis: of the tubes, a unit vector."""
    rows: list[Line] = list(layout(joint.group, edges))
    blocks = [way for ply in joint.group.plies for way in ways_of(joint.group, ply, targets)]
    for load in loads:
        forces = crossing_forces(joint, load)
        rows += crossing_rows(joint.group, load.load_case, forces, (np.asarray(axis), targets))
        rows += block_rows(joint.group, blocks, load.load_case, forces)
        rows += fit_rows(joint.group, np.asarray(axis), load.load_case, forces, targets)
        rows += left_over(joint.group, load.load_case, forces)
    return governing_first(rows)


def crossing_rows(group: BoltGroup, case: str, forces: CrossingForces, by: tuple[Array, JointTargets]) -> Iterator[Line]:
    """Yield slip of a face, shear of the bolt, bearing and tear-out of each wall at the crossing that carries most.

    by: the tubes' axis, and what is asked.
    """
    subject, demand, (axis, targets) = of_joint(Check.BOLTS, group.name), forces.worst, by
    yield face_slip(group, case, forces, targets)
    strength = shear_in_lap(group, axis)
    sheared = Capacity(Mode.SHEAR_AT_WALL, strength.value, targets.strength, f"{strength.source}; {SOURCE}")
    yield judged(subject, case, demand, sheared)
    for wall in group.plies:
        yield judged(subject, case, demand, bearing_capacity(group, wall, targets))
        yield wall_torn(group, wall, case, demand, targets)


def shear_in_lap(group: BoltGroup, axis: Array) -> Strength:
    """Return the shear strength of a bolt at one crossing, in a lap as long along the tubes as its bolts reach."""
    along = np.array(group.positions) @ (np.array([group.plane.across, group.plane.along]) @ axis)
    return shear_strength(one_face(group.bolt), share_in_long_joint(float(np.ptp(along)), group.bolt.thread.diameter))


def block_rows(group: BoltGroup, ways: Sequence[Way], case: str, forces: CrossingForces) -> Iterator[Line]:
    """Yield how a block round all holes of a wall tears out, under what all crossings of one side put on it."""
    pulls = forces.forces.sum(axis=0)
    for way in ways:
        yield judged(of_joint(Check.BOLTS, group.name), case, float(np.abs(pulls @ np.array(way.along)).max()), way.block)


def wall_torn(group: BoltGroup, wall: Ply, case: str, demand: float, targets: JointTargets) -> Line:
    """Return tear-out of a wall, whichever way the crossing pushes, or that its edge is not known."""
    if wall.edge is None:
        reason = "the distance from its holes to its edge is not given"
        return unjudged_joint(group.name, f"tear-out and edge distance of {wall.name}", reason)
    clear = min(wall.edge - group.bolt.hole / 2, closest(group) - group.bolt.hole)
    return judged(of_joint(Check.BOLTS, group.name), case, demand, wall_tear_out(wall, clear, targets))


def one_face(bolt: Bolt) -> Bolt:
    """Return the bolt as one crossing has it: one plane, one face."""
    return replace(bolt, shear_planes=1)


def face_resistance(group: BoltGroup, forces: CrossingForces) -> float | None:
    """Return what one clamped face holds before it slips, N; None: not known.

    A force along the bolts presses one of a bolt's two faces together and lifts the other: that one counts.
    """
    return slip_resistance(one_face(group.bolt), abs(forces.along) / len(group.positions))


def face_slip(group: BoltGroup, case: str, forces: CrossingForces, targets: JointTargets) -> Line:
    """Return the slip of the face that carries most, or why it was not judged."""
    held, bolt = face_resistance(group, forces), group.bolt
    if held is None or bolt.surface is None:
        missing = "the faces' friction is not given" if bolt.clamp else "the bolts are not tightened to a known clamp"
        return unjudged_joint(group.name, "slip", f"{missing}; the joint is taken to slip until the bolts bear")
    source = f"{SOURCES[bolt.surface.rule]}; friction: {bolt.surface.source}; {SOURCE}"
    words = slip_words(one_face(bolt), forces.worst, abs(forces.along) / len(group.positions))
    capacity = Capacity(Mode.SLIP, held, targets.slip, source, part=bolt.surface.name, note=words)
    return judged(of_joint(Check.BOLTS, group.name), case, forces.worst, capacity)


def left_over(group: BoltGroup, case: str, forces: CrossingForces) -> Iterator[Line]:
    """Yield a LOW row where a moment turns the tubes about a single bolt: only their fit would hold it."""
    if forces.left > 1e-9 * (float(np.linalg.norm(forces.moment)) + 1e-3):
        alone = Capacity(Mode.TWIST_ON_ONE_BOLT, 0.0, 1.0, "statics", "Nm")
        yield judged(of_joint(Check.BOLTS, group.name), case, forces.left, alone)
