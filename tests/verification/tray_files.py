"""Case files of the trays of unit_body_shell_further.yaml: two rockers, a floor between them, a wall that closes each end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from tests.verification.panel_files import METAL, SIDES, Place, forces, points_block

LENGTH = 1600.0
ENDS = {"front wall": LENGTH, "rear wall": 0.0}


def tray(sizes: Mapping[str, float]) -> str:
    """Return a tray; sizes: rocker, floor, wall (thickness) and top (of the walls), mm."""
    wall = sizes["rocker"]
    box = f"{{shape: rectangular tube, height: {100 + wall} mm, width: {80 + wall} mm, wall: {wall} mm, material: reference steel}}"
    members = "".join(
        f"    - {{name: {side} rocker, points: [{side} front, {side} middle, {side} rear], section: rocker box, ends: rigid}}\n"
        for side in SIDES
    )
    held = "    - {point: left rear, held: [x, y, z]}\n    - {point: right rear, held: [x, z]}\n    - {point: left front, held: [z]}\n"
    return (
        f"title: tray\n{METAL}sections:\n  rocker box: {box}\n{points_block(dict(_points(sizes['top'])))}  members:\n{members}"
        f"  panels:\n{''.join(_panels(sizes))}  supports:\n{held}{_loads()}"
    )


def _points(top: float) -> Iterator[tuple[str, Place]]:
    for side, sign in SIDES.items():
        for name, x in (("front", LENGTH), ("middle", LENGTH / 2), ("rear", 0.0)):
            yield f"{side} {name}", (x, 610.0 * sign, 0.0)
        for name, x in (("floor front", LENGTH), ("floor rear", 0.0)):
            yield f"{side} {name}", (x, 570.0 * sign, 0.0)
        for end, x in ENDS.items():
            for name, y, z in (
                ("foot", 570.0, -50.0),
                ("side foot", 650.0, -50.0),
                ("side top", 650.0, top),
                ("top", 570.0, top),
            ):
                yield f"{side} {end} {name}", (x, y * sign, z)


def _panel(name: str, corners: list[str], thickness: float, more: str) -> str:
    return f"    - {{name: {name}, corners: [{', '.join(corners)}], thickness: {thickness} mm, material: reference steel{more}}}\n"


def _panels(sizes: Mapping[str, float]) -> Iterator[str]:
    yield _panel(
        "floor", ["right floor rear", "right floor front", "left floor front", "left floor rear"], sizes["floor"], ""
    )
    for end in ENDS:
        middle = [f"right {end} foot", f"left {end} foot", f"left {end} top", f"right {end} top"]
        free = f", free edges: [[{middle[0]}, {middle[1]}], [{middle[2]}, {middle[3]}]]"
        yield _panel(end, middle, sizes["wall"], free)
        for side in SIDES:
            corners = [f"{side} {end} {name}" for name in ("foot", "side foot", "side top", "top")]
            edges = ", ".join(f"[{a}, {b}]" for a, b in pairwise(corners))
            yield _panel(
                f"{side} {end}", corners, sizes["wall"], f", joined to: [{side} rocker], free edges: [{edges}]"
            )


def _loads() -> str:
    twist = {"left front": 1000.0, "right front": -1000.0, "left rear": -1000.0, "right rear": 1000.0}
    bending = {f"{side} {end}": 500.0 for side in SIDES for end in ("front", "rear")} | {
        f"{side} middle": -1000.0 for side in SIDES
    }
    return f"load cases:\n  - twist: {{forces: {forces(twist)}}}\n  - bending: {{forces: {forces(bending)}}}\n"
