"""EN 1999-1-1:2007: local buckling of flat aluminium walls: slenderness, classes, what is left of the thickness."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from framecheck.checks.effective import Span, WallState, edge_stress, ratios, walls_free
from framecheck.checks.heat import SoftenedShare
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.shop_tables import BucklingClass, Material
from framecheck.section.properties import SectionProperties

SOURCE = (
    "EN 1999-1-1:2007, 6.1.4 (slenderness and classes, table 6.2) and 6.1.5 (effective thickness, table 6.3), from memory, held to "
    "two printed examples; beside welds the lesser of both reductions (6.1.6)"
)

LIMITS: Mapping[tuple[BucklingClass, bool, bool], tuple[float, float, float]] = {
    (BucklingClass.A, False, False): (11.0, 16.0, 22.0),
    (BucklingClass.A, False, True): (9.0, 13.0, 18.0),
    (BucklingClass.A, True, False): (3.0, 4.5, 6.0),
    (BucklingClass.A, True, True): (2.5, 4.0, 5.0),
    (BucklingClass.B, False, False): (13.0, 16.5, 18.0),
    (BucklingClass.B, False, True): (10.0, 13.5, 15.0),
    (BucklingClass.B, True, False): (3.5, 4.5, 5.0),
    (BucklingClass.B, True, True): (3.0, 3.5, 4.0),
}
"""beta1, beta2, beta3 over epsilon by (buckling class, free edge, with welds). EN 1999-1-1:2007, table 6.2, from memory."""

FACTORS: Mapping[tuple[BucklingClass, bool, bool], tuple[float, float]] = {
    (BucklingClass.A, False, False): (32.0, 220.0),
    (BucklingClass.A, False, True): (29.0, 198.0),
    (BucklingClass.A, True, False): (10.0, 24.0),
    (BucklingClass.A, True, True): (9.0, 20.0),
    (BucklingClass.B, False, False): (29.0, 198.0),
    (BucklingClass.B, False, True): (25.0, 150.0),
    (BucklingClass.B, True, False): (9.0, 20.0),
    (BucklingClass.B, True, True): (8.0, 16.0),
}
"""C1, C2 of the local buckling factor, by the same. EN 1999-1-1:2007, table 6.3, from memory."""


def epsilon_of(yield_strength: float) -> float:
    """Return epsilon = sqrt(250 MPa / fo). EN 1999-1-1:2007, table 6.2, note."""
    return float(np.sqrt(250e6 / yield_strength))


def gradient_factor(psi: Array, toe: BoolArray) -> Array:
    """Return eta, by which b/t is taken: 0.70 + 0.30 psi, beyond psi = -1 0.80 / (1 - psi); 1 where a free toe is the most compressed.

    EN 1999-1-1:2007, 6.1.4.3(1), figure 6.2.
    """
    steep = 0.80 / (1 - np.minimum(psi, -1.0))
    return np.where(toe, 1.0, np.where(psi >= -1.0, 0.70 + 0.30 * psi, steep))


def share_left(slenderness: Array, constants: tuple[Array, Array], limit: Array, free: BoolArray) -> Array:
    """Return rho_c = C1 / (beta / eps) - C2 / (beta / eps)^2, 1 up to beta3. EN 1999-1-1:2007, eq. (6.11), (6.12).

    slenderness: beta over epsilon. With a free edge at most 120 / (beta / eps)^2, as in unsymmetrical sections (6.1.5(3)).
    """
    ratio = np.maximum(slenderness, 1e-6)
    reduced = constants[0] / ratio - constants[1] / ratio**2
    reduced = np.where(free, np.minimum(reduced, 120 / ratio**2), reduced)
    return np.where(ratio <= limit, 1.0, np.clip(reduced, 0.0, 1.0))


def rows_of(
    table: Mapping[tuple[BucklingClass, bool, bool], tuple[float, ...]], kind: BucklingClass, free: BoolArray, welded: BoolArray
) -> tuple[Array, ...]:
    """Return the columns of a table for walls; free, welded: of any shapes that go together."""
    columns = range(len(table[kind, False, False]))

    def column(number: int) -> Array:
        held, loose = ([table[kind, edge, heat][number] for heat in (False, True)] for edge in (False, True))
        return np.where(free, np.where(welded, loose[1], loose[0]), np.where(welded, held[1], held[0]))

    return tuple(column(number) for number in columns)


def aluminium_state(section: SectionProperties, forces: Array, metal: Material, near: SoftenedShare) -> WallState:
    """Return the state of every wall under forces (..., 9): its thickness is reduced where compressed.

    near: how the rows stand to welds. Beside welds the wall keeps the lesser of both reductions, as a share of the welded strength.
    """
    span: Span = edge_stress(section, forces)
    free, bare, tip = walls_free(section, span.starts)
    welded = near.welded[..., None]
    slender = gradient_factor(span.psi, free & tip) * ratios(section) / epsilon_of(section.yield_strength)
    limits = rows_of(LIMITS, metal.buckling_class, free, welded)
    constants = rows_of(FACTORS, metal.buckling_class, free, welded)
    left = share_left(slender, (constants[0], constants[1]), limits[2], free)
    left = np.minimum(left / near.kept[..., None], 1.0)
    ranked = 1.0 + sum((slender > limit).astype(np.float64) for limit in limits)
    sound = (span.compressed <= 0) | bare
    return WallState(
        span.psi, span.compressed, span.starts, np.where(sound, 1.0, left), np.where(sound, 0.0, ranked), thinned=True
    )


def round_class(ratio: float, metal: Material) -> int:
    """Return the class 1 to 4 of a round tube of diameter over wall, by beta = 3 sqrt(D / t). EN 1999-1-1:2007, 6.1.4.3, from memory.

    Walls count as welded (unfavourable).
    """
    slender = 3 * ratio**0.5 / epsilon_of(metal.yield_strength)
    return 1 + sum(int(slender > limit) for limit in LIMITS[metal.buckling_class, False, True])
