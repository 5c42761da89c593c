"""Bolted joints as a person writes them, from a case file to its JSON: printed worked examples, and spring models of sleeves."""

from __future__ import annotations

from math import hypot
from pathlib import Path
from typing import Any

import pytest
import yaml

from framecheck.checks.bolt_strength import Strength, bearing_of_metal, torn
from tests.verification.manual import FrontDoor, Held, Kind, proof

IN, KSI, KIP = 0.0254, 6.894757e6, 4448.2216
SLEEVES = yaml.safe_load((Path(__file__).parent / "bolt_sleeves.yaml").read_text())
FRAME = """title: a joint
origin: its place
materials:
  - {{name: ply, youngs modulus: 200 GPa, density: 7850 kg/m3, yield strength: {fy}, ultimate strength: {fu}}}
sections:
  bar: {{shape: flat, height: 100 mm, width: 100 mm, material: ply}}
frame:
  points: {{a: {{x: 0 m}}, b: {{x: 1 m}}}}
  members:
    - {{name: bar, points: [a, b], section: bar, ends: rigid}}
  supports:
    - {{point: a, held: all}}
load cases:
  - none: {{forces: [{{point: b, force: {{z: 1 N}}}}]}}
joints:
  - name: joint
    kind: {kind}
    at: {{loads: [{{load case: load, force: {{{force}}}, moment: {{{moment}}}}}]}}
{rest}"""


def rows_of(front_door: FrontDoor, rest: str, **said: str) -> dict[str, dict[str, Any]]:
    """Return the rows of the joint of a file by how it fails."""
    words = {"fy": "250 MPa", "fu": "400 MPa", "force": "x: 1 kN", "moment": "x: 0 N·m", "kind": "bolts"} | said
    written = front_door(FRAME.format(**words, rest=rest))
    return {row["mode"]: row for row in written["checks"] if row["subject"]["name"] == "joint"}


def torn_out(rows: dict[str, dict[str, Any]]) -> float:
    """Return the strength of an L-shaped block, one line of shear and pull out to the side, N: the mean of the U-shaped block and of
    the net section of a strip that is twice the edge distance wider than the bolts (geometry).
    """
    return float(rows["block_shear"]["capacity"] + rows["ply_net"]["capacity"]) / 2


@proof(Kind.PRINTED)
def test_block_shear_of_a_row_across_the_pull(held: Held, front_door: FrontDoor) -> None:
    """Handbook of Structural Steel Connection Design and Details, 2nd edition (2009), p. 168: five 7/8 in bolts 3 in apart, 1.5 in
    from end and side, plate 3/8 in of A36, L-shaped block under pull: 156 kips with its factor 0.75. (Its slots are round holes here.)
    """
    rest = """    plane: {facing: left, along: forward}
    grid: {across: 5, along: 1, pitch across: 3 in}
    bolt: {thread: 7/8-9, grade: grade 5, hole: 15/16 in}
    plies: [{name: gusset, thickness: 3/8 in, material: ply, edge: 1.5 in}]
"""
    rows = rows_of(front_door, rest, fy="36 ksi", fu="58 ksi")
    held(0.75 * torn_out(rows), 156 * KIP, rel=5e-3)


@proof(Kind.MEMORY)
def test_block_shear_of_a_line_along_the_pull(held: Held, front_door: FrontDoor) -> None:
    """A textbook's angle, from memory: leg 3/8 in of A36, three 7/8 in bolts 3 in apart, 1.5 in from end and side: 82.5 kips."""
    rest = """    plane: {facing: left, along: forward}
    grid: {across: 1, along: 3, pitch along: 3 in}
    bolt: {thread: 7/8-9, grade: grade 5, hole: 15/16 in}
    plies: [{name: leg, thickness: 3/8 in, material: ply, edge: 1.5 in}]
"""
    held(torn_out(rows_of(front_door, rest, fy="36 ksi", fu="58 ksi")), 82.5 * KIP, rel=2e-3)


