"""Shell reference for kinked tubes. openseespy: installed by hand, no dependency (see shells.py).

Both legs are meshed, each wall on its middle line, sharp corners: 400 mm on the axis from the kink; one end held all round, the
other a rigid plate with 100 Nm. Axes at the kink: x the mean direction, y towards the inside of the turn, z square to both. turns:
of the plate about z (in plane), y (out of plane), x (torsion), each under its own moment; straight: the same three of the unbent
tube, in the same axes of the section (tilt: from the height to the kink's plane). Usage: python kink.py > rows.yaml
"""

from __future__ import annotations

import sys
from math import ceil, cos, pi, radians, sin, tan

import numpy as np
from shells import NU

E, LEG, MESH = 205e3, 400.0, 4.0
Case = dict[str, float]


def around(case: Case) -> np.ndarray:
    """Return the section's middle line: points (n, 2), left and up, mm."""
    if "diameter" in case:
        turns = np.arange(48) * 2 * pi / 48
        return case["diameter"] / 2 * np.stack((-np.sin(turns), np.cos(turns)), axis=1)
    wide, high = case["width"] / 2, case["height"] / 2
    corners = np.array([[wide, high], [-wide, high], [-wide, -high], [wide, -high]])
    sides = zip(corners, np.roll(corners, -1, axis=0), strict=True)
    counts = [2 * max(4, round(side / MESH / 2)) for side in (case["width"], case["height"])] * 2
    return np.concatenate([np.linspace(a, b, n, endpoint=False) for (a, b), n in zip(sides, counts, strict=True)])


def steps(first: float, last: float, most: float) -> np.ndarray:
    """Return places from nought to last that grow from `first` apart to `most`."""
    places, step = [0.0], first
    while places[-1] < last:
        places.append(places[-1] + step)
        step = min(step * 1.1, most)
    return np.array(places) * last / places[-1]


def one_leg(case: Case, turn: float) -> np.ndarray:
    """Return the places (rows, n, 3) of the leg ahead, from the kink's middle plane to its end."""
    line, half = around(case), turn / 2
    tilt, radius = radians(case.get("tilt", 0.0)), case.get("radius", 0.0)
    inward, square = line[:, 0] * sin(tilt) + line[:, 1] * cos(tilt), line[:, 1] * sin(tilt) - line[:, 0] * cos(tilt)
    if radius and turn:
        arc = np.linspace(0.0, radius * half, max(6, ceil(radius * half / MESH)) + 1)
        lines = np.concatenate((arc, arc[-1] + steps(MESH, LEG - radius * tan(half), 10.0)[1:]))
        turns = np.minimum(lines / radius, half)
        further, slant = lines - radius * turns, np.zeros(len(lines))
        middle_y = radius / cos(half)
    else:
        lines = steps(MESH, LEG, 10.0)
        turns, further = np.full(len(lines), half), lines
        slant = tan(half) * np.clip(1 - lines / 160.0, 0.0, 1.0)
        middle_y, radius = 0.0, 0.0
    zero = np.zeros(len(lines))
    ways, inside = np.stack((np.cos(turns), np.sin(turns), zero), 1), np.stack((-np.sin(turns), np.cos(turns), zero), 1)
    middle = np.array([0.0, middle_y, 0.0]) - radius * inside + further[:, None] * ways
    moved = inward[:, None] * inside[:, None] + (slant[:, None] * inward)[..., None] * ways[:, None]
    return middle[:, None] + moved + square[:, None] * np.array([0.0, 0.0, 1.0])


def turns_of(case: Case, turn: float) -> list[float]:
    """Return the plate's turns in plane, out of plane and of torsion under 100 Nm each, rad."""
    import openseespy.opensees as ops

    ahead = one_leg(case, turn)
    behind = (ahead * np.array([-1.0, 1.0, 1.0]))[:0:-1]
    places = np.concatenate((behind, ahead))
    rows, n = places.shape[:2]
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    for tag, place in enumerate(places.reshape(-1, 3), 1):
        ops.node(tag, *map(float, place))
    ops.section("ElasticMembranePlateSection", 1, E, NU, case["wall"], 0.0)
    ops.section("ElasticMembranePlateSection", 2, E, NU, case.get("plate", case["wall"]), 0.0)
    element = 0
    for row in range(rows - 1):
        for k in range(n):
            a, b, c, d = (row * n + k + 1, (row + 1) * n + k + 1, (row + 1) * n + (k + 1) % n + 1, row * n + (k + 1) % n + 1)
            element += 1
            ops.element("ShellMITC4", element, a, b, c, d, 1)
    if case.get("plate") and turn:
        element = plate(case, places, (len(behind), n), element)
    for k in range(n):
        ops.fix(k + 1, *[1] * 6)
    master = rows * n + 100000
    ops.node(master, *map(float, places[-1].mean(axis=0)))
    for k in range(n):
        ops.rigidLink("beam", master, (rows - 1) * n + k + 1)
    return [solved(master, way) for way in (5, 4, 3)]


