"""Notched tubes and channels against shell models: notch_shell.yaml (given), notch_shell_further.yaml (made with
benchmarks/shell_reference/notch.py). Neither is published; both say how they were made."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from framecheck.errors import UnsolvableError
from framecheck.frame.joint.outlines import notched
from framecheck.frame.notch_beams import net_section, open_section, passed_on_twist, restrained_twist, whole_section
from framecheck.frame.notch_softness import NotchSoftness, notch_softness, softened, without_step
from framecheck.model.arrays import Array
from framecheck.model.frame import Cut
from framecheck.model.shapes import Channel, RectTube, Side
from tests.verification.manual import Held, Kind, proof
from tests.verification.notch_chain import Piece, properties, rigidity, tip_flexibility

E, NU = 200e9, 0.3
G = E / (2 * (1 + NU))
HERE = Path(__file__).parent
GIVEN = yaml.safe_load((HERE / "notch_shell.yaml").read_text())["cases"]
FURTHER = yaml.safe_load((HERE / "notch_shell_further.yaml").read_text())["cases"]
TUBES = GIVEN + [row for row in FURTHER if row["shape"] == "tube"]
CHANNELS = [row for row in FURTHER if row["shape"] == "channel"]
SHELLS = (
    "Shell models by openseespy 3.7, notch_shell.yaml and notch_shell_further.yaml: ours over the shell's movement, "
    "upwards, sideways, twist"
)


def label(row: dict[str, Any]) -> str:
    return "{} {} {} x {}".format(
        "x".join(map(str, row.get("tube_mm", row.get("size_mm")))),
        row.get("side", "top"),
        row["cut_length_mm"],
        row.get("cut_depth_mm", row.get("cut_depth_share_of_midline")),
    )


def shape_of(row: dict[str, Any]) -> RectTube | Channel:
    height, width, wall = (value / 1000 for value in row.get("tube_mm", row.get("size_mm")))
    tube = row.get("shape", "tube") == "tube"
    return RectTube(height, width, wall) if tube else Channel(height, width, wall, inside_radius=0.0)


def cut_of(row: dict[str, Any]) -> Cut:
    """Return the cut; a share of the mid-line size counts from the middle of the wall on the cut side."""
    side = Side(row.get("side", "top"))
    height, width, wall = (value / 1000 for value in row.get("tube_mm", row.get("size_mm")))
    across = height if side in (Side.TOP, Side.BOTTOM) else width
    share = row.get("cut_depth_share_of_midline", 0.0)
    depth = row["cut_depth_mm"] / 1000 if "cut_depth_mm" in row else wall / 2 + share * (across - wall)
    return Cut("cut", side, row.get("centre_mm", 500.0) / 1000, depth, row["cut_length_mm"] / 1000)


def as_is(softness: NotchSoftness) -> NotchSoftness:
    return softness


def pieces_of(row: dict[str, Any], made_of: Callable[[NotchSoftness], NotchSoftness] = as_is) -> tuple[Piece, ...]:
    shape, cut, length = shape_of(row), cut_of(row), row.get("length_mm", 1000.0) / 1000
    closed = isinstance(shape, RectTube)
    section = notched(shape, cut.side, cut.depth)
    whole = properties(whole_section(section), E, G, closed)
    if cut.length == 0.0:
        return (Piece(length, whole),)
    softness = made_of(notch_softness(shape, cut, E, NU, min(cut.at, length - cut.at)))
    net = softened(properties(net_section(section), E, G, closed=False), softness, cut.length)
    return (
        Piece(cut.at - cut.length / 2, whole),
        Piece(cut.length, net, softness.warping_stiffness, softness.step),
        Piece(length - cut.at - cut.length / 2, whole),
    )


def ratios(row: dict[str, Any], flexibility: Array) -> tuple[float, float, float]:
    """Return ours over the shell's: upwards, sideways (per 1000 N, mm), twist (per 100 Nm)."""
    sideways, up, twist = np.diag(flexibility)
    shell = row["vertical_1000N"], row["sideways_1000N"], row["torque_100Nm"]
    ours = up * 1e6, sideways * 1e6, twist * 100
    return tuple(a / abs(b) for a, b in zip(ours, shell, strict=True))


