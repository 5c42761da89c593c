"""Where welding a rib on softens the sheet beside it, as it does a member's walls."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.heat.zones import REACH
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.plate import BoltedPlate, Rib, StiffenerRun

Box = tuple[tuple[float, float], tuple[float, float]]


def softened_boxes(plate: BoltedPlate) -> Iterator[Box]:
    """Yield the lengths along x and y, m, of the sheet that each welded rib softens: REACH beyond its faces and ends."""
    if plate.material.welded_yield is None or plate.material.welded_yield >= plate.material.yield_strength:
        return
    for rib in plate.stiffeners:
        if isinstance(rib, Rib):
            half = rib.thickness / 2 + REACH
            along, across = (rib.start - REACH, rib.end + REACH), (rib.at - half, rib.at + half)
            yield (along, across) if rib.run is StiffenerRun.X else (across, along)


def softened_edges(plate: BoltedPlate, axis: int) -> Iterator[float]:
    """Yield where softened sheet begins and ends along an axis (0: x), m, within the plate."""
    size = (plate.length, plate.width)[axis]
    yield from (place for box in softened_boxes(plate) for place in box[axis] if 0 < place < size)


def is_softened(plate: BoltedPlate, x: Array, y: Array) -> BoolArray:
    """Return which places (m) lie in softened sheet or on its edge."""
    found = np.zeros(np.broadcast(x, y).shape, dtype=bool)
    near = 1e-6 * max(plate.length, plate.width)
    for (left, right), (low, high) in softened_boxes(plate):
        found |= (x >= left - near) & (x <= right + near) & (y >= low - near) & (y <= high + near)
    return found


def sheet_yield(plate: BoltedPlate, x: Array, y: Array) -> Array:
    """Return the yield strength of the sheet at places (m), Pa: as welded beside a rib."""
    own, welded = plate.material.yield_strength, plate.material.welded_yield
    return np.where(is_softened(plate, x, y), own if welded is None else welded, own)
