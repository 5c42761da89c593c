"""Load cases: how often each of a file is run, and records to those of the vehicle, those written force by force, sums; targets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import product
from math import isinf
from typing import Any

from framecheck.model.case import Basis, Case, Factor, LoadCase, Sum, Targets, VehicleSide
from framecheck.model.loads import ZERO, CaseLoads, MemberLoad, Motion, MovedSupport, PointLoad, Support, Warming
from framecheck.model.vehicle import Use
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.frame import RAILS, support_of
from framecheck.reading.build.frame_builder import SAME_PLACE, FrameBuilder
from framecheck.reading.diagnostics import Diagnostics, Taken, did_you_mean, length, listed
from framecheck.reading.form import Record
from framecheck.reading.load_items import LoadItem
from framecheck.reading.load_kinds import EACH, ONE_SIDE, LoadKind, Turn
from framecheck.units import GRAVITY
from framecheck.value_class import value_class
from framecheck.vehicle.load_cases import runnable_kinds

MOST_WAYS = 8
"""A sum of load cases that each have two sides is run for every pairing, up to this many."""


@value_class
class LoadRun:
    """One run of a load case: its name, the words its factors take, the side it happens on."""

    name: str
    words: Mapping[str, str]
    side: VehicleSide | None = None


def runs_of(item: LoadItem) -> tuple[LoadRun, ...]:
    """Return the runs of a load case of the vehicle; its own name alone where nothing is left open."""
    values = {key: value for key, value in item.record.values.items() if isinstance(value, str)}
    open_words = [(key, EACH[word]) for key, word in values.items() if word in EACH]
    if not open_words:
        return (LoadRun(item.name, {}, next((ONE_SIDE[word] for word in values.values() if word in ONE_SIDE), None)),)
    keys = [key for key, _ in open_words]
    return tuple(_run(item.name, keys, turns) for turns in product(*(turns for _, turns in open_words)))


def _run(name: str, keys: list[str], turns: tuple[Turn, ...]) -> LoadRun:
    words = {key: turn.word for key, turn in zip(keys, turns, strict=True)}
    side = next((turn.side for turn in turns if turn.side is not None), None)
    return LoadRun(f"{name}, {' '.join(turn.suffix for turn in turns)}", words, side)


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


def refuse_clashes(items: tuple[LoadItem, ...], diagnostics: Diagnostics) -> None:
    """Note every name that stands in the file for one load case and would be given to a run of another."""
    lines, runs = {item.name: item.record.line for item in items}, run_names(items)
    for item in items:
        for name in runs[item.name]:
            if name != item.name and name in lines:
                fault = f"it runs on each side, and one run would be called '{name}', as the load case on line {lines[name]} is"
                diagnostics.refuse(item.record.line, item.record.subject, fault, "give one of the two another name")


def refuse_many_ways(items: tuple[LoadItem, ...], diagnostics: Diagnostics) -> None:
    """Note sums whose parts have too many sides between them."""
    runs = run_names(items)
    for item in items:
        if item.kind is None and "sum of" in item.record.values and len(runs[item.name]) > MOST_WAYS:
            fault = f"its parts run on both sides, which makes {len(runs[item.name])} sums"
            diagnostics.refuse(item.record.line, item.record.subject, fault, "name a side in its parts: 'one wheel up, left'")


def vehicle_cases(builder: FrameBuilder, item: LoadItem, kind: LoadKind, use: Use | None) -> tuple[LoadCase, ...]:
    """Return a load case of the vehicle, once for each run of it, each factor with what it rests on."""
    record = item.record
    given = frozenset(key for key in record.values if record.given(key))
    factors = {
        key: _factor(builder, key, value if key in given else kind.default(key, use)) for key, value in record.values.items()
    }
    doubt_mildness(builder, item, kind, {key: (factors[key], kind.default(key, use)) for key in given})
    at_point = side_of_points(builder, factors)
    return tuple(
        LoadCase(
            name=run.name,
            kind=kind.name,
            factors=with_words(kind, {**factors, **run.words}, given),
            basis={key: CASE_FILE if key in given else kind.basis.get(key, CASE_FILE) for key in record.values},
            asked=item.name,
            side=run.side or at_point,
            side_said=any(value in ONE_SIDE for value in item.record.values.values() if isinstance(value, str))
            or at_point is not None,
            given=given,
        )
        for run in runs_of(item)
    )


CASE_FILE = Basis("case file")
MILD = 0.5
"""A factor below this share of the table's own is doubted: the load case is run, but hardly as what its name says."""


