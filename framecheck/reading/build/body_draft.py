"""A unit body in the making: points, members and panels as records, what it knows of its stations and sections."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

from framecheck.model.frame import Make
from framecheck.model.shape_parts import outline_box
from framecheck.model.shapes import Side
from framecheck.reading.blocks.common import OFFSET, PLACE
from framecheck.reading.blocks.frame import Toward
from framecheck.reading.blocks.joining import END
from framecheck.reading.build.frame_builder import SAME_PLACE, UP, open_quarter
from framecheck.reading.build.ladder import filled_in
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.diagnostics import Diagnostics, did_you_mean
from framecheck.reading.form import REQUIRED, Form, Record
from framecheck.value_class import value_class

Place = tuple[float, float, float]
SIDES = (("left", 1), ("right", -1))
SWAPPED = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
ALONG_MIRRORED = {Toward.INBOARD: (Toward.RIGHT, Toward.LEFT), Toward.OUTBOARD: (Toward.LEFT, Toward.RIGHT)}


@value_class
class Settled:
    """What a part's panel finds by itself: the body's members, and others that are said, that it is joined to where it meets them, and
    edges that are free where nothing holds them.
    """

    joined: frozenset[str]
    said: tuple[str, ...]
    free: tuple[tuple[str, str], ...]


def filled(form: Form, of: Record, values: dict[str, Any]) -> Record:
    """Return a record of a form as if it had been written at a part's line."""
    defaults = {each.key: None if each.default is REQUIRED else each.default for each in form.fields}
    return Record(of.line, of.subject, {**defaults, **values}, of.lines, of.sound)


