"""A case file: text to a case, every fault at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from framecheck.errors import Fault, InputError, line_number
from framecheck.model.case import Case, Doubt, LoadCase, Sum, Targets
from framecheck.model.loads import CaseLoads
from framecheck.model.materials import Material
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.doubts import doubt_geometry, doubt_materials, doubt_sections
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.frame import frame_of
from framecheck.reading.build.loads import default_cases, sums_of, targets_of, vehicle_cases, written_case
from framecheck.reading.build.names import check_names, records
from framecheck.reading.build.readings import readings_of
from framecheck.reading.build.sections import Shelf
from framecheck.reading.build.strength import accepted_of, strength_of
from framecheck.reading.case_form import case_form
from framecheck.reading.desk import RENAME, Desk, Missing, Taken, listed, units_written
from framecheck.reading.form import Record
from framecheck.reading.language import refuse_language
from framecheck.reading.library import Library, material_of
from framecheck.reading.load_items import LoadItem
from framecheck.reading.load_runs import refuse_clashes, refuse_many_ways
from framecheck.reading.places import FilePlaces
from framecheck.reading.waves import add_faults_of_a_run, draft_in_wave, sound_blocks
from framecheck.reading.waves import refuse_faults as refuse_faults
from framecheck.reading.yamltext import Block, parse
from framecheck.vehicle.runnable import runnable_kinds

if TYPE_CHECKING:  # rooms that a case may not need are entered late
    from framecheck.model.duty import Fatigue
    from framecheck.model.frame import StiffBody
    from framecheck.model.joint_tables import JointTables
    from framecheck.model.plate import Plate
    from framecheck.model.running_gear import RunningGear
    from framecheck.model.vehicle import Vehicle
    from framecheck.model.weld_joints import Joint


def read_case(text: str, name: str, library: Library) -> Case:
    """Return the case in a text; InputError with every fault. name: the file's, for messages."""
    return case_from(parse(text, name), name, library)


def case_from(tree: Block, name: str, library: Library) -> Case:
    """Return the case that a file's tree describes; InputError with every fault."""
    if "vary" in tree.entries and "frame" not in tree.entries:
        fault = "this is a study, not a case"
        raise InputError([Fault(f"{name}:{tree.entries['vary'].line}", "", fault, f"run: framecheck size {name}")])
    refuse_language(tree, name)
    desk = Desk(name, library.gauges())
    record = case_form(library).read(tree, "", desk)
    assert not isinstance(record, Missing)
    shelf = shelf_of(desk, library, record)
    doubt_materials(desk, ((each, shelf.own_materials[each["name"]]) for each in records(record["materials"]) if each.sound))
    check_names(desk, record, shelf)
    build_own_sections(desk, shelf)
    draft = draft_in_wave(desk, shelf, record)
    places = FilePlaces(name, tree)
    case = case_of(draft, sound_blocks(desk, shelf, record) if desk.faults else record, library)
    if desk.faults:
        add_faults_of_a_run(desk, replace(case, place_of=places))
        refuse_faults(desk)
    doubt_geometry(draft, frozenset(frozenset(spring.points) for spring in case.frame.springs))
    doubt_sections(desk, shelf.own_sections, case.frame.sections)
    whole = replace(case, doubts=in_file_order(desk.doubts), place_of=places, measured_by=record["measured"])
    if record["measured"] and record["as measured"] is not None:
        desk.refuse(record.line_of("measured"), "measured", "stands beside 'as measured'", "keep one of the two")
        refuse_faults(desk)
    return whole if record["as measured"] is None else measured_case(desk, whole, record["as measured"])


def measured_case(desk: Desk, case: Case, found: Record) -> Case:
    """Return the case as a test found it; InputError: walls of a section that is none."""
    from framecheck.model.as_measured import AsMeasured
    from framecheck.rig.applied import as_measured

    for name in found["walls"]:
        if name not in case.frame.sections:
            fault = f"no member has a section '{name}'"
            desk.refuse(found.line_of("walls"), f"{found.subject} > walls", fault, "use a section's name")
    refuse_faults(desk)
    walls = tuple(found["walls"].items())
    return as_measured(case, AsMeasured(found["because"], found["joints"], walls, found["modulus"], found["panels"]))