def doubt_mildness(builder: FrameBuilder, item: LoadItem, kind: LoadKind, factors: Mapping[str, tuple[Factor, Factor]]) -> None:
    """Note the factors that a file gives far below those of the table; factors: given and the table's, by name."""
    for key, (own, usual) in factors.items():
        if isinstance(own, float) and isinstance(usual, float) and abs(own) < MILD * abs(usual):
            what = f"'{key}' is under half of what the table of load cases takes for '{kind.name}'"
            remedy = "write a harder one, or accept it with a reason"
            builder.diagnostics.doubt(item.record.line_of(key), item.record.subject, what, remedy)


def with_words(kind: LoadKind, factors: Mapping[str, Factor], given: frozenset[str]) -> Mapping[str, Factor]:
    """Return factors, those that the file does not give following the words of the others (0.5 g toward a side)."""
    words = [value for value in factors.values() if isinstance(value, str)]
    own = {key: by[word] for key, by in kind.by_word.items() if key not in given for word in words if word in by}
    return {**factors, **own}


def side_of_points(builder: FrameBuilder, factors: Mapping[str, Factor]) -> VehicleSide | None:
    """Return the side that a load case's one named point lies on, None on the middle line or where it names several."""
    point = factors.get("point")
    if not isinstance(point, str) or abs(builder.points[point][1]) < SAME_PLACE:
        return None
    return VehicleSide.LEFT if builder.points[point][1] > 0 else VehicleSide.RIGHT


def _factor(builder: FrameBuilder, key: str, value: Any) -> Factor:
    if key == "point":
        return builder.point(value)
    if key == "points":
        return tuple(builder.point(name) for name in value)
    return value  # type: ignore[no-any-return]


def default_cases(builder: FrameBuilder, kinds: Mapping[str, LoadKind], case: Case) -> tuple[LoadCase, ...]:
    """Return every load case that the file's data allow, with default factors: what is run where it asks for none."""
    use = case.use
    runnable = frozenset(runnable_kinds(case))
    items = (default_item(kind) for name, kind in kinds.items() if name in runnable)
    found = (each for item in items if item.kind is not None for each in vehicle_cases(builder, item, item.kind, use))
    return tuple(replace(each, by_default=True) for each in found)


def written_case(builder: FrameBuilder, item: LoadItem) -> CaseLoads:
    """Return a load case written force by force."""
    record = item.record
    return CaseLoads(
        name=item.name,
        point_loads=tuple(_point_load(builder, load) for load in record["forces"]),
        member_loads=tuple(load for each in record["member loads"] for load in _member_loads(builder, each)),
        motion=Motion(linear=(0.0, 0.0, -record["own weight"] * GRAVITY)),
        warmings=tuple(_warmings(builder, record["warmings"])),
        moved_supports=tuple(_moved(builder, each) for each in record["moved supports"]),
        supports=None if record["supports"] is None else own_supports(builder, record),
    )


def own_supports(builder: FrameBuilder, record: Record) -> tuple[Support, ...]:
    """Return what holds the frame in a load case of its own; each point once, each held some way, what is moved held that way."""
    taken = Taken()
    found = tuple(support_of(builder, each) for each in record["supports"])
    for each, support in zip(record["supports"], found, strict=True):
        if fault := taken.take(support.point, each.line, "support of point"):
            builder.diagnostics.refuse(each.line, each.subject, fault, "write all that holds a point in one support")
        if not any(support.stiffness):
            builder.diagnostics.refuse(each.line, each.subject, "holds nothing", "write 'held: [x, y, z]', or springs")
    held = {(support.point, way) for support in found for way in range(6) if isinf(support.stiffness[way])}
    for each in record["moved supports"]:
        if (builder.point(each["point"]), each["direction"]) not in held:
            fault = "moves a point that this load case does not hold that way"
            builder.diagnostics.refuse(each.line, each.subject, fault, "hold it that way under the load case's own 'supports'")
    return found


def _point_load(builder: FrameBuilder, record: Record) -> PointLoad:
    force, moment = record["force"], record["moment"]
    if force is None and moment is None:
        builder.diagnostics.refuse(record.line, record.subject, "has neither force nor moment", "write 'force: {z: -500 lb}'")
    return PointLoad(
        builder.point(record["point"]),
        ZERO if force is None else vector(force),
        ZERO if moment is None else vector(moment),
        "case file",
    )


