"""The test sheet as JSON: SI, the unit in each key. The contract is docs/test_sheet.md."""

from __future__ import annotations

import json
from typing import Any

from framecheck.output.test_sheet.wording import letter, title
from framecheck.rig.setup import Spot
from framecheck.rig.sheet import ExpectedRange, Sheet
from framecheck.rig.stop import Stop
from framecheck.rig.targets import TestTarget
from framecheck.versions import MADE_BY, SCHEMA, Origin

Record = dict[str, Any]


def as_json(sheet: Sheet, caution: str, origin: Origin) -> str:
    """Return the sheet as JSON text."""
    return json.dumps(record(sheet, caution, origin), ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def record(sheet: Sheet, caution: str, origin: Origin) -> Record:
    """Return the sheet as plain values."""
    rig = sheet.rig
    stiffness = "stiffness_nm_per_rad" if rig.torque else "stiffness_n_per_m"
    return {
        "made_by": MADE_BY,
        "schema_version": SCHEMA,
        "program_version": origin.version,
        "file": origin.file,
        "input_sha256": origin.sha256,
        "title": sheet.case.title,
        "caution": caution,
        "rig": {
            "kind": rig.asked.kind.value,
            "words": title(sheet),
            "load": rig.load_words,
            "force_by": rig.asked.force_by.value,
            "torque_nm_per_n": rig.torque,
        },
        "stands": stands(sheet),
        "dials": dials(sheet),
        "planes": [
            {"name": plane.name, "x_m": plane.x, "left": letter(plane.left), "right": letter(plane.right), "span_m": plane.span}
            for plane in rig.planes
        ],
        "loads_n": sheet.loads.tolist(),
        "expected_m": band(sheet.dials),
        "turn_rad": band(sheet.turns),
        stiffness: band(sheet.stiffness),
        "dial_error_m": sheet.dial_error,
        "stops": [stop(each) for each in sheet.stops],
        "meanings": [
            {"if": each.what, stiffness: each.stiffness, "twist_ahead_share": each.ahead}
            for each in sheet.meanings
        ],
        "target": None if sheet.target is None else target(sheet.target),
        "left_open": list(sheet.bounds),
    }  # fmt: skip


def target(asked: TestTarget) -> Record:
    """Return a limit that is asked for, with its source."""
    return {
        "name": asked.name,
        "stiffness_nm_per_rad": asked.stiffness,
        "sag_m": asked.sag,
        "source": asked.source,
        "note": asked.note,
    }


def stands(sheet: Sheet) -> list[Record]:
    """Return what holds the frame up."""
    return [
        {"name": stand.name, "x_m": stand.at[0], "y_m": stand.at[1], "z_m": stand.at[2], "words": stand.words,
         "may_lift": stand.lifts, "at_rest_n": rest, "least_at_top_load_n": least, "most_at_top_load_n": most}
        for stand, rest, least, most in zip(sheet.rig.stands, sheet.rest, sheet.at_top, sheet.most, strict=True)
    ]  # fmt: skip


def dials(sheet: Sheet) -> list[Record]:
    """Return where dials stand and how they read."""
    return [
        {"letter": letter(row), "name": dial.name, **spot(dial.spot), "direction": list(dial.direction), "at_stand": dial.at_stand,
         "set_allowed_m": float(sheet.set_allowed[row])}
        for row, dial in enumerate(sheet.rig.dials)
    ]  # fmt: skip


def band(of: ExpectedRange) -> Record:
    """Return least, expected and most."""
    return {"low": of.low.tolist(), "expected": of.mid.tolist(), "high": of.high.tolist()}


def spot(of: Spot) -> Record:
    """Return where a spot is."""
    return {"point": of.point or None, "member": of.member or None, "station_m": None if of.point else of.station,
            "x_m": of.at[0], "y_m": of.at[1], "z_m": of.at[2]}  # fmt: skip


def stop(of: Stop) -> Record:
    """Return a stop load with what sets it."""
    row = of.row
    return {"by": of.by.value, "load_n": of.load, "where": of.where or (row.where if row is not None else ""),
            "check": None if row is None else row.check.words, "target": None if row is None else row.target}  # fmt: skip
