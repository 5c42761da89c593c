"""What was read from the case file, as tables: one function a table."""

from __future__ import annotations

from math import isinf

from framecheck.frame.kinks import kinks_of
from framecheck.model.case import Factor
from framecheck.model.frame import Kinks, Make, Member
from framecheck.output.display import Units, bare, factor, number, with_unit
from framecheck.output.html_report.tables import NONE, Heading, HtmlTable, label, numbers, place, words
from framecheck.output.wording import station_text
from framecheck.results.summary import section_names
from framecheck.run import Results

FACTORS = {
    "height": "length",
    "static deflection": "length",
    "speed": "speed",
    "sideways": "angle",
    "upward": "angle",
    "tyre stiffness": "stiffness",
    "suspension stiffness": "stiffness",
    "frame stiffness": "stiffness",
    "strap stiffness": "stiffness",
    "trailer mass": "mass",
    "tongue mass": "mass",
    "vertical acceleration": "acceleration",
}
"""Quantity of the load factors that have a unit (shared/load_cases.yaml)."""


def load_factors(results: Results, units: Units) -> HtmlTable:
    """Return the factors that make each load case, apart from the safety factors, each with its source."""
    rows = tuple(
        (case.name, name, factor_text(name, value, units), case.sources.get(name, NONE))
        for case in results.outcome.case.load_cases
        for name, value in case.factors.items()
    )
    headings = (*words("load case", "factor"), Heading("value", is_number=True), *words("source"))
    return HtmlTable("Load factors: how hard the vehicle is used", headings, rows)


def factor_text(name: str, value: Factor, units: Units) -> str:
    """Return a load factor's value: a word, words, or a number with its unit."""
    if isinstance(value, tuple):
        return ", ".join(value)
    return value if isinstance(value, str) else with_unit(value, FACTORS.get(name, "number"), units)


def targets(results: Results) -> HtmlTable:
    """Return the safety factors that are asked."""
    asked = results.outcome.case.targets
    rows = tuple((loads.name, factor(asked.of(loads.name))) for loads in results.outcome.loads)
    note = "A load factor says how hard the vehicle is used, a safety factor what is left; neither counts in the other."
    return HtmlTable("Safety factors asked on yield", (*words("load case"), *numbers("target")), rows, note)


def sections(results: Results, units: Units) -> HtmlTable:
    """Return the sections used with their main properties."""
    rows = tuple(
        (
            name,
            each.engine,
            bare(each.area, "area", units),
            bare(each.i_vertical, "inertia", units),
            bare(each.i_sideways, "inertia", units),
            bare(each.torsion_constant, "inertia", units),
            bare(each.warping_constant, "warping", units),
            bare(each.yield_strength, "stress", units),
        )
        for name, each in results.outcome.sections.items()
    )
    inertia = label("inertia", units)
    headings = (
        *words("section", "computed by"),
        *numbers(f"area, {label('area', units)}", f"second moment of area, bending vertically, {inertia}",
                 f"bending sideways, {inertia}",
                 f"torsion constant, {inertia}", f"warping constant, {label('warping', units)}",
                 f"yield, {label('stress', units)}"),
    )  # fmt: skip
    return HtmlTable("Sections", headings, rows)


def materials(results: Results, units: Units) -> HtmlTable:
    """Return the materials used, each with its source."""
    sections = results.outcome.case.frame.sections.values()
    used = {metal.name: metal for each in sections for metal in (each.material, *each.metals)}
    rows = tuple(
        (
            name,
            bare(each.yield_strength, "stress", units),
            NONE if each.welded_yield is None else bare(each.welded_yield, "stress", units),
            bare(each.ultimate_strength, "stress", units),
            bare(each.youngs_modulus, "stress", units),
            each.source,
        )
        for name, each in used.items()
    )
    unit = label("stress", units)
    headings = (
        *words("material"),
        *numbers(f"yield, {unit}", f"yield beside welds, {unit}", f"ultimate, {unit}", f"Young's modulus, {unit}"),
        *words("source"),
    )
    return HtmlTable("Materials", headings, rows)


def points(results: Results, units: Units) -> HtmlTable:
    """Return the frame's points as read."""
    unit = label("length", units)
    rows = tuple((name, *place(at, units)) for name, at in results.outcome.case.frame.points.items())
    note = f"x forward, y left, z up; origin: {results.outcome.case.frame.origin}."
    return HtmlTable("Points", (*words("point"), *numbers(f"x, {unit}", f"y, {unit}", f"z, {unit}")), rows, note)


