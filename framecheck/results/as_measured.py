"""A case as a test found it, beside the drawing: what is said of it, and the worst of each kind of check in both."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from framecheck.model.as_measured import AsMeasured
from framecheck.model.case import Case
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Entry, Question, Remark, Thing, asked
from framecheck.value_class import value_class

STATED_BODY = "stated body"


@value_class
class Beside:
    """The worst row of a kind of check as measured, and the same thing in the same load case as drawn; None: it stood in no row."""

    measured: CheckResult
    drawn: CheckResult | None


def measured_body(case: Case) -> Iterator[Entry]:
    """Yield the stiffness of a stated body, where a test told it."""
    body, found = case.frame.body, case.measured
    if body is None or found is None or found.torsion is None:
        return
    if not body.middle or found.bending is not None:
        yield asked(Thing.PANEL, STATED_BODY, Question.BODY)


def measured_remarks(case: Case) -> Iterator[Remark]:
    """Yield what a test changed in the frame that is judged."""
    found = case.measured
    if found is not None:
        changed = ", ".join(changes(found)) or "nothing"
        yield Remark("the frame", f"is judged as a test found it against the drawing ({changed}); by {found.because}")
    elif case.measured_by:
        named = ", ".join(case.measured_by)
        yield Remark("the frame", f"is judged as drawn: the readings that the file names ({named}) were not fitted")


def changes(found: AsMeasured) -> Iterator[str]:
    """Yield what a test found otherwise than drawn."""
    if found.joints != 1.0:
        yield f"joints {found.joints:.2f} times as soft"
    yield from (f"joints ({make.value}) {factor:.2f} times as soft" for make, factor in found.ends)
    yield from (f"kinks ({made.value}) {factor:.2f} times as soft" for made, factor in found.kinks)
    if found.splices != 1.0:
        yield f"splices {found.splices:.2f} times as soft"
    yield from (f"walls of {name} x {factor:.2f}" for name, factor in found.walls)
    if found.panels != 1.0:
        yield f"sheet of panels x {found.panels:.2f}"
    if found.modulus != 1.0:
        yield f"modulus x {found.modulus:.3f}"
    if found.tells_body:
        yield "the stated body as stiff as it was measured"


def beside(measured: Sequence[CheckResult], drawn: Sequence[CheckResult]) -> tuple[Beside, ...]:
    """Return the worst row of each kind of check as measured beside the drawing's, in the order of the rows."""
    by = {key_of(row): row for row in drawn}
    worst: dict[object, CheckResult] = {}
    for row in measured:
        if row.check not in worst or row.used > worst[row.check].used:
            worst[row.check] = row
    return tuple(Beside(row, by.get(key_of(row), worst_of(row, drawn))) for row in worst.values())


def key_of(row: CheckResult) -> tuple[object, ...]:
    """Return what makes a row the same in two answers."""
    return row.check, row.mode, row.subject, row.load_case


def worst_of(row: CheckResult, drawn: Sequence[CheckResult]) -> CheckResult | None:
    """Return the worst row of the same kind of check and the same thing as drawn, None where there is none."""
    same = [each for each in drawn if each.check is row.check and each.subject == row.subject]
    return max(same, key=lambda each: each.used, default=None)
