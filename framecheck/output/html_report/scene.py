"""What the report's three-dimensional view is drawn from: lines, movements and use of strength, as plain numbers."""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.colours import STEPS
from framecheck.output.charts.space import arms, own_scale, used
from framecheck.results.summary import governing_bound, load_case_rows
from framecheck.run import Results

PLACES_DIGITS, MOVED_DIGITS, USED_DIGITS = 4, 7, 4


def scene_json(results: Results) -> str:
    """Return the view's data as JSON: members with their lines, and per load case movements and use of strength."""
    return json.dumps(scene(results), allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")


def scene(results: Results) -> dict[str, Any]:
    """Return the view's data: load cases governing first; movements in m, used as a share of the yield strength."""
    outcome = results.outcome
    bound = governing_bound(outcome, results.governing)
    names = [loads.name for loads in outcome.loads]
    order = [names.index(row.load_case) for row in load_case_rows(outcome, results.rows) if row.load_case in names]
    return {
        "cases": [names[number] for number in order],
        "scales": [round(own_scale(outcome, bound, number), 3) for number in order],
        "colours": STEPS,
        "members": [
            {
                "name": stress.forces.member,
                "places": rounded(stress.forces.places, PLACES_DIGITS),
                "moved": [rounded(stress.forces.displacements[:, number], MOVED_DIGITS) for number in order],
                "used": [rounded(used(stress, number), USED_DIGITS) for number in order],
            }
            for stress in outcome.stresses[bound]
        ],
        "arms": stiff_arms(results, bound, order),
    }


def stiff_arms(results: Results, bound: int, order: list[int]) -> list[dict[str, Any]]:
    """Return the lines that join member ends to frame points, per load case."""
    by_case = [arms(results.outcome, bound, number) for number in order]
    return [
        {
            "places": rounded(each[0][0], PLACES_DIGITS),
            "moved": [rounded(moved, MOVED_DIGITS) for _, moved in each],
        }
        for each in zip(*by_case, strict=True)
    ]


def rounded(values: Array, digits: int) -> list[Any]:
    """Return an array as nested lists, rounded, so that the file stays small."""
    found: list[Any] = np.round(values, digits).tolist()
    return found