@dataclass(slots=True)
class BodyDraft:
    """What has been drawn so far. rails: part and stations by member; rocker_places: names and x of the rocker's points."""

    diagnostics: Diagnostics
    catalogue: SectionCatalogue
    body: Record
    points: dict[str, Record] = field(default_factory=dict)
    members: list[Record] = field(default_factory=list)
    panels: list[Record] = field(default_factory=list)
    settled: dict[str, Settled] = field(default_factory=dict)
    rails: dict[str, tuple[Record, list[str]]] = field(default_factory=dict)
    rocker_places: tuple[tuple[str, float], ...] = ()
    rocker_span: tuple[str, str] | None = None

    def refuse(self, at: Record, fault: str, remedy: str) -> None:
        """Note a fault of a part."""
        self.diagnostics.refuse(at.line, at.subject, fault, remedy)

    def refuse_station(self, part: Record, key: str) -> None:
        """Note a station that there is not."""
        names = [each["name"] for each in self.body["stations"]]
        remedy = did_you_mean(part[key], names, f"stations are: {', '.join(names)}")
        self.diagnostics.refuse(part.line_of(key), part.subject, f"there is no station '{part[key]}'", remedy)

    def stations_fit(self) -> bool:
        """Return whether stations run rearward and say where the rails lie; faults are noted."""
        stations: Sequence[Record] = self.body["stations"]
        for ahead, behind in pairwise(stations):
            if not behind["x"] < ahead["x"] - SAME_PLACE:
                fault = f"is not behind '{ahead['name']}'"
                self.refuse(behind, fault, "list stations from front to rear: x falls from one to the next")
                return False
        if self.body["front rails"] is None and self.body["rear rails"] is None:
            return True
        for end in (stations[0], stations[-1]):
            if end["y"] is None or end["z"] is None:
                self.refuse(
                    end, "an end of the rails has no y or z", "write x, y and z for the first and last station"
                )
                return False
        return True

    def x_of(self, name: str) -> Any:
        """Return where a station is, m; None where there is none of that name."""
        return next((each["x"] for each in self.body["stations"] if each["name"] == name), None)

    def rail_at(self, name: str, rail: Record | None = None) -> Place:
        """Return where the left rail is at a station; a stiffener's own height where it is one's."""
        if rail is not None and f"left {name}" in self.points:
            place = self.points[f"left {name}"]
            return (place["x"], place["y"], place["z"])
        stations = self.body["stations"]
        number = next(n for n, each in enumerate(stations) if each["name"] == name)
        return (stations[number]["x"], filled_in(stations, number, "y"), filled_in(stations, number, "z"))

    def span(self, part: Record, first: str | None, last: str | None) -> list[str]:
        """Return the names of the stations from one to another, the first and the last where left out; none: a fault is noted."""
        names = [each["name"] for each in self.body["stations"]]
        for key in ("from", "to"):
            said = part.values.get(key)
            if said is not None and said not in names:
                self.refuse_station(part, key)
                return []
        if (first is not None and first not in names) or (last is not None and last not in names):
            return []
        start = 0 if first is None else names.index(first)
        stop = len(names) if last is None else names.index(last) + 1
        return names[start:stop]

    def ends_of(self, part: Record) -> tuple[str | None, str | None]:
        """Return the stations where rockers, floor and tunnel begin and end; a fault is noted where nothing says it."""
        found: list[str | None] = []
        for key, wall, end in (("from", "firewall", 0), ("to", "rear bulkhead", -1)):
            said: str | None = part.values.get(key)
            if said is None and self.body[wall] is not None:
                said = self.body[wall]["station"]
            if said is None and self.rocker_span is not None:
                said = self.rocker_span[end]
            if said is None:
                self.refuse(part, f"nothing says where it {'begins' if key == 'from' else 'ends'}", f"write '{key}: STATION'")
            found.append(said)
        return found[0], found[1]

    def half(self, section: str) -> tuple[float, float]:
        """Return half the height and width of a section as it is drawn, m; zeros where it is not known: that is told elsewhere."""
        if not (self.catalogue.knows_section(section) and self.catalogue.can_build(section)):
            return (0.0, 0.0)
        height, width = outline_box(self.catalogue.section(section).shape)
        return (height / 2, width / 2)

    def half_of(self, part: Record) -> tuple[float, float]:
        """Return half the height and width of a part's section as it lies in it, m."""
        height, width = self.half(part["section"])
        toward, drawn = self.open_side(part, 1), self._open_quarter(part)
        if toward is None or drawn is None:
            return (height, width)
        upright = toward in (Toward.UP, Toward.DOWN)
        return (height, width) if upright == (drawn % 2 == UP % 2) else (width, height)

    def _open_quarter(self, part: Record) -> int | None:
        section = part["section"]
        if not (self.catalogue.knows_section(section) and self.catalogue.can_build(section)):
            return None
        return open_quarter(self.catalogue.section(section).shape)

    def open_side(self, part: Record, sign: int) -> Toward | None:
        """Return where a part's section opens on a side: inboard along the body, rearward across it, where nothing is said."""
        if "open side" not in part.values:
            return None
        said: Toward | None = part["open side"]
        if said is None and self._open_quarter(part) is not None:
            said = Toward.REARWARD if "station" in part.values else Toward.INBOARD
        return ALONG_MIRRORED[said][0 if sign > 0 else 1] if said in ALONG_MIRRORED else said

    def below_floor(self, part: Record) -> float | None:
        """Return the height of a part's middle with its top against the floor, m; None without a floor."""
        floor = self.body["floor"]
        return None if floor is None else floor["z"] - self.half_of(part)[0]

    def height_of(self, part: Record, station: str) -> float:
        """Return the height of a crossmember's or torque box's middle, m."""
        if part["z"] is not None:
            return float(part["z"])
        below = self.below_floor(part) if self.is_under_floor(station) else None
        if below is not None:
            return below
        rail = self.rail_through(station)
        return self.rail_at(station, rail)[2] if rail is not None else float(self.body["rockers"]["z"])

    def is_under_floor(self, station: str) -> bool:
        """Return whether the floor lies over a station."""
        floor = self.body["floor"]
        if floor is None:
            return False
        first, last = self.ends_of(floor)
        ends = [self.x_of(each) for each in (first, last) if each is not None]
        return len(ends) == 2 and None not in ends and ends[1] - SAME_PLACE <= self.x_of(station) <= ends[0] + SAME_PLACE

    def rail_through(self, station: str) -> Record | None:
        """Return the rails or stiffeners that pass a station."""
        return next((part for part, along in self.rails.values() if station in along), None)

    def foot_of(self, pillar: Record) -> float | None:
        """Return where a pillar stands, m forward: with its face against a wall that stands at its station."""
        x = self.x_of(pillar["station"])
        if x is None:
            return None
        deep = self.half(pillar["section"])[0]
        for wall, way in (("firewall", -1.0), ("rear bulkhead", 1.0)):
            if self.body[wall] is not None and self.body[wall]["station"] == pillar["station"]:
                return float(x + way * deep)
        return float(x)

    def rocker_point(self, x: float) -> str:
        """Return the rocker's point nearest to a place, m forward; without its side."""
        return min(self.rocker_places, key=lambda place: abs(place[1] - x))[0]

    def pillar_point(self, name: str, at: str) -> str:
        """Return the foot or the top of a pillar; without its side."""
        pillar = next(each for each in self.body["pillars"] if each["name"] == name)
        x = self.foot_of(pillar)
        return f"{name} top" if at == "top" or x is None or not self.rocker_places else self.rocker_point(x)

    @property
    def tops(self) -> list[Record]:
        """Return the pillars that reach the cant rails, front to rear."""
        return sorted((each for each in self.body["pillars"] if each["top"] is not None), key=lambda each: -each["top"])

    def add(self, name: str, place: Place, of: Record) -> str:
        """Add a point; two that have one name are refused."""
        if name in self.points:
            self.refuse(of, f"the body would have two points '{name}'", "choose another name for one of the two")
        self.points[name] = filled(PLACE, of, dict(zip("xyz", place, strict=True)))
        return name

    def add_mirrored(self, name: str, place: Place, of: Record) -> str:
        """Add a point on each side; the name without its side."""
        x, y, z = place
        for side, sign in SIDES:
            self.add(f"{side} {name}", (x, sign * y, z), of)
        return name

    def add_rail_point(self, station: str, part: Record, height: float | None = None) -> None:
        """Add the points of the rails at a station, once."""
        if f"left {station}" not in self.points:
            x, y, z = self.rail_at(station)
            self.add_mirrored(station, (x, y, z if height is None else height), part)

    def end_said(self, part: Record, which: str) -> Make | Record | None:
        """Return what is said of a part's end."""
        said: Make | Record | None = part["ends"] if part[which] is None else part[which]
        return said

    def is_rigid(self, said: Make | Record | None) -> bool:
        """Return whether an end is said to be rigid."""
        if isinstance(said, Record):
            return said["make"] is Make.RIGID and said["stiffness"] is None
        return said is Make.RIGID

    def add_member(self, form: Form, part: Record, values: dict[str, Any]) -> None:
        """Add a member."""
        self.members.append(filled(form, part, values))


def end_with(draft: BodyDraft, part: Record, said: Make | Record | None, arm: Place) -> Record:
    """Return a member's end as it is said, an arm added to its own."""
    written = said if isinstance(said, Record) else filled(END, part, {"make": said or Make.UNSAID})
    own = written["arm"]
    whole = [way + (0.0 if own is None else own[key]) for key, way in zip("xyz", arm, strict=True)]
    offset = filled(OFFSET, part, dict(zip("xyz", whole, strict=True)))
    return replace(written, values={**written.values, "arm": offset})


def sides_swapped(said: Make | Record | None) -> Make | Record | None:
    """Return an end's mirror image: its own arm, and its welded sides as seen looking along it."""
    if not isinstance(said, Record):
        return said
    arm = said["arm"]
    turned = None if arm is None else replace(arm, values={**arm.values, "y": -arm["y"]})
    welded = tuple(SWAPPED.get(each, each) for each in said["welded sides"])
    return replace(said, values={**said.values, "arm": turned, "welded sides": welded})

