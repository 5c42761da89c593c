"""One ladder written in several ways is one ladder: a rail from its other end, as two members, in inches, from another origin.

None needs a source: nature does not know how a frame was written down. Rails open or closed, kinked, of steel and aluminium.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from pytest import approx

from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

MEMORY = SHARED
SEED, DRAWN, EXACT = 14, 8, 1e-6
Place = tuple[float, float, float]

SECTIONS = """
sections:
  box: {{shape: rectangular tube, height: {100}, width: {50}, wall: {4}, outside radius: {8}, material: A500 grade B}}
  thin: {{shape: rectangular tube, height: {100}, width: {50}, wall: {2.5}, outside radius: {5}, material: A500 grade B}}
  open: {{shape: channel, height: {110}, flange: {45}, wall: {4}, inside radius: {4}, material: A36}}
  light: {{shape: rectangular tube, height: {90}, width: {50}, wall: {5}, material: 6061-T6}}
  cross: {{shape: rectangular tube, height: {60}, width: {50}, wall: {3}, material: A500 grade B}}
  tray: {{shape: channel, height: {70}, flange: {40}, wall: {3}, inside radius: {3}, material: A36}}
"""


@dataclass(frozen=True)
class Rail:
    """A rail through points; change: the point at which another section begins, and which."""

    name: str
    points: tuple[str, ...]
    section: str
    open_side: str
    change: tuple[str, str] | None = None


@dataclass(frozen=True)
class Ladder:
    """Points in m, rails, crossmembers as (points, section, ends), forces in N on points by load case."""

    points: dict[str, Place]
    rails: tuple[Rail, ...]
    crosses: tuple[tuple[tuple[str, ...], str, str], ...]
    forces: tuple[dict[str, Place], ...]
    inches: bool = False

    def amount(self, metres: float) -> str:
        return f"{metres / 0.0254!r} in" if self.inches else f"{metres * 1000!r} mm"

    def text(self) -> str:
        """Return the case file."""
        points = [f"    {name}: {{{self._vector(at, self.amount)}}}" for name, at in self.points.items()]
        rails = [self._rail(rail) for rail in self.rails]
        crosses = [
            f"    - {{name: cross {k}, points: [{', '.join(through)}], section: {of}{self._side(of, 'rearward')}{ends}}}"
            for k, (through, of, ends) in enumerate(self.crosses)
        ]
        held = [f"    - {{point: {name}, held: place}}" for name in ("l0", "r0")] + ["    - {point: r4, held: [z]}"]
        loads = [f"  - case {k}:\n      forces: [{self._forces(each)}]" for k, each in enumerate(self.forces)]
        head = ["title: ladder", "origin: somewhere", _sizes(SECTIONS, self.amount).strip(), "frame:", "  points:"]
        return "\n".join([*head, *points, "  members:", *rails, *crosses, "  supports:", *held, "load cases:", *loads]) + "\n"

    @staticmethod
    def _vector(place: Place, told: Any) -> str:
        return ", ".join(f"{axis}: {told(value)}" for axis, value in zip("xyz", place, strict=True))

    @staticmethod
    def _side(section: str, side: str) -> str:
        return f", open side: {side}" if section in ("open", "tray") else ""

    def _forces(self, forces: dict[str, Place]) -> str:
        return ", ".join(
            f"{{point: {name}, force: {{{self._vector(of, lambda value: f'{value!r} N')}}}}}" for name, of in forces.items()
        )

    def _rail(self, rail: Rail) -> str:
        change = ""
        if rail.change is not None:
            at = self.station(rail.points, rail.points.index(rail.change[0]))
            change = f", changes: [{{at: {self.amount(at)}, section: {rail.change[1]}}}]"
        through = ", ".join(rail.points)
        side = self._side(rail.section, rail.open_side)
        return f"    - {{name: {rail.name}, points: [{through}], section: {rail.section}{side}{change}}}"

    def station(self, points: tuple[str, ...], number: int) -> float:
        places = np.array([self.points[name] for name in points[: number + 1]])
        return float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())


def _sizes(text: str, told: Any) -> str:
    """Return text with each size in braces, mm, told in the case's unit."""
    pieces = text.replace("{{", "\0").replace("}}", "\1").split("{")
    filled = [pieces[0], *(told(float(size) / 1000) + rest for size, rest in (each.split("}", 1) for each in pieces[1:]))]
    return "".join(filled).replace("\0", "{").replace("\1", "}")


