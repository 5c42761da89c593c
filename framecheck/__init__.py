"""framecheck: strength and stiffness of vehicle frames, from a written description to a page for an engineer.

In a notebook:

    import framecheck
    answer = framecheck.run(framecheck.read_case("hill-truck.yaml"))
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import Any

__version__ = "0.1.0"


def __getattr__(name: str) -> Any:
    """Load the notebook's names when they are first asked for: `framecheck --help` does without them."""
    if name == "read_case":
        return import_module("framecheck.notebook").read_case
    if name == "run":
        return import_module("framecheck.run")
    raise AttributeError(f"module 'framecheck' has no attribute '{name}'")


class _Run(ModuleType):
    """The module framecheck.run, which can be called as well: `framecheck.run(case)`."""

    def __call__(self, case: Any) -> Any:
        """Return the `framecheck.notebook.Answer` of a case, or of a case file by its name."""
        return import_module("framecheck.notebook").run(case)


class _Package(ModuleType):
    """This package: makes its module `run` callable when Python puts it here, whoever imports it first."""

    def __setattr__(self, name: str, value: object) -> None:
        if name == "run" and isinstance(value, ModuleType):
            value.__class__ = _Run
        super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
