"""What a wheel's spring does when its travel is used up, and how an axle rolls on two such springs.

A spring is straight until the bump stop or the droop strap touches; from there the stop or strap takes what comes.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, distinct_values, frozen
from framecheck.value_class import array_class, value_class

STOP_OVER_SPRING = 5.0
"""How much stiffer than its spring a bump stop or a droop strap is, where the file does not say (common practice, no source)."""


@value_class
class Travel:
    """A spring from rest: its rate, N/m; the travel up and down to the stop and the strap, m (inf: none known); their rates."""

    rate: float
    bump: float
    droop: float
    stop_rate: float
    strap_rate: float

    def up(self, force: float) -> float:
        """Return the travel upward under `force` more than at rest, N, on the spring and then on the stop."""
        return _beyond(force, self.rate, self.bump, self.stop_rate)

    def down(self, force: float) -> float:
        """Return the travel downward under `force` less than at rest, N, on the spring and then on the strap."""
        return _beyond(force, self.rate, self.droop, self.strap_rate)


def travel_of(
    rate: float, bump: float | None, droop: float | None, stop_rate: float | None, strap_rate: float | None
) -> Travel:
    """Return a spring's travel; a stop or strap of unknown rate is STOP_OVER_SPRING times the spring."""
    stiff = STOP_OVER_SPRING * rate
    inf = float("inf")
    return Travel(
        rate,
        inf if bump is None else bump,
        inf if droop is None else droop,
        stiff if stop_rate is None else stop_rate,
        stiff if strap_rate is None else strap_rate,
    )


def stiffer(one: Travel, other: Travel) -> Travel:
    """Return a spring that gives at least the force of either at any travel: the higher rates, the shorter travels."""
    return Travel(
        max(one.rate, other.rate),
        min(one.bump, other.bump),
        min(one.droop, other.droop),
        max(one.stop_rate, other.stop_rate),
        max(one.strap_rate, other.strap_rate),
    )


def _beyond(force: float, rate: float, limit: float, stiff: float) -> float:
    """Return F/k up to the limit, and limit + (F - k limit)/k_stop beyond (two springs, one after the other)."""
    return force / rate if force <= rate * limit else limit + (force - rate * limit) / stiff


@array_class
class RollLaw:
    """How an axle rolls: angles (n,) rad and moments (n,) Nm from rest, both growing from 0; straight between and beyond.

    It is odd: a roll to the other side answers with the opposite moment.
    """

    angles: Array
    moments: Array

    def angle(self, moment: float) -> float:
        """Return the roll under a moment, rad."""
        return _straight(moment, self.moments, self.angles)

    def moment(self, angle: float) -> float:
        """Return the moment at a roll, Nm."""
        return _straight(angle, self.angles, self.moments)


def _straight(x: float, xs: Array, ys: Array) -> float:
    """Return the odd function through (xs, ys), straight between them and beyond the last."""
    size = abs(x)
    if size <= float(xs[-1]):
        found = float(np.interp(size, xs, ys))
    else:
        slope = float(ys[-1] - ys[-2]) / float(xs[-1] - xs[-2])
        found = float(ys[-1]) + slope * (size - float(xs[-1]))
    return found if x >= 0 else -found


def linear(stiffness: float) -> RollLaw:
    """Return an axle of one roll stiffness, Nm/rad."""
    return RollLaw(frozen(np.array([0.0, 1.0])), frozen(np.array([0.0, stiffness])))


def roll_law(travel: Travel, apart: float, stiffness: float) -> RollLaw:
    """Return how an axle rolls on two springs of one kind, `apart` m; stiffness: of the axle with its bar before anything touches.

    A couple M_s puts M_s/s more on one spring and takes as much from the other: roll = (up + down)/s (statics of two springs).
    What the axle has beyond its springs, k s2/2, is the bar's; an axle said to be softer than its springs is scaled to it.
    """
    springs = travel.rate * apart**2 / 2
    bar, share = max(stiffness - springs, 0.0), min(stiffness / springs, 1.0)
    touches = sorted({travel.rate * each for each in (travel.bump, travel.droop) if np.isfinite(each)})
    last = 2 * touches[-1] if touches else travel.rate
    forces = [0.0, *touches, last]
    angles = np.array([(travel.up(force) + travel.down(force)) / apart for force in forces])
    moments = share * np.array(forces) * apart + bar * angles
    return RollLaw(frozen(angles), frozen(moments))


def one_after_the_other(laws: tuple[RollLaw, ...]) -> RollLaw:
    """Return springs in series: one moment, the angles add."""
    moments = distinct_values(np.concatenate([law.moments for law in laws]))
    return RollLaw(frozen(np.array([sum(law.angle(float(m)) for law in laws) for m in moments])), frozen(moments))


def side_by_side(laws: tuple[RollLaw, ...]) -> RollLaw:
    """Return springs in parallel: one angle, the moments add."""
    angles = distinct_values(np.concatenate([law.angles for law in laws]))
    return RollLaw(frozen(angles), frozen(np.array([sum(law.moment(float(a)) for law in laws) for a in angles])))
