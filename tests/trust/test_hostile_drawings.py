"""Drawings made to harm, or damaged: an outline or a refusal in words, never more time than reading takes."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest
from ezdxf.layouts import Modelspace

from framecheck.errors import InputError
from framecheck.reading.drawing import read_outline
from framecheck.reading.drawing_entities import MOST_POINTS, bulged
from tests.unit.reading.test_drawing import drawn, square

WORDS = (
    "1e300", "-1e300", "nan", "inf", "", "0", "-1", "LINE", "ENDSEC", "SECTION", "EOF", "999999999999", "x" * 2000,
    "AcDbEntity", "{", "10", "330", "INSERT", "SPLINE", "MTEXT", "\ufeff", "\x00", "1e-300", "360", "LWPOLYLINE", "70", "90",
)  # fmt: skip


def _rounded(space: Modelspace) -> None:
    space.add_lwpolyline([(0, 0, 0.3), (40, 0, 0), (40, 30, 0.2), (0, 30, 0)], format="xyb", close=True)
    space.add_circle((20, 15), 3)
    space.add_text("x")


def _half_moon(space: Modelspace) -> None:
    space.add_arc((0, 0), 5, 0, 180)
    space.add_line((-5, 0), (5, 0))


DRAWINGS = (drawn(square(50.0), square(44.0, 3.0)), drawn(_rounded), drawn(_half_moon))


def damaged(chance: Random) -> str:
    """Return a drawing with one to four of its lines changed, lost, doubled or swapped, most of them among its entities."""
    text = chance.choice(DRAWINGS)
    first = text[: text.index("ENTITIES")].count("\n")
    lines = text.split("\n")
    for _ in range(chance.randrange(1, 5)):
        at = chance.randrange(min(first, len(lines) - 1) if chance.random() < 0.7 else 0, len(lines))
        match chance.randrange(5):
            case 0 | 1:
                lines[at] = chance.choice(WORDS)
            case 2:
                del lines[at : at + chance.choice((1, 2, 7))]
            case 3:
                lines[at:at] = lines[at : at + chance.choice((1, 2, 7, 40))]
            case _:
                lines = [*lines[:at], lines[chance.randrange(len(lines))], *lines[at + 1 :]]
        lines = lines or [""]
    return "\n".join(lines)


def answered(text: str) -> str:
    """Return "" for an outline, else the refusal; anything else is a fault."""
    try:
        read_outline(text, "mm", "rail.dxf")
    except InputError as error:
        return str(error)
    return ""


@pytest.mark.filterwarnings("ignore")
def test_a_damaged_drawing_is_read_or_refused() -> None:
    found = [answered(damaged(Random(seed))) for seed in range(250)]
    assert all(words == "" or words.startswith("rail.dxf: drawing: ") for words in found)
    assert 0 < found.count("") < len(found)


def replaced(old: str, new: str, draw: Callable[[Modelspace], object]) -> str:
    text = drawn(draw)
    assert old in text
    return text.replace(old, new)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (replaced("LWPOLYLINE\n  5\n", "LWPOLYLINE\n 70\ninf\n  5\n", _rounded), "can't be read as a DXF drawing"),
        (drawn(lambda space: space.add_circle((0, 0), 1e300)), "reaches"),
        (drawn(lambda space: space.add_circle((0, 0), -1)), "not a number"),
        (drawn(lambda space: space.add_arc((0, 0), 1e-300, 0, 180)), "smaller than the tolerance"),
        (drawn(lambda space: space.add_line((0, 0), (1e200, 0))), "reaches"),
        (drawn(lambda space: space.add_lwpolyline([(n, n % 7, 1e5) for n in range(3000)], format="xyb")), "takes over"),
        (drawn(lambda space: space.add_blockref("itself", (0, 0))), "INSERT can't be read as part of an outline"),
        ("0\nSECTION\n" * 200_000, "can't be read as a DXF drawing"),
        ("0\n" + "x" * 5_000_000, "larger than 5 MB"),
    ],
    ids=("bad number", "too large", "negative", "speck", "too long", "too many", "block of itself", "cut off", "too much"),
)
def test_an_absurd_drawing_is_refused_in_words(text: str, said: str) -> None:
    words = answered(text)
    assert words
    assert said in words


def test_arcs_without_end_are_not_drawn_first() -> None:
    sides = [(float(n), float(n % 7), 1e5) for n in range(100_000)]
    assert len(bulged(sides, True, 1e-5)) < 3 * MOST_POINTS
