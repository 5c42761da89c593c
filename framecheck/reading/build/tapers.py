"""Tapered stretches: from two sections and two stations to prismatic steps, each a section of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING

from framecheck.errors import InputError
from framecheck.model.frame import Section, Stretch
from framecheck.reading.build.draft import SAME_PLACE, Draft
from framecheck.reading.form import Record
from framecheck.section.validate import section_faults

if TYPE_CHECKING:  # the room of tapers is entered where something tapers
    from framecheck.section.taper import Steps

Span = tuple[float, float]


def taper(draft: Draft, record: Record, names: tuple[str, str], span: Span) -> tuple[Stretch, ...]:
    """Return the steps of a taper from one section to another between two stations (m along the member); none with a fault noted.

    The steps' sections are put on the shelf, so that the frame sees ordinary sections.
    """
    from framecheck.section.taper import steps_between

    first, last = (draft.shelf.section(name) for name in names)
    try:
        steps = steps_between(first, last)
    except InputError as error:
        fault = error.faults[0]
        draft.desk.refuse(record.line_of("taper to"), record.subject, f"{fault.subject}: {fault.fault}", fault.remedy)
        return ()
    made = sections_of(first, last, steps)
    for section in made:
        for fault in section_faults(section):
            draft.desk.refuse(
                record.line_of("taper to"), record.subject, f"{section.name}: {fault.fault}", fault.remedy
            )
        draft.shelf.built.setdefault(section.name, section)
    start, end = span
    return tuple(
        Stretch(section.name, start + (number + 1) * (end - start) / len(made)) for number, section in enumerate(made)
    )


def to_the_end(stretches: Sequence[Stretch], section: str, whole: float) -> tuple[Stretch, ...]:
    """Return stretches that run on to the end of a member of a length, m: in a section, or in the last step where that ends there."""
    if stretches and stretches[-1].until >= whole - SAME_PLACE:
        return (*stretches[:-1], replace(stretches[-1], until=inf))
    return (*stretches, Stretch(section, inf))


def sections_of(first: Section, last: Section, steps: Steps) -> tuple[Section, ...]:
    """Return the sections of the steps; the first one carries the note."""
    family, count = f"{first.name} tapered to {last.name}", len(steps.shapes)
    note = said(steps)
    return tuple(
        Section(
            f"{family}, step {number} of {count}", shape, first.material, (note,) if number == 1 else (), family, first.metals
        )
        for number, shape in enumerate(steps.shapes, start=1)
    )


def said(steps: Steps) -> str:
    """Return how a taper is taken, and what that leaves wrong."""
    twist = "" if steps.closed else "; the twist that inclined flanges of an open section make is not counted"
    return (
        f"the taper is taken in {len(steps.shapes)} equal steps: its stiffness is within "
        f"{100 * steps.stiffness_error:.2g} % (by halving the steps), stress at the thin end of a step is up to "
        f"{100 * steps.stress_error:.2g} % above what is shown{twist}"
    )
