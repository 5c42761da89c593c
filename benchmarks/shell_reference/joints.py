"""Shell references for T joints of many shapes and makes. openseespy: by hand, no dependency (see shells.py).

Rail along x, its walls from the face at y = 0 on; branch along -y from there to a rigid plate 198 mm off. All sizes on middle lines,
mm; walls are (place, place, wall), places (y, z) of the rail and (x, z) of the branch. The rail is held at x = -300, and at x = 300 or
it ends at `end` from the branch's middle: open, or closed by a plate as thick as its wall. Usage: python joints.py > rows.yaml
"""

from __future__ import annotations

import sys
from itertools import pairwise

import numpy as np
import openseespy.opensees as ops
import shells
from shells import Shell

shells.E = 205e3  # N/mm2, as the other joints of tests/verification/joints_shell.yaml
HALF, REACH, MOMENT, MESH = 300.0, 200.0, 1e5, 6.0


def box(first, second, wall, left=None):
    """Return a box from `left` (a branch: centred) on."""
    left = -first / 2 if left is None else left
    a, b, z = left, left + first, second / 2
    return [((a, -z), (a, z), wall), ((a, z), (b, z), wall), ((b, z), (b, -z), wall), ((b, -z), (a, -z), wall)]


def channel(first, second, wall, left=None):
    """Return a channel, its web at `left`, its flanges to the other end (negative: towards smaller places)."""
    return [each for n, each in enumerate(box(first, second, wall, left)) if n != 2]


def hat(height, crown, brim, wall):
    """Return a hat with its crown at the top of z."""
    c, z = crown / 2, height / 2
    points = [(-c - brim, -z), (-c, -z), (-c, z), (c, z), (c, -z), (c + brim, -z)]
    return [(a, b, wall) for a, b in pairwise(points)]


def i_beam(height, width, web, flange):
    """Return an I upright in z."""
    z, x = height / 2, width / 2
    halves = [((0.0, s * z), (t * x, s * z), flange) for s in (-1, 1) for t in (-1, 1)]
    return [((0.0, -z), (0.0, z), web), *halves]


def angle(height, width, wall):
    """Return an angle, its upright at +x, its foot along the bottom, centred."""
    x, z = width / 2, height / 2
    return [((x, z), (x, -z), wall), ((x, -z), (-x, -z), wall)]


def zed(height, flange, wall):
    """Return a Z, its web at x = 0."""
    z = height / 2
    return [((flange, z), (0.0, z), wall), ((0.0, z), (0.0, -z), wall), ((0.0, -z), (-flange, -z), wall)]


def rail(shell: Shell, walls, ends) -> None:
    """Mesh the rail."""
    for (y0, z0), (y1, z1), wall in walls:
        shell.panel((ends[0], y0, z0), (ends[1] - ends[0], 0, 0), (0, y1 - y0, z1 - z0), wall)


def branch(shell: Shell, walls, start: float, end: float) -> None:
    """Mesh a stretch of the branch; it joins whatever has nodes there."""
    for (x0, z0), (x1, z1), wall in walls:
        shell.panel((x0, start, z0), (0, end - start, 0), (x1 - x0, 0, z1 - z0), wall)


def gusset(shell: Shell, edge: float, sign: float, leg: float, z: float, wall: float) -> None:
    """Mesh a triangle with equal legs: squares, and triangles along its slope."""
    n = round(leg / shell.mesh)
    tag = shell.section(wall)
    m = shell.mesh
    at = [[shell.node((edge + sign * m * i, -m * j, z)) for j in range(n + 1 - i)] for i in range(n + 1)]
    for i in range(n):
        for j in range(n - i):
            shell.elements += 1
            if i + j == n - 1:
                ops.element("ShellDKGT", shell.elements, at[i][j], at[i + 1][j], at[i][j + 1], tag)
            else:
                ops.element("ShellMITC4", shell.elements, at[i][j], at[i + 1][j], at[i + 1][j + 1], at[i][j + 1], tag)


def freed(shell: Shell, walls, loose) -> Shell:
    """Mesh the branch's first row with walls that are not welded: their ends stand a micron off the face."""
    for number, ((x0, z0), (x1, z1), wall) in enumerate(walls):
        n = max(1, round(float(np.hypot(x1 - x0, z1 - z0)) / shell.mesh))
        places = [(x0 + (x1 - x0) * k / n, z0 + (z1 - z0) * k / n) for k in range(n + 1)]
        off = [0.0 if number not in loose or k in (0, n) else -0.01 for k in range(n + 1)]
        root = [shell.node((x, o, z)) for (x, z), o in zip(places, off, strict=True)]
        row = [shell.node((x, -shell.mesh, z)) for x, z in places]
        tag = shell.section(wall)
        for k in range(n):
            shell.elements += 1
            ops.element("ShellMITC4", shell.elements, root[k], row[k], row[k + 1], root[k + 1], tag)
    return shell


