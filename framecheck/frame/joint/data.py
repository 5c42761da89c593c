"""What a joint is made of, and how stiff it is. SI."""

from __future__ import annotations

from enum import Enum
from math import inf

from framecheck.value_class import value_class


class Make(Enum):
    """How the crossmember's end is made on the rail."""

    BUTT = "butt on one face"
    THROUGH = "through both faces"


@value_class
class Chord:
    """The rail at a joint: outside depth (vertical) and width (across), in m; e in Pa.

    closed: True a rectangular tube, False a channel (one web, which the branch meets, and two flanges).
    reach: from the branch's middle to where the rail's outline is held in shape again (a closed end, a clamp), m.
    """

    depth: float
    width: float
    wall: float
    closed: bool
    outside_radius: float = 0.0
    e: float = 200e9
    nu: float = 0.3
    reach: float = inf


@value_class
class Branch:
    """The crossmember's end: outside depth (vertical) and width (along the rail), in m; e in Pa.

    closed: True a rectangular tube, False a channel (one web, two flanges along the rail).
    round: a round tube whose outside diameter is depth and width.
    """

    depth: float
    width: float
    wall: float
    closed: bool
    outside_radius: float = 0.0
    e: float = 200e9
    nu: float = 0.3
    round: bool = False


@value_class
class JointStiffness:
    """Springs between the rail's face and the branch's end: Nm/rad and N/m. inf: rigid.

    vertical: about the rail's axis (x); sideways: about the vertical (z); twist: about the branch's own axis.
    """

    bending_vertical: float
    bending_sideways: float
    twist: float
    axial: float
    shear_vertical: float
    shear_sideways: float
