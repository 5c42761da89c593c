"""Panels: a record to flat sheets, every way in which one cannot lie as it is drawn told by its line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain

import numpy as np

from framecheck.frame.panel.grid import SAME_SPOT
from framecheck.frame.panel.legs import ALONG, legs_of
from framecheck.frame.panel.site import Site, is_convex, shares_of, site_through, warp_of, within
from framecheck.frame.panel.touch import OnEdge, OnLine, PassingLeg, Touch, touches_of
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.model.panels import OUT_OF_PLANE, THICKEST, Panel, PanelCarries, PanelSeam, SeamKind, Swages
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.body_draft import Settled
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.panel_edges import (
    Drawn,
    doubt_near_misses,
    is_held,
    on_panels,
    refuse_bare_edges,
    refuse_edges_partly_on,
)
from framecheck.reading.diagnostics import length, listed
from framecheck.reading.form import Record


def with_panels(
    builder: FrameBuilder, frame: Frame, records: Sequence[Record], settled: Mapping[str, Settled] | None = None
) -> Frame:
    """Return the frame with its panels; faults are noted. settled: by name, what panels of a body find by themselves."""
    drawn = [found for record in records if (found := _drawn(builder, record)) is not None]
    whole = replace(frame, panels=tuple(panel for _, panel, _ in drawn))
    if builder.diagnostics.faults or not drawn:
        return whole
    legs = legs_of(whole)
    met = [tuple(touches_of(site, legs)) for _, _, site in drawn]
    if settled:
        sites = [site for _, _, site in drawn]
        _refuse_untouched(builder, whole, [(record, touches) for (record, _, _), touches in zip(drawn, met, strict=True)], settled)
        drawn = [_by_itself(whole, each, touches, settled, sites) for each, touches in zip(drawn, met, strict=True)]
        whole = replace(whole, panels=tuple(panel for _, panel, _ in drawn))
    for each, touches in zip(drawn, met, strict=True):
        _refuse_unsaid(builder, whole, each, touches)
        _refuse_slanting(builder, whole, each, touches)
        refuse_bare_edges(builder, each, touches, [other[2] for other in drawn if other is not each])
        refuse_edges_partly_on(builder, whole, each, touches, legs)
        doubt_near_misses(builder, whole, each, touches, legs)
    _refuse_held_points(builder, whole, list(chain.from_iterable(met)))
    _doubt_one_side(builder, whole, drawn)
    return whole


def _drawn(builder: FrameBuilder, record: Record) -> Drawn | None:
    """Return a panel where it can lie as it is drawn; its faults are noted."""
    names = tuple(builder.point(name) for name in record["corners"])
    if not all(name in builder.points for name in names):
        return None
    offset = (0.0, 0.0, 0.0) if record["offset"] is None else vector(record["offset"])
    corners = np.array([builder.points[name] for name in names]) + np.array(offset)
    panel = Panel(
        name=record["name"],
        corners=names,
        thickness=record["thickness"],
        material=builder.catalogue.material(record["material"]),
        offset=offset,
        carries=record["carries"],
        joined=tuple(record["joined to"]),
        loose=tuple(record["loose from"]),
        free_edges=tuple((builder.point(a), builder.point(b)) for a, b in record["free edges"]),
        cells=record["cells"],
        seam=_seam(builder, record["seam"]),
        swages=_swages(builder, record["swages"]),
        holes=record["holes"],
    )
    before = len(builder.diagnostics.faults)
    _refuse_shape(builder, record, panel, corners)
    return None if len(builder.diagnostics.faults) > before else (record, panel, site_through(corners))


def _seam(builder: FrameBuilder, record: Record | None) -> PanelSeam | None:
    """Return how a panel is joined; a size that its kind needs and does not have is noted."""
    if record is None:
        return None
    kind, pitch, diameter = record["kind"], record["pitch"] or 0.0, record["diameter"] or 0.0
    if kind is not SeamKind.CONTINUOUS and not pitch:
        builder.diagnostics.refuse(
            record.line, record.subject, f"{kind.value} without a 'pitch'", "write pitch: middle to middle"
        )
    if kind is SeamKind.PLUGS and not diameter:
        builder.diagnostics.refuse(record.line, record.subject, "plug welds without a 'diameter'", "write diameter: of the hole")
    return PanelSeam(kind, pitch, diameter)


def _swages(builder: FrameBuilder, record: Record | None) -> Swages | None:
    """Return a panel's swages; ones that overlap are noted."""
    if record is None:
        return None
    if record["width"] >= record["pitch"]:
        fault = f"swages {length(record['width'])} wide stand {length(record['pitch'])} apart"
        builder.diagnostics.refuse(record.line, record.subject, fault, "write a pitch above the width")
    return Swages(record["run"], record["pitch"], record["depth"], record["width"])


