"""What each node of the sheet hangs on: unknowns of the frame, or the sheet alone. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.panel.division import DividedSheet, Foot
from framecheck.frame.supports import carried
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.value_class import array_class


@array_class
class Hung:
    """A node's movements and turns as shares of the frame's: nodes (j,) of the frame; rows (j, 6, 6): of each one's movements."""

    nodes: IntArray
    rows: Array


@array_class
class Aside:
    """A frame point that no member meets, rigid with the members whose edge it lies on: its node, and what that hangs on."""

    node: int
    hung: Hung


def hung_nodes(frame: Frame, division: DividedSheet, pieces: Pieces) -> tuple[Hung | None, ...]:
    """Return what each node of the sheet hangs on; None: on the sheet alone.

    A node at a point that members meet and that is a panel's corner is that point. One on members is rigid with them, with the mean
    of several. One at a point that no member meets is that point, which then hangs on sheet alone.
    """
    number = {name: place for place, name in enumerate(frame.points)}
    reached = {name for member in frame.members for name in member.points}
    corners = {name for panel in frame.panels for name in panel.corners}
    ends = {member: ends_of(pieces, member) for member in {foot.leg.member for feet in division.feet for foot in feet}}
    found: list[Hung | None] = []
    for place, name, feet in zip(division.places, division.points, division.feet, strict=True):
        if name in reached and name in corners:
            found.append(_rigid(pieces, (number[name],), place))
        elif feet:
            found.append(_rigid(pieces, tuple(nearest(ends[foot.leg.member], foot) for foot in feet), place))
        elif name and name not in reached:
            found.append(_rigid(pieces, (number[name],), pieces.places[number[name]]))
        else:
            found.append(None)
    return tuple(found)


def ends_of(pieces: Pieces, member: int) -> tuple[IntArray, Array]:
    """Return the nodes (m,) at the ends of a member's pieces, and the places (m, 3) of those ends."""
    mine = slice(int(pieces.first[member]), int(pieces.last[member]) + 1)
    nodes = pieces.nodes[mine].ravel()
    return nodes, pieces.places[nodes] + pieces.arms[mine].reshape(-1, 3)


def nearest(ends: tuple[IntArray, Array], foot: Foot) -> int:
    """Return the node of the piece's end that is nearest to a foot."""
    nodes, places = ends
    return int(nodes[np.argmin(np.linalg.norm(places - foot.place, axis=1))])


def _rigid(pieces: Pieces, nodes: tuple[int, ...], place: Array) -> Hung:
    """Return a place that is rigid with some nodes of the frame."""
    each = tuple(dict.fromkeys(nodes))
    rows = np.array([carried(place - pieces.places[node]) for node in each])
    return Hung(np.array(each, dtype=np.int64), rows / len(each))


def asides_of(frame: Frame, division: DividedSheet, hung: Sequence[Hung | None]) -> tuple[Aside, ...]:
    """Return the points that no member meets and that lie on members all the same."""
    number = {name: place for place, name in enumerate(frame.points)}
    reached = {name for member in frame.members for name in member.points}
    found: Mapping[str, Hung] = {
        name: each
        for name, feet, each in zip(division.points, division.feet, hung, strict=True)
        if each is not None and name and feet and name not in reached
    }
    return tuple(Aside(number[name], each) for name, each in found.items())
