"""Laws that hold from the text of a case to its JSON, over bench frames drawn at random: a cranked beam held at both ends or one.

None needs a source: equilibrium, superposition and reciprocity of linear statics, symmetry, and the indifference of nature to units,
to names, and to which way a list is written.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import cycle
from typing import Any

import numpy as np
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.model.arrays import Array
from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.memory import SHARED
from tests.unit.reading.shop import LIBRARY

FEW = settings(max_examples=4, deadline=None, derandomize=True, phases=[Phase.explicit, Phase.generate])
Sizes = tuple[Decimal, Decimal, Decimal, Decimal]
Place = tuple[Decimal, Decimal, Decimal]
MM = Decimal("25.4")
KILO = Decimal("4.4482216152605")
"""kN in a kip, exact: 0.45359237 x 9.80665."""


@dataclass(frozen=True)
class Bench:
    """Places in in, a tube's height, width, wall and outside radius in in, forces on b and c in kip by load case."""

    places: tuple[Place, ...]
    tube: Sizes
    forces: tuple[tuple[Place, Place], ...]
    held: str = "all"

    def text(self, metric: bool = False, names: str = "abcd", backwards: bool = False) -> str:
        """Return the case file, in inches and kips or in mm and kN."""
        unit, size, kilo, force = ("mm", MM, "kN", KILO) if metric else ("in", Decimal(1), "kip", Decimal(1))

        def amounts(place: Place, times: Decimal, of: str) -> str:
            return ", ".join(f"{axis}: {value * times} {of}" for axis, value in zip("xyz", place, strict=True))

        a, b, c, d = tuple(names)
        points = [f"    {name}: {{{amounts(at, size, unit)}}}" for name, at in zip(names, self.places, strict=True)]
        pairs = ((a, b), (b, c), (c, d))
        rigid = "start: rigid, end: rigid"
        members = [f"    - {{name: {p}{q}, points: [{p}, {q}], section: tube, {rigid}}}" for p, q in pairs]
        height, width, wall, radius = (f"{value * size} {unit}" for value in self.tube)
        supports = [
            f"    - {{point: {a}, held: {self.held}}}",
            *([f"    - {{point: {d}, held: place}}"] * (self.held != "alone")),
        ]
        if backwards:
            points, members, supports = points[::-1], members[::-1], supports[::-1]
        loads = [
            f"  - case {n}: {{forces: [{{point: {b}, force: {{{amounts(on_b, force, kilo)}}}}},"
            f" {{point: {c}, force: {{{amounts(on_c, force, kilo)}}}}}]}}"
            for n, (on_b, on_c) in enumerate(self.forces)
        ]
        tube = f"{{shape: rectangular tube, height: {height}, width: {width}, wall: {wall}, outside radius: {radius}, material: S235}}"
        lines = ("title: bench", "origin: a", "sections:", f"  tube: {tube}", "frame:", "  points:", *points, "  members:",
                 *members, "  supports:", *supports, "load cases:", *loads)  # fmt: skip
        return "\n".join(lines).replace("held: alone", "held: all") + "\n"


def answer(text: str) -> dict[str, Any]:
    """Return the JSON of a case."""
    found: dict[str, Any] = json.loads(as_json(run(read_case(text, "bench.yaml", LIBRARY), STORE), ""))
    return found


STORE = SHARED


def buckles_late(found: dict[str, Any]) -> bool:
    """Return whether every load case stays so far from buckling the frame (20 times what is asked) that movements are linear."""
    rows = [row for row in found["checks"] if row["check"] == "frame buckling"]
    return all(row["safety_factor"] > 0.877 * 20 * row["target"] for row in rows)


def moved(found: dict[str, Any], case: int, names: str = "abcd") -> Array:
    """Return displacements and rotations (4, 6) of a load case, m and rad."""
    points = found["load_cases"][case]["points"]
    return np.array([points[name]["displacement_m"] + points[name]["rotation_rad"] for name in names])


def close(found: object, expected: object, rel: float) -> bool:
    """Return whether two trees are alike: texts and keys equal, numbers within a share of the largest of their array."""
    if isinstance(expected, dict):
        assert isinstance(found, dict)
        return found.keys() == expected.keys() and all(close(found[key], expected[key], rel) for key in expected)
    if isinstance(expected, list):
        assert isinstance(found, list)
        if expected and all(isinstance(each, float) for each in expected):
            size = max(map(abs, expected))
            return bool(found == approx(expected, rel=rel, abs=rel * size + 1e-18))
        return len(found) == len(expected) and all(close(f, e, rel) for f, e in zip(found, expected, strict=True))
    return bool(found == approx(expected, rel=rel, abs=1e-12)) if isinstance(expected, float) else found == expected


