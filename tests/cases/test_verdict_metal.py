"""Cases whose answer was once kinder than the truth: metal beside welds. YAML in, JSON out; numbers by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from pytest import approx

from framecheck.errors import InputError
from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

SECTIONS = SHARED

HERE = Path(__file__).parent / "verdict"


def text_of(name: str) -> str:
    return (HERE / f"{name}.yaml").read_text(encoding="utf-8")


def answer(text: str) -> Any:
    return json.loads(as_json(run(read_case(text, "case.yaml", LIBRARY), SECTIONS), "caution"))


def on_yield(text: str) -> float:
    """Return the lowest safety factor on yield."""
    return float(min(row["safety_factor"] for row in answer(text)["checks"] if row["check"] == "yield"))


def test_aluminium_under_a_welded_bracket_at_a_kink_and_a_splice() -> None:
    """By hand: 105 MPa (Aluminum Design Manual, 6061-T6 within an inch of a weld with 5356) over 42 000 lb in / 2.571 in3."""
    assert on_yield(text_of("aluminium-weld-kink-splice")) == approx(105 / (42000 / 2.571 * 6.894757e-3), rel=0.01)


@pytest.mark.parametrize("left_out", ["joints", "changes", "kink"])
def test_no_weld_left_out_makes_it_stronger(left_out: str) -> None:
    """The bracket, the splice or the kink alone softens the same place (to the two walls' difference, 3.2 %)."""
    whole = text_of("aluminium-weld-kink-splice")
    text = {
        "joints": whole[: whole.index("joints:")],
        "changes": whole.replace("      changes: [{at: 24 in, section: t2}]\n", ""),
        "kink": whole.replace("z: 3 in", "z: 0 in"),
    }[left_out]
    assert text != whole
    assert on_yield(text) == approx(on_yield(whole), rel=0.04)


def test_bent_bolted_and_formed_metal_keeps_its_strength() -> None:
    """Without bracket, mount, splice or mitre no weld is near the most stressed place: 240 MPa over what 105 MPa was over."""
    whole = text_of("aluminium-weld-kink-splice")
    bolted = """joints:
  - name: saddle bolts
    kind: bolts
    at: {point: m}
    plane: {facing: up, along: forward}
    spots: [{along: 0 in}]
    bolt: {thread: 3/8-16, grade: grade 5}
    plies: [{name: rail wall, thickness: 1/4 in, material: 6061-T6}]
"""
    text = whole[: whole.index("joints:")] + bolted
    assert on_yield(text) < 1.0
    plain = text.replace("      start: pinned", "      kinks: bent\n      splices: bolted\n      start: pinned")
    assert on_yield(plain) == approx(on_yield(whole) * 240 / 105, rel=0.03)


def test_a_welded_splice_is_the_same_drawn_as_one_member_or_two() -> None:
    """By hand: 105 MPa over 2.5 kNm / 28.8 cm3 (100 x 50 x 4 mm tube with rounded corners less): 1.21."""
    texts = [text_of(f"aluminium-splice-{name}") for name in ("one-member", "two-members")]
    one, two = map(on_yield, texts)
    assert one == approx(two, rel=1e-6)
    held = [text.replace("load cases:", "  - {point: mid, held: [y, turn x]}\nload cases:") for text in texts]
    one, two = map(on_yield, held)  # held sideways, so that moving sideways makes no force larger
    assert one == approx(two, rel=1e-6)
    assert one == approx(1.21, abs=0.005)


def test_the_edge_of_softened_metal_is_a_station() -> None:
    """An inch from weld to edge at either end and on both sides of the middle; the place of the splice moves nothing by a jump."""
    text = text_of("aluminium-splice-one-member")
    line = run(read_case(text, "case.yaml", LIBRARY), SECTIONS).outcome.solutions[0].members[0]
    for edge in (0.025, 0.975, 1.025, 1.975):
        assert abs(line.stations - edge).min() < 1e-9
    moved = text.replace("at: 1000 mm", "at: 1000.0001 mm")
    assert on_yield(moved) == approx(on_yield(text), rel=1e-5)


# what is for steel alone ----------------------------------------------------------------------------------------------


def refusal(text: str) -> str:
    """Return the faults of a text that is refused."""
    with pytest.raises(InputError) as found:
        read_case(text, "case.yaml", LIBRARY)
    return str(found.value)


def line_with(text: str, words: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), start=1) if words in line)


