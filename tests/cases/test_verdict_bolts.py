"""Members at bolt holes, and bolts far from where their load arrives. YAML in, JSON out; numbers by hand."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from tests.cases.test_verdict_metal import answer

HALF_WIDTH_MORE = 25.4 / 16  # ANSI/AISC 360-22, B4.3b: a hole counts 1/16 in wider than it is, mm

BAR = """title: tie bar with holes
origin: a
sections:
  bar: {shape: flat, height: 100 mm, width: 10 mm, material: S355}
frame:
  points: {a: {x: 0 mm, y: 0 mm, z: 0 mm}, m: {x: 500 mm, y: 0 mm, z: 0 mm}, b: {x: 1000 mm, y: 0 mm, z: 0 mm}}
  members:
    - {name: bar, points: [a, m, b], section: bar, ends: pinned}
  supports:
    - {point: a, held: [x, y, z, turn x, turn z]}
    - {point: b, held: [y, z]}
load cases:
  - pull:
      forces:
        - {point: b, force: {x: 100 kN}}
joints:
  - name: lug bolts
    kind: bolts
    at: {point: m}
    plane: {facing: left, along: forward}
    spots: [SPOTS]
    bolt: {thread: M12, grade: "8.8", hole: 14 mm}
    plies: [{name: bar, thickness: 10 mm, material: S355, edge: 30 mm}]
"""


def net_rows(text: str) -> dict[str, float]:
    """Return the safety factors of the net section by how it fails."""
    rows = [row for row in answer(text)["checks"] if row["check"] == "bolt holes"]
    return {"tears" if "tears" in row["mode"] else "yields": row["safety_factor"] for row in rows}


def test_two_holes_side_by_side_in_a_pulled_bar() -> None:
    """An = 10 x (100 - 2 x (14 + 1/16 in)); both on the middle's two sides, so no bending. ANSI/AISC 360-22, B4.3b, D2."""
    found = net_rows(BAR.replace("SPOTS", "{across: 25 mm}, {across: -25 mm}"))
    net = 10 * (100 - 2 * (14 + HALF_WIDTH_MORE))
    assert found["yields"] == approx(355 * net / 100e3, rel=1e-3)
    assert found["tears"] == approx(470 * net / 100e3, rel=1e-3)


def test_a_hole_out_of_the_middle_bends_the_bar() -> None:
    """N / A + N e c / I of the two strips that are left, by hand: e from the net centroid to the line of the pull."""
    wide = 14 + HALF_WIDTH_MORE
    found = net_rows(BAR.replace("SPOTS", "{across: 25 mm}"))
    area, lost = 10 * (100 - wide), 10 * wide
    shift = lost * 25 / area
    inertia = 10 * 100**3 / 12 - lost * 25**2 - 10 * wide**3 / 12 - area * shift**2
    most = 100e3 / area + 100e3 * shift * (50 + shift) / inertia
    least = 100e3 / area + 100e3 * shift * (50 - shift) / inertia
    assert found["yields"] == approx(355 / max(most, least), rel=2e-3)


def test_staggered_holes_lose_less() -> None:
    """The neighbour counts less s2 / 4g: 30 mm along, 50 mm aside. ANSI/AISC 360-22, B4.3b; no larger than side by side."""
    side = net_rows(BAR.replace("SPOTS", "{across: 25 mm}, {across: -25 mm}"))["tears"]
    apart = net_rows(BAR.replace("SPOTS", "{across: 25 mm, along: 15 mm}, {across: -25 mm, along: -15 mm}"))["tears"]
    alone = net_rows(BAR.replace("SPOTS", "{across: 25 mm}"))["tears"]
    near = net_rows(BAR.replace("SPOTS", "{across: 25 mm, along: 0.001 mm}, {across: -25 mm}"))["tears"]
    assert near == approx(side, rel=1e-6)
    assert apart != approx(side, rel=1e-3)
    assert min(side, alone) <= apart


