"""What holds the frame in each load case: the frame's own supports, those of the case, or nothing. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.links import Supports, supports_of
from framecheck.model.arrays import IntArray
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads
from framecheck.model.supports import Support
from framecheck.value_class import array_class

Hold = tuple[bool, tuple[Support, ...] | None]


def hold_of_case(case: CaseLoads) -> Hold:
    """Return what holds the frame in a case: whether it hangs on nothing, and the case's own supports (None: the frame's)."""
    return case.afloat, None if case.afloat else case.supports


@array_class
class Ground:
    """Cases (k,) that hang on the same supports. key: under which the frame's factors on them are kept."""

    key: object
    supports: Supports
    cases: IntArray


def ground_of(frame: Frame, case: CaseLoads) -> tuple[object, Supports]:
    """Return the supports of a case that hangs on some, and the key of the frame's factors on them."""
    if case.supports is None:
        return "supports", supports_of(frame, frame.supports)
    return case.supports, supports_of(frame, case.supports)


def grounds_of(frame: Frame, cases: Sequence[CaseLoads]) -> Iterator[Ground]:
    """Yield the cases that hang on supports, those together that hang on the same."""
    found: dict[object, list[int]] = {}
    for number, case in enumerate(cases):
        if not case.afloat:
            found.setdefault(case.supports, []).append(number)
    for numbers in found.values():
        yield Ground(*ground_of(frame, cases[numbers[0]]), np.array(numbers, dtype=np.int64))
