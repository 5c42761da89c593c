"""Sizes and lengths of fillet welds."""

from __future__ import annotations

from framecheck.model.joint_tables import LeastLeg

LENGTH_SOURCE = "ANSI/AISC 360-22, J2.2b: at least 4 legs"
EDGE_SOURCE = "ANSI/AISC 360-22, J2.2b: t under 6 mm, else t - 2 mm, along an edge"


def least_leg(rows: tuple[LeastLeg, ...], thinner: float) -> LeastLeg:
    """Return the least leg for the thinner part (m), never more than the part itself. ANSI/AISC 360-22, table J2.4."""
    ordered = sorted(rows, key=lambda row: row.thickness)
    row = next((row for row in ordered if thinner <= row.thickness * (1 + 1e-6)), ordered[-1])
    return LeastLeg(row.thickness, min(row.leg, thinner), row.source)


def largest_leg(thickness: float) -> float:
    """Return the largest leg along the edge of a part, m. ANSI/AISC 360-22, J2.2b: t under 6 mm, else t - 2 mm."""
    return thickness if thickness < 0.006 else thickness - 0.002


def least_length(leg: float) -> float:
    """Return the least effective length of a fillet, m. ANSI/AISC 360-22, J2.2b: 4 legs."""
    return 4 * leg


def least_stitch(leg: float) -> float:
    """Return the least length of a stitch, m. ANSI/AISC 360-22, J2.2b: 4 legs and 38 mm."""
    return max(4 * leg, 0.038)


def largest_gap(thinner: float) -> float:
    """Return the largest clear gap between stitches, m: 24 t, at most 300 mm.

    ANSI/AISC 360-22, J3.6(a), written for fasteners of painted parts in contact, used here for stitches.
    """
    return min(24 * thinner, 0.300)


def largest_gap_en(thinner: float) -> float:
    """Return the largest gap in compression or shear, m: 12 t, at most 200 mm. EN 1993-1-8:2005, 4.3.2, from memory."""
    return min(12 * thinner, 0.200)
