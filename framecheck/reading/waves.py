"""All faults in one wave: what can still be built though something else is refused, so that its faults are told too."""

from __future__ import annotations

from dataclasses import replace

from framecheck.errors import InputError, line_number
from framecheck.model.case import Case
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.frame import draft_of
from framecheck.reading.build.names import member_names, point_names
from framecheck.reading.build.sections import Shelf
from framecheck.reading.case_form import case_form
from framecheck.reading.desk import Desk, Missing
from framecheck.reading.form import REQUIRED, Record
from framecheck.reading.load_items import LoadItem


def refuse_faults(desk: Desk) -> None:
    """Raise every fault found so far, in file order."""
    if desk.faults:
        raise InputError(sorted(dict.fromkeys(desk.faults), key=lambda fault: line_number(fault.place)))


def draft_in_wave(desk: Desk, shelf: Shelf, record: Record) -> Draft:
    """Return the frame's points and members, though there are faults elsewhere; every fault so far where it can't be made."""
    if isinstance(record["frame"], Missing) or is_refused("frame", desk, shelf):
        refuse_faults(desk)
    draft = draft_of(desk, shelf, record["frame"])
    if not is_whole(draft, record["frame"]):
        refuse_faults(desk)
    return draft


def is_whole(draft: Draft, record: Record) -> bool:
    """Return whether every point and member that the frame names was made."""
    made = draft.points.keys() | draft.aliases.keys()
    return made >= set(point_names(record)) and draft.members.keys() | {"rails"} >= set(member_names(record))


def is_refused(subject: str, desk: Desk, shelf: Shelf) -> bool:
    """Return whether a block can't be built: a fault is noted in it, or it names a section or a metal that is refused."""
    if any(each.subject == subject or each.subject.startswith(f"{subject} > ") for each in desk.faults):
        return True
    named = [each for each in desk.references if each.subject.startswith(f"{subject} > ")]
    if any(each.of == "section" and not (shelf.knows_section(each.name) and shelf.can_build(each.name)) for each in named):
        return True
    return any(each.of == "material" and each.name in shelf.refused for each in named)


LEANS_ON = {"load cases": ("vehicle", "running gear"), "targets": ("vehicle", "running gear", "load cases")}
"""Blocks that say nothing certain where another one is left out."""


def sound_blocks(desk: Desk, shelf: Shelf, record: Record) -> Record:
    """Return the case's record without what can't be built, so that the faults of the rest are told with its own."""
    fields = {each.key: each.default for each in case_form(shelf.library).fields if each.default is not REQUIRED}
    refused = {key for key in fields if isinstance(record[key], Missing) or is_refused(key, desk, shelf)}
    lost = {key for key, others in LEANS_ON.items() if refused.intersection(others)}
    left = {key: sound_entries(record[key], desk, shelf) for key in refused - lost}
    values = {key: left.get(key) or fields[key] for key in refused | lost}
    return replace(record, values={**record.values, **values})


def sound_entries(value: object, desk: Desk, shelf: Shelf) -> tuple[Record | LoadItem, ...]:
    """Return the entries of a list that can be built, none of what is no list; sums of load cases lean on the others."""
    entries = [each for each in value if isinstance(each, Record | LoadItem)] if isinstance(value, tuple) else []
    alone = (each for each in entries if not (isinstance(each, LoadItem) and "sum of" in each.record.values))
    return tuple(each for each in alone if not is_refused(subject_of(each), desk, shelf))


def subject_of(entry: Record | LoadItem) -> str:
    """Return what faults of an entry begin with."""
    return entry.record.subject if isinstance(entry, LoadItem) else entry.subject


def add_faults_of_a_run(desk: Desk, case: Case) -> None:
    """Note what would show when a case is run, of lines that have no fault yet."""
    from framecheck.every_fault import every_fault  # loads what solves, for a case that won't be solved

    told = {fault.place for fault in desk.faults}
    found = every_fault(case, InputError(()), None, None).faults
    desk.faults += [fault for fault in found if fault.place not in told]
