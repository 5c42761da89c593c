"""One section in many sizes by mid-line theory: what the frame needs of each, and the stress of unit forces. SI."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

import numpy as np

from framecheck.errors import InputError
from framecheck.frame.element import section_table
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import Channel, RectTube, RoundBar, RoundTube, Shape
from framecheck.section.midline import (
    MidlineResults,
    channel_variants,
    encloses,
    lipped_channel_variants,
    midline_fields,
    midline_properties,
    shape_variants,
    tube_variants,
)
from framecheck.section.midline_fields import places
from framecheck.section.properties import SectionProperties, is_mixed
from framecheck.value_class import array_class


@array_class
class ManySections:
    """n sizes of a section (or one that stands for all). table (n, 14): as frame.element.section_table; yield_strength (n,), Pa.

    normal (n, p, 4): stress at p surface points per unit N, Mv, Ms, B; shear (n, p, c, 4): c components per unit Vy, Vz, T, Tw.
    """

    table: Array
    yield_strength: Array
    normal: Array
    shear: Array


def many_sections(sections: Sequence[Section]) -> ManySections:
    """Return sections of one kind of shape as variants; ValueError where their walls don't make one graph."""
    strengths = np.array([strength(each) for each in sections])
    mixed = any(is_mixed(each) for each in sections)
    found = None if mixed else midline_of([each.shape for each in sections])
    if found is None:
        return apart([midline_properties(each) for each in sections], strengths)
    fields = midline_fields(found)
    return ManySections(table_of(found, sections), strengths, fields.normal, along_walls(found, fields.shear))


def one_section(section: Section, known: SectionProperties) -> ManySections:
    """Return a section that stands for all variants: by mid-line theory as the varied ones, else as it is known.

    Where its stress is not known it has no points that could yield; `framecheck check` leaves it out and says so.
    """
    try:
        return many_sections([section])
    except (ValueError, InputError):
        strengths = np.array([strength(section)])
    if known.fields is not None:
        return apart([known], strengths)
    return ManySections(section_table([known]), strengths, np.zeros((1, 1, 4)), np.zeros((1, 1, 1, 4)))


def midline_of(shapes: Sequence[Shape]) -> MidlineResults | None:
    """Return shapes of one kind as variants of a graph; None where mid-line theory has a way of its own (round ones)."""
    first = shapes[0]
    if any(type(each) is not type(first) for each in shapes):
        raise ValueError("these shapes are of different kinds")
    if isinstance(first, RectTube):
        return tube_variants(*sizes(shapes, "height", "width", "wall", "outside_radius"))
    if isinstance(first, Channel):
        lips = sizes(shapes, "lip")[0]
        plain = sizes(shapes, "height", "flange", "wall", "inside_radius")
        if not lips.any():
            return channel_variants(*plain)
        height, flange, wall, radius = plain
        return lipped_channel_variants(height, flange, wall, radius, lips) if lips.all() else shape_variants(shapes)
    return None if isinstance(first, RoundTube | RoundBar) else shape_variants(shapes)


def sizes(shapes: Sequence[Shape], *names: str) -> list[Array]:
    """Return sizes of shapes by name, each (n,)."""
    return [np.array([getattr(each, name) for each in shapes], dtype=np.float64) for name in names]


def strength(section: Section) -> float:
    """Return a section's yield strength, Pa: as welded where welding softens it, wherever the welds are."""
    metals = (section.material, *section.metals)
    return min(strength for each in metals for strength in (each.yield_strength, each.welded_yield or inf))


def apart(found: Sequence[SectionProperties], strengths: Array) -> ManySections:
    """Return sections that were each calculated by themselves."""
    fields = [each.fields for each in found if each.fields is not None]
    if len(fields) < len(found):
        raise ValueError("no stress follows for this section")
    normal, shear = np.stack([each.normal for each in fields]), np.stack([each.shear for each in fields])
    return ManySections(section_table(found), strengths, normal, shear)


def table_of(m: MidlineResults, sections: Sequence[Section]) -> Array:
    """Return the numbers (n, 14) that the frame needs, in the order of frame.element.section_table."""
    e, g, density = (
        np.array([getattr(each.material, name) for each in sections])
        for name in ("youngs_modulus", "shear_modulus", "density")
    )
    warping = 0.0 * e if encloses(m) else e * m.twist.warping_constant
    return np.stack(
        [
            e * m.area,
            g * m.twist.torsion_constant,
            warping,
            e * m.inertias.sideways,
            e * m.inertias.product,
            e * m.inertias.vertical,
            1 / (g * m.shear_area_sideways),
            1 / (g * m.shear_area_vertical),
            m.centroid[:, 0],
            m.centroid[:, 1],
            m.centroid[:, 0] + m.twist.shear_centre[:, 0],
            m.centroid[:, 1] + m.twist.shear_centre[:, 1],
            m.area * density,
            depths(m),
        ],
        axis=1,
    )


def depths(m: MidlineResults) -> Array:
    """Return the depth (n,) of each outline, m."""
    half = 0.5 * m.lines.thickness * np.abs(m.lines.ey)
    real = np.broadcast_to(m.graph.solid > 0.0, half.shape)
    high = np.where(real, np.maximum(m.lines.z0, m.lines.z1) + half, -np.inf).max(axis=-1)
    low = np.where(real, np.minimum(m.lines.z0, m.lines.z1) - half, np.inf).min(axis=-1)
    return np.asarray(high - low)


def along_walls(m: MidlineResults, shear: Array) -> Array:
    """Return shear (n, p, 1, 4) along the walls from its y and z components (n, p, 2, 4): in a thin wall it has no other."""
    wall = places(m.graph).wall
    ey, ez = (np.take(each, wall, axis=-1)[..., None] for each in (m.lines.ey, m.lines.ez))
    return np.asarray((shear[..., 0, :] * ey + shear[..., 1, :] * ez)[..., None, :])
