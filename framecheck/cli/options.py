"""Options that more than one command takes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from framecheck.output.display import Units

F = TypeVar("F", bound=Callable[..., Any])


def _units(_context: click.Context, _option: click.Parameter, value: str | None) -> Units | None:
    return None if value is None else Units(value)


def units_option(function: F) -> F:
    """Add --units us|si, which changes what is shown and never what is computed."""
    said = "Units shown; those that the file is mostly written in unless told."
    return click.option("--units", type=click.Choice(["us", "si"]), default=None, callback=_units, help=said)(function)


def strict_option(function: F) -> F:
    """Add --strict, which makes the exit code 1 where anything is open."""
    return click.option("--strict", "is_strict", is_flag=True, help="Exit with 1 where anything is open, too.")(function)
