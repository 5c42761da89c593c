"""What may be dragged in the picture: a notch along its member, a crossmember along the rails; each with the field that it changes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from framecheck.bench.document import Path
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
    """A thing to drag. path: the field that holds where it stands; places: (n, 3) its line as built, or its one place, m;
    way: (3,) where it goes as that number grows by one metre."""

    name: str
    path: Path
    places: Array
    way: Array
    is_cut: bool


def handles_of(frame: Frame, written: Written) -> list[Handle]:
    """Return what may be dragged in a frame as its file is written."""
    block = written.get("frame") or {}
    return [*crossmembers(frame, block), *cuts(frame, block)]


def crossmembers(frame: Frame, written: Written) -> Iterator[Handle]:
    """Yield the crossmembers whose place along the rails is one number of the file."""
    members = {each.name: each for each in frame.members}
    for block in MEMBERS_OF:
        listed = (written.get(block) or {}).get("crossmembers") or []
        for number, each in enumerate(listed):
            member = members.get(str(each.get("name", "")))
            if member is not None and isinstance(each.get("x"), str):
                places = np.array([frame.points[name] for name in member.points])
                yield Handle(member.name, ("frame", block, "crossmembers", number, "x"), places, FORWARD, is_cut=False)


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
            yield Handle(cut.name, ("frame", "cuts", number, key), place[None], way, is_cut=True)


def place_along(frame: Frame, member: Member, station: float) -> tuple[Array, Array]:
    """Return the place of a station along a member, m, and the unit vector along it there."""
    begun = point_stations(frame, member)
    number = max(count for count in range(len(begun) - 1) if count == 0 or begun[count] <= station)
    start, end = (np.array(frame.points[name]) for name in member.points[number : number + 2])
    along = (end - start) / np.linalg.norm(end - start)
    return start + (station - begun[number]) * along, along
