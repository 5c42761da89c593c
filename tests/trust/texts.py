"""Texts to read, each from a seed: random bytes, random YAML, demo cases damaged within their structure, extreme numbers."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from random import Random

import yaml

from tests.trust.frames import frame

ROOT = Path(__file__).parents[2]
SMALL = """\
title: Bench
origin: the left end
sections:
  own: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, outside radius: 8 mm, material: S235}
  bent: {shape: channel, height: 100 mm, flange: 45 mm, wall: 3 mm, inside radius: 3 mm, material: S355}
frame:
  points:
    a: {x: 0 mm, y: 0 mm, z: 0 mm}
    b: {x: 1000 mm, y: 0 mm, z: 0 mm}
    c: {x: 1000 mm, y: 700 mm, z: 0 mm}
    d: {x: 0 mm, y: 700 mm, z: 100 mm}
  members:
    - {name: first, points: [a, b], section: own}
    - {name: second, points: [b, c], section: bent, start: butt on one face}
    - {name: third, points: [c, d], section: own, roll: 10 deg}
  supports:
    - {point: a, held: all}
    - {point: d, held: place}
load cases:
  - push: {own weight: 1, forces: [{point: b, force: {z: -2 kN}}, {point: c, moment: {x: 100 Nm}}]}
  - heat: {warmings: [{member: first, rise: 40 K}]}
targets: {safety factor: 1.5}
"""
NUMBER = re.compile(r"(?<=: )\d+(?:\.\d+)?(?= ?[a-zA-Z}%,]| ?$)", re.MULTILINE)
FACTORS = (0.0, -1.0, 1e-12, 1e-6, 1e-3, 0.01, 0.1, 0.5, 0.9, 1.1, 2.0, 10.0, 100.0, 1e3, 1e6, 1e12, 1e100, 1e300)
WORDS = (
    "", "~", "[]", "{}", "no", "0", "0 mm", "-1 in", "1e999 in", "1e-300 mm", "1e300 kg", "nan", "inf m", "1/0 in", "3,5 mm",
    "14 ga", "1 in", "9 deg", "*x", "rails", "all", "place", "free", "butt on one face", "pinned", "through both faces",
    "left", "up", "forward", "static", "'=cmd()'", "'<script>alert(1)</script>'", "'[red]x[/red]'", "é\u202eß", "a" * 300,
    "{x: 1 in}", "[a, b]", "'a\\0b'", '"\\ud83d\\ude00"', "!!python/object/apply:os.system [id]", "<<", "- 1", "? [x]: y",
)  # fmt: skip
LETTERS = "{}[]:,\"'\t#&*!|>%@`-\n 9\u0000\u0085\ufeff"

Maker = Callable[[Random], bytes]
FAST = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""libyaml's, where this PyYAML was built with it: drawing a text must not cost more than reading it."""


@cache
def demos() -> tuple[str, ...]:
    """Return the demo cases and a small bench case."""
    return (SMALL, *(file.read_text(encoding="utf-8") for file in sorted((ROOT / "cases").glob("*.yaml"))))


@cache
def spans(text: str) -> tuple[tuple[int, int], ...]:
    """Return where each value of a YAML text begins and ends."""
    found: list[tuple[int, int]] = []

    def walk(node: yaml.Node) -> None:
        found.append((node.start_mark.index, node.end_mark.index))
        if isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                walk(key)
                walk(value)
        elif isinstance(node, yaml.SequenceNode):
            for value in node.value:
                walk(value)

    top = yaml.compose(text, Loader=FAST)
    if top is not None:
        walk(top)
    return tuple(found[1:])


def random_bytes(chance: Random) -> bytes:
    """Return bytes that need not be text."""
    return chance.randbytes(chance.choice((0, 1, 10, 300, 5000)))


def random_yaml(chance: Random) -> bytes:
    """Return YAML of known and unknown words nested at random."""
    return f"title: x\n{'frame' if chance.random() < 0.5 else 'vehicle'}: {_flow(chance, 0)}\n".encode(errors="replace")


def _flow(chance: Random, depth: int) -> str:
    kind = chance.random()
    if depth > 6 or kind < 0.3:
        return _word(chance)
    if kind < 0.6:
        return "[" + ", ".join(_flow(chance, depth + 1) for _ in range(chance.randrange(5))) + "]"
    return "{" + ", ".join(f"{_word(chance)}: {_flow(chance, depth + 1)}" for _ in range(chance.randrange(5))) + "}"


def _word(chance: Random) -> str:
    text = chance.choice(demos())
    start, end = chance.choice(spans(text))
    return chance.choice((chance.choice(WORDS), text[start:end][:200]))


def damaged(chance: Random) -> bytes:
    """Return a demo case with one to four things changed: values swapped, lines gone or doubled, letters changed."""
    text = chance.choice(demos())
    for _ in range(chance.randrange(1, 5)):
        text = chance.choice((_replaced, _replaced, _swapped, _lines, _letter))(text, chance)
    return text.encode(errors="replace")


