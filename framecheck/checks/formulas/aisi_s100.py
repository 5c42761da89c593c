"""AISI S100-16: webs of cold-formed sections. SI; strengths are nominal."""

from __future__ import annotations

from math import sqrt

from framecheck.model.shop_tables import CripplingRow


def web_crippling(
    row: CripplingRow, yield_strength: float, thickness: float, radius: float, lengths: tuple[float, float]
) -> float:
    """Return the web crippling strength of one cold-formed web, N. AISI S100-16, eq. (G5-1), web upright.

    C t2 Fy (1 - CR sqrt(R/t)) (1 + CN sqrt(N/t)) (1 - Ch sqrt(h/t)); radius: inside bend, m; lengths: (bearing N, flat web h), m.
    """
    return (
        row.c
        * thickness**2
        * yield_strength
        * (1 - row.c_radius * sqrt(radius / thickness))
        * (1 + row.c_bearing * sqrt(lengths[0] / thickness))
        * (1 - row.c_slenderness * sqrt(lengths[1] / thickness))
    )
