"""Shear areas and unit stress fields against closed forms, and the resultants of every field."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from pytest import approx

from framecheck.model.arrays import Array
from framecheck.model.frame import Section
from framecheck.model.joining import StitchWeld
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    Flat,
    Hat,
    RectTube,
    RoundBar,
    RoundTube,
    Shape,
    Sleeve,
    ZShape,
)
from framecheck.section.analysis import section_properties
from framecheck.section.elements import VALUES, contracted
from framecheck.section.meshed import analysed, normal_field, shear_field
from framecheck.section.outline_built_up import parts_of
from framecheck.section.properties import SectionProperties, UnitFields
from tests.unit.section.samples import CHANNEL, MM, SHARP_CHANNEL, STEEL, TUBE, steel
from tests.verification.manual import Held, Kind, proof


def fields_of(found: SectionProperties) -> UnitFields:
    assert found.fields is not None
    return found.fields


def with_poisson(shape: Shape, poisson: float) -> Section:
    """Return a shape in a steel of another Poisson's ratio."""
    from dataclasses import replace

    return Section("bar", shape, replace(STEEL, shear_modulus=STEEL.youngs_modulus / (2 * (1 + poisson))))


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("poisson", "short", "long"), [(0.0, 1.2, 1.2), (0.3, 1.27479, 1.20056), (0.5, 1.35605, 1.20118)]
)
def test_shear_coefficients_of_a_2_by_1_rectangle(held: Held, poisson: float, short: float, long: float) -> None:
    """W. D. Pilkey, Analysis and Design of Elastic Beams (2002), example 6.5, p. 264: A / A_s along the short and the long side."""
    found = section_properties(with_poisson(Flat(10 * MM, 20 * MM), poisson))
    held(found.area / found.shear_area_vertical, short, rel=0.001)
    held(found.area / found.shear_area_sideways, long, rel=0.001)


@proof(Kind.FORMULA)
@pytest.mark.parametrize("poisson", [0.0, 0.3])
def test_shear_coefficient_of_a_round_bar(held: Held, poisson: float) -> None:
    """A_s / A = 6 (1 + nu)2 / (7 + 14 nu + 8 nu2), by the energy of the exact stress. J. D. Renton, Int. J. Solids Struct. 27 (1991)
    (from memory); at nu = 0 it is G. R. Cowper's 6 (1 + nu) / (7 + 6 nu), J. Appl. Mech. 33 (1966)."""
    found = section_properties(with_poisson(RoundBar(20 * MM), poisson))
    exact = 6 * (1 + poisson) ** 2 / (7 + 14 * poisson + 8 * poisson**2)
    held(found.shear_area_vertical / found.area, exact, rel=0.002)


@proof(Kind.FORMULA)
def test_shear_coefficient_of_a_thin_round_tube(held: Held) -> None:
    """One half: Timoshenko's classic; G. R. Cowper (1966) gives 2 (1 + nu) / (4 + 3 nu), the same at nu = 0."""
    found = section_properties(with_poisson(RoundTube(50 * MM, 1 * MM), 0.0))
    held(found.shear_area_vertical / found.area, 0.5, rel=0.005)


@proof(Kind.DERIVED)
def test_twist_stress_of_a_round_bar(held: Held) -> None:
    """tau = T r / J, J = pi d4 / 32: C. A. Coulomb (1784)."""
    fields = fields_of(section_properties(steel(RoundBar(20 * MM))))
    twist = np.linalg.norm(fields.shear[:, :, 2], axis=1)
    held(twist.max(), 16 / (pi * (20 * MM) ** 3), rel=0.01)


@proof(Kind.DERIVED)
def test_twist_stress_in_the_flat_wall_of_a_tube(held: Held) -> None:
    """tau = T / (2 A t) at mid-wall, R. Bredt (1896): the mean of inside and outside at half height."""
    fields = fields_of(section_properties(steel(TUBE)))
    half_height = (np.abs(fields.points[:, 1]) < 1.5 * MM) & (fields.points[:, 0] > 0)
    enclosed = (0.097 * 0.047) - (4 - pi) * (4.5 * MM) ** 2
    held(fields.shear[half_height, 1, 2].mean(), 1 / (2 * enclosed * 3 * MM), rel=0.01)


@proof(Kind.DERIVED)
def test_twist_stress_at_the_face_of_a_channel(held: Held) -> None:
    """tau = T t / J, J = sum b t3 / 3: Saint-Venant; + torsion turns y to z, so it points up outside the left web."""
    found = section_properties(steel(CHANNEL))
    fields = fields_of(found)
    outside = (np.abs(fields.points[:, 1]) < 20 * MM) & (fields.points[:, 0] > found.box[1] - 0.1 * MM)
    developed = 200 - 4 * 6 + pi * 4.5  # of its middle line, mm: bends of 3 mm inside
    held(fields.shear[outside, 1, 2].mean(), 3 * MM / (developed * 3**3 / 3 * MM**4), rel=0.015)


