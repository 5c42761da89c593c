"""Crushing of walls: under brackets, and under bolts through a tube."""

from framecheck.checks.wall_crushing.check import check

__all__ = ["check"]
