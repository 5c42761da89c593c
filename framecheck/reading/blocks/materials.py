"""Materials and gauges: rows of shared/materials.yaml and shared/gauges.yaml, and of a case's own materials."""

from __future__ import annotations

from framecheck.model.materials import BucklingClass
from framecheck.reading.blocks.common import NAME, SEEN, SOURCE, THICKNESS
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import Amount, Choice, Number, Sign, Whole, Words, choice_of

METAL = Choice({"steel": "steel", "aluminium": "aluminium"})
STRESS = Amount("stress", Sign.POSITIVE)

MATERIAL = Form(
    "material",
    "A metal with its least strengths.",
    (
        Field("name", NAME, "as sections call it"),
        Field(
            "kind",
            METAL,
            "what welding and fatigue rules go by",
            "steel",
            "steel",
        ),
        Field("youngs modulus", STRESS, "E"),
        Field("shear modulus", STRESS, "G", None, "from E and Poisson's ratio"),
        Field("poissons ratio", Number(Sign.POSITIVE, 0.5), "used where no shear modulus is given", 0.3, "0.3"),
        Field("density", Amount("density", Sign.POSITIVE), "mass per volume"),
        Field("yield strength", STRESS, "least yield strength"),
        Field("ultimate strength", STRESS, "least tensile strength"),
        Field("elongation", Number(Sign.POSITIVE, 1.0), "at break, in 2 in", None, "not known"),
        Field("welded yield strength", STRESS, "left beside a weld", None, "welding does not lower it"),
        Field("welded ultimate strength", STRESS, "left beside a weld", None, "welding does not lower it"),
        Field("thermal expansion", Amount("expansion", Sign.POSITIVE), "per degree", 11.7e-6, "11.7e-6 1/K"),
        Field(
            "buckling class",
            choice_of(BucklingClass),
            "of aluminium: A heat-treated (T5, T6), B the rest",
            BucklingClass.B,
            "B, which bears less",
        ),
        Field("design share", Number(Sign.POSITIVE, 1.0), "of the wall that its tubes are sold by, what counts", 1.0, "1"),
        Field("source", SOURCE, "where the numbers come from", "case file", "case file"),
        SEEN,
    ),
)
MATERIALS = ListOf(MATERIAL, 0, 500)

GAUGE = Form(
    "gauge",
    "One number on one gauge scale.",
    (
        Field("scale", Words("a gauge scale"), "sheet, tube ..."),
        Field("gauge", Whole(0, 50), "the number"),
        Field("thickness", THICKNESS, "of the metal that carries load"),
        Field("coated", THICKNESS, "with its zinc, as a caliper finds it", None, "it has no coat"),
        Field("source", SOURCE, "where it comes from"),
    ),
)
GAUGES = ListOf(GAUGE, 0, 500)
