"""What readings say, as JSON: SI, the unit in each key. The contract is docs/test_sheet.md."""

from __future__ import annotations

import json
from collections.abc import Sequence
from math import isfinite
from typing import Any

from framecheck.output.test_sheet import change_wording
from framecheck.output.test_sheet.also import NOTHING, Also
from framecheck.output.test_sheet.json_text import band
from framecheck.output.test_sheet.wording import letter, title
from framecheck.rig.fitted import Fitted, Next
from framecheck.rig.measured import Amount, Bay, MeasuredTest
from framecheck.rig.sampled import Sampled
from framecheck.rig.told_apart import apart
from framecheck.rig.unknowns import Sort
from framecheck.versions import MADE_BY, SCHEMA, Origin

Record = dict[str, Any]


def as_json(found: Sequence[MeasuredTest], caution: str, origin: Origin, also: Also = NOTHING) -> str:
    """Return what the readings say as JSON text: of the first test on top, of all of several under tests; a fit under fit."""
    first = record(found[0], caution, origin)
    if len(found) > 1:
        first["tests"] = [record(each, caution, origin) for each in found]
    if also.fit is not None:
        first["fit"] = fit_record(also.fit)
    if also.change is not None:
        first["change"] = change_wording.record(also.change)
    return json.dumps(first, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def unit_of(is_twist: bool) -> str:
    """Return the unit of a stiffness, as keys name it."""
    return "nm_per_rad" if is_twist else "n_per_m"


def fit_record(of: Fitted) -> Record:
    """Return a fit as plain values."""
    unit = unit_of(of.is_twist)
    fit = of.fit
    return {
        f"stiffness_as_drawn_{unit}": of.drawn,
        f"stiffness_{unit}": {"value": of.stiffness, "sigma": of.sigma},
        "unknowns": [
            {"name": each.name, "value": float(fit.values[row]), "sigma": float(fit.sigma[row]), "prior": each.prior,
             "factor": None if each.sort is Sort.GIVE else fit.factor(row)}
            for row, each in enumerate(fit.unknowns)
        ],
        "singular_values": fit.singular.tolist(),
        "told": fit.told,
        "not_told_apart": [[each.unknown.name, each.partner.name] for each in apart(fit)],
        "chi_square_per_reading": fit.misfit,
        "readings": sum(len(each.slopes) for each in fit.data),
        "other_tests": [
            {"kind": each.kind.value, f"stiffness_as_drawn_{unit_of(each.is_twist)}": each.drawn,
             f"stiffness_{unit_of(each.is_twist)}": {"value": each.stiffness, "sigma": each.sigma}}
            for each in of.others
        ],
        "next_dial": None if of.next is None else next_dial(of.next),
        "sampled": None if of.sampled is None else sampled(of.sampled),
    }  # fmt: skip


def sampled(of: Sampled) -> Record:
    """Return what a chain says of the spread."""
    return {"steps": of.steps, "walkers": of.walkers, "worth": of.worth, "sigma": of.sigma.tolist(), "surface_frames": of.frames,
            "surface_off_sigma": of.off}  # fmt: skip


def next_dial(of: Next) -> Record:
    """Return where one more dial would tell most."""
    return {"place": of.place, "x_m": of.x, "unknown": of.unknown, "before": of.before, "after": of.after}


def record(found: MeasuredTest, caution: str, origin: Origin) -> Record:
    """Return what the readings say as plain values."""
    rig, unit = found.sheet.rig, "nm_per_rad" if found.sheet.rig.torque else "n_per_m"
    return {
        "made_by": MADE_BY,
        "schema_version": SCHEMA,
        "program_version": origin.version,
        "file": origin.file,
        "input_sha256": origin.sha256,
        "title": found.sheet.case.title,
        "caution": caution,
        "rig": {"kind": rig.asked.kind.value, "words": title(found.sheet)},
        f"stiffness_{unit}": None if found.stiffness is None else amount(found.stiffness),
        f"expected_stiffness_{unit}": band(found.sheet.stiffness),
        "ratio": found.ratio,
        "pairs": [
            {"name": plane.name, "x_m": plane.x, "span_m": plane.span, "turn_rad_per_n": None if slope is None else slope.value,
             "turn_sigma_rad_per_n": None if slope is None else slope.sigma,
             "stiffness_nm_per_rad": None if each is None or not isfinite(each.value) else amount(each)}
            for plane, slope, each in zip(rig.planes, found.turn_slopes, found.pairs, strict=True)
        ],
        "bays": [bay(each) for each in found.bays],
        "dials": [
            {"letter": letter(row), "name": dial.name, "slope_m_per_n": None if slope is None else slope.value,
             "sigma_m_per_n": None if slope is None else slope.sigma,
             "expected_m_per_n": float(found.sheet.dials.mid[row, -1] / found.sheet.loads[-1])}
            for row, (dial, slope) in enumerate(zip(rig.dials, found.slopes, strict=True))
        ],
        "findings": [
            {"what": each.odd.value, "dial": each.dial or None, "value": each.value, "limit": each.limit} for each in found.findings
        ],
    }  # fmt: skip


def amount(of: Amount) -> Record:
    """Return a measured number with its standard deviations."""
    return {"value": of.value, "scatter": of.scatter, "sigma": of.sigma}


def bay(of: Bay) -> Record:
    """Return a bay beside what is expected."""
    return {"from": of.first, "to": of.second, "ratio": amount(of.ratio), "low": of.low, "high": of.high, "off": of.is_off,
            "crossmembers": list(of.crossmembers)}  # fmt: skip
