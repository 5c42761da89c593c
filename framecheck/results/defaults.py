"""What stood in for something that the file does not say: told with the answer, and open until the file says it or accepts it."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.frame.kinks import Covered, covered, kinks_of
from framecheck.frame.open_ends import open_ends
from framecheck.frame.stand_in import Unmodelled
from framecheck.model.case import Case, LoadCase
from framecheck.model.frame import Kinks
from framecheck.model.joining import LapHold
from framecheck.model.shape_parts import shapes_within
from framecheck.model.suspension import CoilSpring, LeafSpring
from framecheck.results.ledger import is_kinked
from framecheck.results.subjects import Open, Question, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.vehicle.statics import is_determinate

CASE_FILE = "case file"
"""What the source of a load factor says where the file gives it."""


def taken_by_default(outcome: SolvedCase) -> Iterator[Open]:
    """Yield every value that was taken by default."""
    yield from of_targets(outcome.case)
    yield from of_levels(outcome.case)
    yield from of_use(outcome.case)
    yield from of_vehicle(outcome.case)
    yield from of_grip(outcome.case)
    yield from of_sides(outcome.case)
    yield from of_ratios_and_straps(outcome.case)
    yield from of_load_factors(outcome.case)
    yield from of_sections(outcome)
    yield from of_corners(outcome.case)
    yield from of_notches(outcome.case)
    yield from of_weld_metal(outcome.case)
    yield from of_joints(outcome)
    yield from of_kinks(outcome.case)
    yield from of_warping(outcome)
    yield from of_travel(outcome.case)
    yield from of_idle_load_cases(outcome)


def of_targets(case: Case) -> Iterator[Open]:
    """Yield the safety factor, where the file asks for none."""
    if not case.targets.is_stated:
        reason = f"the file asks for none, so {case.targets.safety_factor:g} was taken"
        remedy = "write `targets: {safety factor: ...}`"
        yield left_open(Thing.DEFAULT, "safety factor on yield", Question.UNSAID, reason, remedy=remedy)


def of_use(case: Case) -> Iterator[Open]:
    """Yield that it is not said what the vehicle is used on."""
    if case.use is None and (case.vehicle is not None or case.gear is not None):
        reason = "it is not said, so the load factors of the road were taken; off the road they are higher"
        remedy = "write `use: road`, `use: track` or `use: off road` under `vehicle:` or `running gear:`"
        yield left_open(Thing.DEFAULT, "what the vehicle is used on", Question.UNSAID, reason, remedy=remedy)


def of_vehicle(case: Case) -> Iterator[Open]:
    """Yield what is not said of the vehicle and was taken as none, or as the wheels would have it: most loads grow with it."""
    axles = () if case.vehicle is None else case.vehicle.axles
    for axle in axles:
        if not axle.left.unsprung_mass + axle.right.unsprung_mass > 0:
            reason = "it is not written, so the frame carries nothing of it on a lift, on straps or at the end of the springs' travel"
            name, remedy = f"unsprung mass of the {axle.name} axle", "write `unsprung mass` of each axle"
            yield left_open(Thing.DEFAULT, name, Question.UNSAID, reason, remedy=remedy)
    if axles and all(axle.brake_share is None for axle in axles):
        reason = "it is not written, so each axle brakes as much as it is loaded; a real one brakes more at one end"
        remedy = "write `brake share` of an axle"
        yield left_open(Thing.DEFAULT, "how axles share the braking", Question.UNSAID, reason, remedy=remedy)
    for body in case.frame.stiff_bodies:
        if not any(body.radii):
            reason = "it is not written, so it was taken as a point: nothing turns it but its weight"
            name, remedy = f"how far the mass of {body.name} spreads", "write `radii` of each mass on mounts"
            yield left_open(Thing.DEFAULT, name, Question.UNSAID, reason, remedy=remedy)


def of_grip(case: Case) -> Iterator[Open]:
    """Yield the tyres' friction where it is not said: braking and cornering reach no further than it."""
    for found in (case.vehicle, case.gear):
        if found is not None and not found.is_friction_stated:
            reason = f"it is not written, so {found.friction:g} was taken; stickier tyres brake and corner harder"
            yield left_open(Thing.DEFAULT, "tyre friction", Question.UNSAID, reason, remedy="write `tyre friction`")


def of_sides(case: Case) -> Iterator[Open]:
    """Yield the masses of which it is not said how far they sit to a side: one side would carry more."""
    for found in (case.vehicle, case.gear):
        if found is not None and found.taken_amid:
            first, more = ", ".join(found.taken_amid[:3]), len(found.taken_amid) - 3
            of = f"{first} and {more} more" if more > 0 else first
            reason = f"it is not written of {of}, so in the middle was taken; a mass to one side loads that side more"
            remedy = "write `y` of each mass; 0 where it sits in the middle"
            yield left_open(Thing.DEFAULT, "how far masses sit to a side", Question.UNSAID, reason, remedy=remedy)


