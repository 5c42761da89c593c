"""What moves freely because it hangs on sheet alone, said in words."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.frame.panel.touch import OnLine
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array

SHELLS = "shells of one such body: 3.7 Nm/deg of twist for 284 with crossmembers"
"""What an end on bare sheet is worth: shell reference A of this project's client, with and without crossmembers."""
MOVES = 1e-3
"""Share of the largest movement below which an end stays where it is."""


def ends_on_bare_sheet(structure: Structure, modes: Array) -> Iterator[str]:
    """Yield which members end on bare sheet and move freely across it in any of some movements (n, j), and what would hold them."""
    if structure.sheets is None:
        return
    frame, division = structure.frame, structure.sheets.division
    met = [name for member in frame.members for name in member.points]
    number = {name: place for place, name in enumerate(frame.points)}
    six = modes[: 6 * structure.freedoms.n_node].reshape(structure.freedoms.n_node, 6, -1)
    largest = np.abs(six[:, :3]).max(axis=(0, 1), initial=1e-300)
    for panel, site, touches in zip(frame.panels, division.sites, division.touches, strict=True):
        for touch in (each for each in touches if isinstance(each, OnLine)):
            member = frame.members[touch.leg.member]
            for last, is_end in ((0, touch.leg.first), (-1, touch.leg.last)):
                name = member.points[last]
                across = np.abs(np.einsum("j,jk->k", site.axes[2], six[number[name], :3]))
                if is_end and met.count(name) == 1 and (across > MOVES * largest).any():
                    yield (
                        f"member '{member.name}' ends on bare sheet at point '{name}': panel '{panel.name}' holds it along the sheet "
                        f"and not across it, where thin sheet gives ({SHELLS}); add a crossmember there, or spread it to members"
                    )