def drawn(number: int) -> Ladder:
    """Return a ladder, the same each time: five points a side with a kick-up and a jog, crossmembers at the second and the fourth."""
    rng = np.random.default_rng((SEED, number))
    xs = -np.cumsum(np.concatenate(([0.0], rng.uniform(0.3, 0.9, 4)))).round(3)
    ups, outs = np.cumsum(rng.uniform(-0.12, 0.12, 5)).round(3), np.cumsum(rng.uniform(-0.06, 0.06, 5)).round(3)
    if rng.random() < 0.3:
        ups, outs = np.zeros(5), np.zeros(5)
    kind = ["box", "open", "light", "change"][number % 4]
    points: dict[str, Place] = {}
    rails = []
    for side, name, way, inboard in (("l", "left", 1.0, "right"), ("r", "right", -1.0, "left")):
        places = [(float(x), way * (0.4 + float(out)), float(up)) for x, out, up in zip(xs, outs, ups, strict=True)]
        points |= {f"{side}{k}": at for k, at in enumerate(places)}
        change = (f"{side}{rng.integers(1, 4)}", "thin") if kind == "change" else None
        rails.append(Rail(f"{name} rail", tuple(f"{side}{k}" for k in range(5)), "box" if change else kind, inboard, change))
    makes = ["", ", ends: butt on one face", ", ends: through both faces", ", ends: rigid"]
    crosses = []
    for at in (1, 2, 3):
        left, right = (np.array(points[f"{side}{at}"]) for side in "lr")
        points[f"m{at}"] = tuple(((left + right) / 2).tolist())
        of = ["cross", "cross", "tray"][rng.integers(3)]
        crosses.append(((f"l{at}", f"m{at}", f"r{at}"), of, makes[rng.integers(4)]))
    forces = tuple({name: _push(rng) for name in ("l4", "m2", f"r{k}")} for k in (1, 3))
    return Ladder(points, tuple(rails), tuple(crosses), forces)


def _push(rng: np.random.Generator) -> Place:
    x, y, z = (float(value) for value in rng.uniform(-3000, 3000, 3).round(0))
    return x, y, z


def turned_round(ladder: Ladder) -> Ladder:
    """Return the ladder with the left rail, and the second crossmember, drawn from their other ends."""
    rail, *others = ladder.rails
    other = replace(rail, points=rail.points[::-1])
    if rail.change is not None:
        other = replace(other, section=rail.change[1], change=(rail.change[0], rail.section))
    crosses = list(ladder.crosses)
    crosses[1] = (crosses[1][0][::-1], *crosses[1][1:])
    return replace(ladder, rails=(other, *others), crosses=tuple(crosses))


def in_two(ladder: Ladder, at: int, second_reversed: bool) -> Ladder:
    """Return the ladder with both rails as two members, and the first crossmember too, which meet at a point."""
    rails = []
    for rail in ladder.rails:
        cut = rail.points.index(rail.change[0]) if rail.change else at
        beyond = rail.points[cut:][::-1] if second_reversed else rail.points[cut:]
        rails.append(replace(rail, name=f"{rail.name} front", points=rail.points[: cut + 1], change=None))
        of = rail.change[1] if rail.change else rail.section
        rails.append(replace(rail, name=f"{rail.name} rear", points=beyond, section=of, change=None))
    through, of, ends = ladder.crosses[0]
    start, end = (f", start: {ends[8:]}" if ends else "", f", end: {ends[8:]}" if ends else "")
    halves = ((through[:2], of, f"{start}, end: rigid"), (through[1:], of, f", start: rigid{end}"))
    return replace(ladder, rails=tuple(rails), crosses=(*halves, *ladder.crosses[1:]))


def moved(ladder: Ladder, by: Place) -> Ladder:
    """Return the ladder counted from another origin."""
    points = {name: tuple(a + b for a, b in zip(at, by, strict=True)) for name, at in ladder.points.items()}
    return replace(ladder, points=points)  # type: ignore[arg-type]


def answer(ladder: Ladder) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return movements under each bound, the grounds' forces, and the least factor on yield, load case by load case.

    Mixtures of unlike ends come in the order of the members: the factor counts them, whichever comes first.
    """
    results = run(read_case(ladder.text(), "ladder.yaml", LIBRARY), MEMORY)
    names = list(ladder.points)
    alike = [solution for solution in results.outcome.solutions if solution.bound.apart is None]
    moves = np.stack([solution.displacements[[solution.points.index(name) for name in names]] for solution in alike])
    grounds = np.array([[solution.reactions[name] for name in ("l0", "r0", "r4")] for solution in alike])
    rows = json.loads(as_json(results, "a caution"))["checks"]
    least = [
        min(row["safety_factor"] for row in rows if row["check"] == "yield" and row["load_case"] == f"case {k}") for k in (0, 1)
    ]
    return moves, grounds, np.array(least)


def same(one: Ladder, other: Ladder) -> None:
    *before, least = answer(one)
    *after, other_least = answer(other)
    for first, second in zip(before, after, strict=True):
        assert second.shape == first.shape
        assert second == approx(first, abs=EXACT * float(np.abs(first).max()))
    assert other_least == approx(least, rel=EXACT)


@pytest.mark.parametrize("number", range(DRAWN))
def test_however_it_is_written(number: int) -> None:
    ladder = drawn(number)
    same(ladder, turned_round(ladder))
    same(ladder, in_two(ladder, 1 + number // 4 % 3, second_reversed=bool(number % 2)))
    same(ladder, moved(ladder, (0.1778, -0.05, 1.3)))
    same(ladder, replace(ladder, inches=True))
