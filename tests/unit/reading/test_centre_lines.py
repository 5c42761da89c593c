"""Middle lines of a frame: from a drawing or a table to points and members, the same whichever way they are drawn."""

from __future__ import annotations

from io import StringIO
from itertools import pairwise
from math import dist, hypot
from pathlib import Path
from random import Random

import ezdxf
import pytest
from pytest import approx

from framecheck.cli.case_file_commands import checked
from framecheck.cli.main import entry
from framecheck.errors import InputError
from framecheck.reading.centre_line_files import FRONTS, DrawingLayout, drawn_lines, listed_lines
from framecheck.reading.centre_lines import CentreLine, DrawnFrame, frame_of, mirrored
from framecheck.reading.line_questions import AnswerError, LineQuestion

Row = tuple[float, float]


def drawing(*rows: tuple[str, list[Row]]) -> str:
    """Return a DXF text with a polyline a row, on the layer that it names."""
    document = ezdxf.new()
    for layer, path in rows:
        document.modelspace().add_lwpolyline(path, dxfattribs={"layer": layer})
    stream = StringIO()
    document.write(stream)
    return stream.getvalue()


RAIL = [(0.0, 15.0), (40.0, 15.0), (60.0, 17.0), (120.0, 17.0)]


def ladder(front: str = "right", scale: float = 1.0, half: bool = False) -> str:
    """Return a ladder: two rails with a jog, crossmembers at 5, 50 (over the rails), 115; turned on the sheet."""
    cross = {5.0: 15.0, 50.0: 20.0, 115.0: 17.0}
    rows = [("rail", RAIL), *(("crossmember", [(x, 0.0 if half else -y), (x, y)]) for x, y in cross.items())]
    if not half:
        rows.append(("rail", [(x, -y) for x, y in RAIL[::-1]]))
    return drawing(*((layer, [turned(scale * x, scale * y, front) for x, y in path]) for layer, path in rows))


def turned(x: float, y: float, front: str) -> Row:
    """Return where a point lies on a sheet with forward to its right, top, left or bottom."""
    return {"right": (x, y), "top": (-y, x), "left": (-x, -y), "bottom": (y, -x)}[front]


def shape(frame: DrawnFrame) -> list[list[list[float]]]:
    """Return members as places in one order, m: whatever they are called and whichever end comes first."""
    rows = [[[round(c, 6) + 0.0 for c in frame.points[name]] for name in each.points] for each in frame.members]
    return sorted(min(row, row[::-1]) for row in rows)


def inches(text: str, front: str = "right") -> DrawnFrame:
    return frame_of(drawn_lines(text, "frame.dxf", DrawingLayout("in", 0.0, FRONTS[front])), 1e-3, "frame.dxf")


def test_a_ladder_is_found_with_points_wherever_lines_meet() -> None:
    found = inches(ladder())
    assert {each.name: len(each.points) for each in found.members} == {
        "left rail": 7, "right rail": 7, "crossmember 1": 2, "crossmember 2": 4, "crossmember 3": 2,
    }  # fmt: skip
    # by hand: half way between x = 40 and 60 the rail is half way between y = 15 and 17
    assert min(dist(each, (50 * 0.0254, 16 * 0.0254, 0.0)) for each in found.points.values()) < 1e-9


@pytest.mark.parametrize("front", FRONTS)
def test_the_same_frame_however_it_lies_on_the_sheet(front: str) -> None:
    assert shape(inches(ladder(front), front)) == shape(inches(ladder()))


def test_half_a_drawing_is_joined_to_its_image() -> None:
    lines = drawn_lines(ladder(half=True), "frame.dxf", DrawingLayout("in"))
    assert shape(frame_of(mirrored(lines, 1e-3), 1e-3, "")) == shape(inches(ladder()))


def test_a_known_length_gives_the_scale() -> None:
    lines = drawn_lines(ladder(scale=0.37), "frame.dxf", DrawingLayout("", 120 * 0.0254))
    assert shape(frame_of(lines, 1e-3, "")) == shape(inches(ladder()))


def test_lines_drawn_twice_in_pieces_and_in_any_order_are_the_same_frame() -> None:
    random = Random(7)
    for _ in range(5):
        pieces = []
        for layer, path in [("rail", RAIL), ("rail", [(x, -y) for x, y in RAIL]), ("brace", [(0.0, 15.0), (60.0, -17.0)])]:
            for a, b in pairwise(path):
                share = random.uniform(0.2, 0.8)
                inner = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
                pieces += [(layer, [a, inner]), (layer, [b, inner])]
        random.shuffle(pieces)
        again = pieces + random.sample(pieces, 3)
        once = inches(drawing(("rail", RAIL), ("rail", [(x, -y) for x, y in RAIL]), ("brace", [(0.0, 15.0), (60.0, -17.0)])))
        assert shape(inches(drawing(*again))) == shape(once)