def turns(case) -> list[float]:
    """Return the tip's turns in rad under 100 Nm about x, y, z."""
    shell = Shell(MESH)
    end = case.get("end")
    ends = (-HALF, end["at"] if end else HALF)
    rail(shell, case["rail"], ends)
    loose = case.get("loose", ())
    freed(shell, case["branch"], loose)
    branch(shell, case["branch"], -MESH, -MESH * round(REACH / MESH))
    if case.get("through"):
        branch(shell, case["branch"], 0.0, case["through"])
    for each in case.get("gussets", ()):
        for sign in (-1.0, 1.0):
            gusset(shell, sign * each["edge"], sign, each["leg"], each["z"], each["wall"])
    if end and end["make"] == "plate":
        ys, zs = zip(*(p for a, b, _ in case["rail"] for p in (a, b)), strict=True)
        shell.panel((ends[1], min(ys), min(zs)), (0, max(ys) - min(ys), 0), (0, 0, max(zs) - min(zs)), case["rail"][0][2])
    for x in ends[: 1 if end else 2]:
        for tag in shell.where(0, x):
            ops.fix(tag, 1, 1, 1, 1, 1, 1)
    tip = shell.rigid_plate(1, -MESH * round(REACH / MESH), (0.0, -MESH * round(REACH / MESH), 0.0))
    return [float(shell.solve(tip, tuple(MOMENT * (k == n) for k in range(6)))[n]) for n in (3, 4, 5)]


R, B = box(48, 96, 3, 0.0), box(48, 48, 3)
C, C2 = channel(48, 96, 3, 0.0), channel(-48, 96, 3, 0.0)
I_WEB = [((0.0, -60.0), (0.0, 60.0), 4), *[((0.0, s * 60.0), (t * 36.0, s * 60.0), 5) for s in (-1, 1) for t in (-1, 1)]]
HAT_SIDE = [((0, -36), (0, 36), 3), ((0, 36), (60, 36), 3), ((60, 36), (60, -36), 3)]
HAT_SIDE += [((0, -36), (-24, -36), 3), ((60, -36), (84, -36), 3)]
HAT_TOP = [((0, -36), (0, 36), 3), ((0, 36), (48, 36), 3), ((0, -36), (48, -36), 3)]
HAT_TOP += [((48, 36), (48, 60), 3), ((48, -36), (48, -60), 3)]
BOXED = [((0, -48), (0, 48), 4), ((0, 48), (48, 48), 4), ((48, 48), (48, -48), 2), ((48, -48), (0, -48), 4)]
CASES = {
    "hat": {"rail": R, "branch": hat(48, 48, 18, 3)},
    "channel 60 x 36": {"rail": R, "branch": channel(36, 60, 3)},
    "I 60 x 48": {"rail": R, "branch": i_beam(60, 48, 3, 4)},
    "angle 48 x 48": {"rail": R, "branch": angle(48, 48, 4)},
    "Z 48 x 24": {"rail": R, "branch": zed(48, 24, 3)},
    "flat 60": {"rail": R, "branch": [((0.0, -30.0), (0.0, 30.0), 6)]},
    "flat 60 lying": {"rail": R, "branch": [((-30.0, 0.0), (30.0, 0.0), 6)]},
    "box, rail open at 60": {"rail": R, "branch": B, "end": {"make": "open", "at": 60.0}},
    "box, rail plated at 60": {"rail": R, "branch": B, "end": {"make": "plate", "at": 60.0}},
    "box, rail open at its wall": {"rail": R, "branch": B, "end": {"make": "open", "at": 30.0}},
    "gussets 36 middle": {"rail": R, "branch": B, "gussets": [{"edge": 24, "leg": 36.0, "z": 0.0, "wall": 3}]},
    "gussets 60 top": {"rail": R, "branch": B, "gussets": [{"edge": 24, "leg": 60.0, "z": 24.0, "wall": 5}]},
    "gussets 36 both": {"rail": R, "branch": B, "gussets": [{"edge": 24, "leg": 36.0, "z": z, "wall": 3} for z in (-24.0, 24.0)]},
    "gussets 48 at 12": {"rail": R, "branch": B, "gussets": [{"edge": 24, "leg": 48.0, "z": 12.0, "wall": 4}]},
    "sides only": {"rail": R, "branch": box(36, 72, 3), "loose": (1, 3)},
    "bottom loose": {"rail": R, "branch": box(36, 72, 3), "loose": (3,)},
    "channel rail, box outside, open at 60": {"rail": C, "branch": B, "end": {"make": "open", "at": 60.0}},
    "channel rail, box inside": {"rail": C2, "branch": box(36, 60, 3)},
    "channel rail, hat outside": {"rail": C, "branch": hat(48, 48, 18, 3)},
    "channel rail, gussets top": {"rail": C, "branch": B, "gussets": [{"edge": 24, "leg": 48.0, "z": 24.0, "wall": 4}]},
    "I rail, box on its web": {"rail": I_WEB, "branch": B},
    "hat rail, box on its side": {"rail": HAT_SIDE, "branch": box(36, 48, 3)},
    "hat rail, box on its crown": {"rail": HAT_TOP, "branch": box(36, 48, 3)},
    "boxed channel, box on its web": {"rail": BOXED, "branch": B},
    "boxed channel, box through": {"rail": BOXED, "branch": B, "through": 48.0},
    "thin plated rail end at 90": {"rail": box(60, 120, 2, 0.0), "branch": box(60, 60, 2), "end": {"make": "plate", "at": 90.0}},
}

if __name__ == "__main__":
    for name, case in CASES.items():
        if not sys.argv[1:] or name in sys.argv[1:]:
            sys.stdout.write(f"- {{name: '{name}', turns: {[float(f'{each:.5g}') for each in turns(case)]}}}\n")
            sys.stdout.flush()
