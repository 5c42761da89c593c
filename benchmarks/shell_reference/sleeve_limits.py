"""Limit loads of bolts through one tube in another, by linear programming (static theorem). By hand, needs scipy alone.

Every crossing of a bolt from tube to tube pushes in the walls' plane by HOLD at most (friction of one face), whichever way; what
acts along the bolts the walls pass on. The load grows until no forces at the crossings balance it. How stiff the tubes are, and which
crossing slips first, does not count. Seeded: random.Random(4711).
Usage: python sleeve_limits.py > tests/verification/sleeve_limits.yaml
"""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import scipy
from scipy.optimize import linprog

HOLD, SIDES = 8000.0, 96


def sleeves(count: int) -> list[dict[str, Any]]:
    """Return sleeves at random, mm, N, Nm: six components alone in turn, then all at once."""
    rng = random.Random(4711)
    found = []
    for number in range(count):
        facing = rng.choice(("left", "up"))
        depth, width, wall, inner = rng.uniform(40, 110), rng.uniform(40, 110), rng.uniform(2, 6), rng.uniform(2, 6)
        columns, rows = rng.choice((1, 2, 2, 3, 4)), rng.choice((1, 1, 2))
        rows = 2 if columns == 1 else rows
        pitch, gauge, edge = rng.uniform(35, 120), rng.uniform(0.3, 0.55) * width * (rows == 2), rng.uniform(20, 40)
        spots = [(edge + pitch * a, gauge * (b - (rows - 1) / 2)) for a in range(columns) for b in range(rows)]
        load = [rng.uniform(-8e3, 8e3) for _ in range(3)] + [rng.uniform(-1200, 1200) for _ in range(3)]
        load = [each if number % 7 in (axis, 6) else 0.0 for axis, each in enumerate(load)]
        found.append(
            {
                "facing": facing,
                "depth_mm": round(depth, 3),
                "width_mm": round(width, 3),
                "walls_mm": [round(wall, 3), round(inner, 3)],
                "length_mm": round(2 * edge + pitch * (columns - 1), 3),
                "spots_mm": [[round(x, 3), round(y, 3)] for x, y in spots],
                "load": [round(each, 3) for each in load],
            }
        )
    return found


def limit(row: dict[str, Any]) -> float:
    """Return the largest factor on a load that crossings of HOLD balance."""
    across = 1 if row["facing"] == "left" else 2
    lever = row["depth_mm"] - 2 * row["walls_mm"][0]
    places = []
    for x, aside in row["spots_mm"]:
        for side in (1, -1):
            at = np.array([x, 0.0, 0.0])
            at[across], at[3 - across] = side * lever / 2, aside * (-1 if across == 1 else 1)
            places.append(at)
    middle = np.mean(places, axis=0)
    ways = [axis for axis in range(3) if axis != across]
    columns = [np.array(row["load"]) * np.repeat((1.0, 1e3), 3)]
    for at in places:
        columns += [-wrench(at, axis) for axis in ways]
    columns.append(-wrench(middle, across))
    size = np.repeat((1.0, 1e-2), 3)
    within = np.zeros((len(places) * SIDES, len(columns)))
    for number in range(len(places)):
        for corner in range(SIDES):
            angle = 2 * math.pi * corner / SIDES
            within[number * SIDES + corner, 1 + 2 * number : 3 + 2 * number] = math.cos(angle), math.sin(angle)
    aim = np.zeros(len(columns))
    aim[0] = -1.0
    free = [(0, None), *[(None, None)] * (len(columns) - 1)]
    balance = np.array(columns).T * size[:, None]
    reach = np.full(len(within), HOLD * math.cos(math.pi / SIDES))  # inside the circle: from below
    return float(linprog(aim, A_ub=within, b_ub=reach, A_eq=balance, b_eq=np.zeros(6), bounds=free, method="highs").x[0])


def wrench(at: np.ndarray, axis: int) -> np.ndarray:
    """Return force and moment about the mouth of the outer tube of a unit push."""
    push = np.eye(3)[axis]
    return np.concatenate((push, np.cross(at, push)))


if __name__ == "__main__":
    print("# Limit loads of bolts through one tube in another, by benchmarks/shell_reference/sleeve_limits.py (scipy")
    print(f"# {scipy.__version__}, seeded). Computed for this project, not published. limit: the factor on the load (N, Nm) at which")
    print("# crossings of 8 kN each give way.")
    for each in sleeves(28):
        print("- {" + ", ".join(f"{key}: {value}" for key, value in each.items()) + f", limit: {limit(each):.5g}}}", flush=True)
