"""A hair more of any size moves no property of a section: sizes as the rack has them, where walls, radii and sides are in round
proportion and a mesh has many equal choices. None needs a source."""

from __future__ import annotations

from dataclasses import fields, replace
from random import Random

import numpy as np
import pytest

from framecheck.model.arrays import Array
from framecheck.model.shapes import Angle, Channel, Flat, RectTube, RoundTube, Shape
from framecheck.section.analysis import section_properties
from tests.unit.section.samples import steel

INCH = 0.0254
WALLS = (1 / 8, 3 / 16, 1 / 4, 5 / 16, 3 / 8, 1 / 2)


def on_the_rack(chance: Random) -> Shape:
    """Return a shape with sizes in round parts of an inch."""
    t, h, w = (chance.choice(some) * INCH for some in (WALLS, (2, 3, 4, 5), (1.5, 2, 3)))
    radius = chance.choice((1.0, 1.5, 2.0)) * t
    shapes = (RectTube(h, w, t, min(radius, 0.45 * w)), Channel(h, w, t, t), Angle(h, w, t, t), Flat(h, w / 2), RoundTube(h, t))
    return chance.choice(shapes)


def properties(shape: Shape) -> Array:
    """Return stiffnesses and the largest stresses under unit forces (8,)."""
    found = section_properties(steel(shape))
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