def of_ratios_and_straps(case: Case) -> Iterator[Open]:
    """Yield what is not said of the driveline and the straps and was taken as none: the loads grow with it."""
    if case.vehicle is None:
        return
    driveline = case.vehicle.driveline
    if driveline is not None and not driveline.is_transfer_stated:
        reason = "it is not written, so none was taken; a low range multiplies the torque"
        remedy = "write `transfer` of the driveline; 1 without a transfer case"
        yield left_open(Thing.DEFAULT, "ratio of the transfer case", Question.UNSAID, reason, remedy=remedy)
    for strap in case.vehicle.straps:
        if not strap.is_pretension_stated:
            reason = "it is not written, so the strap was taken as tied without force; a tied one pulls at rest"
            name, remedy = f"pretension of the strap {strap.name}", "write `pretension` of each strap; 0 where it hangs loose"
            yield left_open(Thing.DEFAULT, name, Question.UNSAID, reason, remedy=remedy)


def of_weld_metal(case: Case) -> Iterator[Open]:
    """Yield the weld metal of each splice that is welded and does not say it: a weaker one makes weaker welds."""
    for splice in case.frame.splices:
        welded = set(splice.holds) - {LapHold.BEARING} or (splice.spots and splice.bolt is None)
        if welded and not splice.is_electrode_stated and splice.electrode is not None:
            reason = f"it is not written, so {splice.electrode.name} was taken"
            name, remedy = f"weld metal of the splice {splice.name}", "write `electrode` of each splice"
            yield left_open(Thing.DEFAULT, name, Question.UNSAID, reason, remedy=remedy)


def of_levels(case: Case) -> Iterator[Open]:
    """Yield that axles of a running gear share by their springs, as if these touched together."""
    if case.gear is None:
        return

    if not is_determinate(case.gear):
        reason = "they share the load by their springs as if all of them touched together before the weight came on"
        remedy = "weigh the axles and write their `load share`, or accept it with a reason"
        yield left_open(Thing.DEFAULT, "how the axles stand unloaded", Question.UNSAID, reason, remedy=remedy)


def of_load_factors(case: Case) -> Iterator[Open]:
    """Yield the load cases of which a factor comes from the table."""
    for each in case.load_cases:
        if table_factors(each):
            reason = "a factor of it comes from the table of load cases, not from this file"
            remedy = "write the factors of each load case, or accept those of the table with a reason"
            yield left_open(Thing.LOAD_CASE, each.name, Question.UNSAID, reason, remedy=remedy)


def table_factors(load_case: LoadCase) -> tuple[str, ...]:
    """Return the factors of a load case that its file does not give."""
    return tuple(name for name in load_case.factors if load_case.sources.get(name, CASE_FILE) != CASE_FILE)


def of_sections(outcome: SolvedCase) -> Iterator[Open]:
    """Yield the sections whose properties come from thin-wall theory because they could not be meshed."""
    for name, section in outcome.sections.items():
        if section.engine == "mid-line":
            yield left_open(Thing.DEFAULT, name, Question.ENGINE, "; ".join(section.notes))


def of_corners(case: Case) -> Iterator[Open]:
    """Yield the sections whose corners were taken sharp because their radius is not said."""
    for section in case.frame.sections.values():
        if section.sharp:
            reason = "no radius is written, so they were taken sharp: more metal, further out, than a formed corner has"
            remedy = "write `outside radius` of tubes and `inside radius` of bends; 0 where they are sharp"
            yield left_open(Thing.DEFAULT, f"corners of {section.family or section.name}", Question.UNSAID, reason, remedy=remedy)


def of_notches(case: Case) -> Iterator[Open]:
    """Yield the members whose notch corners are not held to first yield because the file does not ask for it."""
    for member in case.frame.members:
        if member.cuts and member.name not in case.strength.notches.local_yield:
            reason = "it is not asked for, so the corners' peaks count for fatigue alone; ductile metal yields there before it tears"
            name, remedy = f"local yield at the notches of {member.name}", "write `notches: {local yield: [...]}`, or accept it"
            yield left_open(Thing.DEFAULT, name, Question.UNSAID, reason, remedy=remedy)


TAKEN = {
    Unmodelled.SHAPES: "taken between a softer box and rigid: not modelled",
    Unmodelled.ASKEW: "taken between a softer square joint and rigid: not modelled",
    Unmodelled.OVER_EDGE: "taken between standing at the edge and rigid: not modelled",
    Unmodelled.PLATE: "taken between an open end and one held in shape: not modelled",
    Unmodelled.FOOT_PLATE: "taken between a softer joint without the plate and rigid: not modelled",
    Unmodelled.FLANGES: "taken between a softer joint on the web and rigid: not modelled",
    Unmodelled.RAIL_END: "taken between a softer joint and rigid: not modelled",
    Unmodelled.MEETING: "taken between standing on their open ends and rigid: not modelled",
    Unmodelled.GUSSETS: "taken between butt-welded and rigid: not modelled",
}


