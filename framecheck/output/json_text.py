"""Results as JSON: SI, the unit in each key, nothing infinite or not a number. The contract is docs/json.md."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

import numpy as np

from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Array
from framecheck.model.said import Said
from framecheck.output.display import Units, spoken
from framecheck.output.json_panels import panels_of
from framecheck.output.json_rows import Record, check, finite, near, near_record, sizing
from framecheck.output.json_stream import written
from framecheck.results.readings import ReadAt
from framecheck.results.row import Grade
from framecheck.results.summary import Near, load_case_rows, member_rows, told_solutions
from framecheck.results.tables import (
    ResultTable,
    Scope,
    Value,
    checks_table,
    clearances_table,
    kinds_table,
    load_cases_table,
    members_table,
)
from framecheck.results.verdict import State
from framecheck.run import Results
from framecheck.section.properties import SectionProperties
from framecheck.vehicle.balance import VehicleLoads
from framecheck.vehicle.clearance import GapState
from framecheck.versions import MADE_BY, SCHEMA, UNKNOWN, Origin

NOTHING_MORE: Mapping[str, Any] = MappingProxyType({})

FORCE_KEYS = (
    "axial_n", "shear_sideways_n", "shear_vertical_n", "torsion_nm", "bending_vertical_nm", "bending_sideways_nm"
)  # fmt: skip
"""Keys of MemberForces.member_forces in its order: N, Vy, Vz, T, Mv, Ms."""


def as_json(results: Results, caution: str, origin: Origin = UNKNOWN, more: Mapping[str, Any] = NOTHING_MORE) -> str:
    """Return the whole result as JSON text. more: keys beside it, for what was asked for besides."""
    return "".join(json_pieces(results, caution, origin, more))


def json_pieces(results: Results, caution: str, origin: Origin, more: Mapping[str, Any]) -> Iterator[str]:
    """Yield the whole result as JSON text piece by piece, so that it is never held as a whole."""
    return written({**rows_as_made(results, caution, origin), **more})


def record(results: Results, caution: str, origin: Origin = UNKNOWN) -> Record:
    """Return the whole result as plain values."""
    found = rows_as_made(results, caution, origin)
    return {key: list(value) if isinstance(value, Iterator) else value for key, value in found.items()}


def rows_as_made(results: Results, caution: str, origin: Origin) -> Record:
    """Return the whole result as plain values, of rows that are many an iterator."""
    outcome, told = results.outcome, told_solutions(results.outcome, results.governing)
    trusted = results.verdict.state is not State.NOT_JUDGED
    return {
        "made_by": MADE_BY,
        "schema_version": SCHEMA,
        "program_version": origin.version,
        "file": origin.file,
        "input_sha256": origin.sha256,
        "title": outcome.case.title,
        "caution": caution,
        "verdict": verdict(results),
        "remarks": [f"{each.subject}: {each.reason}" for each in results.remarks],
        "governing": None if results.governing is None or not trusted else check(results.governing, outcome.case),
        "sections": {name: section(each) for name, each in sorted(outcome.sections.items())},
        "bounds": [bound(each) for each in outcome.solutions],
        "load_cases": (row for each in told for row in load_cases(each)),
        "member_forces": (row for each in told for row in forces_of(each)),
        **({"panels": (row for each in told for row in panels_of(each))} if outcome.case.frame.panels else {}),
        "checks": (check(row, outcome.case) for row in results.rows),
        "tables": {each.name: table(each) for each in tables_of(results)},
        "sizings": [sizing(each) for each in results.sizings],
        "clearances": table(clearances_table(results.gaps, every_case=True)),
        "readings": (row for each in results.readings for row in reading(each, outcome.solutions[0].cases)),
        "wheels": [row for loads in results.vehicle_loads for row in wheels(loads)],
        "brackets": [row for loads in results.vehicle_loads for row in brackets(loads)],
        "self_checks": [row for each in outcome.solutions for row in self_checks(each)],
    }


def verdict(results: Results) -> Record:
    """Return how the case came out: the state, the counts, what is missed, what is open and what would close it."""
    found = results.verdict
    return {
        "state": found.state.value,
        "because": found.because,
        "judged": found.judged,
        "missed": [
            {
                "kind": row.kind.value,
                "check": row.check.words,
                "where": row.where,
                "near": near(row, results.outcome.case.frame),
                "load_case": row.load_case,
                "used": row.used,
            }
            for row in found.missed
        ],
        "open": [
            {
                "what": group.question.title,
                "where": list(group.names),
                "why": [spoken(each, Units.SI) for each in group.reasons],
                "remedy": spoken(group.remedy, Units.SI),
            }
            for group in found.ledger.groups
        ],
        "accepted": [
            {"what": each.entry.entry.question.title, "where": each.entry.entry.subject.words, "because": each.because}
            for each in found.ledger.accepted
        ],
    }


def tables_of(results: Results) -> Iterator[ResultTable]:
    """Yield the tables that people read."""
    outcome, rows, frame = results.outcome, results.rows, results.outcome.case.frame
    yield kinds_table(frame, rows)
    yield load_cases_table(frame, load_case_rows(outcome, rows))
    yield members_table(frame, member_rows(outcome, rows))
    yield checks_table(frame, rows)


def table(of: ResultTable) -> list[Record]:
    """Return a table's rows by column key, SI."""
    return [{column.key: plain(value) for column, value in zip(of.columns, row, strict=True)} for row in of.rows]


