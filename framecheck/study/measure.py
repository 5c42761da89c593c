"""What a variant is judged by: its mass, its safety factors and the study's other aims, each as a share of what is asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from framecheck.errors import FramecheckError, InputError
from framecheck.model.case import Case, Targets
from framecheck.model.study import Aims
from framecheck.results.row import CheckResult, Kind
from framecheck.results.row_order import is_met_layout
from framecheck.results.verdict import State, Verdict, verdict_of
from framecheck.run import Results, run
from framecheck.section.store import SectionStore
from framecheck.study.compare import deflection, frame_mass
from framecheck.study.frame_measures import points_of, stiffness_of
from framecheck.study.modes import modes_of
from framecheck.value_class import value_class
from framecheck.work import UNLIMITED

SAFETY, DEFLECTION, STIFFNESS, FREQUENCY, CLEARANCE = (
    "safety factor",
    "largest deflection",
    "torsional stiffness",
    "lowest frequency",
    "clearance",
)
QUANTITIES = {
    SAFETY: "number",
    DEFLECTION: "deflection",
    STIFFNESS: "twist stiffness",
    FREQUENCY: "frequency",
    CLEARANCE: "deflection",
}
"""Each aim's quantity, as in output/display."""

DIGITS = 10
"""Significant digits of a row's numbers: more than 1e-9 of them is kept, less than what differs from machine to machine."""


@value_class
class MeasuredAim:
    """An aim as met: value and asked in SI; ratio: 1 where it is just met, more where it is met with room.

    where: member, load case and station (m) of what governs it, as far as there is one place.
    """

    aim: str
    value: float
    asked: float
    ratio: float
    check: str = ""
    where: str = ""
    load_case: str = ""
    station: float | None = None


@value_class
class VariantRow:
    """A variant as run. number: from 0; values: what its fields hold. fault: why it could not be run, "" where it was.

    mass: kg; safety_factor: of the row that clears its target by least; deflection: m; torsional_stiffness: Nm/rad; frequency: Hz.
    governs: the aim that is met by least. state, open: of its verdict, and how many groups are open. None: not asked or not known.
    """

    number: int
    values: tuple[str, ...]
    engine: str
    mass: float | None = None
    safety_factor: float | None = None
    deflection: float | None = None
    torsional_stiffness: float | None = None
    frequency: float | None = None
    governs: MeasuredAim | None = None
    fault: str = ""
    state: State | None = None
    open: int | None = None

    @property
    def passes(self) -> bool:
        """Return whether its verdict is met or met so far and no aim is missed; a screen, of yield alone, has no verdict."""
        is_missed = self.state in (State.NOT_MET, State.NOT_JUDGED)
        return not self.fault and not is_missed and (self.governs is None or self.governs.ratio >= 1.0)

    @property
    def ratio(self) -> float:
        """Return the share of what is asked that the governing aim reaches; zero where the variant could not be run or judged."""
        if self.fault or self.state is State.NOT_JUDGED:
            return 0.0
        return self.governs.ratio if self.governs else float("inf")


@value_class
class VariantRun:
    """Which variant is run, and by what."""

    number: int
    values: tuple[str, ...]
    engine: str


def measured(place: VariantRun, case: Case, aims: Aims, store: SectionStore | None) -> VariantRow:
    """Return a variant run by every check; what can't be solved is a row with its fault."""
    try:
        return whole_row(place, case, aims, store)
    except FramecheckError as error:
        return faulty(place, error)


def faulty(place: VariantRun, error: FramecheckError) -> VariantRow:
    """Return the row of a variant that can't be built or solved, with the first thing that is said of it."""
    if isinstance(error, InputError):
        first = error.faults[0]
        said = f"{first.subject}: {first.fault}" if first.subject else first.fault
    else:
        said = str(error).splitlines()[0]
    return VariantRow(place.number, place.values, place.engine, fault=said)


def whole_row(place: VariantRun, case: Case, aims: Aims, store: SectionStore | None) -> VariantRow:
    """Return the row of a variant that can be solved."""
    results = run(case, store, UNLIMITED)
    stiffness = None if case.vehicle is None and aims.torsional_stiffness is None else torsional(case, store)
    frequency = None if aims.frequency is None else lowest_frequency(case, store)
    lowest, found = safety(results, aims), verdict(results, aims)
    row = VariantRow(
        number=place.number,
        values=place.values,
        engine=place.engine,
        mass=frame_mass(results),
        safety_factor=None if lowest is None else lowest.value,
        deflection=deflection(results),
        torsional_stiffness=stiffness,
        frequency=frequency,
        state=found.state,
        open=len(found.ledger.groups),
    )
    judged = [*([] if lowest is None else [lowest]), *of_row(row, aims), *clearances(results, aims)]
    if not judged or fails_itself(results):
        return VariantRow(place.number, place.values, place.engine, fault=results.verdict.because or "nothing in it could be judged")
    return rounded(replace(row, governs=min(judged, key=lambda each: each.ratio, default=None)))


