"""SI numbers to the units a person reads, and plain text tables that fit a terminal."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Sequence

from framecheck.model.said import Words
from framecheck.units import Units as Units
from framecheck.value_class import value_class


@value_class
class Shown:
    """A unit as shown: its label, how many SI units it holds, and how many significant digits a table gives."""

    label: str
    size: float
    digits: int = 4


INCH = 0.0254
PARTS_OF_INCH, NEAR_PART = 64, 1e-6
"""Sizes in 64ths of an inch, to a share of NEAR_PART, are shown as fractions."""
POUND = 0.45359237
POUND_FORCE = POUND * 9.80665
FOOT = 12 * INCH
DEGREE = math.pi / 180
PSI = POUND_FORCE / INCH**2

UNITS: dict[str, tuple[Shown, Shown]] = {
    "length": (Shown("mm", 1e-3), Shown("in", INCH)),
    "size": (Shown("mm", 1e-3), Shown("in", INCH)),
    "station": (Shown("mm", 1e-3), Shown("in", INCH)),
    "deflection": (Shown("mm", 1e-3, 3), Shown("in", INCH, 3)),
    "area": (Shown("mm²", 1e-6), Shown("in²", INCH**2)),
    "inertia": (Shown("cm⁴", 1e-8), Shown("in⁴", INCH**4)),
    "modulus": (Shown("cm³", 1e-6), Shown("in³", INCH**3)),
    "bending stiffness": (Shown("kN·m²", 1e3), Shown("kip·in²", 1e3 * POUND_FORCE * INCH**2)),
    "warping": (Shown("cm⁶", 1e-12), Shown("in⁶", INCH**6)),
    "stress": (Shown("MPa", 1e6, 3), Shown("ksi", 1e3 * PSI, 3)),
    "force": (Shown("kN", 1e3, 3), Shown("lbf", POUND_FORCE, 4)),
    "moment": (Shown("N·m", 1.0, 4), Shown("lb·ft", POUND_FORCE * FOOT, 4)),
    "bimoment": (Shown("N·m²", 1.0, 3), Shown("lb·ft²", POUND_FORCE * FOOT**2, 3)),
    "mass": (Shown("kg", 1.0), Shown("lb", POUND)),
    "line mass": (Shown("kg/m", 1.0), Shown("lb/ft", POUND / FOOT)),
    "angle": (Shown("deg", DEGREE, 3), Shown("deg", DEGREE, 3)),
    "twist stiffness": (Shown("N·m/deg", 1 / DEGREE, 3), Shown("lb·ft/deg", POUND_FORCE * FOOT / DEGREE, 3)),
    "stiffness": (Shown("N/mm", 1e3, 3), Shown("lbf/in", POUND_FORCE / INCH, 3)),
    "line force": (Shown("N/mm", 1e3, 3), Shown("lbf/in", POUND_FORCE / INCH, 3)),
    "speed": (Shown("km/h", 1 / 3.6, 3), Shown("mph", 1609.344 / 3600, 3)),
    "power": (Shown("kW", 1e3, 3), Shown("hp", 550 * POUND_FORCE * FOOT, 3)),
    "frequency": (Shown("Hz", 1.0, 3), Shown("Hz", 1.0, 3)),
    "acceleration": (Shown("g", 9.80665, 3), Shown("g", 9.80665, 3)),
    "distance": (Shown("km", 1e3, 3), Shown("mi", 1609.344, 3)),
    "life distance": (Shown("km", 1e3, 3), Shown("mi", 1609.344, 3)),
    "number": (Shown("", 1.0, 4), Shown("", 1.0, 4)),
}


QUANTITIES = {"Pa": "stress", "N": "force", "Nm": "moment", "N/m": "line force", "m": "size", "rad": "angle"}
"""How the SI unit of a check's numbers is shown."""


def shown_unit(quantity: str, units: Units) -> Shown:
    """Return the unit in which a quantity is shown."""
    return UNITS[quantity][0 if units is Units.SI else 1]


