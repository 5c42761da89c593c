"""A case file: text to a case, every fault at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from framecheck.errors import Fault, InputError, line_number
from framecheck.model.case import Case, Doubt, LoadCase, Sum, Targets
from framecheck.model.loads import CaseLoads
from framecheck.model.shop_tables import Material
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.as_measured import found_by_test
from framecheck.reading.build.doubts import doubt_geometry, doubt_materials, doubt_sections
from framecheck.reading.build.frame import frame_of
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.joint_context import JointContext
from framecheck.reading.build.joints import joints_of
from framecheck.reading.build.life import fatigue_of, with_kinks
from framecheck.reading.build.loads import (
    default_cases,
    refuse_clashes,
    refuse_many_ways,
    sums_of,
    targets_of,
    vehicle_cases,
    written_case,
)
from framecheck.reading.build.plates import plate_of
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.build.splice_joints import splice_joints
from framecheck.reading.build.strength import accepted_of, readings_of, strength_of
from framecheck.reading.build.vehicle import body_of, gear_of, vehicle_of
from framecheck.reading.diagnostics import RENAME, Diagnostics, Missing, Taken, listed, refuse_faults, units_written
from framecheck.reading.form import Record
from framecheck.reading.library import Library, material_of
from framecheck.reading.load_items import LoadItem
from framecheck.reading.shop_tables import joint_tables
from framecheck.reading.whole_case import (
    add_faults_of_a_run,
    case_form,
    check_names,
    draft_in_wave,
    records,
    refuse_language,
    sound_blocks,
)
from framecheck.reading.yamltext import FilePlaces, YamlBlock, parse
from framecheck.rig.applied import as_measured
from framecheck.vehicle.load_cases import runnable_kinds

if TYPE_CHECKING:  # rooms that a case may not need are entered late
    from framecheck.model.duty import Fatigue
    from framecheck.model.frame import StiffBody
    from framecheck.model.shop_tables import JointTables
    from framecheck.model.vehicle import RunningGear, Vehicle
    from framecheck.model.weld_joints import Joint


def read_case(text: str, name: str, library: Library) -> Case:
    """Return the case in a text; InputError with every fault. name: the file's, for messages."""
    return case_from(parse(text, name), name, library)


def case_from(tree: YamlBlock, name: str, library: Library) -> Case:
    """Return the case that a file's tree describes; InputError with every fault."""
    if "vary" in tree.entries and "frame" not in tree.entries:
        fault = "this is a study, not a case"
        raise InputError([Fault(f"{name}:{tree.entries['vary'].line}", "", fault, f"run: framecheck size {name}")])
    refuse_language(tree, name)
    diagnostics = Diagnostics(name, library.gauges())
    record = case_form(library).read(tree, "", diagnostics)
    assert not isinstance(record, Missing)
    catalogue = shelf_of(diagnostics, library, record)
    record = with_body(diagnostics, catalogue, record)
    doubt_materials(
        diagnostics,
        ((each, catalogue.own_materials[each["name"]]) for each in records(record["materials"]) if each.sound),
    )
    check_names(diagnostics, record, catalogue)
    build_own_sections(diagnostics, catalogue)
    builder = draft_in_wave(diagnostics, catalogue, record)
    places = FilePlaces(name, tree)
    case = case_of(builder, sound_blocks(diagnostics, catalogue, record) if diagnostics.faults else record, library)
    if diagnostics.faults:
        add_faults_of_a_run(diagnostics, replace(case, place_of=places))
        refuse_faults(diagnostics)
    doubt_geometry(builder, frozenset(frozenset(spring.points) for spring in case.frame.springs))
    doubt_sections(diagnostics, catalogue.own_sections, case.frame.sections)
    whole = replace(case, doubts=in_file_order(diagnostics.doubts), place_of=places, measured_by=record["measured"])
    if record["measured"] and record["as measured"] is not None:
        diagnostics.refuse(record.line_of("measured"), "measured", "stands beside 'as measured'", "keep one of the two")
        refuse_faults(diagnostics)
    return whole if record["as measured"] is None else measured_case(diagnostics, whole, record["as measured"])


