"""Walls under member ends: smooth in every size, alike for a mirrored, renamed, reordered, moved frame."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Any

import pytest

from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

MEMORY = SHARED
STEP, MOVES = 1e-7, 1e-4
FRAME = """
title: A frame of random sizes
materials:
  - {{name: metal, youngs modulus: 205 GPa, density: 7850 kg/m3, yield strength: {yield_mpa!r} MPa, ultimate strength: 480 MPa}}
sections:
  {on}: {{shape: {rail_shape}, material: metal}}
  {of}: {{shape: {cross_shape}, material: metal}}
frame:
  points:
    {a}: {{x: 0 mm, y: {left!r} mm, z: {up!r} mm}}
    {b}: {{x: {half!r} mm, y: {left!r} mm, z: {up!r} mm}}
    {c}: {{x: 1000 mm, y: {left!r} mm, z: {up!r} mm}}
    {d}: {{x: 0 mm, y: {right!r} mm, z: {up!r} mm}}
    {e}: {{x: {half!r} mm, y: {right!r} mm, z: {up!r} mm}}
    {f}: {{x: 1000 mm, y: {right!r} mm, z: {up!r} mm}}
  members:
{members}
  supports: [{{point: {a}, held: all}}, {{point: {d}, held: all}}]
load cases:
  - one: {{forces: [{{point: {c}, force: {{x: 300 N, y: {side!r} N, z: 900 N}}}}]}}
  - other: {{forces: [{{point: {f}, force: {{x: 300 N, y: {other!r} N, z: 900 N}}}}]}}
"""
NAMES = {"a": "al", "b": "bl", "c": "cl", "d": "ar", "e": "br", "f": "cr", "on": "rail section", "of": "cross section"}
RAILS = (
    "rectangular tube, height: {h0!r} mm, width: {w0!r} mm, wall: {t0!r} mm, outside radius: {t0!r} mm",
    "channel, height: {h0!r} mm, flange: {w0!r} mm, wall: {t0!r} mm, inside radius: {t0!r} mm",
)
CROSSES = (
    "rectangular tube, height: {b1!r} mm, width: {h1!r} mm, wall: {t1!r} mm, outside radius: {t1!r} mm",
    "round tube, diameter: {b1!r} mm, wall: {t1!r} mm",
    "flat, height: {b1!r} mm, width: {t1!r} mm",
    "channel, height: {b1!r} mm, flange: {h1!r} mm, wall: {t1!r} mm, inside radius: {t1!r} mm",
)
MAKES = ("butt on one face", "through both faces", "rigid", "gusseted")


def frame(sizes: Mapping[str, float], rail: str, cross: str, make: str, **names: str) -> str:
    """Return a case: two rails, one crossmember; the right one is the mirror image of the left."""
    known = {**NAMES, **names}
    opens = " open side: {way}," if rail.startswith("channel") else ""
    lies = " open side: forward," if cross.startswith("channel") else ""
    rails = [
        f"    - {{name: {known[a]} rail, points: [{known[a]}, {known[b]}, {known[c]}],{opens.format(way=way)} section: {known['on']}}}"
        for (a, b, c), way in ((("a", "b", "c"), "right"), (("d", "e", "f"), "left"))
    ]
    beam = f"    - {{name: beam, points: [{known['b']}, {known['e']}],{lies} section: {known['of']}, start: {make}, end: {make}}}"
    members = [beam, *rails] if names else [*rails, beam]
    values = {"left": 300.0, "right": -300.0, "up": 0.0, "half": 480.0, "side": 200.0, "other": -200.0, "yield_mpa": 340.0, **sizes}
    shapes = {"rail_shape": rail.format(**values), "cross_shape": cross.format(**values)}
    return FRAME.format(**known, **shapes, members="\n".join(members), **values)


Found = dict[tuple[str, str, str, str], float]


def found(text: str) -> Found:
    """Return demand over capacity of every row about a face or an end's weld, and the legs asked, by check, mode, end and part."""
    results = run(read_case(text, "case.yaml", LIBRARY), MEMORY)
    rows: Found = {}
    for row in results.rows:
        if row.check.words in ("face of tube", "end welds"):
            rows[row.check.words, row.mode.name, row.subject.part, row.part] = row.demand / row.capacity
    legs = (each for each in results.sizings if each.what.startswith("leg all"))
    rows.update({("leg", "", each.where.split(" at ")[-1], ""): each.value for each in legs})
    assert rows
    return rows


