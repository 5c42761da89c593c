"""`framecheck rate`: how much the frame can take."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from framecheck.cli.options import long_option, most_work, strict_option, units_option
from framecheck.cli.workshop import caution, read, screen_width, section_store, tell
from framecheck.model.case import Case
from framecheck.output.display import Units
from framecheck.run import prepare, solved
from framecheck.work import refuse_beyond

if TYPE_CHECKING:
    from framecheck.study.rate import Rating


@click.command(name="rate", short_help="How much torque, g, curb speed, payload the frame can take.")
@click.argument("case")
@strict_option
@long_option
@units_option
def command(case: str, is_strict: bool, units: Units | None) -> int:
    """Raise one load of CASE at a time: the largest that meets the target, the largest before yield, what governs.

    Exit code: that of `check`; 1 also where a rating is less than the load in the case.
    """
    from framecheck.output.rating_text import as_text
    from framecheck.study.rate import ratings

    described = read(case)
    prepared = prepare(described, section_store())
    refuse_beyond(most_work(), described, prepared.structures)
    verdict = solved(prepared, described).verdict
    found = tuple(ratings(prepared, described))
    tell(as_text(described, found, caution(), units or described.written_in, screen_width(), verdict))
    if described.as_drawn is not None:
        tell(drawn_text(described.as_drawn, found, units or described.written_in))
    return max(verdict.exit_code(is_strict), 1 if any(each.misses for each in found) else 0)


def drawn_text(drawn: Case, found: tuple[Rating, ...], units: Units) -> str:
    """Return the ratings as drawn beside those as measured."""
    from framecheck.output.as_measured_text import ratings_table
    from framecheck.output.test_sheet.text import shown
    from framecheck.study.rate import ratings

    return shown(ratings_table(tuple(ratings(prepare(drawn, section_store()), drawn)), found, units), screen_width())
