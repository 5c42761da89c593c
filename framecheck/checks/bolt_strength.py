"""What bolts and their holes bear: shear, tension, both at once, slip, bearing, tear-out. Nominal values; the safety factor is
asked outside.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import pi

from framecheck.model.arrays import Array
from framecheck.model.joints import MEAN_OVER_LEAST, Bolt, BoltGroup, Threads, Tightened
from framecheck.model.shop_tables import EdgeDistance, SlipRule
from framecheck.value_class import array_class, value_class

BY_AISC = "ANSI/AISC 360-10, table J3.2"
BY_EN = "EN 1993-1-8:2005, table 3.4, without its partial factor"
BOTH_SOURCE = "ANSI/AISC 360-22, eq. (J3-3b), for proportional growth of both"


ALIKE = " (taken as class {}: common practice, no source)"


@value_class
class Strength:
    """What one thing carries, N, the least safety factor that its own standard asks of it, and where the rule stands."""

    value: float
    asked: float
    source: str

    @property
    def allowed(self) -> float:
        """Return the load that the rule allows, N."""
        return self.value / self.asked


def weakest(rules: Iterable[Strength], asked: float) -> Strength:
    """Return the rule that allows least; asked: the safety factor that the joint asks at least, whatever the rule's own is."""
    whole = (Strength(each.value, max(each.asked, asked), each.source) for each in rules)
    return min(whole, key=lambda each: each.allowed)


def smaller(american: tuple[float, str], european: tuple[float, str]) -> Strength:
    """Return the smaller of two standards' nominal strengths, N, each with its formula in words, and what was taken.

    ANSI/AISC 360's factor 2.00 is asked of either, so neither standard may lend a strength that the other would not: the smaller one
    over 2.00 is no more than AISC's own, and less than EN's own with its partial factor 1.25 and loads 1.5 times theirs.
    """
    (ours, formula), (theirs, other) = american, european
    by_aisc, by_en = f"{BY_AISC}: {formula}", f"{BY_EN}: {other}"
    taken, left = (by_aisc, by_en) if ours <= theirs else (by_en, by_aisc)
    return Strength(min(ours, theirs), 2.0, f"{taken}, less than {left}; asked: AISC's ASD 2.00")


def shank_area(diameter: float) -> float:
    """Return the area of a bolt's shank, m2."""
    return pi * (diameter / 2) ** 2


def shear_through_threads(shear_factor: float, tensile: float, stress_area: float) -> float:
    """Return the shear strength of one plane through the threads, N. EN 1993-1-8:2005, table 3.4: alpha_v fub As."""
    return shear_factor * tensile * stress_area


def shear_through_shank(tensile: float, diameter: float) -> float:
    """Return the shear strength of one plane through the full shank, N. EN 1993-1-8:2005, table 3.4: 0.6 fub A."""
    return 0.6 * tensile * shank_area(diameter)


def shear_aisc(tensile: float, diameter: float) -> float:
    """Return the shear strength of one plane through the threads, N. ANSI/AISC 360-10, table J3.2, seen: 0.450 Fu Ab (the shank)."""
    return 0.450 * tensile * shank_area(diameter)


def shank_shear_aisc(tensile: float, diameter: float) -> float:
    """Return the shear strength of one plane beside the threads, N. ANSI/AISC 360-10, table J3.2, seen: 0.563 Fu Ab."""
    return 0.563 * tensile * shank_area(diameter)


def shear_strength(bolt: Bolt, share: float = 1.0) -> Strength:
    """Return the shear strength of the bolt over all its planes, the smaller of two standards'.

    share: what a long joint leaves of the European one; the American one has its own in it, up to 38 in.
    """
    tensile, size, planes = bolt.grade.tensile, bolt.thread.diameter, bolt.shear_planes
    if bolt.threads is Threads.IN:
        factor, like = bolt.grade.shear_factor, bolt.grade.like
        american = shear_aisc(tensile, size), "0.450 Fu on the whole shank, threads in"
        european = shear_through_threads(factor, tensile, bolt.thread.stress_area), f"{factor:g} fub As{like and ALIKE.format(like)}"
    else:
        american = shank_shear_aisc(tensile, size), "0.563 Fu on the whole shank, threads out"
        european = shear_through_shank(tensile, size), "0.6 fub A"
    long = "" if share == 1.0 else f", {share:.2f} of it in a long joint (3.8)"
    return smaller((planes * american[0], american[1]), (share * planes * european[0], european[1] + long))


