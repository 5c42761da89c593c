"""Frames drawn at random: topologies, sections that change and back, named parts, names twice, points turned, origins, units."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from random import Random

Point = tuple[float, float, float]
Pair = tuple[int, int]

PIECES = {
    "chan": "shape: channel, height: {0}, flange: {1}, wall: {2}, inside radius: {2}",
    "tube": "shape: rectangular tube, height: {0}, width: {1}, wall: {2}, outside radius: {2}",
    "round": "shape: round tube, diameter: {1}, wall: {2}",
    "brim": "shape: hat, height: {1}, crown: {1}, brim: {3}, wall: {2}",
    "ell": "shape: angle, height: {0}, width: {1}, wall: {2}",
    "zed": "shape: Z, height: {0}, flange: {1}, wall: {2}",
    "eye": "shape: I, height: {0}, width: {1}, web: {2}, flange: {2}",
    "bar": "shape: flat, height: {0}, width: {2}",
    "rod": "shape: round bar, diameter: {3}",
}
WHOLES = (
    "shape: boxed channel, channel: {part}, plate: {2}", "shape: sleeve, outer: {other}, core: {part}",
    "shape: floor closed, base: {part}, sheet: {2}", "shape: channel pair, first: {part}, second: {other}",
    "shape: plated, base: {part}, plates: [{{side: bottom, width: {1}, thickness: {2}}}]",
    "shape: channel pair, first: {part}, second: {part}, pairing: toe to toe", "shape: worn, base: {part}, bottom: {4}, top: {4}",
    "shape: drilled, base: {part}, holes: [{{side: top, size: {3}}}]",
    "shape: plated, base: {part}, plates: [{{side: top, width: {1}, thickness: {2}}}], "
    "joined: {{stitches: {{length: {1}, pitch: {0}}}}}",
)  # fmt: skip
FITTING = {
    "shape: boxed channel": ("chan",), "shape: channel pair": ("chan",), "shape: floor closed": ("chan", "brim"),
    "shape: sleeve": ("tube", "round"), "shape: worn": ("chan", "tube", "eye"), "shape: drilled": ("chan", "tube", "zed", "bar"),
}  # fmt: skip
"""Names of parts that a whole is made of as a rule."""
QUOTE = '"'
LIBRARY = ("tube 4 x 2 x 3/16 in", "channel 5 x 2 x 10 ga")
METALS = ("S235", "S355", "6061-T6")
ENDS = ("", "", ", ends: rigid", ", ends: pinned", ", ends: butt on one face", ", start: through both faces", ", ends: gusseted")
UNITS: Mapping[str, float] = {"mm": 1.0, "cm": 0.1, "m": 0.001, "in": 1 / 25.4, "ft": 1 / 304.8}


def chain(chance: Random) -> tuple[list[Point], list[Pair]]:
    """Return points one after the other."""
    count = chance.randrange(2, 7)
    return [(500.0 * i, 30.0 * chance.random(), 0.0) for i in range(count)], [(i, i + 1) for i in range(count - 1)]


def ladder(chance: Random) -> tuple[list[Point], list[Pair]]:
    """Return two rails with crossmembers."""
    rungs = chance.randrange(2, 6)
    points = [(-600.0 * i, side, 0.0) for i in range(rungs) for side in (400.0, -400.0)]
    rails = [(k, k + 2) for k in range(2 * rungs - 2)]
    return points, [*rails, *((2 * i, 2 * i + 1) for i in range(rungs))]


def truss(chance: Random) -> tuple[list[Point], list[Pair]]:
    """Return tetrahedra side by side."""
    count = chance.randrange(1, 4)
    points = [(300.0 * i, 200.0 * (i % 2), 250.0 * (i % 3 == 0)) for i in range(count + 3)]
    return points, [(i, j) for i in range(len(points)) for j in range(i + 1, min(i + 4, len(points)))]


def star(chance: Random) -> tuple[list[Point], list[Pair]]:
    """Return members that all meet in one point."""
    count = chance.randrange(2, 8)
    return [(0.0, 0.0, 0.0), *((300 * chance.gauss(0, 1), 300 * chance.gauss(0, 1), 100.0 * i) for i in range(count))], [
        (0, i + 1) for i in range(count)
    ]


def ring(chance: Random) -> tuple[list[Point], list[Pair]]:
    """Return members in a ring, crossed or not."""
    count = chance.randrange(3, 8)
    points = [(400.0 * (i % 3), 300.0 * i, 50.0 * (i % 2)) for i in range(count)]
    return points, [*((i, (i + 1) % count) for i in range(count)), *([(0, count // 2)] if chance.random() < 0.5 else [])]


def anyhow(chance: Random) -> tuple[list[Point], list[Pair]]:
    """Return members between any points, in pieces that may not hang together."""
    count = chance.randrange(2, 9)
    points = [tuple(100.0 * chance.randrange(-3, 4) for _ in range(3)) for _ in range(count)]
    return points, [(chance.randrange(count), chance.randrange(count)) for _ in range(chance.randrange(1, 10))]  # type: ignore[return-value]


TOPOLOGIES: tuple[Callable[[Random], tuple[list[Point], list[Pair]]], ...] = (chain, ladder, truss, star, ring, anyhow)


def frame(chance: Random) -> bytes:
    """Return a case whose every word is right as a rule, and whose frame stands as a rule."""
    unit = chance.choice(list(UNITS))
    origin = tuple(chance.choice((0.0, 0.0, 177.8, -1e4)) for _ in range(3))
    points, pairs = chance.choice(TOPOLOGIES)(chance)
    sections = sections_of(chance)
    names = [*(name for name, _ in sections), *LIBRARY]
    turned = chance.random() < 0.3
    members = [
        member(chance, f"m{i}", (pair[::-1] if turned and chance.random() < 0.5 else pair), (names, unit))
        for i, pair in enumerate(pairs)
    ]
    lines = [
        *([f"framecheck: {chance.choice((1, 1, 2))}"] if chance.random() < 0.1 else []),
        "title: drawn", "origin: anywhere", "sections:", *(f"  {name}: {{{sizes}}}" for name, sizes in sections),
        "frame:", "  points:", *(f"    p{i}: {placed(point, origin, unit)}" for i, point in enumerate(points)),
        "  members:", *(f"    - {{{each}}}" for each in members), "  supports:", *supports(chance, len(points)),
        "load cases:", *loads(chance, len(points)), "targets: {safety factor: 1.5}",
    ]  # fmt: skip
    for _ in range(chance.choice((0,) * 10 + (1, 2))):  # a thing twice
        at = chance.randrange(3, len(lines))
        lines.insert(at, lines[at])
    return "\n".join(lines).encode()


def amount(millimetres: float, unit: str) -> str:
    """Return a length in a unit."""
    return f"{millimetres * UNITS[unit]:.9g} {unit}"


def placed(point: Point, origin: tuple[float, ...], unit: str) -> str:
    """Return a point from another origin."""
    x, y, z = (amount(at + moved, unit) for at, moved in zip(point, origin, strict=True))
    return f"{{x: {x}, y: {y}, z: {z}}}"


def sections_of(chance: Random) -> list[tuple[str, str]]:
    """Return sections by name: pieces, and wholes made of pieces and of one another."""
    scale, wall = chance.choice((1.0, 1.0, 0.6, 2.0)), chance.choice((2.0, 3.0, 5.0))
    unit = chance.choice(("mm", "in"))
    sizes = [amount(each, unit) for each in (100 * scale, 50 * scale, wall, 12 * scale, 0.3)]
    found = []
    for name in chance.sample(list(PIECES), chance.randrange(1, 5)):
        found.append((name, f"{PIECES[name].format(*sizes)}, material: {chance.choice(METALS)}"))
    for i in range(chance.choice((0, 1, 2, 3))):
        known = [*(f'"{name}"' for name, _ in found), *(f'"{each}"' for each in LIBRARY)]
        whole = chance.choice(WHOLES)
        fits = [name for name in known if any(word in name for word in FITTING.get(whole.split(",")[0], ("",)))]
        of = fits if fits and chance.random() < 0.8 else known
        shape = whole.format(*sizes, part=chance.choice(of), other=chance.choice(of))
        changed = whole.partition(" ")[2].partition(",")[0] if "worn" in whole or "drilled" in whole else "whole"
        found.append((f"{changed} {of[0].strip(QUOTE).split()[0]} {i}", f"{shape}, material: {chance.choice(METALS)}"))
    return found


def member(chance: Random, name: str, pair: Pair, of: tuple[list[str], str]) -> str:
    """Return a member, its section now and then changing and changing back."""
    names, unit = of
    first, second = chance.choice(names), chance.choice(names)
    said = f"name: {name}, points: [p{pair[0]}, p{pair[1]}], section: '{first}'{chance.choice(ENDS)}"
    if chance.random() < 0.2:
        back = f", {{at: {amount(300, unit)}, section: '{first}'}}" if chance.random() < 0.7 else ""
        said += f", changes: [{{at: {amount(150, unit)}, section: '{second}'}}{back}]"
    return said + (f", roll: {chance.choice((90, 45, -30))} deg" if chance.random() < 0.15 else "")


def supports(chance: Random, count: int) -> list[str]:
    """Return what holds the frame."""
    held = chance.choice(("all", "place", "place", "[x, y, z]", "[z]"))
    at = chance.sample(range(count), min(count, chance.randrange(1, 5)))
    return [f"    - {{point: p{i}, held: {held}}}" for i in at]


def loads(chance: Random, count: int) -> list[str]:
    """Return load cases of forces, moments and own weight."""
    force = "{{point: p{}, force: {{z: {} kN, x: {} N}}}}"
    found = []
    for i in range(chance.randrange(1, 4)):
        pushes = [force.format(chance.randrange(count), chance.choice((-2, -0.2, 5)), chance.choice((0, 100))) for _ in range(2)]
        moment = f", {{point: p{chance.randrange(count)}, moment: {{x: 50 Nm}}}}" if chance.random() < 0.3 else ""
        found.append(f"  - case{i}: {{own weight: 1, forces: [{', '.join(pushes)}{moment}]}}")
    return found
