"""What the rules for walls under member ends have been tested for: outside, a row says so and its entry stays open."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.checks.feet import Foot, Kind
from framecheck.frame.stand_in import Unmodelled
from framecheck.model.frame import Make

SOURCE = "EN 1993-1-8:2005, tables 7.1 and 7.8, from memory; ANSI/AISC 360-22, tables K3.2A and K4.2A, seen"
SLENDER, ROUND_SLENDER = 35.0, 50.0
LEAST_WALL, MOST_STRENGTH, DUCTILE = 0.0025, 460e6, 0.81
"""m; Pa; yield over tensile strength: 0.8, and A500 grade C, 0.807, is accepted."""
LEAN = 0.1736
"""Cosine of 80 degrees between branch and rail: the rules for moments are for square joints."""
MOST_LEAN = 0.66
"""Cosine of 49 degrees: a branch that leans more meets no wall (frame/seats.py has the same limit for flat ones)."""
EDGE = 1e-6
UNJUDGED_MAKES = {
    Make.ON_PLATE: "a plate lies between, and the rules are for ends that stand on the wall itself",
    Make.BOLTED: "a plate lies between, and the rules are for ends that stand on the wall itself",
    Make.ON_TOP: "it lies across the wall, and the rules are for ends that stand on one",
    Make.UNDERNEATH: "it lies across the wall, and the rules are for ends that stand on one",
}


def no_rule(foot: Foot) -> str:
    """Return why nothing is known of a wall under an end, "" where something is."""
    if foot.made.make in UNJUDGED_MAKES:
        return UNJUDGED_MAKES[foot.made.make]
    if foot.made.welded:
        return "it is welded on some of its sides only, for which there is no rule"
    if foot.wall.kind in (Kind.OTHER, Kind.PLATE):
        return "no rule is built in for a rail of that shape"
    if foot.branch.kind is Kind.OTHER:
        return "no rule is built in for a branch of that shape"
    if foot.unmodelled is Unmodelled.RAIL_END or not foot.rails:
        return "it stands on a member's end, for which there is no rule"
    if foot.unmodelled is Unmodelled.ASKEW or abs(foot.lean) > MOST_LEAN:
        return "it meets no wall squarely, for which there is no rule"
    if abs(foot.branch.offset) + foot.branch.b1 / 2 > foot.wall.b0 / 2 + EDGE:
        return "it reaches beyond the edge of the wall that it stands on, for which there is no rule"
    if foot.wall.left < -EDGE:
        return "it reaches beyond the rail's end, for which there is no rule"
    return ""


def outside(foot: Foot) -> Iterator[str]:
    """Yield what lies outside the range that the rules have been tested in."""
    wall, branch = foot.wall, foot.branch
    beta, round_rail = branch.b1 / wall.b0, wall.kind is Kind.ROUND
    slender = ROUND_SLENDER if round_rail else SLENDER
    yield from over("the rail's wall", wall.b0 / wall.t0, slender)
    if branch.kind in (Kind.BOX, Kind.ROUND):
        limit = ROUND_SLENDER if branch.kind is Kind.ROUND else SLENDER
        yield from over("the branch's wall", max(branch.b1, branch.h1) / branch.t1, limit)
    if wall.kind is Kind.BOX:
        yield from over("the walls beside it", wall.h0 / wall.t0, slender)
        yield from ratio("the rail's depth over its width", wall.h0 / wall.b0)
    if branch.kind is Kind.BOX:
        yield from ratio("the branch's length over its width", branch.h1 / branch.b1)
    if beta < 0.25 * (1 - EDGE):
        yield f"the branch is {beta:.2f} as wide as the wall, under 0.25"
    if branch.kind is Kind.ROUND and not round_rail and beta > 0.8 * (1 + EDGE):
        yield f"a round branch {beta:.2f} as wide as the wall, over 0.80"
    if min(wall.t0, branch.t1) < LEAST_WALL * (1 - EDGE):
        yield f"a wall of {1e3 * min(wall.t0, branch.t1):.1f} mm, under 2.5 mm"
    if abs(foot.lean) > LEAN:
        yield "it leans more than 10 degrees from square"
    yield from metals(foot)
    if branch.kind is Kind.CHANNEL:
        yield "the branch is open, and rules are tested on closed ones"


def over(what: str, slenderness: float, limit: float) -> Iterator[str]:
    """Yield that a wall is too slender."""
    if slenderness > limit * (1 + EDGE):
        yield f"{what} is {slenderness:.0f} times as wide as thick, over {limit:.0f}"


def ratio(what: str, value: float) -> Iterator[str]:
    """Yield that one size over another is not within 0.5 to 2."""
    if not 0.5 * (1 - EDGE) <= value <= 2.0 * (1 + EDGE):
        yield f"{what} is {value:.2f}, not 0.5 to 2"


def metals(foot: Foot) -> Iterator[str]:
    """Yield what the rules have not been tested on."""
    for name, metal in (("the rail", foot.wall.metal), ("the branch", foot.branch.metal)):
        if metal.kind != "steel":
            yield f"{name} is of {metal.kind}, and the rules are tested on steel"
        elif metal.yield_strength > MOST_STRENGTH:
            yield f"{name} yields at {metal.yield_strength / 1e6:.0f} MPa, over 460"
        elif metal.yield_strength > DUCTILE * metal.ultimate:
            yield f"{name}'s metal yields at {metal.yield_strength / metal.ultimate:.2f} of its tensile strength, over 0.8"
