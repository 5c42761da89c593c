"""Load cases: items to those of the vehicle, those written force by force, sums; targets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from framecheck.model.case import Factor, LoadCase, Sum, Targets
from framecheck.model.loads import ZERO, CaseLoads, MemberLoad, Motion, MovedSupport, PointLoad, Warming
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.draft import Draft
from framecheck.reading.build.frame import RAILS
from framecheck.reading.desk import did_you_mean, length, listed
from framecheck.reading.form import Record
from framecheck.reading.load_items import LoadItem
from framecheck.reading.load_kinds import LoadKind
from framecheck.units import GRAVITY


def vehicle_case(draft: Draft, item: LoadItem, kind: LoadKind) -> LoadCase:
    """Return a load case of the vehicle, each factor with where it comes from."""
    record = item.record
    return LoadCase(
        name=item.name,
        kind=kind.name,
        factors={key: _factor(draft, key, value) for key, value in record.values.items()},
        sources={
            key: "case file" if record.given(key) else kind.sources.get(key, "case file") for key in record.values
        },
    )


def _factor(draft: Draft, key: str, value: Any) -> Factor:
    if key == "point":
        return draft.point(value)
    if key == "points":
        return tuple(draft.point(name) for name in value)
    return value  # type: ignore[no-any-return]


def standard_cases(kinds: dict[str, LoadKind]) -> tuple[LoadCase, ...]:
    """Return every standard load case with its default factors."""
    chosen = [kind for kind in kinds.values() if kind.standard]
    return tuple(
        LoadCase(kind.name, kind.name, {each.key: each.default for each in kind.form.fields}, dict(kind.sources))
        for kind in chosen
    )


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
    )


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
            section = draft.shelf.section(draft.members[name].stretches[0].section)
            yield Warming(name, record["rise"], section.material.thermal_expansion)


def _moved(draft: Draft, record: Record) -> MovedSupport:
    turning = record["direction"] >= 3
    amount = record["angle"] if turning else record["amount"]
    if amount is None or (record["amount"] is not None and record["angle"] is not None):
        remedy = "write 'angle' for a turn, such as 2 deg" if turning else "write 'amount', such as 1/2 in"
        draft.desk.refuse(record.line, record.subject, "does not say how far it moves in its direction", remedy)
    return MovedSupport(draft.point(record["point"]), record["direction"], amount or 0.0)


def sum_of(draft: Draft, item: LoadItem, names: tuple[str, ...]) -> Sum:
    """Return a sum of load cases of the vehicle."""
    parts: dict[str, float] = item.record["sum of"]
    for name in parts:
        if name not in names:
            remedy = did_you_mean(name, names, f"load cases of the vehicle are: {listed(names, 40)}")
            draft.desk.refuse(
                item.record.line, item.record.subject, f"there is no load case '{name}' of the vehicle", remedy
            )
    return Sum(item.name, tuple(parts.items()))


def targets_of(draft: Draft, record: Record | None, names: tuple[str, ...]) -> Targets:
    """Return the targets; those of load cases that there are."""
    if record is None:
        return Targets(is_stated=False)
    for name in record["load cases"]:
        if name not in names:
            remedy = did_you_mean(name, names, f"load cases are: {listed(names, 40)}")
            draft.desk.refuse(record.line_of("load cases"), record.subject, f"there is no load case '{name}'", remedy)
    return Targets(record["safety factor"], record["load cases"], record.given("safety factor"))
