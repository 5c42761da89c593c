"""The data of the report's view in three dimensions: the frame, what it uses and how it moves in every load case, what acts on it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.along import COMPONENTS, USE
from framecheck.output.charts.chart import ABOVE, WORSE
from framecheck.output.charts.forces_chart import LEAST_TURN
from framecheck.output.charts.frame_chart import allowed_used, arms, own_scale
from framecheck.output.display import Units, shown_unit
from framecheck.output.html_report.force_table import by_size
from framecheck.output.html_report.tables import plain, spread
from framecheck.output.wording import percent
from framecheck.results.free_body import Push, free_body
from framecheck.results.summary import drawn_on_member, governing_bound, load_case_rows
from framecheck.run import Results
from framecheck.stress import MemberStress, SolvedCase

PLACES_DIGITS = 4
MOVED_STEP, USED_STEP, FORCE_STEP = 1e-5, 1e-3, 1.0
"""Movements are counted in hundredths of a millimetre, shares in thousandths, forces and moments in N and Nm."""
LEAST_STATIONS = 9
"""So many stations of a member are shown at least."""
MOST_PUSHES = 14
"""So many forces of a load case are drawn, the largest."""
UNITS = {"station": "station", "moved": "deflection", "force": "force", "moment": "moment"}


def scene_json(frames: Sequence[tuple[str, Results]], units: Units) -> str:
    """Return the data of a view of one frame or several, each with its title, as JSON that may stand in a script element."""
    found = [scene(title, results, units) for title, results in frames]
    return json.dumps(found, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")


def scene(title: str, results: Results, units: Units) -> dict[str, Any]:
    """Return a frame's data: load cases governing first; movements and shares of what is allowed on yield in whole steps."""
    outcome = results.outcome
    bound = governing_bound(outcome, results.governing)
    names = [loads.name for loads in outcome.loads]
    rows = [row for row in load_case_rows(outcome, results.rows) if row.load_case in names]
    order = [names.index(row.load_case) for row in rows if row.load_case is not None]
    worst = drawn_on_member(outcome, results.rows)
    return {
        "title": title,
        "first": None if worst is None else worst.subject.name,
        "cases": [names[number] for number in order],
        "governs": [
            "" if row.worst is None else f"{row.worst.where}, {row.worst.check.words}: {percent(row.worst.used)}" for row in rows
        ],
        "scales": [round(own_scale(outcome, bound, number), 3) for number in order],
        "steps": [MOVED_STEP, USED_STEP],
        "colours": WORSE,
        "above": ABOVE,
        "rows": [*(force_row(name, kind, units) for name, (_, kind) in COMPONENTS.items()), [USE, 100 * USED_STEP]],
        "units": {name: [shown_unit(kind, units).label, shown_unit(kind, units).size] for name, kind in UNITS.items()},
        "points": {name: rounded(np.array(at), PLACES_DIGITS) for name, at in outcome.case.frame.points.items()},
        "members": [member(outcome, stress, order) for stress in outcome.stresses[bound]],
        "arms": stiff_arms(results, bound, order),
        "pushes": [pushes(results, bound, number) for number in order],
    }


def force_row(name: str, kind: str, units: Units) -> list[Any]:
    """Return the name of a section force with its unit, and what a step of it is in that unit."""
    unit = shown_unit(kind, units)
    return [f"{name}, {unit.label}", FORCE_STEP / unit.size]


def member(outcome: SolvedCase, stress: MemberStress, order: list[int]) -> dict[str, Any]:
    """Return a member at some of its stations: both sides of every jump, and where any load case uses most."""
    share = np.stack([allowed_used(outcome, stress, number) for number in order])
    stations = stress.forces.stations
    chosen = sorted({*jumps(stations), *spread(len(stations), LEAST_STATIONS), *np.argmax(share, axis=1).tolist()})
    moved, forces = stress.forces.displacements[chosen], stress.forces.member_forces[chosen]
    return {
        "name": stress.forces.member,
        "stations": rounded(stations[chosen], PLACES_DIGITS),
        "places": rounded(stress.forces.places[chosen], PLACES_DIGITS),
        "moved": [counted(moved[:, number], MOVED_STEP) for number in order],
        "used": [counted(row[chosen], USED_STEP) for row in share],
        "forces": [
            [counted(plain(forces[:, number, column]), FORCE_STEP) for column, _ in COMPONENTS.values()] for number in order
        ],
    }


def jumps(stations: Array) -> list[int]:
    """Return the numbers of stations at one place, where a force or the section may jump."""
    same = np.flatnonzero(np.diff(stations) < 1e-9)
    return sorted({*same.tolist(), *(same + 1).tolist()})


def counted(values: Array, step: float) -> list[Any]:
    """Return an array as nested lists of whole steps, so that the file stays small."""
    found: list[Any] = np.round(values / step).astype(np.int64).tolist()
    return found


def pushes(results: Results, bound: int, case: int) -> list[list[Any]]:
    """Return the largest forces and moments on the frame in a load case: where, place, force, 1 for a support's, moment (0: none)."""
    body = free_body(results.outcome, bound, case)
    return [
        [each.where, rounded(each.at, 3), rounded(each.force, 1), int(each.is_reaction), turning(each, body.turning)]
        for each in by_size(body)[:MOST_PUSHES]
    ]


def turning(push: Push, most: float) -> Any:
    """Return a moment where a picture of the whole shows it, else 0. most: the most that one turns the whole, Nm."""
    return rounded(push.moment, 1) if float(np.linalg.norm(push.moment)) > LEAST_TURN * most > 0 else 0


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
