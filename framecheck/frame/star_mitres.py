"""The mitres that may lie between ends which meet without saying how: each end with each of the others. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import permutations
from math import acos, inf, pi

import numpy as np

from framecheck.frame.geometry import OneFrame, cross
from framecheck.frame.joints import meetings_of
from framecheck.frame.kinks import SLIGHT, Kink, KinkSide
from framecheck.frame.meetings import MetEnd
from framecheck.model.frame import Frame, Kinks, Make

MOST = 4
"""How many ends at a point are judged with what a mitre's walls feel, pair by pair; of more that is left open."""


def star_mitres(frame: Frame) -> tuple[Kink, ...]:
    """Return, for each end that meets others and says nothing of how, its mitre with each other such end.

    A kink is named after the end's member; its second side is that end.
    """
    return _star_mitres(OneFrame(frame))


@lru_cache(maxsize=4)
def _star_mitres(of: OneFrame) -> tuple[Kink, ...]:
    frame = of.frame
    found = (_mitre(frame, *pair) for met in _unsaid(frame).values() for pair in permutations(met, 2))
    return tuple(kink for kink in found if kink is not None)


def crowded_ends(frame: Frame) -> Iterator[tuple[str, str]]:
    """Yield the member and the point of each end that meets so many others that what a mitre's walls feel is left open."""
    for point, met in _unsaid(frame).items():
        if len(met) > MOST:
            yield from ((frame.members[each.number].name, point) for each in met)


def _unsaid(frame: Frame) -> Mapping[str, list[MetEnd]]:
    """Return, by point, the ends that meet others and say nothing of how."""
    here: dict[str, list[MetEnd]] = {}
    for each in meetings_of(frame).values():
        made = frame.members[each.number].end if each.end else frame.members[each.number].start
        if made.make is Make.UNSAID:
            here.setdefault(each.point, []).append(each)
    return here


def _mitre(frame: Frame, other: MetEnd, own: MetEnd) -> Kink | None:
    """Return the mitre of one end with another, None where the one goes on straight from the other."""
    ways = -other.here.out, own.here.out
    turn = acos(min(1.0, max(-1.0, float(ways[0] @ ways[1]))))
    if not SLIGHT < turn < pi - SLIGHT:
        return None
    mean, inside = ways[0] + ways[1], ways[1] - ways[0]
    mean, inside = mean / np.linalg.norm(mean), inside / np.linalg.norm(inside)
    axes, sides = np.stack([mean, inside, cross(mean, inside)]), (_side(frame, other), _side(frame, own))
    return Kink(frame.members[own.number].name, own.point, turn, axes, sides, Kinks.UNSAID, None, None, 0.0)


def _side(frame: Frame, met: MetEnd) -> KinkSide:
    leg = len(frame.members[met.number].points) - 2 if met.end else 0
    return KinkSide(met.number, leg, met.end, met.here.section, met.here.out, met.here.up, inf)
