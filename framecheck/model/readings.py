"""Places on members whose forces, bimoment and stress are wanted as numbers, as a rig's gauges give them. SI."""

from __future__ import annotations

from framecheck.model.shapes import Side
from framecheck.value_class import value_class


@value_class
class Reading:
    """A place on a member. station: m from its first point; side: of the section in its own axes, None: no stress is wanted; offset:
    along that side from the middle of the outline, m, + up or left, as the section is drawn.
    """

    name: str
    member: str
    station: float
    side: Side | None = None
    offset: float = 0.0
