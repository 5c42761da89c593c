"""What moves freely is named: which point, which way, what would hold it."""

from __future__ import annotations

from math import inf

import pytest

from framecheck.errors import MechanismError, UnsolvableError
from framecheck.model.frame import Frame, Make, MemberEnd, Mount, StiffBody
from framecheck.model.loads import CaseLoads, Support
from tests.unit.frame.frames import HELD, PLACED, RIGID, bar, push, solved

PINNED = MemberEnd(Make.PINNED)
LINE = {"a": (0.0, 0.0, 0.0), "b": (1.0, 0.0, 0.0), "c": (2.0, 0.0, 0.0)}


def message(frame: Frame, *cases: CaseLoads) -> str:
    with pytest.raises(MechanismError) as caught:
        solved(frame, *(cases or (push("b", (0.0, 0.0, 1.0)),)))
    return str(caught.value)


def test_missing_support() -> None:
    no_sideways = (inf, 0.0, inf, inf, inf, inf)
    frame = Frame(LINE, (bar("m", "a", "b", "c"),), {}, (Support("a", no_sideways),))
    assert message(frame) == (
        "the whole frame is free to move: along y (left); hold a point of it that way (missing support)"
    )


def test_no_support_at_all() -> None:
    said = message(Frame(LINE, (bar("m", "a", "b", "c"),), {}))
    assert said.startswith("the whole frame is free to move: along x (forward), along y (left), along z (up), turning about x")


def test_pin_chain() -> None:
    chain = (bar("first", "a", "b", end=PINNED), bar("second", "b", "c", start=PINNED))
    ends = (Support("a", (*PLACED[:3], inf, 0.0, 0.0)), Support("c", PLACED))
    said = message(Frame(LINE, chain, {}, ends))
    assert "point 'b' is free to move: along y (left)" in said
    assert "point 'b' is free to move: along z (up)" in said
    assert "brace it" in said


def test_released_torsion() -> None:
    loose = MemberEnd(Make.GIVEN, stiffness=(inf, inf, inf, 0.0, inf, inf))
    frame = Frame(LINE, (bar("shaft", "a", "b", start=loose, end=loose),), {}, (Support("a", HELD), Support("b", HELD)))
    said = message(frame)
    assert "member 'shaft' is free to turn about its own axis" in said
    assert "make one of its ends rigid or springy that way" in said


@pytest.mark.parametrize(("end", "point"), [("start", "a"), ("end", "b")])
def test_the_end_that_slips_is_named_with_its_own_point(end: str, point: str) -> None:
    """The shaft turns with the point at its other end, which the support leaves free to turn."""
    loose = MemberEnd(Make.GIVEN, stiffness=(inf, inf, inf, 0.0, inf, inf))
    first, last = (loose, RIGID) if end == "start" else (RIGID, loose)
    turns = (inf, inf, inf, 0.0, inf, inf)
    free, fast = ("b", "a") if end == "start" else ("a", "b")
    ends = (Support(free, turns), Support(fast, HELD))
    frame = Frame({name: LINE[name] for name in "ab"}, (bar("shaft", "a", "b", start=first, end=last),), {}, ends)
    said = message(frame, push("a", (0.0, 0.0, 0.0), (10.0, 0.0, 0.0)), push("b", (0.0, 0.0, 0.0), (10.0, 0.0, 0.0)))
    assert f"its {end} at point '{point}' is released that way" in said


def test_free_mount() -> None:
    soft_upwards_only = tuple(Mount(point, (0.0, 1e6, 1e6)) for point in ("a", "b", "c"))
    engine = StiffBody("engine", 200.0, (1.0, 0.0, 0.3), soft_upwards_only)
    points = {**LINE, "c": (1.0, 1.0, 0.0)}
    frame = Frame(points, (bar("m", "a", "b"), bar("n", "b", "c")), {}, (Support("a", HELD),), stiff_bodies=(engine,))
    said = message(frame)
    assert "body 'engine' is free to move: along x (forward)" in said
    assert "give its mounts stiffness that way" in said


def test_disconnected_part() -> None:
    points = {**LINE, "d": (0.0, 1.0, 0.0), "e": (1.0, 1.0, 0.0)}
    frame = Frame(points, (bar("m", "a", "b", "c"), bar("loose", "d", "e")), {}, (Support("a", HELD),))
    assert message(frame) == (
        "the part of point 'd', point 'e' hangs on nothing: join it to the rest of the frame or give it supports of its own"
    )


def test_disconnected_part_of_a_frame_that_hangs_on_nothing() -> None:
    points = {"a": (0.0, 0.0, 0.0), "b": (3.0, 0.0, 0.0), "c": (3.0, 2.0, 0.0), "d": (0.0, 1.0, 0.0), "e": (1.0, 1.0, 0.0)}
    frame = Frame(points, (bar("m", "a", "b", "c"), bar("loose", "d", "e")), {})
    said = message(frame, CaseLoads("still", free_free=True))
    assert said.startswith("the part of point 'd', point 'e' hangs on nothing")


def test_a_large_frame_names_its_mechanism_too() -> None:
    """More unknowns than the dense solver takes: the sparse one must find the same."""
    points = {f"p{k}": (0.1 * k, 0.0, 0.0) for k in range(301)}
    members = tuple(bar(f"m{k}", f"p{k}", f"p{k + 1}") for k in range(300))
    frame = Frame(points, members, {}, (Support("p0", (inf, 0.0, inf, inf, inf, inf)),))
    said = message(frame, push("p300", (0.0, 0.0, 1.0)))
    assert said == "the whole frame is free to move: along y (left); hold a point of it that way (missing support)"


def test_a_strut_pinned_at_its_foot_is_no_mechanism() -> None:
    """Nothing resists the turning of the pin's own node, and nothing needs to."""
    points = {"a": (0.0, 0.0, 0.0), "b": (1.0, 0.0, 0.0), "foot": (0.0, 0.0, -1.0)}
    members = (bar("beam", "a", "b"), bar("strut", "foot", "b", start=PINNED, end=PINNED))
    frame = Frame(points, members, {}, (Support("a", HELD), Support("foot", (inf, inf, inf, 0.0, 0.0, 0.0))))
    solution = solved(frame, push("b", (0.0, 0.0, -1000.0)))
    assert solution.balance[0] < 1e-12


def test_a_moment_on_a_pin_that_nothing_holds_is_refused() -> None:
    points = {"a": (0.0, 0.0, 0.0), "b": (1.0, 0.0, 0.0)}
    frame = Frame(points, (bar("strut", "a", "b", start=PINNED),), {}, (Support("a", PLACED), Support("b", HELD)))
    with pytest.raises(UnsolvableError, match="point 'a'"):
        solved(frame, push("a", (0.0, 0.0, 0.0), (0.0, 10.0, 0.0)))


def test_a_load_on_a_point_that_no_member_meets_is_refused() -> None:
    frame = Frame({**LINE, "far": (9.0, 0.0, 0.0)}, (bar("m", "a", "b", "c"),), {}, (Support("a", HELD),))
    with pytest.raises(UnsolvableError, match="point 'far'"):
        solved(frame, push("far", (1.0, 0.0, 0.0)))
