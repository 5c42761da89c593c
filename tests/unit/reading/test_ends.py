"""Member ends that can't be made as the file says are refused by line; what is said of an end is read."""

from __future__ import annotations

import pytest

from framecheck.errors import InputError
from framecheck.model.frame import Frame
from framecheck.model.joining import Cap, EndFinish, GussetPair, GussetPlace
from framecheck.model.shapes import Side
from framecheck.reading.case_file import read_case
from tests.cases.test_sections import LIBRARY

TEXT = """title: one joint
sections:
  rail: {shape: rectangular tube, height: 4 in, width: 2 in, wall: 1/8 in, material: A36}
  cross: {shape: rectangular tube, height: 2 in, width: 2 in, wall: 1/8 in, material: A36}
  wide: {shape: rectangular tube, height: 5 in, width: 2 in, wall: 1/8 in, material: A36}
  open: {shape: channel, height: 2 in, flange: 1 in, wall: 1/8 in, inside radius: 0 in, material: A36}
frame:
  points:
    a: {x: -20 in}
    m: {x: 0 in}
    b: {x: 4 in}
    tip: {x: 0 in, y: 20 in}
  members:
    - {name: rail, points: [a, m, b], section: rail, end: {cap: CAP}}
    - {name: cross, points: [m, tip], section: CROSS, start: {END}}
  supports: [{point: a, held: all}]
load cases:
  - pull: {forces: [{point: tip, force: {z: -100 lb}}]}
"""
PAIR = "along rail: 2 in, along member: 2 in, thickness: 1/8 in"


def read(end: str = "make: butt on one face", cap: str = "open", cross: str = "cross") -> Frame:
    return read_case(TEXT.replace("END", end).replace("CAP", cap).replace("CROSS", cross), "joint.yaml", LIBRARY).frame


@pytest.mark.parametrize(
    ("said", "line", "words"),
    [
        ({"cross": "wide"}, 15, "wide where the wall it stands on is 4 in"),
        ({"end": "make: butt on one face, welded sides: [top, right]", "cross": "open"}, 15, "no wall on its right to weld"),
        ({"end": f"make: butt on one face, gussets: {{{PAIR}, height: 1.5 in}}"}, 15, "off its walls"),
        ({"end": f"make: butt on one face, gussets: {{{PAIR.replace('2 in', '4 in', 1)}}}"}, 15, "along the rail, which ends 4 in"),
        ({"end": f"make: gusseted, gussets: {{{PAIR.replace('member: 2 in', 'member: 30 in')}}}"}, 15, "and it is 20 in"),
        ({"end": "make: on the web and both flanges"}, 15, "no flanges beside it"),
        ({"cap": "0.5 mm"}, 14, "under 1 mm"),
        ({"end": f"make: gusseted, gussets: {{{PAIR.replace('1/8 in', '0.5 mm')}}}"}, 15, "gussets under 1 mm"),
        ({"end": "make: butt on one face, welded sides: [top, top]"}, 15, "top is named twice"),
        ({"end": "make: butt on one face, arm: {z: -3.3 in}"}, 15, "from the middle of a wall that is 4 in"),
        ({"end": f"make: gusseted, arm: {{z: 1.3 in}}, gussets: {{{PAIR}, height: 0.9 in}}"}, 15, "wall, beyond its edge"),
        ({"end": f"make: gusseted, arm: {{x: 1.5 in}}, gussets: {{{PAIR}}}"}, 15, "along the rail, which ends 2.5"),
    ],
)
def test_an_end_that_cannot_be_made_is_refused_by_line(said: dict[str, str], line: int, words: str) -> None:
    with pytest.raises(InputError) as refused:
        read(**said)
    (fault,) = refused.value.faults
    assert fault.place == f"joint.yaml:{line}"
    assert words in fault.fault


def test_what_is_said_of_an_end_is_read() -> None:
    frame = read(f"make: butt on one face, welded sides: [top, left], gussets: {{{PAIR}, at: top and bottom}}", "3 mm")
    rail, cross = frame.members
    assert cross.start.welded == (Side.TOP, Side.LEFT)
    assert cross.start.gussets == GussetPair(0.0508, 0.0508, pytest.approx(0.003175), GussetPlace.BOTH)
    assert rail.end.cap == Cap(EndFinish.PLATE, 0.003)
    assert read(cap="runs on").members[0].end.cap == Cap(EndFinish.RUNS_ON)


@pytest.mark.parametrize(("arm", "told"), [("0 mm", 0), ("0.01 mm", 1), ("20 mm", 1), ("40 mm", 0)])
def test_an_arm_that_alone_keeps_two_members_from_being_one_is_in_doubt(arm: str, told: int) -> None:
    """A hair of an arm made two ends of one rail, and a joint on them that no model covers; 40 mm, over half the width, is a step."""
    two = "{name: rail, points: [a, m], section: rail}\n    - {name: other, points: [m, b], section: rail, start: {arm: {z: ARM}}}"
    text = TEXT.replace("{name: rail, points: [a, m, b], section: rail, end: {cap: CAP}}", two.replace("ARM", arm))
    case = read_case(text.replace("END", "make: butt on one face").replace("CROSS", "cross"), "joint.yaml", LIBRARY)
    assert len([each for each in case.doubts if "running on into" in each.what]) == told