@proof(Kind.PRINTED)
def test_block_tearing_of_a_fin_plate(held: Held, front_door: FrontDoor) -> None:
    """Steel Buildings in Europe, Multi-storey steel buildings, part 5, p. 5-48: 995 kN under pull, S275 with 430 MPa over 1.1, holes
    of 22 mm counted as drilled; the row's note says what EN 1993-1-8, 3.10.2, gives, to one per cent.
    """
    hole = 22 - 25.4 / 16
    rest = f"""    plane: {{facing: left, along: forward}}
    grid: {{across: 5, along: 2, pitch across: 70 mm, pitch along: 60 mm}}
    bolt: {{thread: M20, grade: "8.8", hole: {hole} mm}}
    plies: [{{name: fin, thickness: 10 mm, material: ply, edge: 50 mm}}]
"""
    row = rows_of(front_door, rest, fy="275 MPa", fu=f"{430 / 1.1} MPa")["block_shear"]
    share = float(row["words"].split("gives ")[1].split(" %")[0]) / 100
    held(row["capacity"] * share, 995e3, rel=1e-2)


PRIED = """    plane: {{facing: up, along: forward}}
    grid: {{across: 2, along: 2, pitch across: 4 in, pitch along: {pitch} in}}
    bolt: {{thread: 3/4-10, grade: grade 5, hole: {hole} in}}
    plies: [{{name: flange, thickness: {thick} in, material: ply, edge: {edge} in}}]
    prying: {{offset: {offset} in, edge: {edge} in, pitch: {pitch} in, thickness: {thick} in, material: ply}}
"""


def left_of_bolt(front_door: FrontDoor, kips: float, fu: float, **sizes: float) -> float:
    """Return the share of the bolt's own strength that prying leaves, for an example whose bolt carries `kips` in a flange of fu, ksi.

    Ours is another bolt: the flange's metal is stronger by as much, so that bolt and flange stand to each other as printed.
    """
    alone = 0.9 * 120 * 0.3345  # kips: SAE J429 grade 5, ASME B1.1 area
    rest = PRIED.format(**sizes)
    rows = rows_of(front_door, rest, fy="36 ksi", fu=f"{fu * alone / kips} ksi", force="z: 4 kN")
    return float(rows["bolt_tension_prying"]["capacity"] / (alone * KIP))


@proof(Kind.PRINTED)
def test_prying_of_a_tee_of_a_rolled_beam(held: Held, front_door: FrontDoor) -> None:
    """Handbook of Structural Steel Connection Design and Details, 2nd edition (2009), p. 107: b' 1.598 in, b'/a' 0.91, 3 in a bolt,
    hole 15/16 in, 0.715 in thick, 65 ksi x 0.9, bolts of 40.6 kips: 23.7 kips each. Written for a bolt of 3/4 in: b = b' + d/2,
    a = a' - d/2.
    """
    found = left_of_bolt(
        front_door, 40.6, 0.9 * 65, pitch=3, hole=15 / 16, thick=0.715, offset=1.598 + 0.375, edge=1.598 / 0.91 - 0.375
    )
    held(found, 23.7 / 40.6, rel=3e-3)


@proof(Kind.MEMORY)
def test_prying_of_a_hanger(held: Held, front_door: FrontDoor) -> None:
    """AISC Design Examples, II.D-1 (its first page opened: 3/4 in bolts of 29.8 kips, gage 4 in, 65 ksi; the rest from memory): tee of
    7.12 x 0.715 in, stem 0.430 in, 4.5 in a bolt, hole 13/16 in: 27.3 kips of 29.8.
    """
    offset, edge = (4.0 - 0.430) / 2, (7.12 - 4.0) / 2
    found = left_of_bolt(front_door, 29.8, 0.9 * 65, pitch=4.5, hole=13 / 16, thick=0.715, offset=offset, edge=edge)
    held(found, 27.3 / 29.8, rel=5e-3)


