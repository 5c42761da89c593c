"""Forty plates at random against shells and a limit analysis from below, stored in plates_shell.yaml (made by
benchmarks/shell_reference/plates.py; openseespy and clarabel, versions beside the values). YAML in, JSON out.

Asked by the task that set this: movement within 3 %, bolt force within 10 %, collapse at most 5 % above the limit analysis.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.verification.manual import FrontDoor, Held, Kind, proof

Row = dict[str, Any]
STORED = yaml.safe_load((Path(__file__).parent / "plates_shell.yaml").read_text(encoding="utf-8"))
ROWS: dict[str, Row] = {row["name"]: row for row in STORED["cases"]}
KINDS = ("spacers", "held", "crossmembers", "crossed")
BY_KIND = {kind: [name for name, row in ROWS.items() if row["kind"] == kind] for kind in KINDS}

BENCH = """title: a plate at random
origin: anywhere
sections:
  tube:
    {{shape: rectangular tube, height: {tube[0]} mm, width: {tube[1]} mm, wall: {tube[2]} mm, outside radius: {tube[3]} mm,
      material: S235}}
frame:
  points:
{points}
  members:
{members}
  supports:
{supports}
load cases:
  - rest: {{own weight: 1}}
plates:
  - name: sheet
    length: {size[0]} mm
    width: {size[1]} mm
    thickness: {thickness} mm
    material: S235
    gap: {gap:.6g} mm
    lies: {lies}
    in plane: {plane}
    bolts:
{bolts}
{ribs}    loads:
{loads}
"""


def listed(lines: list[str], deep: int) -> str:
    """Return lines of YAML, so deep."""
    return "\n".join(" " * deep + line for line in lines)


def crossmembers(row: Row) -> tuple[list[str], list[str], list[str], dict[tuple[int, int], str]]:
    """Return points, members and supports of the frame, and the frame point at each bolt."""
    points, members, supports, named = [], [], [], {}
    for n, x in enumerate(row.get("crossmembers", [0])):
        spots = sorted(y for bx, y in map(tuple, row["bolts"]) if "crossmembers" in row and bx == x)
        beyond = row.get("beyond", 100)
        places = {f"r{n}": -beyond, **{f"p{n}-{y}": y for y in spots}, f"l{n}": row["size"][1] + beyond}
        points += [f"{name}: {{x: {x} mm, y: {y} mm, z: 0 mm}}" for name, y in places.items()]
        members.append(f"- {{name: tube {n}, points: [{', '.join(places)}], section: tube, ends: rigid}}")
        supports += [f"- {{point: {name}, held: all}}" for name in (f"r{n}", f"l{n}")]
        named |= {(x, y): f", point: p{n}-{y}" for y in spots}
    return points, members, supports, named


def written(row: Row) -> str:
    """Return the case file of a row: pressed up; with bolts alone pressed down as well, so that each is pulled once."""
    points, members, supports, named = crossmembers(row)
    x, y, a, b = row["patch"]
    patch = f"patch: {{x: {x} mm, y: {y} mm, length: {a} mm, width: {b} mm}}"
    ways = (1,) if "crossmembers" in row else (1, -1)
    bolts = [
        f"- {{name: b{n}, x: {u} mm, y: {v} mm, seat: 24 mm, bolt: {{thread: M10, grade: '8.8'}}{named.get((u, v), '')}}}"
        for n, (u, v) in enumerate(row["bolts"])
    ]
    ribs = [
        f"- {{name: rib {n}, kind: rib, runs: along {rib['runs']}, at: {rib['at']} mm, from: {rib['from']} mm, "
        f"to: {rib['to']} mm, height: {rib['height']} mm, thickness: {rib['thickness']} mm, facing: up}}"
        for n, rib in enumerate(row.get("ribs", ()))
    ]
    return BENCH.format(
        gap=10 * row["moves_mm"] + max((rib["height"] for rib in row.get("ribs", ())), default=0),
        tube=row.get("tube", [60, 60, 4, 6]), size=row["size"], thickness=row["thickness"],
        points=listed(points, 4), members=listed(members, 4), supports=listed(supports, 4),
        lies="against the frame" if "crossmembers" in row else "on spacers",
        plane="held from drawing in" if row["kind"] == "held" else "free to draw in",
        bolts=listed(bolts, 6), ribs=f"    stiffeners:\n{listed(ribs, 6)}\n" if ribs else "",
        loads=listed([f"- {{name: press {way}, kind: press, force: {way * row['force']:.1f} N, {patch}}}" for way in ways], 6),
    )  # fmt: skip


def answer(front_door: FrontDoor, name: str) -> Any:
    """Return the plate's rows of the JSON."""
    return [each for each in front_door(written(ROWS[name]))["checks"] if each["check"] == "plate"]


def demand(rows: Any, mode: str, part: str = "") -> float:
    """Return the greatest demand of a mode, 0 where there is no such row."""
    return max((row["demand"] for row in rows if row["mode"] == mode and part in row["where"]), default=0.0)


def bolt(rows: Any, mode: str, number: int) -> float:
    """Return the demand of one bolt."""
    return max((row["demand"] for row in rows if row["mode"] == mode and row["where"].endswith(f"bolt b{number}")), default=0.0)


NAMES = {kind: [pytest.param(name, id=name) for name in names] for kind, names in BY_KIND.items()}
SHELLS = f"openseespy {STORED['made with']['openseespy']}, shells; plates_shell.yaml"
LIMIT = f"limit analysis from below, clarabel {STORED['made with']['clarabel']}; plates_shell.yaml"


