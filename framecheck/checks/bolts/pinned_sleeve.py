"""One tube pinned in another by through bolts, carrying torsion."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.checks.bolt_holes import PLATE_SOURCE, TUBE_SOURCE, bearing, bearing_of_tube_wall, tear_out
from framecheck.checks.bolt_strength import SHEAR_SOURCE, shear_strength
from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint, unjudged_joint
from framecheck.model.arrays import Vector
from framecheck.model.joints import ASKED, Bolt, JointLoad, JointTargets, PinnedSleeve, Ply
from framecheck.results.row import Check, Mode, Sizing
from framecheck.results.subjects import Remark


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


def check(
    sleeve: PinnedSleeve, axis: Vector, loads: Sequence[JointLoad], targets: JointTargets = ASKED
) -> tuple[Line, ...]:
    """Return the rows of a pinned sleeve in torsion. axis: unit direction of the tubes, vehicle axes."""
    rows: list[Line] = []
    for load in loads:
        torsion = abs(float(np.dot(load.moment, axis)))
        across = np.asarray(load.force) - np.dot(load.force, axis) * np.asarray(axis)
        along = abs(float(np.dot(load.force, axis))) + float(np.linalg.norm(across))
        force = wall_force(torsion, sleeve.bolts, sleeve.depth) + along / (2 * sleeve.bolts)
        rows += crossing_rows(sleeve, load.load_case, force, targets)
    rows += play_lines(sleeve)
    rows.append(unjudged_joint(sleeve.name, "bending of the tubes in each other", "only torsion and force are checked"))
    return governing_first(rows)


def placed_check(
    sleeve: PinnedSleeve, worst: Sequence[tuple[str, float]], targets: JointTargets = ASKED
) -> tuple[Line, ...]:
    """Return the rows of a pinned sleeve whose bolts are placed. worst: (load case, force at the crossing that carries most, N)."""
    rows: list[Line] = [row for case, force in worst for row in crossing_rows(sleeve, case, force, targets)]
    return governing_first([*rows, *play_lines(sleeve)])


def crossing_rows(sleeve: PinnedSleeve, case: str, force: float, targets: JointTargets) -> Iterator[Line]:
    """Yield shear, bearing and tear-out at one crossing of a bolt through both walls under a force, N."""
    subject = of_joint(Check.PINNED_SLEEVE, sleeve.name)
    shear = Capacity(Mode.SHEAR_AT_WALL, shear_strength(sleeve.bolt), targets.strength, SHEAR_SOURCE)
    yield judged(subject, case, force, shear)
    for wall in sleeve.walls:
        yield judged(subject, case, force, wall_bearing(sleeve, wall, targets))
        if wall.edge is None:
            reason = "the distance from its holes to its end is not given"
            yield unjudged_joint(sleeve.name, f"tear-out of {wall.name}", reason)
            continue
        clear = wall.edge - sleeve.bolt.hole / 2
        strength = tear_out(clear, wall.thickness, wall.material.ultimate_strength)
        torn = Capacity(Mode.TEAR_OUT, strength, targets.strength, PLATE_SOURCE, part=wall.name)
        yield judged(subject, case, force, torn)


def wall_bearing(sleeve: PinnedSleeve, wall: Ply, targets: JointTargets) -> Capacity:
    """Return the lower of plate bearing and bearing of a hollow wall, N."""
    size = sleeve.bolt.thread.diameter
    plate = (bearing(size, wall.thickness, wall.material.ultimate_strength), PLATE_SOURCE)
    hollow = (bearing_of_tube_wall(size, wall.thickness, wall.material.yield_strength), TUBE_SOURCE)
    value, source = min(plate, hollow)
    return Capacity(Mode.BEARING, value, targets.strength, source, part=wall.name)
