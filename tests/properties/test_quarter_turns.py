"""A post turned, or leaning, to between two quarter turns of its section against its rail: nothing jumps, the worse turn counts."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from framecheck.checks.feet import feet_of
from framecheck.checks.welds.ends import outline_of
from framecheck.errors import InputError
from framecheck.frame.joint_faces import drawn_axes
from framecheck.reading.case_file import read_case
from framecheck.results.subjects import Open, Question
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

FRAME = """
title: A post on a rail
materials:
  - {{name: metal, youngs modulus: 205 GPa, density: 7850 kg/m3, yield strength: 340 MPa, ultimate strength: 480 MPa}}
sections:
  rail section: {{shape: rectangular tube, height: 100 mm, width: {width} mm, wall: 4 mm, outside radius: 4 mm, material: metal}}
  post section: {{shape: {post}, material: metal}}
frame:
  points:
    a: {{x: {at!r} mm, y: 0 mm, z: 0 mm}}
    m: {{x: {middle!r} mm, y: 0 mm, z: 0 mm}}
    b: {{x: {end!r} mm, y: 0 mm, z: 0 mm}}
    t: {{x: {top!r} mm, y: {across!r} mm, z: 700 mm}}
  members:
    - {{name: rail, points: [a, m, b], section: rail section}}
    - {{name: post, points: [m, t], section: post section, start: {{make: {make}{leg}}}, roll: {roll!r} deg}}
  supports: [{{point: a, held: all}}, {{point: b, held: all}}]
load cases:
  - one: {{forces: [{{point: t, force: {{x: 300 N, y: {push!r} N, z: -900 N}}}}]}}
"""
TUBE = "rectangular tube, height: 70 mm, width: 40 mm, wall: 3 mm, outside radius: 3 mm"
POSTS = (TUBE, "channel, height: 70 mm, flange: 40 mm, wall: 3 mm, inside radius: 3 mm", "flat, height: 70 mm, width: 6 mm")
BUTT, RIGID = "butt on one face", "rigid"
NARROW = 60
"""mm: the post stands on so wide a rail in one quarter turn, and reaches beyond it in the next."""
Rows = dict[tuple[str, str, str], float]
Answer = tuple[Rows, set[tuple[Question, str]]]


def post(
    roll: float = 0.0, lean: tuple[float, float] = (0.0, 0.0), side: float = 1.0, at: float = 0.0, width: int = 90, make: str = BUTT,
    of: str = TUBE, leg: str = ", leg: 3 mm",
) -> Answer:
    """Return what a post uses of the wall under it and of its weld, and what is open there; side: -1 for the mirror image."""
    places = {"at": at, "middle": at + 480, "end": at + 1000, "top": at + 480 + lean[0], "across": side * lean[1]}
    text = FRAME.format(**places, roll=side * roll, push=side * 200.0, width=width, make=make, post=of, leg=leg)
    outcome = run(read_case(text, "case.yaml", LIBRARY), SHARED)
    rows = [row for row in outcome.rows if row.check.question in (Question.FACE, Question.FASTENING)]
    used = {(row.check.words, row.mode.name, row.part): row.demand / row.capacity for row in rows}
    used.update({("leg", each.what, ""): each.value for each in outcome.sizings if each.where == "post at m"})
    return used, {(each.entry.question, words(each)) for each in outcome.verdict.ledger.open if each.entry.subject.name == "post"}


def words(gap: Open) -> str:
    """Return why something is open, without its amounts."""
    return gap.reason if isinstance(gap.reason, str) else "".join(each for each in gap.reason.parts if isinstance(each, str))


def same(first: Answer, second: Answer) -> None:
    assert first[0] == pytest.approx(second[0], rel=1e-4, abs=1e-9)
    assert first[1] == second[1]


@pytest.mark.parametrize("of", POSTS)
def test_a_hair_of_roll_to_either_side_of_45_degrees_moves_no_row(of: str) -> None:
    """The mirror image of a channel opens the other way: it is turned by half a turn more."""
    exact, mirrored = post(45.0, of=of), 45.0 - (180.0 if of.startswith("channel") else 0.0)
    assert exact[0]
    for other in (post(45 - 1e-7, of=of), post(45 + 1e-7, of=of), post(45.0, of=of, at=-3000.0), post(mirrored, of=of, side=-1.0)):
        same(other, exact)


def test_a_hair_of_lean_to_either_side_of_alike_moves_no_row() -> None:
    """A post that leans as much along the rail as across it has its section at 45 degrees to it, wherever the file's origin is."""
    exact = post(lean=(90.0, 90.0))
    assert exact[0]
    for step in (1 - 1e-7, 1 + 1e-7):
        same(post(lean=(90.0 * step, 90.0)), exact)
    same(post(lean=(90.0, 90.0), at=-3000.0), exact)
    same(post(lean=(90.0, 90.0), side=-1.0), exact)


