"""Notches in members: net section, corner, webs; where a rail may be cut; what mends a cut."""

from framecheck.checks.notch.check import check

__all__ = ["check"]
