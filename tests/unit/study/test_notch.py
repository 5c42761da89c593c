"""The study of one notch, on a simple beam whose forces follow from statics."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.notch.repair import RepairKind
from framecheck.errors import InputError
from framecheck.model.case import Case
from framecheck.model.frame import Cut
from framecheck.model.shapes import Side
from framecheck.output.charts.on_axes import Picture
from framecheck.output.display import Units
from framecheck.output.notch_curve_text import curve_words
from framecheck.output.notch_text import as_text
from framecheck.reading.case_file import read_case
from framecheck.results.row import Mode
from framecheck.study.notch import (
    NotchStudy,
    cut_named,
    deepest,
    deepest_for_corner,
    member_named,
    notch_study,
    with_cut,
)
from tests.cases.test_sections import LIBRARY

HEIGHT, WIDTH, WALL, YIELD, FORCE, SPAN = 0.1, 0.05, 0.003, 355e6, 10e3, 2.0
TEXT = """\
title: A notched beam
targets: {safety factor: 1.5}
materials:
  - {name: plain steel, kind: steel, youngs modulus: 210 GPa, poissons ratio: 0.3, density: 7850 kg/m3, yield strength: 355 MPa,
     ultimate strength: 470 MPa, source: invented for this test}
sections:
  tube: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 3 mm, material: plain steel}
frame:
  points: {a: {x: 0 m}, middle: {x: 1 m}, b: {x: 2 m}}
  members:
    - {name: beam, points: [a, middle, b], section: tube, ends: rigid}
  cuts:
    - {name: notch, member: beam, side: top, at: 0.6 m, depth: 25 mm, length: 200 mm, corner radius: 20 mm}
  supports:
    - {point: a, held: [x, y, z, turn x]}
    - {point: b, held: [y, z]}
load cases:
  - pushed down: {forces: [{point: middle, force: {z: -10 kN}}]}
"""


@cache
def case() -> Case:
    return read_case(TEXT, "beam.yaml", LIBRARY)


@cache
def study() -> NotchStudy:
    return notch_study(case(), "beam", depths=(0.025, 0.05))


def net_by_hand(depth: float) -> tuple[float, float, float]:
    """Return area, second moment and the middle's height over the bottom of the tube without its top: parallel-axis theorem."""
    web = HEIGHT - depth - WALL
    parts = [(WIDTH * WALL, WALL / 2, WIDTH * WALL**3 / 12)] + 2 * [(web * WALL, WALL + web / 2, WALL * web**3 / 12)]
    area = sum(a for a, _, _ in parts)
    middle = sum(a * z for a, z, _ in parts) / area
    return area, sum(own + a * (z - middle) ** 2 for a, z, own in parts), middle


def test_gross_and_net_are_those_by_hand() -> None:
    area, inertia, middle = net_by_hand(0.025)
    found = study()
    assert found.net.area == approx(area, rel=1e-6)
    assert found.net.i_vertical == approx(inertia, rel=1e-6)
    assert found.shift == approx((0.0, middle - HEIGHT / 2), abs=1e-9)
    assert found.gross.closed
    assert not found.net.closed
    assert found.size == approx(HEIGHT)


def test_the_curve_is_the_moment_over_the_net_section() -> None:
    # simple beam: M = P x / 2, and the notch is worst at its end nearer to mid span, x = 0.7 m; its top is the farther fibre.
    # 5 %: on the safe side of first yield the section is judged away from sharp corners, with the shear beside the bending
    curve = study().curve
    for number, depth in enumerate((0.025, 0.05)):
        _, inertia, middle = net_by_hand(depth)
        stress = FORCE / 2 * 0.7 * (HEIGHT - depth - middle) / inertia
        assert curve.on_yield[number] == approx(YIELD / stress, rel=0.05)
    assert np.all(curve.on_yield[:, None] >= curve.at_corner)
    assert np.all(np.diff(curve.at_corner[0]) > 0)


def test_the_forces_of_a_repair_are_those_of_the_whole_beam() -> None:
    moments = study().gross_forces[:, 4]
    assert np.abs(moments).max() == approx(FORCE / 2 * 0.7, rel=1e-9)
    assert np.abs(moments).min() == approx(FORCE / 2 * 0.5, rel=1e-9)
    assert {each.kind for each in study().repairs} == set(RepairKind)
    for each in study().repairs:
        assert each.safety_factor >= 1.5 * (1 - 1e-9) or each.for_strength is None


