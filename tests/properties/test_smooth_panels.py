"""Rails and bent aprons through a wall at random places: a hair moves no row of the sheet by a mile."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

import numpy as np
import pytest

from framecheck.frame.panel.legs import NEAR
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member, Section, Stretch
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.model.panels import Panel, PanelSeam, SeamKind
from framecheck.model.shapes import RectTube
from framecheck.section.analysis import section_properties
from framecheck.yield_criterion import equivalent_in_sheet
from tests.properties.test_panels import METAL, RIGID

HAIR, MOST = 1e-7, 1e-4
COUNTS = 0.25
"""Share of a panel's greatest value from which on a place might be its row in another load case."""
BASE = 0.4
SEAM = PanelSeam(SeamKind.SPOTS, 0.038, 0.0)
SIDES = {"left ": 1.0, "right ": -1.0}
TUBES = {"sill": (0.1, 0.1, 0.0012), "post": (0.05, 0.04, 0.0015), "rail": (0.076, 0.05, 0.002), "apron": (0.05, 0.076, 0.0012)}
CASES = [
    CaseLoads("rail", point_loads=(PointLoad("left rail 2", (0.0, 300.0, -1000.0)),)),
    CaseLoads("apron", point_loads=(PointLoad("right apron 2", (0.0, 1000.0, -300.0)),)),
    CaseLoads("top", point_loads=(PointLoad("right top", (0.0, 3000.0, -3000.0)),)),
]
properties = lru_cache(maxsize=None)(section_properties)


def sizes(seed: int) -> dict[str, float]:
    """Return random sizes of a wall, and of what passes it; both sides are alike but for up to 2 mm, as in a car that was measured."""
    draw = np.random.default_rng(seed)
    both = {
        "rail y": (0.25, 0.45), "rail z": (BASE + 0.05, BASE + 0.15), "rail bend": (0.07, 0.13),
        "apron y": (0.05, 0.07), "apron z": (BASE + 0.3, BASE + 0.42), "apron bend": (0.07, 0.13),
    }  # fmt: skip
    of = {key: float(draw.uniform(*ends)) for key, ends in both.items()}
    found = {f"{side}{key}": value for key, value in of.items() for side in SIDES}
    found |= {key: found[key] + float(draw.uniform(-2e-3, 2e-3)) for key in ("right apron z", "right apron y", "right rail z")}
    return found | {"half": float(draw.uniform(0.55, 0.65)), "strip": float(draw.uniform(0.12, 0.16)), "turn": 0.0}


def body(of: Mapping[str, float]) -> Frame:
    """Return a wall and a strip beside it on both sides, posts beyond these; a rail and an apron, bent there, pass each half."""
    points, members, panels = dict[str, tuple[float, float, float]](), list[Member](), list[Panel]()
    for side, sign in SIDES.items():
        ends = {"foot": of["half"], "low": of["half"] + of["strip"]}
        points |= {f"{side}{name}": (0.0, sign * y, BASE) for name, y in ends.items()}
        points |= {f"{side}{name}": (0.0, sign * y, BASE + 0.6) for name, y in zip(("top", "high"), ends.values(), strict=True)}
        for what, y in (("rail", of[f"{side}rail y"]), ("apron", of["half"] + of[f"{side}apron y"])):
            z, bend = of[f"{side}{what} z"], of[f"{side}{what} bend"]
            points |= {f"{side}{what} {n}": (x, sign * y, z - bend * (n == 0)) for n, x in enumerate((-0.6, of["turn"], 0.5))}
            members.append(Member(f"{side}{what}", tuple(f"{side}{what} {n}" for n in range(3)), (Stretch(what),)))
        members.append(Member(f"{side}post", (f"{side}low", f"{side}high"), (Stretch("post"),), start=RIGID, end=RIGID))
        corners = tuple(f"{side}{name}" for name in ("foot", "low", "high", "top"))
        panels.append(Panel(f"{side}strip", corners, 0.9e-3, METAL, joined=(f"{side}apron",), seam=SEAM))
    for name, ends in (("sill", ("low", "foot")), ("top", ("high", "top"))):
        along = (f"left {ends[0]}", f"left {ends[1]}", f"right {ends[1]}", f"right {ends[0]}")
        members.append(Member(name, along, (Stretch("sill" if name == "sill" else "post"),), start=RIGID, end=RIGID))
    corners = ("right foot", "left foot", "left top", "right top")
    panels.append(Panel("wall", corners, 0.9e-3, METAL, joined=("left rail", "right rail"), seam=SEAM))
    held = [Support(name, (np.inf,) * 6) for name in ("left foot", "right foot")]
    held += [Support(f"{side}{what} 0", (*(np.inf,) * 3, 0.0, 0.0, 0.0)) for side in SIDES for what in ("rail", "apron")]
    sections = {name: Section(name, RectTube(*tube), METAL) for name, tube in TUBES.items()}
    return Frame(points, tuple(members), sections, tuple(held), panels=tuple(panels))


def told(of: Mapping[str, float]) -> dict[tuple[str, str], Array]:
    """Return what the checks of panels read, all that they take the worst of, by load case."""
    frame = body(of)
    found = solve_frame(structure_of(frame, {key: properties(each) for key, each in frame.sections.items()}), CASES).panels
    rows = {}
    for name, panel in found.items():
        pressed, sheared = panel.of_bays()
        yields = equivalent_in_sheet(*np.moveaxis(panel.forces, -1, 0)).max(axis=1)
        rows |= {(name, "yields"): yields, (name, "seam"): panel.seam_flow}
        rows |= {(name, "pressed"): pressed.max(axis=-1), (name, "sheared"): sheared}
    return rows


def same(before: Mapping[tuple[str, str], Array], after: Mapping[tuple[str, str], Array]) -> None:
    """Hold every value that counts to what it was."""
    for row, value in before.items():
        counts = value > COUNTS * value.max(axis=0)
        assert after[row][counts] == pytest.approx(value[counts], rel=MOST), row


@pytest.mark.parametrize("seed", range(30))
def test_a_hair_of_one_side_moves_no_row(seed: int) -> None:
    """The issue's own figures, 1e-7 and 1e-4: where one side alone is moved, lines of both that were one come a hair apart."""
    of = sizes(seed)
    before = told(of)
    for key in ("left apron z", "left rail z"):
        same(before, told(of | {key: of[key] * (1 + HAIR)}))


@pytest.mark.parametrize("place", [-NEAR, 0.0, NEAR])
@pytest.mark.parametrize("seed", range(3))
def test_a_bend_goes_through_a_wall_without_a_jump(seed: int, place: float) -> None:
    """Where a rail turned within 1 mm of the wall both legs were cut out, beyond that one: a hair moved rows by 0.1 to 0.35 %."""
    of = sizes(seed)
    same(told(of | {"turn": place - HAIR}), told(of | {"turn": place + HAIR}))
