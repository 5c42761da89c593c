"""`framecheck selfcheck`: does this installation find its tables, keep its sections, and compute what it should?"""

from __future__ import annotations

import platform
from collections.abc import Iterator
from textwrap import fill

import click

from framecheck import __version__
from framecheck.cli.shop_files import data_folder, library
from framecheck.cli.store import VARIABLE, DiskStore, disk_store
from framecheck.cli.workshop import screen_width

NEEDED = ("numpy", "scipy", "pythoncdt", "shapely", "matplotlib", "pyyaml", "click", "jinja2",
          "platformdirs", "rainflow", "scikit-fem")  # fmt: skip
WANTED = ("ezdxf", "distributed")
PROBE = "selfcheck"
MOST_NAMED = 5
"""Damaged entries that are named."""


@click.command(name="selfcheck", short_help="Check this installation on small problems with known answers.")
@click.option("--proof", "is_proof", is_flag=True, help="Count the values that the tests hold the program to, by kind of proof.")
def command(is_proof: bool) -> int:
    """Say which versions are installed, where sections are kept, and solve small problems with known answers.

    Exit code: 0 all is well, 4 something is not.
    """
    if is_proof:
        from framecheck.cli.proof_text import as_text

        click.echo(as_text(screen_width()))
        return 0
    lines = [*versions(), *tables(), *store_lines(), *answers()]
    for line in lines:
        click.echo(
            fill(line, screen_width(), subsequent_indent=" " * 8, break_long_words=False, break_on_hyphens=False)
        )
    failed = sum(line.startswith("FAILED") for line in lines)
    click.echo(
        f"\n{failed} of these FAILED: results of this installation can't be trusted." if failed else "\nAll is well."
    )
    return 4 if failed else 0


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
        yield f"ok      sections are kept in {store.folder} ({len(names)} so far, {len(names) - len(bad)} of them sound)"
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
