"""Sections whose parts are of different metals: the transformed section, by an independent library and by hand."""

from __future__ import annotations

import warnings
from dataclasses import replace
from functools import cache
from itertools import pairwise
from random import Random
from typing import Any

import numpy as np
import pytest
from pytest import approx

from framecheck.model.frame import Section
from framecheck.model.joining import Action, StitchWeld
from framecheck.model.shapes import BoxedChannel, Channel, Plate, Plated, RectTube, Shape, Side, Sleeve
from framecheck.model.shop_tables import Material
from framecheck.section.analysis import section_properties
from framecheck.section.midline import midline_properties
from framecheck.section.outline_built_up import parts_of
from framecheck.section.properties import SectionProperties
from framecheck.section.store import decoded, encoded, section_key
from tests.unit.section.samples import MM, STEEL
from tests.verification.manual import Held, Kind, proof

ALU = Material("6061", 70e9, 70e9 / 2.6, 2700.0, 240e6, 260e6, "round numbers for tests", kind="aluminium")
HARD = replace(STEEL, name="hard", yield_strength=350e6)
BOXED = BoxedChannel(Channel(0.1, 0.05, 0.004, 0.0), 0.005)
TUBE = RectTube(0.1, 0.05, 0.004)
SLEEVED = Sleeve(TUBE, RectTube(0.09, 0.04, 0.003))


def mixed(shape: Shape, *metals: Material) -> Section:
    return Section("rail", shape, metals[0], metals=metals)


@cache
def reference(shape: Shape, metals: tuple[Material, ...], largest: float) -> Any:
    """Return sectionproperties' analysis of parts of several metals, mm and MPa."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from sectionproperties.analysis import Section as Reference
        from sectionproperties.pre import Geometry
        from sectionproperties.pre import Material as Grade

        grades = [Grade(m.name, m.youngs_modulus / 1e6, 0.3, m.yield_strength / 1e6, 1e-6, "grey") for m in metals]
        first, *others = (
            Geometry(polygon, material=grade) for polygon, grade in zip(parts_of(shape).polygons, grades, strict=True)
        )
        whole: Any = first
        for other in others:
            whole = whole + other
        whole.create_mesh([largest])
        section = Reference(whole)
        section.calculate_geometric_properties()
        section.calculate_warping_properties()
        section.calculate_plastic_properties()
    return section


@proof(Kind.LIBRARY)
def test_a_boxed_channel_of_aluminium_and_steel(held: Held) -> None:
    """sectionproperties 3.10.2: composite section, everything weighted by Young's modulus, referred to that of the channel."""
    found, other = section_properties(mixed(BOXED, ALU, STEEL)), reference(BOXED, (ALU, STEEL), 3.0)
    modulus = 70e3
    ixx, iyy, _ = other.get_eic(e_ref=modulus)
    held(found.area, other.get_ea(e_ref=modulus) * MM**2, rel=1e-9)
    held(found.i_vertical, ixx * MM**4, rel=1e-9)
    held(found.i_sideways, iyy * MM**4, rel=1e-9)
    held(found.torsion_constant, other.get_ej(e_ref=modulus) * MM**4, rel=0.004)
    held(found.shear_area_sideways, other.get_eas(e_ref=modulus)[0] * MM**2, rel=0.005)
    held(found.shear_area_vertical, other.get_eas(e_ref=modulus)[1] * MM**2, rel=0.005)
    centroid, centre = other.get_c(), other.get_sc_t()
    held(found.shear_centre[0], (centre[0] - centroid[0]) * MM, abs=0.05 * MM)
    moment_sideways, moment_vertical = other.get_mp()[1], other.get_mp()[0]
    held(found.plastic_modulus_vertical * found.yield_strength, moment_vertical * 1e-3, rel=1e-3)
    held(found.plastic_modulus_sideways * found.yield_strength, moment_sideways * 1e-3, rel=1e-3)


