"""Where and how deep a rail may be cut: safety factor against depth and radius, and stretches whose use stays under a share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

import numpy as np

from framecheck.checks.member_stress import on_side
from framecheck.checks.notch.check import worst
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.frame import Cut
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.stress import SolvedCase
from framecheck.surface_stress import components, narrowed
from framecheck.value_class import array_class, value_class


@array_class
class NotchCurve:
    """Safety factors over depths (n_depth,) and radii (n_radius,), m. Arrays are read-only; nan: not known.

    inertia_share: what is left of the second moment, (n_depth,); on_yield: first yield of the net section, (n_depth,); at_corner:
    yield over the elastic peak at the corner, (n_depth, n_radius) (below 1: the corner yields locally, which yield itself may bear).
    """

    depths: Array
    radii: Array
    inertia_share: Array
    on_yield: Array
    at_corner: Array


def centroid_shift(gross: SectionProperties, net: SectionProperties, side: Side) -> tuple[float, float]:
    """Return where the net centroid lies from the gross one, (y, z), m, from the faces that the cut leaves."""
    kept_y, kept_z = (0 if side is Side.LEFT else 1), (2 if side is Side.TOP else 3)
    return gross.box[kept_y] - net.box[kept_y], gross.box[kept_z] - net.box[kept_z]


def solved_curve(
    gross: SectionProperties, number: int, cuts: Sequence[Cut], outcomes: Sequence[SolvedCase], radii: Array
) -> NotchCurve:
    """Return the safety factors of a notch from frames solved with it, one outcome for each cut (deeper and deeper).

    number: the notched member, by its place in the frame. Nothing is left out: a deep notch softens the frame, which sheds load, and
    the solved frame says how much of the twist warps.
    """
    upright = cuts[0].side in (Side.TOP, Side.BOTTOM)
    whole = gross.i_vertical if upright else gross.i_sideways
    share, on_yield = np.full(len(cuts), np.nan), np.full(len(cuts), np.nan)
    at_corner = np.full((len(cuts), len(radii)), np.nan)
    for i, (cut, outcome) in enumerate(zip(cuts, outcomes, strict=True)):
        for j, radius in enumerate(radii):
            found = worst(outcome, number, replace(cut, corner_radius=float(radius)))
            if found is None:
                continue
            share[i] = (found.net.i_vertical if upright else found.net.i_sideways) / whole
            on_yield[i] = found.net.yield_strength / max(float(found.nominal.max()), 1e-9)
            at_corner[i, j] = found.net.yield_strength / np.maximum(found.peak.max(), 1e-9)
    depths = np.array([cut.depth for cut in cuts])
    return NotchCurve(frozen(depths), frozen(radii.copy()), frozen(share), frozen(on_yield), frozen(at_corner))


PARTS = {"top flange": Side.TOP, "bottom flange": Side.BOTTOM, "left web": Side.LEFT, "right web": Side.RIGHT}
SOURCE = "equivalent stress over yield under the asked share; webs: their middle half. The share is common practice, no source"


@value_class
class UsedStretch:
    """A stretch of one part of a member from station `start` to `end`, m, and the largest utilisation in it (stress over yield)."""

    part: str
    start: float
    end: float
    utilisation: float
    permitted: bool


def zones(outcome: SolvedCase, number: int, share: float) -> tuple[UsedStretch, ...]:
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


def utilisation(outcome: SolvedCase, number: int, part: str) -> Array:
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


def spans(part: str, stations: Array, used: Array, share: float) -> Iterator[UsedStretch]:
    """Yield the zones of one part from its utilisation (n_station,), crossings of the share placed between stations."""
    places, values = with_crossings(stations, used, share)
    highest = np.maximum(values[:-1], values[1:])
    lengths = [i for i in range(len(highest)) if places[i + 1] > places[i]]
    for permitted, run in groupby(lengths, key=lambda i: bool(highest[i] <= share * (1 + 1e-9))):
        within = list(run)
        first, last = within[0], within[-1] + 1
        yield UsedStretch(part, float(places[first]), float(places[last]), float(highest[within].max()), permitted)


def with_crossings(stations: Array, used: Array, share: float) -> tuple[Array, Array]:
    """Return stations and utilisation with a station added wherever the share is crossed, straight between stations."""
    below = used <= share
    at = np.flatnonzero(below[:-1] != below[1:])
    part = (share - used[at]) / (used[at + 1] - used[at])
    crossed = stations[at] + part * (stations[at + 1] - stations[at])
    places = np.insert(stations, at + 1, crossed)
    return places, np.insert(used, at + 1, share)
