"""Charts: round numbers on axes, places, colours and marks; the same chart as SVG and on an `ax`."""

from __future__ import annotations

import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from numpy.typing import NDArray
from pytest import approx

from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    STEPS,
    WORSE,
    Area,
    Chart,
    ChartLine,
    Dots,
    Group,
    Mark,
    Note,
    PointMark,
    Scale,
    Stroke,
    Strokes,
    TextSide,
    bar,
    colours_of,
    span,
    under,
)
from framecheck.output.charts.on_axes import put
from framecheck.output.charts.once import once
from framecheck.output.charts.straightened import OFF, distances, path, straightened
from framecheck.output.charts.svg import SvgSheet, as_svg, view_of
from framecheck.output.charts.ticks import ticks

SVG = "{http://www.w3.org/2000/svg}"
SCRIPT = "<script>alert(1)</script>"
EVERY_MARK = (
    Area(bar(0.0, 4.0, 0.6), "#b3261e", is_hatched=True, label="a bar"),
    ChartLine(np.array([0.0, 1.0, np.nan, 3.0, 4.0]), np.zeros(5), stroke=Stroke.DASHED, label=SCRIPT),
    Strokes(np.array([(0.0, 0.0), (1.0, 1.0), (2.0, 0.0), (3.0, 1.0)]), ("#000000", "#000000", "#ffffff")),
    Dots(np.array([(1.0, 1.0), (2.0, 2.0)]), ("#00224e", "#fee838")),
    Mark((2.0, 1.0), PointMark.PLUS, "#0b5fa5", label="a sign"),
    Mark((3.0, 1.0), PointMark.RING, "#0b5fa5"),
    Note(SCRIPT, (1.0, 1.0), TextSide.LEFT, is_turned=True),
    Group((ChartLine(np.array([0.0, 4.0]), np.array([1.0, 2.0])), Strokes(np.array([(0.0, 2.0), (4.0, 2.0)]), ("#00224e",)))),
)
CHART = Chart(SCRIPT, "across & on", "up", (0.0, 4.0), (-1.0, 3.0), EVERY_MARK, scale=Scale("stress", 250.0))
SHEET = SvgSheet((CHART, CHART), 2, 400.0, 300.0)


def written(sheet: SvgSheet = SHEET) -> str:
    return as_svg(sheet, "odd", f"title {SCRIPT}", "description")


@pytest.mark.parametrize(
    ("ends", "most", "said"),
    [
        ((0.0, 10.0), 5, ["0", "2", "4", "6", "8", "10"]),
        ((-0.6, 0.6), 5, ["\N{MINUS SIGN}0.50", "\N{MINUS SIGN}0.25", "0.00", "0.25", "0.50"]),
        ((3000.0, -1000.0), 4, ["\N{MINUS SIGN}1000", "0", "1000", "2000", "3000"]),
        ((0.0, 1e-6), 2, ["0.0000000", "0.0000005", "0.0000010"]),
    ],
)
def test_axes_have_round_numbers(ends: tuple[float, float], most: int, said: list[str]) -> None:
    """Steps of 1, 2, 2.5 and 5 times a power of ten, counted by hand."""
    assert [text for _, text in ticks(ends, most)] == said


def test_the_ends_leave_room_and_are_never_one() -> None:
    assert span(np.array([0.0, 10.0]), room=0.1) == (-1.0, 11.0)
    assert span(np.array([np.nan, 2.0]), 0.0, room=0.0) == (0.0, 2.0)
    low, high = span(np.full(3, 5.0))
    assert low < 5.0 < high
    assert span(np.full(2, np.nan)) == approx((-0.08, 1.08))


def test_colours_are_those_of_the_published_map_and_the_worst_is_the_darkest() -> None:
    """cividis as matplotlib gives it (Nunez, Anderton, Renslow, PLoS ONE 13(7), 2018, e0199239), run backwards."""
    cividis = mpl.colormaps["cividis"]
    assert list(STEPS) == [to_hex(cividis(n / (len(STEPS) - 1))) for n in range(len(STEPS))]
    assert colours_of(np.array([-1.0, 0.0, 250.0, 250.1]), 250.0) == (STEPS[-1], STEPS[-1], STEPS[0], ABOVE)
    assert [luminance(each) for each in WORSE] == sorted((luminance(each) for each in WORSE), reverse=True)


