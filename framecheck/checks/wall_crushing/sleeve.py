"""Bolts through a tube: does the clamp force crush the walls, and what sleeve carries it?"""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, sqrt

from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint
from framecheck.model.joints import BoltGroup, ClampedTube, CrushSleeve, PlyKind
from framecheck.results.row import Check, Mode, Sizing
from framecheck.results.subjects import Open, Question, Thing, left_open

WORKING = 0.6
SOURCE = "sleeve pressed to at most 0.6 Fy by the most clamp that the tightening may make; shop practice pages"


def sleeve_area(clamp: float, yield_strength: float) -> float:
    """Return the sleeve's least cross-section, m2: F / (0.6 Fy). Common practice, stated on shop pages."""
    return clamp / (WORKING * yield_strength)


def outside_diameter(area: float, inside_diameter: float) -> float:
    """Return the outside diameter of a round sleeve, m (geometry)."""
    return sqrt(4 * area / pi + inside_diameter**2)


def area_of(sleeve: CrushSleeve) -> float:
    """Return the cross-section of a round sleeve, m2."""
    return pi / 4 * (sleeve.outside_diameter**2 - sleeve.inside_diameter**2)


def wall_strength(tube: ClampedTube) -> float:
    """Return the force at which a washer folds the bare face of the tube, N.

    The washer is taken as a square of equal area on the face between the walls; a washer wider than 0.85 of the face
    counts
    as 0.85.
    """
    side = tube.washer * sqrt(pi) / 2
    ratio = min(side / tube.width, 0.85)
    return en.face_axial(tube.material.yield_strength * tube.wall**2, ratio, side / tube.width)


def shop_lines(group: BoltGroup, target: float = 1.5) -> Iterator[Sizing]:
    """Yield the round sleeve of the tube's own steel that its bolts need, where the bare walls would fold under the clamp."""
    clamp, tube = group.bolt.most_clamp, group.tube
    if tube is None or clamp is None or clamp * target <= wall_strength(tube):
        return
    fitted = None if tube.sleeve is None else tube.sleeve.outside_diameter
    inside = group.bolt.hole if tube.sleeve is None else tube.sleeve.inside_diameter
    needed = outside_diameter(sleeve_area(clamp, tube.material.yield_strength), inside)
    yield Sizing(Check.CRUSH_SLEEVE, group.name, "crush sleeve of the tube's steel, outside diameter", needed, "m", fitted, SOURCE)
    yield Sizing(Check.CRUSH_SLEEVE, group.name, "crush sleeve, length: as deep as the tube", tube.depth, "m", None, SOURCE)


def check(group: BoltGroup, target: float = 1.5) -> tuple[Line, ...]:
    """Return the row of the clamp force on a tube that the bolts pass through: on its sleeve, else its bare walls."""
    clamp, tube = group.bolt.most_clamp, group.tube
    if tube is None:
        return (untold(group),) if clamp is not None and goes_through(group) else ()
    if clamp is None:
        return (left_open(Thing.JOINT, group.name, Question.CLAMPED_TUBE, "the clamp force is not known"),)
    if tube.sleeve is None:
        capacity = Capacity(Mode.CLAMP_ON_WALLS, wall_strength(tube), target, en.FACE)
    else:
        capacity = Capacity(Mode.CLAMP_ON_SLEEVE, area_of(tube.sleeve) * WORKING * tube.sleeve.yield_strength, 1.0, SOURCE)
    return governing_first([judged(of_joint(Check.CRUSH_SLEEVE, group.name), None, clamp, capacity)])


def goes_through(group: BoltGroup) -> bool:
    """Return whether bolts may go right through a hollow tube, so that their clamp presses its walls together."""
    return any(ply.kind is PlyKind.TUBE_WALL for ply in group.plies)


def untold(group: BoltGroup) -> Open:
    """Return that the clamp of bolts through a tube of which nothing is said is not judged."""
    reason = "its bolts are tightened on a hollow tube, and neither that nor a sleeve inside it is described"
    remedy = "write the bolts' `tube`, with its `sleeve`, in a `bolts` joint; or put sleeves in and accept with that reason"
    return left_open(Thing.JOINT, group.name, Question.CLAMPED_TUBE, reason, "", remedy)
