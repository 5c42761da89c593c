"""A case file written in another way: other units, another order, another origin; a hair more of a number; a thing left out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

import yaml

from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.run import run
from framecheck.study.frame_measures import points_of, stiffness_of
from framecheck.units import GAUGE, Gauges
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

MEMORY = SHARED
Path = tuple[str | int, ...]
Key = tuple[str, ...]
NUMBER = r"[-+]?(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?(?:e[-+]?\d+)?)"
AMOUNT = re.compile(rf"({NUMBER})\s*([a-zA-Z·%°]\S*)")
OTHER = {
    "in": ("mm", 25.4), "ft": ("m", 0.3048), "mm": ("in", 1 / 25.4), "m": ("in", 1 / 0.0254), "kN": ("N", 1000.0),
    "lb": ("kg", 0.45359237), "kg": ("lb", 1 / 0.45359237), "ksi": ("MPa", 6.894757293168), "GPa": ("MPa", 1000.0),
}  # fmt: skip
"""The unit that takes another's place, and how many of it that one is: exact by definition (pound, inch), or their product."""
POUND_FORCE = ("N", 4.4482216152605)
FORCES = frozenset(("force", "holds", "pretension", "working load limit", "stated load"))
"""Keys under which pounds are a force."""
METRES = {"in": 0.0254, "ft": 0.3048, "mm": 0.001, "m": 1.0}
FROM_ELSEWHERE = frozenset(
    ("force", "moment", "arm", "origin", "corners", "stiffness", "springs", "radii", "load", "facing", "along", "offset", "plates")
)
"""Keys under which x is not counted from the origin."""
IN_NO_ORDER = frozenset(
    ("joints", "members", "supports", "masses", "forces", "details", "cuts", "crossmembers", "springs", "clearances", "straps",
     "plates", "readings", "plies")
)  # fmt: skip
COUNTS = frozenset(("across", "along", "shear planes", "framecheck", "fillets", "bolts", "seams", "plugs"))
NAMES = frozenset(("name", "material", "section", "grade", "electrode"))
"""Keys under which a number is part of a name: 1020 DOM."""
WORDS = frozenset(("title", "about", "origin", "accepted"))


@dataclass(frozen=True)
class Came:
    """How a case came out: its verdict, what is used of each thing in each way (and how the bare frame gives), what is open."""

    state: str
    used: dict[Key, float]
    open: frozenset[Key]


def came(text: str) -> Came:
    """Return how a case comes out."""
    case = read_case(text, "case.yaml", LIBRARY)
    results = run(case, MEMORY)
    used = bare_frame(case)
    for row in results.rows:
        key = (row.check.name, row.mode.name, row.subject.words, row.part, str(row.load_case))
        used[key] = max(used.get(key, 0.0), row.demand / row.capacity if row.capacity else 0.0)
    left = frozenset((each.entry.question.name, each.entry.subject.words) for each in results.verdict.ledger.open)
    return Came(results.verdict.state.name, used, left)


def bare_frame(case: Case) -> dict[Key, float]:
    """Return the stiffness of a case's bare frame between its axles, by bound; nothing where it has no vehicle."""
    if case.vehicle is None:
        return {}
    found = {}
    for each in stiffness_of(case, points_of(case), MEMORY):
        ways = {"torsional": each.torsional, "bending": each.bending, "sideways": each.sideways}
        found |= {("stiffness", each.bound.name, way, "", ""): value for way, value in ways.items() if value is not None}
    return found


def differences(first: Came, second: Came, share: float) -> list[str]:
    """Return in which rows and words two answers differ by more than a share."""
    said = [] if first.state == second.state else [f"{first.state} and {second.state}"]
    said += [f"in one alone: {each}" for each in sorted(set(first.used) ^ set(second.used))]
    said += [f"open in one alone: {each}" for each in sorted(first.open ^ second.open)]
    both = {key: (value, second.used[key]) for key, value in first.used.items() if key in second.used}
    return said + [f"{key}: {a:.7g} and {b:.7g}" for key, (a, b) in both.items() if abs(a - b) > share * max(abs(a), 1e-6)]


def number(text: str) -> float:
    """Return a number written as 3, 1/4 or 1 1/2."""
    size = sum(float(over) / float(under or 1) for over, _, under in (part.partition("/") for part in text.lstrip("+-").split()))
    return -size if text.startswith("-") else size


