"""Shell reference for the test sheet's fit: box ladders on a twist rig. openseespy: installed by hand, no dependency (see shells.py).

Rails along x from 0 (rear) to 1500 mm, middle lines 96 deep and 48 wide, wall 3, inner walls at y = +-300. Three box crossmembers,
middle lines 72 deep and 36 wide, wall 3, near walls at x = 48, 732 and 1416, butt-welded to the inner walls. Rail ends are rigid
plates on the rails' middle lines (y = +-324). Rise of the rails' middle line (mean of both webs at mid depth), mm:
    twist     rear plates and front right held along z; 1000 N up on the front left one
    bending   all four plates held along z; 500 N down on each rail at half its length (both webs, at mid depth)
    sideways  rear plates held; 500 N to the left on each front plate: their movement to the left
Usage: python rig.py > rows.yaml
"""

from __future__ import annotations

import numpy as np
import openseespy.opensees as ops
from shells import Shell

INNER, DEEP, WIDE, WALL, LENGTH = 300.0, 96.0, 48.0, 3.0, 1500.0
CROSS_DEEP, CROSS_WIDE, CROSSES = 72.0, 36.0, (48.0, 732.0, 1416.0)
STATIONS = (0.0, 252.0, 498.0, 1002.0, 1248.0, 1500.0)
MESH = 6.0


def build() -> tuple[Shell, dict[str, int]]:
    """Return the ladder and the nodes of its four end plates."""
    shell = Shell(MESH)
    for side in (1, -1):
        for y in (side * INNER, side * (INNER + WIDE)):
            shell.panel((0, y, -DEEP / 2), (LENGTH, 0, 0), (0, 0, DEEP), WALL)
        for z in (-DEEP / 2, DEEP / 2):
            shell.panel((0, side * INNER, z), (LENGTH, 0, 0), (0, side * WIDE, 0), WALL)
    for x in CROSSES:
        for z in (-CROSS_DEEP / 2, CROSS_DEEP / 2):
            shell.panel((x, -INNER, z), (0, 2 * INNER, 0), (CROSS_WIDE, 0, 0), WALL)
        for at in (x, x + CROSS_WIDE):
            shell.panel((at, -INNER, -CROSS_DEEP / 2), (0, 2 * INNER, 0), (0, 0, CROSS_DEEP), WALL)
    plates = {}
    for name, x, side in (("rl", 0.0, 1), ("rr", 0.0, -1), ("fl", LENGTH, 1), ("fr", LENGTH, -1)):
        tag = 9_000_000 + len(plates)
        ops.node(tag, x, side * (INNER + WIDE / 2), 0.0)
        for (a, b, _), node in list(shell.tags.items()):
            if a == round(x * 1000) and b * side > 0:
                ops.rigidLink("beam", tag, node)
        plates[name] = tag
    return shell, plates


def solve() -> None:
    """Solve for the loads there are."""
    for name, arguments in (("system", ["UmfPack"]), ("numberer", ["RCM"]), ("constraints", ["Transformation"]),
                            ("integrator", ["LoadControl", 1.0]), ("algorithm", ["Linear"])):  # fmt: skip
        getattr(ops, name)(*arguments)
    ops.analysis("Static", "-noWarnings")
    if ops.analyze(1) != 0:
        raise RuntimeError("not solved")


def rises(shell: Shell, plates: dict[str, int]) -> dict[str, list[float]]:
    """Return the rise of the left and right rail at the stations, mm."""
    found: dict[str, list[float]] = {}
    for name, side in (("left", 1), ("right", -1)):
        row = []
        for x in STATIONS:
            if x in (0.0, LENGTH):
                row.append(ops.nodeDisp(plates[("r" if x == 0.0 else "f") + name[0]], 3))
            else:
                row.append(np.mean([ops.nodeDisp(shell.node((x, side * y, 0.0)), 3) for y in (INNER, INNER + WIDE)]))
        found[name] = [float(f"{each:.6g}") for each in row]
    return found


def run(case: str) -> dict[str, list[float]]:
    """Return what one load case gives."""
    shell, plates = build()
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    held = {"twist": ("rl", "rr", "fr"), "bending": ("rl", "rr", "fl", "fr"), "sideways": ("rl", "rr", "fr")}[case]
    for name, tag in plates.items():
        ops.fix(tag, int(name in ("rl", "rr")), int(name == "rl"), int(name in held), 0, 0, 0)
    if case == "twist":
        ops.load(plates["fl"], 0.0, 0.0, 1000.0, 0.0, 0.0, 0.0)
    elif case == "bending":
        for side in (1, -1):
            for y in (INNER, INNER + WIDE):
                ops.load(shell.node((LENGTH / 2, side * y, 0.0)), 0.0, 0.0, -250.0, 0.0, 0.0, 0.0)
    else:
        for name in ("fl", "fr"):
            ops.load(plates[name], 0.0, 500.0, 0.0, 0.0, 0.0, 0.0)
    solve()
    if case == "sideways":
        return {"front": [float(f"{ops.nodeDisp(plates[name], 2):.6g}") for name in ("fl", "fr")]}
    return rises(shell, plates)


if __name__ == "__main__":
    print(f"program: openseespy {ops.version()}, ShellMITC4\nmesh_mm: {MESH:g}\nstations_mm: {list(STATIONS)}")
    for case in ("twist", "bending", "sideways"):
        print(f"{case}:")
        for name, row in run(case).items():
            print(f"  {name}: {row}", flush=True)
