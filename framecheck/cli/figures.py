"""What a figure's file name says."""

from __future__ import annotations

import click

from framecheck.output.charts.on_axes import FORMATS


def figure_kind(file: str, option: str) -> str:
    """Return the figure's format from the end of its file name."""
    kind = file.rpartition(".")[2].lower()
    if kind not in FORMATS:
        raise click.UsageError(f"{option}: write {', '.join('.' + each for each in FORMATS)}, not '{file}'")
    return kind
