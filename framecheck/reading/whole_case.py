"""A case file as a whole: its form, its language version, every name looked up, and all that can still be built beside what is
refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from framecheck.errors import Fault, InputError
from framecheck.every_fault import every_fault
from framecheck.model.case import Case
from framecheck.reading.blocks.common import MATERIALS
from framecheck.reading.blocks.frame import FRAME
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.blocks.strength import ACCEPTED, BUCKLING_LENGTH, NOTCHES, RARE, READINGS
from framecheck.reading.build.frame import draft_of
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.loads import default_item, run_names
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.diagnostics import Diagnostics, Missing, Reference, did_you_mean, listed, refuse_faults
from framecheck.reading.form import REQUIRED, Field, Form, LazyForm, ListOf, Named, Record
from framecheck.reading.kinds import TextKind, Whole
from framecheck.reading.library import Library, named_rows
from framecheck.reading.load_items import TARGETS, LoadItem, LoadItems
from framecheck.reading.yamltext import Text, YamlBlock
from framecheck.versions import LANGUAGE

CHANGED: dict[int, str] = {}
"""What to change in a file of an earlier version, by that version; one that is not named here is read as it is."""
KEY = "framecheck"
WRITTEN_IN = Field(KEY, Whole(1, LANGUAGE), "the version of this language that the file is written in", LANGUAGE, str(LANGUAGE))


def refuse_language(tree: YamlBlock, name: str) -> None:
    """Refuse a file of a later version before anything else in it is read, and an earlier one whose words have changed."""
    entry = tree.entries.get(KEY)
    said = entry.value.text.strip() if entry is not None and isinstance(entry.value, Text) else ""
    if entry is None or not said.isascii() or not said.isdigit():
        return  # the form says what is wrong with it
    version, place = int(said[:12]), f"{name}:{entry.line}"
    if version > LANGUAGE:
        fault = f"the file is written in version {version} of the language; this framecheck reads up to {LANGUAGE}"
        raise InputError([Fault(place, KEY, fault, "install a newer one: pip install --upgrade framecheck")])
    if version in CHANGED:
        fault = f"the file is written in version {version} of the language, which has changed since"
        raise InputError([Fault(place, KEY, fault, f"{CHANGED[version]}, and write {KEY}: {LANGUAGE}")])


SECTIONS = Named(SECTION, "the name of a section")
ONLY_WRITTEN = "none: only load cases that you write yourself"

WHAT_IT_IS = (
    WRITTEN_IN,
    Field("title", TextKind("a title", 120), "what this is, in a few words"),
    Field("about", TextKind("a text", 4000), "more about it", "", "nothing"),
    Field("origin", TextKind("a text", 200), "where x, y and z are counted from", "the user's origin", "unsaid"),
    Field("materials", MATERIALS, "metals of your own, beside those of shared/materials.yaml", (), "none"),
    Field("sections", SECTIONS, "sections of your own, beside those of the library", {}, "none"),
    Field("frame", FRAME, "the structure"),
    Field("vehicle", LazyForm("vehicle", "VEHICLE"), "what it carries and stands on", None, ONLY_WRITTEN),
    Field("running gear", LazyForm("vehicle", "RUNNING_GEAR"), "the same of a trailer or of three axles and more", None, "none"),
)
WHAT_IS_ASKED = (
    Field("targets", TARGETS, "least safety factors", None, "1.5 on yield"),
    Field("joints", LazyForm("joints", "JOINTS"), "bolts, welds and brackets to check", (), "none"),
    Field("plates", LazyForm("plates", "SKID_PLATES"), "skid plates to check", (), "none"),
    Field("fatigue", LazyForm("life", "FATIGUE"), "the fatigue check", None, "not asked for"),
    Field("buckling lengths", ListOf(BUCKLING_LENGTH, 1, 200), "where they are known", (), "bracketed"),
    Field("notches", NOTCHES, "what is asked of notches", None, "zones below a third of yield"),
    Field("readings", READINGS, "places whose forces, bimoment and stress are wanted", (), "none"),
    Field(
        "measured",
        ListOf(TextKind("the name of a file of readings"), 1, 10, lone=True, alike=True),
        "readings of tests of this frame, files beside the case: it is fitted to them",
        (),
        "none",
    ),
    Field(
        "as measured",
        LazyForm("as_measured", "AS_MEASURED"),
        "what a test of the frame found against the drawing",
        None,
        "as drawn",
    ),
    Field("accepted", ListOf(ACCEPTED, 1, 200), "what is left open and accepted, with the reason", (), "nothing"),
    Field("rare load cases", RARE, "in which a permanent set may be accepted", (), "those with a target of their own"),
)


def case_form(library: Library) -> Form:
    """Return the form of a whole case file; its load cases follow the library's table."""
    cases = LoadItems(library.load_kinds())
    happens = Field("load cases", cases, "what happens", None, "all standard ones, where there is a vehicle")
    about = "A case: one frame, what it carries, what happens to it, what is asked of it."
    return Form("case", about, (*WHAT_IT_IS, happens, *WHAT_IS_ASKED))


