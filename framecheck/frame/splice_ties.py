"""The ties of a frame's splices, their springs kept from run to run. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.number_cache import NumberStore, kept_numbers
from framecheck.frame.splice_tubes import Butt, Lap, butt_of, lap_of
from framecheck.frame.supports import Tie
from framecheck.model.frame import Frame
from framecheck.model.joining import Splice

MODEL = 1
"""Raised whenever a change in the model of splices changes a number: older entries are then no longer found."""


def ties_of(frame: Frame, store: NumberStore | None) -> tuple[Tie, ...]:
    """Return every tie of a frame's splices."""
    return tuple(tie for splice in frame.splices for tie in of_splice(frame, splice, store))


def of_splice(frame: Frame, splice: Splice, store: NumberStore | None) -> Iterator[Tie]:
    """Yield the ties of one splice."""
    made = butt_of(frame, splice) if splice.butts else lap_of(frame, splice)
    springs = tuple(each / splice.softness for each in kept_numbers(("splice", MODEL, made), 6, store, lambda: computed(made)))
    for points in splice.ties:
        yield Tie(splice.name, points, np.array(splice.axes), springs)


def computed(made: Lap | Butt) -> Sequence[float]:
    """Return the springs of a splice's ties by its shell model."""
    if isinstance(made, Butt):
        from framecheck.frame.splice_shell import springs

        return springs(made)
    from framecheck.frame.splice_shell import lap_flexibility
    from framecheck.frame.splice_springs import springs_of

    return springs_of(made, lap_flexibility(made))