def tenths(low: int, high: int) -> st.SearchStrategy[Decimal]:
    return st.integers(low, high).map(lambda value: Decimal(value) / 10)


def place(x: int) -> st.SearchStrategy[Place]:
    return st.tuples(tenths(x, x + 80), tenths(-60, 60), tenths(-60, 60))


def force() -> st.SearchStrategy[Place]:
    return st.tuples(tenths(-20, 20), tenths(-20, 20), tenths(1, 20))


tubes = st.sampled_from((("4", "2", "0.1875", "0.375"), ("3", "3", "0.125", "0.25"), ("2", "4", "0.25", "0.5"))).map(
    lambda sizes: (Decimal(sizes[0]), Decimal(sizes[1]), Decimal(sizes[2]), Decimal(sizes[3]))
)
benches = st.builds(
    Bench,
    st.tuples(place(0), place(200), place(400), place(600)),
    tubes,
    st.tuples(st.tuples(force(), force()), st.tuples(force(), force())),
)
PHYSICAL = ("sections", "load_cases", "member_forces", "checks")


@FEW
@given(benches)
def test_inches_and_millimetres_give_the_same_json(context: Bench) -> None:
    """1 in = 25.4 mm, exact: sections, movements, forces and safety factors to 3e-8 of their size; the texts word for word.

    Sizes that differ in their last digit go through the shells of the kinks, whose give is a small difference: 7e-9 was seen.
    """
    inches, metric = answer(context.text()), answer(context.text(metric=True))
    for key in ("load_cases", "member_forces"):
        assert [each.pop("balance_residual", 0) for each in inches[key] + metric[key]]
    for key in PHYSICAL:
        assert alike(inches[key], metric[key], 3e-8), key


def alike(found: Any, expected: Any, rel: float) -> bool:
    """Compare rows key by key, each number against the largest under its key."""
    rows = zip(rows_of(found), rows_of(expected), strict=True)
    largest: dict[str, float] = {}
    for row in rows_of(expected):
        for key, value in row.items():
            if isinstance(value, float):
                largest[key] = max(largest.get(key, 0.0), abs(value))
    for one, other in rows:
        assert one.keys() == other.keys()
        for key, value in other.items():
            if isinstance(value, float):
                if one[key] != approx(value, rel=rel, abs=rel * largest[key] + 1e-15):
                    return False
            elif key not in ("mode",) and not close(one[key], value, rel):
                return False
    return True


def rows_of(found: Any) -> list[dict[str, Any]]:
    return list(found.values()) if isinstance(found, dict) else found


@FEW
@given(benches)
def test_supports_carry_what_acts_and_no_more(context: Bench) -> None:
    """The six equations over loads as written and reactions as told, about the origin."""
    found = answer(context.text())
    at = dict(zip("abcd", np.array(context.places, dtype=float) * 0.0254, strict=True))
    for case, (on_b, on_c) in zip(found["load_cases"], cycle(context.forces), strict=False):  # again under every bound
        pushes = [("b", np.array(on_b, dtype=float) * 1e3 * float(KILO), np.zeros(3))]
        pushes += [("c", np.array(on_c, dtype=float) * 1e3 * float(KILO), np.zeros(3))]
        pushes += [(p, np.array(r["force_n"]), np.array(r["moment_nm"])) for p, r in case["reactions"].items()]
        size = sum(float(np.abs(push).sum()) for _, push, _ in pushes)
        assert sum(push for _, push, _ in pushes) == approx(np.zeros(3), abs=1e-9 * size)
        about = sum(np.cross(at[point], push) + moment for point, push, moment in pushes)
        assert about == approx(np.zeros(3), abs=1e-9 * size)


@FEW
@given(benches)
def test_two_load_cases_add_up(context: Bench) -> None:
    """Superposition: acting together they move every point by the sum, and twice as much moves it twice as far."""
    (b1, c1), (b2, c2) = context.forces
    both = (tuple(p + q for p, q in zip(b1, b2, strict=True)), tuple(p + q for p, q in zip(c1, c2, strict=True)))
    twice = (tuple(2 * p for p in b1), tuple(2 * p for p in c1))
    alone, together = answer(context.text()), answer(replace(context, forces=(both, twice)).text())  # type: ignore[arg-type]
    assume(buckles_late(alone) and buckles_late(together))
    size = max(float(np.abs(moved(alone, case)).max()) for case in (0, 1))
    assert moved(together, 0) == approx(moved(alone, 0) + moved(alone, 1), abs=1e-9 * size)
    assert moved(together, 1) == approx(2 * moved(alone, 0), abs=1e-9 * size)