def number(value: float, digits: int = 4) -> str:
    """Return a number with so many significant digits, without an exponent where a reader can do without one."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else "n/a"
    exponent = int(f"{value:.{digits - 1}e}".partition("e")[2])  # of the rounded number: 0.99999 is 1.000
    if exponent >= 7 or exponent < -4:
        return f"{value:.{digits - 1}e}"
    return f"{value:.{max(0, digits - 1 - exponent)}f}"


def bare(value: float, quantity: str, units: Units) -> str:
    """Return the number alone, in the shown unit."""
    unit = shown_unit(quantity, units)
    if quantity == "size":
        return shop_number(value / unit.size, units)
    return grouped(value / unit.size) if quantity == "life distance" else number(value / unit.size, unit.digits)


def grouped(value: float) -> str:
    """Return a large number in three digits, rounded down, in groups: "1 940 000"; a small one with its decimals."""
    if value < 1000:
        return f"{value:.3g}"
    cut = 10 ** (len(str(int(value))) - 3)
    return f"{int(value) // cut * cut:,}".replace(",", " ")


def shop_number(value: float, units: Units) -> str:
    """Return a size as a shop writes it: "3/16", "1 1/2" for 64ths of an inch, "4.5" for millimetres."""
    parts = value * PARTS_OF_INCH
    if units is Units.US and round(parts) > 0 and abs(parts - round(parts)) <= NEAR_PART * parts:
        from fractions import Fraction  # few screens show a size

        whole, left = divmod(round(parts), PARTS_OF_INCH)
        fraction = Fraction(left, PARTS_OF_INCH)
        return " ".join([*([str(whole)] if whole else []), *([str(fraction)] if fraction else [])])
    text = number(value)
    return text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text


def with_unit(value: float, quantity: str, units: Units) -> str:
    """Return number and unit, as in "3.21 kN"."""
    return f"{bare(value, quantity, units)} {shown_unit(quantity, units).label}".rstrip()


def factor(value: float) -> str:
    """Return a safety factor with two decimals, rounded down so that it never looks better than it is; a tiny one is not none."""
    if 0.0 < value < 0.01 - 1e-11:
        return "<0.01"
    return f"{math.floor(value * 100 + 1e-9) / 100:.2f}" if value < 100 else ">99"


def spoken(words: Words, units: Units) -> str:
    """Return words with their amounts in the shown units."""
    if isinstance(words, str):
        return words
    return "".join(part if isinstance(part, str) else with_unit(part.value, part.quantity, units) for part in words.parts)


GAP = "  "
NARROWEST = 8


@value_class
class TextColumn:
    """A heading; numbers stand right, words left and may wrap."""

    heading: str
    is_number: bool = False


def table(columns: Sequence[TextColumn], rows: Sequence[Sequence[str]], width: int = 80, under: Sequence[str] = ()) -> str:
    """Return the table as text, at most `width` wide where wrapping words can make it so.

    under: a text below each row, over the whole width: words too many for a column.
    """
    cells = [[column.heading for column in columns], *[list(row) for row in rows]]
    natural = [max(_longest_line(row[i]) for row in cells) for i in range(len(columns))]
    whole = [max(_least(column, row[i]) for row in cells) for i, column in enumerate(columns)]
    widths = _fitted(natural, whole, columns, width)
    head = _lines(cells[0], columns, widths)
    rule = GAP.join("-" * w for w in widths)
    below = [textwrap.wrap(text, width, initial_indent="    ", subsequent_indent="    ") for text in under] or [[] for _ in rows]
    body = [line for row, more in zip(cells[1:], below, strict=True) for line in (*_lines(row, columns, widths), *more)]
    return "\n".join([*head, rule, *body])


def _longest_line(text: str) -> int:
    return max((len(line) for line in text.splitlines()), default=0)


def _least(column: TextColumn, text: str) -> int:
    """Return the width that breaks no word of a cell, and no number from its unit."""
    breaks = not column.is_number or text == column.heading
    return max((len(word) for word in text.split()), default=0) if breaks else _longest_line(text)


def _fitted(natural: list[int], whole: list[int], columns: Sequence[TextColumn], width: int) -> list[int]:
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


def _lines(row: Sequence[str], columns: Sequence[TextColumn], widths: Sequence[int]) -> list[str]:
    """Return a row as one or more lines."""
    wrapped = [_wrapped(text, width) for text, width in zip(row, widths, strict=True)]
    height = max(len(lines) for lines in wrapped)
    padded = [lines + [""] * (height - len(lines)) for lines in wrapped]
    placed = [[_placed(line, columns[c], widths[c]) for line in lines] for c, lines in enumerate(padded)]
    return [GAP.join(line).rstrip() for line in zip(*placed, strict=True)]


def _wrapped(text: str, width: int) -> list[str]:
    return [piece for line in text.splitlines() for piece in textwrap.wrap(line, width) or [""]] or [""]


def _placed(text: str, column: TextColumn, width: int) -> str:
    return text.rjust(width) if column.is_number else text.ljust(width)


def wrapped(text: str, width: int, indent: str = "") -> str:
    """Return text wrapped to a width, later lines indented."""
    return textwrap.fill(text, width, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)


def shortened(text: str, most: int) -> str:
    """Return a text of at most so many letters."""
    return text if len(text) <= most else f"{text[: most - 3].rstrip()}..."


def listed(lines: Iterable[str], width: int) -> str:
    """Return lines as a list."""
    return "\n".join(wrapped(f"- {line}", width, "  ") for line in lines)


def titled(title: str, body: str) -> str:
    """Return a block under its title, or nothing where the block is empty."""
    return f"{title}\n\n{body}" if body else ""
