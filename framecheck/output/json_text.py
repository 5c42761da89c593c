"""Results as JSON: SI, the unit in each key, nothing infinite or not a number. The contract is docs/json.md."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from math import isfinite
from typing import Any

from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Array
from framecheck.results.row import CheckResult, Sizing
from framecheck.results.summary import governing_bound
from framecheck.run import Results
from framecheck.section.properties import SectionProperties
from framecheck.vehicle.load_cases import VehicleLoads

SCHEMA_VERSION = 1

Record = dict[str, Any]

FORCE_KEYS = (
    "axial_n",
    "shear_sideways_n",
    "shear_vertical_n",
    "torsion_nm",
    "bending_vertical_nm",
    "bending_sideways_nm",
)
"""Keys of MemberForces.member_forces in its order: N, Vy, Vz, T, Mv, Ms."""


def as_json(results: Results, caution: str) -> str:
    """Return the whole result as JSON text."""
    return json.dumps(record(results, caution), ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def record(results: Results, caution: str) -> Record:
    """Return the whole result as plain values."""
    outcome = results.outcome
    solution = outcome.solutions[governing_bound(outcome, results.governing)]
    return {
        "schema_version": SCHEMA_VERSION,
        "title": outcome.case.title,
        "caution": caution,
        "not_checked": [f"{each.subject}: {each.reason}" for each in results.remarks],
        "governing": governing(results.governing),
        "sections": {name: section(each) for name, each in sorted(outcome.sections.items())},
        "bounds": [bound(each) for each in outcome.solutions],
        "load_cases": [load_case(solution, number) for number in range(len(solution.cases))],
        "member_forces": [row for member in solution.members for row in member_forces(member, solution.cases)],
        "checks": [check(row) for row in results.rows],
        "sizings": [sizing(each) for each in results.sizings],
        "clearances": [
            {
                "clearance": gap.name,
                "load_case": gap.load_case,
                "today_m": gap.today,
                "left_m": gap.left,
                "least_m": gap.least,
                "verdict": gap.verdict,
            }
            for gap in results.gaps
        ],
        "wheels": [row for loads in results.vehicle_loads for row in wheels(loads)],
        "brackets": [row for loads in results.vehicle_loads for row in brackets(loads)],
        "self_checks": [
            {
                "check": each.name,
                "load_case": each.load_case,
                "value": finite(each.value),
                "limit": finite(each.limit),
                "holds": each.holds,
            }
            for each in solution.self_checks
        ],
    }


def governing(row: CheckResult | None) -> Record | None:
    """Return the governing row's place; null where nothing was judged."""
    if row is None:
        return None
    return {
        "check": row.check.words,
        "member": row.where,
        "load_case": row.load_case,
        "station_m": row.station,
        "safety_factor": row.safety_factor,
        "target": row.target,
        "verdict": row.grade.value,
        "mode": row.words,
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
        for station, row in zip(stations, member.member_forces[:, number].tolist(), strict=True):
            forces = dict(zip(FORCE_KEYS, row, strict=True))
            yield {"member": member.member, "load_case": name, "station_m": station, **forces}


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


def check(row: CheckResult) -> Record:
    """Return one row of a check."""
    return {
        "check": row.check.words,
        "where": row.where,
        "load_case": row.load_case,
        "station_m": row.station,
        "demand": row.demand,
        "capacity": row.capacity,
        "unit": row.unit,
        "safety_factor": row.safety_factor,
        "target": row.target,
        "verdict": row.grade.value,
        "mode": row.words,
        "source": row.source,
    }


def sizing(each: Sizing) -> Record:
    """Return what a joint asks of the shop."""
    return {
        "check": each.check.words,
        "where": each.where,
        "what": each.what,
        "value": each.value,
        "unit": each.unit,
        "given": each.given,
        "source": each.source,
    }


def finite(value: float) -> float | None:
    """Return the number, or null where it is infinite: a shear area of infinity means that shear bends nothing."""
    return value if isfinite(value) else None
