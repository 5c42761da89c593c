"""One tube in another held by through bolts: what each crossing of walls carries, and what of it slips, bears or shears."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.bolt_strength import (
    PLATE_SOURCE,
    SOURCES,
    TUBE_SOURCE,
    Strength,
    bearing_of_tube_wall,
    bearing_rules,
    shear_strength,
    slip_resistance,
    tear_out,
    weakest,
)
from framecheck.checks.bolts.group_rows import bearing_capacity, closest, layout, slip_words
from framecheck.checks.joint_forces import CrossingForces, forces_in_two_planes, pattern
from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint, unjudged_joint
from framecheck.model.arrays import Array, Vector
from framecheck.model.joints import ASKED, Bolt, BoltGroup, JointLoad, JointTargets, PinnedSleeve, Ply, PlyKind
from framecheck.model.shop_tables import EdgeDistance
from framecheck.model.weld_joints import Joint
from framecheck.results.row import CAP, Check, Mode, Sizing
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


def through(joints: Iterable[Joint], group: BoltGroup) -> Through | None:
    """Return how bolts go through one tube in another; None where they do not, or the tube's depth is not known."""
    twins = (each for each in joints if isinstance(each, PinnedSleeve) and each.place == group.place)
    sleeve = next((each for each in twins if each.bolt.thread == group.bolt.thread), None)
    if sleeve is not None:
        return Through(group, sleeve.depth - 2 * sleeve.walls[0].thickness, sleeve)
    depth = group.depth if group.tube is None else group.tube.depth
    return Through(group, depth - 2 * group.plies[0].thickness) if is_through(group) and depth is not None else None


def is_through(group: BoltGroup) -> bool:
    """Return whether bolts cross two hollow walls at both of their sides."""
    hollow = [ply for ply in group.plies if ply.kind is PlyKind.TUBE_WALL]
    return len(hollow) > 1 and len(hollow) == len(group.plies) and group.bolt.shear_planes > 1


def crossing_forces(joint: Through, load: JointLoad) -> CrossingForces:
    """Return the forces at every crossing of bolts and walls."""
    return forces_in_two_planes(pattern(joint.group.plane, joint.group.positions), joint.lever, load)


def wall_force(torsion: float, bolts: int, depth: float) -> float:
    """Return the force at each wall crossing, N: V = T / (n D). Statics: a bolt crosses two walls a depth D apart."""
    return torsion / (bolts * depth)


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
        force = wall_force(torsion, sleeve.bolts, sleeve.depth) + along / (2 * sleeve.bolts)
        rows += pinned_crossing_rows(sleeve, load.load_case, force, targets)
    rows += play_lines(sleeve)
    rows.append(unjudged_joint(sleeve.name, "bending of the tubes in each other", "only torsion and force are checked"))
    return governing_first(rows)


def placed_check(
    sleeve: PinnedSleeve, worst: Sequence[tuple[str, float]], targets: JointTargets = ASKED
) -> tuple[Line, ...]:
    """Return the rows of a pinned sleeve whose bolts are placed. worst: (load case, force at the crossing that carries most, N)."""
    rows: list[Line] = [row for case, force in worst for row in pinned_crossing_rows(sleeve, case, force, targets)]
    return governing_first([*rows, *play_lines(sleeve)])


def pinned_crossing_rows(sleeve: PinnedSleeve, case: str, force: float, targets: JointTargets) -> Iterator[Line]:
    """Yield shear, bearing and tear-out at one crossing of a bolt through both walls under a force, N."""
    subject = of_joint(Check.PINNED_SLEEVE, sleeve.name)
    strength = shear_strength(sleeve.bolt)
    shear = Capacity(Mode.SHEAR_AT_WALL, strength.value, targets.strength, strength.source)
    yield judged(subject, case, force, shear)
    for wall in sleeve.walls:
        yield judged(subject, case, force, wall_bearing(sleeve, wall, targets))
        if wall.edge is None:
            reason = "the distance from its holes to its end is not given"
            yield unjudged_joint(sleeve.name, f"tear-out of {wall.name}", reason)
            continue
        clear = wall.edge - sleeve.bolt.hole / 2
        tears = tear_out(clear, wall.thickness, wall.material.ultimate_strength)
        torn = Capacity(Mode.TEAR_OUT, tears, targets.strength, PLATE_SOURCE, part=wall.name)
        yield judged(subject, case, force, torn)


