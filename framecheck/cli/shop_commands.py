"""`framecheck list` and `framecheck selfcheck`: what the shop's tables hold, and whether this installation works."""

from __future__ import annotations

import platform
from collections.abc import Iterator, Mapping, Sequence
from importlib.resources import files
from textwrap import fill
from typing import Any

import click

from framecheck import __version__
from framecheck.cli.context import VARIABLE, DiskStore, disk_store, screen_width
from framecheck.cli.files import data_folder, library
from framecheck.cli.options import units_option
from framecheck.output.display import TextColumn, Units, bare, listed, shown_unit, table, wrapped
from framecheck.reading.library import Library
from framecheck.value_class import value_class


@value_class
class Listing:
    """Headings and rows of a list."""

    columns: tuple[TextColumn, ...]
    rows: tuple[tuple[str, ...], ...]


def listing_text(listing: Listing, words: Sequence[str], width: int) -> str:
    """Return the rows that hold every word, and how many there are."""
    found = [row for row in listing.rows if all(word.lower() in " ".join(row).lower() for word in words)]
    if not found:
        return f"none of {len(listing.rows)} holds {' and '.join(words)}"
    return f"{table(listing.columns, found, width)}\n\n{len(found)} of {len(listing.rows)}"


def sections(shop: Library, units: Units) -> Listing:
    """Return every section of the library with its shape and metal."""
    records = ((name, shop.section(name)) for name in shop.section_names())
    rows = tuple((name, record["shape"], record["material"]) for name, record in records if record is not None)
    return Listing((TextColumn("section"), TextColumn("shape"), TextColumn("material")), rows)


def materials(shop: Library, units: Units) -> Listing:
    """Return every material with its strengths."""
    found = [shop.material(name) for name in shop.materials()]
    unit = shown_unit("stress", units).label
    rows = tuple(
        (
            each.name,
            bare(each.yield_strength, "stress", units),
            "" if each.welded_yield is None else bare(each.welded_yield, "stress", units),
            bare(each.ultimate_strength, "stress", units),
            each.source,
        )
        for each in found
    )
    heads = (TextColumn(f"yield\n{unit}", True), TextColumn(f"as welded\n{unit}", True), TextColumn(f"ultimate\n{unit}", True))
    return Listing((TextColumn("material"), *heads, TextColumn("source")), rows)


def gauges(shop: Library, units: Units) -> Listing:
    """Return every gauge with its thickness, written as a case file takes it; zinc carries no load and is shown beside it."""
    unit = shown_unit("length", units).label
    coated = {key: bare(size, "length", units) for key, size in shop.coated_gauges().items()}
    rows = tuple((f"{key[1]} ga {key[0]}", bare(size, "length", units), coated.get(key, "")) for key, size in shop.gauges().items())
    return Listing((TextColumn("gauge"), TextColumn(f"thickness\n{unit}", True), TextColumn(f"with zinc\n{unit}", True)), rows)


def cases(texts: Mapping[str, str]) -> Listing:
    """Return the example cases by path with their titles."""
    titles = {
        path: next((line for line in text.splitlines() if line.startswith("title:")), "")
        for path, text in texts.items()
    }
    return Listing(
        (TextColumn("case"), TextColumn("title")),
        tuple((path, line.removeprefix("title:").strip()) for path, line in titles.items()),
    )


@click.command(name="list", short_help="List sections, materials or gauges of the shop's tables.")
@click.argument("what", type=click.Choice(["sections", "materials", "gauges", "cases"]))
@click.argument("words", nargs=-1)
@units_option
def list_command(what: str, words: tuple[str, ...], units: Units | None) -> None:
    """List what the shop's tables hold: sections, materials, gauges, or the example cases.

    WORDS: only lines with all of them, as in `framecheck list sections tube "4 x 2"`.
    """

    listings = {"sections": sections, "materials": materials, "gauges": gauges}
    found = cases(example_cases()) if what == "cases" else listings[what](library(), units or Units.SI)
    click.echo(listing_text(found, words, screen_width()))


def example_cases() -> dict[str, str]:
    """Return the example cases' texts by path."""
    return {str(file): file.read_text(encoding="utf-8") for file in sorted(data_folder("cases").glob("*.yaml"))}


