"""Prying: a flange that bends between its bolts levers them up."""

from __future__ import annotations

from math import sqrt

from framecheck.model.joints import Bolt, BoltGroup, Ply, PlyKind, Prying
from framecheck.value_class import value_class

SOURCE = "AISC Steel Construction Manual, part 9 (W. A. Thornton, Engineering Journal 1985), nominal strengths"


@value_class
class PryingTerms:
    """offset b', edge a', m; ratio rho = b' / a'; net share delta of the flange at the bolt line."""

    offset: float
    ratio: float
    net_share: float


def prying_terms(diameter: float, hole: float, plate: Prying) -> PryingTerms:
    """Return b', rho and delta. AISC Manual, part 9: b' = b - d/2, a' = min(a, 1.25 b) + d/2, delta = 1 - d'/p."""
    offset = max(plate.offset - diameter / 2, 0.0)
    edge = min(plate.edge, 1.25 * plate.offset) + diameter / 2
    return PryingTerms(offset, offset / edge, 1.0 - hole / plate.pitch)


def thickness_without_prying(tension: float, offset: float, pitch: float, ultimate: float) -> float:
    """Return the flange thickness that makes prying vanish at a bolt tension, m: tc = sqrt(4 T b' / (p Fu)).

    AISC Manual, part 9, with nominal strength (its 4.44 and 6.66 hold 4 / 0.90 and 4 x 1.67).
    """
    return sqrt(4 * tension * offset / (pitch * ultimate))


def share_of_bolt(thickness: float, thickness_at_full: float, terms: PryingTerms) -> float:
    """Return Q: the share of the bolt's tension strength that is left for the load. AISC Manual, part 9."""
    if thickness_at_full == 0.0:
        return 1.0
    square = (thickness / thickness_at_full) ** 2
    bending = (1 / square - 1) / (terms.net_share * (1 + terms.ratio))
    return min(1.0, square * (1 + terms.net_share * min(max(bending, 0.0), 1.0)))


def tension_with_prying(bolt: Bolt, strength: float, plate: Prying) -> float:
    """Return the load per bolt, N, at which bolt or flange gives way; strength: of the bolt alone, N."""
    terms = prying_terms(bolt.thread.diameter, bolt.hole, plate)
    full = thickness_without_prying(strength, terms.offset, plate.pitch, plate.material.ultimate_strength)
    return strength * share_of_bolt(plate.thickness, full, terms)


TAKEN = "what pulls is taken to run in the middle between two lines of bolts"
BY_MEMBER = "by the plates' own size and the member that pulls"


def taken_prying(group: BoltGroup, ply: Ply, offset: float | None = None) -> Prying | None:
    """Return the prying of a ply by its own size. offset: from the bolts to what pulls, m; None: it runs between two lines of bolts.

    Each of two halves of the bolts has an even share of the ply's length, at most twice the offset (AISC Manual, part 9). None: a
    tube's wall, a ply whose edge is not known, or a single line of bolts: where it is pulled from is not known.
    """
    spreads = sorted(max(ways) - min(ways) for ways in zip(*group.positions, strict=True))
    away = spreads[0] / 2 if offset is None else offset
    if ply.kind is not PlyKind.PLATE or ply.edge is None or away <= 0.0:
        return None
    length = (spreads[1] + 2 * ply.edge) / max(len(group.positions) / 2, 1.0)
    pitch = max(min(length, 2 * away), 1.05 * group.bolt.hole)
    return Prying(away, ply.edge, pitch, ply.thickness, ply.material)
