"""`framecheck new`: a first case file from five answers."""

from __future__ import annotations

from pathlib import Path

import click

from framecheck.cli.files import write_whole
from framecheck.cli.shop_files import PACKAGE, library
from framecheck.errors import Fault, InputError
from framecheck.output.starter import KINDS, Answers, Kind, filled

STARTERS = PACKAGE / "output" / "starters"


@click.command(name="new", short_help="Write a first case file from five answers.")
@click.argument("file")
@click.option("--kind", type=click.Choice(list(KINDS)), help="What it is about.")
@click.option("--title", help="What to call it.")
@click.option("--made-of", metavar="SECTION", help="A section of the library; of a skid plate, its thickness.")
@click.option("--length", help="Wheelbase, span, length of rail or of plate, with its unit.")
@click.option("--load", help="The weight carried, with its unit.")
@click.option("--defaults", is_flag=True, help="Ask nothing; take the usual answer where no option gives one.")
def command(
    file: str, kind: str | None, title: str | None, made_of: str | None, length: str | None, load: str | None,
    defaults: bool,
) -> int:  # fmt: skip
    """Write a commented case to FILE for a ladder frame, a crossmember, a notched rail or a skid plate.

    Five questions are asked; each has an option that answers it. A file that exists is never overwritten.
    """
    refuse_existing(file)
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
    text = filled((STARTERS / f"{chosen}.yaml").read_text(encoding="utf-8"), answers_of(file, of, *given))
    checked(text, file)
    write_whole(file, text)
    click.echo(f"wrote {file}: put your own numbers in, then run: framecheck check {file}")
    return 0


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


def answers_of(file: str, kind: Kind, title: str, made_of: str, length: str, load: str) -> Answers:
    """Return the answers read; every fault in them at once."""
    from framecheck.reading.desk import Desk
    from framecheck.reading.kinds import Amount, Sign
    from framecheck.reading.section_file import section_named
    from framecheck.reading.yamltext import Text

    desk = Desk("", library().gauges())
    metres = Amount("length", Sign.POSITIVE).read(Text(0, length, quoted=False), kind.length[0].lower(), desk)
    kilograms = Amount("mass", Sign.POSITIVE).read(Text(0, load, quoted=False), kind.load[0].lower(), desk)
    if kind.made_of[0].startswith("Section"):
        section_named(made_of, library())
    if desk.faults:
        raise InputError([Fault("", fault.subject, fault.fault, fault.remedy) for fault in desk.faults])
    inches = not length.rstrip().endswith(("mm", "cm", "m"))
    return Answers(Path(file).name, title, made_of, float(metres), float(kilograms), inches, "lb" in load)  # type: ignore[arg-type]


def checked(text: str, file: str) -> None:
    """Refuse what would not be read again, before anything is written."""
    from framecheck.reading.case_file import read_case

    read_case(text, file, library())