def plain(value: Value) -> Any:
    """Return a table's value as JSON takes it; null for what holds in all load cases."""
    if isinstance(value, (Grade, GapState, Scope)):
        return None if value is Scope.ALL else value.value
    if isinstance(value, Said):
        return spoken(value, Units.SI)
    if isinstance(value, Near):
        return near_record(value)
    return [side.value for side in value] if isinstance(value, tuple) else value


def load_cases(solution: FrameSolution) -> Iterator[Record]:
    """Yield the movements and reactions of every load case under one bound."""
    yield from (load_case(solution, number) for number in range(len(solution.cases)))


def forces_of(solution: FrameSolution) -> Iterator[Record]:
    """Yield the section forces of every member under one bound."""
    bound_of = solution.bound.name
    for member in solution.members:
        yield from ({"bound": bound_of, **row} for row in member_forces(member, solution.cases))


def self_checks(solution: FrameSolution) -> Iterator[Record]:
    """Yield what the solution checks of itself."""
    for each in solution.self_checks:
        yield {
            "bound": solution.bound.name,
            "check": each.name,
            "load_case": each.load_case,
            "value": finite(each.value),
            "limit": finite(each.limit),
            "holds": each.holds,
        }


def section(each: SectionProperties) -> Record:
    """Return a section's properties, in its own axes."""
    return {
        "area_m2": each.area,
        "mass_per_length_kg_per_m": each.mass_per_length,
        "i_vertical_m4": each.i_vertical,
        "i_sideways_m4": each.i_sideways,
        "i_product_m4": each.i_product,
        "torsion_constant_m4": each.torsion_constant,
        "warping_constant_m6": each.warping_constant,
        "shear_centre_m": list(each.shear_centre),
        "shear_area_vertical_m2": finite(each.shear_area_vertical),
        "shear_area_sideways_m2": finite(each.shear_area_sideways),
        "centroid_m": list(each.centroid),
        "engine": each.engine,
    }


def bound(solution: FrameSolution) -> Record:
    """Return what one end of the open range gives in short: its name and the residual of each load case."""
    return {
        "bound": solution.bound.name,
        "balance_residual": dict(zip(solution.cases, solution.balance.tolist(), strict=True)),
        "strain_energy_j": dict(zip(solution.cases, solution.energy.tolist(), strict=True)),
    }


def load_case(solution: FrameSolution, number: int) -> Record:
    """Return the movements and reactions of one load case."""
    moved: Array = solution.displacements[:, number]
    return {
        "bound": solution.bound.name,
        "name": solution.cases[number],
        "points": {
            name: {"displacement_m": row[:3], "rotation_rad": row[3:]}
            for name, row in zip(solution.points, moved.tolist(), strict=True)
        },
        "reactions": reactions(solution.reactions, number),
        "balance_residual": float(solution.balance[number]),
    }


def reactions(found: Mapping[str, Array], number: int) -> Record:
    """Return what each support does to the frame in one load case."""
    rows = {point: values[number].tolist() for point, values in found.items()}
    return {point: {"force_n": row[:3], "moment_nm": row[3:]} for point, row in rows.items()}


def member_forces(member: MemberForces, cases: tuple[str, ...]) -> Iterator[Record]:
    """Yield the section forces of a member, station by station, in its own axes."""
    stations = member.stations.tolist()
    for number, name in enumerate(cases):
        own = zip(stations, member.member_forces[:, number].tolist(), member.forces[:, number, 6].tolist(), strict=True)
        for station, row, bimoment in own:
            forces = dict(zip(FORCE_KEYS, row, strict=True))
            yield {"member": member.member, "load_case": name, "station_m": station, **forces, "bimoment_nm2": bimoment}


def reading(found: ReadAt, cases: tuple[str, ...]) -> Iterator[Record]:
    """Yield what is read at one place, load case by load case; stress is null where none is wanted or known."""
    stress = np.column_stack((found.normal, found.shear, found.von_mises)).tolist()
    rows = zip(cases, found.member_forces.tolist(), found.forces.tolist(), found.moved.tolist(), stress, strict=True)
    for name, forces, own, moved, (normal, *shear, equivalent) in rows:
        yield {
            "reading": found.reading.name,
            "bound": found.bound,
            "load_case": name,
            "member": found.reading.member,
            "station_m": found.reading.station,
            "beyond": found.beyond,
            "section": found.section,
            **dict(zip(FORCE_KEYS, forces, strict=True)),
            "bimoment_nm2": own[6],
            "torsion_saint_venant_nm": own[7],
            "torsion_warping_nm": own[8],
            "displacement_m": moved,
            "place_y_m": None if found.place is None else found.place[0],
            "place_z_m": None if found.place is None else found.place[1],
            "normal_stress_pa": None if found.place is None else normal,
            "shear_stress_y_pa": None if found.place is None else shear[0],
            "shear_stress_z_pa": None if found.place is None else shear[1],
            "von_mises_pa": None if found.place is None else equivalent,
        }


def wheels(loads: VehicleLoads) -> Iterator[Record]:
    """Yield what the ground does to each wheel in a load case."""
    for row in loads.wheels:
        yield {
            "load_case": loads.loads.name,
            "wheel": row.wheel,
            "force_n": list(row.force),
            "moment_nm": list(row.moment),
        }


def brackets(loads: VehicleLoads) -> Iterator[Record]:
    """Yield what the suspension does to each frame bracket in a load case, at the pivot's place."""
    for row in loads.brackets:
        yield {
            "load_case": loads.loads.name,
            "bracket": row.foot.name,
            "point": row.foot.point,
            "at_m": list(row.foot.at),
            "force_n": list(row.force),
            "moment_nm": list(row.moment),
        }
