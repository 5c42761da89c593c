"""The ladder: the left rail through its stations, the right one as its mirror image, crossmembers from rail to rail."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import dist

from framecheck.model.arrays import Vector
from framecheck.model.frame import Member, MemberEnd, Orientation, Stretch
from framecheck.reading.blocks.frame import Toward
from framecheck.reading.build.frame_builder import (
    SAME_PLACE,
    FrameBuilder,
    both_ends,
    end_of,
    mirror_image,
    open_quarter,
)
from framecheck.reading.build.member_details import as_made, taper, to_the_end
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record
from framecheck.value_class import value_class

AT_A_STATION = 1e-4  # m: a crossmember this near to a station shares its points


@value_class
class LadderPlace:
    """A named place on the left rail."""

    name: str
    at: Vector


def add_ladder(builder: FrameBuilder, record: Record) -> None:
    """Add both rails and all crossmembers."""
    rail, crossmembers = record["rail"], record["crossmembers"]
    line = rail_line(builder, rail)
    if line is None:
        return
    seats = [seat for cross in crossmembers if (seat := _seat(builder, cross, line)) is not None]
    places = rail_places(builder, line, seats)
    for place in places:
        number = builder.lines.get(place.name, rail.line)
        x, y, z = place.at
        builder.add_point(f"left {place.name}", (x, y, z), number, rail.subject)
        builder.add_point(f"right {place.name}", (x, -y, z), number, rail.subject)
    _add_rails(builder, rail, places, line)
    for cross, x in seats:
        _add_crossmember(builder, cross, _nearest(places, x))


def rail_line(builder: FrameBuilder, rail: Record) -> tuple[LadderPlace, ...] | None:
    """Return the stations, y and z filled in where left out; None, with the fault noted, where they don't run rearward."""
    stations: Sequence[Record] = rail["stations"]
    for ahead, behind in pairwise(stations):
        if not behind["x"] < ahead["x"] - SAME_PLACE:
            fault = f"is not behind '{ahead['name']}'"
            builder.diagnostics.refuse(
                behind.line, behind.subject, fault, "list stations from front to rear: x falls from one to the next"
            )
            return None
    for end in (stations[0], stations[-1]):
        if end["y"] is None or end["z"] is None:
            builder.diagnostics.refuse(
                end.line,
                end.subject,
                "an end of the rail has no y or z",
                "write x, y and z for the first and last station",
            )
            return None
    builder.lines.update({station["name"]: station.line for station in stations})
    return tuple(
        LadderPlace(each["name"], (each["x"], filled_in(stations, n, "y"), filled_in(stations, n, "z")))
        for n, each in enumerate(stations)
    )


def filled_in(stations: Sequence[Record], number: int, key: str) -> float:
    """Return a coordinate of a station, on the straight between its nearest neighbours that have it where it is left out."""
    own: float | None = stations[number][key]
    if own is not None:
        return own
    ahead = next(each for each in reversed(stations[:number]) if each[key] is not None)
    behind = next(each for each in stations[number:] if each[key] is not None)
    share = (stations[number]["x"] - ahead["x"]) / (behind["x"] - ahead["x"])
    return float(ahead[key] + share * (behind[key] - ahead[key]))


def _seat(builder: FrameBuilder, cross: Record, line: Sequence[LadderPlace]) -> tuple[Record, float] | None:
    """Return a crossmember with its x; None, with the fault noted, where it has none on the rail."""
    if (cross["x"] is None) == (cross["station"] is None):
        builder.diagnostics.refuse(cross.line, cross.subject, "either 'x' or 'station' says where it is", "write one of the two")
        return None
    if cross["station"] is not None:
        found = next((place for place in line if place.name == cross["station"]), None)
        if found is None:
            names = ", ".join(place.name for place in line)
            builder.diagnostics.refuse(
                cross.line_of("station"),
                cross.subject,
                f"there is no station '{cross['station']}'",
                f"stations are: {names}",
            )
            return None
        return cross, found.at[0]
    if not line[-1].at[0] - AT_A_STATION <= cross["x"] <= line[0].at[0] + AT_A_STATION:
        fault = "lies beyond the ends of the rails"
        builder.diagnostics.refuse(
            cross.line_of("x"),
            cross.subject,
            fault,
            f"choose x from {length(line[-1].at[0])} to {length(line[0].at[0])}",
        )
        return None
    return cross, cross["x"]


def rail_places(builder: FrameBuilder, line: Sequence[LadderPlace], seats: Sequence[tuple[Record, float]]) -> tuple[LadderPlace, ...]:
    """Return all named places on the left rail, front to rear: stations, and crossmembers where no station is."""
    places = list(line)
    for cross, x in seats:
        near = _nearest(places, x)
        if abs(near.at[0] - x) > AT_A_STATION:
            places.append(LadderPlace(cross["name"], on_line(line, x)))
            builder.lines[cross["name"]] = cross.line
        elif near.name != cross["name"]:
            for side in ("left", "right"):
                builder.add_alias(f"{side} {cross['name']}", f"{side} {near.name}", cross.line, cross.subject)
    return tuple(sorted(places, key=lambda place: -place.at[0]))


