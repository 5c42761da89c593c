"""Load cases: items to those of the vehicle, those written force by force, sums; targets."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import isinf
from typing import Any

from framecheck.model.case import Basis, Case, Factor, LoadCase, Sum, Targets, VehicleSide
from framecheck.model.loads import ZERO, CaseLoads, MemberLoad, Motion, MovedSupport, PointLoad, Warming
from framecheck.model.supports import Support
from framecheck.model.vehicle import Use
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.draft import SAME_PLACE, Draft
from framecheck.reading.build.frame import RAILS, support_of
from framecheck.reading.desk import Taken, did_you_mean, length, listed
from framecheck.reading.form import Record
from framecheck.reading.load_items import LoadItem
from framecheck.reading.load_kinds import LoadKind
from framecheck.reading.load_runs import default_item, runs_of, says_a_side, sum_parts
from framecheck.units import GRAVITY
from framecheck.vehicle.runnable import runnable_kinds


def vehicle_cases(draft: Draft, item: LoadItem, kind: LoadKind, use: Use | None) -> tuple[LoadCase, ...]:
    """Return a load case of the vehicle, once for each run of it, each factor with what it rests on."""
    record = item.record
    given = frozenset(key for key in record.values if record.given(key))
    factors = {
        key: _factor(draft, key, value if key in given else kind.default(key, use)) for key, value in record.values.items()
    }
    doubt_mildness(draft, item, kind, {key: (factors[key], kind.default(key, use)) for key in given})
    at_point = side_of_points(draft, factors)
    return tuple(
        LoadCase(
            name=run.name,
            kind=kind.name,
            factors=with_words(kind, {**factors, **run.words}, given),
            basis={key: CASE_FILE if key in given else kind.basis.get(key, CASE_FILE) for key in record.values},
            asked=item.name,
            side=run.side or at_point,
            side_said=says_a_side(item) or at_point is not None,
            given=given,
        )
        for run in runs_of(item)
    )


CASE_FILE = Basis("case file")
MILD = 0.5
"""A factor below this share of the table's own is doubted: the load case is run, but hardly as what its name says."""


def doubt_mildness(draft: Draft, item: LoadItem, kind: LoadKind, factors: Mapping[str, tuple[Factor, Factor]]) -> None:
    """Note the factors that a file gives far below those of the table; factors: given and the table's, by name."""
    for key, (own, usual) in factors.items():
        if isinstance(own, float) and isinstance(usual, float) and abs(own) < MILD * abs(usual):
            what = f"'{key}' is under half of what the table of load cases takes for '{kind.name}'"
            remedy = "write a harder one, or accept it with a reason"
            draft.desk.doubt(item.record.line_of(key), item.record.subject, what, remedy)


def with_words(kind: LoadKind, factors: Mapping[str, Factor], given: frozenset[str]) -> Mapping[str, Factor]:
    """Return factors, those that the file does not give following the words of the others (0.5 g toward a side)."""
    words = [value for value in factors.values() if isinstance(value, str)]
    own = {key: by[word] for key, by in kind.by_word.items() if key not in given for word in words if word in by}
    return {**factors, **own}


def side_of_points(draft: Draft, factors: Mapping[str, Factor]) -> VehicleSide | None:
    """Return the side that a load case's one named point lies on, None on the middle line or where it names several."""
    point = factors.get("point")
    if not isinstance(point, str) or abs(draft.points[point][1]) < SAME_PLACE:
        return None
    return VehicleSide.LEFT if draft.points[point][1] > 0 else VehicleSide.RIGHT


def _factor(draft: Draft, key: str, value: Any) -> Factor:
    if key == "point":
        return draft.point(value)
    if key == "points":
        return tuple(draft.point(name) for name in value)
    return value  # type: ignore[no-any-return]


def default_cases(draft: Draft, kinds: Mapping[str, LoadKind], case: Case) -> tuple[LoadCase, ...]:
    """Return every load case that the file's data allow, with default factors: what is run where it asks for none."""
    use = case.use
    items = (default_item(kinds[name]) for name in runnable_kinds(case))
    found = (each for item in items if item.kind is not None for each in vehicle_cases(draft, item, item.kind, use))
    return tuple(replace(each, by_default=True) for each in found)


def written_case(draft: Draft, item: LoadItem) -> CaseLoads:
    """Return a load case written force by force."""
    record = item.record
    return CaseLoads(
        name=item.name,
        point_loads=tuple(_point_load(draft, load) for load in record["forces"]),
        member_loads=tuple(load for each in record["member loads"] for load in _member_loads(draft, each)),
        motion=Motion(linear=(0.0, 0.0, -record["own weight"] * GRAVITY)),
        warmings=tuple(_warmings(draft, record["warmings"])),
        moved_supports=tuple(_moved(draft, each) for each in record["moved supports"]),
        supports=None if record["supports"] is None else own_supports(draft, record),
    )