def test_where_a_turn_begins_to_count_nothing_jumps() -> None:
    for turn in (35.0, 45.0, 55.0):
        for more, less in pairwise(post(turn + step) for step in (-1e-6, 0.0, 1e-6)):
            assert more[0] == pytest.approx(less[0], rel=1e-4, abs=1e-9)
    sweep = [post(30.0 + step)[0] for step in range(31)]
    most = {key: max(each[key] for each in sweep) for key in sweep[0]}
    jumps = [(key, before[key], after[key]) for before, after in pairwise(sweep) for key in most
             if abs(after[key] - before[key]) > 0.101 * most[key]]  # fmt: skip
    assert jumps == []  # a share that grows from 0 to 1 over 10 degrees moves what it counts by a tenth in each


def test_no_row_is_kinder_than_in_the_nearest_quarter_turn() -> None:
    """Rolled, the load stays where it is: from 0 to 35 degrees and from 55 on only one quarter turn counts, and between them both."""
    upright, lying = post(0.0)[0], post(90.0)[0]
    assert any(lying[key] > 1.01 * upright[key] for key in upright)
    for roll, nearest in ((38.0, upright), (44.0, upright), (46.0, lying), (52.0, lying)):
        found = post(roll)[0]
        assert all(found[key] >= nearest[key] * (1 - 1e-6) for key in nearest)
    both = {key: max(upright[key], lying[key]) for key in upright}
    assert post(45.0)[0] == pytest.approx(both, rel=1e-6)


@pytest.mark.parametrize("leg", ["", ", leg: 3 mm"])
def test_what_one_turn_leaves_open_is_open_on_both_sides_and_the_other_is_judged(leg: str) -> None:
    """The post fits on the rail's wall in one quarter turn, and reaches beyond it in the other."""
    square, beyond = (post(roll, width=NARROW, make=RIGID, leg=leg) for roll in (0.0, 90.0))
    assert beyond[0] == {}
    for roll in (40.0, 45 - 1e-7, 45.0, 45 + 1e-7, 50.0):
        rows, gaps = post(roll, width=NARROW, make=RIGID, leg=leg)
        assert rows == pytest.approx(square[0], rel=1e-6)
        for question in (Question.FACE, Question.FASTENING):
            assert any(asked is question and "reaches beyond the edge" in reason for asked, reason in gaps)


def test_a_post_too_wide_in_either_turn_is_refused_on_both_sides() -> None:
    assert post(34.9, width=NARROW)[0]
    for roll in (35.1, 45.0, 45 + 1e-7, 60.0):
        with pytest.raises(InputError, match="wide where the wall it stands on"):
            post(roll, width=NARROW)


@pytest.mark.parametrize("roll", [0.0, 90.0, 180.0, 270.0])
def test_the_weld_of_an_open_post_goes_round_the_walls_that_it_has(roll: float) -> None:
    """A channel 70 x 40 as drawn: one web of 70, two flanges of 40 that begin at it; no wall closes its open side."""
    places = {"at": 0.0, "middle": 480.0, "end": 1000.0, "top": 480.0, "across": 0.0}
    text = FRAME.format(**places, roll=roll, push=0.0, width=90, make=BUTT, post=POSTS[1], leg="")
    frame = read_case(text, "case.yaml", LIBRARY).frame
    ((foot,),) = feet_of(frame)
    left, up = drawn_axes(np.array([0.0, 0.0, 1.0]), frame.members[1])
    places_of = [[(x * foot.axes[0] + z * foot.axes[2]) for x, z in run] for run in outline_of(foot)]
    own = [sorted((round(1e3 * float(place @ left)), round(1e3 * float(place @ up))) for place in run) for run in places_of]
    on_web = [run for run in own if all(y == 20 for y, _ in run)]
    on_flanges = [run for run in own if {z for _, z in run} in ({-35}, {35})]
    assert len(on_web) + len(on_flanges) == len(own)
    assert max(z for run in on_web for _, z in run) == 35
    assert {z for run in on_flanges for _, z in run} == {-35, 35}
