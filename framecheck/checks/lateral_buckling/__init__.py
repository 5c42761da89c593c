"""Column and lateral-torsional buckling of members, both acting together, over stated or bracketed lengths."""

from framecheck.checks.lateral_buckling.check import check

__all__ = ["check"]
