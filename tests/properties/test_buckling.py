"""A ladder's buckling is the same however it is written: unit, origin, direction, side, one member or two, a point more.

Needs no source: nature is indifferent to all of them. Ladders are drawn at random; from the text of a case to its rows.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from framecheck.reading.case_file import read_case
from framecheck.results.row import Check
from framecheck.run import run
from tests.memory import SHARED
from tests.unit.reading.shop import LIBRARY

STORE = SHARED
FEW = settings(max_examples=3, deadline=None, derandomize=True, phases=[Phase.explicit, Phase.generate])
TUBE = "{shape: rectangular tube, height: 120 mm, width: 50 mm, wall: 3 mm, material: S355}"
CHANNEL = "{shape: channel, height: 120 mm, flange: 50 mm, wall: 4 mm, inside radius: 4 mm, material: S355}"
SAME = 1e-6


@dataclass(frozen=True)
class Ladder:
    """Bays and half width in m, forces in kN on the last and second points. How it is written: everything after `pushes`."""

    bays: tuple[float, ...]
    half: float
    pushes: tuple[float, float, float, float]
    rail: str
    inches: bool = False
    shifted: float = 0.0
    backwards: bool = False
    mirrored: bool = False
    split: float = 0.0
    in_two: bool = False

    def rails(self) -> dict[str, list[str]]:
        """Return the points along each rail, by the rail's name; the left one in two where asked."""
        sides = {side: [f"{side}{number}" for number in range(len(self.bays) + 1)] for side in "lr"}
        if self.split:
            sides["l"].insert(2, "s")
        if not self.in_two:
            return {f"{side} rail": names for side, names in sides.items()}
        return {"l rail": sides["l"][:3], "l rail 2": sides["l"][2:], "r rail": sides["r"]}

    def place(self, x: float, y: float) -> str:
        """Return a point's coordinates in the unit of the file."""
        size, unit = (1 / 0.0254, "in") if self.inches else (1e3, "mm")
        across = -y if self.mirrored else y
        return f"{{x: {(x + self.shifted) * size:.12f} {unit}, y: {across * size:.12f} {unit}, z: {0.3 * size:.12f} {unit}}}"

    def text(self) -> str:
        """Return the case file."""
        x = [0.0]
        for bay in self.bays:
            x.append(x[-1] - bay)
        points = [f"    {side}{n}: {self.place(at, y)}" for n, at in enumerate(x) for side, y in (("l", self.half), ("r", -self.half))]
        points += [f"    s: {self.place(x[1] + self.split * (x[2] - x[1]), self.half)}"] if self.split else []
        end = "{make: rigid, warping: continuous}"
        members = []
        for name, names in self.rails().items():
            opens = f", open side: {'left' if (name[0] == 'l') != self.mirrored else 'right'}" if self.rail == CHANNEL else ""
            ordered = names[:: -1 if self.backwards else 1]
            members.append(f"{{name: {name}, points: [{', '.join(ordered)}], section: rail, start: {end}, end: {end}{opens}}}")
        members += [f"{{name: c{n}, points: [l{n}, r{n}], section: cross, start: rigid, end: rigid}}" for n in range(len(x))]
        last, turn = len(x) - 1, -1 if self.mirrored else 1
        up, along, left, down = self.pushes
        forces = [
            f"{{point: r{last}, force: {{z: {up} kN}}}}",
            f"{{point: l1, force: {{x: {-along} kN, z: -1.5 kN}}}}",
            f"{{point: r1, force: {{y: {left * turn} kN, z: {-down} kN}}}}",
        ]
        return "\n".join(
            [
                "title: ladder", "origin: any", "sections:", f"  rail: {self.rail}",
                "  cross: {shape: rectangular tube, height: 60 mm, width: 60 mm, wall: 3 mm, material: S355}",
                "frame:", "  points:", *points, "  members:", *(f"    - {each}" for each in members), "  supports:",
                *(f"    - {{point: {name}, held: place}}" for name in ("l0", "r0", f"l{last}")),
                "load cases:", "  - twisted:", "      own weight: 1", "      forces:", *(f"        - {each}" for each in forces), "",
            ]
        )  # fmt: skip

    def factors(self) -> dict[str, float]:
        """Return the least safety factor against buckling of each member and the frame; a rail written in two under one name."""
        found: dict[str, float] = {}
        for row in run(read_case(self.text(), "ladder.yaml", LIBRARY), STORE).rows:
            if row.check in (Check.BUCKLING, Check.FRAME_BUCKLING):
                name = row.where.removesuffix(" 2")
                found[name] = min(found.get(name, 1e9), row.safety_factor)
        return found


size = st.floats(0.4, 0.9)
ladders = st.builds(
    Ladder,
    st.lists(size, min_size=2, max_size=4).map(tuple),
    st.floats(0.3, 0.5),
    st.tuples(st.floats(0.5, 4.0), st.floats(0.0, 30.0), st.floats(0.0, 1.0), st.floats(0.5, 3.0)),
    st.sampled_from([TUBE, CHANNEL]),
)
WAYS = {
    "inches": {"inches": True},
    "origin": {"shifted": 0.1778},
    "backwards": {"backwards": True},
    "mirrored": {"mirrored": True},
    "a point more": {"split": 0.37},
    "two members": {"split": 0.37, "in_two": True},
}


@pytest.mark.parametrize("way", WAYS)
@FEW
@given(ladders)
def test_a_ladder_buckles_the_same_however_it_is_written(way: str, ladder: Ladder) -> None:
    plain, other = ladder.factors(), replace(ladder, **WAYS[way]).factors()  # type: ignore[arg-type]
    assert plain.keys() == other.keys()
    for name, factor in plain.items():
        assert other[name] == pytest.approx(factor, rel=SAME), name


@FEW
@given(ladders, st.floats(0.1, 0.9))
def test_a_hair_moves_no_factor_by_a_mile(ladder: Ladder, share: float) -> None:
    """A relative step of 1e-7 in a bay moves nothing by more than 1e-4."""
    moved = replace(ladder, bays=(ladder.bays[0] * (1 + 1e-7 * share), *ladder.bays[1:]))
    plain, other = ladder.factors(), moved.factors()
    for name, factor in plain.items():
        assert other[name] == pytest.approx(factor, rel=1e-4), name
