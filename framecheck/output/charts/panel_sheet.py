"""A panel square to it: how much of what is allowed on yield each of its cells uses, the worst place ringed."""

from __future__ import annotations

import numpy as np

from framecheck.frame.panel.results import PanelForces
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    QUIET,
    Area,
    Chart,
    Drawn,
    Mark,
    Note,
    PointMark,
    Scale,
    colour_of,
    is_above,
)
from framecheck.output.charts.room import BESIDE_SCALE, LETTER_HIGH, Pixels, RoomForWords
from framecheck.output.charts.square_on import looking_along, overall, room_round, sides
from framecheck.output.display import Units, shown_unit, with_unit
from framecheck.yield_criterion import equivalent_in_sheet


def panel_chart(panel: PanelForces, case: int, allowed: float, units: Units, size: Pixels) -> Chart:
    """Return the chart. allowed: stress, Pa; size: of the picture, pixels."""
    stress = equivalent_in_sheet(*np.moveaxis(panel.forces[:, :, case], -1, 0)).max(axis=1) / panel.thickness
    look, unit = looking_along(panel.axes[2]), shown_unit("size", units).size
    seen = np.column_stack([look.right, look.up]) / unit
    cells = panel.corners @ seen
    rim = panel.rim @ seen
    room = room_round(np.concatenate([rim, cells.reshape(-1, 2)]), 0.0, size.plot(BESIDE_SCALE), (0.7, 0.6))
    marks: list[Drawn] = []
    for cell, each in zip(cells, stress.tolist(), strict=True):
        share = each / allowed
        marks.append(Area((cell[[0, 1, 2, 3, 0]],), colour_of(share), edge=QUIET, is_hatched=is_above(share)))
    worst = int(np.argmax(stress))
    x, y = cells[worst].mean(axis=0).tolist()
    marks += [Area((rim[[*range(len(rim)), 0]],), "none", edge=INK), Mark((x, y), PointMark.RING, ABOVE, 11.0)]
    marks += [*overall(rim, room, units), *sides(look, room)]
    words = RoomForWords(room, [each for each in marks if isinstance(each, Note)])
    said = with_unit(float(stress[worst]), "stress", units)
    places = (np.array([x, y]) + np.array([0.0, lift * LETTER_HIGH * room.pixel]) for lift in (0.9, -1.9))
    note = next((found for at in places if (found := words.free(said, at))), None)
    scale = Scale("share of what is allowed on yield, %", 100.0)
    return Chart("", "", "", room.x, room.y, (*marks, *([note] if note else [])), scale=scale, is_equal=True, has_axes=False)