FILE = "proof.yaml"


SEEN = {
    "opened": "read off its source when the second copy was typed",
    "read before": "read in its source when the first copy was typed; nobody opened it again for the second",
    "from memory": "a source is named, and nobody could open it; the first screen says so where such a number governs",
    "common practice": "no source: sizes as the trade sells them, rules of the shop, choices of ours",
}
"""How the source of a number was seen, in words for a reader who is new here."""
SOURCED = ("opened", "read before")
OTHERS = ("printed", "formula", "library")
"""Kinds of proof that come from outside; all else is ours or from memory."""
NO_PART = (
    "No real part was ever loaded and measured for this: no test holds an answer to a frame, a weld or a bolt in a rig. What follows "
    "is books, libraries and sums."
)
DOOR = (
    "\"Through the front door\" are {door} of the {total}: there a case file goes in and the value is read from the JSON that comes "
    "out, as a user would. The others are asked of one part of the program by itself. By kind of proof:"
)
TWICE = (
    "The numbers in the tables and checks (sizes, strengths, factors) are typed twice, once for the program and once for the tests, "
    "and compared, so that a slip in one copy is found. Of {rows}, {sourced} have a source that was opened, {bare} have none or one "
    "that nobody could open:"
)
TRIED = (
    "What was tried holds: the tables can be read, and {problems} small problems come out as known. Not tried: your case, the checks "
    "of bolts, welds, plates and life, reports and pictures. `framecheck selfcheck --proof` says what the tests of this version hold."
)


def proof_text(width: int) -> str:
    """Return what a sceptic asks first, then the counts of values by kind of proof, then those of the tables' numbers by their source.

    Lists, no columns: a line says the whole by itself, read aloud or on a small screen.
    """
    counts = read()
    values, tables = counts["values"], counts["tables"]
    total, door = (sum(each[key] for each in values.values()) for key in ("values", "front door"))
    kinds = (
        f"{kind}: {each['values']}, of them {each['front door']} through the front door; {each['about']}"
        for kind, each in values.items()
    )
    sourced, rows = sum(tables[how] for how in SOURCED), sum(tables.values())
    seen = (f"{how}: {count}; {SEEN[how]}" for how, count in tables.items())
    return "\n\n".join((
        wrapped(NO_PART, width), wrapped(in_short(values, total), width),
        f"{wrapped(DOOR.format(door=door, total=total), width)}\n{listed(kinds, width)}",
        f"{wrapped(TWICE.format(rows=rows, sourced=sourced, bare=rows - sourced), width)}\n{listed(seen, width)}",
    ))  # fmt: skip


def in_short(values: Mapping[str, Mapping[str, int]], total: int) -> str:
    """Return how many values are printed in an opened source, come from outside otherwise, or rest on us alone."""
    printed, formula, library = (values[kind]["values"] for kind in OTHERS)
    ours = {kind: each["values"] for kind, each in values.items() if kind not in OTHERS}
    rest = sum(ours.values())
    return (
        f"Of {total} values that the tests compare with a number found another way, {share(printed, total)} stand printed in a source "
        f"that was opened; {share(formula, total)} are our sums on a printed formula and {share(library, total)} come from an "
        f"independent library. {share(rest, total)} rest on us: {', '.join(f'{kind} {count}' for kind, count in ours.items())}."
    )


def share(part: int, whole: int) -> str:
    """Return a count with its share."""
    return f"{part} ({100 * part / whole:.0f}\N{NO-BREAK SPACE}%)"


def read() -> Any:
    """Return the counts as they were written with the verification manual."""
    import yaml

    return yaml.safe_load((files("framecheck.cli") / FILE).read_text(encoding="utf-8"))


NEEDED = ("numpy", "scipy", "pythoncdt", "shapely", "matplotlib", "pyyaml", "click", "jinja2",
          "platformdirs", "rainflow", "scikit-fem")  # fmt: skip
WANTED = ("ezdxf", "distributed")
PROBE = "selfcheck"
MOST_NAMED = 5
"""Damaged entries that are named."""


