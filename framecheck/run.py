"""The whole calculation as one chain of calls: a case to its results."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from framecheck.check_lines import check_lines
from framecheck.checks.clearances import gap_lines, gaps_of
from framecheck.checks.joint_rows import Line, lines_of_blocks
from framecheck.checks.seams import in_doubt
from framecheck.errors import Fault, InputError
from framecheck.every_fault import every_fault
from framecheck.frame.buckling_mixtures import mixed_buckling
from framecheck.frame.end_mixtures import end_mixtures
from framecheck.frame.framed import framed
from framecheck.frame.member_mixtures import member_mixtures
from framecheck.frame.report import SolvedFrame
from framecheck.frame.results import Bound, FrameSolution, Joints
from framecheck.frame.soft_frame import SoftFrame, soft_frame
from framecheck.frame.solve import Structure, answers_of, brief_solutions_of
from framecheck.frame.stability import Stable, brief_stable_solutions, frame_buckling, stable_solutions
from framecheck.load_blocks import blocks_of, marks_of
from framecheck.model.case import Case
from framecheck.model.frame import Member, sections_at
from framecheck.model.joining import Action
from framecheck.model.loads import CaseLoads
from framecheck.results.as_measured import measured_remarks
from framecheck.results.defaults import taken_by_default
from framecheck.results.ledger import idle_acceptances, ledger_of
from framecheck.results.left_out import left_out, not_built, not_worked_out, sides_left_out, walls_as_written
from framecheck.results.readings import ReadAt, read_at
from framecheck.results.row import CheckResult, Sizing
from framecheck.results.row_order import governing_first
from framecheck.results.subjects import Open, Remark
from framecheck.results.verdict import Verdict, verdict_of
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore
from framecheck.stress import LaterStresses, SolvedCase, stresses_of
from framecheck.value_class import array_class
from framecheck.vehicle.balance import VehicleLoads
from framecheck.vehicle.clearance import GapLeft
from framecheck.vehicle.load_cases import all_vehicle_loads, not_run
from framecheck.vehicle.masses import LineMass, MassProperties, frame_mass
from framecheck.vehicle.scene_builder import MassAccount, axle_load_faults, mass_account
from framecheck.work import USUAL, Work, refuse_beyond


def lines_by_blocks(
    prepared: Prepared, outcome: SolvedCase, stable: Sequence[Stable], blocks: Sequence[tuple[CaseLoads, ...]]
) -> Iterator[Line]:
    """Yield the lines of every check, of those that look along members block by block of load cases; stable: how the frame buckles."""
    if len(blocks) == 1:
        yield from check_lines(outcome)
        return
    starts = np.cumsum([0, *map(len, blocks[:-1])]).tolist()
    alike = [each for each, of in zip(stable, prepared.structures, strict=True) if of.bound.apart is None]
    buckles = [tuple(each.of(start, len(loads)) for each in alike) for start, loads in zip(starts, blocks, strict=True)]
    answers = (answers_of(prepared.alike, loads) for loads in blocks)
    parts = (solved_under(prepared, outcome.case, *each) for each in zip(answers, buckles, strict=True))
    by_block = [check_lines(each if outcome.loose else each.settled(), only_along=True) for each in parts]
    yield from lines_of_blocks(check_lines(replace(outcome, in_blocks=True)), by_block)


NO_LOADS = Fault("", "load cases", "the case has none, so there is nothing to solve",
                 "write some, or describe a vehicle: it brings its own", ("load cases",))  # fmt: skip
LIMITS = (
    Remark("cracks, hidden rust, weld quality", "they can't be known from a file: an inspection finds them"),
    Remark("crash", "the frame is solved as linear and elastic; what it does in a crash is another question"),
    Remark("heat", "strength is that of cold metal; exhausts and fires are not counted"),
)


@array_class
class Prepared:
    """What stays the same while loads change: section properties by name, the frame under each bound, its own mass.

    cuts: net section properties by member and cut. loose: section properties where seams are loose, {} where none can be; the
    structures in which they are stand last.
    """

    sections: Mapping[str, SectionProperties]
    loose: Mapping[str, SectionProperties]
    cuts: Mapping[tuple[str, str], SectionProperties]
    structures: tuple[Structure, ...]
    frame: MassProperties

    @property
    def alike(self) -> tuple[Structure, ...]:
        """Return the structures in which all ends whose make is left out are alike."""
        return tuple(each for each in self.structures if each.bound.apart is None)

    def under(self, bound: Bound) -> Mapping[str, SectionProperties]:
        """Return the section properties that hold under a bound."""
        return self.loose if bound.seams is Action.LOOSE else self.sections


@array_class
class Results:
    """All that follows from a case. rows: governing first; gaps: the smallest left first.

    verdict: how it came out, with the ledger of all that can fail. sizings: what the joints ask of the shop, joint by joint.
    remarks: what was taken on the unfavourable side, and the limits of every answer.
    vehicle_loads: the wheel and bracket forces behind each load case of the vehicle; masses: None without a vehicle.
    readings: what is read at the places that the case names.
    """

    outcome: SolvedCase
    rows: tuple[CheckResult, ...]
    verdict: Verdict
    remarks: tuple[Remark, ...]
    sizings: tuple[Sizing, ...]
    vehicle_loads: tuple[VehicleLoads, ...]
    gaps: tuple[GapLeft, ...]
    masses: MassAccount | None
    readings: tuple[ReadAt, ...] = ()

    @property
    def governing(self) -> CheckResult | None:
        """Return the row that clears its target by least, None where nothing could be judged."""
        return self.rows[0] if self.rows else None


def run(case: Case, store: SectionStore | None = None, most: Work = USUAL) -> Results:
    """Return all that follows from a case. store: where section properties are kept from run to run.

    most: the work that is allowed; InputError says how much a case would be that takes more.
    """
    prepared = prepare(case, store)
    refuse_beyond(most, case, prepared.structures)
    return solved(prepared, case)


def prepare(case: Case, store: SectionStore | None = None, unlike: bool = True) -> Prepared:
    """Return the sections and the factorised frame of a case, under each bound that the case leaves open.

    unlike: also with ends whose make is left out unlike each other, which tells on forces; stiffness and natural frequencies are
    least and most where all are alike.
    InputError, with every fault of the case: a section or a cut can't be as it is, the masses miss the axle loads that were weighed.
    """
    mass: MassProperties | None = None
    try:
        ready = framed(case.frame, store, unlike)
        mass = own_mass(ready.structures[0])
        if faults := axle_load_faults(case, mass):
            raise InputError(faults)
    except InputError as error:
        raise every_fault(case, error, mass, store) from None
    return Prepared(ready.sections, ready.loose, ready.cuts, ready.structures, mass)


def own_mass(structure: Structure) -> MassProperties:
    """Return the mass properties of the frame's own lines, as they are loaded."""
    return frame_mass(LineMass(*line) for line in structure.mass_lines())