def test_a_class_of_steel_is_refused_on_aluminium_by_line_and_the_reverse() -> None:
    text = text_of("aluminium-steel-class")
    said = refusal(text)
    assert f"case.yaml:{line_with(text, 'EN tab over 100 mm')}" in said
    assert "it lies on aluminium, and its class is for steel" in said
    steel = text.replace("6061-T6", "A36").replace("EN tab over 100 mm", "IIW aluminium tab under 150 mm")
    assert "it lies on steel, and its class is for aluminium" in refusal(steel)
    bare = text.replace("class: EN tab over 100 mm", "base metal: {finish: hot-rolled}")
    assert "the rule for unwelded metal is for steel" in refusal(bare)


def test_aluminium_tires_by_its_own_class() -> None:
    """By hand: 0.5 x 42 000 lb in over 2.571 in3, times 1.35, on class 25 (IIW, slope 3): 2e6 (25 / range)^3 cycles for 4e5 asked."""
    text = text_of("aluminium-steel-class").replace("EN tab over 100 mm", "IIW aluminium tab under 150 mm")
    text = text.replace("z: 3 in", "z: 0 in")  # straight: a kink would raise the stress
    lives = (each for each in answer(text)["checks"] if each["check"] == "fatigue")
    row = next(each for each in lives if each["subject"]["thing"] == "fatigue detail")
    span = 1.35 * 0.5 * 42000 / 2.571 * 6.894757e-3
    assert row["safety_factor"] == approx(2e6 * (25 / span) ** 3 / 4e5, rel=0.03)


@pytest.mark.parametrize(
    ("filler", "metal", "bad"), [("E70", "6061-T6", True), ("ER4043", "A36", True), ("ER5356", "6061-T6", False)]
)
def test_weld_metal_of_the_other_metal_holds_nothing(filler: str, metal: str, bad: bool) -> None:
    """As the file was first written, with E70 on 6061-T6, it is not met for that too, beside the yield of softened metal."""
    text = text_of("aluminium-weld-kink-splice").replace("ER5356", filler).replace("6061-T6", metal)
    rows = [row for row in answer(text)["checks"] if row["mode"] == "wrong_filler"]
    assert [row["safety_factor"] for row in rows] == ([0.0] if bad else [])
    assert all("choose" in row["words"] for row in rows)


def test_seams_of_aluminium_are_welded_with_aluminium() -> None:
    text = text_of("aluminium-splice-one-member").replace(
        "  alu4: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, material: 6061-T6}",
        "  alu4: {shape: plated, base: {shape: rectangular tube, height: 90 mm, width: 50 mm, wall: 4 mm}, plates: [{side: top, "
        "width: 40 mm, thickness: 4 mm}], joined: {weld: {leg: 3 mm, electrode: E70}}, material: 6061-T6}",
    )
    assert "weld metal E70 is for steel, what it joins is aluminium" in refusal(text)
    read_case(text.replace("E70", "ER5356"), "case.yaml", LIBRARY)


def test_a_notch_beside_a_weld_has_the_welded_strength() -> None:
    """The splice 20 mm from the notch's end: 105 MPa over what 240 MPa would hold; formed from one piece and bolted on, all of it."""
    notch = "name: notch, member: rail, side: bottom, at: 700 mm, depth: 20 mm, length: 60 mm, corner radius: 8 mm"
    cut = f"  cuts: [{{{notch}}}]\n  supports:"
    text = (
        text_of("aluminium-splice-one-member")
        .replace("  supports:", cut)
        .replace("at: 1000 mm, section", "at: 750 mm, section")
    )

    def on_notch(said: str) -> float:
        rows = [row for row in answer(said)["checks"] if row["check"] == "notch" and row["mode"] == "net_section"]
        return float(rows[0]["safety_factor"])

    plain = on_notch(text.replace("    ends: rigid", "    ends: rigid\n    splices: formed from one piece"))
    assert on_notch(text) == approx(plain * 105 / 240, rel=1e-9)
