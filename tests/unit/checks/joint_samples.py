"""Joints for the tests: invented, in round numbers. The tables are the shipped ones."""

from __future__ import annotations

from pathlib import Path

from framecheck.model.joints import Bolt, BoltGroup, GivenLoads, PatternPlane, Ply
from framecheck.model.shop_tables import BoltGrade, Material, SlipRule, Surface, Thread
from framecheck.model.weld_joints import WeldedPart, WeldGroup, WeldRun
from framecheck.reading.shop_tables import bolt_tables, crippling_rows, weld_tables

SHARED = Path(__file__).parents[3] / "shared"
BOLTS = bolt_tables((SHARED / "bolts.yaml").read_text(encoding="utf-8"))
WELDS = weld_tables((SHARED / "welds.yaml").read_text(encoding="utf-8"))
CRIPPLING = crippling_rows((SHARED / "web_crippling.yaml").read_text(encoding="utf-8"))
NOWHERE = GivenLoads(())
STEEL = Material("steel", 205e9, 79e9, 7850.0, 250e6, 400e6, "round numbers for a test")
SIDE = PatternPlane(across=(1.0, 0.0, 0.0), along=(0.0, 0.0, 1.0), facing=(0.0, 1.0, 0.0))
MILL_SCALE = Surface("mill scale", SlipRule.AISC, 0.30, "ANSI/AISC 360-22, J3.9")


def thread(name: str) -> Thread:
    return next(row for row in BOLTS.threads if row.name == name)


def grade(name: str, diameter: float = 0.0) -> BoltGrade:
    rows = [row for row in BOLTS.grades if row.name == name and diameter <= row.largest_diameter]
    return min(rows, key=lambda row: row.largest_diameter)


def m10(**changes: object) -> Bolt:
    given: dict[str, object] = {
        "thread": thread("M10"), "grade": grade("8.8"), "hole": 0.011, "clamp_share": 0.75, "surface": MILL_SCALE,
        **changes,
    }  # fmt: skip
    return Bolt(**given)  # type: ignore[arg-type]


def plate(thickness: float = 0.006, edge: float | None = 0.025) -> Ply:
    return Ply("plate", thickness, STEEL, edge)


def four_bolts(**changes: object) -> BoltGroup:
    given: dict[str, object] = {
        "name": "bracket bolts", "place": NOWHERE, "plane": SIDE, "bolt": m10(), "plies": (plate(),),
        "positions": ((-0.04, -0.03), (0.04, -0.03), (0.04, 0.03), (-0.04, 0.03)),
        **changes,
    }  # fmt: skip
    return BoltGroup(**given)  # type: ignore[arg-type]


def weld_group(runs: tuple[WeldRun, ...], thickness: float = 0.006, **changes: object) -> WeldGroup:
    given: dict[str, object] = {
        "name": "bracket weld", "place": NOWHERE, "runs": runs, "electrode": WELDS.electrodes[1],
        "parts": (WeldedPart("rail", thickness, STEEL),),
        **changes,
    }  # fmt: skip
    return WeldGroup(**given)  # type: ignore[arg-type]
