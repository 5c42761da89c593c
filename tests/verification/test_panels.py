"""Panels: sheet between points that shares the load."""

from __future__ import annotations

from collections.abc import Mapping
from math import degrees
from pathlib import Path
from typing import Any

import pytest
import yaml

from framecheck.errors import MechanismError
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.verification.conftest import STORE
from tests.verification.manual import FrontDoor, Held, Kind, proof
from tests.verification.panel_files import box_of_panels, panel_in_rods, tub, tub_told
from tests.verification.tray_files import tray

REFERENCE = yaml.safe_load((Path(__file__).parent / "unit_body_shell.yaml").read_text(encoding="utf-8"))
E, G, T = 200e3, 200e3 / 2.6, 0.9  # N, mm
A, B, P = 400.0, 300.0, 1000.0
AREAS = (20.0, 100.0, 500.0, 1e6)


def moved(written: Mapping[str, Any], case: str, point: str, way: int) -> float:
    """Return how far a point goes, m."""
    row = next(each for each in written["load_cases"] if each["name"] == case)
    return float(row["points"][point]["displacement_m"][way])


@proof(Kind.DERIVED)
@pytest.mark.parametrize("area", AREAS)
def test_a_shear_field_in_rods(held: Held, front_door: FrontDoor, area: float) -> None:
    """Complementary energy by hand: one flow q = P / b in the sheet, q2 ab / 2Gt, pulls that grow evenly to q L in all four rods,
    q2 L3 / 6EA each; the movement under P is twice the sum over P. The same values stand in the client's unit_body_shell.yaml
    (shear_panel_F, hand_mm).
    """
    written = front_door(panel_in_rods(area, "shear alone"))
    flow = P / B
    energy = flow**2 * (A * B / (2 * G * T) + (2 * A**3 + B**3 + B**3) / (6 * E * area))
    key = f"rod_area_{'1e+06' if area == 1e6 else int(area)}"
    stated = REFERENCE["shear_panel_F"][key]
    by_hand = 2 * energy / P
    assert by_hand == pytest.approx(stated["hand_mm"], abs=6e-6)
    held(1e3 * moved(written, "up", "c", 1), by_hand, rel=1e-6)
    held(1e-3 * written["panels"][0]["shear_flow_n_per_m"], flow, rel=1e-6)
    held(1e3 * moved(written, "up", "c", 1), stated["hand_mm"], abs=6e-6, kind=Kind.SHELL)


@proof(Kind.DERIVED)
def test_rods_of_a_shear_field_hand_on_its_flow(held: Held, front_door: FrontDoor) -> None:
    """Statics: along a rod beside one flow q the pull grows evenly, from nothing at the loaded corner's far end to q L = P a / b."""
    written = front_door(panel_in_rods(100.0, "shear alone"))
    pulls = {
        row["station_m"]: row["axial_n"]
        for row in written["member_forces"]
        if row["member"] == "ab" and row["load_case"] == "up"
    }
    held(pulls[0.0], P * A / B, rel=1e-9)
    held(pulls[0.2], P * A / B / 2, rel=1e-9)
    held(pulls[0.4], 0.0, abs=1e-6)


@proof(Kind.SHELL)
@pytest.mark.parametrize("area", AREAS)
def test_a_sheet_in_rods(held: Held, front_door: FrontDoor, area: float) -> None:
    """The client's plane-stress mesh of 5 mm (unit_body_shell.yaml, shear_panel_F, openseespy 3.7.1); 32 cells each way here."""
    written = front_door(panel_in_rods(area, "shear and direct stress", 32))
    key = f"rod_area_{'1e+06' if area == 1e6 else int(area)}"
    held(1e3 * moved(written, "up", "c", 1), REFERENCE["shear_panel_F"][key]["sheet_mesh_5_mm"], rel=6e-3)


BOXES = ((1600.0, 800.0, 400.0), (800.0, 800.0, 800.0), (1600.0, 400.0, 400.0))


@proof(Kind.DERIVED)
@pytest.mark.parametrize("size", BOXES, ids=lambda size: "x".join(f"{each:.0f}" for each in size))
def test_a_box_of_six_panels(held: Held, front_door: FrontDoor, size: tuple[float, float, float]) -> None:
    """One flow q = T / 2bh runs round all six faces: 2 U / T = q2 2 (bh + bl + lh) / Gt / T (complementary energy); the formula of the
    endless tube leaves the two ends out. The client's shells (unit_body_shell.yaml, box_of_six_panels_G, openseespy 3.7.1) lie 0.3
    to 0.6 % lower.
    """
    length, width, height = size
    written = front_door(box_of_panels(*size))
    torque = 1000.0 * width
    flow = torque / (2 * width * height)
    by_hand = flow**2 * 2 * (width * height + length * width + length * height) / (G * T) / torque
    turns = [
        (moved(written, "twist", f"p{end}10", 2) - moved(written, "twist", f"p{end}00", 2)) / (1e-3 * width)
        for end in (1, 0)
    ]
    held(turns[0] - turns[1], by_hand, rel=1e-6)
    stated = REFERENCE["box_of_six_panels_G"]["x".join(f"{each:.0f}" for each in size)]
    shell = next(value for key, value in stated.items() if key.startswith("shell") and key.endswith("rad"))
    held(turns[0] - turns[1], shell, rel=6e-3, kind=Kind.SHELL)


