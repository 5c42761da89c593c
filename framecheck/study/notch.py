"""One notch of one member in full: what it leaves, how deep it may be, where else it might sit, and what mends it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from difflib import get_close_matches
from functools import partial

import numpy as np

from framecheck.checks.member_stress import gathered
from framecheck.checks.notch.repair import AskedOfRepair, Repair, as_it_is, repairs
from framecheck.checks.notch.room import NotchCurve, UsedStretch, centroid_shift, solved_curve, zones
from framecheck.errors import Fault, InputError, MeshError
from framecheck.model.arrays import Array, frozen
from framecheck.model.case import Case
from framecheck.model.frame import Cut, Member
from framecheck.model.shapes import Side
from framecheck.results.row import Check, CheckResult, Grade, Mode
from framecheck.results.subjects import Question, Subject, Thing
from framecheck.results.verdict import Verdict, verdict_of
from framecheck.run import Prepared, Results, outcome_of, prepare, section_at, solved
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class
from framecheck.vehicle.load_cases import all_vehicle_loads

DEPTHS = (0.15, 0.3, 0.45, 0.6)
"""Depths of the curve, as shares of the section's size along the cut; the cut's own depth is added."""
RADII = (0.00635, 0.0127, 0.0254, 0.0508)
"""Corner radii of the curve, m: 1/4, 1/2, 1 and 2 in; the cut's own is added."""
NEAR = 0.04
"""A depth nearer to the cut's own than this share of the size is left out."""
E70 = 482.6e6
"""Classification strength of the weld metal that repairs are reckoned with, Pa: 70 ksi, ANSI/AISC 360-22, table J2.5."""


TWIST = 0.9
"""Share of the factor by pull and bending below which the rest, twist above all, is said to be what fails."""


@array_class
class NotchStudy:
    """What is to be said of one notch. SI.

    side: of the member, as seen along it. shift: of the centroid by the cut, (y, z), in the section's own axes. rows: all that was
    judged over the cut's length, least margin first; verdict: on them and on what is open of the cut. gross_forces: section forces
    there in the frame without the cut, (n, 9), in the section's own axes. left_out: depths that can't be cut, and why. together:
    members that have a cut of this name, changed along. by_bending: safety factor of what is left by pull and bending along the
    cut's depth alone, which is what repairs are reckoned for.
    """

    member: str
    cut: Cut
    side: Side
    gross: SectionProperties
    net: SectionProperties
    shift: tuple[float, float]
    rows: tuple[CheckResult, ...]
    verdict: Verdict
    curve: NotchCurve
    zones: tuple[UsedStretch, ...]
    zone_share: float
    repairs: tuple[Repair, ...]
    asked: AskedOfRepair
    gross_forces: Array
    left_out: tuple[str, ...] = ()
    together: tuple[str, ...] = ()
    by_bending: float = float("inf")

    @property
    def size(self) -> float:
        """Return the size of the whole section along the cut's depth, m."""
        return size_along(self.gross, self.cut.side)

    @property
    def twist_fails(self) -> bool:
        """Return whether the cut misses its target by what repairs are not reckoned for: twist, warping, bending across the depth."""
        row = next((row for row in self.rows if row.check is Check.NOTCH), None)
        return row is not None and row.grade is Grade.LOW and row.safety_factor < TWIST * self.by_bending


def deepest(study: NotchStudy) -> float | None:
    """Return the depth down to which the net section meets the asked safety factor, m; None: all of them meet it, or none."""
    return met_down_to(study.curve.depths, study.curve.on_yield, study.asked.safety_factor)


def deepest_for_corner(study: NotchStudy) -> float | None:
    """Return the depth down to which the corner, at its own radius, meets the target of local yield, m; None as in `deepest`.

    None too where local yield is not asked for: then the corner counts for fatigue alone.
    """
    own = np.isclose(study.curve.radii, study.cut.corner_radius)
    if not asks_of_corner(study) or not own.any():
        return None
    return met_down_to(study.curve.depths, study.curve.at_corner[:, int(np.argmax(own))], CORNER_TARGET)


CORNER_TARGET = 1.0
"""The safety factor asked of local yield at a corner, where it is asked for (checks/notch/check.py)."""


def asks_of_corner(study: NotchStudy) -> bool:
    """Return whether the file asks that the corner must not yield, so that it is judged."""
    return any(row.mode is Mode.CORNER_YIELDS for row in study.rows)


