"""Two or more sections, or solved cases, side by side; the bare frame's stiffness on the rig; the mass fitted to members."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from enum import Enum
from math import inf, sqrt

import numpy as np

from framecheck.frame.stiffness import FrameStiffness
from framecheck.model.case import Case
from framecheck.results.openings import diagonal_changes
from framecheck.results.row import Grade
from framecheck.results.row_order import worst_by
from framecheck.results.summary import mass_of
from framecheck.run import Results
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore
from framecheck.section.twisting import HeldFromWarping, decay, share_of_free_twist
from framecheck.study.frame_measures import fitted_mass, points_of, stiffness_of
from framecheck.value_class import value_class
from framecheck.vehicle.scene_builder import MassAccount

COUNT = "count"
"""The quantity of what is counted."""
GOVERNING = "safety factor of what governs"
FACTOR = "factor"
"""The quantity of a safety factor: shown rounded down, with what is asked of it."""
SHARE = "share"
"""The quantity of a share used of what is allowed, shown in per cent."""
ENDLESS = 99.99
"""The share from which on only that it is beyond all measure is shown: parts that touch."""


class Better(Enum):
    """Which way a quantity gets better."""

    MORE = "more"
    LESS = "less"
    NEITHER = "neither"


@value_class
class ComparedRow:
    """One quantity of everything compared, SI. quantity: as in output/display; None: not known for that one.

    word: how the sentence calls it; "" where the sentence leaves it out, unless it got worse. low: which values miss a target;
    asked: the targets; load_case: the one that it is about.
    """

    name: str
    quantity: str
    values: tuple[float | None, ...]
    word: str = ""
    better: Better = Better.NEITHER
    low: tuple[bool, ...] = ()
    asked: tuple[float | None, ...] = ()
    load_case: str | None = None

    @property
    def ratios(self) -> tuple[float | None, ...]:
        """Return each value over the first; None where one is below nothing, such as the gap of parts that touch, or without end."""
        first = self.values[0]
        known = first is not None and 0 < first < (ENDLESS if self.quantity == SHARE else inf)
        return tuple(value / first if known and first and value is not None and value >= 0 else None for value in self.values)

    def worsening(self, number: int) -> float:
        """Return by what factor one is worse than the first: above 1; 1 where it is not, or it is not known."""
        first, value = self.values[0], self.values[number]
        if first is None or value is None or self.better is Better.NEITHER:
            return 1.0
        more, less = (value, first) if self.better is Better.LESS else (first, value)
        if not more > less:
            return 1.0
        return more / less if less > 0 else float("inf")


def compare_sections(sections: Sequence[SectionProperties]) -> tuple[ComparedRow, ...]:
    """Return the quantities of sections side by side."""
    rows = (
        ("mass per length", "line mass", "weight", lambda s: s.mass_per_length),
        ("area", "area", "", lambda s: s.area),
        ("inertia, bending vertically", "inertia", "", lambda s: s.i_vertical),
        ("inertia, bending sideways", "inertia", "", lambda s: s.i_sideways),
        ("stiffness, bending vertically (EI)", "bending stiffness", "stiffness in vertical bending", stiff_vertically),
        ("stiffness, bending sideways (EI)", "bending stiffness", "stiffness in sideways bending", stiff_sideways),
        ("torsion constant", "inertia", "", lambda s: s.torsion_constant),
        ("stiffness in twist, free to warp (GJ)", "bending stiffness", "stiffness in twist", stiff_in_twist),
        ("stiffness in twist, 1 m held from warping", "bending stiffness", "", held_in_twist),
        ("warping constant", "warping", "", lambda s: s.warping_constant),
        ("yield strength", "stress", "", lambda s: s.yield_strength),
        ("moment at first yield, vertically", "moment", "strength in vertical bending", lambda s: at_yield(s, 1)),
        ("moment at first yield, sideways", "moment", "strength in sideways bending", lambda s: at_yield(s, 2)),
        ("torque at first yield, free to warp", "moment", "strength in twist", torque_at_yield),
        ("plastic moment, vertically", "moment", "", lambda s: s.yield_strength * s.plastic_modulus_vertical),
        ("plastic moment, sideways", "moment", "", lambda s: s.yield_strength * s.plastic_modulus_sideways),
    )
    return tuple(
        ComparedRow(name, kind, tuple(map(value, sections)), word, better_of(kind, word))
        for name, kind, word, value in rows
    )


def better_of(quantity: str, word: str) -> Better:
    """Return which way a section's quantity gets better; those that no sentence tells get neither."""
    return Better.NEITHER if not word else Better.LESS if quantity == "line mass" else Better.MORE


