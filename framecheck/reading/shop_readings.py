"""A file of readings, YAML or CSV: text to a record, every fault at once."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import replace
from io import StringIO

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.reading.diagnostics import Diagnostics, Missing, refuse_faults
from framecheck.reading.diagnostics import Record as Row
from framecheck.reading.form import Field, Form, ListOf, Named
from framecheck.reading.kinds import AllowedSign, Choice, QuantityKind, TextKind, Whole, YesNo, choice_of
from framecheck.reading.whole_case import WRITTEN_IN, refuse_language
from framecheck.reading.yamltext import Items, Text, YamlBlock, YamlEntry, parse
from framecheck.rig.record import OwnDial, OwnPair, ReadingsRecord
from framecheck.rig.setup import AskedTest, ForceBy, HeldFront, RigKind, Suspension
from framecheck.value_class import value_class

LENGTH, POSITIVE, FORCE = QuantityKind("length"), QuantityKind("length", AllowedSign.POSITIVE), QuantityKind("weight")
WAYS = Choice({"up": (0.0, 0.0, 1.0), "down": (0.0, 0.0, -1.0), "forward": (1.0, 0.0, 0.0), "rearward": (-1.0, 0.0, 0.0),
               "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0)})  # fmt: skip
DIAL = Form(
    "own dial",
    "A dial at a place of its own: at a frame point, on a member, or on a measuring bar across both rails.",
    (
        Field("name", TextKind("a name"), "as readings call it"),
        Field("point", TextKind("the name of a frame point"), "the frame point that it stands at", "", "none"),
        Field("member", TextKind("the name of a member"), "the member that it stands at", "", "none"),
        Field("at", LENGTH, "station along that member", 0.0, "its start"),
        Field("x", LENGTH, "of the bar that it stands at the end of", None, "none"),
        Field("y", LENGTH, "how far to the left of the middle, on that bar", None, "none"),
        Field("direction", WAYS, "the way in which the frame moves where it reads +", (0.0, 0.0, 1.0), "up"),
        Field("at stand", YesNo(), "whether it reads what a stand gives", False, "no"),
    ),
)
PAIR = Form(
    "pair of dials",
    "Two own dials whose difference over their distance is a turn.",
    (
        Field("name", TextKind("a name"), "of the pair"),
        Field("left", TextKind("the name of a dial"), "the left one"),
        Field("right", TextKind("the name of a dial"), "the right one"),
    ),
)
READING = Form(
    "reading",
    "What dials read under one load; in the order of the test.",
    (
        Field("step", Whole(0, 1000), "the step's number, to tell sittings of one load apart", None, "none"),
        Field("load", FORCE, "as the sheet counts it, with its unit; − the other way", None, "none"),
        Field("dial", TextKind("a dial's letter or name"), "the dial", None, "none"),
        Field("reading", LENGTH, "what it reads", None, "none"),
        Field("dials", Named(LENGTH, "a dial's letter or name"), "several dials with what they read", {}, "none"),
    ),
)
PAIR_OF_POINTS = ListOf(TextKind("the name of a frame point"), 2, 2, alike=True)
FILE = Form(
    "readings",
    "Readings of a test. What is left out of the rig is as on the command line.",
    (
        WRITTEN_IN,
        Field("rig", choice_of(RigKind), "what was done", None, "as asked"),
        Field("held", choice_of(HeldFront), "how the front stood", None, "as asked"),
        Field("suspension", choice_of(Suspension), "whether springs worked", None, "as asked"),
        Field("force by", choice_of(ForceBy), "what told the force", None, "as asked"),
        Field("at place", TextKind("a name"), "the corner, point or crossmember loaded", None, "as asked"),
        Field("pulled", WAYS, "the way a bracket was pulled", None, "as asked"),
        Field("front", PAIR_OF_POINTS, "frame points at the front, left and right", None, "as asked"),
        Field("rear", PAIR_OF_POINTS, "frame points at the rear", None, "as asked"),
        Field("arm", POSITIVE, "from the pivot to the weight", None, "as asked"),
        Field("planes", Whole(0, 12), "pairs of dials between the axles", None, "as asked"),
        Field("bodies", YesNo(), "whether what stands on mounts was on", None, "as asked"),
        Field("resolution", POSITIVE, "of the dials", None, "as asked"),
        Field("dials", ListOf(DIAL, 1, 60), "dials at places of their own, in place of the sheet's", (), "the sheet's"),
        Field("pairs", ListOf(PAIR, 1, 30), "which of them make pairs", (), "none"),
        Field("readings", ListOf(READING, 1, 5000, alike=True), "what was read"),
    ),
)
COLUMNS = ("step", "load", "load unit", "dial", "reading", "unit")
KEYS = {"rig": "kind", "held": "held", "suspension": "suspension", "force by": "force_by", "at place": "at", "pulled": "direction",
        "front": "front", "rear": "rear", "arm": "arm", "planes": "planes", "bodies": "bodies",
        "resolution": "resolution"}  # fmt: skip


def read_record(text: str, name: str, asked: AskedTest) -> ReadingsRecord:
    """Return the readings in a text; InputError with every fault. asked: the rig where the file says nothing of it."""
    tree = tree_of_csv(text, name) if name.lower().endswith(".csv") else parse(text, name)
    if "frame" in tree.entries:
        fault = "this is a case, not a file of readings"
        raise InputError([Fault(f"{name}:{tree.entries['frame'].line}", "", fault, f"run: framecheck test {name}")])
    refuse_language(tree, name)
    diagnostics = Diagnostics(name)
    row = FILE.read(tree, "", diagnostics)
    refuse_faults(diagnostics)
    assert not isinstance(row, Missing)
    sittings = sittings_of(diagnostics, row)
    refuse_faults(diagnostics)
    given = {KEYS[key]: row[key] for key in KEYS if row[key] is not None}
    dials = tuple(own_dial(diagnostics, each) for each in row["dials"])
    pairs = tuple(OwnPair(each["name"], f"{name}:{each.line}", each["left"], each["right"]) for each in row["pairs"])
    refuse_faults(diagnostics)
    return record_of(name, replace(asked, **given), sittings, (dials, pairs))


def tree_of_csv(text: str, name: str) -> YamlBlock:
    """Return a table with a head as the tree of a file of readings: each row keeps its line."""
    try:
        rows = list(numbered_rows(text))
    except csv.Error as error:
        fault = f"is no table of comma-separated values ({error})"
        raise InputError([Fault(name, "readings", fault, "save it as CSV text")]) from None
    head = [each.strip().lower() for each in (rows[0][0] if rows else [])]
    unknown = [each for each in head if each not in COLUMNS]
    missing = [each for each in ("load", "dial", "reading") if each not in head]
    if unknown or missing:
        said = f"the column '{unknown[0]}' is not known" if unknown else f"there is no column '{missing[0]}'"
        raise InputError([Fault(f"{name}:1", "readings", said, f"write a first line with columns of: {', '.join(COLUMNS)}")])
    filled = ((cells, line) for cells, line in rows[1:] if any(each.strip() for each in cells))
    items = tuple(csv_row(dict(zip(head, cells, strict=False)), line) for cells, line in filled)
    return YamlBlock(1, {"readings": YamlEntry(1, Items(1, items))})


def numbered_rows(text: str, delimiter: str = ",") -> Iterator[tuple[list[str], int]]:
    """Yield the rows of a table with their lines."""
    rows = csv.reader(StringIO(text), delimiter=delimiter)
    for cells in rows:
        yield cells, rows.line_num


def csv_row(cells: dict[str, str], line: int) -> YamlBlock:
    """Return a row of a table as a block; a number's unit from the column beside it."""
    bare = {key: cells.get(key, "").strip() for key in COLUMNS}
    joined = {
        "step": bare["step"],
        "load": f"{bare['load']} {bare['load unit']}".strip(),
        "dial": bare["dial"],
        "reading": f"{bare['reading']} {bare['unit']}".strip(),
    }
    entries: dict[str, YamlEntry] = {
        key: YamlEntry(line, Text(line, value, quoted=True)) for key, value in joined.items() if value and bare.get(key, value)
    }
    return YamlBlock(line, entries)


