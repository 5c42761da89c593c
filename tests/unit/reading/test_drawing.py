"""Outlines from drawings: joined, scaled by the stated unit, refused with a message of their own."""

from __future__ import annotations

import sys
from collections.abc import Callable
from io import StringIO
from itertools import pairwise
from math import pi

import ezdxf
import pytest
from ezdxf.layouts import Modelspace
from pytest import approx

from framecheck.errors import InputError
from framecheck.reading.drawing import read_outline
from framecheck.reading.drawing_entities import arc, bulged

Draw = Callable[[Modelspace], object]


def drawn(*draw: Draw, units: int = 4) -> str:
    """Return a DXF text with what each function draws; units: the header's word, 4 is mm, 1 inches."""
    document = ezdxf.new(units=units)
    for each in draw:
        each(document.modelspace())
    stream = StringIO()
    document.write(stream)
    return stream.getvalue()


def square(side: float, at: float = 0.0) -> Draw:
    """Four lines, each drawn its own way round."""

    def draw(space: Modelspace) -> None:
        a, b = at, at + side
        for start, end in (((a, a), (b, a)), ((b, b), (b, a)), ((b, b), (a, b)), ((a, a), (a, b))):
            space.add_line(start, end)

    return draw


def refused(text: str, unit: str = "mm", tolerance: float = 1e-4) -> str:
    with pytest.raises(InputError) as caught:
        read_outline(text, unit, "rail.dxf", tolerance)
    return str(caught.value)


def test_lines_become_a_loop_and_the_inner_one_a_hole() -> None:
    found = read_outline(drawn(square(50.0), square(44.0, 3.0)), "mm", "rail.dxf")
    assert found.width == approx(0.05)
    assert found.height == approx(0.05)
    assert found.area == approx(0.05**2 - 0.044**2)
    assert len(found.shape.exterior) == 4
    assert len(found.shape.holes) == 1


def test_the_unit_is_the_users_and_the_header_is_not_believed() -> None:
    text = drawn(square(2.0), units=4)
    assert read_outline(text, "in", "rail.dxf").width == approx(0.0508)
    assert "'furlong' is not a drawing's unit" in refused(text, "furlong")


def test_the_right_of_the_drawing_is_the_right_of_the_section() -> None:
    """Seen looking along the member y is to the left: a web drawn on the left lies at the largest y."""
    text = drawn(lambda space: space.add_lwpolyline([(0, 0), (40, 0), (40, 3), (3, 3), (3, 100), (0, 100)], close=True))
    ys = [y for y, z in read_outline(text, "mm", "rail.dxf").shape.exterior if z > 0.05]
    assert min(ys) == approx(-0.003)
    assert max(ys) == approx(0.0)


def test_circles_arcs_and_bulges_have_their_area() -> None:
    """A disc with a hole; a slot of two straights and two half circles, once by arcs and once by bulges (by hand)."""
    disc = read_outline(drawn(lambda s: s.add_circle((0, 0), 30), lambda s: s.add_circle((0, 0), 27)), "mm", "tube.dxf")
    assert disc.area == approx(pi * (0.03**2 - 0.027**2), rel=2e-3)

    def slot(space: Modelspace) -> None:
        space.add_line((0, -10), (40, -10))
        space.add_arc((40, 0), 10, -90, 90)
        space.add_line((40, 10), (0, 10))
        space.add_arc((0, 0), 10, 90, 270)

    by_hand = 0.04 * 0.02 + pi * 0.01**2
    assert read_outline(drawn(slot), "mm", "slot.dxf").area == approx(by_hand, rel=1e-3)
    rows = [(0, -10, 0), (40, -10, 1), (40, 10, 0), (0, 10, 1)]
    lines = read_outline(drawn(lambda s: s.add_lwpolyline(rows, format="xyb", close=True)), "mm", "slot.dxf")
    heavy = read_outline(drawn(lambda s: s.add_polyline2d(rows, format="xyb", close=True)), "mm", "slot.dxf")
    assert lines.area == approx(by_hand, rel=1e-3)
    assert heavy.area == approx(lines.area)


def test_an_arc_keeps_to_its_sagitta() -> None:
    """The middle of a chord lies r (1 - cos half its angle) inside the circle."""
    points = arc((0.0, 0.0), 500.0, 0.0, pi / 2, 0.01)
    middle = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(points)]
    assert all(0.0 <= 500.0 - (y**2 + z**2) ** 0.5 <= 0.01 for y, z in middle)
    assert len(points) > 60


def test_a_bulge_turns_left() -> None:
    """DXF reference: bulge is the tangent of a quarter of the angle, positive counter-clockwise: 1 is a half circle to the right of
    the way walked."""
    points = bulged([(0.0, 0.0, 1.0), (2.0, 0.0, 0.0)], False, 0.001)
    assert min(y for _, y in points) == approx(-1.0, abs=1e-3)
    assert points[0] == (0.0, 0.0)
    assert points[-1] == (2.0, 0.0)


