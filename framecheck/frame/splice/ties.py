"""The ties of a frame's splices: their springs from the shell model of each lap, kept from run to run."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.kept import NumberStore, kept_numbers
from framecheck.frame.links import Tie
from framecheck.frame.splice.data import Lap, Tube
from framecheck.model.frame import Frame, Section
from framecheck.model.shapes import RectTube
from framecheck.model.splices import Splice


def ties_of(frame: Frame, store: NumberStore | None) -> tuple[Tie, ...]:
    """Return every tie of a frame's splices."""
    return tuple(tie for splice in frame.splices for tie in of_splice(frame, splice, store))


def of_splice(frame: Frame, splice: Splice, store: NumberStore | None) -> Iterator[Tie]:
    """Yield the ties of one splice."""
    lap = lap_of(frame, splice)

    def compute() -> Sequence[float]:
        from framecheck.frame.splice.shell import flexibility
        from framecheck.frame.splice.springs import springs_of

        return springs_of(lap, flexibility(lap))

    springs = tuple(kept_numbers(("lap", lap), 6, store, compute))
    for points in splice.ties:
        yield Tie(splice.name, points, np.array(splice.axes), springs)


def lap_of(frame: Frame, splice: Splice) -> Lap:
    """Return a splice as its shell model sees it."""
    tubes = [tube_of(frame.sections[name], turned) for name, turned in zip(splice.sections, splice.turned, strict=True)]
    return Lap(tubes[0], tubes[1], splice.length, splice.aside, splice.holds, splice.spots)


def tube_of(section: Section, turned: bool) -> Tube:
    """Return a rectangular tube by its middle lines; turned: its width lies along the lap's z."""
    shape = section.shape
    if not isinstance(shape, RectTube):
        raise TypeError(f"section {section.name} is no rectangular tube")
    height, width = shape.height - shape.wall, shape.width - shape.wall
    high, wide = (width, height) if turned else (height, width)
    return Tube(high, wide, shape.wall, section.material.youngs_modulus, section.material.poissons_ratio)