def _refuse_shape(builder: FrameBuilder, record: Record, panel: Panel, corners: Array) -> None:
    """Note a thickness that is no sheet's, corners that cross or lie out of plane, a panel of shear alone that is no parallelogram."""
    diagnostics, line, subject = builder.diagnostics, record.line_of("corners"), record.subject
    if panel.thickness > THICKEST:
        fault = f"{length(panel.thickness)} is a plate that bends, not sheet"
        diagnostics.refuse(
            record.line_of("thickness"),
            subject,
            fault,
            f"write sheet up to {length(THICKEST)}; draw what is thicker as members",
        )
    if not is_convex(site_through(corners).flat(corners)):
        fault = "its corners cross, turn back or lie in one line"
        diagnostics.refuse(
            line,
            subject,
            fault,
            "write them in order round the sheet; draw a shape with an inward corner as two panels",
        )
        return
    out = warp_of(corners)
    if out > OUT_OF_PLANE:
        fault = f"a corner lies {100 * out:.1f} % of its diagonal out of the plane of the others"
        diagnostics.refuse(line, subject, fault, f"up to {100 * OUT_OF_PLANE:.0f} % is taken as flat: draw two triangles")
    apart = float(np.linalg.norm(corners[0] + corners[2] - corners[1] - corners[-1])) if len(corners) == 4 else np.inf
    if panel.carries is PanelCarries.SHEAR and apart > OUT_OF_PLANE * float(np.linalg.norm(corners[2] - corners[0])):
        fault = "it carries shear alone and is no parallelogram"
        diagnostics.refuse(record.line_of("carries"), subject, fault, "leave out 'carries', or draw it as one")
    for edge in panel.free_edges:
        if edge not in panel.edges and edge[::-1] not in panel.edges:
            fault = f"'{edge[0]}' to '{edge[1]}' is no edge of it"
            diagnostics.refuse(record.line_of("free edges"), subject, fault, f"its corners are {listed(panel.corners)}")


def _by_itself(
    frame: Frame, drawn: Drawn, touches: Sequence[Touch], settled: Mapping[str, Settled], sites: Sequence[Site]
) -> Drawn:
    """Return a body's panel joined to those of its members that it meets, its edges free where nothing holds them."""
    record, panel, site = drawn
    of = settled.get(panel.name)
    if of is None:
        return drawn
    joined = (*panel.joined, *(name for name in _unsaid(frame, panel, site, touches) if name in of.joined or name in of.said))
    others = [each for each in sites if each is not site]
    bare = [edge for number, edge in enumerate(panel.edges) if not is_held(site, number, touches, others)]
    free = tuple(edge for edge in of.free if edge in bare or edge[::-1] in bare)
    return record, replace(panel, joined=joined, free_edges=free), site


def _refuse_untouched(
    builder: FrameBuilder, frame: Frame, met: Sequence[tuple[Record, Sequence[Touch]]], settled: Mapping[str, Settled]
) -> None:
    """Note members that a part of a body is said to be joined to and that none of its panels touches."""
    for subject in dict.fromkeys(record.subject for record, _ in met if record["name"] in settled):
        panels = [(record, touches) for record, touches in met if record.subject == subject]
        reached = {frame.members[each.leg.member].name for _, touches in panels for each in touches}
        first = panels[0][0]
        for name in settled[first["name"]].said:
            if name not in reached:
                fault = f"'{name}' is joined to it and does not touch it"
                remedy = "draw the member up to the sheet, or leave it out"
                builder.diagnostics.refuse(first.line_of("joined to"), subject, fault, remedy)


def _unsaid(frame: Frame, panel: Panel, site: Site, touches: Sequence[Touch]) -> list[str]:
    """Return members that meet a panel other than along an edge, of which it does not say whether they are joined to it."""
    edges = {frame.members[each.leg.member].name for each in touches if isinstance(each, OnEdge)}
    met = {frame.members[each.leg.member].name for each in touches}
    shared = {each.name for each in frame.members if set(each.points) & set(panel.corners) and not any(panel.offset)}
    elsewhere = {frame.members[each.leg.member].name for each in touches if not _is_at_corner(site, each)}
    return sorted((elsewhere | (met - shared)) - edges - set(panel.joined) - set(panel.loose))


