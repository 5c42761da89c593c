"""Every fault of a case that shows only when it is run, at once, each with its line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from framecheck.errors import Fault, FramecheckError, InputError, line_number, standing
from framecheck.model.case import Case
from framecheck.section.analysis import net_properties, section_properties
from framecheck.section.store import SectionStore
from framecheck.vehicle.load_cases import all_vehicle_loads, worked_out
from framecheck.vehicle.masses import NOTHING, MassProperties
from framecheck.vehicle.scene_builder import axle_load_faults, scene_of


def every_fault(case: Case, first: InputError, mass: MassProperties | None, store: SectionStore | None) -> InputError:
    """Return all that is wrong with a case, once one thing was found to be. mass: of the frame, None where it is not known."""
    found = [*first.faults, *of_sections(case, store), *of_vehicle(case, mass), *of_plates(case)]
    return InputError(located(case, found))


def located(case: Case, faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Return faults with their lines, each once, in file order."""
    placed = (each if each.place else replace(each, place=case.place_of(each.about)) for each in faults)
    return tuple(sorted(dict.fromkeys(placed), key=lambda fault: line_number(fault.place)))


def told_by(asked: Callable[[], object]) -> tuple[Fault, ...]:
    """Return the faults that something tells when it is asked for; what can't be solved is no fault of the input."""
    try:
        asked()
    except InputError as error:
        return error.faults
    except FramecheckError:
        return ()
    return ()


def of_sections(case: Case, store: SectionStore | None) -> Iterator[Fault]:
    """Yield the faults of sections and cuts that show in their outlines."""
    sections = case.frame.sections
    for name, section in sections.items():
        yield from standing(told_by(lambda section=section: section_properties(section, store)), "sections", name)  # type: ignore[misc]
    for member in case.frame.members:
        for cut in member.cuts:
            name = next((each.section for each in member.stretches if cut.at <= each.until), member.stretches[-1].section)
            asked = told_by(lambda name=name, cut=cut: net_properties(sections[name], cut, store))  # type: ignore[misc]
            yield from standing(asked, "frame", "cuts", cut.name)


def of_vehicle(case: Case, mass: MassProperties | None) -> Iterator[Fault]:
    """Yield the faults of the vehicle, of its weighed loads and of each of its load cases."""
    if case.gear is not None:
        yield from told_by(lambda: all_vehicle_loads(case, mass or NOTHING))
    if case.vehicle is None:
        return
    faults = told_by(lambda: scene_of(case, mass or NOTHING))
    yield from faults
    if faults:
        return
    if mass is not None:
        yield from axle_load_faults(case, mass)
    try:
        scene = scene_of(case, mass or NOTHING)
    except FramecheckError:
        return
    for load_case in (each for each in case.load_cases if not each.by_default):
        yield from told_by(lambda load_case=load_case: worked_out(scene, load_case))  # type: ignore[misc]


def of_plates(case: Case) -> Iterator[Fault]:
    """Yield the faults of skid plates."""
    if case.plates:
        from framecheck.checks.plate.faults import plate_faults

        for plate in case.plates:
            yield from plate_faults(plate)
