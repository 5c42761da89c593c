"""Clamp force and the torque that makes it."""

from __future__ import annotations

from dataclasses import dataclass

from framecheck.model.joints import Bolt

REUSABLE = 0.75
PERMANENT = 0.90
SOURCE = "torque = K F d; clamp 0.75 of proof load for a joint to be undone, 0.90 for a permanent one, from memory"


@dataclass(frozen=True, slots=True)
class Tightening:
    """How to tighten a bolt. clamp: N; torque: Nm for the middle K.

    least_clamp, most_clamp: what that torque really gives at the two ends of the range of K, N.
    """

    clamp: float
    torque: float
    least_clamp: float
    most_clamp: float
    source: str


def clamp_force(share: float, proof: float, stress_area: float) -> float:
    """Return share x proof strength x stress area, N. Machine-design practice (0.75 reusable, 0.90 permanent), from
    memory.
    """
    return share * proof * stress_area


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
