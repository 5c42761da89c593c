"""Shell reference for a round tube butt-welded to a box rail's wall. openseespy: by hand, no dependency (see shells.py).

Rail along x, held at both ends; near face y = 0, body at y > 0. Round tube along -y to a rigid plate 200 mm away. All sizes on middle
lines, mm. The face round the tube is an O-grid: a core square, four sectors to the circle, four on to a square as high as the
rail. Usage: python round_tube.py > rows.yaml
"""

from __future__ import annotations

import sys
from itertools import pairwise

import numpy as np
import openseespy.opensees as ops
import shells
from shells import Shell

shells.E = 205e3  # N/mm2, as the other joints of tests/verification/joint_kinds_shell.yaml

HALF, REACH, MOMENT = 300.0, 200.0, 1e5


def quads(shell: Shell, points: np.ndarray, wall: float) -> None:
    """Mesh a grid of points (a, b, 3) that need not be a rectangle."""
    at = [[shell.node(tuple(point)) for point in row] for row in points]
    tag = shell.section(wall)
    for low, high in pairwise(at):
        for i in range(len(low) - 1):
            shell.elements += 1
            ops.element("ShellMITC4", shell.elements, low[i], high[i], high[i + 1], low[i + 1], tag)


def ring(count: int, radius: float, side: float) -> tuple[np.ndarray, np.ndarray]:
    """Return points (4 count, 2) evenly along a square of that half side, and on the circle at the same numbers."""
    along = np.linspace(-1, 1, count + 1)[:-1]
    one = np.ones(count)
    square = np.concatenate([np.stack(each, -1) for each in ((one, along), (-along, one), (-one, -along), (along, -one))])
    angle = np.arctan2(-1, 1) + np.arange(4 * count) * np.pi / (2 * count)
    return side * square, radius * np.stack((np.cos(angle), np.sin(angle)), -1)


def between(inner: np.ndarray, outer: np.ndarray, layers: int) -> np.ndarray:
    """Return points (layers + 1, n + 1, 2) straight from one closed ring to another."""
    share = np.linspace(0, 1, layers + 1)[:, None, None]
    found = inner + share * (outer - inner)
    return np.concatenate((found, found[:, :1]), axis=1)


def on_face(flat: np.ndarray, y: float = 0.0) -> np.ndarray:
    """Return points (a, b, 3) on the plane at y from (x, z)."""
    return np.stack((flat[..., 0], np.full(flat.shape[:-1], y), flat[..., 1]), -1)


def face(shell: Shell, depth: float, wall: float, radius: float) -> np.ndarray:
    """Mesh the near wall; return the circle's points (n, 2)."""
    count = max(8, round(depth / shell.mesh))
    square, circle = ring(count, radius, depth / 2)
    core = square * (0.6 * radius / (depth / 2))
    quads(shell, on_face(between(core, circle, max(2, round(0.4 * radius / shell.mesh)))), wall)
    gap = depth / 2 - radius
    quads(shell, on_face(between(circle, square, max(2, round(1.3 * gap / shell.mesh)))), wall)
    line = np.linspace(-1, 1, count + 1) * 0.6 * radius
    quads(shell, on_face(np.stack(np.meshgrid(line, line, indexing="ij"), -1)), wall)
    return circle


def rail(shell: Shell, depth: float, width: float, wall: float, radius: float) -> np.ndarray:
    """Mesh the rail; return the circle's points on its near wall."""
    circle = face(shell, depth, wall, radius)
    count = max(8, round(depth / shell.mesh))
    here = np.linspace(-depth / 2, depth / 2, count + 1)
    beyond = np.linspace(depth / 2, HALF, round((HALF - depth / 2) / (1.5 * shell.mesh)) + 1)
    across = np.linspace(0.0, width, max(4, round(width / shell.mesh)) + 1)
    for x in (here, beyond, -beyond[::-1]):
        for y in (0.0, width) if x is not here else (width,):
            quads(shell, on_face(np.stack(np.meshgrid(x, here, indexing="ij"), -1), y), wall)
        for z in (-depth / 2, depth / 2):
            flat = np.stack(np.meshgrid(x, across, indexing="ij"), -1)
            quads(shell, np.concatenate((flat, np.full((*flat.shape[:-1], 1), z)), -1), wall)
    return circle


def turns(size: dict[str, float], mesh: float = 4.0) -> list[float]:
    """Return the tip's turn about x, y, z in rad under 100 Nm about each."""
    shell = Shell(mesh)
    radius = size["diameter"] / 2
    circle = rail(shell, size["depth"], size["width"], size["wall"], radius)
    closed = np.concatenate((circle, circle[:1]))
    out = -np.concatenate((np.linspace(0, 60, round(60 / mesh) + 1), np.linspace(60, REACH, round(140 / (2 * mesh)) + 1)[1:]))
    quads(shell, np.stack([on_face(closed, y) for y in out]), size["tube_wall"])
    for x in (-HALF, HALF):
        for tag in shell.where(0, x):
            ops.fix(tag, 1, 1, 1, 1, 1, 1)
    tip = shell.rigid_plate(1, -REACH, (0.0, -REACH, 0.0))
    loads = np.eye(6) * MOMENT
    return [float(shell.solve(tip, tuple(loads[way]))[way]) for way in (3, 4, 5)]


SIZES = (
    {"depth": 97.0, "width": 47.0, "wall": 3.0, "diameter": 57.3, "tube_wall": 3.0},
    {"depth": 97.0, "width": 47.0, "wall": 3.0, "diameter": 30.0, "tube_wall": 2.5},
    {"depth": 97.0, "width": 47.0, "wall": 3.0, "diameter": 80.0, "tube_wall": 3.0},
    {"depth": 120.0, "width": 60.0, "wall": 4.0, "diameter": 60.0, "tube_wall": 3.0},
    {"depth": 75.0, "width": 50.0, "wall": 2.0, "diameter": 45.0, "tube_wall": 3.0},
    {"depth": 60.0, "width": 60.0, "wall": 3.0, "diameter": 42.0, "tube_wall": 2.0},
)

if __name__ == "__main__":
    for each in SIZES[: int(sys.argv[1]) if len(sys.argv) > 1 else None]:
        words = ", ".join(f"{name}: {value:g}" for name, value in each.items())
        print(f"- {{{words}, turns: [{', '.join(f'{turn:.5g}' for turn in turns(each))}]}}", flush=True)
