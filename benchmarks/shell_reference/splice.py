"""Shell reference for two box tubes that lap. openseespy: by hand, no dependency (see shells.py).

Tubes along x, walls on their middle lines, mm. The first from x = 0 (held all round), the second to a rigid plate at the loaded end;
they lap over `lap` after `out` of the first alone. Side by side: facing walls touch, what joins them is rigid pair by pair, along the
edges of the lower tube, across both ends, or at discs. Mesh 6 mm, 4 mm where there are discs.
In each other: discs in walls that lie on one another, a weld round the mouth of the outer one, corners that bear (move alike across).
Turn of the plate about x, y, z under 100 Nm about each.
Usage: python splice.py [count] > rows.yaml (seeded: random.Random(15))
"""

from __future__ import annotations

import random
import sys
from itertools import pairwise
from typing import Any

import numpy as np
import openseespy.opensees as ops
import shells
from shells import Shell

shells.E = 205e3  # N/mm2
MOMENT = 1e5


def lines(low: float, high: float, mesh: float, through: tuple[float, ...] = ()) -> np.ndarray:
    """Return grid lines about `mesh` apart, one at each place asked for."""
    stops = sorted({low, high, *through})
    parts = [np.linspace(a, b, max(1, round((b - a) / mesh)) + 1)[:-1] for a, b in pairwise(stops)]
    return np.concatenate((*parts, [high]))


def tube(shell: Shell, key: int, size: tuple[float, float, float], x: np.ndarray, y: float, z: np.ndarray) -> dict[Any, int]:
    """Mesh a tube; return tags by (x, y, z) rounded; a tube's nodes are its own (made in a layer far off, then moved)."""
    height, width, wall = size
    across = lines(-width / 2, width / 2, shell.mesh, (0.0,))
    ring = [(y + width / 2, b) for b in z[:-1]] + [(y - a, height / 2) for a in across[:-1]]
    ring += [(y - width / 2, -b) for b in -z[:0:-1]] + [(y + a, -height / 2) for a in across[:-1]]
    tags: dict[Any, int] = {}
    base = 100_000 * key
    for i, a in enumerate(x):
        for j, (b, c) in enumerate(ring):
            tag = base + i * len(ring) + j + 1
            ops.node(tag, float(a), float(b), float(c))
            tags[round(a, 4), round(b, 4), round(c, 4)] = tag
    made = shell.section(wall)
    for i in range(len(x) - 1):
        for j in range(len(ring)):
            k = (j + 1) % len(ring)
            shell.elements += 1
            at = base + i * len(ring) + 1
            ops.element("ShellMITC4", shell.elements, at + j, at + len(ring) + j, at + len(ring) + k, at + k, made)
    return tags


def near(tags: dict[Any, int], x: float, y: float, z: float, radius: float, wall: int) -> list[int]:
    """Return the tags within a disc on a wall across y (1) or z (2)."""
    found = []
    for (a, b, c), tag in tags.items():
        aside = c - z if wall == 1 else b - y
        off = b - y if wall == 1 else c - z
        if abs(off) < 1e-3 and (a - x) ** 2 + aside**2 <= radius**2 * 1.0001:
            found.append(tag)
    return found


class Joined:
    """Nodes tied as rigid bodies: every tag belongs to one."""

    def __init__(self) -> None:
        self.done: set[int] = set()
        self.master = 9_000_000

    def body(self, tags: list[int]) -> None:
        """Tie nodes to a new master in their middle."""
        tags = [tag for tag in dict.fromkeys(tags) if tag not in self.done]
        self.done.update(tags)
        self.master += 1
        ops.node(self.master, *np.mean([ops.nodeCoord(tag) for tag in tags], axis=0).tolist())
        for tag in tags:
            ops.rigidLink("beam", self.master, tag)

    def alike(self, lead: int, follow: int) -> None:
        """Let two nodes move alike across the tubes."""
        if not {lead, follow} & self.done:
            ops.equalDOF(lead, follow, 2, 3)
            self.done.add(follow)