@value_class
class Sitting:
    """What was read under one load, before it changed. line: the first of it."""

    line: int
    step: int | None
    load: float
    dials: dict[str, float]


def sittings_of(diagnostics: Diagnostics, row: Row) -> list[Sitting]:
    """Return readings gathered by load, in the order of the file; a dial that is read again begins a new sitting."""
    found: list[Sitting] = []
    for each in row["readings"]:
        values = dict(values_of(diagnostics, each))
        if each["load"] is None:
            fault = "a reading without its load"
            diagnostics.refuse(
                each.line, each.subject, fault, "write load: with its unit; the load it was read under can't be guessed"
            )
            continue
        last = found[-1] if found else None
        same = last is not None and (last.load, last.step) == (each["load"], each["step"])
        if same and last is not None and not values.keys() & last.dials.keys():
            last.dials.update(values)
        else:
            found.append(Sitting(each.line, each["step"], each["load"], values))
    return found


def values_of(diagnostics: Diagnostics, each: Row) -> Iterator[tuple[str, float]]:
    """Yield what each dial read in one entry."""
    yield from each["dials"].items()
    if (each["dial"] is None) != (each["reading"] is None):
        diagnostics.refuse(each.line, each.subject, "a dial without a reading, or a reading without its dial", "write both")
    elif each["dial"] is not None:
        yield each["dial"], each["reading"]
    elif not each["dials"]:
        diagnostics.refuse(each.line, each.subject, "nothing is read here", "write dial and reading, or dials: {A: ..., B: ...}")


def own_dial(diagnostics: Diagnostics, each: Row) -> OwnDial:
    """Return a dial at a place of its own; it says its place in one way."""
    ways = [bool(each["point"]), bool(each["member"]), each["x"] is not None or each["y"] is not None]
    if sum(ways) != 1 or (each["x"] is None) != (each["y"] is None):
        diagnostics.refuse(
            each.line,
            each.subject,
            "its place is not said, or in two ways",
            "write point, or member and at, or x and y",
        )
    across = None if each["x"] is None or each["y"] is None else (each["x"], each["y"])
    place = f"{diagnostics.file}:{each.line}"
    return OwnDial(each["name"], place, each["point"], each["member"], each["at"], across, each["direction"], each["at stand"])


def record_of(
    name: str, asked: AskedTest, sittings: list[Sitting], own: tuple[tuple[OwnDial, ...], tuple[OwnPair, ...]]
) -> ReadingsRecord:
    """Return sound readings as arrays."""
    names = tuple(dict.fromkeys(dial for each in sittings for dial in each.dials))
    values = np.array([[each.dials.get(dial, np.nan) for dial in names] for each in sittings]).reshape(len(sittings), len(names))
    loads = np.array([each.load for each in sittings])
    return ReadingsRecord(name, asked, names, loads, values, tuple(each.line for each in sittings), *own)