def sleeve_rows(row: dict[str, Any], front_door: FrontDoor) -> dict[str, dict[str, Any]]:
    """Return the rows of one sleeve."""
    along = {"left": "forward", "up": "forward"}[row["facing"]]
    spots = ", ".join(f"{{along: {x} mm, across: {y} mm}}" for x, y in row["spots_mm"])
    rest = f"""    plane: {{facing: {row["facing"]}, along: {along}, origin: {{x: {row["origin_mm"]} mm}}}}
    spots: [{spots}]
    bolt: {{thread: M10, grade: "8.8", shear planes: 2}}
    plies:
      - {{name: outer, thickness: {row["wall_mm"]} mm, material: ply, kind: wall of a hollow tube, share: 0.5}}
      - {{name: inner, thickness: {row["wall_mm"]} mm, material: ply, kind: wall of a hollow tube, share: 0.5}}
    tube: {{width: 200 mm, depth: {row["depth_mm"]} mm, wall: {row["wall_mm"]} mm, washer: 20 mm, material: ply}}
"""
    force, moment = (
        ", ".join(f"{axis}: {value} {unit}" for axis, value in zip("xyz", row[key], strict=True))
        for key, unit in (("force_N", "N"), ("moment_Nm", "N·m"))
    )
    return rows_of(front_door, rest, force=force, moment=moment)


@proof(
    Kind.LIBRARY,
    "openseespy 3.7.1, a spring model: benchmarks/shell_reference/bolt_sleeves.py, tests/verification/bolt_sleeves.yaml",
)
@pytest.mark.parametrize("row", SLEEVES, ids=[f"sleeve {number}" for number in range(len(SLEEVES))])
def test_a_sleeve_under_all_six_components(held: Held, row: dict[str, Any], front_door: FrontDoor) -> None:
    """The force at the crossing that carries most: bolt, walls and faces are judged with it. No row says 999, nor nothing."""
    rows = sleeve_rows(row, front_door)
    held(rows["shear_at_wall"]["demand"], row["worst_N"], rel=1e-3)
    assert rows["bearing"]["demand"] == rows["shear_at_wall"]["demand"]
    assert all(each["safety_factor"] < 999.0 for each in rows.values() if each["demand"] > 0.0)


SHEET = """    plane: {{facing: left, along: forward}}
    grid: {{across: 2, along: 1, pitch across: 40 mm}}
    bolt: {{thread: M10, grade: "8.8", hole: 11 mm}}
    plies: [{{name: sheet, thickness: {thick} mm, material: ply, edge: 20 mm}}]
"""


@proof(Kind.MEMORY)
@pytest.mark.parametrize("thick", [1.5, 3.0, 4.7])
def test_sheet_tears_by_its_own_factors(held: Held, front_door: FrontDoor, thick: float) -> None:
    """AISI S100-16, J6 and table J6-1, from memory: 0.6 Fu Anv on two planes of 20 - 11/2 mm each, 0.9 Fu of a width of 80 mm, a block
    of 0.6 Fy Agv and Fu Ant, all over 2.22. Here what AISI allows; AISC's J4 over 2.00 would allow 11 % more, and 23 % on the net.
    """
    rows, hole, t = rows_of(front_door, SHEET.format(thick=thick)), 11 + 25.4 / 16, thick * 1e-6
    allowed = {mode: rows[mode]["capacity"] / rows[mode]["target"] for mode in ("tear_out", "ply_net", "block_shear")}
    held(allowed["tear_out"], 0.6 * 400e6 * 2 * 14.5 * t / 2.22, rel=1e-4)
    held(allowed["ply_net"], 0.9 * 400e6 * (80 - 2 * hole) * t / 2.22, rel=1e-4)
    block = 0.6 * min(400e6 * (2 * 20 - hole), 250e6 * 2 * 20) + 400e6 * (40 - hole)
    held(allowed["block_shear"], block * t / 2.22, rel=1e-4)


