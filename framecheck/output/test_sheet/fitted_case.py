"""A case as a test found it: the file as it was, word for word, and below it what was found, with comments."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees, exp

from framecheck.model.as_measured import AsMeasured
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
    factors, rows = found.as_measured, told_of(found.fit)
    yield KEY
    yield "  # Found by framecheck test --fit, with two standard deviations. What it did not tell is as it was known before."
    yield from (f"  # from {each.file}, SHA-256 {each.sha256}" for each in readings)
    yield f"  because: \"{' '.join(factors.because.replace(chr(34), chr(39)).split())[:390]}\""
    for sort, key in ((Sort.SPLICES, "splices"), (Sort.PANELS, "panels"), (Sort.MODULUS, "modulus")):
        yield from (f"  {key}: {told(row)}" for row in rows if row.unknown.sort is sort)
    yield from listed("ends", [(str(row.unknown.make.value), row) for row in rows if row.unknown.make is not None])
    yield from listed("kinks", [(str(row.unknown.kinks.value), row) for row in rows if row.unknown.kinks is not None])
    yield from listed("walls", [(row.unknown.section, row) for row in rows if row.unknown.sort is Sort.WALLS])
    yield from body_lines(rows, factors)


def listed(key: str, rows: Sequence[tuple[str, Told]]) -> Iterator[str]:
    """Yield factors by name, under their key."""
    if rows:
        yield f"  {key}:"
    for name, row in rows:
        quoted = name.replace("\\", "\\\\").replace(chr(34), "\\" + chr(34))
        yield f"    \"{quoted}\": {told(row)}"


def body_lines(rows: Sequence[Told], found: AsMeasured) -> Iterator[str]:
    """Yield the stiffness of a stated body, least and most; what the test did not tell stays as stated."""
    kinds = (
        (Sort.TORSION, "body torsion", found.torsion, "N·m/deg", degrees(1.0)),
        (Sort.BENDING, "body bending", found.bending, "N/mm", 1e3),
    )
    for sort, key, measured, unit, size in kinds:
        if measured is not None:
            yield f"  {key}: [{measured[0] / size:.6g} {unit}, {measured[1] / size:.6g} {unit}]"
        elif any(row.unknown.sort is sort for row in rows):
            yield f"  # {key}: not told by this test, as stated"


def told(row: Told) -> str:
    """Return a factor with its range, and whether the test told it."""
    low, high = (row.factor * exp(way * 2 * row.after) for way in (-1, 1))
    return f"{row.factor:.4f}   # {low:.2f} to {high:.2f}{'' if row.is_told else '; not told by this test'}"
