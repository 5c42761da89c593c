"""Shell reference for three box tubes that meet at one point. openseespy: installed by hand, no dependency (see shells.py).

All axes lie in the plane of x and y, heights along z, walls on their middle lines, sharp corners; legs LEG long on the axis from
the point to rigid plates. mitred: each wall meets its neighbours' at the plane midway between them, nothing inside. through: the
first tube runs past the point to an open end `past` beyond the feet of the other two, which are cut to its side walls and welded all
round. The plates of the second and the third tube are held. give: how far the first one's plate goes along x (the leg), y and z (mm)
and turns about them (rad) under 1 kN or 1 kNm along and about each. Usage: python star.py > rows.yaml
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, radians, sin
from typing import Any

import numpy as np
import openseespy.opensees as ops
from shells import Shell

E, LEG, MESH = 205e3, 400.0, 5.0
Case = dict[str, Any]


def grid(shell: Shell, places: np.ndarray, wall: float) -> None:
    """Mesh a grid of places (m, n, 3)."""
    tags = [[shell.node(tuple(map(float, each))) for each in row] for row in places]
    for i in range(len(tags) - 1):
        for j in range(len(tags[0]) - 1):
            shell.elements += 1
            corners = tags[i][j], tags[i + 1][j], tags[i + 1][j + 1], tags[i][j + 1]
            ops.element("ShellMITC4", shell.elements, *corners, shell.section(wall))


def count(size: float) -> int:
    """Return an even number of elements over a size."""
    return 2 * max(3, round(size / MESH / 2))


def growing(first: float, last: float, rows: int = 44) -> np.ndarray:
    """Return shares from 0 to 1 that grow."""
    shares = np.linspace(0.0, 1.0, rows + 1) ** 1.5
    return first + (last - first) * shares


def leg(shell: Shell, way: np.ndarray, sizes: tuple[float, float, float], starts: tuple[float, float], n: tuple[int, int]) -> None:
    """Mesh one tube from where it starts on its axis at its right and left side to its end."""
    height, width, wall = sizes
    left, up = np.array([-way[1], way[0], 0.0]), np.array([0.0, 0.0, 1.0])
    across, high = np.linspace(-width / 2, width / 2, n[0] + 1), np.linspace(-height / 2, height / 2, n[1] + 1)
    begin = starts[0] + (starts[1] - starts[0]) * (across / width + 0.5)
    along = np.array([growing(each, LEG) for each in begin]).T
    flat = along[..., None] * way + across[None, :, None] * left
    for z in (height / 2, -height / 2):
        grid(shell, flat + z * up, wall)
    for side in (0, -1):
        grid(shell, flat[:, side, None, :] + high[None, :, None] * up, wall)


def mitred(case: Case) -> Shell:
    """Return three tubes mitred at their point."""
    shell = Shell(MESH, E)
    angles = [radians(each) for each in case["angles"]]
    height, width, wall = case["height"], case["width"], case["wall"]
    n = count(width), count(height)
    ways = [np.array([cos(each), sin(each), 0.0]) for each in angles]
    corners = []
    for one, other in zip(angles, [*angles[1:], angles[0] + 2 * pi], strict=True):
        half, middle = (other - one) / 2, (other + one) / 2
        corners.append(np.array([cos(middle), sin(middle), 0.0]) * width / 2 / sin(half))
    for number, way in enumerate(ways):
        leg(shell, way, (height, width, wall), (float(corners[number - 1] @ way), float(corners[number] @ way)), n)
    triangle = [corners[2], corners[0], corners[1]]
    middle, m = np.mean(triangle, axis=0), n[0] // 2
    for k in range(3):
        a, b, c = triangle[k], triangle[(k + 1) % 3], triangle[k - 1]
        u, v = (np.linspace(0.0, 1.0, m + 1) for _ in range(2))
        s, t = np.meshgrid(u, v, indexing="ij")
        quad = (a, (a + b) / 2, middle, (a + c) / 2)
        weights = ((1 - s) * (1 - t), s * (1 - t), s * t, (1 - s) * t)
        places = sum(w[..., None] * q for w, q in zip(weights, quad, strict=True))
        for z in (height / 2, -height / 2):
            grid(shell, places + np.array([0.0, 0.0, z]), wall)
    return shell


def lines(marks: list[float], most: float) -> np.ndarray:
    """Return places between marks, at most so far apart."""
    found = [marks[0]]
    for a, b in pairwise(marks):
        found += list(np.linspace(a, b, max(1, round((b - a) / most)) + 1)[1:])
    return np.array(found)


def through(case: Case) -> Shell:
    """Return the first tube run past the point, the other two on its side walls, at equal angles to it."""
    shell = Shell(MESH, E)
    height, width, wall = case["height"], case["width"], case["wall"]
    low, narrow, thin = case["branch"]
    n = count(narrow), count(low)
    marks = {LEG}
    feet = []
    for angle in case["angles"][1:]:
        lean = radians(angle)
        side = 1.0 if sin(lean) > 0 else -1.0
        reach = [(width / 2 * side + v * -cos(lean)) / sin(lean) for v in (-narrow / 2, narrow / 2)]
        feet.append((np.array([cos(lean), sin(lean), 0.0]), (reach[0], reach[1])))
        edges = sorted(r * cos(lean) - v * sin(lean) for r, v in zip(reach, (-narrow / 2, narrow / 2), strict=True))
        marks |= {round(each, 6) for each in edges}
    first = sorted(marks)[:2]
    x = np.concatenate((lines([first[0] - case["past"], first[0]], MESH)[:-1], np.linspace(*first, n[0] + 1)[:-1],
                        growing(first[1], LEG)))  # fmt: skip
    y = np.linspace(-width / 2, width / 2, count(width) + 1)
    edge = [-height / 2, -low / 2, low / 2, height / 2]
    z = np.concatenate((lines(edge[:2], MESH)[:-1], np.linspace(*edge[1:3], n[1] + 1)[:-1], lines(edge[2:], MESH)))
    if height - low < 1.0:
        z = np.linspace(-height / 2, height / 2, n[1] + 1)
    for up in (height / 2, -height / 2):
        grid(shell, np.stack(np.broadcast_arrays(x[:, None], y[None], up), -1), wall)
    for side in (width / 2, -width / 2):
        grid(shell, np.stack(np.broadcast_arrays(x[:, None], side, z[None]), -1), wall)
    for way, starts in feet:
        leg(shell, way, (low, narrow, thin), starts, n)
    return shell


def master(shell: Shell, way: np.ndarray, height: float, width: float, tag: int) -> int:
    """Tie a leg's end to one node at its middle."""
    centre, left = way * LEG, np.array([-way[1], way[0], 0.0])
    ops.node(tag, *map(float, centre))
    for key, slave in shell.tags.items():
        off = np.array(key) / 1000 - centre
        if abs(off @ way) < 1e-2 and abs(off @ left) < width / 2 + 0.01 and abs(off[2]) < height / 2 + 0.01:
            ops.rigidLink("beam", tag, slave)
    return tag


