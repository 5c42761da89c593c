"""Edges of panels: what each lies on, and faults of those that lie on nothing or that leave the member they lie on."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.panel.grid import SAME_SPOT
from framecheck.frame.panel.legs import NEAR, Leg
from framecheck.frame.panel.site import Site, shares_of, within
from framecheck.frame.panel.touch import OnEdge, PassingLeg, Touch, beside
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.model.panels import Panel
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.diagnostics import length
from framecheck.reading.form import Record

Drawn = tuple[Record, Panel, Site]
LOOKED_AT = np.linspace(0.05, 0.95, 19)[:, None]
"""Shares along an edge at which it is looked for what holds it."""
NARROW = 3e-3
"""m: nearer than this, and not on one another, two places of sheet hardly lie apart by intent (common practice, no source)."""


def refuse_edges_partly_on(builder: FrameBuilder, frame: Frame, drawn: Drawn, touches: Sequence[Touch], legs: Sequence[Leg]) -> None:
    """Note edges that lie on a member and leave it by a hair: they would be joined to it as far as they do."""
    record, panel, site = drawn
    on = {(each.edge, each.leg.member) for each in touches if isinstance(each, OnEdge)}
    off = dict[tuple[int, int], float]()
    for leg in legs:
        for edge, ends in beside(site, leg):
            if (edge, leg.member) in on:
                off[edge, leg.member] = max(float(leg.off(ends).max()), off.get((edge, leg.member), 0.0))
    for (edge, member), most in off.items():
        name, (first, second) = frame.members[member].name, panel.edges[edge]
        if most > NEAR and name not in panel.loose:
            fault = f"its edge from '{first}' to '{second}' lies on '{name}' and leaves it by {length(most)}"
            remedy = f"draw it on it all along, up to {length(NEAR)} off, or write '{name}' under 'loose from'"
            builder.diagnostics.refuse(record.line_of("corners"), record.subject, fault, remedy)


def doubt_near_misses(builder: FrameBuilder, frame: Frame, drawn: Drawn, touches: Sequence[Touch], legs: Sequence[Leg]) -> None:
    """Note sheet that all but lies on a member, and strips of it all but nothing wide: a hair of a place is the whole of them."""
    record, panel, site = drawn
    met = {each.leg.member for each in touches}
    near = {(leg.member, edge): float(leg.off(ends).min()) for leg in legs for edge, ends in beside(site, leg)}
    for (number, edge), off in near.items():
        name, (first, second) = frame.members[number].name, panel.edges[edge]
        if number not in met and NEAR < off < NARROW and name not in panel.loose:
            fault = f"its edge from '{first}' to '{second}' runs {length(off)} off '{name}' and is not joined to it"
            remedy = f"draw it on the member (up to {length(NEAR)} off), or write '{name}' under 'loose from'"
            builder.diagnostics.doubt(record.line_of("corners"), record.subject, fault, remedy)
    held = [each for each in touches if isinstance(each, OnEdge)]
    for passing in (each for each in touches if isinstance(each, PassingLeg)):
        for on in held:
            wide = float(_inward(site, on.edge, passing.corners).min())
            name, other = (frame.members[each.leg.member].name for each in (passing, on))
            if SAME_SPOT < wide < NARROW and name in panel.joined and other not in panel.loose:
                fault = f"between '{name}', which passes it, and its edge on '{other}' a strip of {length(wide)} is left"
                remedy = f"draw them touching, or {length(NARROW)} apart: what so narrow a strip bears hangs on a hair"
                builder.diagnostics.doubt(record.line, record.subject, fault, remedy)


def _inward(site: Site, edge: int, places: Array) -> Array:
    """Return how far within an edge places (n, 3) lie, m."""
    corners = site.flat(site.corners)
    first, span = corners[edge], corners[(edge + 1) % len(corners)] - corners[edge]
    normal = np.array([-span[1], span[0]]) / float(np.linalg.norm(span))
    found: Array = (site.flat(places) - first) @ (normal * np.sign((corners.mean(axis=0) - first) @ normal))
    return found


def refuse_bare_edges(builder: FrameBuilder, drawn: Drawn, touches: Sequence[Touch], others: Sequence[Site]) -> None:
    """Note edges that lie on no member and on no other panel, and are not said to be free."""
    record, panel, site = drawn
    for number, edge in enumerate(panel.edges):
        if edge in panel.free_edges or edge[::-1] in panel.free_edges:
            continue
        if not is_held(site, number, touches, others):
            fault = f"its edge from '{edge[0]}' to '{edge[1]}' lies on no member and on no other panel"
            remedy = "move it onto a member's face, or write it under 'free edges' where nothing holds it"
            builder.diagnostics.refuse(record.line_of("corners"), record.subject, fault, remedy)


def is_held(site: Site, number: int, touches: Sequence[Touch], others: Sequence[Site]) -> bool:
    """Return whether an edge lies on a member or on another panel somewhere."""
    first, second = site.corners[number], site.corners[(number + 1) % len(site.corners)]
    places = first + LOOKED_AT * (second - first)
    legs = [each.leg for each in touches if isinstance(each, OnEdge) and each.edge == number]
    return any(leg.holds(places).any() for leg in legs) or on_panels(places, others)


def on_panels(places: Array, others: Sequence[Site]) -> bool:
    """Return whether any of some places (n, 3) lies on one of other panels."""
    low, high = places.min(axis=0) - SAME_SPOT, places.max(axis=0) + SAME_SPOT
    for site in others:
        if (site.corners.max(axis=0) < low).any() or (site.corners.min(axis=0) > high).any():
            continue
        near = np.abs((places - site.middle) @ site.axes[2]) <= SAME_SPOT
        if not near.any():
            continue
        for solid in site.pieces():
            if (near & within(shares_of(site.flat(solid), site.flat(places)), np.full(2, 1e-6))).any():
                return True
    return False
