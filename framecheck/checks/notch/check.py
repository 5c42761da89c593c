"""The check of notches: the corner's stress, a row a notch, mode and load case, and what could not be checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from framecheck.checks.formulas.stress_concentration import (
    FITS,
    RAIL_ALLOWANCE,
    RAIL_SOURCE,
    SHARPEST,
    cyclic_metal,
    local_stress,
    rail_factor,
)
from framecheck.checks.heat import strengths_of
from framecheck.checks.joint_rows import Capacity, Judging, Line, judged
from framecheck.checks.member_rows import material_at
from framecheck.checks.member_stress import gathered, on_side
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Cut, Member
from framecheck.model.said import joined
from framecheck.model.shapes import Side
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.stress import SolvedCase
from framecheck.surface_stress import components
from framecheck.value_class import array_class

NET_SOURCE = "first yield of the net section about its own axes, offset moment of the pull included (beam theory)"
SHEAR_SOURCE = "largest shear stress of the net section against fy / sqrt(3): EN 1993-1-1:2005, 6.2.6(4)"
LOCAL_SOURCE = f"H. Neuber's rule with W. Ramberg and W. R. Osgood's line (uniform material law, from memory); {RAIL_SOURCE}"
OPENED = "the cell is open over the notch"


@array_class
class SeenByNotch:
    """What a notch sees in every load case, worst bound and station. Arrays (n_case,): Pa, m; bounds: numbers of the bounds.

    nominal: equivalent stress; shear; peak, factor: elastic peak at the corner and its ratio to the root's normal stress (nan: none).
    strength: yield strength over the notch, as welded where a weld is near any of it.
    """

    net: SectionProperties
    strength: float
    nominal: Array
    shear: Array
    peak: Array
    factor: Array
    station: Array
    bounds: Array


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every notch of every member."""
    lines: list[Line] = []
    for number, member in enumerate(outcome.case.frame.members):
        for cut in member.cuts:
            lines += notch_lines(outcome, number, member, cut)
    return tuple(lines)


def notch_lines(outcome: SolvedCase, number: int, member: Member, cut: Cut) -> Iterator[Line]:
    """Yield the rows of one notch: net section, webs, corner where asked."""
    found = worst(outcome, number, cut)
    if found is None:
        yield left_open(Thing.CUT, member.name, Question.NOTCH, "no stress is known over its length", cut.name)
        return
    for case, loads in enumerate(outcome.loads):
        yield net_row(outcome, member, cut, found, case)
        target, holds = outcome.case.targets.of(loads.name), found.strength / 3**0.5
        webs = Capacity(Mode.WEB_SHEAR, holds, target, SHEAR_SOURCE, "Pa")
        yield row(outcome, (member, cut), found, case, (float(found.shear[case]), webs))
        if member.name in outcome.case.strength.notches.local_yield and not np.isnan(found.peak[case]):
            yield local_row(outcome, member, cut, found, case)
    if np.isnan(found.factor).all():
        reason = "its corner radius is not given, or under a tenth of its depth: no published factor"
        yield left_open(Thing.CUT, member.name, Question.NOTCH, reason, cut.name)


def net_row(outcome: SolvedCase, member: Member, cut: Cut, found: SeenByNotch, case: int) -> CheckResult:
    """Return the row of first yield of the net section; the corner's factor is told, not counted (it is for fatigue)."""
    factor = float(found.factor[case])
    told = "" if np.isnan(factor) else f"corner {factor:.2f} times the net stress, not counted against yield"
    opened = OPENED if was_closed(outcome, member, cut, found.net) and not found.net.closed else ""
    target = outcome.case.targets.of(outcome.loads[case].name)
    holds = Capacity(Mode.NET_SECTION, found.strength, target, NET_SOURCE, "Pa", note=joined(told, opened))
    return row(outcome, (member, cut), found, case, (float(found.nominal[case]), holds))


def was_closed(outcome: SolvedCase, member: Member, cut: Cut, net: SectionProperties) -> bool:
    """Return whether the whole section beside a cut is closed; taken as closed where the cut runs from end to end."""
    line = next(each for each in outcome.solutions[0].members if each.member == member.name)
    beside = [n for n, section in enumerate(line.sections) if section is not net]
    nearest = min(beside, key=lambda n: abs(float(line.stations[n]) - cut.at), default=None)
    return nearest is None or line.sections[nearest].closed


def local_row(outcome: SolvedCase, member: Member, cut: Cut, found: SeenByNotch, case: int) -> CheckResult:
    """Return the row of local yield: elastic peak against yield, with Neuber's local strain in words."""
    material = material_at(outcome.case.frame, member, cut.at)
    metal = cyclic_metal(material.youngs_modulus, material.ultimate_strength)
    strain = local_stress(float(found.peak[case]), 1.0, metal)[1]
    words = f"local strain {100 * strain:.3f} % by Neuber"
    holds = Capacity(Mode.CORNER_YIELDS, found.strength, 1.0, LOCAL_SOURCE, "Pa", note=words)
    return row(outcome, (member, cut), found, case, (float(found.peak[case]), holds))


def row(outcome: SolvedCase, of: tuple[Member, Cut], found: SeenByNotch, case: int, used: tuple[float, Capacity]) -> CheckResult:
    """Return the row of a (demand, capacity) at a notch."""
    member, cut = of
    made = judged(Judging(Check.NOTCH, Subject(Thing.CUT, member.name, cut.name)), outcome.loads[case].name, *used)
    bound = outcome.solutions[int(found.bounds[case])].bound
    return replace(made, station=float(found.station[case]), bound=bound)


