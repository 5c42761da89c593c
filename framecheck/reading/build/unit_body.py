"""The unit body: its parts drawn as the points, members and panels that a person would write, halves mirrored.

Lengths of members are told from face to face where their ends are said to be rigid: a rigid end at another member's middle line would
count what lies within that member as bending. A joint that is modelled has its own seat.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from framecheck.reading.blocks.frame import MEMBER
from framecheck.reading.blocks.panels import OPENING
from framecheck.reading.build.body_corners import at_open_corners, corner_of, refuse_corners, turns_at_top, with_corners
from framecheck.reading.build.body_draft import SIDES, BodyDraft, Place, end_with, filled, sides_swapped
from framecheck.reading.build.body_sheet import draw_floor, draw_roof, draw_tunnel, draw_wall
from framecheck.reading.build.ladder import AT_A_STATION
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.diagnostics import Diagnostics, Missing
from framecheck.reading.form import Record

MADE_KEYS = ("kinks", "bend radius", "kink plate", "splices")


def with_body_drawn(diagnostics: Diagnostics, catalogue: SectionCatalogue, case: Record) -> Record:
    """Return a case's record in which the body stands as points, members and panels; faults are noted."""
    frame = case["frame"]
    body = frame["body"]
    beside = (frame[key] for key in ("points", "members", "panels", "openings"))
    if not isinstance(body, Record) or not body.sound or any(isinstance(each, Missing) for each in beside):
        return case
    draft = BodyDraft(diagnostics, catalogue, body)
    if draft.stations_fit():
        draw(draft)
    drawn = {
        "points": {**draft.points, **frame["points"]},
        "members": (*draft.members, *frame["members"]),
        "panels": (*draft.panels, *frame["panels"]),
        "openings": (*openings_of(draft), *frame["openings"]),
        "settled": draft.settled,
    }
    for name in draft.points.keys() & frame["points"].keys():
        place = frame["points"][name]
        diagnostics.refuse(place.line, place.subject, f"the body has a point '{name}' already", "choose another name")
    return replace(case, values={**case.values, "frame": replace(frame, values={**frame.values, **drawn})})


def openings_of(draft: BodyDraft) -> list[Record]:
    """Return the openings between pillars, a door behind the first; windscreen and back light where headers are over them."""
    body, found = draft.body, list[Record]()
    for number, (ahead, behind) in enumerate(pairwise(draft.tops)):
        one, other = ahead["name"], behind["name"]
        corners = ((one, "foot"), (other, "foot"), (other, "top"), (one, "top"))
        for side, _ in SIDES:
            points = tuple(f"{side} {draft.pillar_point(pillar, at)}" for pillar, at in corners)
            name = f"{side} opening behind {one}" if number else f"{side} door"
            found.append(filled(OPENING, body, {"name": name, "corners": points, "gap": body["door gap"]}))
    for name, pillar in (("windscreen", draft.tops[:1]), ("back light", draft.tops[-1:])):
        if pillar and pillar[0]["waist"] is not None and body["headers"] is not None:
            of = pillar[0]["name"]
            points = (f"left {of} waist", f"right {of} waist", f"right {of} top", f"left {of} top")
            found.append(filled(OPENING, body, {"name": name, "corners": points}))
    return [each for each in found if all(point in draft.points for point in each["corners"])]


def draw(draft: BodyDraft) -> None:
    """Draw all parts that there are: lines along the body first, then what stands between them, sheet last."""
    body = draft.body
    parts = (
        (draw_rockers, body["rockers"]),
        (draw_rails, body["front rails"]),
        (draw_rails, body["rear rails"]),
        (draw_stiffeners, body["stiffeners"]),
        *((draw_torque_box, each) for each in body["torque boxes"]),
        *((draw_crossmember, each) for each in body["crossmembers"]),
        *((draw_pillar, each) for each in body["pillars"]),
        (draw_cant_rails, body["cant rails"]),
        (draw_cowl, body["cowl"]),
        (draw_headers, body["headers"]),
        (draw_floor, body["floor"]),
        (draw_tunnel, body["tunnel"]),
        (draw_wall, body["firewall"]),
        (draw_wall, body["rear bulkhead"]),
        (draw_roof, body["roof"]),
    )
    for drawn, part in parts:
        if part is not None:
            drawn(draft, part)


def draw_rails(draft: BodyDraft, part: Record) -> None:
    """Draw the front or the rear rails through all stations on their way."""
    front = "to" in part.values
    along = draft.span(part, None if front else part["from"], part["to"] if front else None)
    name = "front rail" if front else "rear rail"
    if len(along) < 2:
        draft.refuse(part, "they have no length", "choose a station further along")
        return
    for station in along:
        draft.add_rail_point(station, part)
    draft.rails[name] = part, along
    add_sides(draft, part, name, along, {key: part[key] for key in MADE_KEYS})