def _member_loads(builder: FrameBuilder, record: Record) -> Iterator[MemberLoad]:
    """Yield a load along a member, or along both rails."""
    for name in RAILS if record["member"] == "rails" else (record["member"],):
        whole = builder.length(name)
        if record["force"] is not None and record["at"] is not None and record["load"] is None:
            _within(builder, record, record["at"], whole)
            yield MemberLoad(
                name, vector(record["force"]), vector(record["force"]), record["at"], record["at"], "case file"
            )
        elif record["load"] is not None and record["force"] is None:
            last = record["load"] if record["load at the end"] is None else record["load at the end"]
            _within(builder, record, record["from"], min(whole, record["to"]))
            yield MemberLoad(
                name, vector(record["load"]), vector(last), record["from"], min(record["to"], whole), "case file"
            )
        else:
            fault = "is neither a load per length nor one force at a place"
            builder.diagnostics.refuse(record.line, record.subject, fault, "write 'load', or 'force' and 'at'")
            return


def _within(builder: FrameBuilder, record: Record, at: float, most: float) -> None:
    if at > most:
        builder.diagnostics.refuse(
            record.line,
            record.subject,
            f"lies beyond the end of '{record['member']}'",
            f"choose from 0 to {length(most)}",
        )


def _warmings(builder: FrameBuilder, records: tuple[Record, ...]) -> Iterator[Warming]:
    for record in records:
        for name in RAILS if record["member"] == "rails" else (record["member"],):
            if name not in builder.members:  # refused, or a member of that name was
                continue
            section = builder.catalogue.section(builder.members[name].stretches[0].section)
            yield Warming(name, record["rise"], section.material.thermal_expansion)


def _moved(builder: FrameBuilder, record: Record) -> MovedSupport:
    turning = record["direction"] >= 3
    amount = record["angle"] if turning else record["amount"]
    if amount is None or (record["amount"] is not None and record["angle"] is not None):
        remedy = "write 'angle' for a turn, such as 2 deg" if turning else "write 'amount', such as 1/2 in"
        builder.diagnostics.refuse(record.line, record.subject, "does not say how far it moves in its direction", remedy)
    return MovedSupport(builder.point(record["point"]), record["direction"], amount or 0.0)


def sums_of(builder: FrameBuilder, item: LoadItem, names: Mapping[str, tuple[str, ...]]) -> tuple[Sum, ...]:
    """Return a sum of load cases of the vehicle, once for each pairing of their sides. names: as run, by those in the file."""
    known = tuple(dict.fromkeys(each for name, runs in names.items() for each in (name, *runs)))
    for name in item.record["sum of"]:
        if name not in known:
            remedy = did_you_mean(name, known, f"load cases of the vehicle are: {listed(known, 40)}")
            builder.diagnostics.refuse(
                item.record.line, item.record.subject, f"there is no load case '{name}' of the vehicle", remedy
            )
    return tuple(Sum(name, parts, item.name) for name, parts in sum_parts(item, names))


def targets_of(builder: FrameBuilder, record: Record | None, names: Mapping[str, tuple[str, ...]]) -> Targets:
    """Return the targets; those of load cases that there are, for every run of each. names: as run, by those in the file."""
    if record is None:
        return Targets(is_stated=False)
    asked: dict[str, float] = record["load cases"]
    known = tuple(dict.fromkeys(each for name, runs in names.items() for each in (name, *runs)))
    for name in asked:
        if name not in known:
            remedy = did_you_mean(name, known, f"load cases are: {listed(known, 40)}")
            builder.diagnostics.refuse(record.line_of("load cases"), record.subject, f"there is no load case '{name}'", remedy)
    for name, target in (("safety factor", record["safety factor"]), *asked.items()):
        if target < 1.0:
            line = record.line_of("safety factor" if name == "safety factor" else "load cases")
            what = f"a target of {target:g} for '{name}' lets loads pass that are more than the metal can bear"
            builder.diagnostics.doubt(line, record.subject, what, "write a target of 1 or more, or accept it with a reason")
    of_runs = {run: target for name, target in asked.items() for run in names.get(name, ())}
    of_one = {name: target for name, target in asked.items() if name not in names}
    return Targets(record["safety factor"], {**of_runs, **of_one}, record.given("safety factor"))