def ends(results: Results, units: Units) -> HtmlTable:
    """Return the members as read: points, sections, how the ends and kinks are made."""
    turned = {side.member for kink in kinks_of(results.outcome.case.frame) for side in kink.sides}
    rows = tuple(
        (
            member.name,
            member.role,
            ", ".join((member.points[0], member.points[-1])),
            section_names(results.outcome.case.frame, member),
            made_words(member.start.make),
            made_words(member.end.make),
            kink_words(member, units) if number in turned else NONE,
        )
        for number, member in enumerate(results.outcome.case.frame.members)
    )
    joined = ("how its start is joined", "how its end is joined")
    headings = words("member", "role", "from, to", "sections", *joined, "kinks")
    return HtmlTable("Members as read", headings, rows)


def kink_words(member: Member, units: Units) -> str:
    """Return how a member's kinks are made."""
    if member.kinks is Kinks.UNSAID:
        return "not said: both ends of the range were solved"
    size = member.bend_radius if member.kinks is Kinks.BENT else member.kink_plate
    return member.kinks.value if size is None else f"{member.kinks.value}, {with_unit(size, 'size', units)}"


def made_words(make: Make) -> str:
    """Return how a member's end is joined."""
    return "not said: both ends of the range were solved" if make is Make.UNSAID else make.value


def cuts(results: Results, units: Units) -> HtmlTable:
    """Return the notches as read."""
    rows = tuple(
        (
            member.name,
            cut.name,
            cut.side.value,
            station_text(cut.at, units),
            *(bare(size, "size", units) for size in (cut.depth, cut.length, cut.corner_radius)),
        )
        for member in results.outcome.case.frame.members
        for cut in member.cuts
    )
    unit = label("length", units)
    headings = (
        *words("member", "notch", "side of the section"),
        *numbers(f"middle at, {unit}", f"depth, {unit}", f"length, {unit}", f"corner radius, {unit}"),
    )
    return HtmlTable("Notches as read", headings, rows)


def supports(results: Results, units: Units) -> HtmlTable:
    """Return what holds the frame to the ground."""
    rows = tuple(
        (each.point, *(held(value, kind, units) for value, kind in zip(each.stiffness, SIX, strict=True)))
        for each in results.outcome.case.frame.supports
    )
    return HtmlTable(
        "Supports as read", words("point", "x", "y", "z", "turn about x", "turn about y", "turn about z"), rows
    )


SIX = ("stiffness",) * 3 + ("twist stiffness",) * 3


def held(stiffness: float, quantity: str, units: Units) -> str:
    """Return how one direction is held."""
    if stiffness == 0:
        return "free"
    return "held" if isinf(stiffness) else with_unit(stiffness, quantity, units)


def wheels_read(results: Results, units: Units) -> HtmlTable:
    """Return the wheels as read: where they stand and what they hang on."""
    vehicle = results.outcome.case.vehicle
    axles = () if vehicle is None else vehicle.axles
    rows = tuple(
        (
            wheel.name,
            axle.name,
            "driven" if axle.driven else "not driven",
            *place(wheel.contact, units),
            bare(wheel.radius, "length", units),
            bare(wheel.unsprung_mass, "mass", units),
            ", ".join(wheel.on),
        )
        for axle in axles
        for wheel in (axle.left, axle.right)
    )
    unit = label("length", units)
    headings = (
        *words("wheel", "axle", "drive"),
        *numbers(*(f"contact {axis}, {unit}" for axis in "xyz"), f"rolling radius, {unit}",
                 f"unsprung mass, {label('mass', units)}"),
        *words("hangs on"),
    )  # fmt: skip
    return HtmlTable("Wheels as read", headings, rows)


def driveline(results: Results, units: Units) -> HtmlTable:
    """Return the driveline as read, in its lowest gear."""
    vehicle = results.outcome.case.vehicle
    found = None if vehicle is None else vehicle.driveline
    if found is None:
        return HtmlTable("Driveline as read", words("quantity", "value"), ())
    ratios = (found.gear, found.transfer, found.final_drive, found.converter, found.efficiency)
    names = ("lowest gear", "transfer case", "final drive", "converter at stall", "efficiency")
    rows = (
        ("engine torque", with_unit(found.engine_torque, "moment", units)),
        *((name, number(ratio)) for name, ratio in zip(names, ratios, strict=True)),
        ("mounts", ", ".join(found.mounts)),
    )
    return HtmlTable("Driveline as read", words("quantity", "value"), rows)
