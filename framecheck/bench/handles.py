"""What may be dragged in the picture, a notch along its member, a crossmember along the rails, and the numbers that it changes."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import Any

import numpy as np

from framecheck.bench.document import Path
from framecheck.bench.sliding import slide_of
from framecheck.frame.geometry import point_stations
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member
from framecheck.value_class import array_class

Written = dict[str, Any]
"""What a file says, every value as text."""
FORWARD = np.array([1.0, 0.0, 0.0])
MEMBERS_OF = ("ladder", "body")


@array_class
class Handle:
    """A thing to drag. moves: the numbers that hold where it stands, and by how much each changes as the first grows by one metre;
    places: (n, 3) its line as built, or its one place, m; way: (3,) where it goes as that number grows by one metre; reach: how far
    back and forward, m; held: why it can't be dragged, "" where it can.
    """

    name: str
    moves: tuple[tuple[Path, float], ...]
    places: Array
    way: Array
    is_cut: bool
    reach: tuple[float, float] = (-inf, inf)
    held: str = ""

    @property
    def said(self) -> str:
        """What it is and can, in words."""
        return f"{self.name}: " + (f"not dragged, for {self.held}" if self.held else "drag it along, or use the arrow keys")


def handles_of(frame: Frame, written: Written) -> list[Handle]:
    """Return what may be dragged in a frame as its file is written."""
    block = written.get("frame") or {}
    return [*crossmembers(frame, block), *between_points(frame, written), *cuts(frame, block)]


def crossmembers(frame: Frame, written: Written) -> Iterator[Handle]:
    """Yield the crossmembers whose place along the rails is one number of the file."""
    members = {each.name: each for each in frame.members}
    for block in MEMBERS_OF:
        listed = (written.get(block) or {}).get("crossmembers") or []
        for number, each in enumerate(listed):
            member = members.get(str(each.get("name", "")))
            if member is not None and isinstance(each.get("x"), str):
                moves = ((("frame", block, "crossmembers", number, "x"), 1.0),)
                yield Handle(member.name, moves, places_of(frame, member), FORWARD, is_cut=False)


def between_points(frame: Frame, written: Written) -> Iterator[Handle]:
    """Yield the crossmembers between rails that are written by their points."""
    members = {each.name: each for each in frame.members}
    for each in (written.get("frame") or {}).get("members") or []:
        member = members.get(str(each.get("name", "")))
        slide = None if member is None else slide_of(frame, written, member)
        if member is not None and slide is not None:
            places = places_of(frame, member)
            yield Handle(member.name, slide.moves, places, slide.way, is_cut=False, reach=slide.reach, held=slide.held)


def places_of(frame: Frame, member: Member) -> Array:
    """Return the places (n, 3) of a member's points, m."""
    return np.array([frame.points[name] for name in member.points])


def cuts(frame: Frame, written: Written) -> Iterator[Handle]:
    """Yield the notches, on each member that has them."""
    numbers = {str(each.get("name", "")): (number, each) for number, each in enumerate(written.get("cuts") or [])}
    for member in frame.members:
        for cut in member.cuts:
            number, each = numbers.get(cut.name, (0, {}))
            key = next((word for word in ("at", "x") if isinstance(each.get(word), str)), None)
            if key is None:
                continue
            place, along = place_along(frame, member, cut.at)
            way = along if key == "at" else along / along[0]
            yield Handle(cut.name, ((("frame", "cuts", number, key), 1.0),), place[None], way, is_cut=True)


def place_along(frame: Frame, member: Member, station: float) -> tuple[Array, Array]:
    """Return the place of a station along a member, m, and the unit vector along it there."""
    begun = point_stations(frame, member)
    number = max(count for count in range(len(begun) - 1) if count == 0 or begun[count] <= station)
    start, end = (np.array(frame.points[name]) for name in member.points[number : number + 2])
    along = (end - start) / np.linalg.norm(end - start)
    return start + (station - begun[number]) * along, along
