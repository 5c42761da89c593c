"""Warping that an end passes on: two members in line, each open, twist as the one that they are parts of."""

from __future__ import annotations

from dataclasses import replace
from math import tanh

from pytest import approx

from framecheck.model.frame import EndWarping, Frame, Make, MemberEnd
from framecheck.model.loads import Support
from tests.unit.frame.frames import HELD, bar, push, section, solved

POINTS = {"a": (0.0, 0.0, 0.0), "b": (0.4, 0.0, 0.0), "c": (1.0, 0.0, 0.0)}
OPEN = section(j=1e-9, warping=1e-9)
RATE = (80e9 * 1e-9 / (200e9 * 1e-9)) ** 0.5
TORQUE = 10.0


def end(warping: EndWarping, **changes: object) -> MemberEnd:
    return replace(MemberEnd(Make.RIGID, warping), **changes)  # type: ignore[arg-type]


def twisted(middle: MemberEnd, *, other: MemberEnd | None = None) -> float:
    """Return the twist at c of two members, warping held at a and free at c, over Saint-Venant's."""
    members = (
        bar("first", "a", "b", start=end(EndWarping.FIXED), end=middle),
        bar("second", "b", "c", start=other or middle, end=end(EndWarping.FREE)),
    )
    frame = Frame(POINTS, members, {}, (Support("a", HELD),))
    moved = solved(frame, push("c", (0.0, 0.0, 0.0), (TORQUE, 0.0, 0.0)), of=OPEN)
    return float(moved.displacements[moved.points.index("c"), 0, 3]) / (TORQUE / (80e9 * 1e-9))


def test_warping_passed_on_makes_one_member_of_two() -> None:
    """1 - tanh(kL)/kL over the whole length (E Cw th''' - G J th' = -T, held at one end, free at the other)."""
    assert twisted(end(EndWarping.CONTINUOUS)) == approx(1 - tanh(RATE) / RATE, rel=1e-9)


def test_a_soft_spring_lets_warping_go_and_a_hard_one_holds_it() -> None:
    soft, hard = (end(EndWarping.SPRING, warping_stiffness=size) for size in (1e-6, 1e12))
    assert twisted(soft) == approx(twisted(end(EndWarping.FREE)), rel=1e-6)
    assert twisted(hard) == approx(twisted(end(EndWarping.FIXED)), rel=1e-6)


def test_warping_held_between_two_makes_two_members() -> None:
    """Held at both ends 1 - tanh(kl/2)/(kl/2), held at one 1 - tanh(kl)/kl: the first member's and the second's own twist."""
    first, second = (1 - tanh(RATE * 0.2) / (RATE * 0.2)) * 0.4, (1 - tanh(RATE * 0.6) / (RATE * 0.6)) * 0.6
    assert twisted(end(EndWarping.FIXED)) == approx(first + second, rel=1e-9)