def plate(case: Case, places: np.ndarray, at: tuple[int, int], element: int) -> int:
    """Add the plate in the middle plane on the ring that lies there; return the last element's tag."""
    import openseespy.opensees as ops

    row, n = at
    wide, high = (2 * max(4, round(side / MESH / 2)) for side in (case["width"], case["height"]))
    ring = places[row]
    top, bottom = ring[: wide + 1], np.concatenate((ring[wide + high :][: wide + 1],))[::-1]
    number = {}
    for i in range(wide + 1):
        for j in range(high + 1):
            if j == 0:
                number[i, j] = row * n + i + 1
            elif i == wide:
                number[i, j] = row * n + wide + j + 1
            elif j == high:
                number[i, j] = row * n + wide + high + (wide - i) + 1
            elif i == 0:
                number[i, j] = row * n + (2 * wide + high + (high - j)) % n + 1
            else:
                number[i, j] = 1_000_000 + i * 1000 + j
                ops.node(number[i, j], *map(float, top[i] + (bottom[i] - top[i]) * j / high))
    for i in range(wide):
        for j in range(high):
            element += 1
            ops.element("ShellMITC4", element, number[i, j], number[i + 1, j], number[i + 1, j + 1], number[i, j + 1], 2)
    return element


def solved(node: int, way: int) -> float:
    """Return the turn of a node (way 3 to 5) under 100 Nm about the same axis."""
    import openseespy.opensees as ops

    ops.remove("loadPattern", 1)
    ops.remove("timeSeries", 1)
    ops.reset()
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    ops.load(node, *[1e5 if each == way else 0.0 for each in range(6)])
    ops.wipeAnalysis()
    for name, arguments in (("system", ["UmfPack"]), ("numberer", ["RCM"]), ("constraints", ["Transformation"]),
                            ("integrator", ["LoadControl", 1.0]), ("algorithm", ["Linear"])):  # fmt: skip
        getattr(ops, name)(*arguments)
    ops.analysis("Static", "-noWarnings")
    if ops.analyze(1) != 0:
        raise RuntimeError("the shell model could not be solved")
    return float(ops.nodeDisp(node, way + 1))


BOX = {"height": 97.0, "width": 47.0, "wall": 3.0}
CASES: list[Case] = [
    {**BOX, "kink_deg": 30.0},
    {**BOX, "kink_deg": 30.0, "plate": 3.0},
    {**BOX, "kink_deg": 30.0, "tilt": 90.0},
    {**BOX, "kink_deg": 30.0, "tilt": 20.0},
    {**BOX, "kink_deg": 30.0, "tilt": 20.0, "plate": 3.0},
    {"height": 76.0, "width": 76.0, "wall": 4.0, "kink_deg": 22.5},
    {"height": 120.0, "width": 60.0, "wall": 4.0, "kink_deg": 40.0},
    {"height": 48.0, "width": 72.0, "wall": 2.0, "kink_deg": 20.0},
    {"height": 60.0, "width": 40.0, "wall": 5.0, "kink_deg": 60.0},
    {"height": 72.0, "width": 36.0, "wall": 2.5, "kink_deg": 35.0, "plate": 6.0},
    {**BOX, "kink_deg": 30.0, "radius": 150.0},
    {**BOX, "kink_deg": 45.0, "radius": 250.0},
    {"height": 48.0, "width": 48.0, "wall": 3.0, "kink_deg": 60.0, "radius": 120.0},
    {"diameter": 57.0, "wall": 3.0, "kink_deg": 30.0},
    {"diameter": 57.0, "wall": 3.0, "kink_deg": 45.0, "radius": 120.0},
]

if __name__ == "__main__":
    for case in CASES:
        found = turns_of(case, radians(case["kink_deg"]))
        straight = turns_of(case, 0.0)
        row = {**case, "turns": [float(f"{each:.5g}") for each in found], "straight": [float(f"{each:.5g}") for each in straight]}
        print("- {" + ", ".join(f"{key}: {value}" for key, value in row.items()) + "}", flush=True)
        sys.stdout.flush()
