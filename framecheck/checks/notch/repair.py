"""What mends a cut: plate thickness and length that give back stiffness and safety factor, taper at the ends, the weld it needs.

All is reckoned along the depth of the cut: d from the middle of what is left, + towards the cut side.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from math import sqrt

import numpy as np

from framecheck.checks.notch.room import centroid_shift
from framecheck.model.arrays import Array
from framecheck.model.frame import Cut
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties
from framecheck.value_class import value_class

SOURCE = (
    "beam theory of net section and plates; ends tapered over 2 depths and welds parallel to the rail: body-builder manuals; "
    "weld 0.30 FEXX on the throat: AWS D1.1; flange bent to a curve: Roark's Formulas, ch. 9, from memory; "
    "the sideways offset of a plate on one side is not counted"
)
THICKEST = 0.025
TAPER = 2.0
ALLOWED_SHARE = 0.30


class RepairKind(Enum):
    """Ways to mend a cut."""

    FLANGE = "flange following the cut"
    SIDE_PLATES = "plates on both sides"
    BOX = "box insert: sides and flange"
    FISH_PLATE = "fish plate on one side"


@value_class
class PlateStrip:
    """A plate's cross-section along the depth: area (m2), its middle and height (m), and how many weld lines hold it."""

    area: float
    middle: float
    height: float
    lines: int


@value_class
class CutMember:
    """A cut member along the depth of its cut, SI. high, low: faces of what is left from its middle, cut side first; shift: of the net
    middle from the gross one; breadth: of the section across the depth.
    """

    gross_inertia: float
    gross_height: float
    area: float
    inertia: float
    high: float
    low: float
    shift: float
    breadth: float
    yield_strength: float


@value_class
class Repair:
    """One way to mend a cut. SI.

    for_stiffness, for_strength: plate thickness that gives back the gross second moment, and the asked safety factor, None: no plate
    up to THICKEST does. The rest holds for `thickness`, the larger of both (THICKEST where one is None): stiffness_share: of the gross
    second moment; length over all, tapers included; taper: of each end; weld_flow: force per length of each weld line, N/m; leg: m.
    """

    kind: RepairKind
    for_stiffness: float | None
    for_strength: float | None
    thickness: float
    stiffness_share: float
    safety_factor: float
    length: float
    taper: float
    weld_flow: float
    leg: float
    source: str = SOURCE


@value_class
class AskedOfRepair:
    """What a repair must reach: share of the gross second moment, safety factor on yield.

    plate_yield: of the plates; electrode_strength: classification strength of the weld metal, Pa.
    """

    stiffness_share: float
    safety_factor: float
    plate_yield: float
    electrode_strength: float


def notched(gross: SectionProperties, net: SectionProperties, cut: Cut) -> CutMember:
    """Return a cut member along the depth of its cut."""
    dy, dz = centroid_shift(gross, net, cut.side)
    y_min, y_max, z_min, z_max = net.box
    up = cut.side in (Side.TOP, Side.BOTTOM)
    faces = (z_max, z_min) if up else (y_max, y_min)
    sign = 1.0 if cut.side in (Side.TOP, Side.LEFT) else -1.0
    high, low = faces if sign > 0 else (-faces[1], -faces[0])
    size = gross.box[3] - gross.box[2], gross.box[1] - gross.box[0]
    inertia = (net.i_vertical, gross.i_vertical) if up else (net.i_sideways, gross.i_sideways)
    height, breadth = size if up else size[::-1]
    shift = sign * (dz if up else dy)
    return CutMember(inertia[1], height, net.area, inertia[0], high, low, shift, breadth, net.yield_strength)


def curved_share(breadth: float, radius: float, thickness: float) -> float:
    """Return the effective share of a flange bent to a radius, from b2 / (R t) with b half its breadth.

    0.2: 0.98, 0.5: 0.88, 1.0: 0.69, 2.0: 0.50, straight between. Roark's Formulas, ch. 9, from memory. A straight flange: 1.
    """
    if radius <= 0:
        return 1.0
    ratio = (breadth / 2) ** 2 / (radius * thickness)
    return float(np.interp(ratio, (0.0, 0.2, 0.5, 1.0, 2.0), (1.0, 0.98, 0.88, 0.69, 0.50)))


def strips(kind: RepairKind, of: CutMember, radius: float, thickness: float) -> tuple[PlateStrip, ...]:
    """Return the plates of a repair of one thickness (m); radius: of the cut's corner, m."""
    rest, middle = of.high - of.low, (of.high + of.low) / 2
    share = curved_share(of.breadth, radius, thickness)
    flange = PlateStrip(share * of.breadth * thickness, of.high + thickness / 2, thickness, 2)
    side = PlateStrip(rest * thickness, middle, rest, 2)
    return {
        RepairKind.FLANGE: (flange,),
        RepairKind.SIDE_PLATES: (side, side),
        RepairKind.BOX: (flange, side, side),
        RepairKind.FISH_PLATE: (side,),
    }[kind]


@value_class
class Mended:
    """Net section and plates together: area, second moment, middle from the net one, faces from the common middle, m."""

    area: float
    inertia: float
    middle: float
    high: float
    low: float


