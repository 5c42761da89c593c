"""The check of a bolted sleeve: what each crossing carries against slip of its face, bolt, walls, and the tubes in each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.bolt_holes import PLATE_SOURCE, tear_out
from framecheck.checks.bolt_slip import SOURCES, slip_resistance
from framecheck.checks.bolt_strength import SHEAR_SOURCE, shear_strength
from framecheck.checks.bolts.check import bearing_capacity, closest, layout, slip_words
from framecheck.checks.bolts.crossings import SOURCE, Through, crossing_forces
from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint, unjudged_joint
from framecheck.checks.two_planes import CrossingForces
from framecheck.model.arrays import Array, Vector
from framecheck.model.joint_tables import EdgeDistance
from framecheck.model.joints import ASKED, Bolt, BoltGroup, JointLoad, JointTargets, Ply
from framecheck.results.row import CAP, Check, Mode

FIT_SOURCE = "linear pressure over the overlap (statics) on two walls: ANSI/AISC 360-22, J10.2, without any spread"


def check(
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
    sheared = Capacity(Mode.SHEAR_AT_WALL, shear_strength(one_face(group.bolt)), targets.strength, f"{SHEAR_SOURCE}; {SOURCE}")
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
