"""The sheet of a frame as nodes and four-sided cells, and what each node hangs on: members, frame points or the sheet alone. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache, partial
from itertools import product

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.frame.geometry import OneFrame
from framecheck.frame.panel.grid import SAME_SPOT, Block, EndlessDivisionError, blocks_of, cut_alike, cut_where_met
from framecheck.frame.panel.legs import Leg, legs_of
from framecheck.frame.panel.site import Site, at_shares, shares_of, site_of, warp_of, within
from framecheck.frame.panel.touch import OnEdge, OnLine, PassingLeg, Touch, joined_touches, touches_of
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.frame import Frame
from framecheck.model.panels import PanelCarries
from framecheck.value_class import array_class

FLAT = 1e-6
"""Of a panel's diagonal: a corner farther out of the plane of the others is what keeps lines across it from closing."""


@array_class
class Foot:
    """A place on a leg that a node of the sheet hangs on. along: m from the leg's start; stands: whether an edge runs
    along it there."""

    leg: Leg
    along: float
    stands: bool

    @property
    def place(self) -> Array:
        """Return its place (3,)."""
        found: Array = self.leg.start + self.along * self.leg.way
        return found

    @property
    def station(self) -> float:
        """Return its station on the member, m."""
        return self.leg.station + self.along


@array_class
class DividedSheet:
    """Sheet of all panels, divided. places (n, 3): nodes; points: frame point that each node is, "" for none; feet: what each hangs
    on. cells (m, 4): nodes round each cell; of (m,): its panel; flat (m, 4, 2): its corners in the panel's plane; solid (m, 4, 3):
    where the panel itself has them, which is off a node by a hair where panels share one that hangs on members.
    shared (n,): whether a node belongs to several panels. sites: by panel.
    """

    places: Array
    points: tuple[str, ...]
    feet: tuple[tuple[Foot, ...], ...]
    cells: IntArray
    of: IntArray
    flat: Array
    solid: Array
    shared: BoolArray
    sites: tuple[Site, ...]
    touches: tuple[tuple[Touch, ...], ...]

    def stations(self) -> Mapping[int, tuple[float, ...]]:
        """Return, by member, the stations at which sheet hangs on it."""
        found: dict[int, set[float]] = {}
        for foot in (foot for feet in self.feet for foot in feet):
            found.setdefault(foot.leg.member, set()).add(foot.station)
        return {member: tuple(sorted(each)) for member, each in found.items()}


def divided(frame: Frame) -> DividedSheet | None:
    """Return the sheet of a frame, divided; None where it has none."""
    return _divided(OneFrame(frame)) if frame.panels else None


@lru_cache(maxsize=4)
def _divided(of: OneFrame) -> DividedSheet:
    frame = of.frame
    legs = legs_of(frame)
    sites = [site_of(frame, panel) for panel in frame.panels]
    met = [list(touches_of(site, legs)) for site in sites]
    joined = [joined_touches(frame, panel, each) for panel, each in zip(frame.panels, met, strict=True)]
    touches = [tuple(sorted(each, key=partial(_away, site))) for site, each in zip(sites, joined, strict=True)]
    blocks = blocks_of(sites, in_order(sites))
    try:
        cut_where_met(blocks, touches, bare_places(frame))
        cut_alike(blocks)
    except EndlessDivisionError as endless:
        warps = [warp_of(site.corners) for site in sites]
        name = frame.panels[int(np.argmax(warps)) if max(warps) > FLAT else endless.panel].name
        fault = "this panel and those beside it divide one another without end: lines across them do not close"
        remedy = "draw their common edges alike on both sides, or write a sheet whose corners go aside as two triangles"
        raise InputError([Fault("", f"panel '{name}'", fault, remedy, ("frame", "panels", name))]) from None
    parts = [
        frame.panels[block.panel].cells if frame.panels[block.panel].carries is PanelCarries.ALL else 1 for block in blocks
    ]
    return _joined_up(frame, sites, touches, blocks, parts)


def bare_places(frame: Frame) -> Array:
    """Return the places (n, 3) of points that no member meets."""
    reached = {name for member in frame.members for name in member.points}
    return np.array([place for name, place in frame.points.items() if name not in reached], dtype=np.float64).reshape(
        -1, 3
    )


def in_order(sites: Sequence[Site]) -> list[int]:
    """Return panels' places in an order that hangs on where they lie, not on how the file lists them: of lines that nearly meet, the
    first one stands.
    """
    middle = np.mean([site.middle for site in sites], axis=0)

    def key(number: int) -> tuple[float, ...]:
        site = sites[number]
        sides = np.linalg.norm(np.roll(site.corners, -1, axis=0) - site.corners, axis=1)
        return round(-float(sides.sum()), 9), round(float(np.linalg.norm(site.middle - middle)), 9)

    return sorted(range(len(sites)), key=key)


def _away(site: Site, touch: Touch) -> tuple[float, ...]:
    """Return how far from a panel's middle the leg that meets it lies, and how long it is, m; of one that passes its box there."""
    leg = touch.leg
    ends = touch.corners[[0, 2]] if isinstance(touch, PassingLeg) else np.array([leg.start, leg.end])
    return round(float(np.linalg.norm(ends.mean(axis=0) - site.middle)), 9), round(float(np.linalg.norm(ends[1] - ends[0])), 9)