def draw_stiffeners(draft: BodyDraft, part: Record) -> None:
    """Draw the stiffeners from the front rails' last station to the rear rails' first."""
    if len(draft.rails) < 2:
        draft.refuse(part, "there are no front and rear rails for them to join", "draw both")
        return
    along = draft.span(part, draft.rails["front rail"][1][-1], draft.rails["rear rail"][1][0])
    if len(along) < 2:
        draft.refuse(part, "the rails leave no gap for them", "let the front rails end ahead of where the rear rails begin")
        return
    height = draft.below_floor(part)
    for station in along[1:-1]:
        draft.add_rail_point(station, part, height)
    draft.rails["stiffener"] = part, along
    arms = [(0.0, 0.0, 0.0 if height is None else height - draft.rail_at(station)[2]) for station in (along[0], along[-1])]
    add_sides(draft, part, "stiffener", along, {}, arms)


def draw_rockers(draft: BodyDraft, part: Record) -> None:
    """Draw the rockers through all stations, and the feet of pillars, on their way."""
    first, last = draft.ends_of(part)
    if first is None or last is None:
        return
    along = draft.span(part, first, last)
    if len(along) < 2:
        draft.refuse(part, "they have no length", "choose a station further along")
        return
    places = [(f"rocker {name}", draft.x_of(name)) for name in along]
    for pillar in draft.body["pillars"]:
        x = draft.foot_of(pillar)
        if x is not None and all(abs(x - other) > AT_A_STATION for _, other in places):
            places.append((f"{pillar['name']} foot", x))
    draft.rocker_places = tuple(sorted(places, key=lambda place: -place[1]))
    for name, x in draft.rocker_places:
        draft.add_mirrored(name, (x, part["y"], part["z"]), part)
    draft.rocker_span = (first, last)
    add_sides(draft, part, "rocker", [name for name, _ in draft.rocker_places], {})


def draw_torque_box(draft: BodyDraft, part: Record) -> None:
    """Draw a pair of torque boxes from the rockers to the rails at a station."""
    rockers, station = draft.body["rockers"], part["station"]
    rail = draft.rail_through(station)
    if draft.x_of(station) is None:
        draft.refuse_station(part, "station")
    elif rockers is None or f"rocker {station}" not in dict(draft.rocker_places) or rail is None:
        draft.refuse(part, "it needs a rocker and a rail at its station", "choose a station that both pass")
    else:
        height = draft.height_of(part, station)
        at_rail = draft.rail_at(station, rail)
        reach = draft.half_of(rockers)[1], draft.half_of(rail)[1]
        arms = (
            (0.0, -reach[0] if is_rigid(draft, part, "start") else 0.0, height - rockers["z"]),
            (0.0, reach[1] if is_rigid(draft, part, "end") else 0.0, height - at_rail[2]),
        )
        add_sides(draft, part, part["name"], (f"rocker {station}", station), {}, arms)


def draw_crossmember(draft: BodyDraft, part: Record) -> None:
    """Draw a crossmember from rail to rail, from rocker to rocker where there is no rail."""
    station, rockers = part["station"], draft.body["rockers"]
    rail = draft.rail_through(station)
    if draft.x_of(station) is None:
        draft.refuse_station(part, "station")
        return
    if rail is None and (rockers is None or f"rocker {station}" not in dict(draft.rocker_places)):
        draft.refuse(part, "there is neither rail nor rocker at its station", "choose a station that one of them passes")
        return
    held = rockers if rail is None else rail
    y, z = (rockers["y"], rockers["z"]) if rail is None else draft.rail_at(station, rail)[1:]
    height = draft.height_of(part, station)
    for middle in part["points"]:
        if not abs(middle["y"]) < y:
            draft.refuse(middle, "does not lie between its ends", "choose y nearer to the middle")
        draft.add(middle["name"], (draft.x_of(station), middle["y"], height), middle)
    across = station if rail is not None else f"rocker {station}"
    inner = [middle["name"] for middle in sorted(part["points"], key=lambda point: -point["y"])]
    reach = draft.half_of(held)[1]
    add_across(draft, part, part["name"], (f"left {across}", *inner, f"right {across}"), (reach, height - z))


