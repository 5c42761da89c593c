"""A case as a test found it: the file as it was, word for word, and below it what was found, with comments."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import exp

from framecheck.rig.fit import Told, told_of
from framecheck.rig.fitted import Fitted
from framecheck.rig.unknowns import Sort
from framecheck.versions import MADE_BY, Origin

KEY = "as measured:"


def fitted_case(text: str, found: Fitted, readings: Sequence[Origin]) -> str:
    """Return the text of the fitted case; an earlier fit in it is taken out first."""
    stamp = f'# generator" content="{MADE_BY}: as fitted by `framecheck test`'
    return "\n".join((stamp, without_fit(text).rstrip("\n"), "", *block(found, readings), ""))


def without_fit(text: str) -> str:
    """Return a case's text without what an earlier fit added, and without its first line's stamp."""
    kept, within = [], False
    for line in text.split("\n"):
        if line.startswith(KEY):
            within = True
            continue
        within = within and (line.startswith((" ", "#")) or not line.strip())
        if not within and not line.startswith("# generator"):
            kept.append(line)
    return "\n".join(kept)


def block(found: Fitted, readings: Sequence[Origin]) -> Iterator[str]:
    """Yield the lines of what was found."""
    factors, rows = found.as_measured, {each.unknown.name: each for each in told_of(found.fit)}
    yield KEY
    yield "  # Found by framecheck test --fit, with two standard deviations. What it did not tell is as it was known before."
    yield from (f"  # from {each.file}, SHA-256 {each.sha256}" for each in readings)
    yield f"  because: \"{' '.join(factors.because.replace(chr(34), chr(39)).split())[:390]}\""
    named = {Sort.JOINTS: "joints", Sort.PANELS: "panels", Sort.MODULUS: "modulus"}
    for row in rows.values():
        if row.unknown.sort in named:
            yield f"  {named[row.unknown.sort]}: {told(row)}"
    walls = [row for row in rows.values() if row.unknown.sort is Sort.WALLS]
    if walls:
        yield "  walls:"
    for row in walls:
        name = row.unknown.section.replace("\\", "\\\\").replace(chr(34), "\\" + chr(34))
        yield f"    \"{name}\": {told(row)}"


def told(row: Told) -> str:
    """Return a factor with its range, and whether the test told it."""
    low, high = (row.factor * exp(way * 2 * row.after) for way in (-1, 1))
    return f"{row.factor:.4f}   # {low:.2f} to {high:.2f}{'' if row.is_told else '; not told by this test'}"
