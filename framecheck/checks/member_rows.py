"""What the member checks share: where a member's stations lie, what they are made of, and a row a load case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import isinf

import numpy as np

from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.frame import Frame, Member, sections_at
from framecheck.model.shop_tables import Material
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.section.properties import SectionProperties
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class


@array_class
class DemandCapacity:
    """Demand and capacity of one member, both (n_bound, n_station, n_case), in `unit`; capacity inf where nothing is judged."""

    check: Check
    mode: Mode
    member: str
    demand: Array
    capacity: Array
    unit: str
    source: str
    stations: Array


Worded = Callable[[int, int, int], str]


def rows(outcome: SolvedCase, judged: DemandCapacity, note: Worded) -> Iterator[CheckResult]:
    """Yield the member's worst row of each load case; note: what to say of (bound, station, case)."""
    used = judged.demand / judged.capacity
    subject = Subject(Thing.MEMBER, judged.member)
    bounds, stations = (each.tolist() for each in np.divmod(used.reshape(-1, used.shape[2]).argmax(axis=0), used.shape[1]))
    for number, (loads, bound, station) in enumerate(zip(outcome.loads, bounds, stations, strict=True)):
        demand, capacity = float(judged.demand[bound, station, number]), float(judged.capacity[bound, station, number])
        if isinf(capacity):
            continue
        yield CheckResult(
            check=judged.check,
            mode=judged.mode,
            subject=subject,
            load_case=loads.name,
            demand=demand,
            capacity=capacity,
            unit=judged.unit,
            target=outcome.case.targets.of(loads.name),
            source=judged.source,
            station=float(judged.stations[station]),
            bound=outcome.solutions[bound].bound,
            note=note(bound, station, number),
        )


@array_class
class SectionRows:
    """All rows of forces that one section carries anywhere in the frame, so that they are worked out at once.

    forces: (n_bound, n_row, n_case, 9). places: (member by its place in the frame, its stations (n_station,), its rows).
    """

    section: SectionProperties
    forces: Array
    places: tuple[tuple[int, BoolArray, slice], ...]

    def spread(self, values: Array, members: Mapping[int, Array]) -> None:
        """Write values (n_bound, n_row, ...) into the members' arrays (n_bound, n_station, ...)."""
        for number, at, rows_of in self.places:
            members[number][:, at] = values[:, rows_of]


def by_section(outcome: SolvedCase, cases: Sequence[int] | None = None) -> tuple[SectionRows, ...]:
    """Return the rows of every section in the frame; cases: only these load cases, by number."""
    found: dict[SectionProperties, list[tuple[int, BoolArray, Array]]] = {}
    chosen = slice(None) if cases is None else list(cases)
    for number, line in enumerate(outcome.solutions[0].members):
        forces = all_bounds(outcome, number)[:, :, chosen]
        for section, at in distinct_sections(line):
            found.setdefault(section, []).append((number, at, forces[:, at]))
    return tuple(_joined(section, parts) for section, parts in found.items())


def _joined(section: SectionProperties, parts: list[tuple[int, BoolArray, Array]]) -> SectionRows:
    """Return the rows of one section, member after member."""
    ends = np.cumsum([0, *(forces.shape[1] for _, _, forces in parts)]).tolist()
    places = tuple((number, at, slice(*span)) for (number, at, _), span in zip(parts, pairwise(ends), strict=True))
    return SectionRows(section, np.concatenate([forces for _, _, forces in parts], axis=1), places)


def blank(outcome: SolvedCase, value: float, tail: tuple[int, ...] = ()) -> dict[int, Array]:
    """Return an array (n_bound, n_station, n_case, *tail) of one value for each member, by its place in the frame."""
    bounds, first = len(outcome.solutions), outcome.solutions[0]
    return {
        number: np.full((bounds, *line.forces.shape[:2], *tail), value) for number, line in enumerate(first.members)
    }


def distinct_sections(forces: MemberForces) -> tuple[tuple[SectionProperties, BoolArray], ...]:
    """Return the sections of a member, each with the stations (n,) where it carries the forces."""
    return tuple(
        (section, np.array([each is section for each in forces.sections])) for section in dict.fromkeys(forces.sections)
    )


def section_words(member: Member, section: SectionProperties, station: float) -> str:
    """Return a section's name, and the notch that left it where it is a net one."""
    cut = next((each for each in member.cuts if abs(station - each.at) <= each.length / 2), None)
    return f"'{section.name}'" if cut is None else f"'{section.name}' at notch '{cut.name}'"


def material_at(frame: Frame, member: Member, station: float) -> Material:
    """Return the material of a member at a station (m from its first point); of several, the one that yields first."""
    sections = (frame.sections[name] for name in sections_at(member, station))
    materials = (metal for each in sections for metal in (each.metals or (each.material,)))
    return min(materials, key=lambda each: each.yield_strength)


def within(line: MemberForces, station: int) -> float:
    """Return a place (m) inside the length whose section carries the forces at a station (by its number).

    Where sections meet there are two stations at one place: this tells their lengths apart, and a section that a member has
    twice by the one that is meant.
    """
    first = last = station
    while first > 0 and line.sections[first - 1] is line.sections[station]:
        first -= 1
    while last + 1 < len(line.sections) and line.sections[last + 1] is line.sections[station]:
        last += 1
    return float(line.stations[first] + line.stations[last]) / 2


def first_within(line: MemberForces, at: BoolArray) -> float:
    """Return a place (m) inside the first length of a member whose section is at stations at (n_station,)."""
    return within(line, int(np.argmax(at)))


def all_bounds(outcome: SolvedCase, number: int) -> Array:
    """Return the section forces of a member (by its place in the frame) under every bound, (n_bound, n_station, n_case, 9)."""
    return frozen(np.stack([solution.members[number].forces for solution in outcome.solutions]))