def wall_bearing(sleeve: PinnedSleeve, wall: Ply, targets: JointTargets) -> Capacity:
    """Return the lower of plate bearing and bearing of a hollow wall, N."""
    size = sleeve.bolt.thread.diameter
    rules = bearing_rules(size, wall.thickness, wall.material.ultimate_strength)
    hollow = Strength(bearing_of_tube_wall(size, wall.thickness, wall.material.yield_strength), 2.0, TUBE_SOURCE)
    least = weakest((*rules, hollow), targets.strength)
    return Capacity(Mode.BEARING, least.value, least.asked, least.source, part=wall.name)


FIT_SOURCE = "linear pressure over the overlap (statics) on two walls: ANSI/AISC 360-22, J10.2, without any spread"


def check_through_bolts(
    joint: Through,
    axis: Vector,
    loads: Sequence[JointLoad],
    edges: tuple[EdgeDistance, ...],
    targets: JointTargets = ASKED,
) -> tuple[Line, ...]:
    """Return a row a mode, governing first, of bolts through one tube in another. axis: of the tubes, a unit vector."""
    rows: list[Line] = list(layout(joint.group, edges))
    for load in loads:
        forces = crossing_forces(joint, load)
        rows += crossing_rows(joint.group, load.load_case, forces, targets)
        rows += fit_rows(joint.group, np.asarray(axis), load.load_case, forces, targets)
        rows += left_over(joint.group, load.load_case, forces)
    return governing_first(rows)


def crossing_rows(group: BoltGroup, case: str, forces: CrossingForces, targets: JointTargets) -> Iterator[Line]:
    """Yield slip of a face, shear of the bolt, bearing and tear-out of each wall at the crossing that carries most."""
    subject, demand = of_joint(Check.BOLTS, group.name), forces.worst
    yield face_slip(group, case, forces, targets)
    strength = shear_strength(one_face(group.bolt))
    sheared = Capacity(Mode.SHEAR_AT_WALL, strength.value, targets.strength, f"{strength.source}; {SOURCE}")
    yield judged(subject, case, demand, sheared)
    for wall in group.plies:
        yield judged(subject, case, demand, bearing_capacity(group, wall, targets))
        yield wall_torn(group, wall, case, demand, targets)


def wall_torn(group: BoltGroup, wall: Ply, case: str, demand: float, targets: JointTargets) -> Line:
    """Return tear-out of a wall, whichever way the crossing pushes, or that its edge is not known."""
    if wall.edge is None:
        reason = "the distance from its holes to its edge is not given"
        return unjudged_joint(group.name, f"tear-out and edge distance of {wall.name}", reason)
    clear = min(wall.edge - group.bolt.hole / 2, closest(group) - group.bolt.hole)
    strength = tear_out(clear, wall.thickness, wall.material.ultimate_strength)
    torn = Capacity(Mode.TEAR_OUT, strength, targets.strength, PLATE_SOURCE, part=wall.name)
    return judged(of_joint(Check.BOLTS, group.name), case, demand, torn)


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


def fit_rows(group: BoltGroup, axis: Array, case: str, forces: CrossingForces, targets: JointTargets) -> Iterator[Line]:
    """Yield how the tubes press on each other across, as if the fit had no play and the bolts carried no bending."""
    length = overlap(group, axis)
    if length is None:
        reason = "the length over which one tube lies in the other is not given"
        yield unjudged_joint(group.name, "bearing of the tubes in each other", f"{reason}: write `contact`")
        return
    bending = forces.moment - (forces.moment @ axis) * axis
    push = np.append(forces.shear - (forces.shear @ axis) * axis, forces.along)
    pressure = 6 * float(np.linalg.norm(bending)) / length**2 + float(np.linalg.norm(push)) / length
    for wall in group.plies:
        strength = 2 * wall.thickness * wall.material.yield_strength
        if strength >= CAP * pressure:  # nothing presses
            continue
        row = Capacity(Mode.TUBES_BEAR, strength, targets.yielding, FIT_SOURCE, "N/m", wall.name)
        yield judged(of_joint(Check.BOLTS, group.name), case, pressure, row)


def overlap(group: BoltGroup, axis: Array) -> float | None:
    """Return how far one tube lies in the other, m; None: not known."""
    if group.contact is None:
        return None
    left, right, low, high = group.contact
    share = float(np.asarray(group.plane.along) @ axis) ** 2
    return share * (high - low) + (1 - share) * (right - left)


def left_over(group: BoltGroup, case: str, forces: CrossingForces) -> Iterator[Line]:
    """Yield a LOW row where a moment turns the tubes about a single bolt: only their fit would hold it."""
    if forces.left > 1e-9 * (float(np.linalg.norm(forces.moment)) + 1e-3):
        alone = Capacity(Mode.TWIST_ON_ONE_BOLT, 0.0, 1.0, "statics", "Nm")
        yield judged(of_joint(Check.BOLTS, group.name), case, forces.left, alone)
