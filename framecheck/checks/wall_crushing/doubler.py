"""The doubler that a tube's face needs under a bracket."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from framecheck.checks.wall_crushing import face
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
    elif width_ratio(bracket) > face.WIDEST:
        reason = "the pad bears on the walls beside the face, and a plate on the face doesn't thicken those"
        yield Remark(f"{bracket.name}: doubler", reason)
    else:
        what = "doubler on the face, so that it doesn't fold"
        needed = doubler_needed(bracket, loads, targets)
        yield Sizing(Check.WALL_UNDER_BRACKET, bracket.name, what, needed, "m", bracket.doubler, face.FACE_SOURCE)


def doubler_needed(bracket: Bracket, loads: Sequence[JointLoad], targets: JointTargets = ASKED) -> float:
    """Return the doubler thickness, m, at which the face under a pad narrower than it meets its target; 0: none needed."""
    bare = replace(bracket, doubler=0.0)
    used = max(face_use(bare, pad_load(bare, load)) for load in loads) * targets.yielding
    metal = bracket.doubler_material or bracket.member.material
    ratios = (width_ratio(bare), bracket.length / bracket.member.width)
    share = left_share(bare)
    force = used * face.axial(folded_strength(bare) * share, *ratios)
    return face.doubler_thickness(force, (folded_strength(bare), share), metal.yield_strength, ratios)
