"""Tubes whose wall counts as the file writes it, though tubes of that metal are sold by a thicker one than counts."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.case import Case
from framecheck.model.shapes import RectTube
from framecheck.results.subjects import Remark


def walls_as_written(case: Case) -> Iterator[Remark]:
    """Yield a remark for every tube that may be described by its nominal wall (A500: the design wall is 0.93 of it)."""
    for name, section in case.frame.sections.items():
        if section.material.design_share < 1.0 and section.sold is None and isinstance(section.shape, RectTube):
            yield Remark(
                f"section '{name}'",
                f"its wall counts as the file writes it; if that is the nominal wall of {section.material.name}, write `design share: "
                f"{section.material.design_share:g}`: a mill may deliver a thinner one",
            )