def fails_itself(results: Results) -> bool:
    """Return whether a solution fails a check that it makes of itself: none of its numbers can be trusted."""
    return any(not each.holds for solution in results.outcome.solutions for each in solution.self_checks)


def rounded(row: VariantRow) -> VariantRow:
    """Return a row with numbers as they are written: what the order of a sum does to the last digits is left out."""
    governs = row.governs
    if governs is not None:
        parts = (governs.value, governs.asked, governs.ratio)
        value, asked_for, ratio = (plain(each) for each in parts)
        station = None if governs.station is None else plain(governs.station)
        governs = replace(governs, value=value, asked=asked_for, ratio=ratio, station=station)
    return replace(
        row,
        mass=plain_or_none(row.mass),
        safety_factor=plain_or_none(row.safety_factor),
        deflection=plain_or_none(row.deflection),
        torsional_stiffness=plain_or_none(row.torsional_stiffness),
        frequency=plain_or_none(row.frequency),
        governs=governs,
    )


def plain(value: float) -> float:
    """Return a number with DIGITS significant digits."""
    return float(f"{value:.{DIGITS}g}")


def plain_or_none(value: float | None) -> float | None:
    """Return a number with DIGITS significant digits, or None for None."""
    return None if value is None else plain(value)


def verdict(results: Results, aims: Aims) -> Verdict:
    """Return how a variant came out against what the study asks."""
    if aims.safety_factor is None and not aims.by_check:
        return results.verdict
    targets = results.outcome.case.targets
    rows = (replace(row, target=asked(row, aims, targets)) for row in results.rows)
    self_checks = (each for solution in results.outcome.solutions for each in solution.self_checks)
    return verdict_of(rows, results.verdict.ledger, self_checks)


def safety(results: Results, aims: Aims) -> MeasuredAim | None:
    """Return the row of the checks that reaches the least share of what the study asks; a rule of layout only where it is missed."""
    targets = results.outcome.case.targets
    rows = [(row, row.safety_factor / asked(row, aims, targets)) for row in results.rows]
    if not rows:
        return None
    row, ratio = min(rows, key=lambda each: (is_met_layout(each[0]), each[1]))
    return MeasuredAim(
        SAFETY,
        row.safety_factor,
        asked(row, aims, targets),
        ratio,
        row.check.words,
        row.where,
        row.load_case or "",
        row.station,
    )


def asked(row: CheckResult, aims: Aims, targets: Targets) -> float:
    """Return the safety factor that the study asks of a row; what a rule asks by itself (a bolt's, a weld's, of layout) stays."""
    in_case = row.load_case is not None and row.target == targets.of(row.load_case)
    by_case = in_case and row.kind is not Kind.LAYOUT
    own = aims.safety_factor if by_case and aims.safety_factor is not None else row.target
    return aims.by_check.get(row.check.words, own)


def of_row(row: VariantRow, aims: Aims) -> Iterator[MeasuredAim]:
    """Yield the aims that hang on one number of the variant."""
    if aims.deflection is not None and row.deflection is not None:
        ratio = aims.deflection / row.deflection if row.deflection > 0 else float("inf")
        yield MeasuredAim(DEFLECTION, row.deflection, aims.deflection, ratio)
    if aims.torsional_stiffness is not None and row.torsional_stiffness is not None:
        ratio = row.torsional_stiffness / aims.torsional_stiffness
        yield MeasuredAim(STIFFNESS, row.torsional_stiffness, aims.torsional_stiffness, ratio)
    if aims.frequency is not None and row.frequency is not None:
        yield MeasuredAim(FREQUENCY, row.frequency, aims.frequency, row.frequency / aims.frequency)


def clearances(results: Results, aims: Aims) -> Iterator[MeasuredAim]:
    """Yield the gap left in each load case over the least asked of it; a gap that only has to stay open is met above zero."""
    if aims.clearances:
        for gap in results.gaps:
            ratio = gap.left / gap.least if gap.least > 0 else float(gap.left > 0)
            yield MeasuredAim(CLEARANCE, gap.left, gap.least, ratio, where=gap.name, load_case=gap.load_case)


def torsional(case: Case, store: SectionStore | None) -> float:
    """Return the bare frame's torsional stiffness between the axles under its softest bound, Nm/rad."""
    return min(each.torsional for each in stiffness_of(case, points_of(case), store))


def lowest_frequency(case: Case, store: SectionStore | None) -> float:
    """Return the lowest natural frequency of the frame with its masses (bare where it carries none), softest bound, Hz."""
    found = [each.loaded or each.bare for each in modes_of(case, store, 1).sets]
    return min(modes.modes[0].frequency for modes in found)