WORDS = {"point": "frame point", "left point": "frame point", "body": "mass on mounts"}
RAILS = ("left rail", "right rail", "rails")


def records(value: Any) -> Iterator[Record]:
    """Yield the records in a tuple, a mapping, or nothing."""
    if isinstance(value, dict):
        value = value.values()
    if isinstance(value, Iterable):
        yield from (each for each in value if isinstance(each, Record))


def names_in(value: Any) -> Iterator[str]:
    """Yield the names of records."""
    for record in records(value):
        if isinstance(record["name"], str):
            yield record["name"]


def point_names(frame: Any) -> Iterator[str]:
    """Yield the names of all points of a frame's record."""
    if not isinstance(frame, Record):
        return
    ladder = frame["ladder"]
    if isinstance(ladder, Record):
        rail = ladder["rail"]
        stations = names_in(rail["stations"]) if isinstance(rail, Record) else ()
        for name in (*stations, *names_in(ladder["crossmembers"])):
            yield f"left {name}"
            yield f"right {name}"
        for cross in records(ladder["crossmembers"]):
            yield from names_in(cross["points"])
    if isinstance(frame["points"], dict):
        yield from frame["points"]


def member_names(frame: Any) -> Iterator[str]:
    """Yield the names of all members of a frame's record."""
    if not isinstance(frame, Record):
        return
    if isinstance(frame["ladder"], Record):
        yield from RAILS
        yield from names_in(frame["ladder"]["crossmembers"])
    yield from names_in(frame["members"])


def body_names(vehicle: Any) -> Iterator[str]:
    """Yield the names of the masses on mounts of a vehicle's record."""
    if isinstance(vehicle, Record):
        yield from names_in(tuple(each for each in records(vehicle["masses"]) if each["mounts"]))


def load_case_names(case: Record, library: Library) -> Iterator[str]:
    """Yield the names of the load cases of a case's record, as asked for and as they are run."""
    items = case["load cases"]
    if items is None:
        items = tuple(default_item(kind) for kind in library.load_kinds().values())
    if isinstance(items, tuple):
        for name, runs in run_names(items).items():
            yield from dict.fromkeys((name, *runs))


def known_names(case: Record, catalogue: SectionCatalogue) -> Mapping[str, Callable[[], Iterable[str]]]:
    """Return, for each thing that can be named, how to list its names."""
    library = catalogue.library
    return {
        "point": lambda: point_names(case["frame"]),
        "left point": lambda: both_ways(point_names(case["frame"])),
        "member": lambda: member_names(case["frame"]),
        "material": lambda: (*catalogue.own_materials, *catalogue.refused, *library.materials()),
        "load case": lambda: load_case_names(case, library),
        "body": lambda: body_names(case["vehicle"]),
        "joint": lambda: names_in(case["joints"]),
        "fatigue class": lambda: named_rows(*library.table("fatigue_classes"), "fatigue classes"),
        "finish": lambda: named_rows(*library.table("fatigue_classes"), "finishes"),
        "thread": lambda: named_rows(*library.table("bolts"), "threads"),
        "bolt grade": lambda: named_rows(*library.table("bolts"), "grades"),
        "torque factor": lambda: named_rows(*library.table("bolts"), "torque factors"),
        "surface": lambda: named_rows(*library.table("bolts"), "surfaces"),
        "electrode": lambda: named_rows(*library.table("welds"), "electrodes"),
    }


def both_ways(names: Iterable[str]) -> Iterator[str]:
    """Yield names, and again without the "left" they begin with."""
    for name in names:
        yield name
        if name.startswith("left "):
            yield name.removeprefix("left ")


