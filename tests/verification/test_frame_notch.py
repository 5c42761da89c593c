"""Notched members in the frame against shell models: notch_shell.yaml and the channels of notch_shell_further.yaml, both computed
for this project and not published; their heads say how. The notch's own model is held to all rows in test_notch_softness.py."""

from __future__ import annotations

from functools import cache
from math import inf
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from framecheck.frame.results import Bound
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.model.frame import Cut, EndWarping, Frame, Make, Member, MemberEnd, Section, Side, Stretch
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.model.shapes import Channel, RectTube
from framecheck.model.shop_tables import Material
from framecheck.section.analysis import net_properties, section_properties
from framecheck.section.properties import SectionProperties

HERE = Path(__file__).parent
GIVEN = yaml.safe_load((HERE / "notch_shell.yaml").read_text())["cases"]
FURTHER = yaml.safe_load((HERE / "notch_shell_further.yaml").read_text())["cases"]
CHANNELS = [row for row in FURTHER if row["shape"] == "channel"]
STEEL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 350e6, 450e6, "the shell references' E 200 GPa, nu 0.3")
HELD = MemberEnd(Make.RIGID, EndWarping.FIXED)
WAYS = ("vertical_1000N", "sideways_1000N", "torque_100Nm")


@cache
def whole(section: Section) -> SectionProperties:
    return section_properties(section)


def section_of(row: dict[str, Any]) -> Section:
    height, width, wall = (value / 1000 for value in row.get("tube_mm", row.get("size_mm")))
    tube = row.get("shape", "tube") == "tube"
    shape = RectTube(height, width, wall) if tube else Channel(height, width, wall, inside_radius=0.0)
    return Section("s", shape, STEEL)


def cut_of(row: dict[str, Any], section: Section) -> Cut:
    """Return the row's cut; a share of the mid-line size counts from the middle of the wall on the cut side."""
    side = Side(row.get("side", "top"))
    height, width, wall = (value / 1000 for value in row.get("tube_mm", row.get("size_mm")))
    across = height if side in (Side.TOP, Side.BOTTOM) else width
    share = row.get("cut_depth_share_of_midline", 0.0)
    depth = row["cut_depth_mm"] / 1000 if "cut_depth_mm" in row else wall / 2 + share * (across - wall)
    return Cut("cut", side, row.get("centre_mm", 500.0) / 1000, depth, row["cut_length_mm"] / 1000)


def tip(row: dict[str, Any]) -> list[float]:
    """Return the tip's size of movement (mm, mm, rad) under 1000 N upwards, 1000 N sideways, 100 Nm about the axis."""
    section = section_of(row)
    cut = cut_of(row, section)
    cuts = (cut,) if cut.length else ()
    length = row.get("length_mm", 1000.0) / 1000
    member = Member("m", ("a", "b"), (Stretch("s"),), start=HELD, end=HELD, cuts=cuts)
    frame = Frame({"a": (0.0, 0.0, 0.0), "b": (length, 0.0, 0.0)}, (member,), {"s": section}, (Support("a", (inf,) * 6),))
    net = {("m", "cut"): net_properties(section, cut)} if cuts else {}
    structure = structure_of(frame, {"s": whole(section)}, Bound(), net)
    loads = ((0.0, 0.0, 1000.0), (0.0, 1000.0, 0.0), (0.0, 0.0, 0.0)), ((0.0, 0.0, 0.0),) * 2 + ((100.0, 0.0, 0.0),)
    cases = [CaseLoads(way, (PointLoad("b", *load),)) for way, *load in zip(WAYS, *loads, strict=True)]
    moved = solve_frame(structure, cases).displacements[1]
    return np.abs([1000 * moved[0, 2], 1000 * moved[1, 1], moved[2, 3]]).tolist()


def label(row: dict[str, Any]) -> str:
    size = "x".join(map(str, row.get("tube_mm", row.get("size_mm"))))
    return f"{size} {row['cut_length_mm']} {row.get('cut_depth_share_of_midline', row.get('cut_depth_mm'))}"


def compare(row: dict[str, Any], bending: float, twist: float) -> None:
    for found, way, within in zip(tip(row), WAYS, (bending, bending, twist), strict=True):
        assert found == pytest.approx(abs(row[way]), rel=within)


@pytest.mark.parametrize("row", GIVEN, ids=label)
def test_notched_tube_moves_as_the_shell_does(row: dict[str, Any]) -> None:
    """The project's brief asks for 8 % in bending, both ways, and 25 % in twist."""
    compare(row, 0.08, 0.25)


@pytest.mark.parametrize("row", CHANNELS, ids=label)
def test_notched_channel_moves_nearly_as_the_shell_does(row: dict[str, Any]) -> None:
    """No figure is asked for channels. A channel that lost a flange is an angle, whose twist the notch's model has up to 18 % too
    stiff; sections with real corners, as here, add to that."""
    compare(row, 0.10, 0.30)