def met_down_to(depths: Array, factors: Array, asked: float) -> float | None:
    """Return the depth down to which a factor is met, straight between the depths of a curve; None: all of them meet it, or none."""
    meets = factors >= asked
    if meets.all() or not meets[0]:
        return None
    first = int(np.argmin(meets))
    high, low = factors[first - 1 : first + 1]
    return float(depths[first - 1] + (high - asked) / (high - low) * (depths[first] - depths[first - 1]))


def member_named(case: Case, name: str) -> Member:
    """Return a member by name."""
    names = [member.name for member in case.frame.members]
    if name in names:
        return case.frame.members[names.index(name)]
    near = get_close_matches(name, names, n=1)
    remedy = f"did you mean '{near[0]}'?" if near else f"use one of: {', '.join(names)}"
    raise InputError([Fault("", f"member {name}", "there is no member of this name", remedy)])


def cut_named(member: Member, name: str | None) -> Cut:
    """Return a member's cut by name; where none is named, its only one."""
    found = [cut for cut in member.cuts if name is None or cut.name == name]
    if len(found) == 1:
        return found[0]
    subject, names = f"member {member.name}", ", ".join(f"'{cut.name}'" for cut in member.cuts)
    if not member.cuts:
        raise InputError([Fault("", subject, "has no cut", "ask for one: --at, --side and --length")])
    fault = "has several cuts" if name is None else f"has no cut named '{name}'"
    raise InputError([Fault("", subject, fault, f"name one by --cut: {names}")])


def with_cut(case: Case, member: Member, cut: Cut) -> Case:
    """Return the case with one more cut in a member; one that is not within it is refused."""
    least, most = cut.length / 2, length_of(case, member) - cut.length / 2
    if not least <= cut.at <= most:
        raise InputError(
            [
                Fault(
                    "", f"cut in {member.name}", "reaches beyond the member", f"--at from {least:.3f} m to {most:.3f} m"
                )
            ]
        )
    members = tuple(replace(each, cuts=(*each.cuts, cut)) if each is member else each for each in case.frame.members)
    return replace(case, frame=replace(case.frame, members=members))


def length_of(case: Case, member: Member) -> float:
    """Return a member's length, m."""
    places = np.array([case.frame.points[point] for point in member.points])
    return float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())


def changed(case: Case, name: str, change: Callable[[Cut], tuple[Cut, ...]]) -> Case:
    """Return the case with every cut of a name changed, in all members alike (both rails are cut the same)."""
    members = tuple(
        replace(each, cuts=tuple(new for cut in each.cuts for new in (change(cut) if cut.name == name else (cut,))))
        for each in case.frame.members
    )
    return replace(case, frame=replace(case.frame, members=members))


def size_along(section: SectionProperties, side: Side) -> float:
    """Return the size of a section along the depth of a cut from a side, m."""
    y_min, y_max, z_min, z_max = section.box
    return z_max - z_min if side in (Side.TOP, Side.BOTTOM) else y_max - y_min


def curve_depths(own: float, size: float) -> tuple[float, ...]:
    """Return the depths of the curve, m, shallow to deep, the cut's own among them."""
    others = [share * size for share in DEPTHS if abs(share * size - own) > NEAR * size]
    return tuple(sorted([own, *others]))


def curve_radii(own: float) -> Array:
    """Return the corner radii of the curve, m, sharp to round, the cut's own among them."""
    return np.array(sorted([*(each for each in RADII if abs(each - own) > 1e-4), *([own] if own > 0 else [])]))