def check_names(diagnostics: Diagnostics, case: Record, catalogue: SectionCatalogue) -> None:
    """Note every reference to something that isn't there."""
    ways, known = known_names(case, catalogue), dict[str, frozenset[str]]()
    for reference in diagnostics.references:
        if reference.of == "section":
            if not catalogue.knows_section(reference.name):
                offered = (*catalogue.own_sections, *catalogue.library.section_names())
                _refuse(diagnostics, reference, offered, "'framecheck section' lists the sections there are")
            continue
        if reference.of not in known:
            known[reference.of] = frozenset(ways[reference.of]())
        if reference.name not in known[reference.of]:
            names = sorted(known[reference.of])
            _refuse(diagnostics, reference, names, f"there are: {listed(names, 20)}")


def _refuse(diagnostics: Diagnostics, reference: Reference, offered: Iterable[str], remedy: str) -> None:
    every, what = tuple(offered), WORDS.get(reference.of, reference.of)
    otherwise = remedy if every else f"define a {what} first"
    fault = f"there is no {what} '{reference.name}'"
    diagnostics.refuse(reference.line, reference.subject, fault, did_you_mean(reference.name, every, otherwise))


def draft_in_wave(diagnostics: Diagnostics, catalogue: SectionCatalogue, record: Record) -> FrameBuilder:
    """Return the frame's points and members, though there are faults elsewhere; every fault so far where it can't be made."""
    if isinstance(record["frame"], Missing) or is_refused("frame", diagnostics, catalogue):
        refuse_faults(diagnostics)
    builder = draft_of(diagnostics, catalogue, record["frame"])
    if not is_whole(builder, record["frame"]):
        refuse_faults(diagnostics)
    return builder


def is_whole(builder: FrameBuilder, record: Record) -> bool:
    """Return whether every point and member that the frame names was made."""
    made = builder.points.keys() | builder.aliases.keys()
    return made >= set(point_names(record)) and builder.members.keys() | {"rails"} >= set(member_names(record))


def is_refused(subject: str, diagnostics: Diagnostics, catalogue: SectionCatalogue) -> bool:
    """Return whether a block can't be built: a fault is noted in it, or it names a section or a metal that is refused."""
    if any(each.subject == subject or each.subject.startswith(f"{subject} > ") for each in diagnostics.faults):
        return True
    named = [each for each in diagnostics.references if each.subject.startswith(f"{subject} > ")]
    if any(each.of == "section" and not (catalogue.knows_section(each.name) and catalogue.can_build(each.name)) for each in named):
        return True
    return any(each.of == "material" and each.name in catalogue.refused for each in named)


LEANS_ON = {"load cases": ("vehicle", "running gear"), "targets": ("vehicle", "running gear", "load cases")}
"""Blocks that say nothing certain where another one is left out."""


def sound_blocks(diagnostics: Diagnostics, catalogue: SectionCatalogue, record: Record) -> Record:
    """Return the case's record without what can't be built, so that the faults of the rest are told with its own."""
    fields = {each.key: each.default for each in case_form(catalogue.library).fields if each.default is not REQUIRED}
    refused = {key for key in fields if isinstance(record[key], Missing) or is_refused(key, diagnostics, catalogue)}
    lost = {key for key, others in LEANS_ON.items() if refused.intersection(others)}
    left = {key: sound_entries(record[key], diagnostics, catalogue) for key in refused - lost}
    values = {key: left.get(key) or fields[key] for key in refused | lost}
    return replace(record, values={**record.values, **values})


def sound_entries(value: object, diagnostics: Diagnostics, catalogue: SectionCatalogue) -> tuple[Record | LoadItem, ...]:
    """Return the entries of a list that can be built, none of what is no list; sums of load cases lean on the others."""
    entries = [each for each in value if isinstance(each, Record | LoadItem)] if isinstance(value, tuple) else []
    alone = (each for each in entries if not (isinstance(each, LoadItem) and "sum of" in each.record.values))
    return tuple(each for each in alone if not is_refused(subject_of(each), diagnostics, catalogue))


def subject_of(entry: Record | LoadItem) -> str:
    """Return what faults of an entry begin with."""
    return entry.record.subject if isinstance(entry, LoadItem) else entry.subject


def add_faults_of_a_run(diagnostics: Diagnostics, case: Case) -> None:
    """Note what would show when a case is run, of lines that have no fault yet, and no fault of a thing a second time."""
    told = {fault.place for fault in diagnostics.faults}
    same = {(fault.subject, fault.fault) for fault in diagnostics.faults}
    found = every_fault(case, InputError(()), None, None).faults
    diagnostics.faults += [each for each in found if each.place not in told and (each.subject, each.fault) not in same]
