"""The numbers that a whole frame is compared by, from its JSON: movements of its points and mean stress of its left rail's walls."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

POINTS = ("lr", "l2", "r2", "l3", "r3")
STATIONS = {"front": 0.5, "kick": 1.2, "rear": 1.4 + 2.2 - 1.375877}
"""Along the left rail, m: each two depths and more from any crossmember or kink."""
HEIGHT, WIDTH = 0.096, 0.048
LEAST_MOVE, LEAST_STRESS = 0.1, 0.2
"""Share of the load case's largest movement or stress under which a number is not compared by itself."""


def movements(written: Mapping[str, Any], case: str) -> dict[str, list[float]]:
    """Return the movements of the points, mm: the mean of both bounds of what the file leaves open (the channel's warping)."""
    rows = [each["points"] for each in written["load_cases"] if each["name"] == case]
    moves = {name: np.mean([np.array(each[name]["displacement_m"]) for each in rows], axis=0) * 1000 for name in POINTS}
    return {name: each.round(6).tolist() for name, each in moves.items()}


def wall_stresses(written: Mapping[str, Any], case: str) -> dict[str, list[float]]:
    """Return the mean stress along the left rail in its top, right, bottom and left wall, MPa: N / A, and M / I times the distance."""
    section = written["sections"]["rail"]
    rows = [each for each in written["member_forces"] if each["member"] == "left rail" and each["load_case"] == case]
    found = {}
    bounds = sorted({each["bound"] for each in rows})
    for name, station in STATIONS.items():
        forces = np.mean([forces_at([each for each in rows if each["bound"] == bound], station) for bound in bounds], axis=0)
        pull = forces[0] / section["area_m2"]
        up, left = forces[1] / section["i_vertical_m4"] * HEIGHT / 2, forces[2] / section["i_sideways_m4"] * WIDTH / 2
        found[name] = [round(float(each) / 1e6, 5) for each in (pull + up, pull - left, pull - up, pull + left)]
    return found


def forces_at(rows: list[Mapping[str, Any]], station: float) -> list[float]:
    """Return N, bending vertically and sideways at a station of a member, straight between the rows beside it."""
    places = [each["station_m"] for each in rows]
    keys = "axial_n", "bending_vertical_nm", "bending_sideways_nm"
    return [float(np.interp(station, places, [each[key] for each in rows])) for key in keys]
