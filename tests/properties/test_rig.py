"""A test sheet and a fit are of the frame, not of how it was written: at random, mirrored, reordered, moved, in inches, cut in two.

None needs a source: nature does not know how a frame was written down, nor which dial was read first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.rig.fit import fitted
from framecheck.rig.measured import measured
from framecheck.rig.record import ReadingsRecord
from framecheck.rig.response import Response, responses
from framecheck.rig.rigs import rig_of
from framecheck.rig.setup import AskedTest, HeldFront, Rig, RigKind
from framecheck.rig.stop import on_the_rig
from framecheck.rig.unknowns import Sort
from framecheck.run import prepare
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.properties.test_same_ladder import Ladder, Place, drawn, in_two, moved, turned_round
from tests.unit.rig.benches import LADDER

MEMORY, EXACT, SMOOTH = SHARED, 1e-6, 1e-4
ENDS = AskedTest(arm=1.0, front=("l0", "r0"), rear=("l4", "r4"))
RIGS = (
    replace(ENDS, held=HeldFront.FOUR),
    replace(ENDS, kind=RigKind.BEAMING),
    replace(ENDS, kind=RigKind.CROSSMEMBER, at="cross 1"),
    replace(ENDS, kind=RigKind.BRACKET, at="m2", direction=(1.0, 0.0, 0.0)),
)
BY = (0.1778, -0.05, 1.3)


def other(point: str) -> str:
    """Return the name of a point on the other side."""
    return {"l": "r", "r": "l"}.get(point[0], point[0]) + point[1:]


def mirrored(of: Ladder) -> Ladder:
    """Return the ladder's mirror image, its rails by other names."""
    return replace(
        of,
        points={other(name): (x, -y, z) for name, (x, y, z) in of.points.items()},
        rails=tuple(
            replace(
                rail,
                name=f"renamed {rail.name}",
                points=tuple(map(other, rail.points)),
                change=None if rail.change is None else (other(rail.change[0]), rail.change[1]),
                open_side="left" if rail.open_side == "right" else "right",
            )
            for rail in of.rails
        ),
        crosses=tuple((tuple(map(other, through)), section, ends) for through, section, ends in of.crosses),
    )


def reordered(of: Ladder) -> Ladder:
    """Return the ladder with points and rails in another order."""
    return replace(of, points=dict(reversed(of.points.items())), rails=of.rails[::-1])


def answers(case: Case, asked: AskedTest) -> tuple[Rig, tuple[Response, ...]]:
    """Return a rig and its response under each bound; mixtures of unlike ends come in the order of the members, and are left out."""
    rig = rig_of(case, asked)
    structures: tuple[Structure, ...] = prepare(on_the_rig(case, rig, ()), MEMORY).structures
    return rig, tuple(responses(rig, tuple(each for each in structures if each.bound.apart is None)))


@cache
def answer(of: str, asked: AskedTest) -> tuple[Rig, tuple[Response, ...]]:
    """Return the answer to a case's text; what is compared with several others is worked out once."""
    return answers(read_case(of, "ladder.yaml", LIBRARY), asked)


def same(one: Ladder, two: Ladder, asked: AskedTest, by: Place = (0.0, 0.0, 0.0), mirror: bool = False) -> None:
    """Dials and stands of two ladders at the same places, in the same order but for a mirror image, read and carry the same."""
    (rig, before), (rig2, after) = answer(one.text(), asked), answer(two.text(), asked)
    way = np.array([1.0, -1.0 if mirror else 1.0, 1.0])
    sign = -1.0 if mirror and rig.torque else 1.0
    dials, stands = (
        matched(*([each.spot.at for each in of.dials] for of in (rig, rig2)), by, way),
        matched(*([each.at for each in of.stands] for of in (rig, rig2)), by, way),
    )
    assert mirror or dials == list(range(len(rig.dials)))
    assert len(before) == len(after)
    for first, second in zip(before, after, strict=True):
        assert sign * second.moves[dials] == approx(first.moves, abs=EXACT * float(np.abs(first.moves).max()))
        assert sign * second.stands[stands] == approx(first.stands, abs=EXACT)
        assert np.abs(second.aside[dials]) == approx(np.abs(first.aside), abs=EXACT * float(np.abs(first.aside).max()))


