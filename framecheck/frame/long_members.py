"""Members that run along the vehicle, as rails do."""

from __future__ import annotations

from itertools import pairwise
from math import dist

import numpy as np

from framecheck.model.frame import Frame, Member

ALONG = 0.9  # share of its length that a member which runs along the vehicle spans


def long_members(frame: Frame) -> list[Member]:
    """Return the rails of a frame; without any, the members that run along the vehicle beside its middle, the lowest first."""
    rails = [each for each in frame.members if each.role == "rail"]
    along = [each for each in frame.members if runs_along(frame, each)]
    return rails or sorted(along, key=lambda each: (round(_mean(frame, each, 2), 6), each.name))


def runs_along(frame: Frame, member: Member) -> bool:
    """Return whether a member runs along the vehicle, within 25 degrees or so, beside its middle."""
    places = [frame.points[name] for name in member.points]
    whole = sum(dist(a, b) for a, b in pairwise(places))
    beside = all(y > 0 for _, y, _ in places) or all(y < 0 for _, y, _ in places)
    return beside and abs(places[-1][0] - places[0][0]) >= ALONG * whole


def _mean(frame: Frame, member: Member, axis: int) -> float:
    """Return the mean coordinate of a member's points, m."""
    return float(np.mean([frame.points[name][axis] for name in member.points]))