def with_body(diagnostics: Diagnostics, catalogue: SectionCatalogue, record: Record) -> Record:
    """Return the record with its unit body drawn out; every fault so far where that can't be done: much else names its points."""
    if isinstance(record["frame"], Missing) or record["frame"]["body"] is None:
        return record
    from framecheck.reading.build.unit_body import with_body_drawn

    before = len(diagnostics.faults)
    drawn = with_body_drawn(diagnostics, catalogue, record)
    if drawn is record or len(diagnostics.faults) > before:
        refuse_faults(diagnostics)
    return drawn


def measured_case(diagnostics: Diagnostics, case: Case, found: Record) -> Case:
    """Return the case as a test found it; InputError: walls of a section that is none, a kind of end or a body that is none."""
    return as_measured(case, found_by_test(diagnostics, case.frame, found))


def in_file_order(doubts: list[Doubt]) -> tuple[Doubt, ...]:
    """Return doubts, each once, in file order."""
    return tuple(sorted(dict.fromkeys(doubts), key=lambda doubt: line_number(doubt.place)))


def shelf_of(diagnostics: Diagnostics, library: Library, record: Record) -> SectionCatalogue:
    """Return where sections and materials are found: the case's own first."""
    sections = record["sections"] if isinstance(record["sections"], dict) else {}
    own = {name: each for name, each in sections.items() if isinstance(each, Record)}
    metals = [each for each in records(record["materials"]) if isinstance(each["name"], str)]
    materials: dict[str, Material] = {each["name"]: material_of(each) for each in metals if each.sound}
    refused = {name for name, each in sections.items() if not isinstance(each, Record) or not each.sound}
    refused |= {each["name"] for each in metals if not each.sound}
    return SectionCatalogue(diagnostics, library, own, materials, refused=frozenset(refused))


def build_own_sections(diagnostics: Diagnostics, catalogue: SectionCatalogue) -> None:
    """Build the case's own sections where everything in them could be read, so that faults of size are said with the others."""
    refused = {fault.subject for fault in diagnostics.faults}
    for name, record in catalogue.own_sections.items():
        if catalogue.can_build(name) and not any(subject.startswith(record.subject) for subject in refused):
            catalogue.section(name)


def case_of(builder: FrameBuilder, record: Record, library: Library) -> Case:
    """Return the case of records without faults."""
    vehicle, bodies = carried_by(builder, record)
    joints, tables = joined_by(builder, record, library)
    case = Case(
        title=record["title"],
        frame=frame_of(builder, record["frame"], bodies, record["origin"]),
        vehicle=vehicle,
        about=record["about"],
        strength=strength_of(builder.diagnostics, record),
        joints=joints,
        joint_tables=tables,
        plates=tuple(plate_of(JointContext(builder, library), each) for each in record["plates"] or ()),
        accepted=accepted_of(builder, record),
        readings=readings_of(builder, record),
        written_in=units_written(builder.diagnostics),
        gear=rolling_on(builder, record),
    )
    return loaded(builder, record, library, case)


