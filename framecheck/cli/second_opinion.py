"""`--second-opinion`: an independent library, refused in words where it is not installed."""

from __future__ import annotations

from importlib.util import find_spec

import click

from framecheck.errors import Fault, InputError

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
