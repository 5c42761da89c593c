"""Elastic critical moments of open sections of every symmetry, both signs of bending, against finite strips and printed factors."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.checks.lateral_buckling.elastic import (
    BendingWay,
    Bent,
    MomentShape,
    bent_of,
    bounding_shapes,
    critical_factor,
    critical_moment,
    even,
    moment_shape,
)
from framecheck.checks.lateral_buckling.lengths import Known, Unbraced
from framecheck.checks.lateral_buckling.strengths import elastic_stress, stiffness_of
from framecheck.model import shapes
from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.shapes import Channel, Hat, Shape, ZShape
from framecheck.model.shop_tables import Material
from framecheck.section.analysis import section_properties
from framecheck.section.midline import midline_properties
from framecheck.section.properties import SectionProperties
from tests.verification.manual import FrontDoor, Held, Kind, proof

STRIPS = yaml.safe_load((Path(__file__).parent / "lateral_finite_strip.yaml").read_text(encoding="utf-8"))
STEEL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 250e6, 400e6, "as in the finite strips")
settled = settings(deadline=None, max_examples=40)


def bent(section: SectionProperties, bending: BendingWay) -> Bent:
    stiff = stiffness_of(section)
    lateral = stiff.sideways if bending is BendingWay.VERTICALLY else stiff.vertical
    return bent_of(section, (lateral, stiff.torsion, stiff.warping), bending)


def of_row(row: dict[str, Any]) -> tuple[Section, BendingWay]:
    shape: Shape = getattr(shapes, row["kind"])(**row["sizes"])
    return Section(row["name"], shape, STEEL), BendingWay.VERTICALLY if row["bending"] == "Mv" else BendingWay.SIDEWAYS


@proof(Kind.LIBRARY, STRIPS["source"] + ", stored in lateral_finite_strip.yaml with how it was made; a short hat distorts too: 6 %")
@pytest.mark.parametrize("row", STRIPS["sections"], ids=lambda row: f"{row['name']} {row['bending']} {row['sign']}")
def test_critical_moments_of_finite_strips(held: Held, row: dict[str, Any]) -> None:
    section, bending = of_row(row)
    found = critical_moment(bent(section_properties(section), bending), row["length_m"], row["sign"])
    held(found, row["moment_nm"], rel=0.065 if "1 1/2 x 1/2, 14 ga" in row["name"] else 0.02)


@proof(Kind.LIBRARY, STRIPS["source"] + ", stored in lateral_finite_strip.yaml with how it was made")
@pytest.mark.parametrize("row", STRIPS["columns"], ids=lambda row: row["name"])
def test_columns_of_finite_strips(held: Held, row: dict[str, Any]) -> None:
    section = section_properties(Section(row["name"], getattr(shapes, row["kind"])(**row["sizes"]), STEEL))
    length = row["length_m"]
    part = Unbraced(Known.BETWEEN, 0.0, length, length, length, length, True)
    held(elastic_stress(section, stiffness_of(section), part) * section.area, row["push_n"], rel=0.015)


@proof(Kind.MEMORY)
def test_factors_of_a_beam_under_a_load(held: Held) -> None:
    """ENV 1993-1-1:1992, table F.1.2 (SN003 of access-steel the same), from memory: simple beam, even load: C1 1.132, C2 0.459,
    C3 0.525; load in the middle: C1 1.365, C2 0.553. From the integrals: C1 = 1 / sqrt J2, C2 = Jq / 2 sqrt J2, C3 = J1 / sqrt J2.
    """
    x = np.linspace(0.0, 1.0, 201)
    evenly = moment_shape(x, -4 * (x * (1 - x))[:, None], (8 * x - 4)[:, None])
    root = np.sqrt(evenly.squared)
    held(np.concatenate((1 / root, evenly.load / (2 * root), -evenly.mean / root)), [1.132, 0.459, 0.525], rel=2e-3)
    at = np.array([0.0, 0.5, 0.5, 1.0])
    middle = moment_shape(at, np.array([[0.0], [-1.0], [-1.0], [0.0]]), np.array([[-2.0], [-2.0], [2.0], [2.0]]))
    root = np.sqrt(middle.squared)
    held(np.concatenate((1 / root, middle.load / (2 * root))), [1.365, 0.553], rel=0.02)


@proof(Kind.MEMORY)
def test_factors_of_end_moments(held: Held) -> None:
    """ENV 1993-1-1:1992, table F.1.1, k = 1, from memory: end moments in the ratio 1, 0.5, 0: C1 1.000, 1.323, 1.879; AISC 360-22,
    commentary to F1: 2.27 for ends equal and opposite.
    """
    x = np.array([0.0, 1.0])
    ratios = (1.0, 0.5, 0.0, -1.0)
    found = [1 / np.sqrt(moment_shape(x, np.array([[1.0], [ratio]]), np.zeros((2, 1))).squared[0]) for ratio in ratios]
    held(found, [1.0, 1.323, 1.879, 2.27], rel=0.01)


@proof(Kind.FORMULA)
def test_critical_moment_is_that_of_the_specification(held: Held) -> None:
    """ANSI/AISC 360-22, eq. (F2-4), (F2-7), (F2-8b) for C15x33.9 at 25 ft: ho = 14.35 in, 15 in less the flange."""
    inch, ksi = 0.0254, 6.894757e6
    e, g, i_lateral, torsion, warping, modulus, ho, length = 29000.0, 11200.0, 8.07, 1.01, 358.0, 42.0, 14.35, 300.0
    radius2, c = sqrt(i_lateral * warping) / modulus, ho / 2 * sqrt(i_lateral / warping)
    slender = length**2 / radius2
    stress = pi**2 * e / slender * sqrt(1 + 0.078 * torsion * c / (modulus * ho) * slender)
    stiff = Bent(e * ksi * i_lateral * inch**4, g * ksi * torsion * inch**4, e * ksi * warping * inch**6, 0.0, 0.0, 0.0)
    held(critical_moment(stiff, length * inch, 1.0), stress * modulus * ksi * inch**3, rel=3e-3)


BEAM = Bent(2e4, 40.0, 8.0, 0.05, 0.04, 0.06)


@proof(Kind.DERIVED)
def test_wagner_by_hand(held: Held) -> None:
    """A T of two thin walls, by hand: I times the integral is that of z (z - zs)2 + z y2 over the walls, zs at the flange."""
    flange, web, t = 0.06, 0.08, 0.002
    area = (flange + web) * t
    low = web * t * web / 2 / area  # centroid below the flange
    second = flange * t * low**2 + web**3 * t / 12 + web * t * (web / 2 - low) ** 2
    over_web = sum(w * (low - s) * s**2 for s, w in zip(*gauss(0.0, web), strict=True)) * t
    by_hand = (flange**3 / 12 * t * low + over_web) / second
    tee = Section("T", shapes.Plated(shapes.Flat(web - t / 2, t), (shapes.Plate(shapes.Side.TOP, flange, t),)), STEEL)
    held(section_properties(tee).wagner[0], by_hand, rel=0.05)  # walls are 1/30 of their width thick


def gauss(start: float, end: float) -> tuple[list[float], list[float]]:
    x, w = np.polynomial.legendre.leggauss(4)
    half = (end - start) / 2
    return (start + half * (x + 1)).tolist(), (half * w).tolist()


hats = st.builds(
    Hat,
    height=st.floats(0.04, 0.15),
    crown=st.floats(0.03, 0.12),
    brim=st.floats(0.01, 0.05),
    wall=st.floats(0.001, 0.004),
    inside_radius=st.just(0.0),
)
channels = st.builds(
    Channel,
    height=st.floats(0.05, 0.2),
    flange=st.floats(0.03, 0.09),
    wall=st.floats(0.001, 0.005),
    inside_radius=st.just(0.0),
    lip=st.sampled_from([0.0, 0.015]),
)
zeds = st.builds(
    ZShape,
    height=st.floats(0.05, 0.2),
    flange=st.floats(0.03, 0.09),
    wall=st.floats(0.001, 0.005),
    inside_radius=st.just(0.0),
)


@settled
@given(shape=st.one_of(hats, channels, zeds))
def test_mid_line_theory_gives_the_same_wagner(shape: Shape) -> None:
    # two ways of integrating: over the mesh and along the mid-line, within what walls of finite thickness make
    section = Section("s", shape, STEEL)
    meshed, midline = section_properties(section), midline_properties(section)
    size = max(shape.height, 0.05)  # type: ignore[union-attr]
    assert np.array(meshed.wagner) == approx(np.array(midline.wagner), abs=0.02 * size + 0.1 * shape.wall)


@settled
@given(shape=st.one_of(hats, channels, zeds), length=st.floats(0.3, 4.0), hair=st.sampled_from([1e-7, -1e-7]))
def test_critical_moments_are_continuous(shape: Any, length: float, hair: float) -> None:
    near = replace(shape, height=shape.height * (1 + hair), wall=shape.wall * (1 - hair))
    for bending in BendingWay:
        one, other = (bent(midline_properties(Section("s", each, STEEL)), bending) for each in (shape, near))
        for sign in (1.0, -1.0):
            assert critical_moment(one, length, sign) == approx(critical_moment(other, length * (1 + hair), sign), rel=1e-5)


@settled
@given(torsion=st.floats(1.0, 1e3), warping=st.floats(0.0, 1e2), wagner=st.floats(-0.3, 0.3), length=st.floats(0.2, 5.0))
def test_turning_a_section_over_swaps_the_signs(torsion: float, warping: float, wagner: float, length: float) -> None:
    up = Bent(2e4, torsion, warping, wagner, 0.04, 0.06)
    over = replace(up, wagner=-wagner, above=0.06, below=0.04)
    assert critical_moment(up, length, 1.0) == approx(critical_moment(over, length, -1.0), rel=1e-12)
    x = np.array([0.0, 0.4, 0.4, 1.0]) * length
    moments, shears = np.array([[0.0], [-0.24], [-0.24], [0.0]]) * length, np.array([[-0.6], [-0.6], [0.4], [0.4]])
    found = critical_factor(up, length, moment_shape(x, moments, shears))
    assert found == approx(critical_factor(over, length, moment_shape(x, -moments, -shears)), rel=1e-12)


@settled
@given(
    moments=st.lists(st.floats(-1.0, 1.0), min_size=3, max_size=8).filter(lambda m: max(map(abs, m)) > 0.01),
    times=st.floats(0.1, 1e4),
)
def test_factors_scale_and_even_moments_bound_them(moments: list[float], times: float) -> None:
    # by how much moments may grow halves where they double; no diagram without loads buckles before its largest moment taken as even
    x = np.linspace(0.0, 1.5, len(moments))
    values, none = np.array(moments)[:, None], np.zeros((len(moments), 1))
    shape = moment_shape(x, values, none)
    found, grown = (critical_factor(BEAM, 1.5, each) for each in (shape, moment_shape(x, times * values, none)))
    assert grown * times == approx(found, rel=1e-9)
    bounds = [critical_factor(BEAM, 1.5, each) for each in bounding_shapes(values, none, 1.5)]
    assert np.min(bounds, axis=0) <= found * (1 + 1e-9)


def test_reversing_a_member_changes_nothing() -> None:
    x, moments, shears = loaded()
    there = moment_shape(x, moments, shears)
    back = moment_shape(x[-1] - x[::-1], moments[::-1], -shears[::-1])
    assert critical_factor(BEAM, 1.0, there) == approx(critical_factor(BEAM, 1.0, back), rel=1e-12)


def test_a_station_more_changes_nothing() -> None:
    x, moments, shears = loaded()
    more = np.insert(x, 1, 0.1)
    wider = [np.insert(each, 1, each[0] + (each[1] - each[0]) * 0.1 / x[1], axis=0) for each in (moments, shears)]
    one, other = moment_shape(x, moments, shears), moment_shape(more, *wider)
    assert critical_factor(BEAM, 1.0, one) == approx(critical_factor(BEAM, 1.0, other), rel=1e-9)


def loaded() -> tuple[Array, Array, Array]:
    x = np.array([0.0, 0.3, 0.3, 1.0])
    return x, np.array([[0.2], [-0.4], [-0.4], [0.3]]), np.array([[-2.0], [-2.0], [1.0], [1.0]])


def test_a_load_on_the_outline_is_worse_and_a_couple_is_no_load() -> None:
    x, moments, shears = loaded()
    high = critical_factor(BEAM, 1.0, moment_shape(x, moments, shears))
    level = critical_factor(replace(BEAM, above=0.0, below=0.0), 1.0, moment_shape(x, moments, shears))
    assert high < level
    jump, none = np.array([[0.2], [0.2], [-0.4], [-0.4]]), np.zeros((4, 1))
    assert moment_shape(x, jump, none).load == approx(0.0, abs=1e-12)


def test_no_moment_never_buckles() -> None:
    still = MomentShape(np.zeros(1), np.zeros(1), np.zeros(1), np.zeros(1))
    assert np.isinf(critical_factor(BEAM, 1.0, still))
    assert critical_factor(BEAM, 1.0, even(2.0)) == approx(critical_moment(BEAM, 1.0, 1.0) / 2)


LOADED = """
title: beam with a load in the middle
origin: left end
sections:
  beam: {shape: I, height: 160 mm, width: 60 mm, web: 4 mm, flange: 6 mm, root radius: 0 mm, material: A36}
