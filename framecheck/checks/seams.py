"""The seams of built-up members: the force on each stitch or bolt from the shear flow of the section itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby

import numpy as np

from framecheck.checks.joint_rows import Capacity, Judging, Line, governing_first, judged
from framecheck.checks.member_rows import all_bounds, distinct_sections
from framecheck.checks.throats import THROAT
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.joining import BoltRow, Joining, StitchWeld
from framecheck.model.joints import ASKED
from framecheck.model.shapes import BoxedChannel, ChannelPair, Drilled, FloorClosed, Plated
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.section.properties import Seam, SectionProperties
from framecheck.stress import Outcome
from framecheck.value_class import value_class

SOURCE = (
    "shear flow V Q / I (D. J. Jourawski, 1856) and T / 2 A (R. Bredt, 1896) at the seam, times the pitch; "
    "ANSI/AISC 360-22, J2.4: 0.60 FEXX on the throat (ASD 2.00)"
)
FORCES = [2, 1, 3]
"""Columns of a row of section forces that make shear flow at a seam: Vz, Vy, T."""
Spaced = StitchWeld | BoltRow


@value_class
class Worst:
    """The largest shear flow at a seam in one load case, N/m, and the station where it is, m."""

    seam: str
    load_case: str
    flow: float
    station: float


def joining_of(section: Section) -> Joining | None:
    """Return how the touching parts of a section are joined, None for one that has none."""
    shape = section.shape.base if isinstance(section.shape, Drilled) else section.shape
    return shape.joined if isinstance(shape, BoxedChannel | FloorClosed | Plated | ChannelPair) else None


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the rows of every seam that is stitched or bolted at a pitch, or the force that each stitch or bolt must carry."""
    lines: list[Line] = []
    for number, line in enumerate(outcome.solutions[0].members):
        forces = all_bounds(outcome, number)
        for properties, at in distinct_sections(line):
            section = outcome.case.frame.sections.get(properties.name)
            joining = joining_of(section) if section is not None else None
            if isinstance(joining, Spaced) and properties.seams:
                worst = list(worst_flows(outcome, properties, joining, (line.stations[at], forces[:, at])))
                lines += lines_of(line.member, properties.name, joining, worst)
    return tuple(lines)


def lines_of(member: str, section: str, joining: Spaced, worst: list[Worst]) -> tuple[Line, ...]:
    """Return rows where the weld is known, else what each stitch or bolt must carry."""
    if isinstance(joining, StitchWeld) and joining.leg is not None:
        return governing_first(stitch_row((member, section), joining, joining.leg, each) for each in worst)
    reason = required(joining, max(worst, key=lambda each: each.flow))
    return (left_open(Thing.SEAM, member, Question.SEAM, reason, section),)


def worst_flows(
    outcome: Outcome, section: SectionProperties, joining: Spaced, at: tuple[Array, Array]
) -> Iterator[Worst]:
    """Yield the largest flow of each seam in each load case; at: stations (k,) and forces (n_bound, k, n_case, 9).

    Bending and torsion of one station are added with their signs; the whole torque is taken as running round the closed cell, which
    the seams must carry if the section is to act as one piece (unfavourable: the frame is solved with the softer, open twist).
    """
    stations, forces = at
    for name, seams in lines_of_bond(section.seams, joining):
        unit = np.sum([(seam.per_vertical, seam.per_sideways, seam.per_torsion) for seam in seams], axis=0)
        flow = np.abs(forces[..., FORCES] @ unit).max(axis=0)
        for number, loads in enumerate(outcome.loads):
            place = int(np.argmax(flow[:, number]))
            yield Worst(name, loads.name, float(flow[place, number]), float(stations[place]))


def lines_of_bond(seams: Iterable[Seam], joining: Spaced) -> Iterator[tuple[str, list[Seam]]]:
    """Yield each line of stitches or bolts with its seams: a wide contact has a weld along both edges, but one row of bolts."""
    if isinstance(joining, StitchWeld):
        yield from ((seam.name, [seam]) for seam in seams)
        return
    for name, each in groupby(seams, key=lambda seam: seam.name.rpartition(".")[0] or seam.name):
        yield name, list(each)


def stitch_row(of: tuple[str, str], joining: StitchWeld, leg: float, worst: Worst) -> CheckResult:
    """Return the row of the weld metal of one stitch; of: member and section."""
    holds = stitch_strength(joining, leg)
    row = judged(
        Judging(Check.SEAMS, Subject(Thing.SEAM, *of)),
        worst.load_case,
        worst.flow * joining.pitch,
        Capacity(Mode.STITCH_METAL, holds, ASKED.strength, SOURCE, part=worst.seam),
    )
    return replace(row, station=worst.station)


def stitch_strength(joining: StitchWeld, leg: float) -> float:
    """Return the strength of the weld metal of one stitch, N: shear strength x 0.707 leg x length. ANSI/AISC 360-22, J2.4."""
    return joining.shear_strength * THROAT * leg * joining.length


def required(joining: Spaced, worst: Worst) -> str:
    """Return what each seam, and each stitch or bolt, must carry, in words."""
    force, pitch = worst.flow * joining.pitch, 1000 * joining.pitch
    where = f"{worst.seam}, '{worst.load_case}', at {1000 * worst.station:.0f} mm"
    said = f"each seam must carry up to {worst.flow / 1000:.1f} N/mm ({where})"
    if isinstance(joining, BoltRow):
        each = f"each bolt, rivet or spot weld at a pitch of {pitch:.0f} mm {force:.0f} N"
        return f"{said}; {each}; its size is not given"
    leg = force * ASKED.strength / stitch_strength(joining, 1.0)
    each = f"each stitch of {1000 * joining.length:.0f} mm every {pitch:.0f} mm {force:.0f} N"
    asks = f"weld metal asks for {1000 * leg:.1f} mm, rules for the least leg may ask for more"
    return f"{said}; {each}; no leg is given: {asks}"
