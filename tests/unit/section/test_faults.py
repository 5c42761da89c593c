"""Every shape that can't be made is refused before the mesher, each with its own words."""

from __future__ import annotations

from math import inf, nan

import pytest

from framecheck.errors import InputError, MeshError
from framecheck.model.frame import Cut, Side
from framecheck.model.joining import BoltRow, StitchWeld
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    ChannelPair,
    Drilled,
    Flat,
    FloorClosed,
    GivenProperties,
    Hat,
    Hole,
    IShape,
    OutlinePolygon,
    Pairing,
    Plate,
    Plated,
    RectTube,
    RoundBar,
    RoundTube,
    Shape,
    Sleeve,
    Worn,
    ZShape,
)
from framecheck.section.analysis import net_properties, section_properties
from tests.unit.section.samples import CHANNEL, TUBE, steel

SQUARE = ((0.0, 0.0), (0.05, 0.0), (0.05, 0.05), (0.0, 0.05))
BOW_TIE = ((0.0, 0.0), (0.05, 0.05), (0.05, 0.0), (0.0, 0.05))


def moved(by: float, size: float) -> tuple[tuple[float, float], ...]:
    """Return a square loop of a size with its first corner at (by, by)."""
    return ((by, by), (by + size, by), (by + size, by + size), (by, by + size))


