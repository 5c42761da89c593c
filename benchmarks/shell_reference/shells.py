"""Flat-walled shell models with openseespy: panels on one grid, joined where nodes coincide.

openseespy is installed by hand and is no dependency of the project; its licence keeps it out. Only the stored
numbers in tests/verification/data came from here.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import openseespy.opensees as ops

E, NU = 200e3, 0.3  # N/mm2
Point = tuple[float, float, float]


@dataclass
class Shell:
    """A shell model under construction, in N and mm: panels share nodes that lie at the same place."""

    mesh: float
    young: float = E
    poisson: float = NU
    tags: dict[tuple[int, int, int], int] = field(default_factory=dict)
    elements: int = 0
    sections: dict[float, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        ops.wipe()
        ops.model("basic", "-ndm", 3, "-ndf", 6)

    def node(self, point: Point) -> int:
        """Return the tag of the node at a point; make it if it is new."""
        key = tuple(round(c * 1000) for c in point)
        if key not in self.tags:
            self.tags[key] = len(self.tags) + 1
            ops.node(self.tags[key], *(float(c) for c in point))
        return self.tags[key]

    def section(self, wall: float) -> int:
        """Return the tag of the plate section of this thickness."""
        if wall not in self.sections:
            self.sections[wall] = len(self.sections) + 1
            ops.section("ElasticMembranePlateSection", self.sections[wall], self.young, self.poisson, wall, 0.0)
        return self.sections[wall]

    def panel(self, origin: Point, first: Point, second: Point, wall: float) -> None:
        """Mesh the rectangle origin + a first + b second, 0 <= a, b <= 1."""
        o, p, q = (np.array(v, dtype=float) for v in (origin, first, second))
        m, n = (max(1, round(float(np.linalg.norm(v)) / self.mesh)) for v in (p, q))
        at = [[self.node(tuple(o + p * i / m + q * j / n)) for j in range(n + 1)] for i in range(m + 1)]
        tag = self.section(wall)
        for i in range(m):
            for j in range(n):
                self.elements += 1
                corners = at[i][j], at[i + 1][j], at[i + 1][j + 1], at[i][j + 1]
                ops.element("ShellMITC4", self.elements, *corners, tag)

    def where(self, axis: int, value: float) -> list[int]:
        """Return the tags of all nodes whose coordinate on that axis has that value."""
        return [tag for key, tag in self.tags.items() if key[axis] == round(value * 1000)]

    def rigid_plate(self, axis: int, value: float, centre: Point) -> int:
        """Tie all nodes of a plane to one rigid body; return the tag of its master at the centre."""
        slaves = self.where(axis, value)
        master = 10_000_000 + len(slaves)
        ops.node(master, *centre)
        for slave in slaves:
            ops.rigidLink("beam", master, slave)
        return master

    def solve(self, node: int, load: tuple[float, ...]) -> np.ndarray:
        """Return the six displacements of a node under that load on it alone."""
        ops.remove("loadPattern", 1)
        ops.remove("timeSeries", 1)
        ops.reset()
        ops.timeSeries("Linear", 1)
        ops.pattern("Plain", 1, 1)
        ops.load(node, *load)
        ops.wipeAnalysis()
        ops.system("UmfPack")
        ops.numberer("RCM")
        ops.constraints("Transformation")
        ops.integrator("LoadControl", 1.0)
        ops.algorithm("Linear")
        ops.analysis("Static", "-noWarnings")
        if ops.analyze(1) != 0:
            raise RuntimeError("the shell model could not be solved")
        return np.array([ops.nodeDisp(node, i) for i in range(1, 7)])
