"""Shells of a unit body, open or closed: half of it with a mirror at y = 0, odd for twist, even for bending. N, mm.

    python -m benchmarks.shell_reference.unit_body tests/verification/unit_body_shell_further.yaml NAME MESH

All sizes are of middle lines; corners are sharp, seams continuous, walls that lie on each other share nodes. openseespy is installed
by hand and is no dependency of the project; only the stored numbers in tests/verification/unit_body_shell_further.yaml came from here.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import degrees
from pathlib import Path
from typing import Any

import numpy as np
import openseespy.opensees as ops
import yaml

E, NU = 200e3, 0.3
Span = tuple[float, float]
Place = tuple[float, float, float]
Move = Callable[[float, float, float], Place]


def unmoved(x: float, y: float, z: float) -> Place:
    """Return a place as it is."""
    return x, y, z


@dataclass
class Body:
    """A shell model on one grid of lines across all three axes."""

    lines: tuple[np.ndarray, np.ndarray, np.ndarray]
    nodes: dict[Place, int] = field(default_factory=dict)
    sheets: dict[float, int] = field(default_factory=dict)
    count: int = 0

    def node(self, place: Place) -> int:
        """Return the node at a place, made where it is new."""
        key = tuple(round(each, 3) for each in place)
        if key not in self.nodes:
            self.nodes[key] = len(self.nodes) + 1  # type: ignore[index]
            ops.node(self.nodes[key], *key)  # type: ignore[index]
        return self.nodes[key]  # type: ignore[index]

    def wall(self, axis: int, at: float, one: Span, other: Span, thickness: float, move: Move = unmoved) -> None:
        """Mesh a rectangle across an axis; one, other: its spans along the two axes left, in order."""
        ways = [way for way in range(3) if way != axis]
        first, second = (
            line[(line >= low - 1e-6) & (line <= high + 1e-6)]
            for line, (low, high) in zip((self.lines[way] for way in ways), (one, other), strict=True)
        )
        if thickness not in self.sheets:
            self.sheets[thickness] = len(self.sheets) + 1
            ops.section("ElasticMembranePlateSection", self.sheets[thickness], E, NU, thickness, 0.0)
        tags = [[self.node(move(*_placed(axis, at, ways, (a, b)))) for b in second] for a in first]
        for i in range(len(first) - 1):
            for j in range(len(second) - 1):
                self.count += 1
                corners = tags[i][j], tags[i + 1][j], tags[i + 1][j + 1], tags[i][j + 1]
                ops.element("ShellMITC4", self.count, *corners, self.sheets[thickness])

    def box_along_x(self, x: Span, y: Span, z: Span, thickness: float, move: Move = unmoved) -> None:
        """Mesh a box along x."""
        for at in y:
            self.wall(1, at, x, z, thickness, move)
        for at in z:
            self.wall(2, at, x, y, thickness, move)

    def box_along_y(self, x: Span, y: Span, z: Span, thickness: float, move: Move = unmoved) -> None:
        """Mesh a box along y."""
        for at in x:
            self.wall(0, at, y, z, thickness, move)
        for at in z:
            self.wall(2, at, x, y, thickness, move)

    def web(self, x: float, ys: Span, z: Span) -> list[int]:
        """Return the nodes of a box's upright walls at a station."""
        at = self.lines[0][np.argmin(np.abs(self.lines[0] - x))]
        heights = [each for each in self.lines[2] if z[0] - 1e-6 <= each <= z[1] + 1e-6]
        return [self.nodes[round(float(at), 3), round(y, 3), round(float(each), 3)] for y in ys for each in heights]


def _placed(axis: int, at: float, ways: Sequence[int], rest: Sequence[float]) -> Place:
    place = [0.0, 0.0, 0.0]
    place[axis] = at
    for way, value in zip(ways, rest, strict=True):
        place[way] = float(value)
    return place[0], place[1], place[2]


def lines_through(stops: Sequence[float], mesh: float) -> np.ndarray:
    """Return grid lines through all stops, about a mesh apart."""
    kept = sorted({round(each, 6) for each in stops})
    found = [np.linspace(a, b, max(1, round((b - a) / mesh)) + 1)[:-1] for a, b in pairwise(kept)]
    return np.concatenate([*found, [kept[-1]]])


def around(middle: float, size: float) -> Span:
    """Return a span about a middle."""
    return middle - size / 2, middle + size / 2


