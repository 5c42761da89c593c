"""Beads and ribs as eccentric beams: what one adds to the sheet it is part of.

The stiffener and the strip of sheet that works with it bend about the centroid they share. The sheet's own bending is the
plate's, so the beam adds the rest. A bead that runs across the sheet's bending is not counted there, where its longer path makes
the sheet a little softer.
"""

from __future__ import annotations

from math import hypot

from framecheck.model.plate import Bead, BoltedPlate, Edge, PlateSide, Rib, Stiffener, StiffenerRun
from framecheck.value_class import value_class


@value_class
class StiffenerPart:
    """A part of a beam's cross-section: area m2, height of its centroid over the sheet's middle m, own second moment m4."""

    area: float
    height: float
    own: float


@value_class
class Beam:
    """A stiffener with its strip of sheet. second_moment: of both together about their centroid, m4; added: that less the
    sheet's own; reach: from the centroid to the furthest fibre, m; torsion: added torsion constant, m4; shear_area: m2; tip: from
    the centroid up to the stiffener's outer fibre, m (below zero: down).
    """

    stiffener: Stiffener
    second_moment: float
    added: float
    reach: float
    torsion: float
    shear_area: float
    tip: float


def shear_lag(half_width: float, length: float) -> float:
    """Return the share of a strip (half_width to one side, m) that works with a beam of a length (m).

    EN 1993-1-5:2006, table 3.1, mid-span: 1 up to kappa = 0.02, 1 / (1 + 6.4 kappa2) up to 0.7, 1 / (5.9 kappa) above.
    From memory.
    """
    kappa = half_width / length
    if kappa <= 0.02:
        return 1.0
    return 1 / (1 + 6.4 * kappa**2) if kappa <= 0.70 else 1 / (5.9 * kappa)


def breadth(plate: BoltedPlate, run: StiffenerRun) -> float:
    """Return the plate's size across a run, m."""
    return plate.width if run is StiffenerRun.X else plate.length


def half_width(stiffener: Stiffener) -> float:
    """Return half of what the stiffener itself takes of the sheet, m."""
    return stiffener.width / 2 if isinstance(stiffener, Bead) else 0.0


def _side(plate: BoltedPlate, stiffener: Stiffener, way: int) -> float:
    """Return how wide the sheet belongs to a stiffener on one side (way -1, 1), m: to the edge, or half way to the next."""
    edge = 0.0 if way < 0 else breadth(plate, stiffener.run)
    reach = abs(edge - stiffener.at) - half_width(stiffener)
    for other in plate.stiffeners:
        ahead = way * (other.at - stiffener.at)
        if other.run is stiffener.run and ahead > 0 and other.start < stiffener.end and other.end > stiffener.start:
            reach = min(reach, (ahead - half_width(other) - half_width(stiffener)) / 2)
    return max(reach, 0.0)


def working_strip(plate: BoltedPlate, stiffener: Stiffener) -> float:
    """Return the width of flat sheet that works with a stiffener, m, both sides of it."""
    sides = (_side(plate, stiffener, -1), _side(plate, stiffener, 1))
    length = stiffener.end - stiffener.start
    return sum(side * shear_lag(side, length) for side in sides)


def pieces(stiffener: Stiffener, t: float) -> tuple[StiffenerPart, ...]:
    """Return the parts of the stiffener itself, heights upward."""
    sign = 1.0 if stiffener.facing is PlateSide.UP else -1.0
    if isinstance(stiffener, Rib):
        area = stiffener.height * stiffener.thickness
        return (StiffenerPart(area, sign * (t + stiffener.height) / 2, area * stiffener.height**2 / 12),)
    lean = (stiffener.width - stiffener.crest) / 2
    web = hypot(lean, stiffener.height)
    own = web * t * stiffener.height**2 / 12 + t**3 * lean**2 / (12 * web)
    side = StiffenerPart(web * t, sign * stiffener.height / 2, own)
    return (side, side, StiffenerPart(stiffener.crest * t, sign * stiffener.height, stiffener.crest * t**3 / 12))


def _fibres(stiffener: Stiffener, t: float) -> tuple[float, float]:
    """Return the heights of the outermost fibres over the sheet's middle, m, upward facing."""
    return -t / 2, t / 2 + stiffener.height


def beam_of(plate: BoltedPlate, stiffener: Stiffener) -> Beam:
    """Return a stiffener with the sheet that works with it. Parallel axes; pieces from the middle of the sheet."""
    t, strip = plate.thickness, working_strip(plate, stiffener)
    parts = (*pieces(stiffener, t), StiffenerPart(strip * t, 0.0, strip * t**3 / 12))
    area = sum(part.area for part in parts)
    centre = sum(part.area * part.height for part in parts) / area
    second = sum(part.own + part.area * (part.height - centre) ** 2 for part in parts)
    flat = (strip + 2 * half_width(stiffener)) * t**3 / 12
    low, high = _fibres(stiffener, t)
    sign = 1.0 if stiffener.facing is PlateSide.UP else -1.0
    reach = max(abs(low - sign * centre), abs(high - sign * centre))
    torsion = stiffener.height * stiffener.thickness**3 / 3 if isinstance(stiffener, Rib) else 0.0
    shears = shear_area(stiffener, t, (second, high - sign * centre))
    return Beam(stiffener, second, second - flat, reach, torsion, shears, sign * (high - sign * centre))


def shear_area(stiffener: Stiffener, t: float, beam: tuple[float, float]) -> float:
    """Return the area of a stiffener in shear, m2, from the energy of its shear flow. beam: I m4, of the rib with its strip; from its
    centroid to the tip, m.

    A rib: V S / I over its height, S of what is beyond. A bead: V / 2 h in each leaning side.
    """
    if isinstance(stiffener, Bead):
        side = hypot((stiffener.width - stiffener.crest) / 2, stiffener.height)
        return 2 * t * stiffener.height**2 / side
    second, tip = beam
    root = tip - stiffener.height
    flow = tip**4 * stiffener.height - 2 / 3 * tip**2 * (tip**3 - root**3) + (tip**5 - root**5) / 5
    return 4 * second**2 / (stiffener.thickness * flow)


def added_mass(plate: BoltedPlate, stiffener: Stiffener) -> float:
    """Return the mass that a stiffener adds, kg: a rib's own; none for a bead, which is the sheet's own metal drawn out."""
    if isinstance(stiffener, Bead):
        return 0.0
    return plate.material.density * stiffener.height * stiffener.thickness * (stiffener.end - stiffener.start)


def mass(plate: BoltedPlate) -> float:
    """Return the mass of the plate with its ribs, kg, holes not taken out."""
    sheet = plate.material.density * plate.length * plate.width * plate.thickness
    return sheet + sum(added_mass(plate, each) for each in plate.stiffeners)


def yield_strength(plate: BoltedPlate, stiffener: Stiffener) -> float:
    """Return the yield strength at a stiffener, Pa: that beside a weld for a rib, where welding lowers it."""
    material = plate.material
    if isinstance(stiffener, Rib) and material.welded_yield is not None:
        return material.welded_yield
    return material.yield_strength


HELD_SIDES = {
    Edge.REAR: (StiffenerRun.Y, 0),
    Edge.FRONT: (StiffenerRun.Y, -1),
    Edge.RIGHT: (StiffenerRun.X, 0),
    Edge.LEFT: (StiffenerRun.X, -1),
}