LIPPED = Channel(0.1, 0.05, 0.003, 0.003, 0.015)
FAULTS: tuple[tuple[Shape, str], ...] = (
    (RectTube(-0.1, 0.05, 0.003), "height is negative"),
    (RectTube(0.1, 0.05, 0.0), "wall is zero"),
    (RectTube(0.1, nan, 0.003), "width is not a number"),
    (RectTube(0.1, 0.05, inf), "wall is not a number"),
    (RectTube(0.1, 0.05, 0.03), "wall 30 mm is half the width 50 mm or more"),
    (RectTube(0.05, 0.1, 0.03), "wall 30 mm is half the height 50 mm or more"),
    (RectTube(0.1, 0.05, 0.003, 0.03), "outside radius 30 mm does not fit a side of 50 mm"),
    (RoundTube(0.05, 0.025), "wall 25 mm is half the diameter 50 mm or more"),
    (RoundBar(0.0), "diameter is zero"),
    (Flat(0.05, -0.01), "width is negative"),
    (Channel(0.01, 0.05, 0.003, 0.003), "height 10 mm leaves no web between two bends of 6 mm"),
    (Channel(0.1, 0.005, 0.003, 0.003), "flange 5 mm is shorter than its bend"),
    (Channel(0.1, 0.05, 0.003, 0.003, 0.05), "lip 50 mm is too long: the two lips meet"),
    (Channel(0.1, 0.05, 0.003, 0.003, 0.004), "lip 4 mm is shorter than its bend"),
    (Angle(0.05, 0.005, 0.004, 0.003), "width 5 mm is shorter than its bend"),
    (Hat(0.05, 0.006, 0.02, 0.002, 0.002), "crown 6 mm is shorter than its bend"),
    (Hat(0.05, 0.06, 0.001, 0.002, 0.002), "brim 1 mm is shorter than its bend"),
    (ZShape(0.1, 0.004, 0.003, 0.003), "flange 4 mm is shorter than its bend"),
    (IShape(0.1, 0.05, 0.005, 0.05), "flanges 50 mm and root radii fill the height 100 mm"),
    (IShape(0.1, 0.05, 0.05, 0.008), "web 50 mm and root radii fill the width 50 mm"),
    (OutlinePolygon(((0.0, 0.0), (0.1, 0.0))), "outline has 2 different points"),
    (OutlinePolygon(((0.0, 0.0), (0.1, 0.0), (0.0, nan))), "outline has a point that is not a number"),
    (OutlinePolygon(BOW_TIE), "the outline crosses itself (at 25 mm, 25 mm)"),
    (OutlinePolygon(SQUARE, (moved(0.06, 0.01),)), "hole 1 is not inside the outline"),
    (OutlinePolygon(SQUARE, (moved(0.04, 0.02),)), "hole 1 is not inside the outline"),
    (OutlinePolygon(SQUARE, (BOW_TIE,)), "hole 1 crosses itself"),
    (OutlinePolygon(SQUARE, (moved(0.01, 0.02), moved(0.02, 0.02))), "holes 1 and 2 overlap"),
    (BoxedChannel(CHANNEL, 0.0), "plate is zero"),
    (BoxedChannel(CHANNEL, 0.003, 0.045), "inset 45 mm and plate 3 mm run into the bend: the flange is flat for 44 mm"),
    (BoxedChannel(LIPPED, 0.003, 0.0), "an inset plate does not go between lips"),
    (BoxedChannel(CHANNEL, 0.003, None, StitchWeld(0.2, 0.1)), "stitches of 200 mm do not fit a pitch of 100 mm"),
    (BoxedChannel(CHANNEL, 0.003, None, BoltRow(0.0)), "the pitch of its joints is zero or negative"),
    (BoxedChannel(Channel(0.1, 0.05, 0.06, 0.003), 0.003), "height 100 mm leaves no web"),
    (BoxedChannel(Worn(TUBE, 0.001), 0.003), "a part of it is a worn section of a rectangular tube"),
    (FloorClosed(BoxedChannel(CHANNEL, 0.003), 0.002), "a part of it is a boxed channel"),  # type: ignore[arg-type]
    (Sleeve(TUBE, Drilled(RectTube(0.09, 0.04, 0.003), ())), "a drilled section: a sleeve is not made of that"),  # type: ignore[arg-type]
    (Sleeve(CHANNEL, RectTube(0.09, 0.04, 0.003)), "a part of it is a channel: a sleeve is not made of that"),  # type: ignore[arg-type]
    (
        Sleeve(RectTube(0.1, 0.06, 0.003), TUBE),
        "the core is 100 mm high, the inside of the sleeve 94 mm: they interfere by 6 mm",
    ),
    (
        Sleeve(RectTube(0.12, 0.055, 0.003), TUBE),
        "the core is 50 mm wide, the inside of the sleeve 49 mm: they interfere by 1 mm",
    ),
    (Sleeve(RoundTube(0.05, 0.003), RoundTube(0.046, 0.003)), "they interfere by 2 mm"),
    (Sleeve(RoundTube(0.11, 0.003), TUBE), "parts 1 and 2 interfere by up to"),
    (FloorClosed(CHANNEL, 0.001, -0.01), "overhang is negative"),
    (Plated(TUBE, ()), "has no plates"),
    (Plated(TUBE, (Plate(Side.TOP, 0.0, 0.003),)), "width is zero"),
    (
        Plated(CHANNEL, (Plate(Side.RIGHT, 0.04, 0.003),)),
        "the plate on the right, 40 mm wide, is narrower than the opening",
    ),
    (
        ChannelPair(CHANNEL, Channel(0.08, 0.05, 0.003, 0.003), Pairing.TOE_TO_TOE),
        "the flange tips stand 10 mm apart and do not meet",
    ),
    (
        ChannelPair(CHANNEL, CHANNEL, Pairing.NESTED),
        "the inner channel is 100 mm high, the outer one 94 mm inside",
    ),
    (
        ChannelPair(Channel(0.1, 0.05, 0.003, 0.009), Channel(0.094, 0.047, 0.003, 0.001), Pairing.NESTED),
        "parts 1 and 2 interfere",
    ),
    (Worn(TUBE, top=0.003), "a loss of 3 mm eats through the 3 mm wall on the top"),
    (Worn(CHANNEL, right=0.001), "there is no flat wall on its right to lose thickness"),
    (Worn(RoundTube(0.05, 0.003), top=0.001), "a round tube has one wall all round"),
    (Worn(TUBE, bends=0.004), "a loss of 4 mm at the bends eats through the wall"),
    (Worn(TUBE, left=-0.001), "left is negative"),
    (Drilled(TUBE, ()), "has no holes"),
    (Drilled(TUBE, (Hole(Side.TOP, 0.0),)), "size is zero"),
    (Drilled(TUBE, (Hole(Side.TOP, 0.012, 0.04),)), "the hole of 12 mm at 40 mm on the top lies outside the wall"),
    (
        Drilled(TUBE, (Hole(Side.TOP, 0.012, 0.018),)),
        "the hole of 12 mm at 18 mm on the top runs into a bend or the next wall",
    ),
    (GivenProperties(-1e-3, 1e-6, 1e-6, 1e-6), "area is negative"),
    (GivenProperties(1e-3, 1e-6, 1e-7, 1e-6, i_product=1e-6), "product of inertia is larger than any section's"),
    (GivenProperties(1e-3, 1e-6, 1e-7, 1e-6, warping_constant=-1.0), "warping constant is negative"),
    (GivenProperties(1e-3, 1e-6, 1e-7, 1e-6, fibres=(0.05, 0.0, 0.02, 0.02)), "a fibre distance is zero or negative"),
)