def made(s: Mapping[str, Any], mesh: float) -> Body:
    """Return the shell model of a body of these sizes."""
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    x, (rail_w, rail_h, rail_t), (rock_w, rock_h, rock_t) = s["x"], s["rail"], s["rocker"]
    rail_y, rock_y, rail_z, rock_z = around(s["rail_y"], rail_w), around(s["rocker_y"], rock_w), (-rail_h, 0.0), around(0.0, rock_h)
    cross_w, cross_h, cross_t = s["cross"]
    tunnel, closed = s.get("tunnel"), s.get("closed")
    half = tunnel["width"] / 2 if tunnel else 0.0
    stops = (
        [*x.values(), *(edge for at in s["cross_x"] for edge in around(at, cross_w))],
        [0.0, half, *rail_y, *rock_y],
        [-rail_h, 0.0, *rock_z, -cross_h, s["wall_top"], *((tunnel["height"],) if tunnel else ())],
    )
    if "stiffener" in s:
        stops[1].extend(around(s["rail_y"], s["stiffener"][0]))
        stops[2].append(-s["stiffener"][1])
    if closed:
        deep, high = closed["pillar"][0], closed["cant"][1]
        stops[0].extend((x["firewall"] - deep, x["bulkhead"] + deep, closed["roof_front"] - deep))
        stops[2].extend((closed["roof_z"], closed["roof_z"] - high, s["wall_top"] - closed["cowl"][1]))
    body = Body(tuple(lines_through(each, mesh) for each in stops))  # type: ignore[arg-type]
    floor = x["bulkhead"], x["firewall"]
    body.wall(2, 0.0, floor, (0.0 if not tunnel or tunnel["kind"] == "box" else half, rock_y[0]), s["floor"])
    if tunnel:
        body.wall(1, half, floor, (0.0, tunnel["height"]), s["floor"])
        body.wall(2, tunnel["height"], floor, (0.0, half), s["floor"])
    body.box_along_x(floor, rock_y, rock_z, rock_t)
    for span, end in (((x["front_end"], x["tip"]), x["front_end"]), ((x["seat"], x["rear_end"]), x["rear_end"])):
        body.box_along_x(span, rail_y, rail_z, rail_t)
        body.wall(0, end, rail_y, rail_z, rail_t)
    for at in floor:
        inner, outer = (0.0, rail_y[0]), (rail_y[1], rock_y[0])
        body.wall(0, at, (0.0, rock_y[0]), (0.0, s["wall_top"]), s["wall"])
        for span in (inner, outer):
            body.wall(0, at, span, rail_z, s["wall"])
        body.wall(0, at, rock_y, (rock_z[0], s["wall_top"]), s["wall"])
    for at in s["cross_x"]:
        passing = any(a - 1e-6 <= at <= b + 1e-6 for a, b in ((x["front_end"], x["tip"]), (x["seat"], x["rear_end"])))
        for span in ((0.0, rail_y[0]), (rail_y[1], rock_y[0])) if passing else ((0.0, rock_y[0]),):
            body.box_along_y(around(at, cross_w), span, (-cross_h, 0.0), cross_t)
    if "stiffener" in s:
        wide, tall, thick = s["stiffener"]
        y = around(s["rail_y"], wide)
        if s["stiffener_joined"]:
            body.box_along_x((x["rear_end"], x["front_end"]), y, (-tall, 0.0), thick)
        else:
            _loose_box(body, (x["rear_end"], x["front_end"]), y, tall, thick)
    if closed:
        _close(body, s, closed, rock_y, rock_z[1])
    return body


def _loose_box(body: Body, x: Span, y: Span, tall: float, thick: float) -> None:
    """Mesh a stiffener whose top wall is beside the floor: its nodes above are its own, a hair lower, but at both ends."""

    def lowered(a: float, b: float, c: float) -> Place:
        return (a, b, c - 0.01) if x[0] + 1e-6 < a < x[1] - 1e-6 and c > -1e-6 else (a, b, c)

    body.box_along_x(x, y, (-tall, 0.0), thick, lowered)


def _close(body: Body, s: Mapping[str, Any], closed: Mapping[str, Any], y: Span, foot: float) -> None:
    """Mesh pillars, cowl, headers, cant rails and roof: the windscreen pillar and its header lean."""
    x, waist, top = s["x"], s["wall_top"], closed["roof_z"]
    deep, _, thick = closed["pillar"]
    _, high, cant_t = closed["cant"]
    front, rear = (x["firewall"] - deep, x["firewall"]), (x["bulkhead"], x["bulkhead"] + deep)
    slope = (closed["roof_front"] - x["firewall"]) / (top - waist)
    under = top - high

    def leaning(a: float, b: float, c: float) -> Place:
        return a + slope * (c - waist), b, c

    def stretched(a: float, b: float, c: float) -> Place:
        face, full = front[0] + slope * (c - waist), front[0] + slope * (top - waist)
        return rear[1] + (a - rear[1]) * (face - rear[1]) / (full - rear[1]), b, c

    cowl_h, cowl_t = closed["cowl"][1:]
    mouths = closed["corners"] == "open"
    _upright(body, (front, y), (foot, waist), thick, (None, waist - cowl_h if mouths else None))
    _upright(body, (front, y), (waist, top), thick, (under, under) if mouths else (None, None), leaning)
    _upright(body, (rear[::-1], y), (foot, top), thick, (under, under) if mouths else (None, None))
    body.box_along_y(front, (0.0, y[0]), (waist - cowl_h, waist), cowl_t)
    body.box_along_y(front, (0.0, y[0]), (under, top), closed["header_t"], leaning)
    body.box_along_y(rear, (0.0, y[0]), (under, top), closed["header_t"])
    body.wall(2, top, front, y, thick, leaning)
    body.wall(2, top, rear, y, thick)
    along = rear[1], closed["roof_front"] - deep
    body.box_along_x(along, y, (under, top), cant_t, stretched)
    if closed["roof"] > 0:
        body.wall(2, top, along, (0.0, y[0]), closed["roof"])


