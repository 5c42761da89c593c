"""Rare overloads: does a member only set, or does it fold? The plastic section beside first yield."""

from framecheck.checks.permanent_set.check import check

__all__ = ["check"]
