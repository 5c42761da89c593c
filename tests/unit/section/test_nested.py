"""Worn and drilled pieces in built-up ones, plates on boxed rails: by mesh, by mid-line theory, and by areas and levers (by hand)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.stand_in import as_rail
from framecheck.model.frame import Section
from framecheck.model.joining import StitchWeld
from framecheck.model.shape_parts import built_up_in, drilled_whole, part_count, parts_held_by
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    FloorClosed,
    Hat,
    Hole,
    Pairing,
    Plate,
    Plated,
    RectTube,
    Shape,
    Side,
    Sleeve,
    Worn,
)
from framecheck.section.analysis import section_properties
from framecheck.section.midline import midline_properties
from framecheck.section.properties import SectionProperties
from framecheck.section.shape_geometry import box_of
from tests.unit.section.samples import steel

CHANNEL = Channel(0.1, 0.05, 0.003, 0.003)
RUSTED = Worn(CHANNEL, top=0.0008, bottom=0.0005, left=0.0006)
TUBE = RectTube(0.1, 0.05, 0.003, 0.006)
LEFT, TOP = Hole(Side.LEFT, 0.01, 0.01), Hole(Side.TOP, 0.006, 0.002)
Box = tuple[float, float, float, float]
"""Of a plate: low and high y, low and high z, m."""

BUILT: dict[str, tuple[Shape, tuple[Shape, ...], tuple[Box, ...]]] = {
    "boxed, of a rusted channel": (
        BoxedChannel(RUSTED, 0.003),
        (RUSTED,),
        ((-0.028, -0.025, -0.0495, 0.0492),),
    ),
    "rusted channel on a floor": (FloorClosed(RUSTED, 0.002, 0.01), (RUSTED,), ((-0.027, -0.025, -0.0595, 0.0592),)),
    "rusted hat on a floor": (
        FloorClosed(Worn(Hat(0.06, 0.06, 0.025, 0.0025, 0.002), bottom=0.0006), 0.0015),
        (Worn(Hat(0.06, 0.06, 0.025, 0.0025, 0.002), bottom=0.0006),),
        ((-0.055, 0.055, -0.0309, -0.0294),),
    ),
    "plate on a rusted tube": (
        Plated(Worn(TUBE, left=0.0006), (Plate(Side.LEFT, 0.06, 0.003),)),
        (Worn(TUBE, left=0.0006),),
        ((0.0244, 0.0274, -0.03, 0.03),),
    ),
    "plate under a boxed channel": (
        Plated(BoxedChannel(CHANNEL, 0.003), (Plate(Side.BOTTOM, 0.04, 0.004),)),
        (BoxedChannel(CHANNEL, 0.003),),
        ((-0.02, 0.02, -0.054, -0.05),),
    ),
    "plate on the boxing plate": (
        Plated(BoxedChannel(CHANNEL, 0.003), (Plate(Side.RIGHT, 0.06, 0.004),)),
        (BoxedChannel(CHANNEL, 0.003),),
        ((-0.032, -0.028, -0.03, 0.03),),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BUILT)
def test_a_built_up_section_is_its_parts_with_their_levers(name: str) -> None:
    """Area, middle and second moment of rectangles (b h3 / 12 + A d2) on those of what was there first."""
    shape, pieces, plates = BUILT[name]
    found, thin = section_properties(steel(shape)), midline_properties(steel(shape))
    rows = []
    for piece in pieces:
        own = section_properties(steel(piece))
        rows.append((own.area, *own.centroid, own.i_vertical))
    for y0, y1, z0, z1 in plates:
        rows.append(((y1 - y0) * (z1 - z0), (y0 + y1) / 2, (z0 + z1) / 2, (y1 - y0) * (z1 - z0) ** 3 / 12))
    area, y, z, own = np.array(rows).T
    middle = (area @ y / area.sum(), area @ z / area.sum())
    assert found.area == approx(area.sum(), rel=1e-6)
    assert found.centroid == approx(middle, abs=1e-8)
    assert found.i_vertical == approx(own.sum() + area @ (z - middle[1]) ** 2, rel=1e-6)
    assert (thin.area, thin.i_vertical, thin.torsion_constant) == approx(
        (found.area, found.i_vertical, found.torsion_constant), rel=0.04
    )


@pytest.mark.parametrize("pairing", [Pairing.BACK_TO_BACK, Pairing.TOE_TO_TOE])
def test_a_rusted_web_is_moved_until_it_touches(pairing: Pairing) -> None:
    """A pair is as wide as what rust left of its two, and in its middle."""
    box = box_of(ChannelPair(RUSTED, CHANNEL, pairing))
    assert box.y == approx((-(0.0494 + 0.05) / 2, (0.0494 + 0.05) / 2))
    found = section_properties(steel(ChannelPair(RUSTED, CHANNEL, pairing)))
    parts = [section_properties(steel(each)) for each in (RUSTED, CHANNEL)]
    assert found.area == approx(sum(each.area for each in parts), rel=1e-6)
    assert found.box[1] - found.box[0] == approx(box.width, rel=1e-9)


DRILLED: dict[str, tuple[Shape, Shape, float]] = {
    "a channel, then boxed": (
        BoxedChannel(Drilled(CHANNEL, (LEFT,)), 0.003),  # type: ignore[arg-type]
        BoxedChannel(CHANNEL, 0.003),
        0.01 * 0.003,
    ),
    "a tube, then plated over the hole": (
        Plated(Drilled(TUBE, (LEFT,)), (Plate(Side.LEFT, 0.06, 0.004),)),  # type: ignore[arg-type]
        Plated(TUBE, (Plate(Side.LEFT, 0.06, 0.004),)),
        0.01 * 0.003,
    ),
    "a plated tube, through plate and wall": (
        Drilled(Plated(TUBE, (Plate(Side.LEFT, 0.06, 0.004),)), (LEFT,)),
        Plated(TUBE, (Plate(Side.LEFT, 0.06, 0.004),)),
        0.01 * 0.007,
    ),
    "the second of two channels": (
        ChannelPair(CHANNEL, Drilled(CHANNEL, (TOP,))),  # type: ignore[arg-type]
        ChannelPair(CHANNEL, CHANNEL),
        0.006 * 0.003,
    ),
    "what rust has left": (Drilled(Worn(TUBE, left=0.001), (LEFT,)), Worn(TUBE, left=0.001), 0.01 * 0.002),
}


@pytest.mark.parametrize("name", DRILLED)
def test_a_hole_takes_its_width_times_the_walls_it_goes_through(name: str) -> None:
    shape, whole, gone = DRILLED[name]
    found, full = section_properties(steel(drilled_whole(shape))), section_properties(steel(whole))
    thin = midline_properties(steel(drilled_whole(shape)))
    assert found.area == approx(full.area - gone, rel=1e-6)
    assert full.i_vertical > found.i_vertical
    assert full.torsion_constant == found.torsion_constant  # twist runs round a hole
    assert (thin.area, thin.i_vertical) == approx((found.area, found.i_vertical), rel=0.01)


def test_a_hole_in_a_turned_channel_is_turned_with_it() -> None:
    one = drilled_whole(ChannelPair(Drilled(CHANNEL, (TOP,)), CHANNEL))  # type: ignore[arg-type]
    other = drilled_whole(ChannelPair(CHANNEL, Drilled(CHANNEL, (TOP,))))  # type: ignore[arg-type]
    first, second = section_properties(steel(one)), section_properties(steel(other))
    assert first.centroid == approx((-second.centroid[0], second.centroid[1]), abs=1e-9)


def test_rust_and_drill_in_either_order_are_one() -> None:
    """A hole is measured from the middle of its side: 0.2 mm lower once 0.4 mm of the bottom is more gone than of the top."""
    rust = {"top": 0.0005, "bottom": 0.0009}
    before = drilled_whole(Worn(Drilled(TUBE, (LEFT,)), **rust))  # type: ignore[arg-type]
    after = Drilled(Worn(TUBE, **rust), (Hole(Side.LEFT, 0.01, 0.01 - 0.0002),))
    assert isinstance(before, Drilled)
    assert before.holes[0].position == approx(after.holes[0].position)
    assert section_properties(steel(before)).area == approx(section_properties(steel(after)).area, rel=1e-9)


def test_a_rail_of_rusted_parts_stands_as_one_at_its_joints() -> None:
    rail = as_rail(Plated(BoxedChannel(RUSTED, 0.004), (Plate(Side.TOP, 0.04, 0.003),)))
    assert (rail.wall_left, rail.wall_right, rail.width) == approx((0.0024, 0.004, 0.054))
    assert part_count(Plated(BoxedChannel(RUSTED, 0.004), (Plate(Side.TOP, 0.04, 0.003),))) == 3


def test_a_rusted_sleeve_and_core_bend_each_by_itself() -> None:
    outer, core = Worn(RectTube(0.12, 0.07, 0.004), top=0.001), Worn(TUBE, bottom=0.0005)
    both = [section_properties(steel(each)) for each in (outer, core)]
    assert section_properties(steel(Sleeve(outer, core))).i_vertical == approx(sum(each.i_vertical for each in both), rel=1e-9)


def test_each_seam_is_held_by_the_joining_of_its_own_level() -> None:
    """The plate's by its stitches (V Q / I of the plate), the channel's tips by their weld."""
    boxed = BoxedChannel(CHANNEL, 0.003)
    rail = Plated(boxed, (Plate(Side.BOTTOM, 0.04, 0.004),), StitchWeld(0.03, 0.1, 0.003))
    found = section_properties(steel(rail))
    assert [list(parts_held_by(each)) for each in built_up_in(rail)] == [[2], [1]]
    flow = sum(seam.per_vertical for seam in found.seams if seam.part == 2)
    lever = -0.052 - found.centroid[1]
    assert abs(flow) == approx(abs(0.04 * 0.004 * lever / found.i_vertical), rel=1e-3)
    assert {seam.part for seam in found.seams} == {1, 2}


@pytest.mark.parametrize("find", [section_properties, midline_properties])
@pytest.mark.parametrize("again", [0.0, 1e-10, 0.001])
def test_holes_that_run_into_each_other_are_one(find: Callable[[Section], SectionProperties], again: float) -> None:
    """Its neighbour counted as a hole of no wall: mid-line theory divided nothing by nothing (fuzz, seed 69178)."""
    hole, size, place = Hole(Side.TOP, 0.0072), 0.0072 + again, again / 2
    nested = drilled_whole(Drilled(Drilled(CHANNEL, (hole,)), (replace(hole, position=again),)))
    found, one = find(steel(nested)), find(steel(Drilled(CHANNEL, (Hole(Side.TOP, size, place),))))
    names = ("area", "i_vertical", "i_sideways", "torsion_constant", "shear_area_vertical", "shear_area_sideways")
    assert [getattr(found, name) for name in names] == approx([getattr(one, name) for name in names], rel=1e-6)
