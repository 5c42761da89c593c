"""What the member checks share: where a member's stations lie, what they are made of, and a row a load case."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from framecheck.checks.result import CheckResult, safety_factor
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.frame import Frame, Member
from framecheck.model.materials import Material
from framecheck.section.properties import SectionProperties
from framecheck.stress import Outcome


@dataclass(frozen=True, eq=False, slots=True)
class Judged:
    """Demand and capacity of one member, both (n_bound, n_station, n_case), in `unit`; capacity inf where nothing is judged."""

    check: str
    member: str
    demand: Array
    capacity: Array
    unit: str
    source: str
    stations: Array


Worded = Callable[[int, int, int], str]


def rows(outcome: Outcome, judged: Judged, mode: Worded) -> Iterator[CheckResult]:
    """Yield the member's worst row of each load case; mode: what to say of (bound, station, case)."""
    used = judged.demand / judged.capacity
    for number, loads in enumerate(outcome.loads):
        bound, station = np.unravel_index(int(np.argmax(used[:, :, number])), used.shape[:2])
        demand, capacity = (float(each[bound, station, number]) for each in (judged.demand, judged.capacity))
        if np.isinf(capacity):
            continue
        yield CheckResult(
            check=judged.check,
            where=judged.member,
            load_case=loads.name,
            station=float(judged.stations[station]),
            demand=demand,
            capacity=capacity,
            unit=judged.unit,
            safety_factor=safety_factor(demand, capacity),
            target=outcome.case.targets.of(loads.name),
            source=judged.source,
            mode=mode(int(bound), int(station), number),
        )


def joined(*words: str) -> str:
    """Return words in one line, empty ones left out."""
    return "; ".join(word for word in words if word)


def distinct_sections(forces: MemberForces) -> dict[str, tuple[SectionProperties, BoolArray]]:
    """Return the sections of a member, each with the stations (n,) where it carries the forces."""
    found: dict[str, tuple[SectionProperties, BoolArray]] = {}
    for section in dict.fromkeys(forces.sections):
        at = np.array([each is section for each in forces.sections])
        found[section.name if section.name not in found else f"{section.name} {len(found)}"] = (section, at)
    return found


def material_at(frame: Frame, member: Member, station: float) -> Material:
    """Return the material of a member at a station (m from its first point)."""
    for stretch in member.stretches:
        if station <= stretch.until:
            return frame.sections[stretch.section].material
    return frame.sections[member.stretches[-1].section].material


def point_stations(frame: Frame, member: Member) -> dict[str, float]:
    """Return the station of each of a member's points, m."""
    places = np.array([frame.points[point] for point in member.points])
    lengths = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(places, axis=0), axis=1))))
    return dict(zip(member.points, lengths.tolist(), strict=True))


def all_bounds(outcome: Outcome, number: int) -> Array:
    """Return the section forces of a member (by its place in the frame) under every bound, (n_bound, n_station, n_case, 9)."""
    return frozen(np.stack([solution.members[number].forces for solution in outcome.solutions]))
