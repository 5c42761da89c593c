"""What stands for what in every figure: ink, lines, and the steps from nothing used to all used."""

from __future__ import annotations

from framecheck.model.arrays import Array

INK = "#1b1f24"
QUIET = "#8b949e"
LINE = "#0b5fa5"
WARN = "#b3261e"

# fmt: off
STEPS = (
    "#00224e", "#00285b", "#002e6a", "#053371", "#1c396f", "#293f6e", "#33446d", "#3c4a6c",
    "#45506c", "#4d556c", "#555b6d", "#5c616e", "#646770", "#6b6d72", "#727274", "#787877",
    "#807f78", "#888578", "#908b78", "#979177", "#a09875", "#a89e73", "#b0a571", "#b9ab6d",
    "#c2b369", "#cbb965", "#d3c05f", "#dcc859", "#e6d051", "#efd748", "#f8df3c", "#fee838",
)
# fmt: on
"""The map cividis in 32 even steps, which the colour-blind see as others do: J. Nunez, C. Anderton, R. Renslow, "Optimizing
colormaps with consideration for color vision deficiency", PLoS ONE 13(7), 2018, e0199239, as matplotlib 3 gives it."""


def colour_of(share: float) -> str:
    """Return the colour of a share between 0 and 1."""
    return STEPS[round(min(max(share, 0.0), 1.0) * (len(STEPS) - 1))]


def colours_of(values: Array, low: float, high: float) -> tuple[str, ...]:
    """Return the colour of each value (n,) on a scale from low to high."""
    wide = high - low if high > low else 1.0
    return tuple(colour_of(float(each)) for each in (values - low) / wide)
