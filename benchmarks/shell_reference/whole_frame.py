"""Shell reference for a whole frame. openseespy: installed by hand, no dependency (see shells.py).

Two box rails 3 m long with a mitred kick-up, 700 mm apart, and four crossmembers: box butt-welded, box passed through both walls,
channel butt-welded, round tube butt-welded. All walls on their middle lines, 3 mm, sharp corners. The four rail ends are rigid plates:
the front left one held along x, y, z, the front right along x, z, the rear right along z. It is the frame of
tests/verification/whole_frame.yaml. Usage: python whole_frame.py MESH > result.yaml (MESH a divisor of 24 mm)
"""

from __future__ import annotations

import sys
from itertools import pairwise
from math import ceil, cos, radians, sin, tan

import numpy as np
import openseespy.opensees as ops
from shells import Shell

E, NU = 205e3, 0.3
MESH = float(sys.argv[1]) if len(sys.argv) > 1 else 8.0
DEPTH, WIDTH, WALL, SPREAD = 96.0, 48.0, 3.0, 350.0
KICK, LEG = radians(20.0), 400.0
TOP = np.array([1000.0 + LEG * cos(KICK), 0.0, LEG * sin(KICK)])
LEGS = [  # start, direction angle, length, tangent of half the turn at start and end (upwards +), crossmembers by place along
    (np.zeros(3), 0.0, 1000.0, 0.0, tan(KICK / 2), (240.0, 760.0)),
    (np.array([1000.0, 0.0, 0.0]), KICK, LEG, tan(KICK / 2), -tan(KICK / 2), ()),
    (TOP, 0.0, 3000.0 - TOP[0], -tan(KICK / 2), 0.0, (1800.0 - TOP[0], 2600.0 - TOP[0])),
]
FADE, FINE, COARSE = 160.0, 72.0, 16.0
ROUND = 28.5


def along(leg: tuple) -> np.ndarray:
    """Return the grid lines of a leg: MESH apart near crossmembers and kinks, COARSE elsewhere, mm."""
    _, _, length, first, last, crosses = leg
    fine = [(max(at - FINE, 0.0), at + FINE) for at in crosses]
    fine += [(0.0, FINE)] if first else []
    fine += [(length - FINE, length)] if last else []
    marks = sorted({0.0, length, *(edge for span in fine for edge in span)})
    lines = [0.0]
    for a, b in pairwise(marks):
        step = MESH if any(low <= a and b <= high for low, high in fine) else COARSE
        lines += list(np.linspace(a, b, ceil((b - a) / step - 1e-9) + 1))[1:]
    return np.array(lines)


def ring() -> np.ndarray:
    """Return the section's points (n, 2) sideways and up, from the top left round by the right."""
    n, m = round(WIDTH / MESH), round(DEPTH / MESH)
    corners = [(24.0, 48.0, n), (-24.0, 48.0, m), (-24.0, -48.0, n), (24.0, -48.0, m)]
    loops = zip(corners, [*corners[1:], corners[0]], strict=True)
    return np.concatenate([np.linspace(a[:2], b[:2], a[2], endpoint=False) for a, b in loops])


def to_circle(dx: float, dz: float) -> tuple[float, float]:
    """Return where a point of the square patch under the round tube (within 48 mm) lies once its middle ring is the tube's circle."""
    rings = round(48.0 / MESH)
    inner = round(rings * 0.5)
    k = round(max(abs(dx), abs(dz)) / MESH)
    if k == 0 or k > rings:
        return dx, dz
    q = np.array([dx, dz]) / (k * MESH)
    c = q / np.linalg.norm(q)
    if k <= inner:
        share = k / inner
        x, z = ROUND * share * ((1 - share) * 0.8 * q + share * c)
    else:
        share = (k - inner) / (rings - inner)
        x, z = (1 - share) * ROUND * c + share * 48.0 * q
    return float(x), float(z)