def test_a_table_gives_points_by_name_and_sections() -> None:
    text = (
        "member;point;x [in];y [in];z;section\nrail;front;0;15;500 mm;tube 4 x 2 x 3/16 in\nrail;rear;100;15;500 mm;\n"
        "brace;front;;;;\nbrace;;50;1 1/2 in;0;\n"
    )
    found = frame_of(listed_lines(text, "frame.csv", "mm"), 1e-3, "frame.csv")
    assert found.points["front"] == approx((0.0, 15 * 0.0254, 0.5))
    assert found.points["brace 2"] == approx((50 * 0.0254, 1.5 * 0.0254, 0.0))
    assert [(each.name, each.points[0], each.section) for each in found.members] == [
        ("rail", "front", "tube 4 x 2 x 3/16 in"), ("brace", "front", ""),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("member,x\nrail,1 in\n", "there is no column 'y'"),
        ("member,x,y,colour\nrail,1 in,2 in,red\n", "the column 'colour' is not known"),
        ("member,point,x,y\nrail,a,1 in,2 furlong\nrail,b,,\n", "frame.csv:3: b: has no place"),
        ("member,point,x,y\nrail,a,1 in,2 furlong\nrail,b,,\n", "frame.csv:2: y of a"),
        ("member,point,x,y\nrail,a,1 in,2 in\nrail,a,3 in,2 in\n", "frame.csv:3: point 'a': stands at another place above"),
        ("member,point,x,y\n", "holds no line"),
        ("member,x,y\nrail,1 in,2 in\nrail,1 in,2 in\n", "rail: has no length"),
        ("member,x,y\n,1 in,2 in\n", "frame.csv:2: member: is not named"),
    ],
)  # fmt: skip
def test_a_table_that_can_not_be_read_is_told_by_line(text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        frame_of(listed_lines(text, "frame.csv", ""), 1e-3, "frame.csv")
    assert said in str(caught.value)


def test_a_sharp_corner_begins_another_member() -> None:
    corner = [CentreLine("tube", ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))), CentreLine("tube", ((1.0, 0.0, 0.0), (1.0, 1.0, 0.0)))]
    kick = [corner[0], CentreLine("tube", ((1.0, 0.0, 0.0), (2.0, 0.0, 1.0)))]
    assert len(frame_of(corner, 1e-3, "").members) == 2
    assert len(frame_of(kick, 1e-3, "").members) == 1


def test_a_bend_is_drawn_by_straight_pieces_on_its_arc() -> None:
    document = ezdxf.new()
    quarter_turn = [(0.0, 0.0, 0.4142135623730951), (10.0, 10.0, 0.0)]  # radius 10; a bulge is tan(angle / 4)
    document.modelspace().add_lwpolyline(quarter_turn, format="xyb")
    stream = StringIO()
    document.write(stream)
    (line,) = drawn_lines(stream.getvalue(), "", DrawingLayout("m"))
    assert len(line.path) == 7
    assert [hypot(x, y - 10.0) for x, y, _ in line.path] == approx([10.0] * 7)


def test_the_command_writes_a_case_that_is_read_and_says_what_it_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "frame.dxf").write_text(ladder(half=True), encoding="utf-8")
    file = tmp_path / "frame.yaml"
    words = ["new", str(file), "--from", str(tmp_path / "frame.dxf"), "--half"]
    assert entry(words) == 2
    said = capsys.readouterr().err
    assert "a drawing's numbers have no unit of their own" in said
    assert "(--unit, --overall-length)" in said
    assert not file.exists()
    assert entry([*words, "--unit", "in", "--made-of", "tube 4 x 2 x 3/16 in"]) == 0
    assert "found 16 points (2 where lines cross) and 5 members" in capsys.readouterr().out
    checked(file.read_text(encoding="utf-8"), "frame.yaml")
    assert entry([*words, "--unit", "in"]) == 2
    assert "exists already" in capsys.readouterr().err


def test_a_fault_knows_which_answer_it_is_about() -> None:
    with pytest.raises(AnswerError) as error:
        drawn_lines(drawing(("cross", [(0.0, -5.0), (0.0, 5.0)])), "x.dxf", DrawingLayout(overall=5.0))
    assert error.value.question is LineQuestion.FRONT


def test_options_of_lines_without_lines_are_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert entry(["new", str(tmp_path / "a.yaml"), "--half", "--defaults"]) == 2
    assert "--from" in capsys.readouterr().err