def stiff_vertically(section: SectionProperties) -> float:
    """Return E I for bending vertically, Nm2."""
    return section.youngs_modulus * section.i_vertical


def stiff_sideways(section: SectionProperties) -> float:
    """Return E I for bending sideways, Nm2."""
    return section.youngs_modulus * section.i_sideways


def stiff_in_twist(section: SectionProperties) -> float:
    """Return G J, Nm2 (Saint-Venant: the ends free to warp)."""
    return section.shear_modulus * section.torsion_constant


def held_in_twist(section: SectionProperties) -> float:
    """Return torque over twist per metre of 1 m kept from warping at both ends, Nm2 (Vlasov)."""
    return stiff_in_twist(section) / share_of_free_twist(HeldFromWarping.BOTH_ENDS, decay(section) * 1.0)


def at_yield(section: SectionProperties, force: int) -> float | None:
    """Return the moment at which the first fibre yields, Nm; force: column of UnitFields.normal. None: no stress known."""
    if section.fields is None:
        return None
    largest = float((np.abs(section.fields.normal[:, force]) / section.point_strengths).max())
    return 1 / largest if largest > 0 else None


def torque_at_yield(section: SectionProperties) -> float | None:
    """Return the torque at which the first wall yields in shear (von Mises: fy / sqrt 3), Nm; sharp corners left out."""
    if section.fields is None:
        return None
    smooth = ~section.fields.sharp
    shear = np.linalg.norm(section.fields.shear[smooth, :, 2], axis=1) / section.point_strengths[smooth]
    largest = float(shear.max()) if len(shear) else 0.0
    return 1 / (sqrt(3) * largest) if largest > 0 else None


def compare_results(results: Sequence[Results]) -> tuple[ComparedRow, ...]:
    """Return solved cases side by side: what is missed and open, how much of what is allowed is used, masses, safety factors."""
    lowest = tuple(each.governing.safety_factor if each.governing else None for each in results)
    asked = tuple(each.governing.target if each.governing else None for each in results)
    used = [each.governing.used if each.governing else None for each in results]
    missed = tuple(float(len(each.verdict.missed)) for each in results)
    left = tuple(float(len(each.verdict.ledger.groups)) for each in results)
    return (
        ComparedRow("targets missed", COUNT, missed, "", Better.LESS),
        ComparedRow("groups of things not judged", COUNT, left, "", Better.LESS),
        ComparedRow("largest share used of what is allowed", SHARE, tuple(used), "", Better.LESS),
        ComparedRow("mass of the frame", "mass", tuple(frame_mass(each) for each in results), "frame weight", Better.LESS),
        *mass_rows([each.masses for each in results]),
        ComparedRow(GOVERNING, FACTOR, lowest, GOVERNING, Better.MORE, tuple(map(bool, missed)), asked),
        *(by_load_case(results, name) for name in common_load_cases(results)),
        *clearance_rows(results),
        *opening_rows(results),
        ComparedRow("largest deflection", "deflection", tuple(map(deflection, results)), "largest deflection", Better.LESS),
    )


