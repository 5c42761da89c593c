"""Natural frequencies and shapes of vibration as text."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.frame.modes import Modes, VibrationMode
from framecheck.output.display import (
    TextColumn,
    Units,
    bare,
    table,
    titled,
    wrapped,
)
from framecheck.study.modes import ModeSet, Vibrations

NAMED_FROM = 0.05  # parts with a smaller share of the moving energy are not named

MOST_NAMED = 3

SAME = 0.01  # relative; frequencies nearer than this are one to a reader


def modes_text(title: str, found: Vibrations, caution: str, units: Units, width: int = 80) -> str:
    """Return the first modes of each standing under each bound; a bound that changes nothing is named, not shown again."""
    shown = [each for i, each in enumerate(found.sets) if not any(alike(each, other) for other in found.sets[:i])]
    parts = [wrapped(title, width), wrapped(caution, width)]
    parts += [titled(heading, mode_table(modes, units, width)) for each in shown for heading, modes in headed(each)]
    said = [*found.notes, *(f"The same within 1 %: {name(each)}." for each in found.sets if each not in shown)]
    parts.append(titled("Notes", "\n".join(wrapped(f"- {note}", width, "  ") for note in said)))
    return "\n\n".join(part for part in parts if part)


def name(each: ModeSet) -> str:
    """Return the name of a set's bound."""
    return each.bare.bound.name


def alike(first: ModeSet, second: ModeSet) -> bool:
    """Return whether all frequencies of two sets are within SAME of each other."""
    pairs = zip((first.bare, first.loaded, first.wheels), (second.bare, second.loaded, second.wheels), strict=True)
    both = [(a, b) for a, b in pairs if a is not None and b is not None]
    return all(
        abs(x.frequency / y.frequency - 1) < SAME for a, b in both for x, y in zip(a.modes, b.modes, strict=False)
    )


def headed(each: ModeSet) -> Iterator[tuple[str, Modes]]:
    """Yield the sets that were found, each under its heading."""
    sets = (
        ("The bare frame, hanging free", each.bare),
        ("With all it carries, hanging free", each.loaded),
        ("With all it carries, on its wheels", each.wheels),
        ("On its supports", each.supported),
    )
    for heading, modes in sets:
        if modes is not None:
            yield f"{heading}: {modes.bound.name}" if modes.bound.name else heading, modes


def mode_table(modes: Modes, units: Units, width: int) -> str:
    """Return one row per mode, the lowest first."""
    heads = [TextColumn("Hz", True), TextColumn("the frame"), TextColumn("what moves, share of the moving energy")]
    rows = [(bare(mode.frequency, "frequency", units), mode.motion, moving(mode)) for mode in modes.modes]
    return table(heads, rows, width)


def moving(mode: VibrationMode) -> str:
    """Return the parts that hold most of the moving energy."""
    named = [(name, share) for name, share in mode.parts if share >= NAMED_FROM][:MOST_NAMED]
    return ", ".join(f"{name} {100 * share:.0f} %" for name, share in named)
