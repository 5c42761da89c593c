"""Metal that welding softens: where along a member it lies beside a weld, or beside what may be one, and how strong it is there."""

from framecheck.checks.heat.strength import Strengths, heat_marks, shares_of, softens, strengths_of

__all__ = ["Strengths", "heat_marks", "shares_of", "softens", "strengths_of"]
