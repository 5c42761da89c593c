"""What readings say, for a terminal."""

from __future__ import annotations

from framecheck.output.display import Units
from framecheck.output.test_sheet import measured_wording as said
from framecheck.output.test_sheet.text import listed, shown
from framecheck.output.test_sheet.wording import title
from framecheck.output.text_table import titled, wrapped
from framecheck.rig.measured import Measured


def as_text(found: Measured, caution: str, units: Units, width: int = 80) -> str:
    """Return what the readings say as text."""
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
