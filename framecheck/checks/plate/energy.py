"""What a blow asks of the plate and what the plate can take: energy up to contact, and the force at the end of the blow.

The plate is elastic up to its collapse load and folds at that load afterwards, in the same shape. Amplitudes are of the shape that
one newton gives; work is twice that shape's bending energy, which is also how far the patch moves per newton.
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf

from framecheck.checks.plate.membrane import amplitude, elastic_energy
from framecheck.model.plate import Blow, Closing, Drop
from framecheck.value_class import value_class

GRAVITY = 9.80665


@value_class
class PlateSpring:
    """How the plate takes a load. work: m/N x N2; membrane: J at amplitude 1; collapse: N, the load it folds at."""

    work: float
    membrane: float
    collapse: float

    def absorbed(self, a: float) -> float:
        """Return the energy taken up to an amplitude, J: elastic, then the collapse load times the way on."""
        folding = amplitude(self.collapse, self.work, self.membrane) if self.collapse < inf else inf
        if a <= folding:
            return elastic_energy(a, self.work, self.membrane)
        return elastic_energy(folding, self.work, self.membrane) + self.collapse * self.work * (a - folding)


def fall(blow: Blow) -> float:
    """Return how far the mass falls before it strikes, m: the drop, the step less the clearance under the plate, or what a fall
    would be that ends at the speed.
    """
    if isinstance(blow, Closing):
        return blow.speed**2 / (2 * GRAVITY)
    return blow.height if isinstance(blow, Drop) else max(blow.step - blow.clearance, 0.0)


def asked(blow: Blow, travel: float) -> float:
    """Return the energy a blow brings while the plate gives way by a travel, J.

    m g (h + travel), for the weight goes on pushing; h of a speed: v2 / 2 g. Statics and energy, no source.
    """
    return blow.mass * GRAVITY * (fall(blow) + travel)


def stopped_at(blow: Blow, spring: PlateSpring) -> float:
    """Return the amplitude at which the blow's energy is taken up; inf: the weight alone folds the plate on and on."""
    return _first_above(lambda a: spring.absorbed(a) - asked(blow, a * spring.work))


def _first_above(excess: Callable[[float], float]) -> float:
    """Return the amplitude where a function that is negative at first turns positive, inf where it never does. Bisection."""
    high = 1.0
    while excess(high) <= 0:
        high *= 2
        if high > 1e15:
            return inf
    low = 0.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if excess(middle) <= 0 else (low, middle)
    return high
