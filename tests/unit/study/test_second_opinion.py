"""The second opinion: both libraries agree over shapes, frames and loads of every kind, a fault is seen, and refusals are in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from framecheck.cli import options, section_commands
from framecheck.frame.structure import Structure
from framecheck.model.frame import Frame
from framecheck.output.comparison import record, second_opinion_text
from framecheck.output.display import Units
from framecheck.reading.case_file import read_case
from framecheck.run import Results, run
from framecheck.section.analysis import section_properties
from framecheck.section.properties import SectionProperties
from framecheck.study import second_opinion_frame as by_pynite
from framecheck.study import second_opinion_pynite as by_library
from framecheck.study.second_opinion_frame import opinion_of_frame
from framecheck.study.second_opinion_section import Difference, SecondOpinion, opinion_of_section
from tests.cases.answers import ROOT, told
from tests.cases.test_sections import LIBRARY
from tests.unit.section.samples import CHANNEL, TUBE, steel

FRAME = """title: a frame of every kind
origin: a
sections:
  rail: {{shape: channel, height: {height} mm, flange: 50 mm, wall: 3 mm, inside radius: 3 mm, material: A36}}
  foot: {{shape: angle, height: 60 mm, width: {width} mm, wall: 4 mm, material: A36}}
  round: {{shape: round tube, diameter: 40 mm, wall: 3 mm, material: A36}}
frame:
  ladder:
    rail:
      section: rail
      stations:
        - {{name: front, x: {front} mm, y: 400 mm, z: 0 mm}}
        - {{name: middle, x: 0 mm, y: 430 mm, z: {rise} mm}}
        - {{name: rear, x: -1300 mm, y: 430 mm, z: 40 mm}}
    crossmembers:
      - {{name: c1, x: -200 mm, section: foot, ends: rigid, drop: 50 mm}}
      - {{name: c2, x: -1000 mm, section: rail, ends: butt on one face, open side: up}}
  points:
    top: {{x: -300 mm, y: 100 mm, z: 600 mm}}
  members:
    - {{name: stay, points: [left middle, top], section: round, ends: pinned}}
    - {{name: other stay, points: [right middle, top], section: foot, roll: {roll} deg, ends: rigid}}
    - {{name: back stay, points: [left rear, top], section: round, ends: pinned}}
  supports:
    - {{point: left front, held: place}}
    - {{point: right front, held: [y, z], springs: {{x: 3 kN/mm, turn y: 20 kNm/deg}}}}
    - {{point: left rear, held: [z]}}
    - {{point: right rear, springs: {{z: 0.4 kN/mm}}}}
load cases:
  - lean:
      own weight: 2
      forces:
        - {{point: top, force: {{x: 300 N, y: -500 N, z: -900 N}}, moment: {{z: 40 N·m}}}}
      member loads:
        - {{member: left rail, load: {{z: -2 N/mm}}, load at the end: {{z: -0.5 N/mm, y: 0.3 N/mm}}, from: 100 mm, to: 900 mm}}
        - {{member: c2, force: {{z: -800 N}}, at: {at} mm}}
        - {{member: stay, load: {{y: 0.4 N/mm}}}}
  - warm:
      warmings:
        - {{member: c1, rise: 40 K}}
"""


def results_of(text: str) -> Results:
    return run(read_case(text, "case.yaml", LIBRARY))


def frame_text(seed: int) -> str:
    """Return the frame in sizes drawn at random."""
    draw = np.random.default_rng(seed).uniform
    return FRAME.format(
        height=draw(80, 160), width=draw(30, 90), front=draw(500, 900), rise=draw(-80, 80), roll=draw(0, 180), at=draw(0, 860)
    )


@pytest.mark.parametrize("seed", range(6))
def test_both_programs_solve_a_frame_of_every_kind_alike(seed: int) -> None:
    """PyNiteFEA, an independent library: channels turned and mirrored, rolled angles, pins, arms, springs, loads of every kind."""
    opinion = opinion_of_frame(results_of(frame_text(seed)))
    assert {each.quantity for each in opinion.differences} >= {"movement", "turn", "member end, force", "reaction, force"}
    assert max(abs(each.share) for each in opinion.differences) < 5e-4, second_opinion_text(opinion, Units.SI, 100)
    assert any("warm" in each for each in opinion.left_out)


@pytest.mark.parametrize("name", ["hill-truck.yaml", "hill-truck-original.yaml", "skid-plate.yaml", "tie-down.yaml"])
def test_both_programs_solve_the_demonstrations_alike(name: str, tmp_path: Path) -> None:
    """PyNiteFEA: frames that hang on nothing, bodies on mounts, a plate's many contact forces."""
    answer = told("check", str(ROOT / "cases" / name), "--second-opinion", "--quiet", "--json", str(tmp_path / "answer.json"))
    opinion = answer.data["second_opinion"]
    assert opinion["agrees"]
    assert max(abs(each["difference"]) for each in opinion["differences"]) < 5e-4


def test_a_wrong_number_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """A frame of ours that is a tenth stiffer in twist than what the library is given is told as a difference."""
    right = by_pynite.ideal_structure

    def wrong(frame: Frame, sections: Mapping[str, SectionProperties]) -> Structure:
        stiffer = {name: replace(each, torsion_constant=1.1 * each.torsion_constant) for name, each in sections.items()}
        return replace(right(frame, stiffer), sections=right(frame, sections).sections)

    monkeypatch.setattr(by_pynite, "ideal_structure", wrong)
    opinion = opinion_of_frame(results_of(frame_text(0)))
    assert not opinion.agrees
    assert "THEY DIFFER" in second_opinion_text(opinion, Units.US, 200)


