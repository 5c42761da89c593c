"""The fatigue check: its duty, and the details that may crack."""

from __future__ import annotations

from framecheck.model.duty import MeanStress
from framecheck.reading.blocks.common import LENGTH_OR_ZERO, NAME, RATIO, SHARE, SOURCE
from framecheck.reading.blocks.frame import CUT_SIDES
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import AllowedSign, NameOf, Number, QuantityKind, choice_of

COUNT = Number(AllowedSign.POSITIVE)
LOAD_CASE = NameOf("load case")

SWING = (
    Field("name", NAME, "of the event"),
    Field("to", LOAD_CASE, "the load case at one end of the swing"),
    Field("from", LOAD_CASE, "the load case at its other end", None, "the frame with nothing on it"),
)
EVENT = Form(
    "duty event",
    "One kind of swing between two load cases, and how often.",
    (
        *SWING,
        Field("cycles per km", COUNT, "how often", None, "by the year"),
        Field("cycles per year", COUNT, "how often", None, "by the km"),
        Field(
            "share", SHARE, "part of the way from one load case to the other that the swing goes", 1.0, "1, all of it"
        ),
        Field("source", SOURCE, "where the number comes from", "case file", "case file"),
    ),
)
HISTORY = Form(
    "duty history",
    "A recorded swing; values say how far the frame is from the first load case (0) to the second (1), sample by sample.",
    (
        *SWING,
        Field("values", ListOf(Number(), 2, 5000), "the record"),
        Field("repeats per km", COUNT, "how often the whole record passes", None, "by the year"),
        Field("repeats per year", COUNT, "how often the whole record passes", None, "by the km"),
        Field("source", SOURCE, "where the record comes from", "case file", "case file"),
    ),
)
PARTIAL_FACTORS = Form(
    "partial factors",
    "Partial factors of the fatigue check.",
    (
        Field("load", RATIO, "on stress ranges", 1.0, "1.0"),
        Field("strength", RATIO, "on fatigue strength", 1.35, "1.35"),
    ),
)
DUTY = Form(
    "duty",
    "The life that is asked for, and what happens in it.",
    (
        Field("life", QuantityKind("distance", AllowedSign.POSITIVE), "how far it has to go", None, "by years"),
        Field("life in years", COUNT, "how long it has to last", None, "by distance"),
        Field("distance per year", QuantityKind("distance", AllowedSign.POSITIVE), "joins the two", None, "not known"),
        Field("events", ListOf(EVENT, 1, 200), "what happens", (), "none"),
        Field("histories", ListOf(HISTORY, 1, 50), "recorded swings", (), "none"),
        Field("partial factors", PARTIAL_FACTORS, "of the standard", None, "load 1.0, strength 1.35"),
        Field("damage limit", Number(AllowedSign.POSITIVE, 1.0), "what Miner's sum may come to", 1.0, "1"),
    ),
)
BASE_METAL = Form(
    "base metal",
    "Unwelded metal, judged by its tensile strength and its surface.",
    (
        Field("finish", NameOf("finish"), "of its surface"),
        Field("mean stress", choice_of(MeanStress), "how it is corrected", MeanStress.GOODMAN, "Goodman"),
        Field("reliability", Number(AllowedSign.POSITIVE, 1.0), "factor on the strength", 0.814, "0.814, for 99 %"),
    ),
)
DETAIL = Form(
    "detail",
    "A place on a member that may crack: a detail class, or unwelded metal.",
    (
        Field("name", NAME, "of the place"),
        Field("member", NameOf("member"), "which member; 'rails' for both rails alike"),
        Field(
            "class", NameOf("fatigue class"), "a row of shared/fatigue_classes.yaml", None, "unwelded: see `base metal`"
        ),
        Field(
            "other class",
            NameOf("fatigue class"),
            "for the stress that `class` isn't read with: shear beside normal stress, or the other way round",
            None,
            "the row that `with` names in the table",
        ),
        Field("base metal", BASE_METAL, "in place of a class", None, "see `class`"),
        Field("from", LENGTH_OR_ZERO, "where it begins, along the member", 0.0, "the member's first point"),
        Field("to", LENGTH_OR_ZERO, "where it ends", float("inf"), "the member's last point"),
        Field(
            "side",
            CUT_SIDES,
            "which side, as seen looking along the member; inboard or outboard for rails",
            None,
            "anywhere round it",
        ),
        Field("cut", NAME, "the notch whose corner it is", None, "none"),
        Field("concentration", RATIO, "of stress by the shape, beyond what the class holds", 1.0, "1"),
    ),
)
WELD_DETAIL = Form(
    "weld detail",
    "The throat of a weld group.",
    (
        Field("name", NAME, "of the detail"),
        Field("weld", NameOf("joint"), "which weld group of the case"),
        Field("across", NameOf("fatigue class"), "class for the stress across the weld"),
        Field("along", NameOf("fatigue class"), "class for the stress along it", None, "the row that `with` names in the table"),
    ),
)
FATIGUE = Form(
    "fatigue",
    "The fatigue check.",
    (
        Field("duty", DUTY, "what life is asked for"),
        Field("details", ListOf(DETAIL, 1, 200), "places that may crack", (), "none"),
        Field("welds", ListOf(WELD_DETAIL, 1, 100), "weld throats that may crack", (), "none"),
    ),
)
