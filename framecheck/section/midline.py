"""Section properties by thin-wall mid-line theory: where the mesher is missing, beside every mesh, and for sweeps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.joining import Action
from framecheck.model.shape_parts import shares_left
from framecheck.model.shapes import (
    BoxedChannel,
    ChannelPair,
    Drilled,
    FloorClosed,
    Plated,
    RoundBar,
    RoundTube,
    Shape,
    Sleeve,
    Worn,
)
from framecheck.section.midline_assembly import Touching, drawn, parts_of
from framecheck.section.midline_crosscheck import slenderness
from framecheck.section.midline_fields import MidlineFields, apart_properties, midline_fields, unit_fields
from framecheck.section.midline_parts import assembled
from framecheck.section.midline_shapes import channel_graph, lipped_graph, round_properties, tube_graph
from framecheck.section.midline_theory import MidlineResults, midline_variants, raised
from framecheck.section.midline_walls import WallGraph, hangs_together, stacked
from framecheck.section.parts import LOOSE_NOTE
from framecheck.section.plastic import midline_wagner, outline_box, plastic_moduli_of_walls
from framecheck.section.properties import (
    SectionProperties,
    areas_by_metal,
    least_yield,
    mass_of,
    metals_in,
    numbers_of,
    stiffness_of,
    strength_shares,
)
from framecheck.section.walls import from_centroid, in_metals, walls_of

__all__ = [
    "MidlineFields",
    "MidlineResults",
    "WallGraph",
    "channel_variants",
    "lipped_channel_variants",
    "midline_fields",
    "midline_properties",
    "midline_variants",
    "shape_variants",
    "tube_variants",
]

THICK = 0.25
THICK_NOTE = "walls over a quarter of the smaller side thick: mid-line theory is rough for them"


def tube_variants(height: Array, width: Array, wall: Array, outside_radius: Array) -> MidlineResults:
    """Return rectangular tubes; sizes (n,) in m. `midline_fields` of the result gives their unit stress."""
    return midline_variants(tube_graph(height, width, wall, outside_radius))


def channel_variants(height: Array, flange: Array, wall: Array, inside_radius: Array) -> MidlineResults:
    """Return channels without lips, drawn as the letter C; sizes (n,) in m."""
    return midline_variants(channel_graph(height, flange, wall, inside_radius))


def lipped_channel_variants(
    height: Array, flange: Array, wall: Array, inside_radius: Array, lip: Array
) -> MidlineResults:
    """Return channels with lips turned inward; sizes (n,) in m."""
    return midline_variants(lipped_graph(height, flange, wall, inside_radius, lip))


def shape_variants(shapes: Sequence[Shape]) -> MidlineResults:
    """Return any shapes of one kind as variants (n,), each drawn by itself: slower than tubes and channels, for all that have walls.

    ValueError where they don't share one graph (another kind, a joint at intervals, holes).
    """
    found = [drawn(shape) for shape in shapes]
    graphs = [each.graph for each in found if each is not None and each.twisting is None]
    if len(graphs) < len(found) or len({graph.ends for graph in graphs}) != 1:
        raise ValueError("these shapes are not variants of one another")
    return midline_variants(stacked(graphs))


def midline_properties(section: Section) -> SectionProperties:
    """Return a section's properties and unit stress fields by mid-line theory, SI.

    InputError where the shape has no mid-line: an outline from a drawing, given numbers.
    """
    match section.shape:
        case RoundTube() | RoundBar() as shape:
            return round_properties(section, shape)
        case Worn(base=RoundTube() as base, top=loss):
            return round_properties(section, RoundTube(base.diameter - 2 * loss, base.wall - loss))
        case Sleeve() as shape:
            metals = section.metals or (section.material,) * 2
            both = zip((shape.outer, shape.core), metals, strict=True)
            parts = (midline_properties(replace(section, shape=part, material=metal, metals=())) for part, metal in both)
            return apart_properties(section, tuple(parts))
        case BoxedChannel() | FloorClosed() | Plated() | ChannelPair() as shape if section.action is Action.LOOSE:
            return _loose_properties(section, shape)
        case _:
            return _drawn_properties(section)


def _loose_properties(section: Section, shape: Touching) -> SectionProperties:
    """Return parts whose seams are loose, each by itself."""
    found, walls = parts_of(shape), walls_of(shape)
    metals = section.metals or (section.material,) * len(found)
    parts = []
    for number, (strips, metal) in enumerate(zip(found, metals, strict=True)):
        alone = replace(section, material=metal, metals=())
        part = _properties(alone, midline_variants(assembled(strips)), ())
        own = (replace(wall, metal=0) for wall in walls if wall.metal == number)
        parts.append(replace(part, walls=from_centroid(own, part.centroid)))
    return apart_properties(section, tuple(parts), LOOSE_NOTE)


def _drawn_properties(section: Section) -> SectionProperties:
    """Return the properties of a shape whose walls make one graph."""
    found = drawn(section.shape)
    if found is None:
        fault = "this shape has no mid-line to calculate on"
        raise InputError([Fault("", section.name, fault, "use the mesher: pip install --force-reinstall pythoncdt")])
    if not hangs_together(found.graph.ends):
        fault = "its parts don't touch along flat walls, so mid-line theory can't join them"
        raise InputError([Fault("", section.name, fault, "move them until they touch")])
    m = midline_variants(made_of(found.graph, section))
    if found.twisting is None:
        return _properties(section, m, found.notes)
    twisting = midline_variants(made_of(found.twisting, section))
    if isinstance(section.shape, Drilled):
        return _properties(section, _drilled(m, twisting, section.shape), found.notes)
    bounds = float(twisting.twist.torsion_constant), float(m.twist.torsion_constant)
    return replace(_properties(section, _seamed(m, twisting), found.notes), torsion_bounds=bounds)


def made_of(graph: WallGraph, section: Section) -> WallGraph:
    """Return walls with the moduli of their metals; links are of the section's own."""
    stiffness = stiffness_of(section)
    if not stiffness or graph.part is None:
        return graph
    ratios = np.where((graph.solid > 0)[:, None], np.array(stiffness)[graph.part], 1.0)
    return replace(graph, young=ratios[:, 0], rigid=ratios[:, 1])