def test_zones_are_those_of_the_moment_diagram() -> None:
    # stress over yield reaches a third where M = P x / 2 does: within a tenth for the shear beside it
    found = study()
    limit = 0.33 * YIELD * found.gross.i_vertical / (HEIGHT / 2) / (FORCE / 2)
    (first, second, third) = [zone for zone in found.zones if zone.part == "top flange"]
    assert (first.permitted, second.permitted, third.permitted) == (True, False, True)
    assert first.end == approx(limit, rel=0.1)
    assert third.start == approx(SPAN - limit, rel=0.1)


def test_the_deepest_lies_between_a_depth_that_meets_and_one_that_does_not() -> None:
    found = study()
    limit = deepest(found)
    meets = found.curve.on_yield >= 1.5
    assert (limit is None) == (bool(meets.all()) or not meets[0])
    strict = replace(found, asked=replace(found.asked, safety_factor=float(found.curve.on_yield.mean())))
    assert deepest(strict) == approx(0.0375)


def test_the_corner_has_a_depth_of_its_own_where_it_is_asked_not_to_yield() -> None:
    # what is judged must hold down to the depth that is told: cut that deep, the corner's own row stands at its target
    text = TEXT.replace("materials:", "notches: {local yield: [beam]}\nmaterials:").replace("-10 kN", "-4 kN")
    found = notch_study(read_case(text, "beam.yaml", LIBRARY), "beam", depths=(0.01, 0.025, 0.05))
    limit = deepest_for_corner(found)
    assert limit is not None
    deeper = notch_study(read_case(text.replace("depth: 25 mm", f"depth: {limit} m"), "beam.yaml", LIBRARY), "beam", depths=())
    corner = next(row for row in deeper.rows if row.mode is Mode.CORNER_YIELDS)
    assert corner.safety_factor == approx(1.0, rel=0.05)  # straight between the depths of the curve
    assert "The corner, at its own radius, meets its target to about" in curve_words(found, Units.SI)
    assert deepest_for_corner(study()) is None


def test_a_cut_may_be_asked_for_and_a_wrong_one_is_refused() -> None:
    beam = member_named(case(), "beam")
    asked = with_cut(case(), beam, Cut("asked", Side.BOTTOM, 1.5, 0.02, 0.1, 0.01))
    assert [cut.name for cut in asked.frame.members[0].cuts] == ["notch", "asked"]
    with pytest.raises(InputError, match="reaches beyond"):
        with_cut(case(), beam, Cut("asked", Side.BOTTOM, 1.98, 0.02, 0.1))
    with pytest.raises(InputError, match="did you mean 'beam'"):
        member_named(case(), "baem")
    with pytest.raises(InputError, match="has several cuts"):
        cut_named(asked.frame.members[0], None)
    with pytest.raises(InputError, match="has no cut; ask for one"):
        cut_named(replace(beam, cuts=()), None)


@pytest.mark.parametrize("units", Units)
def test_the_text_says_what_governs_and_what_is_left(units: Units) -> None:
    text = as_text("A notched beam", study(), "caution", units, 80)
    assert max(map(len, text.splitlines())) <= 80
    plain = " ".join(text.split())
    for words in ("governs in 'pushed down'", "opens the cell", "left %", "What mends it", "box insert", "may be cut"):
        assert words in plain


def test_the_drawing_has_a_line_for_each_radius_and_one_for_the_net_section() -> None:
    from matplotlib.figure import Figure

    from framecheck.output.charts.study_figures import draw_notch, notch_figure

    axes = Figure().add_subplot()
    assert draw_notch(axes, study(), Units.SI) is axes
    labelled = [line for line in axes.get_lines() if not str(line.get_label()).startswith("_")]
    assert len(labelled) == 1 + len(study().curve.radii)
    assert b"<svg" in notch_figure(study(), Picture("svg"), Units.SI)


@pytest.mark.parametrize("asked", [True, False])
def test_the_drawing_shows_the_corners_own_target_where_it_is_asked(asked: bool) -> None:
    """A corner at 1.08 of 1.00 passes, and lay under the one line at 1.5 as if it failed."""
    from matplotlib.figure import Figure

    from framecheck.output.charts.study_figures import draw_notch

    found = study()
    rows = tuple(replace(row, mode=Mode.CORNER_YIELDS if asked else Mode.NET_SECTION) for row in found.rows[:1])
    said = [each.get_text() for each in draw_notch(Figure().add_subplot(), replace(found, rows=rows), Units.SI).texts]
    assert ("target on local yield at the corner" in [each.replace("\n", " ") for each in said]) is asked
