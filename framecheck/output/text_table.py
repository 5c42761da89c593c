"""Plain text tables that fit a terminal: columns as wide as they need, the widest text columns wrapped."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from framecheck.value_class import value_class

GAP = "  "
NARROWEST = 8


@value_class
class Column:
    """A heading; numbers stand right, words left and may wrap."""

    heading: str
    is_number: bool = False


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int = 80, under: Sequence[str] = ()) -> str:
    """Return the table as text, at most `width` wide where wrapping words can make it so.

    under: a text below each row, over the whole width: words too many for a column.
    """
    cells = [[column.heading for column in columns], *[list(row) for row in rows]]
    natural = [max(_longest_line(row[i]) for row in cells) for i in range(len(columns))]
    whole = [max(_least(column, row[i]) for row in cells) for i, column in enumerate(columns)]
    widths = _fitted(natural, whole, columns, width)
    head = _lines(cells[0], columns, widths)
    rule = GAP.join("-" * w for w in widths)
    below = [_indented(text, width) for text in under] or [[] for _ in rows]
    body = [line for row, more in zip(cells[1:], below, strict=True) for line in (*_lines(row, columns, widths), *more)]
    return "\n".join([*head, rule, *body])


def _longest_line(text: str) -> int:
    return max((len(line) for line in text.splitlines()), default=0)


def _least(column: Column, text: str) -> int:
    """Return the width that breaks no word of a cell, and no number from its unit."""
    breaks = not column.is_number or text == column.heading
    return max((len(word) for word in text.split()), default=0) if breaks else _longest_line(text)


def _fitted(natural: list[int], whole: list[int], columns: Sequence[Column], width: int) -> list[int]:
    """Narrow the widest column, one character at a time, until the table fits; a word is broken only where that makes it fit."""
    floors = [NARROWEST if not column.is_number else least for column, least in zip(columns, whole, strict=True)]
    widths = list(natural)
    gaps = len(GAP) * (len(widths) - 1)
    for least in (whole, floors) if sum(floors) + gaps <= width else (whole,):
        while sum(widths) + gaps > width:
            widest = max((i for i, w in enumerate(widths) if w > least[i]), key=lambda i: widths[i], default=-1)
            if widest < 0:
                break
            widths[widest] -= 1
    return widths


def _lines(row: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> list[str]:
    """Return a row as one or more lines."""
    wrapped = [_wrapped(text, width) for text, width in zip(row, widths, strict=True)]
    height = max(len(lines) for lines in wrapped)
    padded = [lines + [""] * (height - len(lines)) for lines in wrapped]
    placed = [[_placed(line, columns[c], widths[c]) for line in lines] for c, lines in enumerate(padded)]
    return [GAP.join(line).rstrip() for line in zip(*placed, strict=True)]


def _indented(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, initial_indent="    ", subsequent_indent="    ")


def _wrapped(text: str, width: int) -> list[str]:
    return [piece for line in text.splitlines() for piece in textwrap.wrap(line, width) or [""]] or [""]


def _placed(text: str, column: Column, width: int) -> str:
    return text.rjust(width) if column.is_number else text.ljust(width)


def wrapped(text: str, width: int, indent: str = "") -> str:
    """Return text wrapped to a width, later lines indented."""
    return textwrap.fill(text, width, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)


def titled(title: str, body: str) -> str:
    """Return a block under its title, or nothing where the block is empty."""
    return f"{title}\n\n{body}" if body else ""
