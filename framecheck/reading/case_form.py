"""The form of a whole case file."""

from __future__ import annotations

from framecheck.reading.blocks.frame import FRAME
from framecheck.reading.blocks.loads import TARGETS
from framecheck.reading.blocks.materials import MATERIALS
from framecheck.reading.blocks.readings import READINGS
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.blocks.strength import ACCEPTED, BUCKLING_LENGTH, NOTCHES, RARE
from framecheck.reading.form import Field, Form, Late, ListOf, Named
from framecheck.reading.kinds import Words
from framecheck.reading.language import WRITTEN_IN
from framecheck.reading.library import Library
from framecheck.reading.load_items import LoadItems

SECTIONS = Named(SECTION, "the name of a section")
ONLY_WRITTEN = "none: only load cases that you write yourself"

WHAT_IT_IS = (
    WRITTEN_IN,
    Field("title", Words("a title", 120), "what this is, in a few words"),
    Field("about", Words("a text", 4000), "more about it", "", "nothing"),
    Field("origin", Words("a text", 200), "where x, y and z are counted from", "the user's origin", "unsaid"),
    Field("materials", MATERIALS, "metals of your own, beside those of shared/materials.yaml", (), "none"),
    Field("sections", SECTIONS, "sections of your own, beside those of the library", {}, "none"),
    Field("frame", FRAME, "the structure"),
    Field("vehicle", Late("vehicle", "VEHICLE"), "what it carries and stands on", None, ONLY_WRITTEN),
    Field("running gear", Late("running_gear", "RUNNING_GEAR"), "the same of a trailer or of three axles and more", None, "none"),
)
WHAT_IS_ASKED = (
    Field("targets", TARGETS, "least safety factors", None, "1.5 on yield"),
    Field("joints", Late("joints", "JOINTS"), "bolts, welds and brackets to check", (), "none"),
    Field("plates", Late("plates", "SKID_PLATES"), "skid plates to check", (), "none"),
    Field("fatigue", Late("life", "FATIGUE"), "the fatigue check", None, "not asked for"),
    Field("buckling lengths", ListOf(BUCKLING_LENGTH, 1, 200), "where they are known", (), "bracketed"),
    Field("notches", NOTCHES, "what is asked of notches", None, "zones below a third of yield"),
    Field("readings", READINGS, "places whose forces, bimoment and stress are wanted", (), "none"),
    Field("measured", ListOf(Words("the name of a file of readings"), 1, 10, lone=True, alike=True),
          "readings of tests of this frame, files beside the case: it is fitted to them", (), "none"),
    Field("as measured", Late("as_measured", "AS_MEASURED"), "what a test of the frame found against the drawing", None, "as drawn"),
    Field("accepted", ListOf(ACCEPTED, 1, 200), "what is left open and accepted, with the reason", (), "nothing"),
    Field("rare load cases", RARE, "in which a permanent set may be accepted", (), "those with a target of their own"),
)


def case_form(library: Library) -> Form:
    """Return the form of a whole case file; its load cases follow the library's table."""
    cases = LoadItems(library.load_kinds())
    happens = Field("load cases", cases, "what happens", None, "all standard ones, where there is a vehicle")
    about = "A case: one frame, what it carries, what happens to it, what is asked of it."
    return Form("case", about, (*WHAT_IT_IS, happens, *WHAT_IS_ASKED))