@proof(Kind.LIBRARY)
def test_stress_in_each_metal_of_a_boxed_channel(held: Held) -> None:
    """sectionproperties 3.10.2: largest normal stress of 1 kNm in the aluminium channel and in its steel plate."""
    found, other = section_properties(mixed(BOXED, ALU, STEEL)), reference(BOXED, (ALU, STEEL), 3.0)
    fields = found.fields
    assert fields is not None
    assert fields.metal is not None
    stress = {each["material"]: each for each in other.calculate_stress(mxx=1e6, myy=1e6, n=1e3).get_stress()}
    for number, name in enumerate((ALU.name, STEEL.name)):
        own = fields.normal[fields.metal == number]
        held(1e3 * np.abs(own[:, 1]).max(), 1e6 * np.abs(stress[name]["sig_zz_mxx"]).max(), rel=1e-6)
        held(1e3 * np.abs(own[:, 2]).max(), 1e6 * np.abs(stress[name]["sig_zz_myy"]).max(), rel=1e-6)
        held(1e3 * np.abs(own[:, 0]).max(), 1e6 * np.abs(stress[name]["sig_zz_n"]).max(), rel=1e-6)


def square(height: float, width: float, wall: float) -> float:
    return (width * height**3 - (width - 2 * wall) * (height - 2 * wall) ** 3) / 12


@proof(Kind.DERIVED)
def test_a_sleeve_and_its_core_share_by_e_times_i(held: Held) -> None:
    """By hand: both bend to one curvature, so M splits as E I, and stress is E times curvature times height."""
    found = section_properties(mixed(SLEEVED, ALU, STEEL))
    outer, core = square(0.1, 0.05, 0.004), square(0.09, 0.04, 0.003)
    stiff = 70e9 * outer + 200e9 * core
    held(found.youngs_modulus * found.i_vertical, stiff, rel=1e-9)
    fields = found.fields
    assert fields is not None
    assert fields.metal is not None
    held(np.abs(fields.normal[fields.metal == 0, 1]).max(), 70e9 * 0.05 / stiff, rel=1e-9)
    held(np.abs(fields.normal[fields.metal == 1, 1]).max(), 200e9 * 0.045 / stiff, rel=1e-9)
    held(found.shares[1].vertical, 200e9 * core / stiff, rel=1e-9)
    weight = 2700 * (0.1 * 0.05 - 0.092 * 0.042) + 7850 * (0.09 * 0.04 - 0.084 * 0.034)
    held(found.mass_per_length, weight, rel=1e-9)


@pytest.mark.parametrize(
    "shape",
    [BOXED, SLEEVED, Plated(TUBE, (Plate(Side.TOP, 0.04, 0.004),)), replace(BOXED, joined=StitchWeld(0.02, 0.1))],
    ids=["boxed", "sleeve", "plated", "stitched"],
)
def test_mid_line_theory_and_the_mesh_agree_on_two_metals(shape: Shape) -> None:
    """Two theories of their own; tolerances as for one metal (midline_crosscheck)."""
    section = mixed(shape, ALU, STEEL)
    mesh, line = section_properties(section), midline_properties(section)
    for name, within in (
        ("area", 0.01),
        ("i_vertical", 0.03),
        ("i_sideways", 0.03),
        ("torsion_constant", 0.08),
        ("plastic_modulus_vertical", 0.03),
        ("mass_per_length", 0.01),
        ("shear_area_vertical", 0.15),
    ):
        assert getattr(line, name) == approx(getattr(mesh, name), rel=within), name
    assert line.yield_strength == mesh.yield_strength == 240e6
    for number in (0, 1):
        highest = [peak(each, number) for each in (mesh, line)]
        assert highest[1] == approx(highest[0], rel=0.03)


def peak(section: SectionProperties, metal: int) -> float:
    """The largest normal stress per unit moment in one metal."""
    assert section.fields is not None
    assert section.fields.metal is not None
    return float(np.abs(section.fields.normal[section.fields.metal == metal, 1]).max())


