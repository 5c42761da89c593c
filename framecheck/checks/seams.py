"""The seams of built-up members: the force on each weld, stitch or bolt, the sheet that buckles between them, and throat stress
for fatigue.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby

import numpy as np

from framecheck.checks.joint_forces import THROAT, ThroatStress
from framecheck.checks.joint_rows import Capacity, Judging, Line, governing_first, judged
from framecheck.checks.member_rows import all_bounds, distinct_sections
from framecheck.checks.seam_parts import SeamFlow, asked_of, remedy_of, sheet_rows, sleeve_flow, sleeve_words
from framecheck.checks.welds.fillet import european
from framecheck.model.arrays import Array, frozen
from framecheck.model.joining import BoltRow, ContinuousWeld, Joining, StitchWeld
from framecheck.model.joints import ASKED
from framecheck.model.shape_parts import built_up_in, parts_held_by
from framecheck.model.shapes import BuiltUp, Sleeve
from framecheck.model.shop_tables import Material
from framecheck.results.row import Check, CheckResult, Grade, Mode
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.section.properties import Seam, SectionProperties, kinds_of
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class

FLOW = "shear flow V Q / I (D. J. Jourawski, 1856) and T / 2 A (R. Bredt, 1896) at the seam"
WELD_SOURCE = f"{FLOW}; ANSI/AISC 360-22, J2.4: 0.60 FEXX on the throat (ASD 2.00)"
WALL_SOURCE = f"{FLOW}; ANSI/AISC 360-22, eq. (J4-3): 0.60 Fy t (ASD 1.50)"
BOLT_SOURCE = f"{FLOW}, times the pitch, against the strength given in the file (factor 2.00 as for welds)"
MIXED_SOURCE = "AWS D1.1 and D1.2, fillers by base metal, from memory: steel and aluminium are not fused to one another"
SLEEVE_SOURCE = "the core's share of the force between two bolts, and of the moment where the sleeve ends, as a pair (statics)"
FORCES = [2, 1, 3]
"""Columns of a row of section forces that make shear flow at a seam: Vz, Vy, T."""


@array_class
class SeamRun:
    """Where one built-up section carries one member: stations (k,), m, and forces (n_bound, k, n_case, 9). metals: by their number."""

    member: str
    section: SectionProperties
    shape: BuiltUp
    metals: tuple[Material, ...]
    stations: Array
    forces: Array

    @property
    def joining(self) -> Joining:
        """Return how its parts are held together."""
        return self.shape.joined

    @property
    def seams(self) -> tuple[Seam, ...]:
        """Return the seams that its own joining holds: those of another level have a joining of their own."""
        held = parts_held_by(self.shape)
        return tuple(seam for seam in self.section.seams if seam.part in held)

    @property
    def of(self) -> Judging:
        """Return of what the check speaks."""
        return Judging(Check.SEAMS, Subject(Thing.SEAM, self.member, self.section.name))


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every seam whose weld or bolts are known, or what each must carry, and of sheets between fasteners."""
    return tuple(line for run in runs_of(outcome) for line in lines_of(run, outcome))


def runs_of(outcome: SolvedCase) -> Iterator[SeamRun]:
    """Yield every stretch of a member whose section is built up, from whichever level of its shape."""
    for number, line in enumerate(outcome.solutions[0].members):
        forces = all_bounds(outcome, number)
        for properties, at in distinct_sections(line):
            section = outcome.case.frame.sections.get(properties.name)
            if section is None:
                continue
            for built in built_up_in(section.shape):
                if isinstance(built, Sleeve) or not properties.shares:  # loose parts carry nothing across
                    yield SeamRun(line.member, properties, built, kinds_of(section), line.stations[at], forces[:, at])