class _Spots:
    """Places taken so far, so that nodes of neighbours are one; places of one panel are never closer than SAME_SPOT."""

    def __init__(self) -> None:
        self.places: list[Array] = []
        self.found: dict[tuple[int, int, int], list[int]] = {}

    def at(self, place: Array) -> int:
        """Return the number of the node at a place, a new one where there is none."""
        x, y, z = np.floor(place / (2 * SAME_SPOT)).astype(int).tolist()
        for dx, dy, dz in product((-1, 0, 1), repeat=3):
            for number in self.found.get((x + dx, y + dy, z + dz), ()):
                if float(np.abs(self.places[number] - place).max()) <= SAME_SPOT:
                    return number
        self.places.append(place)
        self.found.setdefault((x, y, z), []).append(len(self.places) - 1)
        return len(self.places) - 1


def _joined_up(
    frame: Frame, sites: Sequence[Site], touches: Sequence[tuple[Touch, ...]], blocks: Sequence[Block], parts: Sequence[int]
) -> DividedSheet:
    """Return all blocks' grids as one set of nodes and cells."""
    spots, cells, of, solids = _Spots(), [], [], []
    owners, feet = dict[int, set[int]](), dict[int, list[Foot]]()
    for block, part in zip(blocks, parts, strict=True):
        shares, _ = block.grid(part)
        solid = at_shares(block.solid, shares)
        numbers = np.array([spots.at(place) for place in solid], dtype=np.int64)
        for number in numbers.tolist():
            owners.setdefault(number, set()).add(block.panel)
        for touch in touches[block.panel]:
            for row, foot in _feet(block, touch, solid):
                feet.setdefault(int(numbers[row]), []).append(foot)
        round_cell = _corners_of_cells(len(shares), len(block.shares(part)[1]))
        cells.append(numbers[round_cell])
        solids.append(solid[round_cell])
        of.append(np.full(len(round_cell), block.panel))
    places, joined = np.array(spots.places), np.concatenate(cells)
    points = _points_at(frame, places)
    bare = np.array([not name and number not in feet for number, name in enumerate(points)])
    solid, owner = np.where(bare[joined][..., None], places[joined], np.concatenate(solids)), np.concatenate(of)
    middle, axes = np.array([each.middle for each in sites])[owner], np.array([each.axes[:2] for each in sites])[owner]
    return DividedSheet(
        places=places,
        points=points,
        feet=tuple(_distinct(feet.get(number, ())) for number in range(len(places))),
        cells=joined,
        of=owner,
        flat=(solid - middle[:, None]) @ axes.transpose(0, 2, 1),
        solid=solid,
        shared=np.array([len(owners[number]) > 1 for number in range(len(places))], dtype=np.bool_),
        sites=tuple(sites),
        touches=tuple(touches),
    )


def _corners_of_cells(places: int, count: int) -> IntArray:
    """Return the four corners of each cell, (m, 4), in order round it; count: places in a row of a block's grid."""
    first = np.arange(places).reshape(-1, count)[:-1, :-1].ravel()
    return np.stack([first, first + count, first + count + 1, first + 1], axis=1)


def _distinct(feet: Sequence[Foot]) -> tuple[Foot, ...]:
    """Return feet without those at one place of one member; one that is held there by more than an edge does not stand on it alone."""
    kept: list[Foot] = []
    for foot in sorted(feet, key=lambda each: each.stands):
        if not any(
            foot.leg.member == each.leg.member and np.abs(foot.place - each.place).max() <= SAME_SPOT for each in kept
        ):
            kept.append(foot)
    return tuple(kept)


def _points_at(frame: Frame, places: Array) -> tuple[str, ...]:
    """Return the frame point at each place, "" where there is none; of several, one that a member meets."""
    reached = {name for member in frame.members for name in member.points}
    names = sorted(frame.points, key=lambda name: name not in reached)
    points = np.array([frame.points[name] for name in names], dtype=np.float64)
    found = []
    for place in places:
        near = np.flatnonzero(np.abs(points - place).max(axis=1) <= SAME_SPOT)
        found.append(names[int(near[0])] if len(near) else "")
    return tuple(found)


def _feet(block: Block, touch: Touch, places: Array) -> Iterator[tuple[int, Foot]]:
    """Yield which places (n, 3) of a block hang on a member that meets it, and where on that member."""
    leg = touch.leg
    along = leg.along(places)
    match touch:
        case OnEdge():
            corners = block.site.corners
            first, second = corners[touch.edge], corners[(touch.edge + 1) % len(corners)]
            on = _on_segment(places, first, second) & leg.holds(places)
        case OnLine():
            on = _on_segment(block.site.flat(places), *block.site.flat(touch.ends))
        case PassingLeg():
            on = _in_box(block, touch, places)
            along = np.full(len(places), float(leg.along(touch.middle[None])[0]))
    for row in np.flatnonzero(on).tolist():
        yield row, Foot(leg, float(along[row]), isinstance(touch, OnEdge))


def _on_segment(places: Array, first: Array, second: Array) -> BoolArray:
    """Return which places (n, d) lie on the line from one place (d,) to another."""
    span = second - first
    shares = np.clip((places - first) @ span / max(float(span @ span), 1e-300), 0, 1)
    found: BoolArray = np.linalg.norm(first + shares[:, None] * span - places, axis=1) <= SAME_SPOT
    return found


def _in_box(block: Block, touch: PassingLeg, places: Array) -> BoolArray:
    """Return which places (n, 3) are rigid with a member that ends on the panel or passes through it: all within its box.

    Sheet joined all round to thin walls keeps their outline as it is and turns with it in its plane.
    """
    flat = block.site.flat(touch.corners)
    sides = np.linalg.norm(flat[[1, 3]] - flat[0], axis=1)
    return within(shares_of(flat, block.site.flat(places)), SAME_SPOT / np.maximum(sides, SAME_SPOT))