def _nearest(places: Sequence[LadderPlace], x: float) -> LadderPlace:
    return min(places, key=lambda place: abs(place.at[0] - x))


def on_line(line: Sequence[LadderPlace], x: float) -> Vector:
    """Return the place on the rail's line at an x, m."""
    number = next((n for n in range(1, len(line)) if x >= line[n].at[0]), len(line) - 1)
    ahead, behind = line[number - 1], line[number]
    share = (x - ahead.at[0]) / (behind.at[0] - ahead.at[0])
    return (x, *(a + share * (b - a) for a, b in zip(ahead.at[1:], behind.at[1:], strict=True)))  # type: ignore[return-value]


def _add_rails(builder: FrameBuilder, rail: Record, places: Sequence[LadderPlace], line: Sequence[LadderPlace]) -> None:
    names = [place.name for place in places]
    toward = _open_side(builder, rail)
    left = tuple(f"left {name}" for name in names)
    laid = builder.orientation(rail, left, toward)
    ends = end_of(rail["front end"]), end_of(rail["rear end"])
    stretches = _stretches(builder, rail, line)
    for side, lie in (("left", laid), ("right", mirror_image(laid))):
        points = tuple(f"{side} {name}" for name in names)
        held = ends if side == "left" else (_mirrored_end(ends[0]), _mirrored_end(ends[1]))
        made = as_made(builder, rail)
        member = Member(f"{side} rail", points, stretches, lie, held[0], held[1], role="rail", **made)
        builder.add_member(member, rail.line, rail.subject)


def _open_side(builder: FrameBuilder, rail: Record) -> Toward | None:
    """Return where the rail opens: inboard if it can and nothing is said."""
    said: Toward | None = rail["open side"]
    if said is None and open_quarter(builder.catalogue.section(rail["section"]).shape) is not None:
        return Toward.INBOARD
    return said


def _mirrored_end(end: MemberEnd) -> MemberEnd:
    x, y, z = end.arm
    return replace(end, arm=(x, 0.0 - y, z))


def _stretches(builder: FrameBuilder, rail: Record, line: Sequence[LadderPlace]) -> tuple[Stretch, ...]:
    """Return the rail's sections, each up to the station where the next begins; a taper runs from its station to the next."""
    stretches: list[Stretch] = []
    section, travelled, last = rail["section"], 0.0, len(line) - 1
    for number, station in enumerate(rail["stations"]):
        travelled += dist(line[number].at, line[number - 1].at) if number else 0.0
        if station["section"] not in (None, section) and number < last:
            _close(stretches, section, travelled)
            section = station["section"]
        if station["taper to"] is not None and number < last:
            _close(stretches, section, travelled)
            span = travelled, travelled + dist(line[number + 1].at, line[number].at)
            stretches += taper(builder, station, (section, station["taper to"]), span)
            section = station["taper to"]
        elif station["taper to"] is not None:
            fault = "the rail ends here and can't taper further"
            builder.diagnostics.refuse(station.line_of("taper to"), station.subject, fault, "write it at an earlier station")
    return to_the_end(stretches, section, travelled)


def _close(stretches: list[Stretch], section: str, until: float) -> None:
    """End a section at a station, if any of it lies between there and the stretch before."""
    if until > (stretches[-1].until if stretches else 0.0) + SAME_PLACE:
        stretches.append(Stretch(section, until))


def _add_crossmember(builder: FrameBuilder, cross: Record, seat: LadderPlace) -> None:
    """Add a crossmember with its own points."""
    x, y, z = seat.at
    height = z - cross["drop"]
    middles: list[Record] = sorted(cross["points"], key=lambda point: -point["y"])
    for middle in middles:
        if not abs(middle["y"]) < y - SAME_PLACE:
            builder.diagnostics.refuse(
                middle.line,
                middle.subject,
                "does not lie between the rails",
                f"choose y within {length(y)} of the middle",
            )
        builder.add_point(middle["name"], (x, middle["y"], height), middle.line, middle.subject)
    points = (f"left {seat.name}", *(middle["name"] for middle in middles), f"right {seat.name}")
    if not all(point in builder.points for point in points):
        return
    start, end = both_ends(cross, "left end", "right end", (0.0, 0.0, 0.0 - cross["drop"]))
    lie = builder.orientation(cross, (points[0], points[-1]), cross["open side"]) if cross["open side"] else Orientation()
    member = Member(cross["name"], points, (Stretch(cross["section"]),), lie, start, end, role="crossmember")
    builder.add_member(member, cross.line, cross.subject)