def solved(prepared: Prepared, case: Case) -> Results:
    """Return the results of a case whose frame was prepared; only loads, masses and targets may differ. InputError: every fault."""
    try:
        return _solved(prepared, case)
    except InputError as error:
        raise every_fault(case, error, prepared.frame, None) from None


def _solved(prepared: Prepared, case: Case) -> Results:
    case = on_its_frame(prepared, case)
    of_vehicle = all_vehicle_loads(case, prepared.frame)
    outcome, stable, blocks = stable_outcome(prepared, case, of_vehicle)
    gaps = gaps_of(outcome, prepared.structures[: len(outcome.solutions)], prepared.frame)
    lines = (*lines_by_blocks(prepared, outcome, stable, blocks), *gap_lines(outcome, gaps))
    rows = governing_first(line for line in lines if isinstance(line, CheckResult))
    made_of_itself = (each for solution in outcome.solutions for each in solution.self_checks)
    ledger = ledger_of(case, lines, further(outcome, prepared.frame))
    said = dict.fromkeys(line for line in lines if isinstance(line, Remark))
    return Results(
        outcome=outcome,
        rows=rows,
        verdict=verdict_of(rows, ledger, made_of_itself),
        remarks=(*measured_remarks(case), *said, *walls_as_written(case), *idle_acceptances(case, ledger), *LIMITS),
        sizings=tuple(line for line in lines if isinstance(line, Sizing)),
        vehicle_loads=of_vehicle,
        gaps=tuple(each.gap for each in gaps),
        masses=None if case.vehicle is None else mass_account(case, prepared.frame),
        readings=tuple(read_at(outcome)),
    )


def further(outcome: SolvedCase, frame: MassProperties) -> Iterator[Open]:
    """Yield what is open for reasons outside the checks."""
    yield from taken_by_default(outcome)
    yield from left_out(outcome)
    yield from not_built(outcome.case)
    if outcome.case.vehicle is not None or outcome.case.gear is not None:
        yield from sides_left_out(outcome.case)
        yield from (not_worked_out(each) for each in not_run(outcome.case, frame))


def outcome_of(prepared: Prepared, case: Case, of_vehicle: tuple[VehicleLoads, ...]) -> SolvedCase:
    """Return the solved frame under all load cases, before any check judges it."""
    return stable_outcome(prepared, case, of_vehicle)[0]