def _seamed(welded: MidlineResults, apart: MidlineResults) -> MidlineResults:
    """Return parts that bend as one and twist each by itself."""
    lever = apart.twist.shear_centre - welded.twist.shear_centre
    return replace(welded, twist=apart.twist, flows=(*welded.flows[:2], apart.flows[2]), lever=lever)


def _drilled(net: MidlineResults, filled: MidlineResults, shape: Drilled) -> MidlineResults:
    """Return a drilled section: its net stretch and bending, its twist as undrilled, its shear flow raised."""
    y_low, y_high, z_low, z_high = outline_box(filled.lines, filled.graph.solid)
    vertical, sideways = shares_left(shape.holes, y_high - y_low, z_high - z_low)
    centre = filled.twist.shear_centre + filled.centroid - net.centroid
    vy, vz, warping = filled.flows
    return replace(
        net,
        twist=replace(filled.twist, shear_centre=centre),
        flows=(raised(vy, sideways), raised(vz, vertical), warping),
        shear_area_vertical=filled.shear_area_vertical * vertical,
        shear_area_sideways=filled.shear_area_sideways * sideways,
    )


def _properties(section: Section, m: MidlineResults, notes: tuple[str, ...]) -> SectionProperties:
    """Return the results of a single section with its material."""
    area, centroid = float(m.area), (float(m.centroid[0]), float(m.centroid[1]))
    numbers = numbers_of(section, np.zeros(len(m.graph.ends), dtype=np.int64) if m.graph.part is None else m.graph.part)
    plastic_vertical, plastic_sideways = plastic_moduli_of_walls(m, strength_shares(section, numbers))
    wagner_v, wagner_s = midline_wagner(m).tolist()
    material = section.material
    metals = metals_in(section, areas_by_metal(section, numbers, m.lines.area / m.lines.young))
    found = SectionProperties(
        name=section.name,
        area=area,
        mass_per_length=mass_of(section, area, metals),
        centroid=centroid,
        i_vertical=float(m.inertias.vertical),
        i_sideways=float(m.inertias.sideways),
        i_product=float(m.inertias.product),
        torsion_constant=float(m.twist.torsion_constant),
        warping_constant=float(m.twist.warping_constant),
        shear_centre=(float(m.twist.shear_centre[0]), float(m.twist.shear_centre[1])),
        shear_area_vertical=float(m.shear_area_vertical),
        shear_area_sideways=float(m.shear_area_sideways),
        plastic_modulus_vertical=plastic_vertical,
        plastic_modulus_sideways=plastic_sideways,
        box=outline_box(m.lines, m.graph.solid),
        closed=encloses(m),
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=least_yield(section, metals),
        engine="mid-line",
        fields=unit_fields(m, numbers if metals else None),
        walls=from_centroid(in_metals(section, walls_of(section.shape)), centroid),
        notes=notes,
        metals=metals,
        wagner=(wagner_v, wagner_s),
    )
    return replace(found, notes=(*found.notes, THICK_NOTE)) if slenderness(found) > THICK else found


def encloses(m: MidlineResults) -> bool:
    """Return whether twist runs round a closed cell, and not just round the seam between a plate and the wall it lies on.

    Two plates face to face, welded along their edges, have a flow over thickness of at most the thicker plate's thickness.
    """
    flow = np.abs(m.twist.flow) * (m.graph.solid > 0.0)
    return bool(np.max(flow) > 1.2 * np.max(m.lines.thickness))