def matched(first: list[Place], second: list[Place], by: Place, way: Array) -> list[int]:
    """Return which of some places each of others is, once moved back and mirrored."""
    places = (np.array(second) - np.array(by)) * way
    found = [int(np.argmin(np.abs(places - np.array(each)).sum(axis=1))) for each in first]
    assert places[found] == approx(np.array(first), abs=1e-9)
    return found


@pytest.mark.parametrize("number", range(4))
def test_a_sheet_however_the_frame_is_written(number: int) -> None:
    """Another rig for each number, and other frames."""
    ladder, asked = drawn(number), RIGS[number]
    same(ladder, mirrored(ladder), asked, mirror=True)
    same(ladder, reordered(turned_round(ladder)), asked)
    same(ladder, moved(replace(ladder, inches=True), BY), asked, BY)
    if asked.kind is not RigKind.CROSSMEMBER:
        same(ladder, in_two(ladder, 2, second_reversed=True), asked)


@pytest.mark.parametrize("number", [0, 3])
def test_a_sheet_is_smooth_in_every_place(number: int) -> None:
    """Points moved by 1e-7 of their distance move no dial by more than 1e-4 of the largest."""
    ladder = drawn(number)
    nudged = {name: tuple(part * (1 + 1e-7) for part in at) for name, at in ladder.points.items()}
    for asked in RIGS[:2]:
        (_, before), (_, after) = (answer(each.text(), asked) for each in (ladder, replace(ladder, points=nudged)))  # type: ignore[arg-type]
        for first, second in zip(before, after, strict=True):
            assert second.moves == approx(first.moves, abs=SMOOTH * float(np.abs(first.moves).max()))


BENCH = LADDER.format(ends="{make: butt on one face, leg: 4 mm}")
ASKED = (Sort.JOINTS, Sort.WALLS)
Change = Callable[[ReadingsRecord], ReadingsRecord]


def record(case: Case) -> ReadingsRecord:
    """Return readings of the bench ladder on its twist rig, each dial a few per cent off what is expected."""
    rig, (drawn_as, *_) = answers(case, AskedTest())
    draw, steps = np.random.default_rng(8), np.array([0.0, 1.0, 2.0, 3.0, 2.0, 1.0, 0.0])
    off = drawn_as.moves * (1 + draw.uniform(0.02, 0.12, len(rig.dials)))
    values = 400.0 * steps[:, None] * off + draw.normal(0, 1e-5, (len(steps), len(rig.dials)))
    names = tuple(dial.name for dial in rig.dials)
    return ReadingsRecord("twist.yaml", AskedTest(), names, 400.0 * steps, values, tuple(range(len(steps))))


def values_found(text: str, change: Change = lambda each: each) -> dict[str, float]:
    """Return the factors that a fit finds, by name without what is renamed."""
    case = read_case(text, "bench.yaml", LIBRARY)
    fit = fitted([measured(case, change(record(case)), MEMORY)], ASKED, MEMORY)
    return {each.name.replace("tie", "cross"): fit.factor(row) for row, each in enumerate(fit.unknowns) if each.sort in ASKED}


def changes() -> Iterator[tuple[str, str, Change, float]]:
    """Yield the case's text, what is done to the readings, and how near the fit must be."""

    def backwards(of: ReadingsRecord) -> ReadingsRecord:
        return replace(of, names=of.names[::-1], values=of.values[:, ::-1])

    def nudged(of: ReadingsRecord) -> ReadingsRecord:
        return replace(of, values=of.values * (1 + 1e-7))

    yield "renamed", BENCH.replace("  cross: {", "  tie: {").replace("section: cross,", "section: tie,"), lambda each: each, 1e-6
    yield "dials in another order", BENCH, backwards, 1e-6
    yield "readings by 1e-7", BENCH, nudged, SMOOTH
    yield "a wall by 1e-7", BENCH.replace("wall: 4 mm", "wall: 4.0000004 mm"), lambda each: each, SMOOTH


@pytest.fixture(scope="module")
def found() -> dict[str, float]:
    return values_found(BENCH)


@pytest.mark.parametrize(("what", "text", "change", "near"), list(changes()), ids=[each[0] for each in changes()])
def test_a_fit_however_it_is_written(what: str, text: str, change: Change, near: float, found: dict[str, float]) -> None:
    del what
    assert values_found(text, change) == approx(found, rel=near)
