"""Bolted joints: groups in any plane, slip, holes, prying, tightening, pinned sleeves."""

from framecheck.checks.bolts.check import check

__all__ = ["check"]
