"""Fatigue: a duty put on details, damage summed point by point, life."""

from framecheck.checks.fatigue.check import check

__all__ = ["check"]