class Frame:
    """The whole model; left: +1 left, -1 right."""

    def __init__(self) -> None:
        self.shell = Shell(MESH)
        ops.section("ElasticMembranePlateSection", 1, E, NU, WALL, 0.0)
        self.rows: dict[tuple[int, int], list[list[int]]] = {}
        self.walls: dict[tuple[int, int, int], list[int]] = {}
        for side in (1, -1):
            for number in range(3):
                self.rail(side, number)
        for at, z, kind in ((240.0, 0.0, "box"), (760.0, 0.0, "through"), (1800.0, TOP[2], "channel"), (2600.0, TOP[2], "round")):
            self.cross(at, z, kind)

    def quad(self, *nodes: int) -> int:
        self.shell.elements += 1
        ops.element("ShellMITC4", self.shell.elements, *nodes, 1)
        return self.shell.elements

    def rail(self, side: int, number: int) -> None:
        """Mesh one leg of one rail."""
        start, angle, length, first, last, _ = leg = LEGS[number]
        way, up, points = np.array([cos(angle), 0, sin(angle)]), np.array([-sin(angle), 0, cos(angle)]), ring()
        rows = []
        for s in along(leg):
            row = []
            for y, z in points:
                tilt = first * max(0.0, 1 - s / FADE) - last * max(0.0, 1 - (length - s) / FADE)
                place = start + (s + tilt * z) * way + z * up + np.array([0.0, side * SPREAD + y, 0.0])
                if number == 2 and abs(y + side * 24.0) < 1e-9 and abs(start[0] + s - 2600.0) < 48.0 + 1e-6:
                    dx, dz = to_circle(start[0] + s - 2600.0, z)
                    place = np.array([2600.0 + dx, side * SPREAD + y, TOP[2] + dz])
                row.append(self.shell.node(tuple(place)))
            rows.append(row)
        self.rows[side, number] = rows
        n = len(points)
        for k, (one, two) in enumerate(pairwise(rows)):
            tags = [self.quad(one[i], two[i], two[(i + 1) % n], one[(i + 1) % n]) for i in range(n)]
            self.walls[side, number, k] = tags

    def outline(self, kind: str) -> tuple[list[tuple[float, float]], bool]:
        """Return a crossmember's line (along the rail, up) and whether it closes."""
        steps = round(24.0 / MESH)
        edge = [MESH * k for k in range(-steps, steps + 1)]
        if kind == "round":
            k = round(round(48.0 / MESH) * 0.5) * MESH
            edge = [MESH * j for j in range(-round(k / MESH), round(k / MESH) + 1)]
            square = [(x, k) for x in edge[:-1]] + [(k, -z) for z in edge[:-1]]
            square += [(-x, -k) for x in edge[:-1]] + [(-k, z) for z in edge[:-1]]
            return [to_circle(x, z) for x, z in square], True
        top, bottom = [(x, 24.0) for x in edge], [(x, -24.0) for x in edge]
        if kind == "channel":
            return [*top[::-1], *((-24.0, -z) for z in edge[1:-1]), *bottom], False
        return [*top[:-1], *((24.0, -z) for z in edge[:-1]), *bottom[:0:-1], *((-24.0, z) for z in edge[:-1])], True

    def cross(self, at: float, z: float, kind: str) -> None:
        """Mesh one crossmember from inner wall to inner wall, or through both walls."""
        half, inner = SPREAD - 24.0, SPREAD + 24.0
        near = list(np.arange(half, half - 72.0 - 1e-6, -MESH))
        middle = list(np.linspace(near[-1], -near[-1], 2 * ceil(near[-1] / COARSE) + 1))[1:-1]
        lines = [*near, *middle, *(-y for y in near[::-1])]
        if kind == "through":
            beyond = list(np.arange(inner, half + 1e-6, -MESH))
            lines = [*beyond, *lines, *(-y for y in beyond[::-1])]
        line, closed = self.outline(kind)
        rows = [[self.shell.node((at + x, y, z + dz)) for x, dz in line] for y in lines]
        n = len(line)
        for one, two in pairwise(rows):
            for i in range(n if closed else n - 1):
                self.quad(one[i], two[i], two[(i + 1) % n], one[(i + 1) % n])

    def masters(self) -> dict[str, int]:
        """Tie the four rail ends to rigid plates; return their nodes."""
        found = {}
        for side, name in ((1, "l"), (-1, "r")):
            for row, end, x, z in ((self.rows[side, 0][0], "f", 0.0, 0.0), (self.rows[side, 2][-1], "r", 3000.0, TOP[2])):
                tag = 9_000_000 + len(found)
                ops.node(tag, x, side * SPREAD, float(z))
                for node in row:
                    ops.rigidLink("beam", tag, node)
                found[name + end] = tag
        return found

    def row_at(self, side: int, x: float) -> list[int]:
        """Return the ring of nodes of a rail at an x on its first or last leg."""
        number = 0 if x <= 1000.0 else 2
        start, lines = LEGS[number][0][0], along(LEGS[number])
        return self.rows[side, number][int(np.argmin(np.abs(start + lines - x)))]