def stiffnesses(written: Mapping[str, Any], ends_of: tuple[str, str] = ("front", "rear")) -> tuple[float, float, float]:
    """Return twist from tips to seats and between rocker ends, Nm/deg, and bending, N/mm, as unit_body_shell.yaml has them."""
    first, last = ends_of

    def turn(case: str, point: str, apart: float) -> float:
        return degrees((moved(written, case, f"left {point}", 2) - moved(written, case, f"right {point}", 2)) / apart)

    def both(point: str) -> float:
        return 500 * (moved(written, "bending", f"left {point}", 2) + moved(written, "bending", f"right {point}", 2))

    ends = turn("between rocker ends", f"rocker {first}", 1.22) - turn("between rocker ends", f"rocker {last}", 1.22)
    sag = both("rocker middle") - (1300 * both("tip") + 1700 * both("seat")) / 3000
    return 700 / (turn("twist", "tip", 0.7) - turn("twist", "seat", 0.7)), 1220 / ends, -2000 / sag


TUBS = {"A": tub(), "C": tub(stiffeners=True), "A;rocker=2": tub(rocker_wall=2.0)}
TOLD = {"A": tub_told(), "C": tub_told(stiffeners=True), "A;rocker=2": tub_told(rocker_wall=2.0)}


@proof(Kind.SHELL)
@pytest.mark.parametrize("name", list(TOLD))
def test_an_open_tub_told_part_by_part(held: Held, front_door: FrontDoor, name: str) -> None:
    """The same shells, the body told by `frame > body`: sheet on the tubes' outer faces, half a wall from the shells'."""
    stated = REFERENCE["results"][name]
    twist, ends, bending = stiffnesses(front_door(TOLD[name]), ("firewall", "bulkhead"))
    held(twist, stated["twist_tip_to_seat_Nm_per_deg"]["reference"], rel=0.10)
    held(ends, stated["twist_between_rocker_ends_Nm_per_deg"]["reference"], rel=0.10)
    held(bending, stated["bending_N_per_mm_sum_of_both_rockers"]["reference"], rel=0.06)


@proof(Kind.SHELL)
@pytest.mark.parametrize("name", list(TUBS))
def test_an_open_tub(held: Held, front_door: FrontDoor, name: str) -> None:
    """The client's shells of an open body (unit_body_shell.yaml, openseespy 3.7.1, carried on to zero mesh size, within 1 to 2 %):
    twist within 10 %, between rocker ends 10 %, bending 6 %.
    """
    stated = REFERENCE["results"][name]
    twist, ends, bending = stiffnesses(front_door(TUBS[name]))
    held(twist, stated["twist_tip_to_seat_Nm_per_deg"]["reference"], rel=0.10)
    held(ends, stated["twist_between_rocker_ends_Nm_per_deg"]["reference"], rel=0.10)
    held(bending, stated["bending_N_per_mm_sum_of_both_rockers"]["reference"], rel=0.06)


def test_rails_that_end_on_bare_sheet_are_refused() -> None:
    """Shells give 3.7 Nm/deg for 284 with crossmembers (unit_body_shell.yaml, 'A;no crossmember'): the model has a mechanism there."""
    with pytest.raises(
        MechanismError, match=r"'left front rail' ends on bare sheet at point 'left front rail end'.*crossmember"
    ):
        run(read_case(tub(crossmembers=False), "case.yaml", LIBRARY), STORE)


FURTHER = yaml.safe_load((Path(__file__).parent / "unit_body_shell_further.yaml").read_text(encoding="utf-8"))["trays"]


@proof(Kind.SHELL)
@pytest.mark.parametrize("name", list(FURTHER))
def test_a_tray_whose_walls_alone_hold_the_rockers(held: Held, front_door: FrontDoor, name: str) -> None:
    """Our shells of a tray (unit_body_shell_further.yaml, openseespy 3.7.1, predicted before they were run): bending within 3 %.

    Twist, which rests on rockers turned by sheet alone here, is overstated: the sheet's own bending round them is left out.
    """
    stated = FURTHER[name]
    written = front_door(tray(stated["sizes_mm"]))

    def up(case: str, point: str) -> float:
        return moved(written, case, f"left {point}", 2) - moved(written, case, f"right {point}", 2)

    def both(point: str) -> float:
        return 500 * (moved(written, "bending", f"left {point}", 2) + moved(written, "bending", f"right {point}", 2))

    turn = degrees((up("twist", "front") - up("twist", "rear")) / 1.22)
    twist, bending = 1220 / turn, 2000 / ((both("front") + both("rear")) / 2 - both("middle"))
    held(bending, stated["bending_N_per_mm"]["reference"], rel=0.03)
    held(twist, stated["twist_Nm_per_deg"]["reference"], rel=stated["twist_within"])
    assert twist > stated["twist_Nm_per_deg"]["reference"]
