"""The self-check of mesh and mid-line theory, and the spread of the torsion constant."""

from __future__ import annotations

from dataclasses import replace

import pytest

from framecheck.model.frame import Section
from framecheck.model.joining import StitchWeld
from framecheck.model.shapes import BoxedChannel, Channel, Flat, Hat, IShape, Plate, Plated, RectTube, Shape, Side
from framecheck.section.analysis import section_properties
from framecheck.section.midline import midline_properties
from framecheck.section.midline_crosscheck import cross_check, torsion_spread
from tests.unit.section.test_midline import STEEL

CHANNEL = Channel(0.1, 0.05, 0.003, 0.003)
SHAPES: dict[str, Shape] = {
    "thick tube": RectTube(0.0508, 0.0508, 0.00635, 0.0127),
    "channel": CHANNEL,
    "hat": Hat(0.05, 0.06, 0.025, 0.003, 0.004),
    "i": IShape(0.1, 0.055, 0.0041, 0.0057, 0.007),
    "flat": Flat(0.05, 0.01),
    "boxed": BoxedChannel(CHANNEL, 0.003),
    "stitched": BoxedChannel(CHANNEL, 0.003, None, StitchWeld(0.03, 0.1)),
    "plated": Plated(CHANNEL, (Plate(Side.LEFT, 0.08, 0.004),)),
}


@pytest.mark.parametrize("name", SHAPES)
def test_both_engines_agree(name: str) -> None:
    section = Section(name, SHAPES[name], STEEL)
    meshed, midline = section_properties(section), midline_properties(section)
    rows = cross_check(meshed, midline)
    assert [row for row in rows if not row.agrees] == []
    assert all(row.allowed < 0.3 for row in rows if "shear area" not in row.quantity)
    assert meshed.closed == midline.closed
    low, high = torsion_spread(meshed, midline)
    assert low <= meshed.torsion_constant <= high
    assert high / low < 1.05


def test_a_wrong_section_is_seen() -> None:
    section = Section("channel", CHANNEL, STEEL)
    midline = midline_properties(section)
    wrong = replace(midline, warping_constant=1.2 * midline.warping_constant, shear_centre=(0.02, 0.0))
    seen = {row.quantity for row in cross_check(midline, wrong) if not row.agrees}
    assert seen == {"warping constant", "shear centre, sideways from the centroid"}
