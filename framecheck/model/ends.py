"""What a member's end is made with besides its weld: gussets, a closed or open end. SI."""

from __future__ import annotations

from enum import Enum

from framecheck.value_class import value_class


class GussetPlace(Enum):
    """At which height of the member a pair of gussets stands."""

    MIDDLE = "middle"
    TOP = "top"
    BOTTOM = "bottom"
    BOTH = "top and bottom"


@value_class
class GussetPair:
    """Two equal triangular plates, one each side of a member's end, in one plane with it and what it stands on.

    along_rail, along_member: their legs; thickness: m. height: above the member's middle, m; None: where `place` says.
    """

    along_rail: float
    along_member: float
    thickness: float
    place: GussetPlace = GussetPlace.MIDDLE
    height: float | None = None


LEAST_PLATE = 1e-3
"""m: thinner sheet burns away under the weld, and closes and stiffens nothing. Common practice, no source."""


class Finish(Enum):
    """What a member is at its own end, where others stand near it."""

    UNSAID = "unsaid"
    OPEN = "open"
    RUNS_ON = "runs on"
    PLATE = "closed by a plate"


@value_class
class Cap:
    """How a member's own end is finished; thickness: of the plate that closes it, m."""

    finish: Finish = Finish.UNSAID
    thickness: float = 0.0


UNCAPPED = Cap()
