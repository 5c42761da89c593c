"""How often each load case of a file is run: once, or once for each side or way that the file leaves open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from framecheck.model.case import VehicleSide
from framecheck.reading.desk import Desk
from framecheck.reading.form import Record
from framecheck.reading.load_items import LoadItem
from framecheck.reading.load_kinds import EACH, ONE_SIDE, LoadKind, Turn
from framecheck.value_class import value_class

MOST_WAYS = 8
"""A sum of load cases that each have two sides is run for every pairing, up to this many."""


@value_class
class Run:
    """One run of a load case: its name, the words its factors take, the side it happens on."""

    name: str
    words: Mapping[str, str]
    side: VehicleSide | None = None


def runs_of(item: LoadItem) -> tuple[Run, ...]:
    """Return the runs of a load case of the vehicle; its own name alone where nothing is left open."""
    values = {key: value for key, value in item.record.values.items() if isinstance(value, str)}
    open_words = [(key, EACH[word]) for key, word in values.items() if word in EACH]
    if not open_words:
        return (Run(item.name, {}, next((ONE_SIDE[word] for word in values.values() if word in ONE_SIDE), None)),)
    keys = [key for key, _ in open_words]
    return tuple(_run(item.name, keys, turns) for turns in product(*(turns for _, turns in open_words)))


def _run(name: str, keys: list[str], turns: tuple[Turn, ...]) -> Run:
    words = {key: turn.word for key, turn in zip(keys, turns, strict=True)}
    side = next((turn.side for turn in turns if turn.side is not None), None)
    return Run(f"{name}, {' '.join(turn.suffix for turn in turns)}", words, side)


def says_a_side(item: LoadItem) -> bool:
    """Return whether a word of the load case names one side, so that the other is not run."""
    return any(value in ONE_SIDE for value in item.record.values.values() if isinstance(value, str))


def sum_parts(item: LoadItem, names: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, tuple[tuple[str, float], ...]]]:
    """Yield the name and the parts of each run of a sum: every pairing of the sides that its parts are run on."""
    asked: dict[str, float] = item.record["sum of"]
    chosen = tuple(product(*(names.get(name, (name,)) for name in asked)))
    for each in chosen:
        sides = [run.removeprefix(f"{name}, ") for name, run in zip(asked, each, strict=True) if run != name]
        parts = tuple(zip(each, asked.values(), strict=True))
        yield (item.name if len(chosen) == 1 else f"{item.name}, {' and '.join(sides)}"), parts


def run_names(items: Iterable[LoadItem]) -> Mapping[str, tuple[str, ...]]:
    """Return the names under which each load case of a file is run, by the name in the file."""
    items = tuple(items)
    names = {item.name: tuple(run.name for run in runs_of(item)) for item in items if item.kind is not None}
    of_vehicle = dict(names)
    for item in items:
        if item.kind is None:
            is_sum = "sum of" in item.record.values and isinstance(item.record["sum of"], dict)
            names[item.name] = tuple(name for name, _ in sum_parts(item, of_vehicle)) if is_sum else (item.name,)
    return names


def default_item(kind: LoadKind) -> LoadItem:
    """Return a kind of load case as it runs where a file says nothing of it."""
    return LoadItem(kind.name, kind, Record(0, kind.name, {each.key: each.default for each in kind.form.fields}))


def refuse_clashes(items: tuple[LoadItem, ...], desk: Desk) -> None:
    """Note every name that stands in the file for one load case and would be given to a run of another."""
    lines = {item.name: item.record.line for item in items}
    for item in items:
        for name in run_names(items)[item.name]:
            if name != item.name and name in lines:
                fault = f"it runs on each side, and one run would be called '{name}', as the load case on line {lines[name]} is"
                desk.refuse(item.record.line, item.record.subject, fault, "give one of the two another name")


def refuse_many_ways(items: tuple[LoadItem, ...], desk: Desk) -> None:
    """Note sums whose parts have too many sides between them."""
    for item in items:
        if item.kind is None and "sum of" in item.record.values and len(run_names(items)[item.name]) > MOST_WAYS:
            fault = f"its parts run on both sides, which makes {len(run_names(items)[item.name])} sums"
            desk.refuse(item.record.line, item.record.subject, fault, "name a side in its parts: 'one wheel up, left'")