def sizes_of(seed: int) -> tuple[dict[str, float], str, str, str]:
    """Return random sizes that fit on one another, and what they are sizes of."""
    dice = Random(seed)
    h0 = dice.uniform(70, 140)
    sizes = {
        "h0": h0, "w0": dice.uniform(0.5, 0.95) * h0, "t0": dice.uniform(2.0, 6.0),
        "b1": dice.uniform(0.3, 0.97) * h0, "h1": dice.uniform(30, 80), "t1": dice.uniform(2.0, 5.0),
        "yield_mpa": dice.uniform(200, 400), "half": dice.uniform(300, 900),
    }  # fmt: skip
    return sizes, dice.choice(RAILS), dice.choice(CROSSES), dice.choice(MAKES)


def same(first: Found, second: Found, rel: float) -> None:
    assert first.keys() == second.keys()
    wrong = {key: (first[key], second[key]) for key in first if second[key] != pytest.approx(first[key], rel=rel, abs=1e-9)}
    assert wrong == {}


@pytest.mark.parametrize("seed", range(12))
def test_a_hair_more_of_any_size_moves_no_row(seed: int) -> None:
    sizes, rail, cross, make = sizes_of(seed)
    name = Random(seed + 1000).choice(sorted(sizes))
    before = found(frame(sizes, rail, cross, make))
    same(before, found(frame({**sizes, name: sizes[name] * (1 + STEP)}, rail, cross, make)), MOVES)


@pytest.mark.parametrize("b1_over", [0.85, 1.0])
@pytest.mark.parametrize("rail", RAILS)
def test_the_widths_at_which_rules_change_over_make_no_row_jump(rail: str, b1_over: float) -> None:
    sizes = {"h0": 101.0, "w0": 61.0, "t0": 4.1, "h1": 47.0, "t1": 3.1}
    less, more = (found(frame({**sizes, "b1": 101.0 * b1_over * (1 - step)}, rail, CROSSES[0], MAKES[0])) for step in (STEP, 2 * STEP))
    same(less, more, MOVES)


@pytest.mark.parametrize("fy", [355.0, 360.0])
def test_a_strength_at_which_rules_change_over_makes_no_row_jump(fy: float) -> None:
    sizes, rail, cross = {"h0": 101.0, "w0": 61.0, "t0": 4.1, "b1": 53.0, "h1": 47.0, "t1": 3.1}, RAILS[0], CROSSES[0]
    less, more = (found(frame({**sizes, "yield_mpa": fy * (1 + step)}, rail, cross, MAKES[0])) for step in (-STEP, STEP))
    same(less, more, MOVES)


@pytest.mark.parametrize("seed", range(6))
def test_a_mirror_image_has_the_same_rows_on_the_other_side(seed: int) -> None:
    """The loads of one side are the mirror image of the other's, so that both ends of the beam are alike over both cases."""
    rows = found(frame(*sizes_of(seed)))
    left = {(check, mode, part): share for (check, mode, point, part), share in rows.items() if point == "bl"}
    right = {(check, mode, part): share for (check, mode, point, part), share in rows.items() if point == "br"}
    assert left.keys() == right.keys()
    assert all(right[key] == pytest.approx(left[key], rel=1e-5, abs=1e-9) for key in left)


@pytest.mark.parametrize("seed", range(6))
def test_names_order_and_origin_change_nothing(seed: int) -> None:
    sizes, rail, cross, make = sizes_of(seed)
    moved: Any = {**sizes, "left": 1300.0, "right": 700.0, "up": 250.0}
    other = found(frame(moved, rail, cross, make, b="inner", e="outer", a="z1", c="z2", d="z3", f="z4", on="one", of="two"))
    names = {"inner": "bl", "outer": "br"}
    same(found(frame(sizes, rail, cross, make)), {(c, m, names[p], q): share for (c, m, p, q), share in other.items()}, 1e-6)

