"""How long a case takes and how much memory, from what is written alone: said before it is solved, and refused where it is much.

Fitted to runs of ladders of 5 to 200 crossmembers under 10 to 200 load cases, of plates and of records (benchmarks/work.py): the time
to a factor of two on one slow core, the memory to a factor of two.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from framecheck.errors import Fault, InputError
from framecheck.frame.report import LITTLE
from framecheck.frame.structure import Structure
from framecheck.load_blocks import OF_A_BLOCK, PIECE_STATIONS
from framecheck.model.case import Case
from framecheck.value_class import value_class


@value_class
class Work:
    """What solving a case takes: seconds of one core, bytes of memory."""

    seconds: float
    memory: float

    @property
    def time(self) -> str:
        """Return the time in words."""
        minutes = self.seconds / 60
        return f"about {minutes:.0f} minutes" if minutes > 1.5 else f"about {self.seconds:.0f} seconds"

    def __str__(self) -> str:
        return f"{self.time} and {self.memory / 1e9:.1f} GB of memory"


USUAL = Work(180.0, 2e9)
"""What a command does without being asked twice."""
UNLIMITED = Work(inf, inf)
LOADS = ("load cases",)
"""Where in a file it is written how much there is to do."""
START = Work(0.7, 60e6)
PER_ENTRY = Work(40e-6, 350.0)
"""For each of the places that a load case is told at under one bound."""
TOLD = 500.0
"""Bytes for each of these places in the rows that are told, of all bounds together."""
HELD = 350.0
"""Bytes for each place of a load case that is held at the places of others besides."""
IN_BLOCKS = OF_A_BLOCK // 4
"""So many of these places in a block, as a rule: most of a block is the places that all load cases have."""
OF_BOUNDS = 20_000
"""At most so many where a frame is solved in several ways: members are then judged length by length."""
CROSSINGS = 0.3
"""Places of a piece in one load case under one bound where a moment is extreme, as a rule."""
PER_BOLT = 0.01
"""Seconds for each bolt of a plate and each of its loads."""
PER_SAMPLE = Work(15e-6, 200.0)
"""For each value of a record on each detail under one bound; memory: for each value alone."""


def work_of(case: Case, structures: Sequence[Structure]) -> Work:
    """Return what solving a case takes; structures: its frame under each bound."""
    bounds, cases, pieces = len(structures), load_cases_of(case), structures[0].pieces.count
    own = PIECE_STATIONS * pieces * cases * bounds
    others = CROSSINGS * pieces * bounds * cases * cases * bounds
    held = min(others, OF_BOUNDS) if bounds > 1 else others if others <= LITTLE else IN_BLOCKS
    samples, details = (0, 0) if case.fatigue is None else recorded(case)
    seconds = START.seconds + PER_ENTRY.seconds * own + PER_SAMPLE.seconds * samples * details * bounds
    seconds += sum(PER_BOLT * len(plate.bolts) * len(plate.loads) for plate in case.plates)
    return Work(seconds, START.memory + (PER_ENTRY.memory + TOLD / bounds) * own + HELD * held + PER_SAMPLE.memory * samples)


def load_cases_of(case: Case) -> int:
    """Return how many load cases are solved."""
    from_plates = sum(len(plate.loads) for plate in case.plates)
    return len(case.load_cases) + len(case.sums) + len(case.written_loads) + from_plates


def recorded(case: Case) -> tuple[int, int]:
    """Return how many values the records of a duty have, and how many details they wear."""
    if case.fatigue is None:
        return 0, 0
    values = (len(getattr(event, "values", ())) for event in case.fatigue.duty.events)
    return sum(values), len(case.fatigue.details)


def refuse_beyond(most: Work, case: Case, structures: Sequence[Structure]) -> None:
    """Refuse, before it is solved, a case that takes more than is allowed; InputError says how much that would be."""
    work = work_of(case, structures)
    if work.seconds <= most.seconds and work.memory <= most.memory:
        return
    bounds = "" if len(structures) == 1 else f" in {len(structures)} ways, for what the file leaves open"
    size = f"{structures[0].pieces.count} pieces of members, {load_cases_of(case)} load cases{bounds}"
    fault = f"{size}: to solve them takes {work}"
    raise InputError([Fault(case.place_of(LOADS), "work", fault, "write fewer, or run it with --long", LOADS)])