def give_of(shell: Shell, case: Case) -> list[float]:
    """Return the six gives of the first leg's plate."""
    ways = [np.array([cos(radians(each)), sin(radians(each)), 0.0]) for each in case["angles"]]
    low, narrow, _ = case.get("branch", (case["height"], case["width"], 0))
    for number, way in enumerate(ways[1:]):
        ops.fix(master(shell, way, low, narrow, 20_000_001 + number), *[1] * 6)
    node = master(shell, ways[0], case["height"], case["width"], 20_000_000)
    found = []
    for k in range(6):
        load = [0.0] * 6
        load[k] = 1e3 if k < 3 else 1e6
        found.append(float(shell.solve(node, tuple(load))[k]))
    return found


Y = [0.0, 120.0, 240.0]
CASES: list[Case] = [
    {"make": "mitred", "height": 57.0, "width": 37.0, "wall": 3.0, "angles": Y},
    {"make": "mitred", "height": 37.0, "width": 57.0, "wall": 3.0, "angles": Y},
    {"make": "mitred", "height": 78.0, "width": 78.0, "wall": 2.0, "angles": Y},
    {"make": "mitred", "height": 57.0, "width": 37.0, "wall": 3.0, "angles": [0.0, 100.0, 230.0]},
    {"make": "through", "height": 77.0, "width": 57.0, "wall": 3.0, "branch": [37.0, 37.0, 3.0], "past": 5.0, "angles": Y},
    {"make": "through", "height": 57.0, "width": 57.0, "wall": 3.0, "branch": [57.0, 37.0, 3.0], "past": 5.0, "angles": Y},
    {"make": "through", "height": 98.0, "width": 48.0, "wall": 2.0, "branch": [48.0, 48.0, 2.0], "past": 20.0, "angles": Y},
    {"make": "through", "height": 77.0, "width": 57.0, "wall": 4.0, "branch": [57.0, 37.0, 2.0], "past": 5.0,
     "angles": [0.0, 125.0, 235.0]},
]

if __name__ == "__main__":
    for case in CASES:
        give = give_of(mitred(case) if case["make"] == "mitred" else through(case), case)
        row = {**case, "give": [float(f"{each:.5g}") for each in give]}
        print("- {" + ", ".join(f"{key}: {value}" for key, value in row.items()) + "}", flush=True)