def share_in_long_joint(length: float, diameter: float) -> float:
    """Return how much of their shear strength the bolts of a long lap hold, for the outermost take more: 1 - (L - 15 d) / 200 d.

    EN 1993-1-8:2005, 3.8, from memory: between 0.75 and 1. length: between the middles of the end bolts along the force, m.
    """
    return min(max(1.0 - (length - 15 * diameter) / (200 * diameter), 0.75), 1.0)


def tension_en(tensile: float, stress_area: float) -> float:
    """Return the tensile strength, N. EN 1993-1-8:2005, table 3.4: 0.9 fub As."""
    return 0.9 * tensile * stress_area


def tension_aisc(tensile: float, diameter: float) -> float:
    """Return the tensile strength, N. ANSI/AISC 360-10, table J3.2, seen: 0.75 Fu Ab, the whole shank."""
    return 0.75 * tensile * shank_area(diameter)


def tension_strength(bolt: Bolt) -> Strength:
    """Return the tensile strength of the bolt, the smaller of two standards'."""
    tensile, thread = bolt.grade.tensile, bolt.thread
    american = tension_aisc(tensile, thread.diameter), "0.75 Fu on the whole shank"
    return smaller(american, (tension_en(tensile, thread.stress_area), "0.9 fub As"))


def used_by_both(shear_use: float, tension_use: float) -> float:
    """Return the share of strength used by shear and tension together (1: the limit), both growing in proportion.

    ANSI/AISC 360-22, eq. (J3-3): F'nt = 1.3 Fnt - (Fnt / Fnv) frv <= Fnt, solved for the common factor. shear_use,
    tension_use: each force over its own strength.
    """
    return max(shear_use, tension_use, (shear_use + tension_use) / 1.3)


SOURCES = {
    SlipRule.AISC: "ANSI/AISC 360-22, J3.9 and J3.10 (mu Du Tb ns; Du 1.13 for a controlled least clamp, 1 for the least of a torque)",
    SlipRule.EN: "EN 1993-1-8:2005, 3.9.1 and 3.9.2, from memory, without its partial factor (1.10 in service: more is asked)",
    SlipRule.PLAIN: "friction on the clamp force; the coefficient is common practice, no source",
}


def slip_aisc(friction: float, clamp: float, planes: int, tension: float) -> float:
    """Return the slip resistance of one bolt, N. ANSI/AISC 360-22, eq. (J3-4) and (J3-5b); 1.5: its ASD load factor.

    clamp: Du Tb, what is counted on.
    """
    return friction * clamp * planes * max(1.0 - 1.5 * tension / max(clamp, 1e-12), 0.0)


def slip_en(friction: float, clamp: float, planes: int, tension: float) -> float:
    """Return the slip resistance of one bolt, N. EN 1993-1-8:2005, eq. (3.6), (3.8), from memory, no gamma_M3."""
    return friction * planes * max(clamp - 0.8 * tension, 0.0)


def slip_plain(friction: float, clamp: float, planes: int, tension: float) -> float:
    """Return mu n (F - T), N: friction on what is left of the clamp force (statics)."""
    return friction * planes * max(clamp - tension, 0.0)


RULES: dict[SlipRule, Callable[[float, float, int, float], float]] = {
    SlipRule.AISC: slip_aisc,
    SlipRule.EN: slip_en,
    SlipRule.PLAIN: slip_plain,
}


def clamp_counted(bolt: Bolt) -> float | None:
    """Return the clamp that slip may count on, N: the least that the tightening makes, less what closes a gap; by AISC the mean of a
    controlled one.
    """
    if bolt.least_clamp is None or bolt.surface is None:
        return None
    mean = bolt.surface.rule is SlipRule.AISC and bolt.tightened is Tightened.CONTROLLED
    return max(bolt.least_clamp * (MEAN_OVER_LEAST if mean else 1.0) - bolt.closing, 0.0)


def slip_as_aimed(bolt: Bolt, tension: float) -> float | None:
    """Return the slip resistance with the clamp that the tightening aims at, N; None: not known, or no less is counted on."""
    counted = clamp_counted(bolt)
    clamp = max((bolt.clamp or 0.0) - bolt.closing, 0.0)
    if counted is None or bolt.surface is None or counted >= clamp:
        return None
    return RULES[bolt.surface.rule](bolt.surface.friction, clamp, bolt.shear_planes, tension)


def slip_resistance(bolt: Bolt, tension: float) -> float | None:
    """Return the slip resistance of a bolt under tension (N) by its surface's rule, N; None: not known."""
    clamp = clamp_counted(bolt)
    if clamp is None or bolt.surface is None:
        return None
    return RULES[bolt.surface.rule](bolt.surface.friction, clamp, bolt.shear_planes, tension)


