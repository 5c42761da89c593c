"""The ties of a frame's splices: their springs from the shell model of each lap, kept from run to run."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.kept import NumberStore, kept_numbers
from framecheck.frame.links import Tie
from framecheck.frame.splice.data import Butt, Lap, PlateOn, Tube
from framecheck.model.frame import Frame, Section
from framecheck.model.shapes import RectTube
from framecheck.model.splices import Hold, Splice

MODEL = 1
"""Raised whenever a change in the model of splices changes a number: older entries are then no longer found."""


def ties_of(frame: Frame, store: NumberStore | None) -> tuple[Tie, ...]:
    """Return every tie of a frame's splices."""
    return tuple(tie for splice in frame.splices for tie in of_splice(frame, splice, store))


def of_splice(frame: Frame, splice: Splice, store: NumberStore | None) -> Iterator[Tie]:
    """Yield the ties of one splice."""
    made = butt_of(frame, splice) if splice.butts else lap_of(frame, splice)
    springs = tuple(kept_numbers(("splice", MODEL, made), 6, store, lambda: computed(made)))
    for points in splice.ties:
        yield Tie(splice.name, points, np.array(splice.axes), springs)


def computed(made: Lap | Butt) -> Sequence[float]:
    """Return the springs of a splice's ties by its shell model."""
    if isinstance(made, Butt):
        from framecheck.frame.splice.butt import springs

        return springs(made)
    from framecheck.frame.splice.shell import flexibility
    from framecheck.frame.splice.springs import springs_of

    return springs_of(made, flexibility(made))


def butt_of(frame: Frame, splice: Splice) -> Butt:
    """Return butted tubes as their shell model sees them."""
    tubes = tubes_of(frame, splice)
    plates = tuple(
        PlateOn(p.wall, p.counted, p.height, p.thickness, p.material.youngs_modulus, p.material.poissons_ratio)
        for p in splice.plates
    )
    return Butt(tubes[0], tubes[1], plates, Hold.BUTT in splice.holds)


def lap_of(frame: Frame, splice: Splice) -> Lap:
    """Return a splice as its shell model sees it."""
    tubes = tubes_of(frame, splice)
    return Lap(tubes[0], tubes[1], splice.length, splice.aside, splice.holds, splice.spots)


def tubes_of(frame: Frame, splice: Splice) -> list[Tube]:
    """Return both tubes of a splice by their middle lines."""
    pairs = zip(splice.sections, splice.turned, strict=True)
    return [tube_of(frame.sections[name], turned) for name, turned in pairs]


def tube_of(section: Section, turned: bool) -> Tube:
    """Return a rectangular tube by its middle lines; turned: its width lies along the lap's z."""
    shape = section.shape
    if not isinstance(shape, RectTube):
        raise TypeError(f"section {section.name} is no rectangular tube")
    height, width = shape.height - shape.wall, shape.width - shape.wall
    high, wide = (width, height) if turned else (height, width)
    return Tube(high, wide, shape.wall, section.material.youngs_modulus, section.material.poissons_ratio)
