"""Options that more than one command takes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from framecheck.output.display import Units

F = TypeVar("F", bound=Callable[..., Any])


def _units(_context: click.Context, _option: click.Parameter, value: str) -> Units:
    return Units(value)


def units_option(function: F) -> F:
    """Add --units us|si, which changes what is shown and never what is computed."""
    return click.option(
        "--units", type=click.Choice(["us", "si"]), default="si", callback=_units, help="Units shown; SI unless told."
    )(function)
