"""Options that more than one command takes."""

from __future__ import annotations

from collections.abc import Callable
from importlib.util import find_spec
from math import inf
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, TypeVar

import click

from framecheck.errors import Fault, InputError
from framecheck.output.display import Units

if TYPE_CHECKING:
    from framecheck.work import Work


F = TypeVar("F", bound=Callable[..., Any])


def _units(_context: click.Context, _option: click.Parameter, value: str | None) -> Units | None:
    return None if value is None else Units(value)


def units_option(function: F) -> F:
    """Add --units us|si, which changes what is shown and never what is computed."""
    said = "Units shown; those that the file is mostly written in unless told."
    return click.option("--units", type=click.Choice(["us", "si"]), default=None, callback=_units, help=said)(function)


OF_OTHER_KINDS = frozenset((".pdf", ".png", ".svg", ".jpg", ".jpeg", ".gif", ".doc", ".docx", ".odt", ".xls", ".xlsx", ".txt", ".csv"))
"""Endings of files that no browser is asked to open as a page."""


def page_name(_context: click.Context, option: click.Parameter, value: str | None) -> str | None:
    """Return the name of a page to write; refused where its ending says another kind of file, which no program would open."""
    ending = "" if value is None else PurePath(value).suffix.lower()
    if ending in OF_OTHER_KINDS:
        remedy = "" if ending != ".pdf" else "; a browser prints the page to PDF"
        raise click.UsageError(f"{'/'.join(option.opts)}: write a name that ends in .html, not '{value}'{remedy}")
    return value


class Finite(click.ParamType):  # type: ignore[type-arg,unused-ignore]  # generic from click 8.4 on
    """A number that is one: neither infinite nor "not a number"."""

    name = "number"

    def __init__(self, above: float = -inf) -> None:
        self.above = above

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Return the number, or tell what to write."""
        found: float = click.FLOAT.convert(value, param, ctx)
        if not self.above < found or not abs(found) <= LARGEST:
            least = "" if self.above == -inf else f" above {self.above:g}"
            self.fail(f"{str(value)[:40]!r} is not a number{least} up to {LARGEST:g}", param, ctx)
        return found


LARGEST = 1e12
FORCED, LONG = "framecheck.force", "framecheck.long"


def _keep_flag(context: click.Context, option: click.Parameter, value: bool) -> None:
    """Keep a flag where whatever the command calls may ask for it."""
    context.meta[f"framecheck.{option.name}"] = value


def force_option(function: F) -> F:
    """Add --force, which lets an output take the place of a file that this program did not write."""
    said = "Write over an existing file that framecheck did not write; never over an input."
    return click.option("--force", is_flag=True, expose_value=False, callback=_keep_flag, help=said)(function)


def is_forced() -> bool:
    """Return whether the command that runs was given --force."""
    context = click.get_current_context(silent=True)
    return context is not None and bool(context.meta.get(FORCED))


def long_option(function: F) -> F:
    """Add --long, which lets a case run that is seen to take long, or much memory."""
    said = "Run a case that is seen beforehand to take minutes or much memory."
    return click.option("--long", is_flag=True, expose_value=False, callback=_keep_flag, help=said)(function)


def most_work() -> Work:
    """Return how much work the command that runs may do: any amount where it was given --long."""
    from framecheck.work import UNLIMITED, USUAL

    context = click.get_current_context(silent=True)
    return UNLIMITED if context is not None and context.meta.get(LONG) else USUAL


def strict_option(function: F) -> F:
    """Add --strict, which makes the exit code 1 where anything is open."""
    return click.option("--strict", "is_strict", is_flag=True, help="Exit with 1 where anything is open, too.")(function)


MODULES = {"sectionproperties": "sectionproperties", "PyNiteFEA": "Pynite"}
"""How a library is imported, by the name under which it is installed."""
REMEDY = "install it: python -m pip install 'framecheck[second-opinion]'"

second_opinion_option = click.option(
    "--second-opinion", "is_asked_twice", is_flag=True, help="Compare with an independent library where it is installed."
)


def require_library(name: str) -> None:
    """Refuse the option where its library is not installed."""
    if find_spec(MODULES[name]) is None:
        raise InputError([Fault("", "--second-opinion", f"{name} is not installed", REMEDY)])