@pytest.mark.parametrize("shape", [TUBE, CHANNEL], ids=lambda each: type(each).__name__)
def test_a_section_is_worked_out_anew(shape) -> None:  # type: ignore[no-untyped-def]
    """sectionproperties on our outline; a torsion constant a hundredth too large is seen."""
    section = steel(shape)
    ours = section_properties(section)
    assert opinion_of_section(section, ours).agrees
    wrong = opinion_of_section(section, replace(ours, torsion_constant=1.01 * ours.torsion_constant))
    assert wrong.differences[0].quantity == "torsion constant"
    assert not wrong.agrees


@pytest.mark.parametrize(
    ("command", "library"),
    [(("section", "tube 4 x 2 x 3/16 in"), "sectionproperties"), (("check", str(ROOT / "cases" / "tie-down.yaml")), "PyNiteFEA")],
)
def test_a_library_that_is_missing_is_told_with_its_remedy(
    command: tuple[str, ...], library: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(options, "find_spec", lambda _: None)
    answer = told(*command, "--second-opinion")
    assert answer.code == 2
    assert f"{library} is not installed" in answer.err
    assert "python -m pip install 'framecheck[second-opinion]'" in answer.err


def test_a_section_in_json_with_its_second_opinion(tmp_path: Path) -> None:
    """What the file holds is what the table of a rolled tube asks for: AISC's 4 x 2 x 3/16 has a design wall of 0.174 in."""
    answer = told("section", "tube 4 x 2 x 3/16 in", "--second-opinion", "--json", str(tmp_path / "answer.json"))
    assert answer.code == 0
    name = "tube 4 x 2 x 3/16 in"
    assert answer.data["sections"][name]["plastic_modulus_vertical_m3"] > 0
    assert answer.data["second_opinion"][name]["agrees"]
    assert "Second opinion: sectionproperties" in answer.out


def test_given_numbers_have_nothing_to_be_compared() -> None:
    text = FRAME.replace("shape: round tube, diameter: 40 mm, wall: 3 mm", "shape: given properties, area: 3 cm2, "
    "second moment vertical: 6 cm4, second moment sideways: 6 cm4, torsion constant: 12 cm4")  # fmt: skip
    case = read_case(text.format(height=90, width=50, front=500, rise=0, roll=0, at=400), "case.yaml", LIBRARY)
    section = case.frame.sections["round"]
    opinion = opinion_of_section(section, section_properties(section))
    assert not opinion.differences
    assert "no outline" in opinion.left_out[0]


def test_supports_that_a_load_case_brings_are_those_that_hold_it() -> None:
    """The library had a frame that nothing held, and the screen said that they differ by 1e9 %."""
    file = ROOT / "cases" / "twist-rig.yaml"
    opinion = opinion_of_frame(run(read_case(file.read_text(encoding="utf-8"), file.name, LIBRARY)))
    assert {each.quantity for each in opinion.differences} >= {"movement", "reaction, force"}
    assert max(abs(each.share) for each in opinion.differences) < 0.002
    assert not any("can't solve" in each for each in opinion.left_out)


def test_what_the_library_cannot_hold_is_not_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without what holds it, the library's frame moves as far as rounding likes: no number of it is told, but why there is none."""
    monkeypatch.setattr(by_library, "_hold", lambda model: None)
    opinion = opinion_of_frame(results_of(frame_text(0)))
    said = " ".join(second_opinion_text(opinion, Units.US, 80).split())
    assert "could not be compared" in said
    assert not opinion.differences
    assert "%" not in said.replace("per cent", "")


def test_nothing_is_told_in_per_cent_of_nothing() -> None:
    wrong = Difference("warping constant", "s", "warping", 0.0, 2e-9, 0.0)
    opinion = SecondOpinion("a library", "1", "s", "its outline", (wrong,))
    said = second_opinion_text(opinion, Units.SI, 80)
    assert not opinion.agrees
    assert "ours is 0" in said
    assert "inf" not in said
    assert record(opinion)["differences"][0]["difference"] is None


MADE_UP = SecondOpinion("a library", "1", "tube", "its outline, meshed and solved anew", (
    Difference("inertia, bending vertically", "tube", "inertia", 1.52345e-6, 1.60345e-6, 1.52345e-6),
    Difference("plastic modulus, sideways", "tube", "modulus", 1.52345e-5, 1.52346e-5, 1.52345e-5),
    Difference("member end, force", "a crossmember on a corner, z, in 'one wheel up'", "force", 614.1, 614.1, 614.1),
))  # fmt: skip


@pytest.mark.parametrize("asked", [("section", "tube 4 x 2 x 3/16 in"), ("check", str(ROOT / "cases" / "tie-down.yaml"), "-q")])
def test_a_second_opinion_that_differs_ends_as_a_missed_target_does(asked: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """Exit code 1 where the two differ by more than they should; without the second opinion both end with 0."""
    monkeypatch.setattr(section_commands, "opinion_of_section", lambda *_: MADE_UP)
    monkeypatch.setattr(by_pynite, "opinion_of_frame", lambda _: MADE_UP)
    assert told(*asked).code == 0
    answer = told(*asked, "--second-opinion")
    assert answer.code == 1
    assert "THEY DIFFER" in " ".join(answer.out.split())


@pytest.mark.parametrize("columns", [40, 50, 80])
@pytest.mark.parametrize("units", Units)
def test_a_second_opinion_is_as_wide_as_the_screen(columns: int, units: Units) -> None:
    lines = second_opinion_text(MADE_UP, units, columns).splitlines()
    assert max(map(len, lines)) <= columns
    assert all(any(each.quantity.split()[0] in line for line in lines) for each in MADE_UP.differences)