def mended(of: CutMember, plates: tuple[PlateStrip, ...]) -> Mended:
    """Return the section of what is left and its plates, by the parallel-axis theorem."""
    area = of.area + sum(plate.area for plate in plates)
    middle = sum(plate.area * plate.middle for plate in plates) / area
    own = sum(plate.area * (plate.height**2 / 12 + plate.middle**2) for plate in plates)
    high = max(of.high, *(plate.middle + plate.height / 2 for plate in plates))
    low = min(of.low, *(plate.middle - plate.height / 2 for plate in plates))
    return Mended(area, of.inertia + own - area * middle**2, middle, high - middle, low - middle)


def face_stress(section: Mended, of: CutMember, pulls: Array, moments: Array) -> Array:
    """Return the largest stress at the two faces, (n_case,), Pa.

    pulls (N), moments (Nm) about the gross middle, + pulls the cut side.
    """
    bent = moments - pulls * (of.shift + section.middle)
    faces = [pulls / section.area + bent * d / section.inertia for d in (section.high, section.low)]
    return np.asarray(np.abs(np.stack(faces)).max(axis=0), dtype=np.float64)


def least_thickness(good: Callable[[float], bool]) -> float | None:
    """Return the least plate thickness that is good, m, within 0.01 mm; None: none up to THICKEST is.

    Found in steps of 0.5 mm, then by halving.
    """
    steps = np.arange(0.0005, THICKEST + 1e-9, 0.0005)
    first = next((float(each) for each in steps if good(float(each))), None)
    if first is None:
        return None
    low, high = first - 0.0005, first
    while high - low > 1e-5:
        middle = (low + high) / 2
        low, high = (low, middle) if middle > 0 and good(middle) else (middle, high)
    return high


def repair(kind: RepairKind, of: CutMember, cut: Cut, forces: tuple[Array, Array, Array], asked: AskedOfRepair) -> Repair:
    """Return one way to mend a cut. forces: pull (N), moment about the gross middle (Nm, + pulls the cut side) and shear (N) along the
    depth, each (n_case,).
    """
    pulls, moments, _ = forces
    strength = min(of.yield_strength, asked.plate_yield)

    def made(thickness: float) -> Mended:
        return mended(of, strips(kind, of, cut.corner_radius, thickness))

    def factor(thickness: float) -> float:
        return float(strength / max(face_stress(made(thickness), of, pulls, moments).max(), 1e-9))

    stiff = least_thickness(lambda t: made(t).inertia >= asked.stiffness_share * of.gross_inertia)
    strong = least_thickness(lambda t: factor(t) >= asked.safety_factor)
    thickness = max(each or THICKEST for each in (stiff, strong))
    section, plates = made(thickness), strips(kind, of, cut.corner_radius, thickness)
    taper = TAPER * of.gross_height
    flow = weld_flow(section, of, plates, forces, taper)
    return Repair(
        kind, stiff, strong, thickness, section.inertia / of.gross_inertia, factor(thickness), cut.length + 2 * taper, taper, flow,
        fillet_leg(flow, asked.electrode_strength),
    )  # fmt: skip


def weld_flow(
    section: Mended, of: CutMember, plates: tuple[PlateStrip, ...], forces: tuple[Array, Array, Array], run_out: float
) -> float:
    """Return the largest force per length of one weld line, N/m.

    The greater of V Q / I and the plate's force let in over its run-out (m).
    """
    pulls, moments, shears = forces
    bent = moments - pulls * (of.shift + section.middle)
    flows: list[float] = []
    for plate in plates:
        arm = plate.middle - section.middle
        shear = float(np.abs(shears).max()) * abs(plate.area * arm) / section.inertia
        force = float(np.abs(plate.area * (pulls / section.area + bent * arm / section.inertia)).max())
        flows.append(max(shear, force / run_out) / plate.lines)
    return max(flows)


def fillet_leg(flow: float, electrode_strength: float) -> float:
    """Return the fillet leg for a force per length, m: q / (0.707 x 0.30 FEXX). AWS D1.1, allowable stress on the throat."""
    return flow / (sqrt(0.5) * ALLOWED_SHARE * electrode_strength)


def along_depth(cut: Cut, forces: Array) -> tuple[Array, Array, Array]:
    """Return pull, moment (+ pulls the cut side) and shear along a cut's depth, each (n_case,); forces (n_case, 9): gross axes."""
    up = cut.side in (Side.TOP, Side.BOTTOM)
    sign = 1.0 if cut.side in (Side.TOP, Side.LEFT) else -1.0
    return forces[:, 0], sign * forces[:, 4 if up else 5], forces[:, 2 if up else 1]


def as_it_is(gross: SectionProperties, net: SectionProperties, cut: Cut, forces: Array) -> float:
    """Return the safety factor on yield of what is left, without any plate, by pull and bending along the cut's depth alone."""
    of = notched(gross, net, cut)
    pulls, moments, _ = along_depth(cut, forces)
    bare = Mended(of.area, of.inertia, 0.0, of.high, of.low)
    return float(of.yield_strength / max(face_stress(bare, of, pulls, moments).max(), 1e-9))


def repairs(
    gross: SectionProperties, net: SectionProperties, cut: Cut, forces: Array, asked: AskedOfRepair
) -> tuple[Repair, ...]:
    """Return every way to mend a cut, thinnest plate first; forces (n_case, 9) there, in the gross section's axes."""
    of = notched(gross, net, cut)
    along = along_depth(cut, forces)
    return tuple(sorted((repair(kind, of, cut, along, asked) for kind in RepairKind), key=lambda each: each.thickness))