SHEET = 3 / 16 * 0.0254
PLATE_SOURCE = "ANSI/AISC 360-22, J3.11a, deformation counted"
TUBE_SOURCE = "ANSI/AISC 360-22, J3.11b and eq. (J7-1): bolt through an unstiffened hollow section"
SHEET_SOURCE = "AISI S100-16, J3.3.1, one face without washer (mf 0.75), ASD 2.50: all from memory"
SHEET_TORN_SOURCE = "AISI S100-16, J6 and table J6-1 (bolts: ASD 2.22), from memory; strength as ANSI/AISC 360-22, J4 and J3.11a"
SHEET_KEPT_SOURCE = "AISI S100, J3.3.2 (as a public letter quotes the edition of 2001), deformation counted; ASD 2.22, from memory"


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


def bearing_of_sheet_kept(diameter: float, thickness: float, ultimate: float) -> float:
    """Return the bearing strength of sheet under 3/16 in with the hole's deformation counted, N: (4.64 t + 1.53) d t Fu, t in inches.

    AISI S100, J3.3.2 (E3.3.2 of 2001, as a public letter quotes it, seen).
    """
    return (4.64 * thickness / 0.0254 + 1.53) * diameter * thickness * ultimate


def plate_share(thickness: float) -> float:
    """Return how far metal counts as plate: not up to 3/16 in (AISI S100-16, J3, from memory), wholly from a tenth more (ours)."""
    return min(max((thickness / SHEET - 1.0) / 0.1, 0.0), 1.0)


def of_sheet_or_plate(plate: Strength, sheet: tuple[Strength, ...], thickness: float, asked: float) -> Strength:
    """Return what allows least: up to 3/16 in by all rules; from there what they allow goes evenly over to what a plate does."""
    share, least, whole = plate_share(thickness), weakest((plate, *sheet), asked), weakest((plate,), asked)
    if share in (0.0, 1.0) or least == whole:
        return whole if share else least
    value, allowed = ((1.0 - share) * a + share * b for a, b in ((least.value, whole.value), (least.allowed, whole.allowed)))
    said = f"between {least.source} and {plate.source}, which holds alone from a tenth over 3/16 in"
    return Strength(value, value / allowed, said)


def bearing_of_metal(diameter: float, thickness: float, ultimate: float, asked: float) -> Strength:
    """Return what a hole bears: by a plate's rule or those of sheet with their own factors. asked: by the joint at least."""
    plate = Strength(bearing(diameter, thickness, ultimate), 2.0, PLATE_SOURCE)
    sheet = Strength(bearing_of_sheet(diameter, thickness, ultimate), 2.50, SHEET_SOURCE)
    kept = Strength(bearing_of_sheet_kept(diameter, thickness, ultimate), 2.22, SHEET_KEPT_SOURCE)
    return of_sheet_or_plate(plate, (sheet, kept), thickness, asked)


def tear_out(clear: float, thickness: float, ultimate: float) -> float:
    """Return the tear-out strength, N. ANSI/AISC 360-22, J3.11a: 1.2 lc t Fu; clear: from hole to next edge, m."""
    return 1.2 * max(clear, 0.0) * thickness * ultimate


def torn(plate: Strength, thickness: float, asked: float, lag: float = 1.0) -> Strength:
    """Return what tearing metal holds, by the rule of a plate or that of sheet where it allows less.

    AISI S100-16, J6, from memory: the strengths of ANSI/AISC 360, J4, a net section by the lag besides; ASD 2.22 for bolts.
    asked: the safety factor that the joint asks at least. lag: 0.9 + 0.1 d / s of sheet, 0.9 at least (J6.2), for a net section.
    """
    said = f"{SHEET_TORN_SOURCE}; asked over {lag:g}, its share of the net section (table J6.2-1)" if lag < 1.0 else SHEET_TORN_SOURCE
    return of_sheet_or_plate(plate, (Strength(plate.value, 2.22 / lag, said),), thickness, asked)


def torn_out(clear: float, thickness: float, ultimate: float, asked: float) -> Strength:
    """Return what holds one bolt from tearing to the next edge, `clear` away from its hole, m."""
    return torn(Strength(tear_out(clear, thickness, ultimate), 2.0, PLATE_SOURCE), thickness, asked)


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


@array_class
class BoltLoads:
    """What pulls and shears every bolt of a group in every load case, N: tension (n_case, n_bolt), shear (n_case, n_bolt, 3).

    held: the friction that each bolt's clamp leaves against slip, (n_case, n_bolt), N; 0 where it is not known. Bolts stand bound by
    bound where the case leaves something open.
    """

    group: BoltGroup
    tension: Array
    shear: Array
    held: Array
