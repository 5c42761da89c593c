"""Every way a piece is plated, closed, paired or worn: by mesh, by mid-line theory, and by areas and lever arms (by hand)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.model.shapes import (
    Angle,
    Channel,
    ChannelPair,
    Flat,
    FloorClosed,
    Hat,
    IShape,
    Pairing,
    Plate,
    Plated,
    RectTube,
    RoundBar,
    RoundTube,
    Shape,
    Side,
    Worn,
    ZShape,
)
from framecheck.section.analysis import section_properties
from framecheck.section.midline import midline_properties
from framecheck.section.midline_crosscheck import cross_check
from framecheck.section.properties import SectionProperties
from framecheck.section.walls import walls_of
from tests.unit.section.samples import steel

CHANNEL = Channel(0.1, 0.05, 0.003, 0.003)
HAT = Hat(0.05, 0.06, 0.025, 0.003, 0.004)
Z = ZShape(0.1, 0.05, 0.003, 0.003)
I_SHAPE = IShape(0.1, 0.055, 0.0041, 0.0057, 0.007)
TUBE = RectTube(0.1, 0.05, 0.003)
Added = tuple[Shape, Shape, tuple[float, float], float]
"""A built-up shape, its base, and the middle (y, z) and area of what is added to it."""

ADDED: dict[str, Added] = {
    "hat on a floor": (FloorClosed(HAT, 0.002, 0.005), HAT, (0.0, -0.026), 0.12 * 0.002),
    "channel on a floor": (FloorClosed(CHANNEL, 0.002, 0.01), CHANNEL, (-0.026, 0.0), 0.12 * 0.002),
    "hat with a cap": (Plated(HAT, (Plate(Side.TOP, 0.04, 0.004),)), HAT, (0.0, 0.027), 0.04 * 0.004),
    "z with a plate below": (Plated(Z, (Plate(Side.BOTTOM, 0.03, 0.004, -0.02),)), Z, (-0.02, -0.052), 0.03 * 0.004),
    "tube with a plate right": (Plated(TUBE, (Plate(Side.RIGHT, 0.06, 0.004, 0.01),)), TUBE, (-0.027, 0.01), 0.06 * 0.004),
    "tube with a plate left": (Plated(TUBE, (Plate(Side.LEFT, 0.06, 0.004),)), TUBE, (0.027, 0.0), 0.06 * 0.004),
}  # fmt: skip


def both(shape: Shape) -> tuple[SectionProperties, SectionProperties]:
    """Return the section by mesh and by mid-line theory."""
    section = steel(shape)
    return section_properties(section), midline_properties(section)


def differing(meshed: SectionProperties, midline: SectionProperties) -> list[str]:
    return [row.quantity for row in cross_check(meshed, midline) if not row.agrees]


@pytest.mark.parametrize("name", ADDED)
def test_what_is_added_counts_with_its_area_and_lever(name: str) -> None:
    shape, base, at, area = ADDED[name]
    bare = section_properties(steel(base))
    meshed, midline = both(shape)
    total = bare.area + area
    middle = (np.multiply(bare.area, bare.centroid) + np.multiply(area, at)) / total
    assert meshed.area == approx(total, rel=1e-6)
    assert meshed.centroid == approx(tuple(middle), abs=1e-8)
    assert midline.area == approx(total, rel=0.01)
    assert differing(meshed, midline) == []


@pytest.mark.parametrize("name", ADDED)
def test_the_added_wall_stands_where_it_was_put(name: str) -> None:
    shape, base, at, _ = ADDED[name]
    wall = walls_of(shape)[len(walls_of(base)) :][0]
    assert np.add(wall.start, wall.end) / 2 == approx(at)
    assert (wall.free_start, wall.free_end) == (False, False)


WORN: tuple[Shape, ...] = (
    Worn(I_SHAPE, top=0.001, bottom=0.002),
    Worn(HAT, top=0.001, bottom=0.0005),
    Worn(Z, bottom=0.001),
    Worn(CHANNEL, top=0.0005, bottom=0.0005, left=0.0005, bends=0.0002),
    Worn(Angle(0.06, 0.05, 0.004, 0.004), left=0.0005, bottom=0.0005),
)
"""Of bent sheet about a sixth of the wall is lost: mid-line theory leaves the slabs' cut into the bends out."""


@pytest.mark.parametrize("shape", WORN, ids=lambda each: type(each.base).__name__)
def test_worn_pieces_agree_by_both_theories(shape: Worn) -> None:
    meshed, midline = both(shape)
    assert differing(meshed, midline) == []
    assert meshed.area < section_properties(steel(shape.base)).area


def test_a_worn_flat_is_a_smaller_flat_off_the_middle() -> None:
    """60 x 12 less 1 below, 2 left and 1 right: 57 x 11, its middle 0.5 up and 0.5 to the right (by hand)."""
    worn, plain = midline_properties(steel(Worn(Flat(0.012, 0.06), bottom=0.001, left=0.002, right=0.001))), Flat(0.011, 0.057)
    smaller = midline_properties(steel(plain))
    assert worn.centroid == approx((-0.0005, 0.0005))
    assert (worn.area, worn.i_vertical, worn.i_sideways) == approx((smaller.area, smaller.i_vertical, smaller.i_sideways))


def test_a_round_tube_worn_all_round_is_a_thinner_tube() -> None:
    worn = Worn(RoundTube(0.05, 0.004), top=0.001, bottom=0.001, left=0.001, right=0.001)
    thinner = midline_properties(steel(RoundTube(0.048, 0.003)))
    found = midline_properties(steel(worn))
    assert (found.area, found.torsion_constant) == approx((thinner.area, thinner.torsion_constant))


def test_a_round_bar_by_mid_line_theory() -> None:
    """A = pi d2/4, I = pi d4/64, J = pi d4/32 (mechanics texts)."""
    bar = midline_properties(steel(RoundBar(0.02)))
    assert bar.area == approx(np.pi * 0.02**2 / 4)
    assert bar.i_vertical == approx(np.pi * 0.02**4 / 64)
    assert bar.torsion_constant == approx(np.pi * 0.02**4 / 32)


def test_a_nested_pair_agrees_by_both_theories() -> None:
    inner = replace(CHANNEL, height=0.094, flange=0.045)
    meshed, midline = both(ChannelPair(CHANNEL, inner, Pairing.NESTED))
    assert differing(meshed, midline) == []
    first, second = section_properties(steel(CHANNEL)), section_properties(steel(inner))
    assert meshed.area == approx(first.area + second.area, rel=1e-6)
