"""Distortional buckling: lips and brims that turn with the walls they stiffen; one row a member and load case."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.heat import all_strengths
from framecheck.checks.joint_rows import Line
from framecheck.checks.member_rows import (
    DemandCapacity,
    blank,
    by_section,
    distinct_sections,
    material_at,
    rows,
    section_words,
)
from framecheck.model.arrays import Array
from framecheck.model.frame import Member
from framecheck.model.shapes import Shape
from framecheck.results.row import Check, Mode
from framecheck.results.subjects import Open, Question, Thing, left_open
from framecheck.section.properties import Critical, SectionProperties, UnitFields
from framecheck.section.shape_geometry import Lips, lips_of
from framecheck.stress import SolvedCase
from framecheck.surface_stress import STRETCHING

SOURCE = (
    "AISI S100-16, E4 and F4 (direct strength, between them by what of the softening is axial), without moment gradient; elastic: "
    "generalised beam theory, forces acting together by a straight sum (unfavourable)"
)


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every member that has lips, in the frame's order, and what was not checked."""
    demand, capacity = strained(outcome)
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        if not any(lips_of(shape) is not Lips.NONE for shape in shapes_of(outcome, member)):
            continue
        stations = outcome.solutions[0].members[number].stations
        used = DemandCapacity(Check.DISTORTION, Mode.LIPS_TURN, member.name, demand[number], capacity[number], "Pa", SOURCE, stations)
        lines += (*rows(outcome, used, lambda *_: ""), *unchecked(outcome, number, member))
    return tuple(lines)


def shapes_of(outcome: SolvedCase, member: Member) -> list[Shape]:
    """Return the shapes of a member's sections."""
    return [outcome.case.frame.sections[each.section].shape for each in member.stretches]


def strained(outcome: SolvedCase) -> tuple[dict[int, Array], dict[int, Array]]:
    """Return the largest normal stress and what distortion leaves of yield, Pa, (n_bound, n_station, n_case), by member."""
    demand, capacity = blank(outcome, 0.0), blank(outcome, np.inf)
    for each in by_section(outcome):
        section = each.section
        number, at, _ = each.places[0]
        station = float(outcome.solutions[0].members[number].stations[at].mean())
        if section.fields is None or section.distortion is None or metal_reason(outcome, number, station):
            continue
        stress = largest_normal(section.fields, each.forces)
        each.spread(stress, demand)
        each.spread(section.yield_strength * share_left(section, section.distortion, each.forces, stress), capacity)
    for number, one in all_strengths(outcome).items():
        capacity[number][:] *= one.share[:, None]
    return demand, capacity


def largest_normal(fields: UnitFields, forces: Array) -> Array:
    """Return the largest normal stress of forces (..., 9), without its sign, (...,), Pa."""
    stress: Array = np.abs(forces[..., STRETCHING] @ fields.normal.T).max(axis=-1)
    return stress


def softening(section: SectionProperties, critical: Critical, forces: Array) -> tuple[Array, Array]:
    """Return what share of their critical values axial force, and moments with bimoment, make up, each (...,)."""
    moments = (critical.top, critical.bottom), (critical.left, critical.right), (critical.bimoment, critical.against)
    push = np.maximum(-forces[..., 0], 0.0) / critical.push
    bent = np.zeros_like(push)
    for column, (one, other) in zip(STRETCHING[1:], moments, strict=True):
        force = forces[..., column]
        bent = bent + np.maximum(force, 0.0) / one + np.maximum(-force, 0.0) / other
    return push / section.youngs_modulus, bent / section.youngs_modulus


def share_left(section: SectionProperties, critical: Critical, forces: Array, stress: Array) -> Array:
    """Return the share of yield that distortion leaves under forces (..., 9) whose largest normal stress is given, Pa, (...,)."""
    push, bent = softening(section, critical, forces)
    both = push + bent
    slender = np.sqrt(both * section.yield_strength / np.where(stress > 0, stress, np.inf))
    axial = push / np.where(both > 0, both, 1.0)
    return axial * column_share(slender) + (1 - axial) * beam_share(slender)


def column_share(slenderness: Array) -> Array:
    """Return what distortion leaves of a column: 1 up to lambda = 0.561, then (1 - 0.25 / l1.2) / l1.2. AISI S100-16, E4.1."""
    power = np.maximum(slenderness, 0.561) ** 1.2
    return np.asarray(np.minimum((1 - 0.25 / power) / power, 1.0), dtype=np.float64)


def beam_share(slenderness: Array) -> Array:
    """Return what distortion leaves of a beam: 1 up to lambda = 0.673, then (1 - 0.22 / lambda) / lambda. AISI S100-16, F4.1."""
    most = np.maximum(slenderness, 0.673)
    return np.asarray(np.minimum((1 - 0.22 / most) / most, 1.0), dtype=np.float64)


def metal_reason(outcome: SolvedCase, number: int, station: float) -> str:
    """Return why the metal at a station of a member is not covered, "" where it is."""
    metal = material_at(outcome.case.frame, outcome.case.frame.members[number], station)
    return "" if metal.kind == "steel" else "the rule is for steel (AISI S100); that for other metals is not built in"


def unchecked(outcome: SolvedCase, number: int, member: Member) -> Iterator[Open]:
    """Yield the sections with lips that the rule does not cover."""
    line = outcome.solutions[0].members[number]
    shapes = {each.section: outcome.case.frame.sections[each.section].shape for each in member.stretches}
    for section, at in distinct_sections(line):
        station = float(line.stations[at].mean())
        reason = metal_reason(outcome, number, station)
        if section.distortion is None and lips_of(shapes.get(section.name, shapes[member.stretches[0].section])) is not Lips.NONE:
            words = section_words(member, section, station)
            reason = f"section {words} has lips or brims with holes, a notch or pieces on it, which the rule does not cover"
        if reason:
            yield left_open(Thing.MEMBER, member.name, Question.DISTORTION, reason)
