"""The sheet of a unit body: floor, tunnel, walls and roof as panels on its members' faces."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from framecheck.frame.panel.legs import NEAR
from framecheck.reading.blocks.panels import PANEL
from framecheck.reading.build.body_draft import SIDES, BodyDraft, Settled, filled
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record

Edges = tuple[tuple[str, str], ...]


def draw_floor(draft: BodyDraft, part: Record) -> None:
    """Draw the floor from the tunnel to its outer edges."""
    first, last = draft.ends_of(part)
    outer = floor_edge(draft, part)
    if first is None or last is None or outer is None:
        return
    along = draft.span(part, first, last)
    if len(along) < 2:
        draft.refuse(part, "it has no length", "choose a station further along")
        return
    refuse_missed_rails(draft, part)
    tunnel, z = draft.body["tunnel"], part["z"]
    if outer <= (0.0 if tunnel is None else tunnel["width"] / 2):
        draft.refuse(part, "has no width beside the tunnel, or between the rockers", "check the tunnel's width and the rockers' y")
        return
    ends = (along[0], along[-1])
    for station in ends:
        draft.add_mirrored(f"floor {station} outer", (draft.x_of(station), outer, z), part)
        if tunnel is not None:
            draft.add_mirrored(f"floor {station} inner", (draft.x_of(station), tunnel["width"] / 2, z), part)
    if tunnel is None:
        (a, b), (c, d) = (tuple(f"{side} floor {station} outer" for side, _ in SIDES) for station in ends)
        add_panel(draft, part, "floor", (a, b, d, c), ((a, b), (d, c), (b, d), (c, a)))
        return
    front, rear = ends
    for side, _ in SIDES:
        corners = tuple(
            f"{side} floor {at} {edge}"
            for at, edge in ((front, "inner"), (front, "outer"), (rear, "outer"), (rear, "inner"))
        )
        add_panel(draft, part, f"{side} floor", corners, tuple(pairwise(corners)))


def refuse_missed_rails(draft: BodyDraft, part: Record) -> None:
    """Note rails that pass above or below the floor without touching it: nothing would join the two."""
    for name, (rail, along) in draft.rails.items():
        if name == "stiffener" or f"left {name}" in part["loose from"]:
            continue
        high = draft.half_of(rail)[0]
        if not high:  # its section is not known: that is told elsewhere
            continue
        for station in (each for each in along if draft.is_under_floor(each)):
            z = draft.rail_at(station, rail)[2]
            if abs(part["z"] - z) > high + NEAR:
                fault = f"misses the {name}s at '{station}': the floor lies at {length(part['z'])}, they reach from"
                fault += f" {length(z - high)} to {length(z + high)}"
                draft.refuse(part, fault, "move one of the two, or write the rails under 'loose from'")
                break


def floor_edge(draft: BodyDraft, part: Record) -> float | None:
    """Return how far out the floor reaches, m; None, with the fault noted, where nothing says it."""
    if part["y"] is not None:
        return float(part["y"])
    rockers = draft.body["rockers"]
    if rockers is None:
        draft.refuse(part, "nothing says how wide it is", "write 'y' of its left edge, or draw rockers")
        return None
    return float(rockers["y"] - draft.half_of(rockers)[1])


def draw_tunnel(draft: BodyDraft, part: Record) -> None:
    """Draw the tunnel's walls and top over the floor's inner edges."""
    floor = draft.body["floor"]
    if floor is None or not any(name.startswith("left floor ") for name in draft.points):
        draft.refuse(part, "there is no floor for it to stand on", "draw the floor")
        return
    front, rear = ends_drawn(draft, floor)
    for station in (front, rear):
        draft.add_mirrored(
            f"tunnel {station}", (draft.x_of(station), part["width"] / 2, floor["z"] + part["height"]), part
        )
    for side, _ in SIDES:
        feet = (f"{side} floor {front} inner", f"{side} floor {rear} inner")
        tops = (f"{side} tunnel {rear}", f"{side} tunnel {front}")
        add_panel(draft, part, f"{side} tunnel wall", (*feet, *tops), ((feet[1], tops[0]), (tops[1], feet[0])))
    corners = (f"left tunnel {front}", f"left tunnel {rear}", f"right tunnel {rear}", f"right tunnel {front}")
    add_panel(draft, part, "tunnel top", corners, ((corners[1], corners[2]), (corners[3], corners[0])))


def ends_drawn(draft: BodyDraft, floor: Record) -> tuple[str, str]:
    """Return the floor's first and last station."""
    first, last = draft.ends_of(floor)
    assert first is not None
    assert last is not None
    return first, last


