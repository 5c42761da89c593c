"""The templates of all pages, and what each of them knows."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from framecheck.output.html_report.glossary import anchor, anchors
from framecheck.versions import MADE_BY

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup


@cache
def environment() -> Environment:
    """Return the template environment; everything that comes from a file is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    made = Environment(
        loader=PackageLoader("framecheck.output", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["made_by"] = MADE_BY
    made.filters["coded"] = coded
    made.globals["anchors"], made.globals["anchor"] = anchors(), anchor
    return made


def coded(text: str) -> Markup:
    """Return a text with what stands between backticks set as what is typed; all else is escaped."""
    from markupsafe import Markup, escape

    parts = text.split("`")
    if len(parts) % 2 == 0:
        return escape(text)
    return Markup("").join(Markup("<code>{}</code>").format(part) if n % 2 else part for n, part in enumerate(parts))


def source(name: str) -> str:
    """Return the text of a file beside the templates."""
    loader = environment().loader
    if loader is None:
        raise RuntimeError("the template environment has no loader")
    return loader.get_source(environment(), name)[0]
