"""What a bolt does to the hole it bears on: bearing, tear-out, edge distances and spacing."""

from __future__ import annotations

from framecheck.model.joint_tables import EdgeDistance

SHEET = 3 / 16 * 0.0254
PLATE_SOURCE = "ANSI/AISC 360-22, J3.11a, deformation counted"
TUBE_SOURCE = "ANSI/AISC 360-22, J3.11b and eq. (J7-1): bolt through an unstiffened hollow section"
SHEET_SOURCE = "AISI S100-16, J3.3.1, from memory, one face without washer (mf 0.75)"


def bearing(diameter: float, thickness: float, ultimate: float) -> float:
    """Return the bearing strength of a plate, N. ANSI/AISC 360-22, eq. (J3-6a): 2.4 d t Fu."""
    return 2.4 * diameter * thickness * ultimate


def bearing_of_tube_wall(diameter: float, thickness: float, yield_strength: float) -> float:
    """Return the bearing strength of a tube wall under a through bolt, N. ANSI/AISC 360-22, eq. (J7-1): 1.8 Fy d t."""
    return 1.8 * yield_strength * diameter * thickness


def bearing_of_sheet(diameter: float, thickness: float, ultimate: float) -> float:
    """Return the bearing strength of sheet under 3/16 in, N: C mf d t Fu, mf 0.75.

    AISI S100-16, J3.3.1, from memory: C 3 up to d/t 10, 4 - 0.1 d/t up to 22, 1.8 above.
    """
    slenderness = diameter / thickness
    factor = min(max(4.0 - 0.1 * slenderness, 1.8), 3.0)
    return 0.75 * factor * diameter * thickness * ultimate


def tear_out(clear: float, thickness: float, ultimate: float) -> float:
    """Return the tear-out strength, N. ANSI/AISC 360-22, J3.11a: 1.2 lc t Fu; clear: from hole to next edge, m."""
    return 1.2 * max(clear, 0.0) * thickness * ultimate


def least_edge(rows: tuple[EdgeDistance, ...], diameter: float) -> EdgeDistance:
    """Return the row for the diameter: the smallest tabulated one at least as large; above the table, 1.25 d."""
    for row in sorted(rows, key=lambda each: each.diameter):
        if diameter <= row.diameter * (1 + 1e-6):
            return row
    return EdgeDistance(diameter, 1.25 * diameter, "ANSI/AISC 360-22, table J3.4, above the table: 1.25 d, from memory")


def largest_edge(thickness: float) -> float:
    """Return the largest centre-to-edge distance, m. ANSI/AISC 360-22, J3.6: 12 t, at most 150 mm."""
    return min(12 * thickness, 0.150)


def least_spacing(diameter: float) -> float:
    """Return the least centre-to-centre distance, m. ANSI/AISC 360-22, J3.4: 2 2/3 d (3 d preferred)."""
    return 8 / 3 * diameter