def _refuse_unsaid(builder: FrameBuilder, frame: Frame, drawn: Drawn, touches: Sequence[Touch]) -> None:
    """Note members that meet a panel other than along an edge without it being said whether they are joined, and the reverse."""
    record, panel, site = drawn
    met = {frame.members[each.leg.member].name for each in touches}
    unsaid = _unsaid(frame, panel, site, touches)
    if unsaid:
        names = listed([f"'{name}'" for name in unsaid])
        fault = f"it meets {names}, and nothing says whether they are joined"
        builder.diagnostics.refuse(record.line, record.subject, fault, "write it under 'joined to' or 'loose from'")
    for name in (name for name in panel.joined if name not in met):
        fault = f"'{name}' is joined to it and does not touch it"
        builder.diagnostics.refuse(
            record.line_of("joined to"), record.subject, fault, "draw the sheet on the member's face, or leave it out"
        )


def _is_at_corner(site: Site, touch: Touch) -> bool:
    """Return whether a member passes through a panel at one of its corners: where that is a point of both, they are joined there."""
    return isinstance(touch, PassingLeg) and bool((np.linalg.norm(site.corners - touch.middle, axis=1) <= SAME_SPOT).any())


def _refuse_slanting(builder: FrameBuilder, frame: Frame, drawn: Drawn, touches: Sequence[Touch]) -> None:
    """Note members joined to a panel along a line that runs neither from edge to opposite edge nor beside one."""
    record, panel, site = drawn
    for touch in touches:
        name = frame.members[touch.leg.member].name
        if not isinstance(touch, OnLine) or name not in panel.joined or _runs_with_lines(site, touch):
            continue
        fault = f"'{name}' runs across it at a slant"
        builder.diagnostics.refuse(
            record.line, record.subject, fault, "draw it as two panels whose common edge lies on the member"
        )


def _runs_with_lines(site: Site, touch: OnLine) -> bool:
    """Return whether a line on a panel has the same share at both ends one way across each piece that it lies on."""
    for solid in site.pieces():
        flat = site.flat(solid)
        shares = shares_of(flat, site.flat(touch.ends))
        if not within(shares, np.full(2, 1e-6)).all():
            continue
        sizes = np.linalg.norm(solid[[1, 3]] - solid[0], axis=1)
        return bool((np.abs(np.diff(shares, axis=0)[0]) * sizes <= SAME_SPOT + ALONG / 10 * sizes.max()).any())
    return False


def _doubt_one_side(builder: FrameBuilder, frame: Frame, drawn: Sequence[Drawn]) -> None:
    """Note sheet beside the vehicle's middle that has none opposite it, in a frame whose members lie on both sides."""
    ys = [frame.points[name][1] for member in frame.members for name in member.points]
    if not min(ys, default=0.0) < -SAME_SPOT < SAME_SPOT < max(ys, default=0.0):
        return
    sites, alone = [site for _, _, site in drawn], list[Record]()
    for record, _, site in drawn:
        sides = np.sign(np.where(np.abs(site.corners[:, 1]) > SAME_SPOT, site.corners[:, 1], 0.0))
        opposite = site.corners.mean(axis=0)[None] * np.array([1.0, -1.0, 1.0])
        if abs(sides.sum()) == np.abs(sides).sum() > 0 and not on_panels(opposite, sites):
            alone.append(record)
    if alone:
        names = listed([f"'{each['name']}'" for each in alone])
        fault = f"nothing lies opposite {names} on the vehicle's other side: a body of one side twists as no body does"
        builder.diagnostics.doubt(alone[0].line, alone[0].subject, fault, "draw the other side too")


def _refuse_held_points(builder: FrameBuilder, frame: Frame, touches: Sequence[Touch]) -> None:
    """Note what is held at a point that no member meets: it moves with the member whose face it lies on, or with the sheet."""
    reached = {name for member in frame.members for name in member.points}
    held = {each.point for each in frame.supports} | {name for each in frame.springs for name in each.points}
    held |= {mount.point for body in frame.stiff_bodies for mount in body.mounts}
    for name in sorted({name for panel in frame.panels for name in panel.corners} & held - reached):
        where = np.array(frame.points[name])[None]
        on = next((frame.members[each.leg.member].name for each in touches if each.leg.holds(where).all()), None)
        if on is not None:
            fault = f"it is held or sprung, and lies on the face of '{on}', which no point of it meets"
            builder.diagnostics.refuse(builder.lines[name], name, fault, f"hold a point of '{on}' itself")


def corners_of(records: Iterable[Record]) -> Iterator[str]:
    """Yield the names of points that panels have as corners."""
    for record in records:
        yield from record["corners"]
