"""Frames with sheet, of random sizes: the answer is the same however they are drawn, and moves by a hair where a size does."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from framecheck.frame.solve import solve_frame, structure_of
from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.loads import CaseLoads, Motion, PointLoad, Support
from framecheck.model.panels import Panel
from framecheck.model.shapes import RectTube
from framecheck.model.shop_tables import Material
from framecheck.section.analysis import section_properties

METAL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 250e6, 400e6, "")
RIGID = MemberEnd(Make.RIGID)
SEEDS = range(6)
Sizes = dict[str, float]


def sizes(seed: int) -> Sizes:
    """Return random sizes of a body: two sills, a floor between their faces, a wall at its end, a rail under both, a crossmember."""
    draw = np.random.default_rng(seed)
    low = {
        "length": 1.2,
        "width": 0.9,
        "wall": 0.3,
        "cross": 0.3,
        "rail": 0.25,
        "sill": 0.06,
        "sheet": 0.7e-3,
        "lift": 0.0,
    }
    high = {
        "length": 2.0,
        "width": 1.4,
        "wall": 0.5,
        "cross": 0.6,
        "rail": 0.4,
        "sill": 0.1,
        "sheet": 1.2e-3,
        "lift": 0.004,
    }
    return {key: float(draw.uniform(low[key], high[key])) for key in low}


def body(
    of: Sizes, sign: float = 1.0, at: Vector = (0.0, 0.0, 0.0), name: str = "{}", turn: int = 0, backwards: bool = False
) -> Frame:
    """Return the body, mirrored (sign -1), moved, renamed, its corners begun elsewhere, its members and panels in the other order."""
    half, sill, depth = of["width"] / 2, of["sill"], 0.05
    inner, x, rail = half - sill / 2, of["length"], of["rail"] * half
    points = {
        "load": (x + 0.4, rail, -depth / 2),
        "wall": (x, rail, -depth / 2),
        "cross": (x - of["cross"], rail, -depth / 2),
    }
    for side, y in (("l", half), ("r", -half)):
        points |= {f"{side}0": (0.0, y, 0.0), f"{side}c": (x - of["cross"], y, 0.0), f"{side}1": (x, y, 0.0)}
    for side, y in (("l", inner), ("r", -inner)):
        points |= {
            f"{side}f0": (0.0, y, 0.0),
            f"{side}f1": (x, y, of["lift"] if side == "l" else 0.0),
            f"{side}w": (x, y, of["wall"]),
        }

    def member(
        called: str, along: tuple[str, ...], section: str, start: MemberEnd = RIGID, end: MemberEnd = RIGID
    ) -> Member:
        return Member(name.format(called), tuple(map(name.format, along)), (Stretch(section),), start=start, end=end)

    below = MemberEnd(Make.RIGID, arm=(0.0, 0.0, -depth / 2))
    members = (
        member("left", ("l0", "lc", "l1"), "sill"),
        member("right", ("r0", "rc", "r1"), "sill"),
        member("rail", ("load", "wall", "cross"), "small"),
        member("cross left", ("lc", "cross"), "small", below, RIGID),
        member("cross right", ("rc", "cross"), "small", below, RIGID),
        member("back", ("l0", "r0"), "small"),
    )
    floor, wall = ("rf0", "rf1", "lf1", "lf0"), ("rf1", "rw", "lw", "lf1")
    joined = tuple(map(name.format, ("rail", "cross left", "cross right")))

    def panel(called: str, corners: tuple[str, ...], to: tuple[str, ...], free: tuple[tuple[str, str], ...]) -> Panel:
        begun = corners[turn:] + corners[:turn]
        edges = tuple((name.format(a), name.format(b)) for a, b in free)
        return Panel(
            name.format(called), tuple(map(name.format, begun)), of["sheet"], METAL, joined=to, free_edges=edges
        )

    panels = (
        panel("floor", floor, joined, ()),
        panel("firewall", wall, joined[:1], (("rf1", "rw"), ("rw", "lw"), ("lw", "lf1"))),
    )
    sections = {
        "sill": Section("sill", RectTube(0.1, sill, 0.0012), METAL),
        "small": Section("small", RectTube(depth, 0.04, 0.002), METAL),
    }
    where = {name.format(key): (px + at[0], sign * py + at[1], pz + at[2]) for key, (px, py, pz) in points.items()}
    held = (Support(name.format("l0"), (np.inf,) * 6), Support(name.format("r0"), (0, 0, np.inf, 0, 0, 0)))
    order = -1 if backwards else 1
    return Frame(where, members[::order], sections, held, panels=panels[::order])


def moved(frame: Frame, name: str = "{}", sign: float = 1.0) -> Array:
    """Return how the loaded point goes (3, 6) under forces along and across, and under its own weight; mirrored back."""
    of = {key: section_properties(section) for key, section in frame.sections.items()}
    pulls = [(0.0, sign * 100.0, 0.0), (0.0, 0.0, -1000.0)]
    cases = [
        CaseLoads(f"pull {n}", point_loads=(PointLoad(name.format("load"), pull),)) for n, pull in enumerate(pulls)
    ]
    cases.append(CaseLoads("weight", motion=Motion(linear=(0.0, 0.0, -9.81))))
    found = solve_frame(structure_of(frame, of), cases)
    assert [each for each in found.self_checks if not each.holds] == []
    row = found.displacements[found.points.index(name.format("load"))]
    return np.asarray(row * np.array([1, sign, 1, sign, 1, sign]))


def same(one: Array, other: Array, rel: float) -> bool:
    """Return whether movements agree to a share of the largest of their case."""
    size = np.abs(one).max(axis=1, keepdims=True)
    return bool((np.abs(one - other) <= rel * size).all())


@pytest.mark.parametrize("seed", SEEDS)
def test_a_body_drawn_otherwise_moves_alike(seed: int) -> None:
    of = sizes(seed) | {"lift": 0.0}
    first = moved(body(of))
    assert same(first, moved(body(of, name="the {} of it"), "the {} of it"), 1e-7)
    assert same(first, moved(body(of, backwards=True)), 1e-6)
    assert same(first, moved(body(of, at=(3.0, -0.4, 0.7))), 1e-6)
    assert same(first, moved(body(of, turn=1 + seed % 3)), 1e-6)
    assert same(first, moved(body(of, sign=-1.0), sign=-1.0), 1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_body_out_of_its_plane_drawn_otherwise_moves_nearly_alike(seed: int) -> None:
    """Where sheet is not flat, lines of neighbours meet within 0.1 mm: which one stands moves an answer by less than 1e-4."""
    of = sizes(seed)
    first = moved(body(of))
    assert same(first, moved(body(of, backwards=True)), 1e-4)
    assert same(first, moved(body(of, turn=1)), 1e-4)
    assert same(first, moved(body(of, sign=-1.0), sign=-1.0), 1e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_hair_moves_nothing_by_a_mile(seed: int) -> None:
    of = sizes(seed)
    first = moved(body(of))
    for key in of:
        assert same(first, moved(body(of | {key: of[key] * (1 + 1e-7)})), 1e-4), key


@pytest.mark.parametrize("seed", SEEDS)
def test_sheet_left_out_makes_a_body_softer(seed: int) -> None:
    """Energy theorem: what is left out can't make an elastic body stiffer under the same force."""
    of = sizes(seed)
    whole = body(of)
    thin = replace(whole, panels=tuple(replace(each, thickness=each.thickness * 0.8) for each in whole.panels))
    assert abs(moved(thin)[1, 2]) > abs(moved(whole)[1, 2])


def test_sheet_weighs_what_it_weighs() -> None:
    """Statics: the supports carry the mass of members and sheet, thickness x area x density."""
    of = sizes(0) | {"lift": 0.0}
    frame = body(of)
    structure = structure_of(frame, {key: section_properties(section) for key, section in frame.sections.items()})
    bare = structure_of(
        replace(frame, panels=()), {key: section_properties(section) for key, section in frame.sections.items()}
    )
    mass = sum(np.linalg.norm(np.subtract(b, a)) * each for a, b, each in structure.mass_lines())
    without = sum(np.linalg.norm(np.subtract(b, a)) * each for a, b, each in bare.mass_lines())
    inner = of["width"] - of["sill"]
    assert mass - without == pytest.approx(inner * (of["length"] + of["wall"]) * of["sheet"] * 7850.0, rel=1e-9)
    pushed = solve_frame(structure, [CaseLoads("weight", motion=Motion(linear=(0.0, 0.0, -9.81)))]).reactions
    assert sum(float(each[0, 2]) for each in pushed.values()) == pytest.approx(9.81 * mass, rel=1e-9)
