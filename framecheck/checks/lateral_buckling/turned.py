"""Members that hold as they are bent, and would not if the same load came from the other side: hats, tees, trays, lopsided sections.

A load case is written one way, and a frame on the road is bent both ways: what the file does not say is left open, not passed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.lateral_buckling.elastic import MomentShape
from framecheck.checks.lateral_buckling.strengths import Shapes, Strength
from framecheck.model.arrays import Array
from framecheck.model.frame import Member
from framecheck.results.subjects import Open, Question, Thing, left_open
from framecheck.stress import Outcome

ALIKE = 1e-3
"""Share of strength below which both ways are alike: the mesh keeps symmetry to less."""
REMEDY = "write the load case with its load reversed, or accept with a reason why it can't reverse"


def turned_shapes(shapes: tuple[Shapes, Shapes]) -> tuple[Shapes, Shapes]:
    """Return the same moments, bent vertically and sideways, with their sign turned."""
    vertical, sideways = (tuple(MomentShape(s.most, s.squared, -s.mean, -s.load) for s in each) for each in shapes)
    return vertical, sideways


def turned_strength(holds: Strength, one: Strength, other: Strength) -> Strength:
    """Return strengths as they would be bent the other way: less by what `other` (moments turned) is less than `one`."""
    vertical, sideways = np.minimum(other.vertical / one.vertical, 1.0), np.minimum(other.sideways / one.sideways, 1.0)
    return replace(holds, vertical=holds.vertical * vertical, sideways=holds.sideways * sideways)


def is_lopsided(holds: Strength, turned: Strength) -> bool:
    """Return whether a length is weaker bent the other way, in any load case."""
    pairs = (turned.vertical, holds.vertical), (turned.sideways, holds.sideways)
    return any(bool((weak < (1 - ALIKE) * strong).any()) for weak, strong in pairs)


def left_unsaid(outcome: Outcome, member: Member, factors: Array, turned: Sequence[Array]) -> Iterator[Open]:
    """Yield the load case of a member that passes and would miss its target most if it were reversed.

    factors (n_case,): as it is bent; turned: the same (n_case,) of each lopsided length bent the other way.
    """
    if not turned:
        return
    targets = np.array([outcome.case.targets.of(loads.name) for loads in outcome.loads])
    other = np.min(turned, axis=0) / targets
    other = np.where((factors >= targets) & (other < 1.0), other, np.inf)
    worst = int(np.argmin(other))
    if np.isinf(other[worst]):
        return
    asked, name = targets[worst], outcome.loads[worst].name
    reason = f"bent the other way the same moment would have a factor of {other[worst] * asked:.2f} (asked {asked:.2f}) in '{name}'"
    yield left_open(Thing.MEMBER, member.name, Question.MEMBER_BUCKLING, reason, remedy=REMEDY)