def in_file_order(doubts: list[Doubt]) -> tuple[Doubt, ...]:
    """Return doubts, each once, in file order."""
    return tuple(sorted(dict.fromkeys(doubts), key=lambda doubt: line_number(doubt.place)))


def shelf_of(desk: Desk, library: Library, record: Record) -> Shelf:
    """Return where sections and materials are found: the case's own first."""
    sections = record["sections"] if isinstance(record["sections"], dict) else {}
    own = {name: each for name, each in sections.items() if isinstance(each, Record)}
    metals = [each for each in records(record["materials"]) if isinstance(each["name"], str)]
    materials: dict[str, Material] = {each["name"]: material_of(each) for each in metals if each.sound}
    refused = {name for name, each in sections.items() if not isinstance(each, Record) or not each.sound}
    refused |= {each["name"] for each in metals if not each.sound}
    return Shelf(desk, library, own, materials, refused=frozenset(refused))


def build_own_sections(desk: Desk, shelf: Shelf) -> None:
    """Build the case's own sections where everything in them could be read, so that faults of size are said with the others."""
    refused = {fault.subject for fault in desk.faults}
    for name, record in shelf.own_sections.items():
        if shelf.can_build(name) and not any(subject.startswith(record.subject) for subject in refused):
            shelf.section(name)


def case_of(draft: Draft, record: Record, library: Library) -> Case:
    """Return the case of records without faults."""
    vehicle, bodies = carried_by(draft, record)
    joints, tables = joined_by(draft, record, library)
    case = Case(
        title=record["title"],
        frame=frame_of(draft, record["frame"], bodies, record["origin"]),
        vehicle=vehicle,
        about=record["about"],
        strength=strength_of(draft.desk, record),
        joints=joints,
        joint_tables=tables,
        plates=guarded_by(draft, record, library),
        accepted=accepted_of(draft, record),
        readings=readings_of(draft, record),
        written_in=units_written(draft.desk),
        gear=rolling_on(draft, record),
    )
    return loaded(draft, record, library, case)


def loaded(draft: Draft, record: Record, library: Library, case: Case) -> Case:
    """Return the case with its load cases and what refers to them: targets, rare cases, the events of a duty."""
    items: tuple[LoadItem, ...] | None = record["load cases"]
    of_vehicle, written, sums = load_cases_of(draft, items, case, library)
    refuse_plate_cases(draft.desk, items or (), record["plates"])
    names = names_as_run(of_vehicle, written, sums)
    rare = tuple(run for name in case.strength.rare for run in names.get(name, (name,)))
    return replace(
        case,
        load_cases=of_vehicle,
        written_loads=written,
        sums=sums,
        targets=targets_of(draft, record["targets"], names),
        strength=replace(case.strength, rare=rare),
        fatigue=worn_by(draft, record, library, case, (of_vehicle, names)),
    )


def names_as_run(
    of_vehicle: tuple[LoadCase, ...], written: tuple[CaseLoads, ...], sums: tuple[Sum, ...]
) -> Mapping[str, tuple[str, ...]]:
    """Return the names under which each load case is run, by its name in the file."""
    asked = [(each.asked, each.name) for each in of_vehicle] + [(each.asked, each.name) for each in sums]
    asked += [(each.name, each.name) for each in written]
    names: dict[str, tuple[str, ...]] = {}
    for name, run in asked:
        names[name] = (*names.get(name, ()), run)
    return names


def refuse_plate_cases(desk: Desk, items: tuple[LoadItem, ...], plates: tuple[Record, ...]) -> None:
    """Note every load of a plate whose load case ("plate: load") has the name of another."""
    taken = Taken()
    for item in items:
        taken.take(item.name, item.record.line, "load case")
    for load, name in ((load, f"{plate['name']}: {load['name']}") for plate in plates for load in plate["loads"]):
        if fault := taken.take(name, load.line, "load case"):
            desk.refuse(load.line, load.subject, fault, RENAME)