@pytest.mark.parametrize("tube", [True, False])
def test_a_bolt_down_through_a_tube_takes_metal_from_both_flanges(tube: bool) -> None:
    """Section modulus of 100 x 50 x 5 mm less a hole through both flanges, or through the top one alone, by hand."""
    kind = ", kind: wall of a hollow tube" if tube else ""
    text = (
        BAR.replace(
            "shape: flat, height: 100 mm, width: 10 mm",
            "shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 5 mm",
        )
        .replace("{x: 100 kN}", "{x: 0.001 N}")
        .replace("point: b, force: {x: 0.001 N}", "point: m, force: {z: -10 kN}")
        .replace("facing: left", "facing: up")
        .replace("edge: 30 mm", f"edge: 30 mm{kind}")
        .replace("SPOTS", "{across: 0 mm}")
        .replace("wall: 5 mm,", "wall: 5 mm, outside radius: 0 mm,")
    )
    wide = 14 + HALF_WIDTH_MORE
    gross = (50 * 100**3 - 40 * 90**3) / 12
    area, strip = 50 * 100 - 40 * 90, 5 * wide
    if tube:
        modulus = (gross - 2 * (strip * 47.5**2 + wide * 5**3 / 12)) / 50
    else:
        left = area - strip
        shift = strip * 47.5 / left
        modulus = (gross - strip * 47.5**2 - wide * 5**3 / 12 - left * shift**2) / (50 + shift)
    moment = 10e3 * 1000 / 4
    assert net_rows(text)["yields"] == approx(355 / (moment / modulus), rel=5e-3)


def test_the_arm_from_the_joint_s_place_to_its_bolts_counts() -> None:
    """Four bolts 28 in ahead of where 1 kN pushes down: each bears a quarter of it and of the moment 28 in x 1 kN, by statics."""
    text = BAR.replace("point: b, force: {x: 100 kN}", "point: m, force: {z: -1 kN}").replace(
        "spots: [SPOTS]", "grid: {across: 2, along: 2, pitch across: 60 mm, pitch along: 60 mm}"
    )
    far = text.replace("facing: left, along: forward", "facing: left, along: forward, origin: {x: 28 in}")
    arm, radius = 28 * 25.4, hypot(30, 30)
    turning = 1e3 * arm / (4 * radius)  # M r / sum r2
    straight = 1e3 / 4
    # the bolt for which both act most nearly the same way: the turning force is square to the radius at 45 degrees
    worst = hypot(turning / 2**0.5, turning / 2**0.5 + straight)
    shear = [row for row in answer(far)["checks"] if row["check"] == "bolts" and row["mode"] == "bolt_shear"]
    assert shear[0]["demand"] == approx(worst, rel=1e-6)


SLEEVED = (
    BAR[: BAR.index("joints:")]
    + """joints:
  - {name: fit, kind: pinned sleeve, at: {member: bar, end: end},
     bolt: {thread: M12, grade: "8.8", hole: 14 mm},
     bolts: 1, depth: 60 mm,
     walls: [{name: outer, thickness: 4 mm, material: S355}, {name: inner, thickness: 4 mm, material: S355}]CLEARANCE}
"""
)


def test_the_play_of_a_pinned_sleeve_is_told() -> None:
    """By hand: 2 (14 - 12) / 60 rad until the bolt bears, 2 x 0.2 / 60 until a square fit bites; without a clearance that is open."""
    told = {row["what"]: row["value"] for row in answer(SLEEVED.replace("CLEARANCE", ", clearance: 0.2 mm"))["sizings"]}
    assert told["free turn until the bolts bear"] == approx(4 / 60)
    assert told["free turn until a square fit bites"] == approx(0.4 / 60)
    less = answer(SLEEVED.replace("CLEARANCE", ""))
    assert "free turn until a square fit bites" not in {row["what"] for row in less["sizings"]}
    assert any("the clearance of the fit is not given" in entry["why"] for entry in less["verdict"]["open"])


@settings(max_examples=12, deadline=None)
@given(st.integers(-35, 35), st.integers(-35, 35), st.integers(0, 60), st.sampled_from(["M8", "M10", "M12"]))
def test_holes_know_no_side_no_order_and_no_unit(first: int, second: int, apart: int, thread: str) -> None:
    """The same bar upside down, its bolts listed the other way round, its sizes in inches; and a hair more moves it by a hair."""
    spots = [(first, 0), (second, apart)]
    text = BAR.replace("M12", thread)

    def with_spots(places: list[tuple[float, float]], unit: str = "mm", size: float = 1.0) -> str:
        listed = ", ".join(f"{{across: {u / size:.12g} {unit}, along: {v / size:.12g} {unit}}}" for u, v in places)
        return text.replace("SPOTS", listed)

    plain = net_rows(with_spots(spots))
    for other in (
        with_spots([(-u, v) for u, v in spots]),
        with_spots(spots[::-1]),
        with_spots(spots, "in", 25.4),
        with_spots([(u + 1e-5, v) for u, v in spots]),
    ):
        assert net_rows(other) == approx(plain, rel=1e-5)