def own_supports(draft: Draft, record: Record) -> tuple[Support, ...]:
    """Return what holds the frame in a load case of its own; each point once, each held some way, what is moved held that way."""
    taken = Taken()
    found = tuple(support_of(draft, each) for each in record["supports"])
    for each, support in zip(record["supports"], found, strict=True):
        if fault := taken.take(support.point, each.line, "support of point"):
            draft.desk.refuse(each.line, each.subject, fault, "write all that holds a point in one support")
        if not any(support.stiffness):
            draft.desk.refuse(each.line, each.subject, "holds nothing", "write 'held: [x, y, z]', or springs")
    held = {(support.point, way) for support in found for way in range(6) if isinf(support.stiffness[way])}
    for each in record["moved supports"]:
        if (draft.point(each["point"]), each["direction"]) not in held:
            fault = "moves a point that this load case does not hold that way"
            draft.desk.refuse(each.line, each.subject, fault, "hold it that way under the load case's own 'supports'")
    return found


def _point_load(draft: Draft, record: Record) -> PointLoad:
    force, moment = record["force"], record["moment"]
    if force is None and moment is None:
        draft.desk.refuse(record.line, record.subject, "has neither force nor moment", "write 'force: {z: -500 lb}'")
    return PointLoad(
        draft.point(record["point"]),
        ZERO if force is None else vector(force),
        ZERO if moment is None else vector(moment),
        "case file",
    )


def _member_loads(draft: Draft, record: Record) -> Iterator[MemberLoad]:
    """Yield a load along a member, or along both rails."""
    for name in RAILS if record["member"] == "rails" else (record["member"],):
        whole = draft.length(name)
        if record["force"] is not None and record["at"] is not None and record["load"] is None:
            _within(draft, record, record["at"], whole)
            yield MemberLoad(
                name, vector(record["force"]), vector(record["force"]), record["at"], record["at"], "case file"
            )
        elif record["load"] is not None and record["force"] is None:
            last = record["load"] if record["load at the end"] is None else record["load at the end"]
            _within(draft, record, record["from"], min(whole, record["to"]))
            yield MemberLoad(
                name, vector(record["load"]), vector(last), record["from"], min(record["to"], whole), "case file"
            )
        else:
            fault = "is neither a load per length nor one force at a place"
            draft.desk.refuse(record.line, record.subject, fault, "write 'load', or 'force' and 'at'")
            return


def _within(draft: Draft, record: Record, at: float, most: float) -> None:
    if at > most:
        draft.desk.refuse(
            record.line,
            record.subject,
            f"lies beyond the end of '{record['member']}'",
            f"choose from 0 to {length(most)}",
        )


def _warmings(draft: Draft, records: tuple[Record, ...]) -> Iterator[Warming]:
    for record in records:
        for name in RAILS if record["member"] == "rails" else (record["member"],):
            if name not in draft.members:  # refused, or a member of that name was
                continue
            section = draft.shelf.section(draft.members[name].stretches[0].section)
            yield Warming(name, record["rise"], section.material.thermal_expansion)


def _moved(draft: Draft, record: Record) -> MovedSupport:
    turning = record["direction"] >= 3
    amount = record["angle"] if turning else record["amount"]
    if amount is None or (record["amount"] is not None and record["angle"] is not None):
        remedy = "write 'angle' for a turn, such as 2 deg" if turning else "write 'amount', such as 1/2 in"
        draft.desk.refuse(record.line, record.subject, "does not say how far it moves in its direction", remedy)
    return MovedSupport(draft.point(record["point"]), record["direction"], amount or 0.0)


def sums_of(draft: Draft, item: LoadItem, names: Mapping[str, tuple[str, ...]]) -> tuple[Sum, ...]:
    """Return a sum of load cases of the vehicle, once for each pairing of their sides. names: as run, by those in the file."""
    known = tuple(dict.fromkeys(each for name, runs in names.items() for each in (name, *runs)))
    for name in item.record["sum of"]:
        if name not in known:
            remedy = did_you_mean(name, known, f"load cases of the vehicle are: {listed(known, 40)}")
            draft.desk.refuse(
                item.record.line, item.record.subject, f"there is no load case '{name}' of the vehicle", remedy
            )
    return tuple(Sum(name, parts, item.name) for name, parts in sum_parts(item, names))


def targets_of(draft: Draft, record: Record | None, names: Mapping[str, tuple[str, ...]]) -> Targets:
    """Return the targets; those of load cases that there are, for every run of each. names: as run, by those in the file."""
    if record is None:
        return Targets(is_stated=False)
    asked: dict[str, float] = record["load cases"]
    known = tuple(dict.fromkeys(each for name, runs in names.items() for each in (name, *runs)))
    for name in asked:
        if name not in known:
            remedy = did_you_mean(name, known, f"load cases are: {listed(known, 40)}")
            draft.desk.refuse(record.line_of("load cases"), record.subject, f"there is no load case '{name}'", remedy)
    for name, target in (("safety factor", record["safety factor"]), *asked.items()):
        if target < 1.0:
            line = record.line_of("safety factor" if name == "safety factor" else "load cases")
            what = f"a target of {target:g} for '{name}' lets loads pass that are more than the metal can bear"
            draft.desk.doubt(line, record.subject, what, "write a target of 1 or more, or accept it with a reason")
    of_runs = {run: target for name, target in asked.items() for run in names.get(name, ())}
    of_one = {name: target for name, target in asked.items() if name not in names}
    return Targets(record["safety factor"], {**of_runs, **of_one}, record.given("safety factor"))