def carried_by(draft: Draft, record: Record) -> tuple[Vehicle | None, tuple[StiffBody, ...]]:
    """Return the vehicle, and what of it is a stiff body on mounts."""
    if record["vehicle"] is None:
        return None, ()
    from framecheck.reading.build.vehicle import bodies_of, vehicle_of

    return vehicle_of(draft, record["vehicle"]), bodies_of(draft, record["vehicle"])


def rolling_on(draft: Draft, record: Record) -> RunningGear | None:
    """Return the running gear, which stands in place of a vehicle."""
    asked = record["running gear"]
    if asked is None:
        return None
    if record["vehicle"] is not None:
        draft.desk.refuse(asked.line, asked.subject, "stands beside a 'vehicle'", "keep one of the two")
    from framecheck.reading.build.running_gear import gear_of

    return gear_of(draft, asked)


def joined_by(draft: Draft, record: Record, library: Library) -> tuple[tuple[Joint, ...], JointTables | None]:
    """Return the joints, and the tables they are checked by."""
    from framecheck.reading.joint_lookup import joint_tables

    if not record["joints"] and not draft.splices:
        return (), joint_tables(library) if len(draft.members) > 1 else None
    from framecheck.reading.build.joints import joints_of
    from framecheck.reading.build.splice_joints import splice_joints

    return (*joints_of(draft, record["joints"], library), *splice_joints(draft)), joint_tables(library)


def worn_by(
    draft: Draft,
    record: Record,
    library: Library,
    case: Case,
    runs: tuple[tuple[LoadCase, ...], Mapping[str, tuple[str, ...]]],
) -> Fatigue | None:
    """Return the fatigue check that is asked for."""
    if record["fatigue"] is None:
        return None
    from framecheck.reading.build.life import fatigue_of, with_kinks

    asked = fatigue_of(draft, record["fatigue"], library, case.joints, runs)
    return asked if draft.desk.faults else with_kinks(asked, case.frame, library)


def guarded_by(draft: Draft, record: Record, library: Library) -> tuple[Plate, ...]:
    """Return the skid plates."""
    if not record["plates"]:
        return ()
    from framecheck.reading.build.bench import Bench
    from framecheck.reading.build.plates import plate_of

    return tuple(plate_of(Bench(draft, library), each) for each in record["plates"])


def refuse_unmade(desk: Desk, items: tuple[LoadItem, ...], case: Case) -> None:
    """Note load cases that nothing in the file makes."""
    kinds = () if case.gear is None else runnable_kinds(case)
    for item in items:
        record = item.record
        if case.gear is not None and (item.kind is not None and item.kind.name not in kinds):
            fault, remedy = "a running gear does not make it by itself", f"write it force by force; it makes {listed(kinds, 20)}"
            desk.refuse(record.line, record.subject, fault, remedy)
        elif case.gear is not None and "sum of" in record.values:
            desk.refuse(record.line, record.subject, "load cases of a running gear are not summed", "write its forces")
        elif item.kind is not None and case.vehicle is None and case.gear is None:
            desk.refuse(record.line, record.subject, "needs a vehicle", "describe masses and axles under 'vehicle'")


def load_cases_of(
    draft: Draft, items: tuple[LoadItem, ...] | None, case: Case, library: Library
) -> tuple[tuple[LoadCase, ...], tuple[CaseLoads, ...], tuple[Sum, ...]]:
    """Return load cases of the vehicle, written ones, and sums."""
    if items is None:
        return default_cases(draft, library.load_kinds(), case), (), ()
    refuse_unmade(draft.desk, items, case)
    refuse_clashes(items, draft.desk)
    refuse_many_ways(items, draft.desk)
    use = case.use
    by_item = tuple(vehicle_cases(draft, item, item.kind, use) for item in items if item.kind is not None)
    of_vehicle = tuple(each for runs in by_item for each in runs)
    names = names_as_run(of_vehicle, (), ())
    written = tuple(written_case(draft, item) for item in items if item.kind is None and "forces" in item.record.values)
    sums = tuple(
        each
        for item in items
        if item.kind is None and "sum of" in item.record.values
        for each in sums_of(draft, item, names)
    )
    return of_vehicle, written, sums


__all__ = ["Targets", "case_form", "read_case", "vector"]