def stable_outcome(
    prepared: Prepared, case: Case, of_vehicle: tuple[VehicleLoads, ...]
) -> tuple[SolvedCase, tuple[Stable, ...], tuple[tuple[CaseLoads, ...], ...]]:
    """Return the solved frame under all load cases, how it buckles under every prepared bound, and the load cases in blocks."""
    loads = all_loads(case, prepared.frame, of_vehicle)
    if not loads:
        raise InputError([NO_LOADS])
    targets = np.array([case.targets.of(each.name) for each in loads])
    answers = answers_of(prepared.structures, loads)
    stable = tuple(frame_buckling(each, targets) for each in answers)
    found = solved_under(prepared, case, answers, stable)
    blocks = blocks_of([each for each in answers if each.structure.bound.apart is None])
    if not prepared.loose:
        return found, stable, blocks
    held = found.under(Action.FULL)
    return found if in_doubt(held) else held.settled(), stable, blocks


def solved_under(prepared: Prepared, case: Case, answers: tuple[SolvedFrame, ...], stable: tuple[Stable, ...]) -> SolvedCase:
    """Return the solved frame under some load cases, whether seams hold or not; answers, stable: of the frame under each bound."""
    loads = tuple(answers[0].cases)
    marks = marks_of(case, prepared.structures[0], prepared.sections, loads)
    on = [number for number, each in enumerate(answers) if each.structure.bound.apart is None]
    alike = dict(zip(on, stable_solutions([answers[n] for n in on], [stable[n] for n in on], marks), strict=True))
    brief = brief_stable_solutions(answers, stable, marks) if len(on) < len(answers) else ()
    solutions = tuple(alike[n] if n in alike else brief[n] for n in range(len(answers)))
    brief_stresses = tuple(LaterStresses(each.members) for each in brief)
    stresses = tuple(stresses_of(alike[n].members) if n in alike else brief_stresses[n] for n in range(len(answers)))
    softs = tuple(soft_frames(prepared, answers, stable, (brief, marks))) if brief else ()
    mixed = tuple(member_mixtures(each) for each in softs if not each.is_told_whole)
    return SolvedCase(
        case=case, sections=prepared.sections, loads=loads, solutions=solutions, stresses=stresses,
        buckling=tuple(each.buckling for each in stable), loose=prepared.loose, brief=brief, brief_stresses=brief_stresses,
        at_ends=tuple(one for each in softs for one in end_mixtures(each)), mixed=mixed,
        mixed_stresses=tuple(tuple(stresses_of(one.members) for one in each.solutions) for each in mixed),
        mixed_buckling=tuple(mixed_buckling(each, answers, stable) for each in softs if not each.is_told_whole),
    )  # fmt: skip


def soft_frames(
    prepared: Prepared,
    answers: tuple[SolvedFrame, ...],
    stable: tuple[Stable, ...],
    told: tuple[tuple[FrameSolution, ...], Mapping[str, Sequence[float]]],
) -> Iterator[SoftFrame]:
    """Yield, for each bound with all ends soft, the frame ready for every mixture of soft and stiff ones.

    told: all bounds at few stations, and the marks asked for besides.
    """
    stiff, (brief, marks) = {each.bound: each for each in prepared.structures}, told
    for answer, buckled, on_moved in zip(answers, stable, brief, strict=True):
        bound = answer.structure.bound
        if bound.joints is Joints.SOFT and bound.apart is None:
            as_it_is = brief_solutions_of((answer,), marks)[0] if buckled.further else on_moved
            found = soft_frame(answer, stiff[replace(bound, joints=Joints.STIFF)], (as_it_is, on_moved), marks)
            yield from () if found is None else (found,)


def all_loads(case: Case, frame: MassProperties, of_vehicle: tuple[VehicleLoads, ...]) -> tuple[CaseLoads, ...]:
    """Return the loads of every load case: the vehicle's, the written ones, sums, what skid plates hand on."""
    own = (each.loads for each in of_vehicle)
    return (*own, *case.written_loads, *from_plates(case, frame))


def on_its_frame(prepared: Prepared, case: Case) -> Case:
    """Return the case with what its skid plates lie against, and how the frame gives way there."""
    if not case.plates:
        return case
    from framecheck.checks.plate.resting import with_rests

    return with_rests(case, prepared.structures[0], prepared.sections, prepared.cuts)


def from_plates(case: Case, frame: MassProperties) -> tuple[CaseLoads, ...]:
    """Return what the loads of skid plates do to the frame."""
    if not case.plates:
        return ()
    from framecheck.checks.plate.in_case import loads_of

    return loads_of(case, frame)


def section_at(member: Member, station: float) -> str:
    """Return the name of the section that a member has at a station; where two meet, of the one before."""
    return sections_at(member, station)[0]
