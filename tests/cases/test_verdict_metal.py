"""Cases whose answer was once kinder than the truth: metal beside welds. YAML in, JSON out; numbers by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from pytest import approx

from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY

HERE = Path(__file__).parent / "verdict"


def text_of(name: str) -> str:
    return (HERE / f"{name}.yaml").read_text(encoding="utf-8")


def answer(text: str) -> Any:
    return json.loads(as_json(run(read_case(text, "case.yaml", LIBRARY)), "caution"))


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
    one, two = (on_yield(text_of(f"aluminium-splice-{name}")) for name in ("one-member", "two-members"))
    assert one == approx(two, rel=1e-6)
    assert one == approx(1.21, abs=0.005)


def test_the_edge_of_softened_metal_is_a_station() -> None:
    """An inch from weld to edge at either end and on both sides of the middle; the place of the splice moves nothing by a jump."""
    text = text_of("aluminium-splice-one-member")
    line = run(read_case(text, "case.yaml", LIBRARY)).outcome.solutions[0].members[0]
    for edge in (0.025, 0.975, 1.025, 1.975):
        assert abs(line.stations - edge).min() < 1e-9
    moved = text.replace("at: 1000 mm", "at: 1000.0001 mm")
    assert on_yield(moved) == approx(on_yield(text), rel=1e-5)