def clearance_rows(results: Sequence[Results]) -> Iterator[ComparedRow]:
    """Yield the least that is left of every gap that all watch."""
    least = [{gap.name: gap for gap in reversed(each.gaps)} for each in results]
    for name in dict.fromkeys(gap.name for gap in results[0].gaps):
        if all(name in each for each in least):
            gaps = [each[name] for each in least]
            left, low = tuple(gap.left for gap in gaps), tuple(gap.left < gap.least or gap.left <= 0.0 for gap in gaps)
            yield ComparedRow(f"gap left, {name}", "deflection", left, "", Better.MORE, low)


def opening_rows(results: Sequence[Results]) -> Iterator[ComparedRow]:
    """Yield how much the diagonal of every opening that all have changes with one wheel up."""
    found = [{change.opening: change for change in diagonal_changes(each.outcome)} for each in results]
    for name in found[0]:
        if all(name in each for each in found):
            values = tuple(abs(each[name].change) for each in found)
            yield ComparedRow(f"diagonal of {name}, one wheel up", "deflection", values, "", Better.LESS)


def frame_mass(results: Results) -> float:
    """Return the mass of all members, and of the sheet, plates and doublers fitted to them, kg."""
    members = sum(mass_of(member) for member in results.outcome.solutions[0].members)
    return members + fitted_mass(results.outcome.case)


def mass_rows(accounts: Sequence[MassAccount | None]) -> tuple[ComparedRow, ...]:
    """Return the mass in all, the axle loads at rest and the place of the centre of gravity; None where there is no vehicle."""

    def of(name: str, quantity: str, value: Callable[[MassAccount], float]) -> ComparedRow:
        return ComparedRow(name, quantity, tuple(None if each is None else value(each) for each in accounts))

    return (
        of("mass in all", "mass", lambda each: each.total),
        of("load on the front axle at rest", "force", lambda each: each.axles[0]),
        of("load on the rear axle at rest", "force", lambda each: each.axles[1]),
        of("centre of gravity behind the origin", "length", lambda each: -each.cg[0]),
        of("centre of gravity above the origin", "length", lambda each: each.cg[2]),
    )


def stiffness_rows(cases: Sequence[Case], store: SectionStore | None = None) -> tuple[ComparedRow, ...]:
    """Return the bare frames' stiffness side by side, the softer end of what a case leaves open; none without vehicles."""
    if any(case.vehicle is None for case in cases):
        return ()
    found = [stiffness_of(case, points_of(case), store) for case in cases]
    return (
        ComparedRow(
            "torsional stiffness of the bare frame",
            "twist stiffness",
            tuple(min(each.torsional for each in bounds) for bounds in found),
            "torsional stiffness",
            Better.MORE,
        ),
        *(
            ComparedRow(
                f"{way} stiffness of the bare frame",
                "stiffness",
                tuple(softest(each, way) for each in found),
                "",
                Better.MORE,
            )
            for way in ("bending", "sideways")
        ),
    )


def softest(bounds: Sequence[FrameStiffness], name: str) -> float | None:
    """Return the least of one stiffness over the bounds, None where it is not known."""
    values = [getattr(each, name) for each in bounds]
    return None if any(value is None for value in values) else min(values)


def deflection(results: Results) -> float:
    """Return the largest deflection of all load cases, m."""
    members = (member for solution in results.outcome.solutions for member in solution.members)
    return max(float(np.linalg.norm(member.displacements, axis=2).max()) for member in members)


def common_load_cases(results: Sequence[Results]) -> tuple[str, ...]:
    """Return the load cases that all have, in the first one's order."""
    names = [{loads.name for loads in each.outcome.loads} for each in results]
    return tuple(each.name for each in results[0].outcome.loads if all(each.name in other for other in names))


def by_load_case(results: Sequence[Results], name: str) -> ComparedRow:
    """Return the lowest safety factor of one load case in each."""
    worst = [worst_by(each.rows, lambda row: row.load_case).get(name) for each in results]
    values = tuple(row.safety_factor if row else None for row in worst)
    low = tuple(row is not None and row.grade is Grade.LOW for row in worst)
    asked = tuple(row.target if row else None for row in worst)
    return ComparedRow(f"safety factor, {name}", FACTOR, values, "", Better.MORE, low, asked, name)
