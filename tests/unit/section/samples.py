"""Sections the tests share: plain steel, sizes of a small truck."""

from __future__ import annotations

from framecheck.model.frame import Section
from framecheck.model.shapes import Channel, RectTube, Shape
from framecheck.model.shop_tables import Material

STEEL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 250e6, 400e6, "round numbers for tests")
TUBE = RectTube(0.1, 0.05, 0.003, 0.006)
SHARP_TUBE = RectTube(0.1, 0.05, 0.003)
CHANNEL = Channel(0.1, 0.05, 0.003, 0.003)
SHARP_CHANNEL = Channel(0.1, 0.05, 0.003, 0.0)
MM = 1e-3


def steel(shape: Shape, name: str = "rail") -> Section:
    """Return a shape in steel."""
    return Section(name, shape, STEEL)