def worst(outcome: SolvedCase, number: int, cut: Cut) -> SeenByNotch | None:
    """Return what a notch sees, over all bounds; None where no stress is known."""
    each = [found for solution in outcome.solutions if (found := in_bound(solution.members[number], cut)) is not None]
    if not each:
        return None
    bound = np.argmax(np.stack([found.nominal for found in each]), axis=0)

    def taken(values: list[Array]) -> Array:
        return np.asarray(np.take_along_axis(np.stack(values), bound[None], axis=0)[0], dtype=np.float64)

    return SeenByNotch(
        each[0].net,
        kept_over(outcome, number, cut) * each[0].strength,
        taken([found.nominal for found in each]),
        np.stack([found.shear for found in each]).max(axis=0),
        np.stack([found.peak for found in each]).max(axis=0),
        taken([found.factor for found in each]),
        taken([found.station for found in each]),
        bound.astype(np.float64),
    )


def kept_over(outcome: SolvedCase, number: int, cut: Cut) -> float:
    """Return the share of its yield strength that welding leaves the metal of a notch, the least over its length."""
    line = outcome.solutions[0].members[number]
    share = strengths_of(outcome, outcome.case.frame.members[number], line).share
    inside = np.abs(line.stations - cut.at) <= cut.length / 2 + 1e-9
    return float(share[inside].min(initial=1.0))


def in_bound(line: MemberForces, cut: Cut) -> SeenByNotch | None:
    """Return what a notch sees under one bound: its net section is the smallest one over its length."""
    pieces = gathered(line, cut.at - cut.length / 2, cut.at + cut.length / 2)
    net, stations, forces = min(pieces, key=lambda piece: piece[0].area, default=(None, np.zeros(0), np.zeros(0)))
    if net is None or net.fields is None:
        return None
    return at_net(cut, net, net.fields, stations, forces)


def at_net(cut: Cut, net: SectionProperties, fields: UnitFields, stations: Array, forces: Array) -> SeenByNotch:
    """Return what the net section sees under forces (k, n_case, 9) at stations (k,)."""
    stress = components(fields, forces)
    smooth = ~fields.sharp if not fields.sharp.all() else fields.sharp
    nominal = stress.von_mises[..., smooth].max(axis=-1)
    shear = np.sqrt(np.sum(stress.shear**2, axis=-1).max(axis=(0, 2)))
    root = corner(cut, net, fields, forces)
    most = np.argmax(nominal, axis=0)
    cases = np.arange(forces.shape[1])
    blank = np.full(len(cases), np.nan)
    peak, factor = blank, blank
    if root is not None:
        peak = root.peak.max(axis=0)
        at_peak = np.argmax(root.peak, axis=0)
        factor = peak / np.maximum(root.nominal[at_peak, cases], 1e-9)
    return SeenByNotch(net, net.yield_strength, nominal[most, cases], shear, peak, factor, stations[most], np.zeros(len(cases)))


@array_class
class RootStress:
    """Normal stress at a notch's root, Pa, each (...,): on the net section, and the elastic peak. factors: Kt bent and pulled."""

    nominal: Array
    peak: Array
    factors: tuple[float, float]


def height_before(cut: Cut, net: SectionProperties) -> float:
    """Return the height of the section before it was cut, along the cut's depth, m: what is left and the depth of the cut."""
    y_min, y_max, z_min, z_max = net.box
    return cut.depth + (z_max - z_min if cut.side in (Side.TOP, Side.BOTTOM) else y_max - y_min)


def pulled_factor(depth: Array, radius: Array, height: float) -> Array:
    """Return Kt on the net stress of a pull through the net middle, with the allowance of `rail_factor`; nan: sharper than any fit."""
    ratio = depth / np.where(radius > 0, radius, np.nan)
    fitted = RAIL_ALLOWANCE * FITS["one notch, tension"].factor(np.maximum(ratio, 0.5), depth / height)
    return np.where(ratio <= SHARPEST, np.maximum(fitted, 1.0), np.nan)


def corner_factors(cut: Cut, net: SectionProperties) -> tuple[float, float] | None:
    """Return Kt (bent, pulled) of a notch's corner; None where no fit gives them."""
    depth, radius, height = np.array(cut.depth), np.array(cut.corner_radius), height_before(cut, net)
    found = float(rail_factor(depth, radius, height)), float(pulled_factor(depth, radius, height))
    return None if any(np.isnan(each) for each in found) else found


def corner(cut: Cut, net: SectionProperties, fields: UnitFields, forces: Array) -> RootStress | None:
    """Return the stress at the notch's root under forces (..., 9) in the net section's axes; None where no fit gives its factors.

    The offset moment of the pull, N times the shift of the axis, is in the forces already: they act about the net centroid.
    """
    factors = corner_factors(cut, net)
    if factors is None:
        return None
    root = on_side(net, fields, cut.side)
    pulled = (forces[..., 0] / net.area)[..., None]
    whole = forces[..., [0, 4, 5, 6]] @ fields.normal[root].T
    raised = factors[0] * (whole - pulled) + factors[1] * pulled
    return RootStress(frozen(np.abs(whole).max(axis=-1)), frozen(np.abs(raised).max(axis=-1)), factors)