def draw_pillar(draft: BodyDraft, part: Record) -> None:
    """Draw a pair of pillars from the rockers up, through their waists to the cant rails."""
    x, name, cant = draft.foot_of(part), part["name"], draft.body["cant rails"]
    if draft.x_of(part["station"]) is None:
        draft.refuse_station(part, "station")
        return
    if x is None or not draft.rocker_places:
        draft.refuse(part, "there are no rockers for it to stand on", "draw rockers")
        return
    if part["top"] is not None and cant is None:
        draft.refuse(part, "its top meets no cant rail", "draw cant rails, or leave 'top' out")
        return
    if part["top"] is None and part["waist"] is None:
        draft.refuse(part, "it has neither waist nor top", "write one of the two, or both")
        return
    along = [draft.rocker_point(x)]
    if part["waist"] is not None:
        waist = part["waist"]
        y = draft.body["rockers"]["y"] if waist["y"] is None else waist["y"]
        along.append(draft.add_mirrored(f"{name} waist", (waist["x"], y, waist["z"]), waist))
    if part["top"] is not None:
        along.append(draft.add_mirrored(f"{name} top", (part["top"], cant["y"], cant["z"]), part))
    up = draft.half_of(draft.body["rockers"])[0] if is_rigid(draft, part, "start") else 0.0
    turns = turns_at_top(draft, part)
    down = -draft.half_of(cant)[0] if part["top"] is not None and not turns and is_rigid(draft, part, "end") else 0.0
    made = {key: part[key] for key in MADE_KEYS}
    add_sides(draft, with_corners(draft, part, "end") if turns else part, name, along, made, ((0.0, 0.0, up), (0.0, 0.0, down)))


def draw_cant_rails(draft: BodyDraft, part: Record) -> None:
    """Draw the cant rails through the tops of all pillars."""
    tops = draft.tops
    if len(tops) < 2:
        draft.refuse(part, "fewer than two pillars reach them", "write 'top' for two pillars")
        return
    if any(first["top"] - second["top"] <= AT_A_STATION for first, second in pairwise(tops)):
        draft.refuse(part, "two pillars meet them at one place", "move one of the two tops")
        return
    refuse_corners(draft, part)
    turning = part if corner_of(draft) is None else with_corners(draft, part, "start", "end")
    add_sides(draft, turning, "cant rail", [f"{each['name']} top" for each in tops], {})


def draw_cowl(draft: BodyDraft, part: Record) -> None:
    """Draw the cowl between the waists of the first pillars."""
    first = next((each for each in draft.body["pillars"] if each["waist"] is not None), None)
    if first is None:
        draft.refuse(part, "no pillar has a waist for it to join", "write a pillar's 'waist'")
        return
    across = f"{first['name']} waist"
    reach = draft.half_of(first)[1]
    add_across(draft, part, "cowl", (f"left {across}", f"right {across}"), (reach, 0.0))


def draw_headers(draft: BodyDraft, part: Record) -> None:
    """Draw the headers between the cant rails' ends, their tops flush."""
    cant, tops = draft.body["cant rails"], draft.tops
    if cant is None or len(tops) < 2:
        draft.refuse(part, "there are no cant rails for them to join", "draw cant rails and two pillars that reach them")
        return
    height, width = draft.half_of(cant)
    drop = height - draft.half_of(part)[0]
    part = at_open_corners(draft, part)
    for name, pillar in (("front header", tops[0]), ("rear header", tops[-1])):
        across = f"{pillar['name']} top"
        add_across(draft, part, name, (f"left {across}", f"right {across}"), (width, drop))


def add_sides(
    draft: BodyDraft,
    part: Record,
    name: str,
    along: list[str] | tuple[str, ...],
    made: dict[str, object],
    arms: list[Place] | tuple[Place, Place] = ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)),
) -> None:
    """Add a part's left member and its mirror image; arms: of the left one's ends."""
    for side, sign in SIDES:
        ends = [draft.end_said(part, which) for which in ("start", "end")]
        moved = [(x, sign * y, z) for x, y, z in arms]
        if sign < 0:
            ends = [sides_swapped(each) for each in ends]
        start, end = (end_with(draft, part, made_so, arm) for made_so, arm in zip(ends, moved, strict=True))
        values = {
            "name": f"{side} {name}",
            "points": tuple(f"{side} {each}" for each in along),
            "section": part["section"],
            "open side": draft.open_side(part, sign),
            "start": start,
            "end": end,
            **made,
        }
        draft.add_member(MEMBER, part, values)


def add_across(draft: BodyDraft, part: Record, name: str, points: tuple[str, ...], faces: tuple[float, float]) -> None:
    """Add a member across the body; faces: how far within its points it begins where it is rigid, and how far above them it lies."""
    reach, height = faces
    ends = [draft.end_said(part, which) for which in ("start", "end")]
    inward = [reach if is_rigid(draft, part, which) else 0.0 for which in ("start", "end")]
    start = end_with(draft, part, ends[0], (0.0, -inward[0], height))
    end = end_with(draft, part, ends[1], (0.0, inward[1], height))
    values = {
        "name": name,
        "points": points,
        "section": part["section"],
        "open side": draft.open_side(part, 1),
        "start": start,
        "end": end,
    }
    draft.add_member(MEMBER, part, values)


def is_rigid(draft: BodyDraft, part: Record, which: str) -> bool:
    """Return whether an end is said to be rigid, so that it is told from the other member's face."""
    return draft.is_rigid(draft.end_said(part, which))
