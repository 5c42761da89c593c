"""What a kink is made of, and what it gives. SI."""

from __future__ import annotations

from math import inf

from framecheck.value_class import value_class


@value_class
class Corner:
    """One leg of a kink, from the plane midway between both legs on. Sizes outside, m; angles rad; e in Pa.

    turn: between both legs. tilt: from the section's height to the way in which the leg turns: 0, the height lies in the kink's
    plane. room: from the kink to where the outline is held in shape. plate: thickness of one welded in all round in the mitre,
    0 where there is none. radius: of a bent kink's middle line, 0 where it is mitred. round: a tube of diameter height and width.
    """

    height: float
    width: float
    wall: float
    turn: float
    tilt: float = 0.0
    room: float = inf
    plate: float = 0.0
    radius: float = 0.0
    round: bool = False
    e: float = 200e9
    nu: float = 0.3


Row = tuple[float, float, float, float]


@value_class
class CornerGive:
    """What one leg of a kink gives beyond a straight leg up to the point, and the stress it adds.

    Turns per moment, rad/Nm, of the middle plane against the leg: about the normal of the kink's plane (in_plane), about the line
    in that plane midway between the legs (out_of_plane), of the one under the other (mixed), about the mean direction (torsion).
    surface: by distance from the mitre (DISTANCES), the stress at the wall's surface that is added to the straight leg's largest,
    Pa per Nm in plane, out of plane, of torsion, and Pa per N along the leg; through_wall: the same 1.5 walls from the
    mitre, of the stress through the wall alone.
    """

    in_plane: float
    out_of_plane: float
    mixed: float
    torsion: float
    surface: tuple[Row, ...]
    through_wall: Row


WALLS = 1.5
"""How far from the mitre the stress is read, in walls: nearer, the weld's own notch is in it, which its class holds already."""
DISTANCES = (0.0, 0.25, 0.5, 1.0, 2.0, 4.0)
"""Where the stress is read beyond that, in sizes of the section; the first: WALLS from the mitre."""