frame:
  points: {left: {x: 0 m, y: 0 m, z: 0 m}, middle: {x: 3 m, y: 0 m, z: 0 m}, right: {x: 6 m, y: 0 m, z: 0 m}}
  members:
    - name: beam
      points: [left, middle, right]
      section: beam
      start: {make: rigid, warping: free}
      end: {make: rigid, warping: free}
  supports:
    - {point: left, held: [x, y, z, turn x]}
    - {point: right, held: [y, z, turn x]}
load cases:
  - middle:
      forces:
        - {point: middle, force: {z: -1000 N}}
"""


@proof(Kind.MEMORY)
def test_a_load_is_taken_to_stand_on_top(held: Held, front_door: FrontDoor) -> None:
    """ENV 1993-1-1:1992, F.1.2, from memory: C1 P (sqrt(g / P + (C2 zg)2) - C2 zg), C1 1.365, C2 0.553, zg half the height; P L / 4
    is asked. Whatever the frame's own buckling shows for the load at the member's middle.
    """
    found = front_door(LOADED)
    factor = next(each["safety_factor"] for each in found["checks"] if each["check"] == "buckling")
    steel = replace(STEEL, youngs_modulus=29000 * 6.894757e6, shear_modulus=11200 * 6.894757e6)
    beam = section_properties(Section("I", shapes.IShape(0.16, 0.06, 0.004, 0.006), steel))
    k2, lift = (pi / 6.0) ** 2, 0.553 * 0.08
    push = k2 * steel.youngs_modulus * beam.i_sideways
    twist = steel.shear_modulus * beam.torsion_constant + k2 * steel.youngs_modulus * beam.warping_constant
    held(factor, 1.365 * push * (sqrt(twist / push + lift**2) - lift) / (1000 * 6.0 / 4), rel=0.03)


@settled
@given(shape=st.one_of(hats, channels, zeds), length=st.floats(0.3, 4.0), times=st.sampled_from([0.1, 3.0]))
def test_a_larger_copy_bears_as_its_size_says(shape: Any, length: float, times: float) -> None:
    # stress and proportions alike: moments grow with the cube of the size, whatever the unit
    grown = replace(shape, **{name: times * getattr(shape, name) for name in shape.__dataclass_fields__})
    for bending in BendingWay:
        one, other = (bent(midline_properties(Section("s", each, STEEL)), bending) for each in (shape, grown))
        for sign in (1.0, -1.0):
            found = critical_moment(other, times * length, sign)
            assert found == approx(times**3 * critical_moment(one, length, sign), rel=1e-6)


@settled
@given(
    height=st.floats(0.08, 0.2),
    width=st.floats(0.04, 0.1),
    wall=st.floats(0.003, 0.006),
    length=st.floats(0.3, 4.0),
    rust=st.floats(1e-10, 1e-8),
)
def test_a_section_almost_alike_both_ways_is_almost_as_strong(
    height: float, width: float, wall: float, length: float, rust: float
) -> None:
    whole = shapes.IShape(height, width, wall, wall)
    one, other = (
        bent(midline_properties(Section("s", each, STEEL)), BendingWay.VERTICALLY)
        for each in (whole, shapes.Worn(whole, top=rust))
    )
    for sign in (1.0, -1.0):
        assert critical_moment(other, length, sign) == approx(critical_moment(one, length, sign), rel=1e-4)
