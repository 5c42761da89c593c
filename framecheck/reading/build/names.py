"""Every name that a case defines, and the look-up of every name that it refers to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from framecheck.reading.build.sections import Shelf
from framecheck.reading.desk import Desk, Reference, did_you_mean, listed
from framecheck.reading.form import Record
from framecheck.reading.library import Library, named_rows
from framecheck.reading.load_runs import default_item, run_names

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


def known_names(case: Record, shelf: Shelf) -> Mapping[str, Callable[[], Iterable[str]]]:
    """Return, for each thing that can be named, how to list its names."""
    library = shelf.library
    return {
        "point": lambda: point_names(case["frame"]),
        "left point": lambda: both_ways(point_names(case["frame"])),
        "member": lambda: member_names(case["frame"]),
        "material": lambda: (*shelf.own_materials, *shelf.refused, *library.materials()),
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


def check_names(desk: Desk, case: Record, shelf: Shelf) -> None:
    """Note every reference to something that isn't there."""
    ways, known = known_names(case, shelf), dict[str, frozenset[str]]()
    for reference in desk.references:
        if reference.of == "section":
            if not shelf.knows_section(reference.name):
                offered = (*shelf.own_sections, *shelf.library.section_names())
                _refuse(desk, reference, offered, "'framecheck section' lists the sections there are")
            continue
        if reference.of not in known:
            known[reference.of] = frozenset(ways[reference.of]())
        if reference.name not in known[reference.of]:
            names = sorted(known[reference.of])
            _refuse(desk, reference, names, f"there are: {listed(names, 20)}")


def _refuse(desk: Desk, reference: Reference, offered: Iterable[str], remedy: str) -> None:
    every, what = tuple(offered), WORDS.get(reference.of, reference.of)
    otherwise = remedy if every else f"define a {what} first"
    fault = f"there is no {what} '{reference.name}'"
    desk.refuse(reference.line, reference.subject, fault, did_you_mean(reference.name, every, otherwise))
