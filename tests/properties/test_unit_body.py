"""A body told part by part is the body that a person would draw: same points, members, sheet, and the same answer to 1e-9.

None needs a source: the drawn file is written out here from the same sizes, by hand, knowing nothing of the builder.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from framecheck.errors import InputError
from framecheck.frame.results import Bound, Shell
from framecheck.frame.solve import bounds_of, solve_frame, structure_of
from framecheck.frame.structure import NOTHING_OPEN
from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.section.analysis import section_properties
from framecheck.section.properties import SectionProperties
from tests.cases.test_sections import LIBRARY

Sizes = dict[str, float]
SAME = 1e-9
PROPERTIES: dict[str, SectionProperties] = {}
TUBES = {
    "rail": (80, 50, 2.0),
    "sill": (100, 80, 1.2),
    "cross": (50, 50, 1.5),
    "pillar": (70, 60, 1.5),
    "cant": (50, 60, 1.2),
    "stiff": (40, 50, 2.0),
    "cowl": (40, 70, 1.2),
}
SECTIONS = "sections:\n" + "".join(
    f"  {name}: {{shape: rectangular tube, height: {h} mm, width: {w} mm, wall: {t} mm, material: A500 grade B}}\n"
    for name, (h, w, t) in TUBES.items()
)
LOADS = """  supports:
    - {point: left seat, held: [x, y, z]}
    - {point: right seat, held: [z]}
    - {point: left tip, held: [y, z]}
load cases:
  - pulls: {forces: [{point: right tip, force: {x: 300 N, y: 200 N, z: -1000 N}}, {point: left rocker middle, force: {z: -500 N}}]}
