"""Clamp force and the torque that makes it."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.joints import Bolt, BoltGroup
from framecheck.results.row import Check, Sizing
from framecheck.results.subjects import Remark
from framecheck.value_class import value_class

SOURCE = "torque = K F d; clamp 0.75 of proof load for a joint to be undone, 0.90 for a permanent one, from memory"


@value_class
class Tightening:
    """How to tighten a bolt. clamp: N; torque: Nm for the middle K.

    least_clamp, most_clamp: what that torque really gives at the two ends of the range of K, N.
    """

    clamp: float
    torque: float
    least_clamp: float
    most_clamp: float
    source: str


def torque(factor: float, clamp: float, diameter: float) -> float:
    """Return K F d, Nm: the torque equation in its short form."""
    return factor * clamp * diameter


def tightening(bolt: Bolt) -> Tightening | None:
    """Return clamp, torque and the scatter that K brings; None where the bolt is not tightened to a known share."""
    if bolt.clamp is None or bolt.torque_factor is None:
        return None
    factor = bolt.torque_factor
    asked = torque(factor.middle, bolt.clamp, bolt.thread.diameter)
    return Tightening(
        clamp=bolt.clamp,
        torque=asked,
        least_clamp=asked / (factor.most * bolt.thread.diameter),
        most_clamp=asked / (factor.least * bolt.thread.diameter),
        source=f"{SOURCE}; K: {factor.source}",
    )


def shop_lines(group: BoltGroup) -> Iterator[Sizing | Remark]:
    """Yield the torque of a group's bolts and the clamp that it gives at both ends of its scatter."""
    found = tightening(group.bolt)
    if found is None:
        missing = "how far the bolts are tightened" if group.bolt.clamp is None else "the state of their threads"
        yield Remark(f"{group.name}: tightening torque", f"{missing} is not given, so no torque can be said")
        return
    for what, value, unit in (
        ("tightening torque", found.torque, "Nm"),
        ("clamp at that torque, at least", found.least_clamp, "N"),
        ("clamp at that torque, at most", found.most_clamp, "N"),
    ):
        yield Sizing(Check.BOLTS, group.name, what, value, unit, None, found.source)