def _upright(
    body: Body, across: tuple[Span, Span], z: Span, thick: float, cut: tuple[float | None, float | None], move: Move = unmoved
) -> None:
    """Mesh a pillar; cut: how high its wall first in `across` and its inner wall reach, where mouths follow."""
    (first, second), (inner, outer) = across
    x = min(first, second), max(first, second)
    body.wall(0, second, (inner, outer), z, thick, move)
    body.wall(1, outer, x, z, thick, move)
    body.wall(0, first, (inner, outer), (z[0], cut[0] or z[1]), thick, move)
    body.wall(1, inner, x, (z[0], cut[1] or z[1]), thick, move)


def solved(body: Body, s: Mapping[str, Any], loads: Mapping[str, float]) -> dict[str, float]:
    """Return how far each loaded place goes up, mean of its webs' nodes."""
    x = s["x"]
    rail_y, rock_y = around(s["rail_y"], s["rail"][0]), around(s["rocker_y"], s["rocker"][0])
    rail_z, rock_z = (-s["rail"][1], 0.0), around(0.0, s["rocker"][1])
    places = {
        name: body.web(x[name], rail_y, rail_z) if name in ("tip", "seat") else body.web(x[name], rock_y, rock_z)
        for name in ("tip", "seat", "firewall", "bulkhead", "middle")
    }
    ops.remove("loadPattern", 1)
    ops.remove("timeSeries", 1)
    ops.timeSeries("Constant", 1)
    ops.pattern("Plain", 1, 1)
    for name, force in loads.items():
        for node in places[name]:
            ops.load(node, 0.0, 0.0, force / len(places[name]), 0.0, 0.0, 0.0)
    ops.wipeAnalysis()
    ops.system("UmfPack")
    ops.numberer("RCM")
    ops.constraints("Plain")
    ops.integrator("LoadControl", 0.0)
    ops.algorithm("Linear")
    ops.analysis("Static", "-noWarnings")
    if ops.analyze(1) != 0:
        raise RuntimeError("the shell model could not be solved")
    return {name: float(np.mean([ops.nodeDisp(node, 3) for node in places[name]])) for name in loads}


def hold(body: Body, s: Mapping[str, Any], odd: bool) -> None:
    """Hold the mirror plane, odd or even, and the three rigid moves that are left."""
    front, rear = (
        body.nodes[float(s["x"][name]), round(s["rocker_y"] - s["rocker"][0] / 2, 3), 0.0] for name in ("firewall", "bulkhead")
    )
    for (_, y, _), node in body.nodes.items():
        if abs(y) < 1e-6:
            ops.fix(node, *((1, 0, 1, 0, 1, 0) if odd else (0, 1, 0, 1, 0, 1)))
    ops.fix(front, *((0, 1, 1, 0, 0, 0) if odd else (1, 0, 1, 0, 0, 0)))
    ops.fix(rear, *((0, 1, 0, 0, 0, 0) if odd else (0, 0, 1, 0, 0, 0)))


def stiffnesses(s: Mapping[str, Any], mesh: float) -> tuple[float, float, float]:
    """Return twist from tips to seats and between rocker ends, Nm/deg, and bending, N/mm."""
    body = made(s, mesh)
    hold(body, s, odd=True)
    x = s["x"]
    up = solved(body, s, {"tip": 1000.0, "seat": -1000.0})
    arm = 2 * s["rail_y"]
    twist = arm / degrees((up["tip"] - up["seat"]) / s["rail_y"])
    up = solved(body, s, {"firewall": 1000.0, "bulkhead": -1000.0})
    ends = 2 * s["rocker_y"] / degrees((up["firewall"] - up["bulkhead"]) / s["rocker_y"])
    body = made(s, mesh)
    hold(body, s, odd=False)
    share = (x["middle"] - x["seat"]) / (x["tip"] - x["seat"])
    up = solved(body, s, {"middle": -1000.0, "tip": 1000.0 * share, "seat": 1000.0 * (1 - share)})
    bending = 2000.0 / (up["tip"] * share + up["seat"] * (1 - share) - up["middle"])
    return twist, ends, bending


if __name__ == "__main__":
    bodies = yaml.safe_load(Path(sys.argv[1]).read_text(encoding="utf-8"))["bodies"]
    found = stiffnesses(bodies[sys.argv[2]]["sizes_mm"], float(sys.argv[3]))
    print(sys.argv[2], sys.argv[3], *(f"{each:.1f}" for each in found), flush=True)
