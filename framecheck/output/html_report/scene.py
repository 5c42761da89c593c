"""The data of the report's view in three dimensions: the frame, what it uses and how it moves in every load case, what acts on it."""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.chart import ABOVE, WORSE
from framecheck.output.charts.frame_chart import allowed_used, arms, own_scale
from framecheck.output.display import Units, shown_unit
from framecheck.output.html_report.tables import spread
from framecheck.output.wording import percent
from framecheck.results.free_body import free_body
from framecheck.results.summary import governing_bound, load_case_rows
from framecheck.run import Results
from framecheck.stress import MemberStress, SolvedCase

PLACES_DIGITS = 4
MOVED_STEP, USED_STEP = 1e-5, 1e-3
"""Movements are counted in hundredths of a millimetre, shares in thousandths."""
MOST_STATIONS = 18
"""About so many stations of a member are shown."""
MOST_PUSHES = 14
"""So many forces of a load case are drawn, the largest."""
UNITS = {"length": "length", "moved": "deflection", "force": "force"}


def scene_json(results: Results, units: Units) -> str:
    """Return the view's data as JSON that may stand in a script element."""
    return json.dumps(scene(results, units), allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")


def scene(results: Results, units: Units) -> dict[str, Any]:
    """Return the view's data: load cases governing first; movements in m, used as a share of what is allowed on yield."""
    outcome = results.outcome
    bound = governing_bound(outcome, results.governing)
    names = [loads.name for loads in outcome.loads]
    rows = [row for row in load_case_rows(outcome, results.rows) if row.load_case in names]
    order = [names.index(row.load_case) for row in rows if row.load_case is not None]
    frame = outcome.case.frame
    return {
        "cases": [names[number] for number in order],
        "governs": [
            "" if row.worst is None else f"{row.worst.where}, {row.worst.check.words}: {percent(row.worst.used)}" for row in rows
        ],
        "scales": [round(own_scale(outcome, bound, number), 3) for number in order],
        "steps": [MOVED_STEP, USED_STEP],
        "colours": WORSE,
        "above": ABOVE,
        "units": {name: [shown_unit(kind, units).label, shown_unit(kind, units).size] for name, kind in UNITS.items()},
        "points": {name: rounded(np.array(at), PLACES_DIGITS) for name, at in frame.points.items()},
        "members": [member(outcome, stress, order) for stress in outcome.stresses[bound]],
        "arms": stiff_arms(results, bound, order),
        "pushes": [pushes(results, bound, number) for number in order],
    }


def member(outcome: SolvedCase, stress: MemberStress, order: list[int]) -> dict[str, Any]:
    """Return a member at some of its stations, those where any load case uses most among them."""
    share = np.stack([allowed_used(outcome, stress, number) for number in order])
    chosen = sorted({*spread(len(stress.forces.stations), MOST_STATIONS), *np.argmax(share, axis=1).tolist()})
    moved = stress.forces.displacements[chosen]
    return {
        "name": stress.forces.member,
        "stations": rounded(stress.forces.stations[chosen], PLACES_DIGITS),
        "places": rounded(stress.forces.places[chosen], PLACES_DIGITS),
        "moved": [counted(moved[:, number], MOVED_STEP) for number in order],
        "used": [counted(row[chosen], USED_STEP) for row in share],
    }


def counted(values: Array, step: float) -> list[Any]:
    """Return an array as nested lists of whole steps, so that the file stays small."""
    found: list[Any] = np.round(values / step).astype(np.int64).tolist()
    return found


def pushes(results: Results, bound: int, case: int) -> list[list[Any]]:
    """Return the largest forces on the frame in a load case: where, place, force, and 1 for a support's."""
    found = free_body(results.outcome, bound, case).pushes[:MOST_PUSHES]
    return [[each.where, rounded(each.at, 3), rounded(each.force, 1), int(each.is_reaction)] for each in found if each.size > 0]


def stiff_arms(results: Results, bound: int, order: list[int]) -> list[dict[str, Any]]:
    """Return the lines that join member ends to frame points, per load case."""
    by_case = [arms(results.outcome, bound, number) for number in order]
    return [
        {
            "places": rounded(each[0][0], PLACES_DIGITS),
            "moved": [counted(moved, MOVED_STEP) for _, moved in each],
        }
        for each in zip(*by_case, strict=True)
    ]


def rounded(values: Array, digits: int) -> list[Any]:
    """Return an array as nested lists, rounded, so that the file stays small."""
    found: list[Any] = np.round(values, digits).tolist()
    return found