def scalars(node: yaml.Node, path: Path = ()) -> Iterator[tuple[Path, yaml.ScalarNode]]:
    """Yield every value with the keys that lead there."""
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield from scalars(value, (*path, key.value))
    elif isinstance(node, yaml.SequenceNode):
        for count, value in enumerate(node.value):
            yield from scalars(value, (*path, count))
    elif isinstance(node, yaml.ScalarNode):
        yield path, node


def amounts(top: yaml.Node) -> Iterator[tuple[Path, yaml.ScalarNode, float, str]]:
    """Yield every amount: where it stands, its number, its unit."""
    for path, node in scalars(top):
        found = AMOUNT.fullmatch(node.value)
        if found and path[0] not in WORDS:
            yield path, node, number(found[1]), found[2]


def write(node: yaml.ScalarNode, value: float, unit: str) -> None:
    """Put another amount in a place."""
    node.value, node.style = f"{value!r} {unit}".strip(), "'" if unit else None
    node.tag = f"tag:yaml.org,2002:{'str' if unit else 'float'}"


def in_other_units(text: str) -> str:
    """Return a case with its lengths, masses, forces and stresses in other units."""
    top = yaml.compose(text)
    for path, node, value, unit in amounts(top):
        if unit in OTHER:
            other, many = POUND_FORCE if unit == "lb" and FORCES & set(map(str, path)) else OTHER[unit]
            write(node, value * many, other)
    return str(yaml.serialize(top))


def from_another_origin(text: str, ahead: float) -> str:
    """Return a case whose x is counted from `ahead` metres behind."""
    top = yaml.compose(text)
    for path, node, value, unit in amounts(top):
        if path[-1] == "x" and unit in METRES and not FROM_ELSEWHERE & set(map(str, path)):
            write(node, value + ahead / METRES[unit], unit)
    return str(yaml.serialize(top))


def in_another_order(text: str, chance: Random) -> str:
    """Return a case whose keys, and items of lists that have no order, stand in another one."""
    top = yaml.compose(text)

    def shuffle(node: yaml.Node, within: str) -> None:
        if isinstance(node, yaml.MappingNode):
            chance.shuffle(node.value)
            for key, value in node.value:
                shuffle(value, key.value)
        elif isinstance(node, yaml.SequenceNode):
            if within in IN_NO_ORDER:
                chance.shuffle(node.value)
            for value in node.value:
                shuffle(value, "")

    shuffle(top, "")
    return str(yaml.serialize(top))


def stepped(text: str, share: float, gauges: Gauges | None = None) -> Iterator[tuple[Path, str]]:
    """Yield a case with one number after another larger by a share, a zero by that share of its SI unit; counts stay.

    gauges: what a gauge's thickness is, to step it too.
    """
    for place, (path, node) in enumerate(scalars(yaml.compose(text))):
        found = AMOUNT.fullmatch(node.value) or re.fullmatch(rf"({NUMBER})()", node.value)
        if path[0] in WORDS or path[-1] in NAMES or (found and not found[2] and path[-1] in COUNTS):
            continue
        if found and found[2] != "ga":
            value = number(found[1])
            other = value * (1 + share) if value else share / METRES.get(found[2], 1.0), found[2]
        elif gauges is not None and (gauge := GAUGE.fullmatch(node.value)):
            other = gauges[gauge[2], int(gauge[1])] * (1 + share), "m"
        else:
            continue
        top = yaml.compose(text)
        write(list(scalars(top))[place][1], *other)
        yield path, str(yaml.serialize(top))


def less_one(text: str) -> Iterator[tuple[Path, str]]:
    """Yield a case without one key or item after another."""
    top = yaml.compose(text)

    def places(node: yaml.Node, path: Path) -> Iterator[tuple[list[object], int, Path]]:
        if not isinstance(node, yaml.MappingNode | yaml.SequenceNode):
            return
        for count, each in enumerate(node.value):
            key, value = (each[0].value, each[1]) if isinstance(node, yaml.MappingNode) else (count, each)
            yield node.value, count, (*path, key)
            yield from places(value, (*path, key))

    for items, count, path in list(places(top, ())):
        if path[0] not in WORDS:
            taken = items.pop(count)
            yield path, str(yaml.serialize(top))
            items.insert(count, taken)
