"""Distortional buckling of lips and brims against finite strips, a printed example and the direct strength curves."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.checks.distortional_buckling import beam_share, check, column_share, share_left, softening
from framecheck.model import shapes
from framecheck.model.frame import Section
from framecheck.model.shapes import Channel, Drilled, Hat, Hole, Shape, Side, Worn
from framecheck.model.shop_tables import Material
from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.results.subjects import Open
from framecheck.run import run
from framecheck.section.analysis import section_properties
from framecheck.section.properties import Critical, SectionProperties
from framecheck.section.shape_geometry import Lips, lips_of
from tests.cases.test_sections import LIBRARY
from tests.unit.checks.members import outcome, row
from tests.verification.manual import FrontDoor, Held, Kind, proof

STRIPS = yaml.safe_load((Path(__file__).parent / "distortion_finite_strip.yaml").read_text(encoding="utf-8"))
STEEL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 345e6, 450e6, "as in the finite strips")
IN, KIP_IN = 0.0254, 112.984829
FORCE = {"N": "push", "Mv+": "top", "Ms+": "left"}


@cache
def section_of(shape: Shape) -> SectionProperties:
    return section_properties(Section("s", shape, STEEL))


def critical(shape: Shape) -> Critical:
    found = section_of(shape).distortion
    assert found is not None
    return found


@proof(Kind.LIBRARY, STRIPS["source"] + ", stored in distortion_finite_strip.yaml with how it was made")
@pytest.mark.parametrize("case", STRIPS["sections"], ids=lambda case: f"{case['name']} {case['force']}")
def test_critical_forces_of_finite_strips(held: Held, case: dict[str, Any]) -> None:
    found = critical(getattr(shapes, case["kind"])(**case["sizes"]))
    ours = 200e9 * getattr(found, FORCE[case["force"]])
    held(ours, case["critical"], rel=0.03)
    assert ours <= case["critical"]


@proof(Kind.MEMORY)
def test_the_channel_of_the_design_guide(held: Held) -> None:
    """AISI, Direct Strength Method Design Guide (2006), 9CS2.5x059, 55 ksi, from memory: My 126.55 kip-in, Mcrd/My 0.85, Mnd 93."""
    shape = Channel(9 * IN, 2.5 * IN, 0.059 * IN, 0.1875 * IN, 0.773 * IN)
    share = 203e9 * critical(shape).top / (126.55 * KIP_IN)
    held(share, 0.85, rel=0.05)
    held(126.55 * float(beam_share(np.array(share**-0.5))), 93.0, rel=0.03)


@proof(Kind.MEMORY)
def test_direct_strength_curves(held: Held) -> None:
    """AISI S100-16, E4.1 and F4.1, from memory: no loss up to 0.561 (column) and 0.673 (beam); (1 - 0.25 x) x with x the 0.6 power of
    the critical over the squash load; (1 - 0.22 x) x with x the root of the critical over the yield moment.
    """
    held(column_share(np.array([0.561, 2.0])), [1.0, 0.25**0.6 * (1 - 0.25 * 0.25**0.6)], rel=1e-3)
    held(beam_share(np.array([0.673, 2.0])), [1.0, 0.5 * (1 - 0.22 * 0.5)], rel=1e-3)


LIPPED = """
title: lipped channel
origin: middle of the left end
sections:
  rail: {shape: channel, height: 6 in, flange: 3 in, wall: 14 ga sheet, inside radius: 0 in, lip: 0.25 in, material: A500 grade C}
  HAT
frame:
  points: {left: {x: 0 in, y: 0 in, z: 0 in}, right: {x: 36 in, y: 0 in, z: 0 in}}
  members:
    - {name: rail, points: [left, right], section: SECTION, start: {make: rigid, warping: free}, end: {make: rigid, warping: free}}
  supports:
    - {point: left, held: [x, y, z, turn x]}
    - {point: right, held: [y, z, turn x]}
