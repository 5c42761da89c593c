"""Bolts and welds in one joint: what each path carries, how they share by stiffness, and whether the weld is needed."""

from __future__ import annotations

from math import pow, sqrt

from framecheck.value_class import value_class

CODE = "ANSI/AISC 360-22, J1.8; EN 1993-1-8:2005, 2.4 (from memory): the stiffer fasteners carry the load"
LONGITUDINAL_LIMIT = 0.209 * pow(2.0, -0.32)


@value_class
class BoltPath:
    """The bolts of a joint along the load, N: strength (bolt, bearing or tear-out), slip resistance (0: not tightened).

    stiffness: once they bear, N/m; play: how far the joint moves until they bear, m (hole clearance, unfavourable).
    """

    strength: float
    slip: float
    stiffness: float
    play: float


@value_class
class WeldPath:
    """The welds of a joint along the load: strength of the weakest of metal and walls, N; leg, m."""

    strength: float
    leg: float


@value_class
class Sharing:
    """The answer. Strengths in N, movements in m.

    bolts_alone, welds_alone, together: safety factors; weld_share: share of the demand in the weld while the bolts have
    not slipped into bearing; words: the answer in a sentence.
    """

    bolts_alone: float
    welds_alone: float
    together: float
    weld_share: float
    weld_movement: float
    play: float
    weld_needed: bool
    words: str
    source: str


def bolt_stiffness(bolts: int, diameter: float, bolt_tensile: float, planes: int) -> float:
    """Return the shear stiffness of bolts in bearing, N/m: 8 n d2 fub / dM16 a plane.

    EN 1993-1-8:2005, table 6.11, from memory: k11 = 16 nb d2 fub / (E dM16) for nb rows of two bolts; dM16 = 16 mm.
    """
    return 8 * bolts * diameter**2 * bolt_tensile / 0.016 * planes


def weld_movement(share: float, leg: float) -> float:
    """Return how far a longitudinal fillet moves, m, at a share of its strength (0 to 1).

    D. F. Lesik and D. J. L. Kennedy (1990), in the commentary to ANSI/AISC 360, J2.4, from memory: P / P0 =
    (p (1.9 - 0.9 p))^0.3 with p = movement over 0.209 (0 + 2)^-0.32 leg.
    """
    root = pow(share, 1 / 0.3)
    part = (1.9 - sqrt(1.9**2 - 3.6 * root)) / 1.8
    return part * LONGITUDINAL_LIMIT * leg


def bolts_at(path: BoltPath, movement: float) -> float:
    """Return what the bolts carry when the joint has moved, N: friction, then bearing past the play, up to their
    strength.
    """
    return min(path.slip + path.stiffness * max(movement - path.play, 0.0), max(path.strength, path.slip))


def may_add(bolts: BoltPath, welds: WeldPath, demand: float, target: float) -> bool:
    """Return whether slip-tight bolts and longitudinal fillets may be added up.

    ANSI/AISC 360-22, J1.8(c), (d), tightened by any method but turn-of-nut: welds at least 70 %, bolts at least 33 % of
    what is required, by their available strengths.
    """
    return welds.strength / target >= 0.70 * demand and bolts.slip / 1.5 >= 0.33 * demand


def joint_sharing(bolts: BoltPath, welds: WeldPath, demand: float, target: float = 2.0) -> Sharing:
    """Return how bolts and longitudinal welds carry a force (N) and whether the weld is needed.

    Strengths are added only where J1.8 allows it; else the stronger path alone counts, and it must do so alone.
    """
    movement = weld_movement(min(demand / welds.strength, 1.0), welds.leg)
    in_bolts = min(bolts_at(bolts, movement), demand)
    alone = (bolts.strength / demand, welds.strength / demand)
    added = may_add(bolts, welds, demand, target)
    together = (bolts.slip + welds.strength) / demand if added else max(alone)
    needed = alone[0] < target
    return Sharing(
        bolts_alone=alone[0],
        welds_alone=alone[1],
        together=max(together, *alone),
        weld_share=1.0 - in_bolts / demand,
        weld_movement=movement,
        play=bolts.play,
        weld_needed=needed,
        words=words(alone, target, added),
        source=CODE,
    )


def words(alone: tuple[float, float], target: float, added: bool) -> str:
    """Return the answer in words from the safety factors of bolts and welds alone."""
    bolts_do, welds_do = alone[0] >= target, alone[1] >= target
    if bolts_do and welds_do:
        return "weld not needed: either path carries the load alone"
    if bolts_do:
        return "weld not needed: the bolts carry the load alone, and after a slip the weld cracks before they bear"
    if welds_do:
        return "weld needed: it carries the load alone, the bolts do not and are not added"
    if added:
        return "weld needed, with slip-tight bolts added to it: neither path carries the load alone"
    return "not enough: neither path carries the load alone, and they may not be added here"
