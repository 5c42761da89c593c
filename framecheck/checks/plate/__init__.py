"""Check of a bolted plate: stress, gap, collapse, energy of a blow, bolts, sharp rocks."""

from framecheck.checks.plate.answer import solve
from framecheck.checks.plate.check import check, judge
from framecheck.checks.plate.to_frame import frame_loads

__all__ = ["check", "frame_loads", "judge", "solve"]
