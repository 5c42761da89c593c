"""The form of a study file, and amounts whose kind a field elsewhere says."""

from __future__ import annotations

from framecheck.errors import InputError
from framecheck.model.study import ChanceBy, Engine, Range, Sampling, Spread
from framecheck.reading.blocks.common import LENGTH_OR_ZERO, POSITIVE_LENGTH, RATIO
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.form import Field, Form, ListOf, Named
from framecheck.reading.kinds import AllowedSign, Choice, Number, QuantityKind, TextKind, Whole, YesNo, choice_of
from framecheck.reading.whole_case import WRITTEN_IN
from framecheck.units import AMOUNT, FEET_AND_INCHES, GAUGE, LENGTHS, Gauges, number_of, refusal, to_si

MILLIMETRE = "mm"


def amount_of(text: str, gauges: Gauges) -> tuple[float, str]:
    """Return number and unit of "3 mm", "1 1/2 in" or "1.5" as written; of "14 ga tube" or "2 ft 6 in" in millimetres."""
    matched = AMOUNT.fullmatch(text)
    if matched is None:
        raise refusal(f"'{text}' is not an amount", "write a number with its unit, such as 3 mm, or a plain number")
    if GAUGE.fullmatch(text) or FEET_AND_INCHES.fullmatch(text):
        return to_si(text, "thickness", gauges) * 1e3, MILLIMETRE
    unit = " ".join(matched[2].split())
    if unit[:1].isdigit() or unit[:1] in {",", "/"}:
        raise refusal(f"'{text}' is not an amount", "write a number with its unit, such as 3 mm, or a plain number")
    return number_of(matched[1]), unit


def range_of(low: str, high: str, gauges: Gauges) -> Range:
    """Return a range in the unit of both ends, in millimetres where two lengths are written in different ones."""
    (least, unit), (most, other) = amount_of(low, gauges), amount_of(high, gauges)
    if unit != other:
        least, most, unit = in_millimetres(low, unit, gauges), in_millimetres(high, other, gauges), MILLIMETRE
    if not least < most:
        raise refusal(f"the range from {low} to {high} is empty", "write the smaller end first")
    return Range(least, most, unit)


def in_millimetres(text: str, unit: str, gauges: Gauges) -> float:
    """Return a length in mm; InputError where the two ends of a range differ in kind."""
    if unit not in LENGTHS:
        raise refusal(f"'{text}' and the other end have different units", "write both ends with the same unit")
    return to_si(text, "thickness", gauges) * 1e3


def share_or_amount(text: str, gauges: Gauges) -> tuple[float, str | None]:
    """Return a deviation: a share ("5 %") with None, or an amount with its unit."""
    value, unit = amount_of(text, gauges)
    if value <= 0:
        raise refusal(f"'{text}' spreads nothing", "write a share or an amount above zero")
    return (value / 100, None) if unit == "%" else (value, unit)


def first_fault(error: InputError) -> tuple[str, str]:
    """Return fault and remedy of an error's first fault."""
    return error.faults[0].fault, error.faults[0].remedy


FIELD = TextKind("the path of a field of the case, such as sections.front rail.wall", 200)
AMOUNT_WORDS = TextKind("an amount with its unit, or a plain number", 60)

SIZES = Form(
    "size limits",
    "From which to which size a section of the library is taken, both included.",
    (
        Field("from", LENGTH_OR_ZERO, "the least", 0.0, "no least"),
        Field("to", POSITIVE_LENGTH, "the most", float("inf"), "no most"),
    ),
)
LIBRARY_SECTIONS = Form(
    "library sections",
    "The names of all sections of the library that fit, in the order of its files.",
    (
        Field("shape", Choice({shape: shape for shape in SECTION.forms}), "of which shape"),
        Field("material", TextKind("the name of a material"), "of which metal", None, "any"),
        Field("sizes", Named(SIZES, "a size such as height or wall"), "of which sizes", {}, "any"),
    ),
)
VARY = Form(
    "varied field",
    "A field of the case and what it holds in turn: values, a range, or names of sections.",
    (
        Field("field", FIELD, "which field, by its path from the top of the case"),
        Field("values", ListOf(TextKind("a value as the case would write it"), 1, 1000), "what it holds", None, "none"),
        Field("from", AMOUNT_WORDS, "the low end of a range", None, "none"),
        Field("to", AMOUNT_WORDS, "its high end", None, "none"),
        Field("steps", Whole(2, 1_000_000), "how many values from end to end", None, "5"),
        Field("library", LIBRARY_SECTIONS, "sections of the library, by what they are", None, "none"),
    ),
)
AIMS = Form(
    "study targets",
    "What each variant must meet. Left out altogether: what the case asks.",
    (
        Field(
            "safety factor",
            RATIO,
            "in place of the case's own, in every load case; what a rule asks by itself stays",
            None,
            "what the case asks",
        ),
        Field("by check", Named(RATIO, "the name of a check"), "for a check of its own", {}, "none"),
        Field("deflection", POSITIVE_LENGTH, "the largest of any member in any load case", None, "not asked"),
        Field(
            "torsional stiffness",
            QuantityKind("turning stiffness", AllowedSign.POSITIVE),
            "the least, of the bare frame between the axles",
            None,
            "not asked",
        ),
        Field("lowest frequency", Number(AllowedSign.POSITIVE), "in Hz, of the frame with its masses", None, "not asked"),
        Field("clearances", YesNo(), "whether the case's gaps have to be left", True, "yes"),
    ),
)
TOLERANCE = Form(
    "tolerance",
    "How a field scatters about what the case (or the winner of the study) holds in it.",
    (
        Field("field", FIELD, "which field, by its path"),
        Field("spread", choice_of(Spread), "how it scatters", Spread.NORMAL, "normal"),
        Field("deviation", AMOUNT_WORDS, "standard deviation (half the width where uniform): a share in %, or an amount"),
    ),
)
SCATTER = Form(
    "scatter",
    "Draws of all tolerances at once: how often does the winner miss its targets?",
    (
        Field("tolerances", ListOf(TOLERANCE, 1, 50), "what scatters"),
        Field("draws", Whole(10, 100_000), "how many", 200, "200"),
        Field("seed", Whole(0, 1_000_000_000), "the same seed gives the same draws", 1, "1"),
        Field(
            "chance by",
            choice_of(ChanceBy),
            "plain draws, or where misses are rare draws about the likeliest miss",
            ChanceBy.DRAWS,
            "plain draws",
        ),
    ),
)
STUDY = Form(
    "study",
    "A study: a case, what is varied in it, and what each variant must meet; the lightest that does wins.",
    (
        WRITTEN_IN,
        Field("title", TextKind("a title", 120), "what this is, in a few words"),
        Field("about", TextKind("a text", 4000), "more about it", "", "nothing"),
        Field("case", TextKind("the name of a case file", 200), "the case file, from this file's folder, and within it"),
        Field("vary", ListOf(VARY, 1, 20), "what is varied"),
        Field("sampling", choice_of(Sampling), "which combinations are run", Sampling.EVERY, "full factorial"),
        Field("samples", Whole(1, 1_000_000), "how many, of a latin hypercube", 50, "50"),
        Field("seed", Whole(0, 1_000_000_000), "the same seed gives the same hypercube", 1, "1"),
        Field("engine", choice_of(Engine), "how variants are run", Engine.WHOLE, "every check"),
        Field("targets", AIMS, "what is asked of each", None, "what the case asks"),
        Field("show", Whole(1, 100), "how many winners and near misses are shown", 5, "5"),
        Field("scatter", SCATTER, "tolerances to draw for the winner", None, "none"),
    ),
)
