"""The check of a wall under a bracket: face, walls beside it, and the doubler it may need."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import sqrt
from types import MappingProxyType

import numpy as np

from framecheck.checks.formulas import aisc360, aisi_s100
from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.joint_forces import joint_loads
from framecheck.checks.joint_rows import Capacity, Line, claims, governing_first, judged, of_joint, unjudged_joint
from framecheck.checks.wall_crushing.compression import compression_of, pressed
from framecheck.checks.wall_crushing.sleeve import check as clamp_check
from framecheck.checks.wall_crushing.sleeve import shop_lines as sleeve_lines
from framecheck.model.joints import ASKED, BoltGroup, JointLoad, JointTargets
from framecheck.model.shop_tables import CripplingRow, JointTables
from framecheck.model.weld_joints import Bracket, Hollow
from framecheck.results.row import Check, Mode, Sizing
from framecheck.results.subjects import Remark
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

UNKNOWN: Mapping[str, float] = MappingProxyType({})


@value_class
class PadLoad:
    """The load of a pad on a face: push (+) or pull (-), N; rocking along and across the member, Nm."""

    push: float
    rock_along: float
    rock_across: float


def pad_load(bracket: Bracket, load: JointLoad) -> PadLoad:
    """Return the parts of a load that press on the face; force along the face goes into the wall as shear."""
    plane = bracket.plane
    arm = np.asarray(plane.origin, dtype=np.float64)
    moment = np.asarray(load.moment) - np.cross(arm, np.asarray(load.force))
    return PadLoad(
        push=-float(np.dot(load.force, plane.facing)),
        rock_along=abs(float(np.dot(moment, plane.across))),
        rock_across=abs(float(np.dot(moment, plane.along))),
    )


def width_ratio(bracket: Bracket) -> float:
    """Return the pad's width over the face's, beta."""
    return bracket.width / bracket.member.width


def folded_strength(bracket: Bracket) -> float:
    """Return Fy t2 of the wall, with the doubler's added (no composite action counted), N."""
    member = bracket.member
    metal = bracket.doubler_material or member.material
    return member.material.yield_strength * member.wall**2 + metal.yield_strength * bracket.doubler**2


def left_share(bracket: Bracket) -> float:
    """Return what compression in the face and a near end leave of the strength; unknown, compression is full and an end near."""
    beta = min(width_ratio(bracket), 1.0)
    used = bracket.member.utilisation
    share = float(en.compressed_wall(np.array(1.0 if used is None else used), beta))
    far = bracket.end_distance is not None and bracket.end_distance >= aisc360.least_end_distance(bracket.member.width, beta)
    return share * (1.0 if far else 0.5)


def face_use(bracket: Bracket, load: PadLoad) -> float:
    """Return the share of the face's folding strength used: axial and both rockings added (linear interaction)."""
    beta, eta = width_ratio(bracket), bracket.length / bracket.member.width
    strength = folded_strength(bracket) * left_share(bracket)
    return (
        abs(load.push) / en.face_axial(strength, beta, eta)
        + load.rock_along / en.face_in_plane(strength, beta, eta, bracket.length)
        + load.rock_across / en.face_out_of_plane(strength, beta, bracket.member.width, bracket.length)
    )


def edge_push(bracket: Bracket, load: PadLoad) -> float:
    """Return an equal push, N, that presses as hard as push and rocking do at the pad's edge: P + 6 M / length."""
    return abs(load.push) + 6 * load.rock_along / bracket.length + 6 * load.rock_across / bracket.width


def check_bracket(
    bracket: Bracket,
    loads: Sequence[JointLoad],
    crippling: tuple[CripplingRow, ...],
    targets: JointTargets = ASKED,
    compression: Mapping[str, float] = UNKNOWN,
) -> tuple[Line, ...]:
    """Return the rows of the wall under a bracket, governing first; compression: of its member's face by the frame, by load case."""
    narrow = bracket.member.kind is Hollow.TUBE and width_ratio(bracket) <= en.WIDEST
    rows: list[Line] = list(said(pressed(bracket, max(compression.values(), default=None))))
    for load in loads:
        on_pad = pad_load(bracket, load)
        if narrow:
            rows += face_rows(pressed(bracket, compression.get(load.load_case)), load.load_case, on_pad, targets)
        else:
            rows += wall_rows(bracket, load.load_case, on_pad, crippling, targets)
    return governing_first(rows)


def face_rows(bracket: Bracket, case: str, load: PadLoad, targets: JointTargets) -> Iterator[Line]:
    """Yield folding and punching of the face under a pad narrower than it."""
    subject, member = of_joint(Check.WALL_UNDER_BRACKET, bracket.name), bracket.member
    used = Capacity(Mode.FACE_FOLDS, 1.0, targets.yielding, en.FACE, "1")
    yield judged(subject, case, face_use(bracket, load), used)
    thickness = member.wall + bracket.doubler
    outline = (bracket.width, bracket.length)
    force = aisc360.punching(member.material.yield_strength, thickness, outline, member.width / thickness)
    punched = Capacity(Mode.FACE_PUNCHED, force, max(targets.yielding, 1.58), aisc360.PUNCHING)
    yield judged(subject, case, edge_push(bracket, load), punched)