def test_small_gaps_are_closed_and_large_ones_listed() -> None:
    def gap(size: float) -> str:
        corners = [(0, 0), (50, 0), (50, 30), (0, 30), (0, size)]
        return drawn(lambda s: [s.add_line(a, b) for a, b in pairwise(corners)])

    assert read_outline(gap(0.05), "mm", "rail.dxf").area == approx(0.05 * 0.03, rel=2e-3)
    message = refused(gap(0.5))
    assert message.startswith("rail.dxf: drawing: loose ends at")
    assert "(0, 0)" in message
    assert "(0, 0.5) mm" in message
    assert read_outline(gap(0.5), "mm", "rail.dxf", tolerance=1e-3).area == approx(0.05 * 0.03, rel=2e-2)


def test_a_line_too_many_is_named_by_its_ends() -> None:
    text = drawn(square(50.0), lambda s: s.add_line((0, 0), (50, 50)))
    assert "more than two lines meet at" in refused(text)
    assert "(50, 50)" in refused(text)


def test_lines_drawn_twice_are_refused() -> None:
    assert "more than two lines meet" in refused(drawn(square(50.0), square(50.0)))
    text = drawn(lambda s: s.add_line((0, 0), (5, 0)), lambda s: s.add_line((5, 0), (0, 0)))
    assert "fewer than three sides" in refused(text)


@pytest.mark.parametrize(
    ("draw", "message"),
    [
        (lambda s: s.add_spline([(0, 0), (1, 1), (2, 0)]), "SPLINE can't be read"),
        (lambda s: s.add_ellipse((0, 0), (2, 0), 0.5), "ELLIPSE can't be read"),
        (lambda s: s.add_blockref("part", (0, 0)), "explode the block"),
        (lambda s: s.add_3dface([(0, 0), (1, 0), (1, 1), (0, 1)]), "3DFACE can't be read"),
        (lambda s: s.add_polyline3d([(0, 0, 0), (1, 0, 1), (1, 1, 0)]), "flatten it to a plane polyline"),
        (lambda s: s.add_line((0, 0, 0), (1, 0, 2)), "does not lie in the plane"),
        (lambda s: s.add_circle((0, 0, 5), 1), "does not lie in the plane"),
        (lambda s: s.add_circle((0, 0), 1, dxfattribs={"extrusion": (0, 0, -1)}), "facing up"),
        (lambda s: s.add_line((0, 0), (float("nan"), 1)), "not a number"),
        (lambda s: s.add_circle((0, 0), float("inf")), "not a number"),
        (lambda s: s.add_circle((0, 0), -1.0), "not a number"),
        (lambda s: s.add_line((0, 0), (1e9, 1)), "from the origin"),
        (lambda s: s.add_text("rail"), "nothing is drawn"),
    ],
)  # fmt: skip
def test_what_can_not_be_an_outline_is_refused(draw: Draw, message: str) -> None:
    assert message in refused(drawn(draw))


def test_texts_and_dimensions_are_skipped_and_counted() -> None:
    found = read_outline(
        drawn(square(50.0), lambda s: s.add_text("rail"), lambda s: s.add_point((1, 1))), "mm", "rail.dxf"
    )
    assert found.skipped == (("POINT", 1), ("TEXT", 1))


def test_two_sections_in_one_drawing_are_refused() -> None:
    assert "is not inside the largest one" in refused(drawn(square(50.0), square(20.0, 100.0)))
    assert "inside another hole" in refused(drawn(square(50.0), square(40.0, 5.0), square(10.0, 20.0)))


def test_huge_drawings_are_refused_before_they_are_joined(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("framecheck.reading.drawing_entities.MOST_POINTS", 200)
    monkeypatch.setattr("framecheck.reading.drawing.MOST_ENTITIES", 50)
    rows = [(i % 20, i // 20) for i in range(201)]
    assert "takes over 200 points" in refused(drawn(lambda s: s.add_lwpolyline(rows)))
    many = drawn(lambda s: [s.add_line((i, 0), (i, 1)) for i in range(51)])
    assert "51 entities are more than a section has" in refused(many)


@pytest.mark.parametrize(
    "text", ["", "hello", "0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nx\n", "AutoCAD Binary DXF\r\n", "0\x00"]
)
def test_what_is_no_drawing_is_refused(text: str) -> None:
    assert "rail.dxf: drawing:" in refused(text)


def test_tolerances_must_make_sense() -> None:
    assert "makes no sense" in refused(drawn(square(50.0)), tolerance=0.0)
    assert "makes no sense" in refused(drawn(square(50.0)), tolerance=float("nan"))


def test_without_the_library_the_message_names_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    text = drawn(square(50.0))
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    assert 'pip install "framecheck[dxf]"' in refused(text)