def least_noticed(row: Row, share: float) -> float:
    """Return a force below which a bolt of a plate does little: a share of what presses on it."""
    return share * float(row["force"])


def agree(found: list[float], stored: list[float], rel: float, least: float) -> bool:
    """Return whether forces agree within a share of themselves, or within what is little."""
    return all(abs(one - two) <= max(rel * two, least) for one, two in zip(found, stored, strict=True))


@proof(Kind.SHELL, SHELLS)
@pytest.mark.parametrize("name", NAMES["spacers"])
def test_plates_on_their_bolts_alone(held: Held, name: str, front_door: FrontDoor) -> None:
    """Movement 3 %. Bolts 10 %, or 2 % of the press."""
    row, rows = ROWS[name], answer(front_door, name)
    held(demand(rows, "touches_pan") * 1e3, row["moves_mm"], rel=0.03)
    pulls = [bolt(rows, "bolt_tension", n) for n in range(len(row["bolts"]))]
    assert agree(pulls, row["bolts_N"], 0.1, least_noticed(row, 0.02))


@proof(Kind.SHELL, SHELLS)
@pytest.mark.parametrize("name", NAMES["held"])
def test_plates_held_from_drawing_in(held: Held, name: str, front_door: FrontDoor) -> None:
    """Large deflections, half a thickness to two. Movement 3 %. Pull 10 %, or 2 % of the press. Shear 10 %, or 2 % of the most sheared
    bolt's.
    """
    row, rows = ROWS[name], answer(front_door, name)
    held(demand(rows, "touches_pan") * 1e3, row["moves_mm"], rel=0.03)
    count = range(len(row["bolts"]))
    assert agree([bolt(rows, "bolt_tension", n) for n in count], row["bolts_N"], 0.1, least_noticed(row, 0.02))
    assert agree([bolt(rows, "bolt_shear", n) for n in count], row["shear_N"], 0.1, 0.02 * max(row["shear_N"]))


@proof(Kind.SHELL, SHELLS)
@pytest.mark.parametrize("name", NAMES["crossmembers"])
def test_plates_against_crossmembers(held: Held, name: str, front_door: FrontDoor) -> None:
    """Movement 3 %. Pull of a bolt 10 %, or 1 % of the press. Tubes bend, shear and twist in both."""
    row, rows = ROWS[name], answer(front_door, name)
    held(demand(rows, "touches_pan") * 1e3, row["moves_mm"], rel=0.03)
    order = [n for x in row["crossmembers"] for n, each in enumerate(row["bolts"]) if each[0] == x]
    assert agree([bolt(rows, "bolt_tension_prying", n) for n in order], row["bolts_N"], 0.1, least_noticed(row, 0.01))


@proof(Kind.SHELL, SHELLS)
@pytest.mark.parametrize("name", NAMES["crossed"])
def test_plates_over_a_crossmember_that_no_bolt_goes_into(held: Held, name: str, front_door: FrontDoor) -> None:
    """Movement 3 %; the tube's stress (bending, shear, twist) no more than 5 % below and 15 % above, for our fixed ends hold warping,
    too: it takes its part of the press without a bolt. Pull of a bolt 10 %, or 1 % of the press.
    """
    row = ROWS[name]
    told = front_door(written(row))["checks"]
    rows = [each for each in told if each["check"] == "plate"]
    held(demand(rows, "touches_pan") * 1e3, row["moves_mm"], rel=0.03)
    order = [n for x in row["crossmembers"] for n, each in enumerate(row["bolts"]) if each[0] == x]
    assert agree([bolt(rows, "bolt_tension_prying", n) for n in order], row["bolts_N"], 0.1, least_noticed(row, 0.01))
    stress = max(each["demand"] for each in told if each["mode"] == "first_yield" and "tube 1" in each["where"])
    held(stress / 1e6, row["stress_MPa"][1], rel=0.15)
    assert stress / 1e6 > 0.95 * row["stress_MPa"][1]


JUDGED = [pytest.param(name, id=name) for name, row in ROWS.items() if "limit_N" in row]


@proof(Kind.SHELL, LIMIT)
@pytest.mark.parametrize("name", JUDGED)
def test_collapse_is_never_far_above_the_limit_analysis(held: Held, name: str, front_door: FrontDoor) -> None:
    """At most 5 % above, bolts that hold under their seats. Ours hold at points, about which the sheet folds, so it is mostly far
    below. Points alone in the limit analysis too: at most 5 % above, but where the patch lies on a bolt or within half its own size of
    one: 9 % above a mesh of 15 mm, whose own bound is then up to 4 % low (finer ones: at most 7 % above). Plates with ribs by their
    own limit analysis (ribbed_limit.py), whose mesh is coarser: by points 12 %.
    """
    row, rows = ROWS[name], answer(front_door, name)
    collapse, points = demand_of_capacity(rows), row["limit_points_N"]
    assert collapse < 1.05 * row["limit_N"]
    held(collapse, points, rel=0.12 if "ribs" in row else 0.09 if stands_by_a_bolt(row) else 0.05)


def demand_of_capacity(rows: Any) -> float:
    """Return the collapse load, N."""
    return min(row["capacity"] for row in rows if row["mode"] == "plate_folds")


def stands_by_a_bolt(row: Row) -> bool:
    """Return whether a patch lies on a bolt, or half its own size from one."""
    x, y, a, b = row["patch"]
    return any(abs(u - x) < a and abs(v - y) < b for u, v in row["bolts"])