@proof(Kind.SHELL, SHELLS)
@pytest.mark.parametrize("row", TUBES, ids=label)
def test_a_notched_tube_is_as_soft_as_its_shell(held: Held, row: dict[str, Any]) -> None:
    # asked: 8 % in bending, 25 % in twist; the shells' own meshes differ by 1 to 4 %
    up, sideways, twist = ratios(row, tip_flexibility(pieces_of(row)))
    held(up, 1, abs=0.02)
    held(sideways, 1, abs=0.02)
    held(twist, 1, abs=0.04)


@proof(Kind.SHELL, SHELLS)
@pytest.mark.parametrize("row", CHANNELS, ids=label)
def test_a_notched_channel_is_as_soft_as_its_shell(held: Held, row: dict[str, Any]) -> None:
    # no figure was asked for channels
    up, sideways, twist = ratios(row, tip_flexibility(pieces_of(row)))
    held(up, 1, abs=0.03)
    held(sideways, 1, abs=0.03)
    held(twist, 1, abs=0.05)


@pytest.mark.parametrize("row", CHANNELS, ids=label)
def test_beams_that_leave_the_step_out_come_nearly_as_near(row: dict[str, Any]) -> None:
    up, sideways, twist = ratios(row, tip_flexibility(pieces_of(row, without_step)))
    assert up == pytest.approx(1, abs=0.08)
    assert sideways == pytest.approx(1, abs=0.08)
    assert twist == pytest.approx(1, abs=0.08)


@proof(Kind.MEMORY)
def test_an_angles_warping_constant_is_the_handbooks(held: Held) -> None:
    """An angle a, b (middle lines), wall t: t^3 (a^3 + b^3)/36 (F. Bleich, Buckling Strength of Metal Structures;
    from memory).
    """
    shape = Channel(0.104, 0.052, 0.004, inside_radius=0.0)
    angle = net_section(notched(shape, Side.TOP, 0.044))
    held(angle.warping, 0.004**3 * (0.058**3 + 0.050**3) / 36)


def test_twist_of_an_open_notch_is_that_of_the_chain() -> None:
    # the same two open stretches, as closed form and as many small elements
    shape = notched(Channel(0.1, 0.05, 0.004, inside_radius=0.0), Side.RIGHT, 0.025)
    net, whole, half, length = net_section(shape), whole_section(shape), 0.05, 0.45
    pieces = [Piece(length, properties(whole, E, G, False)), Piece(2 * half, properties(net, E, G, False))]
    chain = tip_flexibility((*pieces, pieces[0]))[2, 2]
    assert 2 * passed_on_twist(net, whole, (half, length), E, G, 1.0) == pytest.approx(chain, rel=1e-6)


def test_the_channel_before_the_cut_is_the_handbook_channel() -> None:
    # Vlasov's thin channel: shear centre 3 b^2/(h + 6 b) behind the web, warping constant t b^3 h^2/12 (3 b + 2 h)/(6 b + h); shear
    # area from the flow's energy: t s h/2 in a flange, t b h/2 + t (h^2/4 - z^2)/2 in the web; h, b on the middle lines, web at y = +
    shape, (h, b, t) = Channel(0.104, 0.052, 0.004, inside_radius=0.0), (0.100, 0.050, 0.004)
    ours = open_section(notched(shape, Side.RIGHT, 0.0).whole)
    web, second = 0.052 / 2 - 0.002, t * h**3 / 12 + t * b * h**2 / 2
    top, rise = t * b * h / 2, t * h**2 / 8
    energy = 2 * (t * h / 2) ** 2 * b**3 / 3 + h * (top**2 + 2 * top * rise * 2 / 3 + rise**2 * 8 / 15)
    assert ours.rigid[0, 0] == pytest.approx((h + 2 * b) * t)
    assert ours.rigid[1, 1] == pytest.approx(second)
    assert ours.pole == (pytest.approx(web + 3 * b**2 / (h + 6 * b)), pytest.approx(0.0, abs=1e-12))
    assert ours.warping - ours.across == pytest.approx(t * b**3 * h**2 / 12 * (3 * b + 2 * h) / (6 * b + h))
    assert ours.shear[1] == pytest.approx(second**2 * t / energy)


