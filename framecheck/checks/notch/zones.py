"""Where a rail may be cut or drilled: stretches whose utilisation stays under a share, flange by flange and web by web."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import numpy as np

from framecheck.checks.stretches import on_side
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.stress import Outcome, components, narrowed
from framecheck.value_class import value_class

PARTS = {"top flange": Side.TOP, "bottom flange": Side.BOTTOM, "left web": Side.LEFT, "right web": Side.RIGHT}
SOURCE = "equivalent stress over yield under the asked share; webs: their middle half. The share is common practice, no source"


@value_class
class Zone:
    """A stretch of one part of a member from station `start` to `end`, m, and the largest utilisation in it (stress over yield)."""

    part: str
    start: float
    end: float
    utilisation: float
    permitted: bool


def zones(outcome: Outcome, number: int, share: float) -> tuple[Zone, ...]:
    """Return the zones of a member (by its place in the frame), part by part, over all load cases and bounds.

    The net section's own stress is for the notch check: a zone says where the whole rail has little to do.
    """
    stations = outcome.solutions[0].members[number].stations
    found = []
    for part in PARTS:
        used = utilisation(outcome, number, part)
        if not np.isnan(used).any():
            found += list(spans(part, stations, used, share))
    return tuple(found)


def utilisation(outcome: Outcome, number: int, part: str) -> Array:
    """Return the largest equivalent stress over yield of a part at each station, (n_station,), nan where it isn't known."""
    line, orientation = outcome.solutions[0].members[number], outcome.case.frame.members[number].orientation
    used = np.full(len(line.stations), np.nan)
    for section in dict.fromkeys(line.sections):
        if section.fields is None:
            continue
        at = np.array([each is section for each in line.sections])
        on = on_part(section, section.fields, part, orientation.own_side(PARTS[part]))
        if not on.any():
            continue
        forces = np.stack([solution.members[number].forces[at] for solution in outcome.solutions])
        stress = components(narrowed(section.fields, on), forces).von_mises
        used[at] = stress.max(axis=(0, 2, 3)) / section.yield_strength
    return used


def on_part(section: SectionProperties, fields: UnitFields, part: str, side: Side) -> BoolArray:
    """Return which surface points (n_point,) belong to a part, which lies on `side` of the section; of a web only its middle half."""
    on = on_side(section, fields, side)
    if part.endswith("flange"):
        return on
    along = 1 if side in (Side.LEFT, Side.RIGHT) else 0
    least, most = section.box[2 * along : 2 * along + 2]
    inside: BoolArray = np.abs(fields.points[:, along] - (least + most) / 2) <= (most - least) / 4
    return on & inside


def spans(part: str, stations: Array, used: Array, share: float) -> Iterator[Zone]:
    """Yield the zones of one part from its utilisation (n_station,), crossings of the share placed between stations."""
    places, values = with_crossings(stations, used, share)
    highest = np.maximum(values[:-1], values[1:])
    lengths = [i for i in range(len(highest)) if places[i + 1] > places[i]]
    for permitted, run in groupby(lengths, key=lambda i: bool(highest[i] <= share * (1 + 1e-9))):
        within = list(run)
        first, last = within[0], within[-1] + 1
        yield Zone(part, float(places[first]), float(places[last]), float(highest[within].max()), permitted)


def with_crossings(stations: Array, used: Array, share: float) -> tuple[Array, Array]:
    """Return stations and utilisation with a station added wherever the share is crossed, straight between stations."""
    below = used <= share
    at = np.flatnonzero(below[:-1] != below[1:])
    part = (share - used[at]) / (used[at + 1] - used[at])
    crossed = stations[at] + part * (stations[at + 1] - stations[at])
    places = np.insert(stations, at + 1, crossed)
    return places, np.insert(used, at + 1, share)