def turns(case: dict[str, Any], mesh: float = 6.0) -> list[float]:
    """Return the plate's turn about x, y, z in rad under 100 Nm about each."""
    shell = Shell(mesh)
    first, second, lap, out = case["first"], case["second"], case["lap"], case["out"]
    beside = case["how"] == "side by side"
    off = (first[1] + second[1]) / 2 + (first[2] + second[2]) / 2 if beside else 0.0
    start, mouth, end = out, out + lap, 2 * out + lap
    middle = out + lap / 2
    at = tuple(middle + each for each in case.get("spots", ()))
    inside = lines(start, mouth, mesh, at)
    low = min(first[0], second[0]) / 2
    z = [lines(-size[0] / 2, size[0] / 2, mesh, (0.0, -low, low) if beside else (0.0,)) for size in (first, second)]
    one = tube(shell, 1, first, np.concatenate((lines(0, start, mesh)[:-1], inside)), 0.0, z[0])
    two = tube(shell, 2, second, np.concatenate((inside[:-1], lines(mouth, end, mesh))), off, z[1])
    joined = Joined()
    joined.body([tag for (a, _, _), tag in two.items() if abs(a - end) < 1e-3])
    plate = joined.master
    holds = case["holds"]
    face = (first[1] / 2, off - second[1] / 2)
    for x in inside if "along the edges" in holds else ():
        for c in (-low, low):
            joined.body([one[round(x, 4), round(face[0], 4), round(c, 4)], two[round(x, 4), round(face[1], 4), round(c, 4)]])
    for x in (start, mouth) if "across the ends" in holds else ():
        for (a, b, c), tag in list(two.items()):
            if abs(a - x) < 1e-3 and abs(b - face[1]) < 1e-3 and abs(c) <= low + 1e-3 and tag not in joined.done:
                mate = one.get((round(x, 4), round(face[0], 4), c))
                if mate is not None:
                    joined.body([mate, tag])
    radius = case.get("diameter", 16.0) / 2
    for x in at:
        if beside:
            joined.body(near(one, x, face[0], 0.0, radius, 1) + near(two, x, face[1], 0.0, radius, 1))
            continue
        for wall in case["walls"]:
            for side in (1, -1):
                ys = [side * each[1] / 2 if wall == 1 else 0.0 for each in (first, second)]
                zs = [0.0 if wall == 1 else side * each[0] / 2 for each in (first, second)]
                joined.body(near(one, x, ys[0], zs[0], radius, wall) + near(two, x, ys[1], zs[1], radius, wall))
    if "round the mouth" in holds:
        outer, inner = (one, two) if first[0] > second[0] else (two, one)
        x = mouth if outer is one else start
        ring = [(key, tag) for key, tag in outer.items() if abs(key[0] - x) < 1e-3]
        for (_, b, c), tag in ring:
            mates = [(np.hypot(key[1] - b, key[2] - c), mate) for key, mate in inner.items() if abs(key[0] - x) < 1e-3]
            mate = min(mates)[1]
            if mate not in joined.done:
                joined.body([tag, mate])
    if "by their fit" in holds:
        for x in (start, mouth):
            for s in (1, -1):
                for u in (1, -1):
                    corner = [(round(x, 4), round(s * size[1] / 2, 4), round(u * size[0] / 2, 4)) for size in (first, second)]
                    joined.alike(one[corner[0]], two[corner[1]])
    for (a, _, _), tag in one.items():
        if abs(a) < 1e-3:
            ops.fix(tag, 1, 1, 1, 1, 1, 1)
    loads = np.eye(6) * MOMENT
    return [float(shell.solve(plate, tuple(loads[way]))[way]) for way in (3, 4, 5)]


def sizes(count: int) -> list[dict[str, Any]]:
    """Return laps at random, each kind in turn."""
    rng = random.Random(15)
    found = []
    kinds = ("edges", "edges and ends", "plugs", "plugs and fit", "mouth", "mouth and plugs", "plugs beside", "lower beside")
    for number in range(count):
        kind = kinds[number % len(kinds)]
        wall = rng.choice((2.0, 3.0, 4.0, 5.0))
        height, width = rng.choice((60.0, 76.0, 97.0, 120.0)), rng.choice((40.0, 47.0, 60.0))
        lap = rng.choice((120.0, 180.0, 240.0, 360.0))
        case: dict[str, Any] = {"first": (height, width, wall), "lap": lap, "out": 300.0, "holds": []}
        inner = (height - 2 * wall, width - 2 * wall, wall)
        if "beside" in kind or "edges" in kind:
            case |= {"how": "side by side", "second": (height, width, wall)}
        else:
            case |= {"how": "in each other", "second": inner, "walls": [1] if rng.random() < 0.7 else [1, 2]}
        case["holds"] += ["along the edges"] if "edges" in kind or kind == "lower beside" else []
        case["holds"] += ["across the ends"] if "ends" in kind else []
        case["holds"] += ["round the mouth"] if "mouth" in kind else []
        case["holds"] += ["by their fit"] if "fit" in kind else []
        if "plugs" in kind:
            rows = rng.choice((2, 3, 4))
            reach = lap / 2 - 30.0
            case |= {"spots": np.linspace(-reach, reach, rows).round(1).tolist(), "diameter": rng.choice((12.0, 16.0, 20.0))}
        if kind == "lower beside":
            case["second"] = (height - 20.0, width, wall)
        found.append(case)
    return found


if __name__ == "__main__":
    for each in sizes(int(sys.argv[1]) if len(sys.argv) > 1 else 16):
        plain = {name: list(value) if isinstance(value, tuple) else value for name, value in each.items()}
        words = ", ".join(f"{name}: {value}" for name, value in plain.items())
        found = ", ".join(f"{turn:.5g}" for turn in turns(each, 4.0 if "spots" in each else 6.0))
        print(f"- {{{words}, turns: [{found}]}}", flush=True)