def luminance(colour: str) -> float:
    """Return how light a colour is printed in grey: WCAG 2.1, relative luminance."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_what_is_above_the_allowed_is_hatched_and_its_line_is_dark_on_both_sides() -> None:
    strokes = Strokes(np.array([(0.0, 0.0), (1.0, 1.0), (2.0, 0.0)]), (WORSE[0], ABOVE))
    chart = Chart("", "", "", (0.0, 4.0), (-1.0, 3.0), (strokes,), has_axes=False)
    drawn = written(SvgSheet((chart,), 1, 400.0, 300.0)).split("</defs>")[1]
    found = re.findall(r'<path d="[^"]*" stroke="(#\w+)"', drawn)
    assert found == [INK, WORSE[0], ABOVE, "#fff"]
    assert drawn.count("stroke-dasharray") == 1


def test_places_are_where_the_axes_say() -> None:
    view = view_of(CHART, 400.0, 300.0)
    assert view.place(0.0, -1.0) == (view.left, view.bottom)
    assert view.place(4.0, 3.0) == approx((view.right, view.top))
    middle = view.places(np.array([(2.0, 1.0)]))[0]
    assert middle == approx([(view.left + view.right) / 2, (view.top + view.bottom) / 2])
    assert path(np.array([(0.0, 0.0), (1.0, np.nan), (2.0, 2.0), (3.0, 2.0)])) == "M0.0 0.0M2.0 2.0L3.0 2.0"


def test_equal_scales_are_equal_and_may_run_backwards() -> None:
    view = view_of(Chart("", "", "", (50.0, -50.0), (-10.0, 10.0), (), is_equal=True), 400.0, 300.0)
    assert view.across / 100.0 == approx(view.up / 20.0)
    assert view.place(50.0, 0.0)[0] == view.left


def test_the_svg_is_whole_safe_and_the_same_twice() -> None:
    text = written()
    assert text == written()
    assert "<script" not in text
    whole = ElementTree.fromstring(text.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1))
    assert whole.attrib["role"] == "img"
    assert whole.attrib["aria-labelledby"] == "odd-title odd-desc"
    assert [each.text for each in whole.findall(f"{SVG}title")] == [f"title {SCRIPT}"]
    texts = [each.text for each in whole.iter(f"{SVG}text")]
    assert texts.count(SCRIPT) == 6
    assert {"across & on", "up", "stress", "a bar", "a sign", "250"} <= set(texts)
    assert len(list(whole.iter(f"{SVG}circle"))) == 6
    ids = [each.attrib["id"] for each in whole.iter() if "id" in each.attrib]
    assert len(ids) == len(set(ids))
    assert all(each.startswith("odd-") for each in ids)
    used = re.findall(r"url\(#(.*?)\)", text)
    assert used
    assert set(used) <= set(ids)


def test_a_run_of_one_colour_is_one_line() -> None:
    strokes = Chart("", "", "", (0.0, 4.0), (-1.0, 3.0), EVERY_MARK[2:3], has_axes=False)
    found = re.findall(
        r'<path d="(.*?)" stroke="(.*?)"', written(SvgSheet((strokes,), 1, 400.0, 300.0)).split("</defs>")[1]
    )
    assert [(commands.count("L"), colour) for commands, colour in found] == [(3, INK), (2, "#000000"), (1, "#ffffff")]


def test_the_same_chart_stands_on_an_ax() -> None:
    figure = Figure()
    axes = figure.add_subplot()
    assert put(axes, CHART) is axes
    assert axes.get_xlim() == CHART.x
    assert axes.get_ylim() == CHART.y
    assert axes.get_title(loc="left") == SCRIPT
    legend = axes.get_legend()
    assert legend is not None
    assert [each.get_text() for each in legend.get_texts()] == ["a bar", SCRIPT, "a sign"]
    assert [each.get_text() for each in axes.texts] == [SCRIPT]


def test_the_area_under_a_line_is_whole_on_an_ax_and_on_the_page() -> None:
    """A triangle from 0 to 4 high over 2 wide: its area, by the shoelace rule on what was drawn, is 4 (by hand)."""
    x, y = np.array([0.0, 2.0]), np.array([0.0, 4.0])
    chart = Chart("", "", "", (0.0, 2.0), (0.0, 4.0), (Area(under(x, y), "#0b5fa5"),), has_axes=False)
    patch = put(Figure().add_subplot(), chart).patches[0]
    assert isinstance(patch, PathPatch)
    assert shoelace(patch.get_path().to_polygons()[0]) == approx(4.0)
    view = view_of(chart, 400.0, 300.0)
    text = written(SvgSheet((chart,), 1, 400.0, 300.0)).split("</defs>")[1]
    drawn = re.findall(r"[ML]([\d.]+) ([\d.]+)", text)
    assert shoelace(np.array(drawn, dtype=np.float64)) == approx(4.0 * view.across * view.up / 8.0, rel=1e-3)


def shoelace(ring: NDArray[np.float64]) -> float:
    """Return the area in a ring (n, 2)."""
    x, y = ring.T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


def test_a_report_is_written_without_matplotlib() -> None:
    """In a process of its own: matplotlib takes as long to load as a whole check, so no report may need it."""
    code = (
        "import sys; from tests.unit.output.samples import results; from framecheck.output.html_report.page import as_html;"
        "as_html(results(), 'caution'); sys.exit('matplotlib' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False, cwd=Path(__file__).parents[3]).returncode == 0


@pytest.mark.parametrize("runs", [(1, 1), (1, -1), (-1, 1), (-1, -1)])
def test_a_tube_is_drawn_hollow_whichever_way_its_outlines_run(runs: tuple[int, int]) -> None:
    """A tube has no metal in its middle: that dot of the picture is the paper's."""
    square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    rings = (square[:: runs[0]], 0.8 * square[:: runs[1]])
    figure = Figure(figsize=(2, 2), dpi=50)
    axes = figure.add_axes((0, 0, 1, 1))
    put(axes, Chart("", "", "", (-1.0, 1.0), (-1.0, 1.0), (Area(rings, "#000000"),)))
    axes.axis("off")
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    dots = np.asarray(canvas.buffer_rgba())
    assert dots[50, 50, :3].tolist() == [255, 255, 255]
    assert dots[50, 5, :3].tolist() == [0, 0, 0]


def test_a_straightened_line_lies_nowhere_off_and_keeps_its_turns() -> None:
    """A quarter of a circle and a line that doubles back: each point left out lies within OFF of the line, by its definition."""
    turn = np.linspace(0.0, np.pi / 2, 200)
    arc = 80 * np.column_stack([np.cos(turn), np.sin(turn)])
    kept = straightened(arc)
    away = np.min([distances(arc, start, end) for start, end in pairwise(kept)], axis=0)
    assert 4 < len(kept) < 40
    assert away.max() <= OFF
    there_and_back = np.array([(0.0, 0.0), (5.0, 0.0), (9.0, 0.0), (4.0, 0.0)])
    assert straightened(there_and_back).tolist() == [[0.0, 0.0], [9.0, 0.0], [4.0, 0.0]]


def test_what_comes_again_on_a_page_is_written_once() -> None:
    page = once(as_svg(SHEET, "one", "a", "b") + as_svg(SHEET, "two", "a", "b"))
    (name,) = set(re.findall(r'<g id="(same-[0-9a-f]{12})">', page))
    assert page.count(f'<g id="{name}">') == 1
    assert page.count(f'<use href="#{name}"/>') == 3
    ElementTree.fromstring(f"<body>{page}</body>")
