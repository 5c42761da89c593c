"""Whether a frame and its loads are alike left and right, and how far an answer is from being so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.loads import Loads, reach_of
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame, Member, MemberEnd
from framecheck.model.loads import CaseLoads
from framecheck.model.panels import Panel

FLIP = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])  # of displacements and turns, forces and moments, mirrored left to right

MOST = 200  # members of the largest frame that is looked at

ALIKE = 1e-12
"""Loads that differ by less than this share of the largest are alike, for the same reason."""


def images_of(frame: Frame) -> IntArray | None:
    """Return each point's mirror image (n_point,) across the upright plane midway between the outermost, None where one has none."""
    places = np.array(list(frame.points.values()))
    middle = (places.min(axis=0) + places.max(axis=0)) / 2 * (0.0, 1.0, 0.0)
    points = np.round(places - middle, PLACE) + 0.0
    number = {tuple(place): row for row, place in enumerate(points.tolist())}
    image = [number.get((x, -y + 0.0, z), -1) for x, y, z in points.tolist()]
    return np.array(image, dtype=np.int64) if min(image) >= 0 else None


def is_alike(frame: Frame, image: IntArray, even: frozenset[str]) -> bool:
    """Return whether members and supports are alike left and right; even: sections that are so themselves."""
    names = list(frame.points)
    other = {name: names[row] for name, row in zip(names, image.tolist(), strict=True)}
    drawn = {_drawn(member, even) for member in frame.members}
    alike = all(drawn & set(_mirrored(member, other, even)) for member in frame.members)
    held = {(support.point, support.stiffness) for support in frame.supports}
    sheet = {_sheet(panel, panel.corners, 1.0) for panel in frame.panels}
    alike &= all(_sheet(panel, [other[name] for name in panel.corners], -1.0) in sheet for panel in frame.panels)
    return alike and all((other[point], stiffness) in held for point, stiffness in held)


def _sheet(panel: Panel, corners: Sequence[str], hand: float) -> _Drawn:
    """Return what of a panel must be alike left and right; hand -1: of its mirror image, with these corners."""
    x, y, z = panel.offset
    kind = panel.thickness, panel.holes, panel.material, panel.carries, panel.cells, len(panel.joined), len(panel.loose)
    return frozenset(corners), (x, hand * y + 0.0, z), *kind


def _end(end: MemberEnd) -> _Drawn:
    x, y, z = end.arm
    return end.make, end.warping, end.stiffness, end.warping_stiffness, (x, y + 0.0, z)


def _drawn(member: Member, even: frozenset[str], flip: bool = False) -> _Drawn:
    alike = all(stretch.section in even for stretch in member.stretches)
    lie = (member.orientation.quarter_turns % 4, not alike and member.orientation.mirrored != flip, member.roll + 0.0)
    return member.points, member.stretches, lie, _end(member.start), _end(member.end), member.cuts


def _mirrored(member: Member, other: dict[str, str], even: frozenset[str]) -> Iterator[_Drawn]:
    """Yield the ways to draw a member's mirror image; only sections that stand upright, without cuts or arms, are looked at."""
    turned = member.orientation.quarter_turns % 4 or member.roll
    if turned or member.cuts or member.start.has_arm or member.end.has_arm:
        return
    points = tuple(other[name] for name in member.points)
    flipped = _drawn(member, even, flip=True)
    yield (points, *flipped[1:])
    if len(member.stretches) == 1:
        backwards = _drawn(member, even)  # seen from its other end a section is mirrored once more
        yield (points[::-1], member.stretches, backwards[2], _end(member.end), _end(member.start), ())


def asymmetry(
    structure: Structure, cases: Sequence[CaseLoads], loads: Loads, unknowns: Array, largest: Array
) -> Iterator[tuple[str, float]]:
    """Yield, per case whose frame and loads are alike left and right, how far its movements are not, of the largest.

    largest: movement (k,) along any member, m. Turns count at the frame's size: where no point is displaced, they are what moves.
    """
    frame = structure.frame
    if structure.bound.apart is not None or len(frame.members) > MOST:
        return
    if frame.stiff_bodies or frame.springs or frame.splices or frame.body is not None:
        return
    if len(loads.begun.piece) or loads.moved or loads.strain is not None:
        return
    image = images_of(frame)
    if image is None:
        return
    points, names = len(image), list(frame.points)
    alike = [number for number, case in enumerate(cases) if _alike(case, loads.nodal[:points, number], image, names)]
    if not alike or not is_alike(frame, image, _even_sections(structure)):
        return
    moved = unknowns[: 6 * points].reshape(points, 6, -1)
    at_size = np.array([1.0, 1.0, 1.0, *3 * (reach_of(structure.pieces.places),)])
    for number in alike:
        own = moved[..., number] * at_size
        gap = np.abs(own[image] * FLIP - own).max()
        yield cases[number].name, float(gap / max(np.abs(own).max(), largest[number], np.finfo(float).tiny))


EVEN = 1e-9
"""A section off its middle by less than this share of its width is alike left and right: its mesh is, but for rounding."""


def _even_sections(structure: Structure) -> frozenset[str]:
    """Return the names of the sections that are alike left and right themselves."""
    return frozenset(
        name
        for (member, name), of in zip(structure.pieces.keys, structure.sections, strict=True)
        if not member
        and max(abs(of.centroid[0]), abs(of.shear_centre[0])) < EVEN * (of.box[1] - of.box[0])
        and abs(of.i_product) < EVEN * of.i_vertical
    )


def _alike(case: CaseLoads, nodal: Array, image: IntArray, names: list[str]) -> bool:
    """Return whether a case's loads, and the points it is measured from, are alike left and right."""
    motion = case.motion
    sideways = (motion.linear[1], motion.angular[0], motion.angular[2])
    pushes = np.abs(nodal[image] * FLIP - nodal).max(initial=0.0) <= ALIKE * np.abs(nodal).max(initial=0.0)
    mirrored = {names[image[names.index(name)]] for name in case.reference}
    measured = not case.free_free or (len(case.reference) >= 3 and mirrored == set(case.reference))
    return bool(pushes) and not any(sideways) and measured and case.supports is None


PLACE = 12
"""Decimals of a metre to which places are compared: what is off by a hair is not alike, and need not move alike."""


_Drawn = tuple[object, ...]