@click.command(name="selfcheck", short_help="Check this installation on small problems with known answers.")
@click.option("--proof", "is_proof", is_flag=True, help="Count the values that the tests hold the program to, by kind of proof.")
def selfcheck_command(is_proof: bool) -> int:
    """Say which versions are installed, where sections are kept, and solve small problems with known answers.

    Exit code: 0 what was tried holds, 4 something does not.
    """
    if is_proof:

        click.echo(proof_text(screen_width()))
        return 0
    solved = [*answers()]
    lines = [*versions(), *tables(), *store_lines(), *solved]
    for line in lines:
        click.echo(on_screen(line, screen_width()))
    failed = sum(line.startswith("FAILED") for line in lines)
    wrong = f"{failed} of these FAILED: results of this installation can't be trusted."
    click.echo("\n" + wrapped(wrong if failed else TRIED.format(problems=len(solved)), screen_width()))
    return 4 if failed else 0


def on_screen(line: str, width: int) -> str:
    """Return a line wrapped under its first word; a path that is wider than the screen is broken at its slashes."""
    room = width - 8
    words = (piece for word in line.split(" ") for piece in ([word] if len(word) <= room else broken(word, room)))
    return fill(" ".join(words), width, subsequent_indent=" " * 8, break_long_words=False, break_on_hyphens=False)


def broken(path: str, room: int) -> list[str]:
    """Return a path in pieces that end at a slash and are no wider than the room, where its names allow it."""
    pieces = [""]
    for part in path.replace("/", "/\n").split("\n"):
        if len(pieces[-1]) + len(part) > room and pieces[-1]:
            pieces.append("")
        pieces[-1] += part
    return pieces


def versions() -> Iterator[str]:
    """Yield what is installed."""
    yield f"        framecheck {__version__}, Python {platform.python_version()}, {platform.system()} {platform.machine()}"
    missing = [name for name in NEEDED if version_of(name) is None]
    found = ", ".join(f"{name} {version_of(name)}" for name in (*NEEDED, *WANTED) if version_of(name) is not None)
    yield f"        {found}"
    if missing:
        yield f"FAILED  missing: {', '.join(missing)}; install framecheck again with pip"


def version_of(name: str) -> str | None:
    """Return the installed version of a package, None where there is none."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version(name)
    except PackageNotFoundError:
        return None


def tables() -> Iterator[str]:
    """Yield where the shop's tables are and how much is in them."""
    shop = library()
    sections, materials = len(shop.section_names()), len(shop.materials()) if shop.texts else 0
    word = "ok" if sections and materials else "FAILED"
    yield f"{word:6}  tables in {data_folder('sections').parent}: {sections} sections, {materials} materials"


def store_lines() -> Iterator[str]:
    """Yield where sections are kept and whether that works; a store that doesn't is slow, not wrong."""
    store = disk_store()
    if not isinstance(store, DiskStore):
        yield f"note    sections are kept nowhere ({VARIABLE} is empty): each run computes them anew"
        return
    content = b"written by framecheck selfcheck"
    store.put(PROBE, content)
    if store.get(PROBE) == content:
        (store.folder / PROBE).unlink(missing_ok=True)
        names = store.names()
        bad = [name for name in names if store.get(name) is None]
        state = f"{len(bad)} of them damaged" if bad else "all of them whole"
        yield f"ok      sections are kept in {store.folder} ({f'{len(names)} so far, {state}' if names else 'none yet'})"
        if bad:
            said = ", ".join(bad[:MOST_NAMED]) + (" ..." if len(bad) > MOST_NAMED else "")
            yield f"note    damaged or foreign there, and computed anew where they are wanted: {said}"
    else:
        yield f"note    {store.folder} can't be written: each run computes its sections anew (set {VARIABLE} to another folder)"


def answers() -> Iterator[str]:
    """Yield the problems with known answers."""
    from framecheck.study.selfcheck import known_answers

    for each in known_answers():
        if isinstance(each, str):
            yield f"FAILED  {each}"
        else:
            word = "ok" if each.holds else "FAILED"
            yield f"{word:6}  {each.problem}: {each.found:.6g}, known {each.known:.6g} ({each.source})"