def lines_of(run: SeamRun, outcome: SolvedCase) -> Iterator[Line]:
    """Yield rows where the weld or bolt is known, else what it must carry."""
    names = [loads.name for loads in outcome.loads]
    targets = [outcome.case.targets.of(name) for name in names]
    yield from sheet_rows(run.of, run.section, (run.stations, run.forces), list(zip(names, targets, strict=True)))
    worst = list(worst_flows(run, names))
    if not worst:
        yield left_open(Thing.SEAM, run.member, Question.SEAM, "the flow at its seams is not known (not meshed)", run.section.name)
    elif strength(run.joining) is not None and not (isinstance(run.shape, Sleeve) and not isinstance(run.joining, BoltRow)):
        yield from governing_first(row for each in worst for row in (row_of(run, each), *wall_row(run, each)))
        yield from no_weld_rows(run, len(list(built_up_in(outcome.case.frame.sections[run.section.name].shape))))
    else:
        most = max(worst, key=lambda each: each.flow)
        said = sleeve_words(run.joining, most) if isinstance(run.shape, Sleeve) else asked_of(run.joining, most)
        remedy = remedy_of(run.joining, most)
        yield left_open(Thing.SEAM, run.member, Question.SEAM, said, run.section.name, remedy)


def no_weld_rows(run: SeamRun, levels: int) -> Iterator[Line]:
    """Yield a LOW row where a weld is to join steel and aluminium: no filler does. Where a section is built up on several levels, it
    is left open which of them meet.
    """
    kinds = sorted({each.kind for each in run.metals})
    if isinstance(run.joining, BoltRow) or len(kinds) < 2:
        return
    note = f"{' and '.join(kinds)} do not weld to one another: bolt or rivet them"
    if levels > 1:
        yield left_open(Thing.SEAM, run.member, Question.SEAM, note, run.section.name, "write `joined: {bolts: ...}`")
        return
    nothing = Capacity(Mode.NO_SUCH_WELD, 0.0, ASKED.strength, MIXED_SOURCE, "1", note=note)
    yield judged(run.of, None, 1.0, nothing)


def worst_flows(run: SeamRun, load_cases: Iterable[str]) -> Iterator[SeamFlow]:
    """Yield the largest flow of each seam in each load case.

    Bending and torsion of one station are added with their signs; the whole torque is taken as running round the closed cell, which
    the seams must carry if the section is to act as one piece (unfavourable: the frame is solved with the softer, open twist).
    """
    names = list(load_cases)
    for name, flow in flows(run):
        for number, load_case in enumerate(names):
            place = int(np.argmax(flow[:, number]))
            yield SeamFlow(name, load_case, float(flow[place, number]), float(run.stations[place]))


def flows(run: SeamRun) -> Iterator[tuple[str, Array]]:
    """Yield each line of welds or bolts with its flow under the worst bound, (k, n_case), N/m."""
    if isinstance(run.shape, Sleeve):
        if run.section.shares:
            pitch = run.joining.pitch if isinstance(run.joining, BoltRow | StitchWeld) else 0.0
            yield "sleeve on core", sleeve_flow(run.section.shares[1], run.stations, run.forces, pitch)
        return
    for name, seams in lines_of_bond(run.seams, run.joining):
        unit = np.sum([(seam.per_vertical, seam.per_sideways, seam.per_torsion) for seam in seams], axis=0)
        yield name, np.abs(run.forces[..., FORCES] @ unit).max(axis=0)


def lines_of_bond(seams: Iterable[Seam], joining: Joining) -> Iterator[tuple[str, list[Seam]]]:
    """Yield each line of welds or bolts with its seams: a wide contact has a weld along both edges, but one row of bolts."""
    if not isinstance(joining, BoltRow):
        yield from ((seam.name, [seam]) for seam in seams)
        return
    for name, each in groupby(seams, key=lambda seam: seam.name.rpartition(".")[0] or seam.name):
        yield name, list(each)


def strength(joining: Joining) -> float | None:
    """Return what a stitch or bolt holds, N, or a continuous weld, N/m; None where its size is not known.

    Shear strength x 0.707 leg x length: ANSI/AISC 360-22, J2.4.
    """
    if isinstance(joining, BoltRow):
        return joining.holds
    length = joining.length if isinstance(joining, StitchWeld) else 1.0
    return None if joining.leg is None else joining.shear_strength * THROAT * joining.leg * length


