"""Shell reference for tube-to-tube and tube-to-channel T joints. openseespy: by hand, no dependency (see shells.py).

Chord along x, 600 mm, both ends held; near face y = 0, body at y > 0; a channel has its web at y = 0. Branch along -y,
box, mid-line depth (z) x width (x), to a rigid plate 200 mm away. Usage: python tjoint.py > rows.yaml
"""

from __future__ import annotations

import sys

import numpy as np
from shells import Shell

LENGTH, REACH, MOMENT = 600.0, 200.0, 1e5


def chord(shell: Shell, depth: float, width: float, wall: float, kind: str) -> None:
    """Mesh the chord: a box, or a channel with its web at the branch and flanges pointing away."""
    x = (LENGTH, 0, 0)
    shell.panel((0, 0, -depth / 2), x, (0, 0, depth), wall)
    for z in (-depth / 2, depth / 2):
        shell.panel((0, 0, z), x, (0, width, 0), wall)
    if kind == "box":
        shell.panel((0, width, -depth / 2), x, (0, 0, depth), wall)


def branch(shell: Shell, depth: float, width: float, wall: float, start: float, end: float) -> None:
    """Mesh a stretch of the branch; it joins whatever has nodes on its outline."""
    y = (0, end - start, 0)
    x0, z0 = LENGTH / 2 - width / 2, -depth / 2
    for z in (z0, -z0):
        shell.panel((x0, start, z), y, (width, 0, 0), wall)
    for x in (x0, x0 + width):
        shell.panel((x, start, z0), y, (0, 0, depth), wall)


def rotations(case: dict[str, object], mesh: float = 6.0) -> dict[str, float]:
    """Return the tip rotation in rad under 100 Nm about x, y and z."""
    import openseespy.opensees as ops

    (depth, width), (d, w) = case["chord_midline_mm"], case["branch_midline_mm"]
    shell = Shell(mesh)
    chord(shell, depth, width, case["chord_wall_mm"], case.get("chord", "box"))
    branch(shell, d, w, case["branch_wall_mm"], -REACH, 0.0)
    if case["through"]:
        branch(shell, d, w, case["branch_wall_mm"], 0.0, width)
    for x in (0.0, LENGTH):
        for tag in shell.where(0, x):
            ops.fix(tag, 1, 1, 1, 1, 1, 1)
    tip = shell.rigid_plate(1, -REACH, (LENGTH / 2, -REACH, 0.0))
    names = {"bending_vertical": 3, "twist": 4, "bending_sideways": 5}
    loads = np.eye(6) * MOMENT
    return {f"{name}_100Nm_rad": float(shell.solve(tip, tuple(loads[i]))[i]) for name, i in names.items()}


def row(chord_mm, chord_wall, branch_mm, branch_wall, through, kind="box") -> dict[str, object]:
    """Return the description of one joint."""
    return {
        "chord": kind,
        "chord_midline_mm": chord_mm,
        "chord_wall_mm": chord_wall,
        "branch_midline_mm": branch_mm,
        "branch_wall_mm": branch_wall,
        "through": through,
    }


GIVEN = [row(c, 3.0, b, 3.0, t) for c, b in (([96, 40], [72, 36]), ([96, 48], [48, 48])) for t in (False, True)]
# Even numbers of 6 mm elements on either side of the middle, so that branch and chord share nodes.
OTHER = [
    row([120, 60], 4.0, [60, 60], 3.0, False),
    row([120, 60], 4.0, [60, 60], 3.0, True),
    row([72, 48], 2.0, [48, 36], 2.0, False),
    row([72, 48], 2.0, [48, 36], 2.0, True),
    row([96, 48], 5.0, [72, 48], 3.0, False),
    row([96, 48], 5.0, [72, 48], 3.0, True),
    row([72, 72], 3.0, [72, 48], 3.0, False),
    row([72, 72], 3.0, [72, 48], 3.0, True),
    row([144, 48], 3.0, [60, 36], 3.0, False),
    row([144, 48], 3.0, [60, 36], 3.0, True),
    row([96, 48], 2.0, [84, 36], 4.0, False),
    row([96, 48], 2.0, [84, 36], 4.0, True),
    row([60, 60], 5.0, [24, 36], 2.0, False),
    row([60, 60], 5.0, [24, 36], 2.0, True),
    row([96, 48], 3.0, [48, 96], 3.0, False),
    row([96, 48], 3.0, [48, 96], 3.0, True),
    row([96, 36], 3.0, [72, 36], 3.0, False, "channel"),
    row([120, 48], 4.0, [60, 48], 3.0, False, "channel"),
    row([144, 60], 5.0, [96, 48], 3.0, False, "channel"),
    row([72, 36], 3.0, [36, 36], 2.0, False, "channel"),
]

if __name__ == "__main__":
    for case in GIVEN if "given" in sys.argv else OTHER:
        for key, value in {**case, **rotations(case)}.items():
            shown = str(value).lower() if isinstance(value, bool) else value
            print(f"{'- ' if key == 'chord' else '  '}{key}: {shown}", flush=True)