@proof(Kind.DERIVED)
def test_a_held_open_stretch_twists_as_non_uniform_torsion_says(held: Held) -> None:
    """Vlasov, both ends held: (L - (2/k) tanh(kL/2)) / GJ; both free: L / GJ."""
    shape = notched(RectTube(0.1, 0.05, 0.003), Side.TOP, 0.05)
    net = net_section(shape)
    rigidity, warping = G * net.j, E * net.warping
    k, half = np.sqrt(rigidity / warping), 0.2
    held(restrained_twist(half, rigidity, warping, np.inf), (half - np.tanh(k * half) / k) / rigidity)
    held(restrained_twist(half, rigidity, warping, 0.0), half / rigidity)


def test_twice_the_size_is_half_as_soft() -> None:
    # dimensions: stretch per force goes as 1/size, turn per moment as 1/size^3, a warping spring (E times m5) as size^5
    small = notch_softness(RectTube(0.1, 0.05, 0.003), Cut("", Side.TOP, 0.5, 0.05, 0.15), E, NU)
    large = notch_softness(RectTube(0.2, 0.1, 0.006), Cut("", Side.TOP, 0.5, 0.1, 0.3), E, NU)
    assert large.bending[0][0] == pytest.approx(small.bending[0][0] / 2, rel=1e-4)
    assert large.bending[1][1] == pytest.approx(small.bending[1][1] / 8, rel=1e-4)
    assert large.warping_stiffness == pytest.approx(small.warping_stiffness * 32, rel=1e-4)
    assert large.extra_length == pytest.approx(small.extra_length * 2, rel=1e-4)


def test_a_cut_on_either_side_is_as_soft() -> None:
    shape = RectTube(0.1, 0.05, 0.003)
    top, bottom = (notch_softness(shape, Cut("", side, 0.5, 0.04, 0.1), E, NU) for side in (Side.TOP, Side.BOTTOM))
    assert bottom.warping_stiffness == pytest.approx(top.warping_stiffness, rel=1e-6)
    assert bottom.bending[0][1] == pytest.approx(-top.bending[0][1], rel=1e-6)
    assert bottom.pole_shift[1] == pytest.approx(-top.pole_shift[1], rel=1e-6)


@pytest.mark.parametrize("depth", [0.0035, 0.08])
@pytest.mark.parametrize("length", [0.002, 0.6])
@pytest.mark.parametrize("shape", [RectTube(0.1, 0.05, 0.003), Channel(0.1, 0.05, 0.003, inside_radius=0.0)])
def test_a_cut_of_any_size_is_softer_than_no_cut(shape: RectTube | Channel, length: float, depth: float) -> None:
    # taking metal away can only add strain energy: the stretch is softer than the whole section under any N, Mv, Ms
    section = notched(shape, Side.TOP, depth)
    whole, net = (
        properties(each, E, G, closed)
        for each, closed in ((whole_section(section), True), (net_section(section), False))
    )
    softness = notch_softness(shape, Cut("", Side.TOP, 0.5, depth, length), E, NU)
    soft = softened(net, without_step(softness), length)
    assert np.all(np.linalg.eigvalsh(scaled(rigidity(soft)[:3, :3])) > 0)
    assert np.all(np.linalg.eigvalsh(scaled(rigidity(whole)[:3, :3] - rigidity(soft)[:3, :3])) > -1e-6)
    assert soft.torsion_constant > 0
    assert min(soft.shear_area_vertical, soft.shear_area_sideways) > 0


def scaled(matrix: Array) -> Array:
    """Return a stiffness for N, Mv, Ms with moments per 50 mm, per EA of 1 mm2: all of like size."""
    scale = np.array([1.0, 20.0, 20.0])
    return matrix * np.outer(scale, scale) / (E * 1e-6)


def test_no_cut_adds_nothing() -> None:
    for cut in (Cut("", Side.TOP, 0.5, 0.0, 0.1), Cut("", Side.TOP, 0.5, 0.05, 0.0)):
        assert notch_softness(RectTube(0.1, 0.05, 0.003), cut, E, NU).bending == ((0.0,) * 3,) * 3


def test_a_cut_through_a_channels_web_is_refused() -> None:
    with pytest.raises(UnsolvableError, match="separate pieces"):
        notch_softness(Channel(0.1, 0.05, 0.004, inside_radius=0.0), Cut("", Side.LEFT, 0.5, 0.02, 0.1), E, NU)
