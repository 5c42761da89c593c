"""The corners of a unit body's roof: said in words of kinks, a range where they are not."""

from __future__ import annotations

import re

import pytest

from framecheck.errors import InputError
from framecheck.frame.corner_springs import corner_at
from framecheck.frame.joints import meetings_of
from framecheck.frame.kinks import kinks_of
from framecheck.model.frame import Frame, Kinks
from framecheck.reading.case_file import read_case
from tests.cases.test_sections import LIBRARY
from tests.verification.body_files import RIGID, body_told
from tests.verification.test_unit_bodies import BODIES

SIZES = BODIES["closed, no tunnel"]["sizes_mm"]
TOPS = {f"{side} {pillar} top" for side in ("left", "right") for pillar in ("A pillar", "B pillar")}


def frame_of(corners: str) -> Frame:
    """Return the frame of a closed body whose pillars' ends are rigid, or left out where corners are not said."""
    ends = RIGID if corners != "unsaid" else RIGID | {"pillars": "unsaid"}
    return read_case(body_told(SIZES, ends, corners), "case.yaml", LIBRARY).frame


@pytest.mark.parametrize("made", [Kinks.MITRED, Kinks.PLATED])
def test_cant_rails_turn_into_pillars_as_they_are_said_to(made: Kinks) -> None:
    """The corner is a kink of the said make between two members, though a header ends there too; nothing is open at it."""
    frame = frame_of(made.value)
    assert {kink.point for kink in kinks_of(frame) if kink.made is made} >= TOPS
    assert not {met.point for met in meetings_of(frame).values()} & TOPS


@pytest.mark.parametrize("header", ["", ", ends: rigid"])
def test_a_header_is_one_with_mitred_corners(header: str) -> None:
    """Left out or said to be rigid there, its ends are legs of four open corners of three; nothing is open at them."""
    text = body_told(SIZES, RIGID | {"pillars": "unsaid"}, "mitred")
    assert "headers: {section: header}" in text
    text = text.replace("headers: {section: header}", f"headers: {{section: header{header}}}")
    frame = read_case(text, "case.yaml", LIBRARY).frame
    corners = {kink.point: legs for kink in kinks_of(frame) if (legs := corner_at(frame, kink)) is not None}
    assert set(corners) == TOPS
    assert {frame.members[legs[2].member].name for legs in corners.values()} == {"front header", "rear header"}
    assert not {met.point for met in meetings_of(frame).values()} & TOPS


def test_a_header_on_a_plated_corner_is_no_leg_of_it() -> None:
    """A plate within closes the corner of two."""
    frame = frame_of(Kinks.PLATED.value)
    assert all(corner_at(frame, kink) is None for kink in kinks_of(frame))


def test_corners_that_are_not_said_are_a_range() -> None:
    """Each end there meets the others."""
    frame = frame_of("unsaid")
    assert {met.point for met in meetings_of(frame).values()} >= TOPS
    assert not TOPS & {kink.point for kink in kinks_of(frame)}


FAULTS = {
    "says both 'corners' and 'ends'": ("corners: mitred", "ends: rigid, corners: mitred"),
    "has a kink plate, and its corners are not mitred with an inner plate": ("corners: mitred", "corners: mitred, kink plate: 2 mm"),
    "has a bend radius, and its corners are not bent": ("corners: mitred", "corners: mitred, bend radius: 80 mm"),
    "has a plate under 1 mm": ("corners: mitred", "corners: mitred with an inner plate, kink plate: 0.5 mm"),
    "says how its end is made": ("kinks: mitred, start: rigid", "kinks: mitred, ends: rigid, end: rigid"),
}


@pytest.mark.parametrize("fault", list(FAULTS))
def test_faults_are_told_by_line(fault: str) -> None:
    """By the line of the part."""
    text = body_told(SIZES, RIGID, "mitred")
    old, new = FAULTS[fault]
    assert old in text
    with pytest.raises(InputError, match=rf"case.yaml:\d+.*{re.escape(fault)}"):
        read_case(text.replace(old, new), "case.yaml", LIBRARY)
