"""Flat sheet between points: floors, walls, roofs that share the load. SI; vehicle axes x forward, y left, z up."""

from __future__ import annotations

from enum import Enum
from math import pi, sqrt

from framecheck.model.arrays import Vector
from framecheck.model.shop_tables import Material
from framecheck.value_class import value_class

THICKEST = 6e-3
"""m: thicker than this, flat metal is a plate that bends, not sheet that only stretches and shears (common practice, no source)."""
OUT_OF_PLANE = 0.02
"""Share of its longest diagonal by which a panel's corner may lie off the plane of its others (common practice, no source)."""


class PanelCarries(Enum):
    """What a panel carries in its plane."""

    ALL = "shear and direct stress"
    SHEAR = "shear alone"


class SheetKnown(Enum):
    """Whether the sheet that is drawn is known to carry as it is drawn."""

    AS_DRAWN = "as drawn"
    UNKNOWN = "unknown"


class SeamKind(Enum):
    """What joins a panel along its seams."""

    CONTINUOUS = "continuous weld"
    SPOTS = "resistance spots"
    PLUGS = "plug welds"


@value_class
class PanelSeam:
    """How a panel is joined all round and along its members. pitch, diameter (of plugs): m, 0 where there is none."""

    kind: SeamKind
    pitch: float = 0.0
    diameter: float = 0.0


class Runs(Enum):
    """Which way swages run on a panel."""

    ALONG = "along its first edge"
    ACROSS = "across its first edge"


@value_class
class Swages:
    """Beads pressed into a panel from edge to edge, all one way. pitch, depth, width (at the foot): m."""

    runs: Runs
    pitch: float
    depth: float
    width: float


@value_class
class Panel:
    """A flat sheet with three or four corners, in order round it. thickness, offset: m; offset from the corners' points.

    joined, loose: members that lie on it or pass through it, elsewhere than along an edge, and are joined to it or not.
    free_edges: edges that nothing holds. cells: each way between two lines where something meets it.
    seam: None where it is not said; swages: None where the sheet is plain. holes: the share of its face that they take.
    A panel that carries shear alone leaves direct stress to the members along its edges.
    """

    name: str
    corners: tuple[str, ...]
    thickness: float
    material: Material
    offset: Vector = (0.0, 0.0, 0.0)
    carries: PanelCarries = PanelCarries.ALL
    joined: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    free_edges: tuple[tuple[str, str], ...] = ()
    cells: int = 1
    seam: PanelSeam | None = None
    swages: Swages | None = None
    holes: float = 0.0

    @property
    def carrying(self) -> float:
        """Return the thickness that carries, m: holes of a share s of the face, round and in square rows, leave 1 - sqrt(4 s / pi) of
        a section through a row (geometry); what lies beside the rows is not counted.
        """
        return self.thickness * (1 - sqrt(4 * self.holes / pi))

    @property
    def weighing(self) -> float:
        """Return the thickness that weighs, m."""
        return self.thickness * (1 - self.holes)

    @property
    def edges(self) -> tuple[tuple[str, str], ...]:
        """Return its edges, each by its two corners."""
        return tuple(zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True))
