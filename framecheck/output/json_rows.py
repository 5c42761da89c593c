"""Rows of checks and sizes as JSON: SI, the unit in each key. The contract is docs/json.md."""

from __future__ import annotations

from math import isfinite
from typing import Any

from framecheck.model.case import Case
from framecheck.model.frame import Frame
from framecheck.output.display import Units, spoken
from framecheck.results.cautions import from_memory
from framecheck.results.row import CheckResult, Sizing
from framecheck.results.summary import Near, near_row


def near(row: CheckResult, frame: Frame) -> Record | None:
    """Return the named point nearest to a row's place, null where it has none."""
    found = near_row(frame, row)
    return None if found is None else near_record(found)


def near_record(found: Near) -> Record:
    """Return a place by its nearest named point."""
    return {"point": found.point, "distance_m": found.distance, "way": None if found.way is None else found.way.value}


def check(row: CheckResult, case: Case) -> Record:
    """Return one row of a check."""
    return {
        "check": row.check.words,
        "mode": row.mode.name.lower(),
        "words": spoken(row.words, Units.SI),
        "kind": row.kind.value,
        "subject": {"thing": row.subject.thing.value, "name": row.subject.name, "part": row.subject.part},
        "where": row.where,
        "part": row.part,
        "load_case": row.load_case,
        "bound": None if row.bound is None else row.bound.name,
        "station_m": row.station,
        "near": near(row, case.frame),
        "sides": [side.value for side in row.sides],
        "demand": row.demand,
        "capacity": row.capacity,
        "unit": row.unit,
        "safety_factor": row.safety_factor,
        "target": row.target,
        "used": row.used,
        "grade": row.grade.value,
        "source": row.source,
        "from_memory": list(from_memory(case, row)),
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


Record = dict[str, Any]