def of_joints(outcome: SolvedCase) -> Iterator[Open]:
    """Yield that it is not said how member ends are made, and every end that no joint model covers."""
    if all(solution.bound.joints is None for solution in outcome.solutions):
        return
    found = tuple(open_ends(outcome.case.frame))
    if any(each.near_end for each in found):
        reason = "both were solved, open and held in its shape, and the worse counts"
        remedy = "write `cap:` at each rail end near a crossmember: open, runs on, or the plate's thickness"
        yield left_open(Thing.DEFAULT, "how rails are closed at their ends", Question.UNSAID, reason, remedy=remedy)
    if any(each.unsaid for each in found):
        reason = f"from the softer of butt-welded and through one face to rigid{mixtures_tried(outcome)}; the worst counts"
        remedy = "write `ends:` of each member"
        yield left_open(Thing.DEFAULT, "how member ends are made", Question.UNSAID, reason, remedy=remedy)
    for each in found:
        if each.why is not None:
            reason = f"{each.why.value}: {TAKEN[each.why]}"
            yield left_open(Thing.MEMBER_END, each.member, Question.JOINT_STIFFNESS, reason, each.point)


def mixtures_tried(outcome: SolvedCase) -> str:
    """Return which ends were taken to be unlike others, in words."""
    apart = sum(solution.bound.apart is not None for solution in outcome.solutions)
    if sum(each.is_left_out for each in open_ends(outcome.case.frame)) < 2:
        return ""
    if not apart:
        return ", all alike, though a stiffer end than others may take up to twice as much"
    return f", all alike and in {apart} mixtures with some unlike the others"


def of_kinks(case: Case) -> Iterator[Open]:
    """Yield that it is not said how kinks are made, and every kink whose give no model covers."""
    kinks = [each for each in kinks_of(case.frame) if is_kinked(each)]
    if any(not each.is_said and each.made is not Kinks.PLATED for each in kinks):
        reason = "mitred, bent from tight to wide, and giving nothing were all solved, and the worst counts"
        remedy = "write `kinks:` of each member, and `bend radius:` of bent ones"
        yield left_open(Thing.DEFAULT, "how kinks are made", Question.UNSAID, reason, remedy=remedy)
    if any(each.made is Kinks.PLATED and each.plate is None for each in kinks):
        reason = "their thickness is not said: all from 1 mm to giving nothing was solved, and the worst counts"
        remedy = "write `kink plate:` of each member"
        yield left_open(Thing.DEFAULT, "plates inside kinks", Question.UNSAID, reason, remedy=remedy)
    for each in kinks:
        why = next((how for side in each.sides if (how := covered(each, side)) is not Covered.YES), None)
        if why is not None:
            reason = f"{why.value}: taken between a softer mitre and giving nothing: not modelled"
            yield left_open(Thing.KINK, each.name, Question.JOINT_STIFFNESS, reason, each.point)


def of_warping(outcome: SolvedCase) -> Iterator[Open]:
    """Yield that it is not said what member ends do to warping."""
    if any(solution.bound.warping is not None for solution in outcome.solutions):
        reason = "both ends of the range were solved, warping free and held, and the worse counts"
        remedy = "write `warping:` of each open member's end"
        yield left_open(Thing.DEFAULT, "what member ends do to warping", Question.UNSAID, reason, remedy=remedy)


def of_travel(case: Case) -> Iterator[Open]:
    """Yield the axles whose springs have no end of their travel in the file: their bump stops and droop straps strike nothing."""
    for axle in () if case.vehicle is None else case.vehicle.axles:
        springs = [each for each in shapes_within(axle) if isinstance(each, CoilSpring | LeafSpring)]
        missing = [key for key in ("bump", "droop") if any(getattr(each, key) is None for each in springs)]
        if missing:
            reason = f"{' and '.join(missing)} are not given, so its springs are taken to go on for ever and nothing strikes the frame"
            remedy = "write `bump` and `droop` of each suspension: its travel from rest"
            yield left_open(Thing.DEFAULT, f"travel of the {axle.name} suspension", Question.UNSAID, reason, remedy=remedy)


def of_idle_load_cases(outcome: SolvedCase) -> Iterator[Open]:
    """Yield the load cases that put no force on any member: what they pass says nothing."""
    for number, loads in enumerate(outcome.loads):
        if not any(line.forces[:, number].any() for solution in outcome.solutions for line in solution.members):
            reason = "it puts no force on any member, so whatever it passes says nothing"
            yield left_open(Thing.LOAD_CASE, loads.name, Question.DOUBT, reason, remedy="give it a force, or leave it out")
