"""Welded joints: fillet groups in space, stitches, plugs and spots."""

from framecheck.checks.welds.check import check

__all__ = ["check"]