@proof(Kind.DERIVED)
def test_shear_stress_at_half_height_of_a_tube(held: Held) -> None:
    """tau = V Q / (I 2 t), J. D. Jourawski (1856)."""
    found = section_properties(steel(RectTube(100 * MM, 50 * MM, 3 * MM)))
    fields = fields_of(found)
    half_height = np.abs(fields.points[:, 1]) < 1.5 * MM
    first_moment = (50 * 50 * 25 - 44 * 47 * 23.5) * MM**3
    held(fields.shear[half_height, 1, 1].mean(), first_moment / ((50 * 100**3 - 44 * 94**3) / 12 * MM**4 * 6 * MM), rel=0.01)


@proof(Kind.DERIVED)
def test_warping_stress_of_a_channel(held: Held) -> None:
    """The flange tips' sectorial coordinate is (b - e) h / 2, the web's ends' e h / 2 the other way: V. Z. Vlasov."""
    found = section_properties(steel(SHARP_CHANNEL))
    fields = fields_of(found)
    b, h = 48.5 * MM, 97 * MM
    e = 3 * b**2 / (6 * b + h)
    tip, corner = (
        nearest(fields, *at) for at in ((found.box[0], found.box[3] - 1.5 * MM), (found.box[1], found.box[3]))
    )
    warping = fields.normal[:, 3] * found.warping_constant
    held(abs(warping[tip]), (b - e) * h / 2, rel=0.02)
    assert warping[tip] * warping[corner] < 0


def nearest(fields: UnitFields, y: float, z: float) -> int:
    """Return the surface point nearest to (y, z)."""
    return int(np.argmin(np.hypot(fields.points[:, 0] - y, fields.points[:, 1] - z)))


SHAPES = (
    TUBE,
    CHANNEL,
    Channel(0.1, 0.05, 0.003, 0.003, 0.015),
    Angle(0.06, 0.04, 0.004, 0.004),
    ZShape(0.1, 0.05, 0.003, 0.003),
    Hat(0.05, 0.06, 0.02, 0.002, 0.002),
    Flat(0.05, 0.006),
    BoxedChannel(CHANNEL, 0.003),
    BoxedChannel(SHARP_CHANNEL, 0.003, 0.0, StitchWeld(0.025, 0.1)),
    Sleeve(RectTube(0.108, 0.058, 0.003, 0.006), TUBE),
)


def kind(shape: Shape) -> str:
    return type(shape).__name__


@pytest.mark.parametrize("shape", SHAPES, ids=kind)
def test_normal_stress_has_the_force_it_is_for_and_no_other(shape: Shape) -> None:
    """N, Mv = int sigma z, Ms = int sigma y, B = int sigma w of each unit field: the unit matrix (definition of the forces)."""
    found = analysed(parts_of(shape), 0.3)
    elements = found.body.elements
    stress = contracted("gi,mif->mgf", VALUES, normal_field(elements, found.plane, found.twist)[elements.ids])
    local = found.plane.local(elements)
    warping = contracted("gi,mi->mg", VALUES, found.twist.warping[elements.ids])
    weights = np.stack([np.ones_like(warping), local[..., 1], local[..., 0], warping], axis=-1)
    forces = elements.integral(weights[..., :, None] * stress[..., None, :])
    scale = np.sqrt(np.outer(np.diag(forces), np.diag(forces)))
    size = np.array([1.0, 50.0, 50.0, 2500.0])
    assert np.diag(forces) == approx(np.ones(4), rel=1e-9)
    assert np.abs(forces * size[None, :] / size[:, None] - np.eye(4) * scale).max() < 1e-6


@pytest.mark.parametrize("shape", SHAPES, ids=kind)
def test_shear_stress_has_the_force_it_is_for_and_no_other(shape: Shape) -> None:
    """Vy, Vz and the torque about the shear centre of each unit field: 1 for its own, 0 for the others (definition of the forces)."""
    found = analysed(parts_of(shape), 0.3)
    elements = found.body.elements
    stress = contracted("gi,midf->mgdf", VALUES, shear_field(found.shear, found.twist))
    arm = elements.at - found.plane.centroid - found.twist.centre
    torque = stress[:, :, 1] * arm[..., :1] - stress[:, :, 0] * arm[..., 1:]
    forces = np.concatenate([elements.integral(stress), elements.integral(torque)[None]])
    wanted = np.array([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 1]], dtype=np.float64)
    size: Array = np.array([1.0, 1.0, 1 / 50.0, 1 / 50.0])
    assert np.abs((forces - wanted) / size[None, :] / np.array([1.0, 1.0, 50.0])[:, None]).max() < 1e-6


def test_tension_is_at_the_top_and_on_the_left() -> None:
    """Mv + pulls at the top (+z), Ms + on the left (+y): definitions int sigma z dA, int sigma y dA."""
    fields = fields_of(section_properties(steel(TUBE)))
    top, left = fields.points[:, 1] > 45 * MM, fields.points[:, 0] > 24 * MM
    assert (fields.normal[top, 1] > 0).all()
    assert (fields.normal[left, 2] > 0).all()
