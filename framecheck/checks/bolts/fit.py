"""How one tube fits in another that bolts go through: how the two press on each other, and the play that a clamp has to close."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_forces import CrossingForces
from framecheck.checks.joint_rows import Capacity, Line, judged, of_joint, unjudged_joint
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member
from framecheck.model.joints import AtMemberEnd, BoltGroup, InSplice, JointTargets, PinnedSleeve
from framecheck.model.said import SaidAmount, said
from framecheck.model.shape_parts import outline_box
from framecheck.model.shapes import RectTube, RoundTube, Sleeve
from framecheck.model.shop_tables import Material
from framecheck.results.row import CAP, Check, Mode
from framecheck.results.subjects import Open, Question, Thing, left_open

FIT_SOURCE = "linear pressure over the overlap (statics) on two walls: ANSI/AISC 360-22, J10.2, without any spread"
MOST_PLAY = 1e-3
"""How far apart faces may lie before a clamp that is to hold them is packed, m. EN 1090-2:2018, 8.1, from memory: steps of up to
1 mm in tightened joints."""


def fit_rows(group: BoltGroup, axis: Array, case: str, forces: CrossingForces, targets: JointTargets) -> Iterator[Line]:
    """Yield how the tubes press on each other across, as if the fit had no play and the bolts carried no bending."""
    face = overlap(group, axis)
    if face is None:
        reason = "the length over which one tube lies in the other is not given"
        yield unjudged_joint(group.name, "bearing of the tubes in each other", f"{reason}: write `contact`")
        return
    length, away = face
    about = forces.moment - np.cross(away, forces.shear + forces.along * np.asarray(group.plane.facing))
    bending = about - (about @ axis) * axis
    push = np.append(forces.shear - (forces.shear @ axis) * axis, forces.along)
    pressure = 6 * float(np.linalg.norm(bending)) / length**2 + float(np.linalg.norm(push)) / length
    for wall in group.plies:
        strength = 2 * wall.thickness * wall.material.yield_strength
        if strength >= CAP * pressure:  # nothing presses
            continue
        row = Capacity(Mode.TUBES_BEAR, strength, targets.yielding, FIT_SOURCE, "N/m", wall.name)
        yield judged(of_joint(Check.BOLTS, group.name), case, pressure, row)


def overlap(group: BoltGroup, axis: Array) -> tuple[float, Array] | None:
    """Return how far one tube lies in the other, m, and where the middle of that length lies from the bolts' middle, (3,), along the
    tubes; None: not known.
    """
    if group.contact is None:
        return None
    left, right, low, high = group.contact
    across, along = np.asarray(group.plane.across), np.asarray(group.plane.along)
    share = float(along @ axis) ** 2
    middle = np.mean(group.positions, axis=0)
    away = ((left + right) / 2 - middle[0]) * across + ((low + high) / 2 - middle[1]) * along
    return share * (high - low) + (1 - share) * (right - left), (away @ axis) * axis


def play_of_fit(frame: Frame, group: BoltGroup, sleeve: PinnedSleeve | None) -> float | None:
    """Return how much smaller the inner tube is than the room in the outer one, m: the clearance of both sides; None: not known."""
    if sleeve is not None and sleeve.clearance is not None:
        return 2 * sleeve.clearance
    found = [play for shape in tubes_at(frame, group) if (play := play_between(shape)) is not None]
    return max(found, default=None)


def tubes_at(frame: Frame, group: BoltGroup) -> Iterator[Sleeve]:
    """Yield the tubes in each other that bolts go through, as they are drawn."""
    place = group.place
    if isinstance(place, InSplice):
        splice = next(each for each in frame.splices if each.name == place.splice)
        outer, inner = splice.sections if splice.first_outside else splice.sections[::-1]
        shapes = [frame.sections[name].shape for name in (outer, inner)]
        if isinstance(shapes[0], RectTube) and isinstance(shapes[1], RectTube):
            yield Sleeve(shapes[0], shapes[1])
    elif isinstance(place, AtMemberEnd):
        yield from sleeved(frame, next((each for each in frame.members if each.name == place.member), None))


def sleeved(frame: Frame, member: Member | None) -> Iterator[Sleeve]:
    """Yield the shapes of a member that are one tube in another."""
    for stretch in () if member is None else member.stretches:
        shape = frame.sections[stretch.section].shape
        if isinstance(shape, Sleeve):
            yield shape


def play_between(shape: Sleeve) -> float | None:
    """Return the play of one tube in another, m: of height or width the larger; None: of other shapes."""
    match shape.outer:
        case RectTube() | RoundTube():
            room = np.array(outline_box(shape.outer)) - 2 * shape.outer.wall
            return max(float(np.max(room - np.array(outline_box(shape.core)))), 0.0)
    return None


def closing_force(frame: Frame, group: BoltGroup, sleeve: PinnedSleeve | None) -> float | None:
    """Return what of a bolt's clamp bends the outer tube's walls across the play of the fit before they press on the inner one, N.

    None: the play, or how wide and thick the walls are, is not known. Each of the two walls bends across half the play, for the inner
    tube lies loose between them.
    """
    play = play_of_fit(frame, group, sleeve)
    if play is None or play == 0.0:
        return play
    walls = [(group.tube.width, group.tube.wall)] if group.tube is not None else drawn_walls(frame, group)
    metals = [ply.material for ply in group.plies]
    return max(
        (force_on_strip(play / 2, width - 2 * wall, wall, metal) for width, wall in walls for metal in metals), default=None
    )


def drawn_walls(frame: Frame, group: BoltGroup) -> list[tuple[float, float]]:
    """Return the narrower side and the wall of each outer tube that bolts go through, as they are drawn, m."""
    outer = [each.outer for each in tubes_at(frame, group)]
    return [(min(each.height, each.width), each.wall) for each in outer if isinstance(each, RectTube)]


def force_on_strip(deflection: float, width: float, thickness: float, material: Material) -> float:
    """Return the force at one place that bends a long strip of plate so far, N, its two edges built in.

    Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, table of built-in rectangular plates under a force at the middle,
    endless ones, from memory: w = 0.00725 F a2 / D. Built-in edges and a long tube are the stiffest case: more clamp is lost.
    """
    return deflection * material.plate_stiffness(thickness) / (BUILT_IN_STRIP * max(width, thickness) ** 2)


BUILT_IN_STRIP = 0.00725
"""Deflection of an endless plate with built-in edges under a force F at its middle, over F a2 / D. Source: see `force_on_strip`."""


def unclamped(frame: Frame, group: BoltGroup, sleeve: PinnedSleeve | None) -> Iterator[Open]:
    """Yield that a clamp may not reach the faces that are to hold by it: the walls would first have to bend across the fit's play."""
    if group.bolt.clamp is None or group.bolt.surface is None:
        return  # slip is open for that
    play = play_of_fit(frame, group, sleeve)
    remedy = "pack the fit, and write the clearance that is left as a joint of kind `pinned sleeve` at the same place"
    if play is None:
        reason = said("the clearance of the fit is not given, and the clamp first bends the walls across it")
    elif play > MOST_PLAY:
        reason = said("the clamp first bends the walls across the play of the fit, ", SaidAmount(play, "deflection"))
    elif closing_force(frame, group, sleeve) is None:
        reason = said("the clamp first bends the walls across the play of the fit, and how wide and thick they are is not given")
        remedy = "write `tube` with its width and wall"
    else:
        return
    yield left_open(Thing.JOINT, group.name, Question.JOINT, reason, "slip, with the fit's play", remedy)