def notch_study(
    case: Case,
    member: str,
    name: str | None = None,
    store: SectionStore | None = None,
    depths: Sequence[float] | None = None,
) -> NotchStudy:
    """Return what is to be said of a member's cut. depths: of the curve, m; None: 0.15 to 0.6 of the section.

    The curve solves the frame anew with each depth: a deep notch softens the frame and sheds load.
    """
    of = member_named(case, member)
    cut, number = cut_named(of, name), case.frame.members.index(of)
    as_cut, bare = prepare(case, store), changed(case, cut.name, lambda _: ())
    whole = prepare(bare, store)
    outcome = outcome_only(whole, bare)
    gross, net = whole.sections[section_at(of, cut.at)], as_cut.cuts[member, cut.name]
    forces, asked = forces_over(outcome, number, cut), asked_of(case, of, cut)
    results = solved(as_cut, case)
    rows = over_cut(results.rows, member, cut)
    deeper = solved_with(case, cut, depths or curve_depths(cut.depth, size_along(gross, cut.side)), store)
    return NotchStudy(
        member=member,
        cut=cut,
        side=next(side for side in Side if of.orientation.own_side(side) is cut.side),
        gross=gross,
        net=net,
        shift=centroid_shift(gross, net, cut.side),
        rows=rows,
        verdict=verdict_over(results, rows, Subject(Thing.CUT, member, cut.name)),
        curve=solved_curve(gross, number, deeper.cuts, deeper.outcomes, curve_radii(cut.corner_radius)),
        zones=zones(outcome, number, case.strength.notches.zone_share),
        zone_share=case.strength.notches.zone_share,
        repairs=repairs(gross, net, cut, forces, asked),
        asked=asked,
        gross_forces=forces,
        left_out=deeper.left_out,
        by_bending=as_it_is(gross, net, cut, forces),
        together=tuple(each.name for each in case.frame.members if cut.name in [one.name for one in each.cuts]),
    )


@array_class
class Deeper:
    """The frame solved with a cut of each depth; left_out: the depths that can't be made, in words."""

    cuts: tuple[Cut, ...]
    outcomes: tuple[SolvedCase, ...]
    left_out: tuple[str, ...]


def solved_with(case: Case, cut: Cut, depths: Sequence[float], store: SectionStore | None) -> Deeper:
    """Return the frame solved with a cut made as deep as each of some depths, m."""
    cuts, outcomes, left_out = [], [], []
    for depth in depths:
        other = changed(case, cut.name, partial(as_deep, depth))
        try:
            outcomes.append(outcome_only(prepare(other, store), other))
            cuts.append(replace(cut, depth=depth))
        except (InputError, MeshError) as error:
            left_out.append(f"{depth * 1000:.1f} mm deep: {error}")
    return Deeper(tuple(cuts), tuple(outcomes), tuple(left_out))


def as_deep(depth: float, cut: Cut) -> tuple[Cut, ...]:
    """Return a cut of another depth, m."""
    return (replace(cut, depth=depth),)


def outcome_only(prepared: Prepared, case: Case) -> SolvedCase:
    """Return the solved frame without any check of it."""
    return outcome_of(prepared, case, all_vehicle_loads(case, prepared.frame))


def forces_over(outcome: SolvedCase, number: int, cut: Cut) -> Array:
    """Return all section forces of a member over a cut's length, (n, 9): every station, load case and bound."""
    start, end = cut.at - cut.length / 2, cut.at + cut.length / 2
    found = [
        forces.reshape(-1, forces.shape[-1])
        for solution in outcome.solutions
        for _, _, forces in gathered(solution.members[number], start, end)
    ]
    return frozen(np.concatenate(found))


def asked_of(case: Case, member: Member, cut: Cut) -> AskedOfRepair:
    """Return what a repair must reach: the whole section's stiffness and the case's highest target, with plates of the same metal."""
    target = max([case.targets.safety_factor, *case.targets.per_load_case.values()])
    metal = case.frame.sections[section_at(member, cut.at)].material
    return AskedOfRepair(1.0, target, metal.yield_strength, E70)


def verdict_over(results: Results, rows: Sequence[CheckResult], cut: Subject) -> Verdict:
    """Return the verdict on what was judged over a cut's length, with what is open of the cut and of how sections were reckoned."""
    ledger = results.verdict.ledger
    still = tuple(each for each in ledger.open if each.entry.subject == cut or each.entry.question is Question.ENGINE)
    self_checks = (each for solution in results.outcome.solutions for each in solution.self_checks)
    return verdict_of(rows, replace(ledger, open=still), self_checks)


def over_cut(rows: Sequence[CheckResult], member: str, cut: Cut) -> tuple[CheckResult, ...]:
    """Return what was judged over a cut's length, a row a check and mode, in the order of the rows; yield is the net section's row."""
    reach = cut.length / 2 + 1e-6
    found: dict[object, CheckResult] = {}
    for row in rows:
        beside = row.subject == Subject(Thing.MEMBER, member) and row.station is not None and abs(row.station - cut.at) <= reach
        if (beside and row.check is not Check.YIELD) or row.subject == Subject(Thing.CUT, member, cut.name):
            found.setdefault((row.check, row.mode, row.part), row)
    return tuple(found.values())