def draw_wall(draft: BodyDraft, part: Record) -> None:
    """Draw the firewall or the rear bulkhead: between the rockers, and over each rocker's end."""
    wall = "firewall" if part is draft.body["firewall"] else "rear bulkhead"
    x, rockers, floor = draft.x_of(part["station"]), draft.body["rockers"], draft.body["floor"]
    if x is None:
        draft.refuse_station(part, "station")
        return
    if rockers is None and floor is None:
        draft.refuse(part, "nothing says how wide it is", "draw rockers, or a floor")
        return
    inner = rockers["y"] - draft.half_of(rockers)[1] if rockers is not None else floor_edge(draft, floor)
    foot = foot_of(draft, part) if part["foot"] is None else part["foot"]
    if inner is None:
        return
    if not part["top"] > foot:
        draft.refuse(part, "its top is not above its foot", "check 'top' and 'foot'")
        return
    draft.add_mirrored(f"{wall} foot", (x, inner, foot), part)
    draft.add_mirrored(f"{wall} top", (x, inner, part["top"]), part)
    corners = (f"left {wall} foot", f"right {wall} foot", f"right {wall} top", f"left {wall} top")
    add_panel(draft, part, wall, corners, (*pairwise(corners), (corners[3], corners[0])))
    if rockers is not None:
        draw_wall_sides(draft, part, wall, rockers)


def draw_wall_sides(draft: BodyDraft, part: Record, wall: str, rockers: Record) -> None:
    """Draw what of a wall stands over the rockers' ends."""
    x, (high, wide) = draft.x_of(part["station"]), draft.half_of(rockers)
    low, inner, outer = rockers["z"] - high, rockers["y"] - wide, rockers["y"] + wide
    draft.add_mirrored(f"{wall} rocker foot", (x, inner, low), part)
    draft.add_mirrored(f"{wall} side foot", (x, outer, low), part)
    draft.add_mirrored(f"{wall} side top", (x, outer, part["top"]), part)
    for side, _ in SIDES:
        corners = tuple(f"{side} {wall} {at}" for at in ("rocker foot", "side foot", "side top", "top"))
        add_panel(draft, part, f"{side} {wall}", corners, tuple(pairwise(corners)))


def foot_of(draft: BodyDraft, part: Record) -> float:
    """Return how low a wall reaches, m: to the bottom of the rails there, else of the rockers, else to the floor."""
    rail = draft.rail_through(part["station"])
    rockers, floor = draft.body["rockers"], draft.body["floor"]
    if rail is not None:
        return draft.rail_at(part["station"], rail)[2] - draft.half_of(rail)[0]
    return float(rockers["z"] - draft.half_of(rockers)[0] if rockers is not None else floor["z"])


def draw_roof(draft: BodyDraft, part: Record) -> None:
    """Draw the roof on the cant rails, from the first pillars' tops to the last ones'."""
    cant, tops = draft.body["cant rails"], draft.tops
    if cant is None or len(tops) < 2:
        draft.refuse(part, "there are no cant rails for it to lie on", "draw cant rails and two pillars that reach them")
        return
    high, wide = draft.half_of(cant)
    for name, pillar in (("front", tops[0]), ("rear", tops[-1])):
        draft.add_mirrored(f"roof {name}", (pillar["top"], cant["y"] - wide, cant["z"] + high), part)
    corners = ("left roof front", "right roof front", "right roof rear", "left roof rear")
    add_panel(draft, part, "roof", corners, ((corners[0], corners[1]), (corners[2], corners[3])))


def add_panel(draft: BodyDraft, part: Record, name: str, corners: tuple[str, ...], may_be_free: Edges) -> None:
    """Add a panel of a part, joined to what it meets of the body's own members."""
    body, sheet = draft.body, draft.body["sheet"]
    values = {key: part[key] for key in ("seam", "swages", "cells", "holes")}
    for key in ("thickness", "material"):
        values[key] = part[key] if part[key] is not None or sheet is None else sheet[key]
        if values[key] is None:
            draft.refuse(part, f"'{key}' is missing", f"write {key}, or 'sheet' of the body")
    if values["seam"] is None and sheet is not None:
        values["seam"] = sheet["seam"]
    if values["thickness"] is None or values["material"] is None:
        return
    loose = tuple(dict.fromkeys((*part["loose from"], *loose_stiffeners(body))))
    draft.panels.append(filled(PANEL, part, {**values, "name": name, "corners": corners, "loose from": loose}))
    own = frozenset(each["name"] for each in draft.members).difference(loose)
    draft.settled[name] = Settled(own, tuple(part["joined to"]), may_be_free)


def loose_stiffeners(body: Record) -> Iterator[str]:
    """Yield the stiffeners that are not joined to the floor along their length."""
    if body["stiffeners"] is not None and not body["stiffeners"]["joined to the floor"]:
        yield from ("left stiffener", "right stiffener")