def test_two_metals_of_one_modulus_bend_as_one() -> None:
    """Elasticity does not know strength: only the yield of each point differs."""
    one, two = section_properties(mixed(BOXED, STEEL, STEEL)), section_properties(mixed(BOXED, STEEL, HARD))
    assert two.i_vertical == approx(one.i_vertical, rel=1e-12)
    assert two.torsion_constant == approx(one.torsion_constant, rel=1e-12)
    assert not one.metals
    assert sorted(set(two.point_strengths.tolist())) == [250e6, 350e6]
    assert two.plastic_modulus_vertical > one.plastic_modulus_vertical


def test_what_is_stored_comes_back_with_its_metals() -> None:
    section = mixed(BOXED, ALU, STEEL)
    found = section_properties(section)
    back = decoded(encoded(found), section)
    assert back is not None
    assert (back.metals, back.walls, back.yield_strength) == (found.metals, found.walls, found.yield_strength)
    assert back.mass_per_length == found.mass_per_length
    assert back.fields is not None
    assert np.array_equal(back.point_strengths, found.point_strengths)
    keys = {section_key(each) for each in (section, mixed(BOXED, ALU, ALU), mixed(BOXED, ALU, HARD), mixed(BOXED, STEEL, ALU))}
    assert len(keys) == 4
    assert decoded(encoded(found), mixed(BOXED, ALU, ALU)) is None


@pytest.mark.parametrize("seed", range(3))
def test_a_weaker_part_never_makes_a_section_stronger(seed: int) -> None:
    """Random sizes: plastic moment and first yield fall as one part's metal does."""
    draw = Random(seed)
    shape = Plated(TUBE, (Plate(Side.TOP, draw.uniform(0.02, 0.05), draw.uniform(0.002, 0.01)),))
    strengths = [400e6, 300e6, 200e6, 100e6]
    found = [
        section_properties(mixed(shape, HARD, replace(STEEL, name=f"{each:.0f}", yield_strength=each)))
        for each in strengths
    ]
    plastic = [each.plastic_modulus_vertical * each.yield_strength for each in found]
    assert all(weaker < stronger for stronger, weaker in pairwise(plastic))
    first = [1 / (np.abs(each.fields.normal[:, 1]) / each.point_strengths).max() for each in found if each.fields]
    assert all(weaker <= stronger * (1 + 1e-12) for stronger, weaker in pairwise(first))


@pytest.mark.parametrize("shape", [BOXED, Plated(TUBE, (Plate(Side.TOP, 0.04, 0.004),))], ids=["boxed", "plated"])
@pytest.mark.parametrize("metals", [(STEEL, STEEL), (ALU, STEEL)], ids=["one metal", "two"])
def test_loose_parts_bend_each_by_itself(shape: Shape, metals: tuple[Material, Material]) -> None:
    """Mechanics: one curvature, so E I is the sum of each part's own; mesh and mid-line theory alike."""
    section = replace(mixed(shape, *metals), action=Action.LOOSE)
    mesh, line = section_properties(section), midline_properties(section)
    full = section_properties(replace(section, action=Action.FULL))
    assert mesh.i_vertical + mesh.i_sideways < 0.95 * (full.i_vertical + full.i_sideways)
    for name in ("area", "i_vertical", "i_sideways", "torsion_constant", "plastic_modulus_vertical", "mass_per_length"):
        assert getattr(line, name) == approx(getattr(mesh, name), rel=0.05), name
    plate = {"BoxedChannel": 5 * 100**3 / 12, "Plated": 40 * 4**3 / 12}[type(shape).__name__]
    first = {"BoxedChannel": square_channel(100, 50, 4), "Plated": (50 * 100**3 - 42 * 92**3) / 12}[type(shape).__name__]
    ratio = metals[1].youngs_modulus / metals[0].youngs_modulus
    assert mesh.i_vertical == approx((first + ratio * plate) * 1e-12, rel=1e-6)


def square_channel(height: float, flange: float, wall: float) -> float:
    """Second moment of a channel with sharp corners."""
    return (flange * height**3 - (flange - wall) * (height - 2 * wall) ** 3) / 12