CASES = {
    "twist": {"lr": (0, 0, 1000.0)},
    "bending": {"l3": (0, 0, -1000.0), "r3": (0, 0, -1000.0), "lr": (0, 0, 600.0)},
    "lateral": {"lr": (0, 500.0, 0), "rr": (0, 500.0, 0)},
}
STRESS_AT = {"front": (0, 500.0), "kick": (1, 200.0), "rear": (2, 2200.0 - TOP[0])}


def solve(frame: Frame, masters: dict[str, int], loads: dict[str, tuple]) -> None:
    """Solve one load case."""
    ops.remove("loadPattern", 1)
    ops.remove("timeSeries", 1)
    ops.reset()
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    for name, force in loads.items():
        if name in masters:
            ops.load(masters[name], *force, 0.0, 0.0, 0.0)
            continue
        row = frame.row_at(1 if name[0] == "l" else -1, 1800.0)
        for node in row:
            ops.load(node, *(each / len(row) for each in force), 0.0, 0.0, 0.0)
    ops.wipeAnalysis()
    for name, arguments in (("system", ["UmfPack"]), ("numberer", ["RCM"]), ("constraints", ["Transformation"]),
                            ("integrator", ["LoadControl", 1.0]), ("algorithm", ["Linear"])):  # fmt: skip
        getattr(ops, name)(*arguments)
    ops.analysis("Static", "-noWarnings")
    if ops.analyze(1) != 0:
        raise RuntimeError("not solved")
    ops.reactions()  # or the elements' stresses stay those of the step before


def wall_stresses(frame: Frame) -> dict[str, list[float]]:
    """Return the mean membrane stress along the left rail in its top, right, bottom and left wall, MPa, at each station."""
    n, m = round(WIDTH / MESH), round(DEPTH / MESH)
    ends = np.cumsum([0, n, m, n, m])
    found = {}
    for name, (number, s) in STRESS_AT.items():
        lines = along(LEGS[number])
        k = int(np.searchsorted(lines, s - 1e-6)) - 1
        angle = LEGS[number][1]
        way = np.array([cos(angle), 0.0, sin(angle)])
        walls = []
        for a, b in pairwise(ends):
            values = []
            for tag in frame.walls[1, number, k][a:b]:
                forces = np.array(ops.eleResponse(tag, "stresses")).reshape(4, 8)[:, :3].mean(axis=0)
                nodes = [np.array(ops.nodeCoord(each)) for each in ops.eleNodes(tag)]
                first = nodes[1] + nodes[2] - nodes[0] - nodes[3]
                first /= np.linalg.norm(first)
                values.append(forces[0] / WALL * np.sign(first @ way))
            walls.append(float(f"{np.mean(values):.5g}"))
        found[name] = walls
        found[f"{name} at"] = [float(f"{(lines[k] + lines[k + 1]) / 2:.6g}")]
    return found


if __name__ == "__main__":
    frame = Frame()
    masters = frame.masters()
    ops.fix(masters["lf"], 1, 1, 1, 0, 0, 0)
    ops.fix(masters["rf"], 1, 0, 1, 0, 0, 0)
    ops.fix(masters["rr"], 0, 0, 1, 0, 0, 0)
    print(f"program: openseespy {ops.version()}, ShellMITC4\nmesh_mm: {MESH}\nelements: {frame.shell.elements}")
    for name, loads in CASES.items():
        solve(frame, masters, loads)
        print(f"{name}:")
        for each, tag in masters.items():
            print(f"  {each}: [{', '.join(f'{ops.nodeDisp(tag, way + 1):.5g}' for way in range(3))}]")
        for each, side, x in (("l2", 1, 760.0), ("r2", -1, 760.0), ("l3", 1, 1800.0), ("r3", -1, 1800.0)):
            mean = np.mean([[ops.nodeDisp(node, way + 1) for way in range(3)] for node in frame.row_at(side, x)], axis=0)
            print(f"  {each}: [{', '.join(f'{value:.5g}' for value in mean)}]")
        for each, values in wall_stresses(frame).items():
            print(f"  stress {each}: {values}")
        sys.stdout.flush()
