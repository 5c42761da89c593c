"""Shell reference for the test sheet's fit: box ladders on a twist rig. openseespy: installed by hand, no dependency (see shells.py).

Rails along x from 0 (rear) to 1500 mm, middle lines 96 deep and 48 wide, wall 3, inner walls at y = +-300. Three box crossmembers,
middle lines 72 deep and 36 wide, wall 3, near walls at x = 48, 732 and 1416, butt-welded to the inner walls. Rail ends are rigid
plates on the rails' middle lines (y = +-324). Rise of the rails' middle line (mean of both webs at mid depth), mm:
    twist     rear plates and front right held along z; 1000 N up on the front left one
    bending   all four plates held along z; 500 N down on each rail at half its length (both webs, at mid depth)
    sideways  rear plates held; 500 N to the left on each front plate: their movement to the left
The left half alone is solved, twice, with its mirror image doing the same and the opposite. Twisted on three plates the corners bear
the load in turn up and down, which is the opposite; the frame is then tilted about its rear until the front right plate is level.
Pushed sideways the left rear plate alone is held: half of that on both is the opposite, the rest squeezes both rear plates alike.
Usage: python rig.py > rows.yaml
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import openseespy.opensees as ops
from shells import Shell

INNER, DEEP, WIDE, WALL, LENGTH = 300.0, 96.0, 48.0, 3.0, 1500.0
CROSS_DEEP, CROSS_WIDE, CROSSES = 72.0, 36.0, (48.0, 732.0, 1416.0)
STATIONS = (0.0, 252.0, 498.0, 1002.0, 1248.0, 1500.0)
MESH = 6.0
SAME, OPPOSITE = (0, 1, 0, 1, 0, 1), (1, 0, 1, 0, 1, 0)
"""What is held in the plane of symmetry."""


def build(held: tuple[int, ...]) -> tuple[Shell, int, int]:
    """Return the left half of the ladder and the nodes of its rear and front end plates. held: in the plane of symmetry."""
    shell = Shell(MESH)
    for y in (INNER, INNER + WIDE):
        shell.panel((0, y, -DEEP / 2), (LENGTH, 0, 0), (0, 0, DEEP), WALL)
    for z in (-DEEP / 2, DEEP / 2):
        shell.panel((0, INNER, z), (LENGTH, 0, 0), (0, WIDE, 0), WALL)
    for x in CROSSES:
        for z in (-CROSS_DEEP / 2, CROSS_DEEP / 2):
            shell.panel((x, 0, z), (0, INNER, 0), (CROSS_WIDE, 0, 0), WALL)
        for at in (x, x + CROSS_WIDE):
            shell.panel((at, 0, -CROSS_DEEP / 2), (0, INNER, 0), (0, 0, CROSS_DEEP), WALL)
    for (_, b, _), node in shell.tags.items():
        if b == 0:
            ops.fix(node, *held)
    plates = []
    for x in (0.0, LENGTH):
        tag = 9_000_000 + len(plates)
        ops.node(tag, x, INNER + WIDE / 2, 0.0)
        for (a, b, _), node in list(shell.tags.items()):
            if a == round(x * 1000) and b > 0:
                ops.rigidLink("beam", tag, node)
        plates.append(tag)
    return shell, plates[0], plates[1]


def prepare() -> None:
    """Make ready to solve; the matrix is factored once for all loads."""
    ops.timeSeries("Constant", 1)
    for name, arguments in (("system", ["SuperLU"]), ("numberer", ["RCM"]), ("constraints", ["Transformation"]),
                            ("integrator", ["LoadControl", 1.0]), ("algorithm", ["Linear", "-factorOnce"])):  # fmt: skip
        getattr(ops, name)(*arguments)
    ops.analysis("Static", "-noWarnings")


def solve(number: int, loads: dict[int, tuple[float, float, float]]) -> None:
    """Solve for one load alone: forces on nodes."""
    if number > 1:
        ops.remove("loadPattern", number - 1)
    ops.pattern("Plain", number, 1)
    for node, force in loads.items():
        ops.load(node, *force, 0.0, 0.0, 0.0)
    if ops.analyze(1) != 0:
        raise RuntimeError("not solved")


def rises(shell: Shell, rear: int, front: int) -> np.ndarray:
    """Return the rise of the left rail at the stations, mm."""
    middle = [[ops.nodeDisp(shell.node((x, y, 0.0)), 3) for y in (INNER, INNER + WIDE)] for x in STATIONS[1:-1]]
    return np.array([ops.nodeDisp(rear, 3), *np.mean(middle, axis=1), ops.nodeDisp(front, 3)])


def run() -> dict[str, dict[str, list[float]]]:
    """Return what each load gives."""
    shell, rear, front = build(OPPOSITE)
    ops.fix(rear, 1, 1, 1, 0, 0, 0)
    prepare()
    solve(1, {front: (0.0, 0.0, 1000.0)})
    turned, tilted = rises(shell, rear, front), np.array(STATIONS) / LENGTH
    twist = {"left": turned + turned[-1] * tilted, "right": turned[-1] * tilted - turned}
    solve(2, {front: (0.0, 500.0, 0.0)})
    pushed = ops.nodeDisp(front, 2)
    shell, rear, front = build(SAME)
    ops.fix(rear, 1, 0, 1, 0, 0, 0)
    ops.fix(front, 0, 0, 1, 0, 0, 0)
    prepare()
    solve(1, {shell.node((LENGTH / 2, y, 0.0)): (0.0, 0.0, -250.0) for y in (INNER, INNER + WIDE)})
    bent = rises(shell, rear, front)
    solve(2, {rear: (0.0, -500.0, 0.0)})
    squeezed, aside = ops.nodeDisp(front, 2), ops.nodeDisp(rear, 2)
    sideways = np.array([pushed + squeezed - aside, pushed - squeezed - aside])
    found = {"twist": twist, "bending": {"left": bent, "right": bent}, "sideways": {"front": sideways}}
    return {case: {name: [float(f"{each:.6g}") for each in row] for name, row in of.items()} for case, of in found.items()}


def told(found: dict[str, dict[str, list[float]]], indent: str = "") -> Iterator[str]:
    """Yield the rows of what loads gave."""
    for case, of in found.items():
        yield f"{indent}{case}:"
        yield from (f"{indent}  {name}: {row}" for name, row in of.items())


if __name__ == "__main__":
    print(f"program: openseespy {ops.version()}, ShellMITC4\nmesh_mm: {MESH:g}\nstations_mm: {list(STATIONS)}")
    print("\n".join(told(run())))