@FEW
@given(benches, force(), force())
def test_what_one_load_does_to_another_is_mutual(context: Bench, on_b: Place, on_c: Place) -> None:
    """E. Betti (1872): a force on b works along what a force on c moves as the other way about."""
    none = (Decimal(0), Decimal(0), Decimal(0))
    found = answer(replace(context, forces=((on_b, none), (none, on_c))).text())
    at_b, at_c = moved(found, 1)[1, :3], moved(found, 0)[2, :3]
    work = float(np.abs(np.array(on_b, dtype=float)) @ np.abs(at_b))
    expected = float(np.array(on_c, dtype=float) @ at_c)
    assert float(np.array(on_b, dtype=float) @ at_b) == approx(expected, abs=1e-9 * work)


@FEW
@given(benches)
def test_the_mirror_image_moves_as_the_mirror_image(context: Bench) -> None:
    """A tube is its own mirror image, its mesh nearly so (1e-6): y, and turns about x and z, change sign."""

    def mirrored(at: Place) -> Place:
        return at[0], -at[1], at[2]

    image = replace(
        context,
        places=tuple(map(mirrored, context.places)),
        forces=tuple((mirrored(b), mirrored(c)) for b, c in context.forces),
    )
    one, other = answer(context.text()), answer(image.text())
    signs = np.array([1, -1, 1, -1, 1, -1])
    for case in (0, 1):
        size = np.abs(moved(one, case)).max()
        assert moved(other, case) == approx(signs * moved(one, case), abs=1e-5 * size)


@FEW
@given(benches)
def test_names_and_the_order_of_lists_mean_nothing(context: Bench) -> None:
    """Points called otherwise, and points, members and supports listed backwards."""
    one, other = answer(context.text()), answer(context.text(names="qsrp", backwards=True))
    for case in (0, 1):
        size = np.abs(moved(one, case)).max()
        assert moved(other, case, "qsrp") == approx(moved(one, case), abs=1e-9 * size)
    factors = [
        sorted(row["safety_factor"] for row in found["checks"] if row["check"] == "yield") for found in (one, other)
    ]
    assert factors[0] == approx(factors[1], rel=1e-9)


@FEW
@given(benches, st.sampled_from([Decimal("0.5"), Decimal(2), Decimal(3)]))
def test_a_frame_of_another_size_is_as_safe_under_forces_that_grow_with_its_area(context: Bench, times: Decimal) -> None:
    """All lengths x n and all forces x n^2: the same stress everywhere, movements x n, turns as before."""
    scaled = replace(
        context,
        places=tuple(tuple(times * value for value in at) for at in context.places),  # type: ignore[misc]
        tube=tuple(times * value for value in context.tube),  # type: ignore[arg-type]
        forces=tuple(tuple(tuple(times**2 * value for value in on) for on in case) for case in context.forces),  # type: ignore[misc]
    )
    one, other = answer(context.text()), answer(scaled.text())
    n = float(times)
    for case in (0, 1):
        size = np.abs(moved(one, case)).max()
        assert moved(other, case) / ([n] * 3 + [1] * 3) == approx(moved(one, case), abs=1e-5 * size)
    assert yields(other) == approx(yields(one), rel=1e-3)  # meshes differ: 1.2e-4 was seen


def yields(found: dict[str, Any]) -> dict[tuple[str, str], float]:
    """Return the yield safety factor by member and load case."""
    rows = [row for row in found["checks"] if row["check"] == "yield"]
    return {(row["where"], row["load_case"]): row["safety_factor"] for row in rows}


@FEW
@given(benches, st.sampled_from(["1.05", "1.2", "1.5"]))
def test_more_wall_is_never_less_safe_against_yield(context: Bench, times: str) -> None:
    """Under fixed forces, held at one end so that walls can't draw load; corners keep their outside radius, 2.5 walls or more."""
    height, width, wall, _ = context.tube
    radius = 4 * wall
    one = replace(context, held="alone", tube=(height, width, wall, radius))
    thick = answer(replace(one, tube=(height, width, wall * Decimal(times), radius)).text())
    thin = answer(one.text())
    assert yields(thin)
    assert {row: factor for row, factor in yields(thin).items() if yields(thick)[row] < factor} == {}
