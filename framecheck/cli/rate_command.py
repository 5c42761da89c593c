"""`framecheck rate`: how much the frame can take."""

from __future__ import annotations

import click

from framecheck.cli.options import long_option, most_work, strict_option, units_option
from framecheck.cli.workshop import caution, read, screen_width, section_store, tell
from framecheck.output.display import Units
from framecheck.run import prepare, solved
from framecheck.work import refuse_beyond


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
    return max(verdict.exit_code(is_strict), 1 if any(each.misses for each in found) else 0)
