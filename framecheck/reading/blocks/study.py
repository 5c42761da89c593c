"""The form of a study file."""

from __future__ import annotations

from framecheck.model.study import ChanceBy, Engine, Sampling, Spread
from framecheck.reading.blocks.common import LENGTH_OR_ZERO, POSITIVE_LENGTH, RATIO
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.form import Field, Form, ListOf, Named
from framecheck.reading.kinds import Amount, Choice, Number, Sign, Whole, Words, YesNo, choice_of
from framecheck.reading.language import WRITTEN_IN

FIELD = Words("the path of a field of the case, such as sections.front rail.wall", 200)
AMOUNT = Words("an amount with its unit, or a plain number", 60)

SIZES = Form(
    "size limits",
    "From which to which size a section of the library is taken, both included.",
    (
        Field("from", LENGTH_OR_ZERO, "the least", 0.0, "no least"),
        Field("to", POSITIVE_LENGTH, "the most", float("inf"), "no most"),
    ),
    "{from: 2 in, to: 3 in}",
)
LIBRARY_SECTIONS = Form(
    "library sections",
    "The names of all sections of the library that fit, in the order of its files.",
    (
        Field("shape", Choice({shape: shape for shape in SECTION.forms}), "of which shape"),
        Field("material", Words("the name of a material"), "of which metal", None, "any"),
        Field("sizes", Named(SIZES, "a size such as height or wall"), "of which sizes", {}, "any"),
    ),
    "{shape: rectangular tube, sizes: {height: {from: 2 in, to: 3 in}}}",
)
VARY = Form(
    "varied field",
    "A field of the case and what it holds in turn: values, a range, or names of sections.",
    (
        Field("field", FIELD, "which field, by its path from the top of the case"),
        Field("values", ListOf(Words("a value as the case would write it"), 1, 1000), "what it holds", None, "none"),
        Field("from", AMOUNT, "the low end of a range", None, "none"),
        Field("to", AMOUNT, "its high end", None, "none"),
        Field("steps", Whole(2, 1_000_000), "how many values from end to end", None, "5"),
        Field("library", LIBRARY_SECTIONS, "sections of the library, by what they are", None, "none"),
    ),
    "{field: sections.front rail.wall, from: 3 mm, to: 6 mm, steps: 7}",
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
            Amount("turning stiffness", Sign.POSITIVE),
            "the least, of the bare frame between the axles",
            None,
            "not asked",
        ),
        Field("lowest frequency", Number(Sign.POSITIVE), "in Hz, of the frame with its masses", None, "not asked"),
        Field("clearances", YesNo(), "whether the case's gaps have to be left", True, "yes"),
    ),
)
TOLERANCE = Form(
    "tolerance",
    "How a field scatters about what the case (or the winner of the study) holds in it.",
    (
        Field("field", FIELD, "which field, by its path"),
        Field("spread", choice_of(Spread), "how it scatters", Spread.NORMAL, "normal"),
        Field("deviation", AMOUNT, "standard deviation (half the width where uniform): a share in %, or an amount"),
    ),
    "{field: sections.front rail.wall, spread: uniform, deviation: 10 %}",
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
        Field("title", Words("a title", 120), "what this is, in a few words"),
        Field("about", Words("a text", 4000), "more about it", "", "nothing"),
        Field("case", Words("the name of a case file", 200), "the case file, from this file's folder, and within it"),
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
