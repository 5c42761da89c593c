"""The doubler that a tube's face needs under a bracket."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import sqrt

from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.wall_crushing.check import face_use, folded_strength, left_share, pad_load, width_ratio
from framecheck.model.joints import ASKED, JointLoad, JointTargets
from framecheck.model.weld_joints import Bracket, Hollow
from framecheck.results.row import Check, Sizing
from framecheck.results.subjects import Remark


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
