"""`framecheck new` and `framecheck schema`: a first case file from five answers, and what a case file may hold.

A blank is {{title}}, or an amount {{-0.25 length}}: a share of what was answered, or a fixed {{390 mm}}, {{5 small mm}} to a sixteenth
of an inch; all lengths of a file are written in the unit that the length was answered in.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import click

from framecheck.cli.files import PACKAGE, library, write_whole
from framecheck.errors import Fault, InputError
from framecheck.output.display import INCH, POUND, POUND_FORCE, Units, shop_number
from framecheck.value_class import value_class

PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./x-]*")
BLANK = re.compile(r"\{\{(?:(?P<share>-?[\d.]+) )?(?P<word>[a-z ]+)\}\}")


@value_class
class StarterKind:
    """What can be started: its questions (what it is made of, a length, a load) with an answer to begin from."""

    about: str
    made_of: tuple[str, str]
    length: tuple[str, str]
    load: tuple[str, str]


KINDS = {
    "ladder": StarterKind(
        "a ladder frame with the vehicle on it",
        ("Section of the rails and crossmembers", "tube 5 x 2 x 3/16 in"),
        ("Wheelbase", "100 in"),
        ("Weight of the loaded vehicle", "3600 lb"),
    ),
    "body": StarterKind(
        "a unit body with the vehicle on it",
        ("Section of the rails", "tube 4 x 3 x 3/16 in"),
        ("Wheelbase", "100 in"),
        ("Weight of the loaded vehicle", "2800 lb"),
    ),
    "crossmember": StarterKind(
        "one crossmember between two rails",
        ("Section of the crossmember", "tube 1 1/2 x 3 x 11 ga"),
        ("Distance between the rails' middles", "30 in"),
        ("Weight that it carries", "230 lb"),
    ),
    "notched-rail": StarterKind(
        "a rail with a notch",
        ("Section of the rail", "tube 4 x 2 x 3/16 in"),
        ("Length of rail between its supports", "45 in"),
        ("Weight that this rail carries there", "485 lb"),
    ),
    "skid-plate": StarterKind(
        "a skid plate on crossmembers",
        ("Thickness of the plate", "1/4 in"),
        ("Length of the plate along the vehicle", "26 in"),
        ("Weight on the axle above it", "1700 lb"),
    ),
    "bolted-joint": StarterKind(
        "an arm bolted to a rail",
        ("Section of the arm", "tube 3 x 2 x 11 ga"),
        ("How far it stands out", "10 in"),
        ("Weight that hangs on it", "150 lb"),
    ),
    "welded-joint": StarterKind(
        "an arm welded to a rail",
        ("Section of the arm", "tube 3 x 2 x 11 ga"),
        ("How far it stands out", "10 in"),
        ("Weight that hangs on it", "150 lb"),
    ),
    "stitched-rail": StarterKind(
        "a rail with a plate stitched to it",
        ("Section of the rail", "tube 4 x 2 x 11 ga"),
        ("Length of rail between its supports", "45 in"),
        ("Weight that this rail carries there", "485 lb"),
    ),
    "bare-ladder": StarterKind(
        "a bare ladder frame to be tested on stands",
        ("Section of the rails and crossmembers", "tube 4 x 2 x 3/16 in"),
        ("Distance from the front to the rear crossmember", "100 in"),
        ("Weight that the test puts on each corner", "50 lb"),
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
    if word == "small mm":
        return small_text(amount * 1e-3, answers.inches)
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


def small_text(metres: float, inches: bool) -> str:
    """Return a thickness or a leg in inches, to a sixteenth, or in whole millimetres."""
    return f"{shop_number(round(metres / INCH * 16) / 16, Units.US)} in" if inches else f"{round(metres * 1e3)} mm"


def load_text(kilograms: float, force: bool, pounds: bool) -> str:
    """Return a mass in lb or kg, or its weight in lb or N."""
    if pounds:
        return f"{round(kilograms / POUND)} lb"
    return f"{round(kilograms * POUND_FORCE / POUND)} N" if force else f"{round(kilograms)} kg"


STARTERS = PACKAGE / "output" / "starters"


@click.command(name="new", short_help="Write a first case file from five answers.")
@click.argument("file")
@click.option("--kind", type=click.Choice(list(KINDS)), help="What it is about.")
@click.option("--title", help="What to call it.")
@click.option("--made-of", metavar="SECTION", help="A section of the library; of a skid plate, its thickness.")
@click.option("--length", help="Wheelbase, span, length of rail or of plate, with its unit.")
@click.option("--load", help="The weight carried, with its unit.")
@click.option("--defaults", is_flag=True, help="Ask nothing; take the usual answer where no option gives one.")
@click.option("--from", "source", metavar="LINES", help="A DXF drawing of the frame's middle lines in plan, or a CSV table of points.")
@click.option("--unit", type=click.Choice(["mm", "cm", "m", "in", "ft"]), help="With --from: the unit of its bare numbers.")
@click.option("--overall-length", metavar="LENGTH", help="With --from: scale the drawing to this length along the vehicle.")
@click.option("--front", type=click.Choice(["right", "top", "left", "bottom"]), default="right", help="With --from: where forward is.")
@click.option("--half", is_flag=True, help="With --from: one side is drawn; join it to its mirror image.")
@click.option("--tolerance", default="1 mm", show_default=True, help="With --from: points nearer than this are one.")
def new_command(
    file: str, kind: str | None, title: str | None, made_of: str | None, length: str | None, load: str | None,
    defaults: bool, source: str | None, unit: str | None, overall_length: str | None, front: str, half: bool, tolerance: str,
) -> int:  # fmt: skip
    """Write a commented case to FILE: a ladder frame, a unit body, a crossmember, a notched rail, a skid plate, a joint ...

    Five questions are asked; each has an option that answers it. A file that exists is never overwritten.

    With --from LINES nothing is asked: points and members come from a DXF drawing of middle lines (a layer names its members) or
    from a table with the columns member, point, x, y, z, section.
    """
    refuse_existing(file)
    if source is not None:
        from framecheck.cli.frame_from_lines import LinesAsked, case_from_lines

        asked_lines = LinesAsked(source, unit or "", overall_length or "", front, half, tolerance)
        section = made_of or KINDS["ladder"].made_of[1]
        text, found = case_from_lines(asked_lines, file, title or f"Frame of {Path(source).name}", section)
        done = written(file, text)
        click.echo(found)
        return done
    refuse_without_lines(unit, overall_length, half)
    chosen = kind or asked("What is it? " + "; ".join(f"{n}: {k.about}" for n, k in KINDS.items()), "ladder", defaults)
    if chosen not in KINDS:
        raise InputError([Fault("", "kind", f"'{chosen}' is not known here", f"write one of: {', '.join(KINDS)}")])
    of = KINDS[chosen]
    given = (
        title or asked("Title", of.about.removeprefix("a ").capitalize(), defaults),
        made_of or asked(*of.made_of, defaults),
        length or asked(*of.length, defaults),
        load or asked(*of.load, defaults),
    )
    return written(file, filled((STARTERS / f"{chosen}.yaml").read_text(encoding="utf-8"), answers_of(file, of, *given)))


def written(file: str, text: str) -> int:
    """Write a first case, read once to see that it can be, and say what to do with it."""
    checked(text, file)
    write_whole(file, text)
    click.echo(f"wrote {file}: put your own numbers in, then run: framecheck check {file}")
    return 0


def refuse_without_lines(*options: str | bool | None) -> None:
    """Refuse options that say how to read lines where no lines are given."""
    if any(options):
        raise click.UsageError("--unit, --overall-length and --half say how to read a drawing or table; give it by --from")


def refuse_existing(file: str) -> None:
    """Refuse to write over a file: what a person wrote is worth more than what a program can."""
    if Path(file).exists():
        raise InputError([Fault(file, "", "exists already", "choose another name; nothing was written")])


def asked(question: str, usual: str, defaults: bool) -> str:
    """Return the answer to a question, the usual one where none is to be asked."""
    if defaults:
        return usual
    try:
        answer: str = click.prompt(question, default=usual)
    except click.Abort:
        raise click.UsageError("no answer came; give the options, or --defaults to take the usual answers") from None
    return answer


def answers_of(file: str, kind: StarterKind, title: str, made_of: str, length: str, load: str) -> Answers:
    """Return the answers read; every fault in them at once."""
    from framecheck.reading.diagnostics import Diagnostics, refuse_faults
    from framecheck.reading.kinds import AllowedSign, QuantityKind
    from framecheck.reading.section_file import section_named
    from framecheck.reading.yamltext import Text

    diagnostics = Diagnostics("", library().gauges())
    metres = QuantityKind("length", AllowedSign.POSITIVE).read(Text(0, length, quoted=False), kind.length[0].lower(), diagnostics)
    kilograms = QuantityKind("mass", AllowedSign.POSITIVE).read(Text(0, load, quoted=False), kind.load[0].lower(), diagnostics)
    if kind.made_of[0].startswith("Section"):
        try:
            section_named(made_of, library())
        except InputError as error:
            diagnostics.faults[:0] = error.faults
    refuse_faults(diagnostics)
    inches = not length.rstrip().endswith(("mm", "cm", "m"))
    return Answers(Path(file).name, title, made_of, float(metres), float(kilograms), inches, "lb" in load)  # type: ignore[arg-type]


def checked(text: str, file: str) -> None:
    """Refuse what would not be read again, before anything is written: no line of a file that nobody has is named."""
    from framecheck.reading.case_file import read_case

    try:
        read_case(text, file, library())
    except InputError as error:
        remedies = ((each, f"{each.remedy}; nothing was written") for each in error.faults)
        raise InputError([replace(each, place="", remedy=remedy) for each, remedy in remedies]) from None


@click.command(name="schema", short_help="Print what a case file may hold: for editors, or as a text.")
@click.option("--text", "as_text", is_flag=True, help="Print it for people (Markdown) instead.")
@click.option("--study", is_flag=True, help="Of a study file instead of a case.")
def schema_command(as_text: bool, study: bool) -> None:
    """Print the JSON Schema of a case file: an editor that knows it completes keys and marks mistakes while you type."""
    from framecheck.reading.schema import case_schema, input_reference, study_reference, study_schema

    if as_text:
        click.echo(study_reference() if study else input_reference(library()), nl=False)
    else:
        click.echo(json.dumps(study_schema() if study else case_schema(library()), ensure_ascii=False, indent=1))
