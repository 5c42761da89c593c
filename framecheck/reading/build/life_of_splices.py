"""Fatigue of the tubes where they are spliced: details that a duty is put on without being asked for."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import dist

from framecheck.model.duty import Detail
from framecheck.model.splices import Hold, Splice
from framecheck.reading.build.draft import Draft
from framecheck.reading.fatigue_tables import class_beside, fatigue_class
from framecheck.reading.library import Library

LAP, HOLE, PLATE, BUTT = "EN lap, lap plate", "EN bolt hole", "EN doubler end, thick", "EN tube butt weld, thin"
"""Classes of steel that the tubes of a splice are read with: the least that the standard gives the kind; a plug counts as a lap."""


def splice_details(draft: Draft, library: Library) -> Iterator[Detail]:
    """Yield the places of every splice on both of its members; of aluminium none: what no detail covers is left open."""
    for splice in draft.splices:
        metals = {draft.shelf.section(name).material.kind for name in splice.sections}
        for number, name in enumerate(splice.members) if metals == {"steel"} else ():
            for start, end, row in places_of(draft, splice, number):
                words = f"{splice.name} on {name}: {row}"
                yield Detail(words, name, fatigue_class(library, row), start, end, beside=class_beside(library, row))


def places_of(draft: Draft, splice: Splice, number: int) -> Iterator[tuple[float, float, str]]:
    """Yield (from, to, class) along a member of a splice, m."""
    member = draft.members[splice.members[number]]
    places = [draft.points[point] for point in member.points]
    reached = [0.0]
    for first, second in pairwise(places):
        reached.append(reached[-1] + dist(first, second))
    stations = dict(zip(member.points, reached, strict=True))
    tied = [stations[pair[number]] for pair in splice.ties]
    if not splice.butts:
        yield min(tied), max(tied), HOLE if splice.bolt is not None and not set(splice.holds) - {Hold.BEARING} else LAP
        return
    if Hold.BUTT in splice.holds:
        yield tied[0], tied[0], BUTT
    half = max((plate.length for plate in splice.plates), default=0.0) / 2
    if half:
        far = tied[0] - half if tied[0] > reached[-1] / 2 else tied[0] + half
        yield max(far, 0.0), min(max(far, 0.0), reached[-1]), PLATE