@proof(Kind.FORMULA)
def test_a_plate_from_a_tenth_over_three_sixteenths_tears_by_its_own(held: Held, front_door: FrontDoor) -> None:
    """ANSI/AISC 360-22, J3.11a and eq. (J3-6a): 1.2 lc t Fu and 2.4 d t Fu over 2.00."""
    rows = rows_of(front_door, SHEET.format(thick=5.24))
    held(rows["tear_out"]["capacity"] / rows["tear_out"]["target"], 1.2 * 0.0145 * 0.00524 * 400e6 / 2.00, rel=1e-4)
    held(rows["bearing"]["capacity"] / rows["bearing"]["target"], 2.4 * 0.010 * 0.00524 * 400e6 / 2.00, rel=1e-4)
    assert rows["ply_net"]["target"] == rows["block_shear"]["target"] == 2.0


PINNED = """    bolt: {thread: 1/2-13, grade: grade 8, hole: 17/32 in}
    bolts: 2
    depth: 2 1/2 in
    walls: [{name: outer, thickness: 6 mm, material: ply, edge: 30 mm}, {name: inner, thickness: 6 mm, material: ply, edge: 30 mm}]
"""
IN_A_TUBE = """    plane: {facing: left, along: forward}
    grid: {across: 1, along: 2, pitch along: 60 mm}
    bolt: {thread: M10, grade: "8.8", hole: 11 mm, shear planes: 2}
    plies:
      - {name: outer, thickness: 6 mm, material: ply, kind: wall of a hollow tube, edge: 20 mm, share: 0.5}
      - {name: inner, thickness: 6 mm, material: ply, kind: wall of a hollow tube, edge: 20 mm, share: 0.5}
    tube: {width: 60 mm, depth: 80 mm, wall: 6 mm, washer: 20 mm, material: ply}
"""


@proof(Kind.FORMULA)
@pytest.mark.parametrize(
    ("rest", "kind", "clear"), [(PINNED, "pinned sleeve", 30 - 17 / 64 * 25.4), (IN_A_TUBE, "bolts", 20 - 11 / 2)]
)
def test_a_wall_tears_from_the_hole_not_from_its_middle(
    held: Held, front_door: FrontDoor, rest: str, kind: str, clear: float
) -> None:
    """ANSI/AISC 360-22, eq. (J3-6c): 1.2 lc t Fu, lc from the edge of the hole to the edge of the metal, of a wall of 6 mm."""
    rows = rows_of(front_door, rest, kind=kind)
    held(rows["tear_out"]["capacity"] / rows["tear_out"]["target"], 1.2 * clear * 6 * 400 / 2.00, rel=1e-4)


@proof(Kind.DERIVED)
@pytest.mark.parametrize("across", [0.5, 3.0])
def test_a_plys_shear_counts_beside_its_pull(held: Held, front_door: FrontDoor, across: float) -> None:
    """Von Mises over the section beside one bolt: the larger pull, and root three of the less one that shears it."""
    one = SHEET.format(thick=5.24).replace("across: 2, along: 1, pitch across: 40 mm", "across: 1, along: 1")
    rows = rows_of(front_door, one, force=f"x: 2 kN, z: {2 * across} kN")
    less, more = sorted((2e3, 2e3 * across))
    held(rows["ply_net"]["demand"], hypot(more, 3**0.5 * less), rel=1e-4)


@pytest.mark.parametrize("thick", [4.7625, 4.9, 5.23875])
def test_no_thickness_makes_what_sheet_allows_jump(thick: float) -> None:
    """A hair more metal allows a hair more load, with what the joint asks under and over the rules' own factors."""
    plain = Strength(1e4, 2.0, "plate")
    for asked in (2.0, 2.3, 3.0):
        for allows in (
            lambda t, asked=asked: bearing_of_metal(0.010, t, 400e6, asked),
            lambda t, asked=asked: torn(plain, t, asked, 0.9),
        ):
            below, at, above = (allows(thick * 1e-3 * (1 + part)) for part in (-1e-7, 0.0, 1e-7))
            for beside in (below, above):
                assert (beside.allowed, beside.value) == (pytest.approx(at.allowed, rel=1e-5), pytest.approx(at.value, rel=1e-5))
    assert torn(plain, 4.7625e-3, 2.0).allowed == pytest.approx(1e4 / 2.22)
