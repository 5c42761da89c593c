"""A hair more of any size moves no property of a section: sizes as the rack has them, where walls, radii and sides are in round
proportion and a mesh has many equal choices. None needs a source."""

from __future__ import annotations

from dataclasses import fields, replace
from random import Random

import numpy as np
import pytest

from framecheck.model.arrays import Array
from framecheck.model.frame import Cut
from framecheck.model.shapes import Angle, Channel, Flat, RectTube, RoundTube, Shape, Side
from framecheck.section.analysis import net_properties, section_properties
from tests.unit.section.samples import steel

INCH = 0.0254
WALLS = (1 / 8, 3 / 16, 1 / 4, 5 / 16, 3 / 8, 1 / 2)


def on_the_rack(chance: Random) -> Shape:
    """Return a shape with sizes in round parts of an inch."""
    t, h, w = (chance.choice(some) * INCH for some in (WALLS, (2, 3, 4, 5), (1.5, 2, 3)))
    radius = chance.choice((1.0, 1.5, 2.0)) * t
    shapes = (RectTube(h, w, t, min(radius, 0.45 * w)), Channel(h, w, t, t), Angle(h, w, t, t), Flat(h, w / 2), RoundTube(h, t))
    return chance.choice(shapes)


def notch(shape: RectTube, chance: Random) -> Cut:
    """Return a notch from one of a tube's sides."""
    side = chance.choice((Side.BOTTOM, Side.LEFT))
    return Cut("notch", side, 0.5, chance.uniform(0.2, 0.6) * (shape.height if side is Side.BOTTOM else shape.width), 0.1, 0.01)


def properties(shape: Shape, cut: Cut | None = None) -> Array:
    """Return stiffnesses and the largest stresses under unit forces (8,)."""
    found = section_properties(steel(shape)) if cut is None else net_properties(steel(shape), cut)
    peaks = np.hypot(found.fields.shear[:, 0], found.fields.shear[:, 1]).max(axis=0)
    ways = found.torsion_constant, found.warping_constant, found.shear_area_vertical, found.shear_area_sideways
    return np.array([*ways, *peaks])


@pytest.mark.parametrize("seed", range(8))
def test_a_hair_more_or_less_of_any_size_moves_no_property(seed: int) -> None:
    shape = on_the_rack(Random(seed))
    as_is = properties(shape)
    for each in fields(shape):
        size = getattr(shape, each.name)
        for share in (1e-7, -1e-7) if isinstance(size, float) and size else ():
            moved = properties(replace(shape, **{each.name: size * (1 + share)}))
            assert moved == pytest.approx(as_is, rel=1e-4, abs=1e-16), (shape, each.name)


@pytest.mark.parametrize("seed", range(6))
def test_a_hair_of_a_notched_tube_moves_no_property(seed: int) -> None:
    """What a cut leaves stands on a grid: its two sides were rounded unlike, and a hair more made them alike, another mesh."""
    chance = Random(seed)
    t, h, w = (chance.choice(some) * INCH for some in (WALLS[:3], (3, 4, 5), (2, 3)))
    shape = RectTube(h, w, t, 2 * t)
    cut = notch(shape, chance)
    as_is = properties(shape, cut)
    for each in ("height", "width"):
        for share in (1e-7, -1e-7):
            moved = properties(replace(shape, **{each: getattr(shape, each) * (1 + share)}), cut)
            assert moved == pytest.approx(as_is, rel=1e-4, abs=1e-16), (shape, cut, each)