def row_of(run: SeamRun, worst: SeamFlow) -> CheckResult:
    """Return the row of one stitch, one bolt or a continuous weld whose strength is known."""
    joining, holds = run.joining, strength(run.joining)
    assert holds is not None
    if isinstance(joining, BoltRow):
        source = SLEEVE_SOURCE if isinstance(run.shape, Sleeve) else BOLT_SOURCE
        capacity = Capacity(Mode.SEAM_BOLT, holds, ASKED.strength, source, part=worst.seam)
    elif isinstance(joining, StitchWeld):
        note = european(joining.shear_strength, strengths_of(run.metals))
        capacity = Capacity(Mode.STITCH_METAL, holds, ASKED.strength, WELD_SOURCE, part=worst.seam, note=note)
    else:
        note = european(joining.shear_strength, strengths_of(run.metals))
        capacity = Capacity(Mode.SEAM_METAL, holds, ASKED.strength, WELD_SOURCE, "N/m", part=worst.seam, note=note)
    demand = worst.flow * (joining.pitch if isinstance(joining, BoltRow | StitchWeld) else 1.0)
    return replace(judged(run.of, worst.load_case, demand, capacity), station=worst.station)


def strengths_of(metals: Iterable[Material]) -> Iterator[tuple[float, float]]:
    """Yield yield and tensile strength of each steel as welded, Pa."""
    for metal in metals:
        if metal.kind == "steel":
            yield metal.welded_yield or metal.yield_strength, metal.welded_ultimate or metal.ultimate_strength


def wall_row(run: SeamRun, worst: SeamFlow) -> Iterator[CheckResult]:
    """Yield the row of the thinnest wall beside a weld, in shear: more leg than it can use is no help.

    ANSI/AISC 360-22, eq. (J4-3): 0.60 Fy t, of the metal as welded.
    """
    joining = run.joining
    if isinstance(joining, BoltRow) or not run.section.walls:
        return
    beside = [each.yield_strength if each.welded_yield is None else each.welded_yield for each in run.metals]
    holds = min(0.60 * beside[wall.metal] * wall.thickness for wall in run.section.walls)
    capacity = Capacity(Mode.WALL_YIELDS_AT_WELD, holds, ASKED.yielding, WALL_SOURCE, "N/m", part="the thinnest wall")
    demand = worst.flow * (joining.pitch / joining.length if isinstance(joining, StitchWeld) else 1.0)
    yield replace(judged(run.of, worst.load_case, demand, capacity), station=worst.station)


def in_doubt(outcome: SolvedCase) -> bool:
    """Return whether any seam that parts are held together by may not hold: it misses its target, or its strength is not known.

    A weld all along whose leg is not known is told as open, and taken to hold: some leg would do.
    """
    for run in runs_of(outcome):
        if isinstance(run.shape, Sleeve) or (isinstance(run.joining, ContinuousWeld) and run.joining.leg is None):
            continue
        lines = tuple(lines_of(run, outcome))
        if any(isinstance(line, Open) for line in lines):
            return True
        if any(line.grade is Grade.LOW for line in lines if isinstance(line, CheckResult)):
            return True
    return False


def seam_stresses(outcome: SolvedCase) -> dict[tuple[str, str], ThroatStress]:
    """Return the stress on the throats of every seam whose weld is known, by member and section; loose seams carry nothing."""
    found: dict[tuple[str, str], list[Array]] = {}
    for run in runs_of(outcome):
        found.setdefault((run.member, run.section.name), []).extend(along(run))
    return {key: sheared(np.concatenate(parts, axis=1)) for key, parts in found.items() if parts}


def sheared(stress: Array) -> ThroatStress:
    """Return throats that are sheared along (n_case, n_point), Pa, and loaded across by nothing."""
    return ThroatStress(frozen(np.zeros((*stress.shape, 2))), frozen(stress))


def along(run: SeamRun) -> Iterator[Array]:
    """Yield the stress along the throats of each line of welds, (n_case, n_point), Pa, with its sign: flow over throat.

    What lies between two stitches goes through one of them: flow x pitch / length (statics).
    """
    joining = run.joining
    if isinstance(joining, BoltRow) or isinstance(run.shape, Sleeve) or joining.leg is None:
        return
    share = joining.pitch / joining.length if isinstance(joining, StitchWeld) else 1.0
    for _, seams in lines_of_bond(run.seams, joining):
        unit = np.sum([(seam.per_vertical, seam.per_sideways, seam.per_torsion) for seam in seams], axis=0)
        flow = run.forces[..., FORCES] @ unit  # (n_bound, k, n_case)
        yield np.moveaxis(flow, -1, 0).reshape(flow.shape[-1], -1) * share / (THROAT * joining.leg)
