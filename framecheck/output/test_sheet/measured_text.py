"""What readings say, for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.output.display import Units, listed, titled, wrapped
from framecheck.output.test_sheet import change_wording
from framecheck.output.test_sheet import measured_wording as said
from framecheck.output.test_sheet.also import NOTHING, Also
from framecheck.output.test_sheet.fit_wording import lines, singular_table
from framecheck.output.test_sheet.text import shown
from framecheck.output.test_sheet.wording import title
from framecheck.rig.measured import MeasuredTest


def as_text(found: Sequence[MeasuredTest], caution: str, units: Units, width: int = 80, also: Also = NOTHING) -> str:
    """Return what the readings of one test or several say as text, and what a fit to them says."""
    parts = [*(one(each, caution, units, width) for each in found)]
    fit, change = also.fit, also.change
    if change is not None:
        parts.append(titled("Before and after", listed(change_wording.lines(change, units), width)))
        parts.append(shown(change_wording.table(change, units), width))
    if fit is not None:
        parts += [titled("The fit", listed(lines(fit, units), width)), shown(singular_table(fit.fit), width)]
    return "\n\n".join(parts)


def one(found: MeasuredTest, caution: str, units: Units, width: int) -> str:
    """Return what the readings of one test say as text."""
    odd = listed(said.finding_lines(found, units), width)
    parts = [
        wrapped(f"{found.sheet.case.title}: {title(found.sheet)}, as measured", width),
        wrapped(caution, width),
        *(wrapped(line, width) for line in said.first_lines(found, units)),
        titled("Bay by bay", listed(said.bay_lines(found), width)),
        titled("What is odd", odd) if odd else "Nothing odd: straight, alike both ways, back to zero, as far as it was read.",
        shown(said.pair_table(found, units), width) if found.sheet.rig.planes else "",
        shown(said.dial_table(found, units), width),
    ]
    return "\n\n".join(part for part in parts if part)
