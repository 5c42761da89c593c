"""Spring reference for bolts through one tube in another. openseespy: by hand, no dependency (see shells.py).

Two rigid bodies: the inner tube is held, the outer one is loaded at the joint's place, m, N. Every bolt crosses the two planes in
which the tubes meet, `lever` apart, and every crossing is a spring of equal stiffness in the two ways of those planes; across them the
tubes' walls lie on one another: one stiff spring in the bolts' middle. Seeded: random.Random(15).
Usage: python bolt_sleeves.py > tests/verification/bolt_sleeves.yaml
"""

from __future__ import annotations

import random
from typing import Any

import openseespy.opensees as ops

STIFF, WALLS = 1e8, 1e13
AXES = {"left": (0, 2), "up": (0, 1)}
ACROSS = {"left": 1, "up": 2}


def sleeves(count: int) -> list[dict[str, Any]]:
    """Return sleeves at random: places of bolts (along, aside), mm, depth and wall of the outer tube, mm, load, N and Nm."""
    rng = random.Random(15)
    found = []
    for _ in range(count):
        facing, depth, wall = rng.choice(("left", "up")), rng.uniform(40.0, 120.0), rng.uniform(2.0, 6.0)
        rows, columns = rng.choice((1, 1, 2)), rng.choice((2, 3, 4))
        pitch, gauge = rng.uniform(40.0, 110.0), rng.uniform(40.0, 60.0)
        spots = [(pitch * (n - (columns - 1) / 2), gauge * (m - (rows - 1) / 2)) for n in range(columns) for m in range(rows)]
        if rng.random() < 0.3:
            spots = [(x + rng.uniform(-8.0, 8.0), y + rng.uniform(-8.0, 8.0)) for x, y in spots]
        origin = rng.uniform(-150.0, 150.0)
        force = [rng.uniform(-8e3, 8e3) for _ in range(3)]
        moment = [rng.uniform(-1500.0, 1500.0) for _ in range(3)]
        found.append(
            {
                "facing": facing,
                "depth_mm": round(depth, 3),
                "wall_mm": round(wall, 3),
                "origin_mm": round(origin, 3),
                "spots_mm": [[round(x, 3), round(y, 3)] for x, y in spots],
                "force_N": [round(each, 2) for each in force],
                "moment_Nm": [round(each, 3) for each in moment],
            }
        )
    return found


def place(spot: list[float], facing: str, origin: float) -> list[float]:
    """Return where a bolt crosses the plane midway, m: along x, aside up (bolts that face left) or to the right (up)."""
    along, aside = (each / 1000 for each in spot)
    return [origin / 1000 + along, 0.0, -aside] if facing == "left" else [origin / 1000 + along, aside, 0.0]


def crossings(row: dict[str, Any]) -> list[list[float]]:
    """Return the force (3,) at every crossing, N."""
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    across = ACROSS[row["facing"]]
    lever = (row["depth_mm"] - 2 * row["wall_mm"]) / 1000
    places = [place(spot, row["facing"], row["origin_mm"]) for spot in row["spots_mm"]]
    middle = [sum(each[axis] for each in places) / len(places) for axis in range(3)]
    for tag, spot in ((1, (0.0, 0.0, 0.0)), (2, middle), (3, middle)):
        ops.node(tag, *spot)
    ops.uniaxialMaterial("Elastic", 1, STIFF)
    ops.uniaxialMaterial("Elastic", 2, WALLS)
    ops.fix(3, 1, 1, 1, 1, 1, 1)
    ops.rigidLink("beam", 1, 2)
    ops.element("zeroLength", 1, 3, 2, "-mat", 2, "-dir", across + 1)
    tag, found = 10, []
    for spot in places:
        for side in (1, -1):
            at = list(spot)
            at[across] += side * lever / 2
            ops.node(tag, *at)
            ops.node(tag + 1, *at)
            ops.fix(tag, 1, 1, 1, 1, 1, 1)
            ops.rigidLink("beam", 1, tag + 1)
            ways = [axis + 1 for axis in range(3) if axis != across]
            ops.element("zeroLength", tag, tag, tag + 1, "-mat", 1, 1, "-dir", *ways)
            found.append(tag)
            tag += 2
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    ops.load(1, *row["force_N"], *row["moment_Nm"])
    ops.system("FullGeneral")
    ops.numberer("Plain")
    ops.constraints("Transformation")
    ops.integrator("LoadControl", 1.0)
    ops.algorithm("Linear")
    ops.analysis("Static", "-noWarnings")
    if ops.analyze(1) != 0:
        raise RuntimeError("the springs could not be solved")
    return [[float(STIFF * (ops.nodeDisp(each + 1, n + 1)) * (n != across)) for n in range(3)] for each in found]


if __name__ == "__main__":
    print("# Spring models of bolts through one tube in another, by benchmarks/shell_reference/bolt_sleeves.py")
    print(f"# (openseespy {ops.version()}, seeded). Computed for this project, not published. worst_N: the largest force at a")
    print("# crossing.")
    for each in sleeves(40):
        size = max(sum(part**2 for part in force) ** 0.5 for force in crossings(each))
        print("- {" + ", ".join(f"{key}: {value}" for key, value in each.items()) + f", worst_N: {size:.5g}}}", flush=True)
