"""Metal that welding softens: where along a member it lies beside a weld, or beside what may be one, and how strong it is there."""

from framecheck.checks.heat.strength import (
    SoftenedShare,
    Strengths,
    all_strengths,
    beside,
    heat_marks,
    left_by_welding,
    softens,
    strengths_of,
)

__all__ = ["SoftenedShare", "Strengths", "all_strengths", "beside", "heat_marks", "left_by_welding", "softens", "strengths_of"]