"""
WAY = ("tip", "wall", "cross", "rail end", "middle", "rail start", "hoop", "back", "seat")


def drawn_sizes(seed: int) -> Sizes:
    """Return random sizes, mm."""
    draw = np.random.default_rng(seed)
    steps = draw.uniform((500, 150, 30, 300, 300, 30, 150, 300), (900, 300, 80, 600, 600, 80, 300, 600)).round(1)
    xs = 3000.0 - np.concatenate(([0.0], np.cumsum(steps))).round(1)
    of = dict(zip(WAY, xs.tolist(), strict=True))
    own = {"y": (300, 380), "out": (560, 640), "up": (250, 450), "tunnel": (180, 240), "hump": (120, 200), "high": (420, 520)}
    of |= {key: round(draw.uniform(*span), 1) for key, span in own.items()}
    of["roof"] = of["up"] + round(draw.uniform(900, 1100), 1)
    of["waist"], of["front top"], of["rear top"] = of["wall"] - 35, of["middle"] + 20, of["back"] + 40
    return of


def told(of: Sizes, stiffened: bool, closed: bool) -> str:
    """Return the body told part by part."""
    ends = dict.fromkeys(("tip", "seat"), f", y: {of['y']} mm, z: {of['up'] - 40} mm")
    stations = "".join(f"      - {{name: {name}, x: {of[name]} mm{ends.get(name, '')}}}\n" for name in WAY)
    roof = (
        "    pillars:\n"
        "      - {name: post, station: wall, section: pillar, ends: rigid,\n"
        f"         waist: {{x: {of['waist']} mm, z: {of['up'] + of['high'] - 20} mm}},\n"
        f"         top: {of['front top']} mm, kinks: mitred}}\n"
        f"      - {{name: hoop, station: hoop, section: pillar, top: {of['rear top']} mm, ends: rigid}}\n"
        f"    cant rails: {{section: cant, y: {of['out'] - 30} mm, z: {of['roof']} mm, ends: rigid}}\n"
        "    cowl: {section: cowl, ends: rigid}\n"
        "    headers: {section: cross, ends: rigid}\n"
        "    roof: {thickness: 0.8 mm}\n"
    )
    return (
        f"title: body\n{SECTIONS}frame:\n  body:\n    sheet: {{thickness: 0.9 mm, material: A36}}\n    stations:\n{stations}"
        "    front rails: {section: rail, to: rail end, ends: rigid}\n"
        "    rear rails: {section: rail, from: rail start, ends: rigid}\n"
        + ("    stiffeners: {section: stiff, ends: rigid}\n" if stiffened else "")
        + f"    rockers: {{section: sill, y: {of['out']} mm, z: {of['up'] - 10} mm, ends: rigid}}\n"
        "    torque boxes:\n"
        "      - {name: front box, station: cross, section: cross, ends: rigid}\n"
        "      - {name: rear box, station: hoop, section: cross, ends: rigid}\n"
        "    crossmembers:\n"
        "      - {name: crossmember, station: cross, section: cross, ends: rigid}\n"
        "      - {name: rear crossmember, station: hoop, section: cross, ends: rigid}\n"
        f"    floor: {{z: {of['up']} mm}}\n    tunnel: {{width: {of['tunnel']} mm, height: {of['hump']} mm, thickness: 1 mm}}\n"
        f"    firewall: {{station: wall, top: {of['up'] + of['high']} mm}}\n"
        f"    rear bulkhead: {{station: back, top: {of['up'] + of['high'] - 50} mm}}\n" + (roof if closed else "") + LOADS
    )


def arm(y: float, z: float) -> str:
    """Return a rigid end on an arm, mm."""
    return f"{{make: rigid, arm: {{y: {y} mm, z: {z} mm}}}}"


class Hand:
    """The same body written out point by point."""

    def __init__(self, of: Sizes, stiffened: bool, closed: bool) -> None:
        self.of, self.stiffened, self.closed = of, stiffened, closed
        self.points: dict[str, tuple[float, float, float]] = {}
        self.members: list[str] = []
        self.panels: list[str] = []

    def text(self) -> str:
        self.sides()
        self.across()
        self.sheet()
        points = "".join(f"    {name}: {{x: {x!r} mm, y: {y!r} mm, z: {z!r} mm}}\n" for name, (x, y, z) in self.points.items())
        rows = "".join(f"    - {{{each}}}\n" for each in self.members)
        panels = "".join(f"    - {{{each}, material: A36}}\n" for each in self.panels)
        return f"title: body\n{SECTIONS}frame:\n  points:\n{points}  members:\n{rows}  panels:\n{panels}{LOADS}"

    def both(self, name: str, x: float, y: float, z: float) -> None:
        self.points[f"left {name}"], self.points[f"right {name}"] = (x, y, z), (x, -y, z)

    def member(self, name: str, along: tuple[str, ...], section: str, more: str) -> None:
        self.members.append(f"name: {name}, points: [{', '.join(along)}], section: {section}, {more}")

    def panel(self, name: str, corners: tuple[str, ...], sheet: float, joined: tuple[str, ...] = (), more: str = "") -> None:
        to = f", joined to: [{', '.join(joined)}]" if joined else ""
        self.panels.append(f"name: {name}, corners: [{', '.join(corners)}], thickness: {sheet} mm{to}{more}")

    def sides(self) -> None:
        of, low, sill = self.of, self.of["up"] - 40, self.of["up"] - 10
        for name in ("tip", "wall", "cross", "rail end", "rail start", "hoop", "back", "seat"):
            self.both(name, of[name], of["y"], low)
        if self.stiffened:
            self.both("middle", of["middle"], of["y"], of["up"] - 20)
        rocker = ["wall", "cross", "rail end", "middle", "rail start", "hoop", "back"]
        for name in rocker:
            self.both(f"rocker {name}", of[name], of["out"], sill)
        if self.closed:
            self.both("foot", of["wall"] - 35, of["out"], sill)
            self.both("post waist", of["waist"], of["out"], of["up"] + of["high"] - 20)
            for name, x in (("post top", of["front top"]), ("hoop top", of["rear top"])):
                self.both(name, x, of["out"] - 30, of["roof"])
        for side, sign in (("left", 1), ("right", -1)):
            through = [f"{side} rocker {name}" for name in rocker]
            through[1:1] = [f"{side} foot"] if self.closed else []
            self.side_members(side, sign, tuple(through))

    def side_members(self, side: str, sign: int, rocker: tuple[str, ...]) -> None:
        at = tuple(f"{side} {name}" for name in WAY)
        self.member(f"{side} front rail", at[:4], "rail", "ends: rigid")
        self.member(f"{side} rear rail", at[5:], "rail", "ends: rigid")
        self.member(f"{side} rocker", rocker, "sill", "ends: rigid")
        for which, name in (("front", "cross"), ("rear", "hoop")):
            arms = f"start: {arm(-40 * sign, -15)}, end: {arm(25 * sign, 15)}"
            self.member(f"{side} {which} box", (f"{side} rocker {name}", f"{side} {name}"), "cross", arms)
        if self.stiffened:
            self.member(f"{side} stiffener", at[3:6], "stiff", "ends: {make: rigid, arm: {z: 20 mm}}")
        if self.closed:
            arms = "start: {make: rigid, arm: {z: 50 mm}}, end: {make: rigid, arm: {z: -25 mm}}"
            self.member(f"{side} post", (f"{side} foot", f"{side} post waist", f"{side} post top"), "pillar", f"{arms}, kinks: mitred")
            self.member(f"{side} hoop", (f"{side} rocker hoop", f"{side} hoop top"), "pillar", arms)
            self.member(f"{side} cant rail", (f"{side} post top", f"{side} hoop top"), "cant", "ends: rigid")

    def across(self) -> None:
        def arms(reach: float, up: float) -> str:
            return f"start: {arm(-reach, up)}, end: {arm(reach, up)}"

        for name, at in (("crossmember", "cross"), ("rear crossmember", "hoop")):
            self.member(name, (f"left {at}", f"right {at}"), "cross", arms(25, 15))
        if self.closed:
            self.member("cowl", ("left post waist", "right post waist"), "cowl", arms(30, 0))
            self.member("front header", ("left post top", "right post top"), "cross", arms(30, 0))
            self.member("rear header", ("left hoop top", "right hoop top"), "cross", arms(30, 0))

    def sheet(self) -> None:
        of = self.of
        half, edge = of["tunnel"] / 2, of["out"] - 40
        for at in ("wall", "back"):
            self.both(f"outer {at}", of[at], edge, of["up"])
            self.both(f"inner {at}", of[at], half, of["up"])
            self.both(f"hump {at}", of[at], half, of["up"] + of["hump"])
        for side in ("left", "right"):
            joined = [f"{side} {each}" for each in ("front rail", "rear rail", "front box", "rear box")]
            joined += ["crossmember", "rear crossmember"]
            loose = f", loose from: [{side} stiffener]" if self.stiffened else ""
            corners = tuple(f"{side} {each}" for each in ("inner wall", "outer wall", "outer back", "inner back"))
            self.panel(f"{side} floor", corners, 0.9, tuple(joined), loose)
            corners = tuple(f"{side} {each}" for each in ("inner wall", "inner back", "hump back", "hump wall"))
            self.panel(f"{side} tunnel wall", corners, 1.0)
        self.panel("tunnel top", ("left hump wall", "left hump back", "right hump back", "right hump wall"), 1.0)
        for wall, name, at, top in (("firewall", "front", "wall", 0.0), ("rear bulkhead", "rear", "back", -50.0)):
            self.wall(wall, name, of[at], of["up"] + of["high"] + top)
        if self.closed:
            for at, x in (("front", of["front top"]), ("rear", of["rear top"])):
                self.both(f"roof {at}", x, of["out"] - 60, of["roof"] + 25)
            corners = ("left roof front", "right roof front", "right roof rear", "left roof rear")
            self.panel("roof", corners, 0.8)

    def wall(self, wall: str, rail: str, x: float, top: float) -> None:
        edge, outer, sill = self.of["out"] - 40, self.of["out"] + 40, self.of["up"] - 10
        post = self.closed and wall == "firewall"
        corners_of = {"foot": (edge, self.of["up"] - 80), "top": (edge, top), "sill": (edge, sill - 50)}
        corners_of |= {"side": (outer, sill - 50), "side top": (outer, top)}
        for name, (y, z) in corners_of.items():
            self.both(f"{wall} {name}", x, y, z)
        corners = tuple(f"{each} {wall} {at}" for each, at in (("left", "foot"), ("right", "foot"), ("right", "top"), ("left", "top")))
        free = f", free edges: [[{corners[0]}, {corners[1]}]{'' if post else f', [{corners[2]}, {corners[3]}]'}]"
        self.panel(wall, corners, 0.9, (f"left {rail} rail", f"right {rail} rail"), free)
        for side in ("left", "right"):
            corners = tuple(f"{side} {wall} {at}" for at in ("sill", "side", "side top", "top"))
            edges = list(pairwise(corners))
            joined = (f"{side} rocker", *((f"{side} post",) if post else ()))
            free = ", ".join(f"[{a}, {b}]" for a, b in edges)
            self.panel(f"{side} {wall}", corners, 0.9, joined, f", free edges: [{free}]")


def movements(case: Case, names: tuple[str, ...], bound: Bound = NOTHING_OPEN) -> np.ndarray:
    """Return how points go."""
    frame = case.frame
    PROPERTIES.update({name: section_properties(each) for name, each in frame.sections.items() if name not in PROPERTIES})
    solution = solve_frame(structure_of(frame, {name: PROPERTIES[name] for name in frame.sections}, bound), case.written_loads)
    assert [each for each in solution.self_checks if not each.holds] == []
    return np.asarray(solution.displacements[[solution.points.index(name) for name in names]])


@pytest.mark.parametrize("seed", range(4))
def test_a_body_told_is_the_body_drawn(seed: int) -> None:
    of, stiffened, closed = drawn_sizes(seed), bool(seed % 2), seed >= 2
    one = read_case(told(of, stiffened, closed), "told.yaml", LIBRARY)
    other = read_case(Hand(of, stiffened, closed).text(), "drawn.yaml", LIBRARY)
    assert [each.name for each in one.frame.members] != []
    assert {each.name for each in one.frame.members} == {each.name for each in other.frame.members}
    assert {each.name: set(each.joined) for each in one.frame.panels} == {each.name: set(each.joined) for each in other.frame.panels}
    names = ("left tip", "right tip", "left rocker middle", "right rocker middle", "right hoop", "left cross")
    ours, theirs = movements(one, names), movements(other, names)
    assert ours == pytest.approx(theirs, abs=SAME * float(np.abs(theirs).max()))
    assert float(np.abs(theirs).max()) > 1e-5


@pytest.mark.parametrize("seed", range(3))
def test_sheet_that_is_not_known_is_solved_as_nothing_and_as_all_of_it(seed: int) -> None:
    """Without the sheet nothing holds the body but its members; the two answers enclose what any share of the sheet would give."""
    text = told(drawn_sizes(seed), stiffened=True, closed=False)
    known = read_case(text, "told.yaml", LIBRARY)
    unknown = read_case(text.replace("  body:\n", "  sheet carries: unknown\n  body:\n", 1), "told.yaml", LIBRARY)
    bounds = bounds_of(unknown.frame, PROPERTIES)
    assert bounds_of(known.frame, PROPERTIES) == (Bound(),)
    assert [each.shell for each in bounds] == [Shell.SOFT, Shell.STIFF]
    names = ("right tip", "left rocker middle")
    nothing, every = (movements(unknown, names, each) for each in bounds)
    alone = movements(replace(known, frame=replace(known.frame, panels=())), names)
    assert every == pytest.approx(movements(known, names), abs=1e-12)
    assert nothing == pytest.approx(alone, abs=1e-3 * float(np.abs(alone).max()))
    assert abs(nothing[0, 0, 2]) > 1.2 * abs(every[0, 0, 2])


BASE = drawn_sizes(0)
FAULTS = {
    "to: rail end,": ("to: nowhere,", "there is no station 'nowhere'"),
    "station: hoop, section": ("station: pump, section", "there is no station 'pump'"),
    f"floor: {{z: {BASE['up']} mm}}": (f"floor: {{z: {BASE['up'] + 60} mm}}", "misses the front rails at 'wall'"),
    f"top: {BASE['up'] + BASE['high']} mm": ("top: 1 mm", "its top is not above its foot"),
    f"y: {BASE['y']} mm, z": (f"y: -{BASE['y']} mm, z", "is negative"),
    "firewall: {station: wall": ("firewall: {station: gap", "there is no station 'gap'"),
    "sheet: {thickness: 0.9 mm, material: A36}": ("sheet: {thickness: 7 mm, material: A36}", "is a plate that bends, not sheet"),
    "from: rail start,": ("from: seat,", "they have no length"),
    "  body:\n": ("  points: {left tip: {x: 1 mm}}\n  body:\n", "the body has a point 'left tip' already"),
    "  body:": ("  members: {name: brace}\n  body:", "a block of keys stands here"),  # fuzz seed 41062
    "    rockers:": ("    cowl: {section: cross}\n    rockers:", "no pillar has a waist for it to join"),
    f"width: {BASE['tunnel']} mm": ("width: 1200 mm", "has no width beside the tunnel"),
    "x: 3000.0 mm": ("x: 1000.0 mm", "is not behind 'tip'"),
}


@pytest.mark.parametrize("written", FAULTS)
def test_what_no_body_can_be_is_told_by_line(written: str) -> None:
    text = told(BASE, stiffened=False, closed=False)
    assert written in text
    instead, words = FAULTS[written]
    with pytest.raises(InputError) as raised:
        read_case(text.replace(written, instead, 1), "body.yaml", LIBRARY)
    faults = [each for each in raised.value.faults if words in each.fault]
    assert faults, raised.value
    assert faults[0].place.startswith("body.yaml:")
    assert faults[0].remedy


def test_rails_of_no_known_section_are_not_told_to_miss_the_floor() -> None:
    """They were taken to be of no height."""
    text = told(BASE, stiffened=False, closed=False).replace("section: rail, to", "section: rial, to", 1)
    with pytest.raises(InputError) as raised:
        read_case(text, "body.yaml", LIBRARY)
    assert "no section 'rial'" in str(raised.value)
    assert "misses" not in str(raised.value)


@pytest.mark.parametrize("part", ["points: [left]", "members: {rail: {section: rail}}", "panels: {floor: 1}", "openings: {door: 1}"])
def test_a_part_beside_the_body_that_can_not_be_read_is_refused(part: str) -> None:
    """Found by the fuzz (seed 41062): a list of members that was none ended in a fault of the program's own."""
    text = told(BASE, stiffened=False, closed=False).replace("  body:\n", f"  {part}\n  body:\n", 1)
    with pytest.raises(InputError) as raised:
        read_case(text, "body.yaml", LIBRARY)
    assert [each for each in raised.value.faults if part.partition(":")[0] in str(each)]


def test_a_body_of_one_side_is_doubted_by_line() -> None:
    """Where the tunnel's right wall is left out; the whole body has no such doubt."""
    text = Hand(BASE, stiffened=False, closed=False).text()
    bare = {"right floor": "right inner wall, right inner back", "tunnel top": "right hump back, right hump wall"}
    rows = [each for each in text.splitlines() if "name: right tunnel wall," not in each]
    for name, edge in bare.items():
        rows = [f"{each[:-1]}, free edges: [[{edge}]]}}" if f"name: {name}," in each else each for each in rows]
    said = [each for each in read_case("\n".join(rows), "drawn.yaml", LIBRARY).doubts if "nothing lies opposite" in each.what]
    assert ["'left tunnel wall'" in each.what for each in said] == [True]
    assert said[0].place.startswith("drawn.yaml:")
    assert not [each for each in read_case(text, "drawn.yaml", LIBRARY).doubts if "opposite" in each.what]
