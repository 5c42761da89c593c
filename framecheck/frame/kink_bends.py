"""The bends that stand for a kink of which nobody says how it is made."""

from __future__ import annotations

from dataclasses import replace

from framecheck.frame.kinks import Covered, Kink, covered, inner_depth
from framecheck.model.frame import Kinks
from framecheck.model.joining import LEAST_PLATE

BENDS = (1.0, 2.5, 6.0, 12.0)
"""Radii of a bend's middle line in depths of the tube: the tightest that tubes are bent to, others that benders have dies for, and the
widest that is drawn by its corner. Common practice, no source."""


def readings_of(kink: Kink) -> tuple[Kink, ...]:
    """Return a kink as it may be made: as said; else mitred plain and bent to each radius, or with the thinnest plate."""
    if any(covered(kink, side) is not Covered.YES for side in kink.sides):
        return (replace(kink, made=Kinks.MITRED, plate=None, radius=None),)
    if kink.is_said:
        return (kink,)
    if kink.made is Kinks.PLATED:
        return (replace(kink, plate=LEAST_PLATE),)
    bent = tuple(replace(kink, made=Kinks.BENT, plate=None, radius=each) for each in bends_of(kink))
    return bent if kink.made is Kinks.BENT else (replace(kink, made=Kinks.MITRED, plate=None, radius=None), *bent)


def bends_of(kink: Kink) -> tuple[float, ...]:
    """Return the radii that a bend of no said radius may have, m: the tightest, and wider ones that the legs have room for."""
    tightest = tightest_bend(kink)
    return tuple(dict.fromkeys(max(tightest, min(each * tightest, kink.widest)) for each in BENDS))


def widest_bend(kink: Kink) -> float:
    """Return the radius of the widest bend that is drawn by its corner, m: a wider one's pull lies far beside the drawn line."""
    return tightest_bend(kink) * BENDS[-1] / BENDS[0]


def tightest_bend(kink: Kink) -> float:
    """Return the radius of the tightest bend that is made, m: once the tube's depth in the plane of the bend."""
    return 2 * BENDS[0] * max(inner_depth(kink, side) for side in kink.sides)
