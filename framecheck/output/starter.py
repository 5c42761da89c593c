"""A first case file from a few answers: a commented text whose blanks are filled in.

A blank is {{title}}, or an amount {{-0.25 length}}: a share of what was answered, or a fixed {{390 mm}}; all lengths of a file are
written in the unit that the length was answered in.
"""

from __future__ import annotations

import json
import re

from framecheck.output.display import INCH, POUND, POUND_FORCE
from framecheck.value_class import value_class

PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./x-]*")
BLANK = re.compile(r"\{\{(?:(?P<share>-?[\d.]+) )?(?P<word>[a-z ]+)\}\}")


@value_class
class Kind:
    """What can be started: its questions (what it is made of, a length, a load) with an answer to begin from."""

    about: str
    made_of: tuple[str, str]
    length: tuple[str, str]
    load: tuple[str, str]


KINDS = {
    "ladder": Kind(
        "a ladder frame with the vehicle on it",
        ("Section of the rails and crossmembers", "tube 5 x 2 x 3/16 in"),
        ("Wheelbase", "100 in"),
        ("Weight of the loaded vehicle", "3600 lb"),
    ),
    "crossmember": Kind(
        "one crossmember between two rails",
        ("Section of the crossmember", "tube 1 1/2 x 3 x 11 ga"),
        ("Distance between the rails' middles", "30 in"),
        ("Weight that it carries", "230 lb"),
    ),
    "notched-rail": Kind(
        "a rail with a notch",
        ("Section of the rail", "tube 4 x 2 x 3/16 in"),
        ("Length of rail between its supports", "45 in"),
        ("Weight that this rail carries there", "485 lb"),
    ),
    "skid-plate": Kind(
        "a skid plate on crossmembers",
        ("Thickness of the plate", "1/4 in"),
        ("Length of the plate along the vehicle", "26 in"),
        ("Weight on the axle above it", "1700 lb"),
    ),
}


@value_class
class Answers:
    """What was answered: texts as written; length in m, load in kg; inches, pounds: whether they were answered so."""

    file: str
    title: str
    made_of: str
    length: float
    load: float
    inches: bool
    pounds: bool


def filled(template: str, answers: Answers) -> str:
    """Return the text of a case file."""
    return BLANK.sub(lambda blank: _filling(blank["word"], blank["share"], answers), template)


def _filling(word: str, share: str | None, answers: Answers) -> str:
    """Return what stands in place of one blank."""
    if share is None:
        return {"file": printable(answers.file), "title": quoted(answers.title), "made of": plain(answers.made_of)}[
            word
        ]
    amount = float(share)
    if word in ("length", "mm"):
        return length_text(amount * (answers.length if word == "length" else 1e-3), answers.inches)
    return load_text(amount * answers.load, word == "weight", answers.pounds)


def printable(text: str) -> str:
    """Return a text that stays within its comment."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def plain(text: str) -> str:
    """Return a name as it stands, in quotes where YAML could take it for more than a name."""
    return text if PLAIN.fullmatch(text) else quoted(text)


def quoted(text: str) -> str:
    """Return a text that YAML reads as a text, whatever is in it."""
    return json.dumps(text, ensure_ascii=False)


def length_text(metres: float, inches: bool) -> str:
    """Return a length in inches, to a quarter, or in whole millimetres."""
    return f"{round(metres / INCH * 4) / 4:g} in" if inches else f"{round(metres * 1e3)} mm"


def load_text(kilograms: float, force: bool, pounds: bool) -> str:
    """Return a mass in lb or kg, or its weight in lb or N."""
    if pounds:
        return f"{round(kilograms / POUND)} lb"
    return f"{round(kilograms * POUND_FORCE / POUND)} N" if force else f"{round(kilograms)} kg"