def loaded(builder: FrameBuilder, record: Record, library: Library, case: Case) -> Case:
    """Return the case with its load cases and what refers to them: targets, rare cases, the events of a duty."""
    items: tuple[LoadItem, ...] | None = record["load cases"]
    of_vehicle, written, sums = load_cases_of(builder, items, case, library)
    refuse_plate_cases(builder.diagnostics, items or (), record["plates"])
    names = names_as_run(of_vehicle, written, sums)
    rare = tuple(run for name in case.strength.rare for run in names.get(name, (name,)))
    return replace(
        case,
        load_cases=of_vehicle,
        written_loads=written,
        sums=sums,
        targets=targets_of(builder, record["targets"], names),
        strength=replace(case.strength, rare=rare),
        fatigue=worn_by(builder, record, library, case, (of_vehicle, names)),
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


def refuse_plate_cases(diagnostics: Diagnostics, items: tuple[LoadItem, ...], plates: tuple[Record, ...]) -> None:
    """Note every load of a plate whose load case ("plate: load") has the name of another."""
    taken = Taken()
    for item in items:
        taken.take(item.name, item.record.line, "load case")
    for load, name in ((load, f"{plate['name']}: {load['name']}") for plate in plates for load in plate["loads"]):
        if fault := taken.take(name, load.line, "load case"):
            diagnostics.refuse(load.line, load.subject, fault, RENAME)


def carried_by(builder: FrameBuilder, record: Record) -> tuple[Vehicle | None, tuple[StiffBody, ...]]:
    """Return the vehicle, and what of it is a stiff body on mounts."""
    if record["vehicle"] is None:
        return None, ()

    bodies = tuple(body_of(builder, part) for part in record["vehicle"]["masses"] if part["mounts"])
    return vehicle_of(builder, record["vehicle"]), bodies


def rolling_on(builder: FrameBuilder, record: Record) -> RunningGear | None:
    """Return the running gear, which stands in place of a vehicle."""
    asked = record["running gear"]
    if asked is None:
        return None
    if record["vehicle"] is not None:
        builder.diagnostics.refuse(asked.line, asked.subject, "stands beside a 'vehicle'", "keep one of the two")

    return gear_of(builder, asked)


def joined_by(builder: FrameBuilder, record: Record, library: Library) -> tuple[tuple[Joint, ...], JointTables | None]:
    """Return the joints, and the tables they are checked by."""
    if not record["joints"] and not builder.splices:
        return (), joint_tables(library) if len(builder.members) > 1 else None

    return (*joints_of(builder, record["joints"], library), *splice_joints(builder)), joint_tables(library)


def worn_by(
    builder: FrameBuilder,
    record: Record,
    library: Library,
    case: Case,
    runs: tuple[tuple[LoadCase, ...], Mapping[str, tuple[str, ...]]],
) -> Fatigue | None:
    """Return the fatigue check that is asked for."""
    if record["fatigue"] is None:
        return None

    asked = fatigue_of(builder, record["fatigue"], library, case.joints, runs)
    return asked if builder.diagnostics.faults else with_kinks(asked, case.frame, library)


def refuse_unmade(diagnostics: Diagnostics, items: tuple[LoadItem, ...], case: Case) -> None:
    """Note load cases that nothing in the file makes."""
    kinds = () if case.gear is None else runnable_kinds(case)
    for item in items:
        record = item.record
        if case.gear is not None and (item.kind is not None and item.kind.name not in kinds):
            fault, remedy = "a running gear does not make it by itself", f"write it force by force; it makes {listed(kinds, 20)}"
            diagnostics.refuse(record.line, record.subject, fault, remedy)
        elif case.gear is not None and "sum of" in record.values:
            diagnostics.refuse(record.line, record.subject, "load cases of a running gear are not summed", "write its forces")
        elif item.kind is not None and case.vehicle is None and case.gear is None:
            diagnostics.refuse(record.line, record.subject, "needs a vehicle", "describe masses and axles under 'vehicle'")


def load_cases_of(
    builder: FrameBuilder, items: tuple[LoadItem, ...] | None, case: Case, library: Library
) -> tuple[tuple[LoadCase, ...], tuple[CaseLoads, ...], tuple[Sum, ...]]:
    """Return load cases of the vehicle, written ones, and sums."""
    if items is None:
        return default_cases(builder, library.load_kinds(), case), (), ()
    refuse_unmade(builder.diagnostics, items, case)
    refuse_clashes(items, builder.diagnostics)
    refuse_many_ways(items, builder.diagnostics)
    use = case.use
    by_item = tuple(vehicle_cases(builder, item, item.kind, use) for item in items if item.kind is not None)
    of_vehicle = tuple(each for runs in by_item for each in runs)
    names = names_as_run(of_vehicle, (), ())
    written = tuple(written_case(builder, item) for item in items if item.kind is None and "forces" in item.record.values)
    sums = tuple(
        each
        for item in items
        if item.kind is None and "sum of" in item.record.values
        for each in sums_of(builder, item, names)
    )
    return of_vehicle, written, sums


__all__ = ["Targets", "case_form", "read_case", "vector"]