def _replaced(text: str, chance: Random) -> str:
    start, end = _span(text, chance)
    return text[:start] + chance.choice(WORDS) + text[end:]


def _swapped(text: str, chance: Random) -> str:
    """Put one of the file's own values in the place of another."""
    start, end = _span(text, chance)
    first, last = _span(text, chance)
    return text[:start] + text[first:last] + text[end:]


def _span(text: str, chance: Random) -> tuple[int, int]:
    """Return where a value stands; of a text that is broken already, where any letters stand."""
    try:
        return chance.choice(spans(text))
    except (yaml.YAMLError, AttributeError, IndexError):
        at = chance.randrange(len(text) + 1)
        return at, min(at + chance.randrange(20), len(text))


def _lines(text: str, chance: Random) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    taken = lines[at : at + chance.choice((1, 1, 1, 3, 8))]
    if chance.random() < 0.5:
        del lines[at : at + len(taken)]
    else:
        lines[at:at] = taken
    return "\n".join(lines)


def _letter(text: str, chance: Random) -> str:
    at = chance.randrange(len(text) + 1)
    return text[:at] + chance.choice(LETTERS) + text[at + 1 :]


def extreme(chance: Random) -> bytes:
    """Return a demo case whose every value still parses, some of its numbers far larger or smaller, or its sense turned."""
    text = chance.choice((SMALL, chance.choice(demos())))
    for _ in range(chance.randrange(1, 4)):
        text = _scaled(text, chance)
    return text.encode()


def _scaled(text: str, chance: Random) -> str:
    numbers = list(NUMBER.finditer(text))
    if not numbers:
        return text
    found = chance.choice(numbers)
    value = float(found[0]) * chance.choice(FACTORS)
    return f"{text[: found.start()]}{value:.6g}{text[found.end() :]}"


def proportioned(chance: Random) -> bytes:
    """Return the bench case with its places and sizes drawn over many decades: long and short, stiff and soft, nearly in line."""
    text = SMALL
    for word in ("x: 1000 mm", "y: 700 mm", "z: 100 mm"):
        if chance.random() < 0.5:
            size = 10.0 ** chance.uniform(-4, 5)
            text = text.replace(word, f"{word.split(':')[0]}: {size:.6g} mm", chance.choice((1, 2)))
    for word in (
        "height: 100 mm, width: 50 mm, wall: 4 mm, outside radius: 8 mm",
        "height: 100 mm, flange: 45 mm, wall: 3 mm",
    ):
        if chance.random() < 0.5:
            text = text.replace(word, _sized(word, 10.0 ** chance.uniform(-2, 2)))
    return text.encode()


def _sized(words: str, times: float) -> str:
    return re.sub(r"\d+", lambda found: f"{float(found[0]) * times:.6g}", words)


def damaged_frame(chance: Random) -> bytes:
    """Return a frame drawn at random with one or two of its numbers or values changed."""
    text = frame(chance).decode()
    for _ in range(chance.randrange(1, 3)):
        text = _scaled(text, chance) if chance.random() < 0.5 else _replaced(text, chance)
    return text.encode(errors="replace")


MAKERS: Mapping[str, tuple[Maker, float]] = {
    "random bytes": (random_bytes, 0.08),
    "random YAML": (random_yaml, 0.15),
    "damaged demo": (damaged, 0.25),
    "extreme numbers": (extreme, 0.12),
    "extreme proportions": (proportioned, 0.08),
    "drawn frame": (frame, 0.22),
    "damaged frame": (damaged_frame, 0.10),
}


READINGS = """\
rig: torsion
arm: 40 in
readings:
  - {load: 0 lb, dials: {A: 0 in, B: 0 in}}
  - {load: 100 lb, dials: {A: 0.047 in, B: -0.048 in}}
  - {step: 2, load: 200 lb, dial: A, reading: 0.095 in}
  - {step: 2, load: 200 lb, dial: B, reading: -0.094 in}
  - {load: 100 lb, dials: {A: 0.048 in, B: -0.047 in}}
  - {load: 0 lb, dials: {A: 0.001 in, B: 0 in}}
"""


def readings(seed: int) -> bytes:
    """Return a file of readings, two of three times with one to three things changed or numbers far too large."""
    chance, text = Random(seed), READINGS
    for _ in range(chance.randrange(4)):
        text = chance.choice((_replaced, _swapped, _lines, _letter, _scaled))(text, chance)
    return text.encode(errors="replace")


def drawn(seed: int) -> tuple[str, bytes]:
    """Return the kind and the text of a seed."""
    chance = Random(seed)
    kinds = list(MAKERS)
    kind = chance.choices(kinds, [MAKERS[each][1] for each in kinds])[0]
    return kind, MAKERS[kind][0](chance)