load cases:
  - bent:
      forces:
        - {point: left, moment: {y: START}}
        - {point: right, moment: {y: END}}
"""
HAT = "hat: {shape: hat, height: 3 in, crown: 1 in, brim: 0.5 in, wall: 16 ga sheet, inside radius: 0 in, material: A36}"


def bent(section: str, moment: float) -> str:
    """Return the file of a bent member; moment: at the left end about y, Nm, + compresses the top."""
    text = LIPPED.replace("HAT", HAT).replace("SECTION", section)
    return text.replace("START", f"{moment} N·m").replace("END", f"{-moment} N·m")


def answer(section: str, moment: float) -> dict[str, Any]:
    """Return what JSON tells of it."""
    found: dict[str, Any] = json.loads(as_json(run(read_case(bent(section, moment), "lips.yaml", LIBRARY)), "caution"))
    return found


def by_check(told: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """Return its rows by check."""
    return {each["check"]: each for each in told["checks"]}


def rows_of(section: str, moment: float) -> dict[str, dict[str, Any]]:
    """Return the rows of a bent member by check."""
    return by_check(answer(section, moment))


def left_open(section: str, moment: float) -> list[str]:
    """Return the reasons why its buckling is open."""
    return [why for each in answer(section, moment)["verdict"]["open"] for why in each["why"] if "the other way" in why]


@proof(Kind.LIBRARY)
def test_a_lipped_channel_in_and_out(held: Held, front_door: FrontDoor) -> None:
    """pyCUFSM 0.2.0: channel 6 x 3 x 1/4 lip, 14 ga, 50 ksi: elastic 152 MPa; AISI S100-16, F4.1: 0.57 of the yield moment."""
    shape = Channel(6 * IN, 3 * IN, 0.0747 * IN, 0.0, 0.25 * IN)
    held(200e9 * critical(shape).top * 2.963 * IN / section_of(shape).i_vertical, 152e6, rel=0.03)
    held(by_check(front_door(bent("rail", 2000.0)))["distortional buckling"]["capacity"] / (50 * 6.894757e6), 0.57, rel=0.03)


@proof(Kind.LIBRARY)
def test_a_hat_in_and_out(held: Held, front_door: FrontDoor) -> None:
    """pyCUFSM 0.2.0: hat 3 x 1 x 1/2 in 16 ga, 36 in, brims compressed: 558 Nm for 500 Nm asked, factor 1.12."""
    told = front_door(bent("hat", -500.0))
    held(by_check(told)["buckling"]["safety_factor"], 1.12, rel=0.08)
    assert told["verdict"]["state"] == "not met"


def test_a_hat_that_would_buckle_the_other_way_is_left_open() -> None:
    # the same finite strips: 1.12 of the 1.50 that is asked; channels are alike both ways, and nothing is said of them
    reasons = left_open("hat", 500.0)
    assert len(reasons) == 1
    assert "1.14" in reasons[0]
    assert left_open("hat", -500.0) == left_open("hat", 300.0) == left_open("rail", 2000.0) == []


def test_a_hat_with_its_crown_compressed_is_stable() -> None:
    # finite strips put its lateral buckling far above yield, so that what is left is first yield
    found = rows_of("hat", 500.0)
    assert found["buckling"]["safety_factor"] == approx(found["yield"]["safety_factor"], rel=0.01)


sizes = {
    "height": st.floats(0.06, 0.25),
    "wall": st.floats(0.001, 0.004),
    "inside_radius": st.just(0.0),
}
channels = st.builds(Channel, flange=st.floats(0.03, 0.1), lip=st.floats(0.006, 0.025), **sizes)
hats = st.builds(Hat, crown=st.floats(0.03, 0.12), brim=st.floats(0.008, 0.04), **sizes)
few = settings(deadline=None, max_examples=15)


def numbers(found: Critical) -> list[float]:
    return [found.push, found.top, found.bottom, found.left, found.right, found.bimoment, found.against]


@few
@given(shape=st.one_of(channels, hats))
def test_symmetry_of_the_section_is_that_of_the_answer(shape: Channel | Hat) -> None:
    found = critical(shape)
    if isinstance(shape, Channel):
        assert found.top == approx(found.bottom, rel=1e-4)
    else:
        assert found.left == approx(found.right, rel=1e-4)
    assert found.bimoment == approx(found.against, rel=1e-4)


@few
@given(shape=st.one_of(channels, hats), hair=st.sampled_from([1e-7, -1e-7]))
def test_a_hair_of_size_moves_the_answer_by_a_hair(shape: Channel | Hat, hair: float) -> None:
    near = replace(shape, height=shape.height * (1 + hair), wall=shape.wall * (1 - hair))
    assert numbers(critical(shape)) == approx(numbers(critical(near)), rel=1e-4)


@few
@given(shape=st.one_of(channels, hats), times=st.sampled_from([0.5, 2.0]))
def test_a_section_twice_as_large_bears_as_size_says(shape: Channel | Hat, times: float) -> None:
    # the same stress at the same proportions: forces grow with the square of the size, moments with its cube
    grown = replace(shape, **{name: times * getattr(shape, name) for name in shape.__dataclass_fields__})
    size = np.array([2, 3, 3, 3, 3, 4, 4])
    assert numbers(critical(grown)) == approx((numbers(critical(shape)) * times**size).tolist(), rel=1e-3)


@few
@given(shape=channels, growth=st.floats(1.05, 1.5))
def test_a_thicker_sheet_bears_more(shape: Channel, growth: float) -> None:
    one, other = (critical(replace(shape, wall=wall)) for wall in (shape.wall, growth * shape.wall))
    assert other.push > one.push
    assert other.top > one.top


@few
@given(shape=st.one_of(channels, hats), n=st.floats(-5e4, 5e4), mv=st.floats(-3e3, 3e3), ms=st.floats(-1e3, 1e3))
def test_more_of_all_forces_is_never_better(shape: Channel | Hat, n: float, mv: float, ms: float) -> None:
    section = section_of(shape)
    forces = np.outer([1.0, 1.3], row(N=n, Mv=mv, Ms=ms))
    push, bent = softening(section, critical(shape), forces)
    assert (push[1], bent[1]) == approx((1.3 * push[0], 1.3 * bent[0]))
    stress = np.array([1.0, 1.3]) * 200e6
    used = stress / share_left(section, critical(shape), forces, stress)
    assert used[1] >= used[0]


def test_rust_thins_the_walls_of_the_chain() -> None:
    whole = Channel(0.15, 0.075, 0.002, 0.0, 0.01)
    assert critical(Worn(whole, top=0.0005)).bottom < critical(whole).bottom  # the moment that compresses the top


def test_only_bare_lips_are_judged() -> None:
    lipped, plain = Channel(0.15, 0.075, 0.002, 0.0, 0.01), Channel(0.15, 0.075, 0.002, 0.0)
    assert lips_of(plain) is Lips.NONE
    assert section_of(plain).distortion is None
    drilled = Drilled(lipped, (Hole(Side.LEFT, 0.02),))
    assert lips_of(drilled) is Lips.CHANGED
    assert section_of(drilled).distortion is None


def test_a_drilled_lipped_rail_is_left_open() -> None:
    shape = Drilled(Channel(0.15, 0.075, 0.002, 0.0, 0.01), (Hole(Side.LEFT, 0.02),))
    made = outcome((section_of(shape),) * 2, np.stack([row(Mv=1.0)] * 2)[:, None, :], (0.0, 1.0))
    frame = replace(made.case.frame, sections={"rail section": Section("rail section", shape, STEEL)})
    assert [type(line) for line in check(replace(made, case=replace(made.case, frame=frame)))] == [Open]