@pytest.mark.parametrize(("shape", "words"), FAULTS, ids=[words[:50] for _, words in FAULTS])
def test_a_shape_that_cannot_be_made(shape: Shape, words: str) -> None:
    with pytest.raises(InputError) as caught:
        section_properties(steel(shape, "left rail"))
    assert any(words in str(fault) for fault in caught.value.faults)
    assert all(fault.subject == "left rail" and fault.remedy for fault in caught.value.faults)


def test_no_two_faults_read_the_same() -> None:
    words = [words for _, words in FAULTS if words != "hole 1 is not inside the outline"]
    assert len(set(words)) == len(words)


def test_all_faults_of_a_shape_come_at_once() -> None:
    with pytest.raises(InputError) as caught:
        section_properties(steel(RectTube(-0.1, 0.0, nan)))
    assert len(caught.value.faults) == 3


CUTS = (
    (TUBE, Cut("C-notch", Side.TOP, 1.0, 0.1, 0.1), "the cut C-notch is 100 mm deep, the section only 100 mm"),
    (TUBE, Cut("C-notch", Side.LEFT, 1.0, 0.07, 0.1), "the cut C-notch is 70 mm deep, the section only 50 mm"),
    (TUBE, Cut("C-notch", Side.TOP, 1.0, 0.0, 0.1), "the cut C-notch has no depth"),
    (
        GivenProperties(1e-3, 1e-6, 1e-6, 1e-6),
        Cut("C-notch", Side.TOP, 1.0, 0.02, 0.1),
        "the cut C-notch needs an outline",
    ),
)


@pytest.mark.parametrize(("shape", "cut", "words"), CUTS)
def test_a_cut_that_cannot_be_made(shape: Shape, cut: Cut, words: str) -> None:
    with pytest.raises(InputError, match=words):
        net_properties(steel(shape), cut)


def test_sides_that_run_into_one_another_are_refused_before_the_mesher_ends_the_process() -> None:
    needle = OutlinePolygon(((0.0, 0.0), (0.1, 0.0), (0.1, 0.00005), (0.1, 0.05), (0.05, 0.05), (0.0, 0.00001)))
    with pytest.raises(MeshError, match="run into one another"):
        section_properties(steel(OutlinePolygon(((0.0, 0.0), (0.06, 0.0), (0.06, 0.00005)))))
    assert section_properties(steel(needle)).area > 0


def test_a_foil_is_refused() -> None:
    with pytest.raises(MeshError, match="too thin for the size of the section"):
        section_properties(steel(RectTube(0.1, 0.05, 1e-5)))


def test_a_hole_at_the_edge_of_a_thick_tubes_bend_is_meshed() -> None:
    """Leaves sides and slivers that once made the mesher end the process."""
    tube = RectTube(0.04546, 0.0614, 0.019106, 0.02083)
    drilled = Drilled(tube, (Hole(Side.TOP, 0.006, 0.02017053160277449),))
    assert section_properties(steel(drilled)).area < section_properties(steel(tube)).area
