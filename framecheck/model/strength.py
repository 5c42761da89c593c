"""What a case may say about buckling lengths, notches and rare cases. SI."""

from __future__ import annotations

from framecheck.value_class import value_class


@value_class
class BucklingLength:
    """Lengths that the user states for a member, m: effective column length vertically and sideways, and the length between
    points held against twist and sideways movement. None: bracketed instead, from one crossmember to the next and end to end.
    """

    member: str
    vertical: float | None = None
    sideways: float | None = None
    lateral: float | None = None
    source: str = "case file"


@value_class
class NotchAsked:
    """What is asked of notches. zone_share: a rail may be cut where its utilisation (stress over yield) is below this share.

    local_yield: members whose notch corners are asked for local yield by Neuber's rule.
    """

    zone_share: float = 0.33
    local_yield: tuple[str, ...] = ()


@value_class
class StrengthAsked:
    """What the case says beyond its targets; rare: load cases in which a permanent set may be accepted."""

    buckling_lengths: tuple[BucklingLength, ...] = ()
    notches: NotchAsked = NotchAsked()
    rare: tuple[str, ...] = ()
