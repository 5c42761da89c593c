"""Members that end on sheet: what their ends do to it near by is not solved. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.panel.legs import NEAR, Leg
from framecheck.frame.panel.site import Site
from framecheck.frame.panel.touch import OnEdge, OnLine, PassingLeg, Touch
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame


def ends_on(frame: Frame, site: Site, touches: Sequence[Touch]) -> tuple[tuple[str, str], ...]:
    """Return members that end on a panel at a point that no other member meets: name and point, each once."""
    met = [point for member in frame.members for point in member.points]
    alone = (each for touch in touches for each in _ends(frame, site, touch) if met.count(each[1]) == 1)
    return tuple(dict.fromkeys(alone))


def _ends(frame: Frame, site: Site, touch: Touch) -> Iterator[tuple[str, str]]:
    member = frame.members[touch.leg.member]
    leg = touch.leg
    for is_end, point, place in ((leg.first, member.points[0], leg.start), (leg.last, member.points[-1], leg.end)):
        if is_end and _lies_there(site, touch, place):
            yield member.name, point


def _lies_there(site: Site, touch: Touch, place: Array) -> bool:
    """Return whether a leg's end (3,) lies where it meets the panel, and not beyond it."""
    match touch:
        case PassingLeg():
            return touch.closed and abs(float((place - site.middle) @ site.axes[2])) <= _slack(touch.leg)
        case OnLine():
            along = touch.ends @ touch.leg.way
            return bool(np.abs(along - place @ touch.leg.way).min() <= _slack(touch.leg))
        case OnEdge():
            first, second = site.corners[touch.edge], site.corners[(touch.edge + 1) % len(site.corners)]
            span = second - first
            share = float((place - first) @ span / (span @ span))
            room = NEAR / float(np.linalg.norm(span))
            return room < share < 1 - room


def _slack(leg: Leg) -> float:
    """Return how far off an end may lie and still end there, m: a slanting leg reaches the plane with its box first."""
    return NEAR + 1e-6 * leg.length