def wall_rows(
    bracket: Bracket, case: str, load: PadLoad, crippling: tuple[CripplingRow, ...], targets: JointTargets
) -> Iterator[Line]:
    """Yield yielding and crippling of the walls beside a pad that bears on the whole width. A pull cripples nothing."""
    subject, member = of_joint(Check.WALL_UNDER_BRACKET, bracket.name), bracket.member
    walls = 2 if member.kind is Hollow.TUBE else 1
    demand, corner = edge_push(bracket, load), max(member.outside_radius, member.wall)
    metal, near = member.material, near_end(bracket)
    spread = 2.5 if near else 5.0
    force = walls * aisc360.local_yielding(metal.yield_strength, member.wall, bracket.length, corner, spread)
    yield judged(subject, case, demand, Capacity(Mode.WALLS_YIELD, force, targets.yielding, aisc360.YIELDING))
    strengths = (metal.youngs_modulus, metal.yield_strength)
    rule = aisc360.crippling_at_end if near else aisc360.crippling
    force = walls * rule(strengths, member.wall, bracket.length, member.depth)
    yield judged(subject, case, demand, Capacity(Mode.WALLS_CRIPPLE, force, targets.strength, aisc360.CRIPPLING))
    if member.kind is Hollow.CHANNEL:
        yield judged(subject, case, demand, cold_formed(bracket, crippling, targets))


def near_end(bracket: Bracket) -> bool:
    """Return whether the load is within the member's depth of an end; an unknown distance counts as near."""
    return bracket.end_distance is None or bracket.end_distance <= bracket.member.depth


def cold_formed(bracket: Bracket, rows: tuple[CripplingRow, ...], targets: JointTargets) -> Capacity:
    """Return the crippling capacity of a stamped channel's web, unfastened and unstiffened (unfavourable)."""
    member = bracket.member
    location = "end" if near_end(bracket) else "interior"
    row = next(
        each
        for each in rows
        if (each.fastened, each.flanges, each.loading, each.location) == ("no", "unstiffened", "one flange", location)
    )
    radius, flat = member.outside_radius - member.wall, member.depth - 2 * member.outside_radius
    value = aisi_s100.web_crippling(
        row, member.material.yield_strength, member.wall, max(radius, 0.0), (bracket.length, flat)
    )
    return Capacity(Mode.STAMPED_WEB, value, max(targets.strength, row.safety), row.source)


def said(bracket: Bracket) -> Iterator[Line]:
    """Yield what was assumed because it was not given."""
    if bracket.member.utilisation is None:
        reason = "the member's own stress there is not given; the face is taken as fully compressed"
        yield Remark(f"{bracket.name}: compression in the pressed face", reason)
    if bracket.end_distance is None:
        reason = "the distance to the member's end is not given; it is taken near one, which leaves half of the face's strength"
        yield Remark(f"{bracket.name}: nearness of an open end", reason)
    if bracket.doubler > 0 and bracket.doubler_material is None:
        reason = "it is not said; it was taken as that of the member"
        yield unjudged_joint(bracket.name, "metal of the doubler", reason, "write `doubler material`")
    if bracket.member.kind is Hollow.CHANNEL:
        reason = "a pad away from the web bends the flange; only the web under it is checked"
        yield unjudged_joint(bracket.name, "bending of the channel's flange", reason)


def shop_lines(
    bracket: Bracket, loads: Sequence[JointLoad], targets: JointTargets = ASKED
) -> Iterator[Sizing | Remark]:
    """Yield the doubler under a bracket, or why none is sized."""
    if not loads:
        return
    if bracket.member.kind is not Hollow.TUBE:
        reason = "none is sized on a channel: its web or its flange has to be stiffened"
        yield Remark(f"{bracket.name}: doubler", reason)
    elif width_ratio(bracket) > en.WIDEST:
        reason = "the pad bears on the walls beside the face, and a plate on the face doesn't thicken those"
        yield Remark(f"{bracket.name}: doubler", reason)
    else:
        what = "doubler on the face, so that it doesn't fold"
        needed = doubler_needed(bracket, loads, targets)
        yield Sizing(Check.WALL_UNDER_BRACKET, bracket.name, what, needed, "m", bracket.doubler, en.FACE)


def doubler_needed(bracket: Bracket, loads: Sequence[JointLoad], targets: JointTargets = ASKED) -> float:
    """Return the doubler thickness, m, at which the face under a pad narrower than it meets its target; 0: none needed."""
    bare = replace(bracket, doubler=0.0)
    used = max(face_use(bare, pad_load(bare, load)) for load in loads) * targets.yielding
    metal = bracket.doubler_material or bracket.member.material
    ratios = (width_ratio(bare), bracket.length / bracket.member.width)
    share = left_share(bare)
    force = used * en.face_axial(folded_strength(bare) * share, *ratios)
    return doubler_thickness(force, (folded_strength(bare), share), metal.yield_strength, ratios)


def doubler_thickness(force: float, wall: tuple[float, float], doubler_yield: float, ratios: tuple[float, float]) -> float:
    """Return the thickness of a doubler with which the face carries `force` (N), m; 0 where none is needed.

    Wall and doubler fold together, their plastic moments added (Fy t2 each), no composite action counted: a lower bound of plastic
    theory. wall: (Fy t2 of the bare wall, share left by compression and end); ratios: (beta, eta) of the pad.
    """
    per_strength = en.face_axial(1.0, *ratios) * wall[1]
    missing = force / per_strength - wall[0]
    return sqrt(max(missing, 0.0) / doubler_yield)


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every bracket, and of every tube that a bolt group clamps."""
    tables, lines = outcome.case.joint_tables or JointTables(), list[Line]()
    for joint in outcome.case.joints:
        if isinstance(joint, Bracket):
            loads = joint_loads(outcome, joint.place)
            found = compression_of(outcome, joint)
            most = pressed(joint, max(found.values(), default=None))
            lines += check_bracket(joint, loads, tables.crippling, compression=found)
            lines += [*shop_lines(most, loads), *claims(outcome.case.frame, joint)]
        elif isinstance(joint, BoltGroup):
            lines += [*clamp_check(joint), *sleeve_lines(joint)]
    return tuple(lines)
