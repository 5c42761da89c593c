"""Members as exact prismatic lengths ("pieces") between points, changes of section and cuts; how soft a cut is. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.geometry import counted_from, point_stations
from framecheck.frame.joints import EndConnection
from framecheck.frame.number_cache import NumberStore, kept_numbers
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.frame import Cut, Frame, Member, sections_at
from framecheck.model.shapes import Channel, RectTube
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from framecheck.frame.notch_softness import NotchSoftness


SAME = 1e-9  # m; stations nearer than this are one
SLIVER = 1e-4
"""m; sheet that hangs on a member nearer than this to a point or a change of section hangs there: see SAME_SPOT of the panels."""
NO_SHEET: Mapping[int, Sequence[float]] = MappingProxyType({})

Key = tuple[str, str]
"""A section as the pieces know it: ("", section name) or (member name, cut name)."""


@array_class
class Pieces:
    """n prismatic lengths, in the order of members and along them.

    member, section (n,): places in frame.members and in `keys`. nodes (n, 2). arms (n, 2, 3): from node to piece's end, m.
    base (n,), origin (n, 3): station and place of the frame point that the piece's leg starts at.
    places (n_node, 3): frame points, then places inside members, then stiff bodies. first, last (n_member,): pieces.
    angle (n,), mirrored (n,): how the section lies in the member.
    """

    keys: tuple[Key, ...]
    member: IntArray
    section: IntArray
    nodes: IntArray
    arms: Array
    base: Array
    origin: Array
    places: Array
    first: IntArray
    last: IntArray
    angle: Array
    mirrored: BoolArray

    @property
    def count(self) -> int:
        """Return the number of pieces."""
        return len(self.member)

    def at(self, member: int, leg: int, end: int) -> int:
        """Return the piece at the first (0) or second (1) point of one of a member's legs, by its number."""
        first, last = int(self.first[member]), int(self.last[member])
        legs = np.cumsum(np.concatenate(([0], np.diff(self.origin[first : last + 1], axis=0).any(axis=1))))
        inside = np.flatnonzero(legs == leg)
        return first + int(inside[-end])


class _Rows:
    """Pieces as they are found."""

    def __init__(self, frame: Frame, hangs: Sequence[EndConnection], sheet: Mapping[int, Sequence[float]]) -> None:
        self.frame, self.sheet = frame, sheet
        self.number = {name: place for place, name in enumerate(frame.points)}
        self.arms = {(hang.member, hang.end): hang.arm for hang in hangs if hang.arm.any()}
        self.keys: dict[Key, int] = {}
        self.inner: list[Array] = []
        self.rows: list[tuple[int, int, int, int, float, int]] = []  # member, key, node, node, base, origin's point

    def add_all(self) -> None:
        """Add all members' pieces; those of one piece all at once."""
        number, names = self.number, {stretch.section for member in self.frame.members for stretch in member.stretches}
        keys = {name: self._key(("", name)) for name in sorted(names)}
        for place, member in enumerate(self.frame.members):
            if len(member.points) == 2 and len(member.stretches) == 1 and not member.cuts and place not in self.sheet:
                first = number[member.points[0]]
                row = (place, keys[member.stretches[0].section], first, number[member.points[1]], 0.0, first)
                self.rows.append(row)
            else:
                self._add(place, member)

    def _add(self, place: int, member: Member) -> None:
        """Add a member's pieces."""
        stations = point_stations(self.frame, member)
        marks = section_marks(member, stations[-1])
        for station in self.sheet.get(place, ()):
            marks = _parted(marks, station)
        for leg, ends in enumerate(pairwise(stations)):
            self._add_leg(place, member, leg, ends, marks)

    def _key(self, key: Key) -> int:
        return self.keys.setdefault(key, len(self.keys))

    def _add_leg(
        self, place: int, member: Member, leg: int, ends: tuple[float, float], marks: list[tuple[float, float, Key]]
    ) -> None:
        """Add the pieces between two points of a member."""
        first, second = (self.number[name] for name in member.points[leg : leg + 2])
        line = self._line(place, member, leg)
        node = first
        inside = [mark for mark in marks if mark[0] < ends[1] - SAME and mark[1] > ends[0] + SAME]
        moved = leg == 0 and len(member.points) > 2 and (place, 0) in self.arms
        zero = counted_from(line, ends[1]) if moved else ends[0]
        inside = self._beyond_arms(line, inside, zero)
        for _, until, key in inside:
            reached = second if until >= ends[1] - SAME else self._inner(line, until - zero)
            self.rows.append((place, self._key(key), node, reached, zero, first))
            node = reached

    def _line(self, place: int, member: Member, leg: int) -> tuple[Array, Array, Array]:
        """Return where a leg's line really runs, start and end, arms included, and its first point's place."""
        start, stop = (np.array(self.frame.points[name]) for name in member.points[leg : leg + 2])
        moved = start + self.arms.get((place, 0), 0.0) if leg == 0 else start
        end = stop + self.arms.get((place, 1), 0.0) if leg == len(member.points) - 2 else stop
        return moved, end, start

    def _beyond_arms(
        self, line: tuple[Array, Array, Array], inside: list[tuple[float, float, Key]], first: float
    ) -> list[tuple[float, float, Key]]:
        """Return a leg's marks without those of sheet that lie nearer to its ends than SLIVER, or within the arms there."""
        if not self.sheet:
            return inside
        (start, end, point), way = line, (line[1] - line[0]) / np.linalg.norm(line[1] - line[0])
        low, high = first + float((start - point) @ way) + SLIVER, first + float((end - point) @ way) - SLIVER
        kept: list[tuple[float, float, Key]] = []
        for begin, until, key in inside:
            if kept and kept[-1][2] == key and not low <= begin <= high:
                kept[-1] = (kept[-1][0], until, key)
            else:
                kept.append((begin, until, key))
        return kept

    def _inner(self, line: tuple[Array, Array, Array], along: float) -> int:
        """Return a new node on a leg's line at a distance along it from the leg's first point."""
        start, end, point = line
        way = (end - start) / np.linalg.norm(end - start)
        self.inner.append(start + way * (along - float((start - point) @ way)))
        return len(self.number) + len(self.inner) - 1


def _parted(marks: list[tuple[float, float, Key]], station: float) -> list[tuple[float, float, Key]]:
    """Return the marks with the one that a station lies in parted there, unless it is at an end of it already."""
    found: list[tuple[float, float, Key]] = []
    for start, until, key in marks:
        inside = start + SLIVER < station < until - SLIVER
        found += [(start, station, key), (station, until, key)] if inside else [(start, until, key)]
    return found


def section_marks(member: Member, length: float) -> list[tuple[float, float, Key]]:
    """Return (from, until, section key) along a member, in order: its stretches, with the cuts taken out of them."""
    marks: list[tuple[float, float, Key]] = []
    start = 0.0
    for stretch in member.stretches:
        until = min(stretch.until, length)
        if until > start + SAME:
            marks.append((start, until, ("", stretch.section)))
            start = until
    if start < length - SAME:
        marks.append((start, length, ("", member.stretches[-1].section)))
    for cut in sorted(member.cuts, key=lambda each: each.at):
        marks = _with_cut(marks, member, cut, length)
    return marks


def _with_cut(
    marks: list[tuple[float, float, Key]], member: Member, cut: Cut, length: float
) -> list[tuple[float, float, Key]]:
    """Return the marks with a cut's own length between them; cuts may meet but not overlap."""
    low, high = max(cut.at - cut.length / 2, 0.0), min(cut.at + cut.length / 2, length)
    if high <= low + SAME:
        return marks
    if any(key[0] and start < high - SAME and end > low + SAME for start, end, key in marks):
        raise UnsolvableError(f"member '{member.name}': cut '{cut.name}' overlaps another cut; give them as one")
    before = [(start, min(end, low), key) for start, end, key in marks if start < low - SAME]
    after = [(max(start, high), end, key) for start, end, key in marks if end > high + SAME]
    return [*before, (low, high, (member.name, cut.name)), *after]


def pieces_of(frame: Frame, hangs: Sequence[EndConnection], sheet: Mapping[int, Sequence[float]] = NO_SHEET) -> Pieces:
    """Return the frame's pieces; sheet: by member, the stations at which sheet hangs on it."""
    rows = _Rows(frame, hangs, sheet)
    rows.add_all()
    table = np.array(rows.rows, dtype=np.float64).reshape(-1, 6)
    points = np.array(list(frame.points.values()), dtype=np.float64).reshape(-1, 3)
    bodies = np.array([body.at for body in frame.stiff_bodies], dtype=np.float64).reshape(-1, 3)
    inner = np.array(rows.inner, dtype=np.float64).reshape(-1, 3)
    numbers = table[:, [0, 1, 2, 3, 5]].astype(np.int64)
    of = numbers[:, 0]
    starts = np.searchsorted(of, np.arange(len(frame.members) + 1))
    arms = np.zeros((len(of), 2, 3))
    for (place, end), arm in rows.arms.items():
        arms[starts[place] if end == 0 else starts[place + 1] - 1, end] = arm
    turned = [m.orientation.quarter_turns * np.pi / 2 + m.roll for m in frame.members]
    mirrored = [m.orientation.mirrored for m in frame.members]
    return Pieces(
        keys=tuple(rows.keys),
        member=of,
        section=numbers[:, 1],
        nodes=numbers[:, 2:4],
        arms=arms,
        base=table[:, 4],
        origin=points[numbers[:, 4]],
        places=np.concatenate((points, inner, bodies)),
        first=starts[:-1],
        last=starts[1:] - 1,
        angle=np.array(turned, dtype=np.float64)[of],
        mirrored=np.array(mirrored, dtype=np.bool_)[of],
    )


NUMBERS = 1 + 1 + 2 + 2 + 3 + 2 + 9 + 9


def softened_sections(
    frame: Frame, keys: Sequence[Key], net: Sequence[SectionProperties], store: NumberStore | None
) -> Mapping[Key, tuple[SectionProperties, NotchSoftness]]:
    """Return the softened section and the softness of each cut; shapes without a notch model keep their net section."""
    if not any(key[0] for key in keys):
        return {}
    from framecheck.frame.notch_softness import softened

    members = {member.name: member for member in frame.members}
    found = {}
    for key, section in zip(keys, net, strict=True):
        if not key[0]:
            continue
        member = members[key[0]]
        cut = next(each for each in member.cuts if each.name == key[1])
        softness = _softness(frame, member, cut, store)
        if softness is not None:
            found[key] = softened(section, softness, cut.length), softness
    return found


def room_for(frame: Frame, member: Member, cut: Cut) -> float:
    """Return the distance from a cut's middle to the member's nearer end or the next cut, m."""
    length = point_stations(frame, member)[-1]
    edges = [each.at + side * each.length / 2 for each in member.cuts if each.name != cut.name for side in (-1, 1)]
    return min(abs(cut.at - edge) for edge in (0.0, length, *edges))


def _softness(frame: Frame, member: Member, cut: Cut, store: NumberStore | None) -> NotchSoftness | None:
    """Return a cut's softness, kept or from its shell model."""
    from framecheck.frame.notch_softness import notch_softness

    section = frame.sections[sections_at(member, cut.at)[0]]
    shape, material = section.shape, section.material
    if not isinstance(shape, RectTube | Channel):
        return None
    room = room_for(frame, member, cut)
    e, nu = material.youngs_modulus, material.poissons_ratio
    what = ("notch", shape, cut.side, cut.depth, cut.length, e, nu, room)
    return _unpacked(kept_numbers(what, NUMBERS, store, lambda: _packed(notch_softness(shape, cut, e, nu, room))))


def _packed(found: NotchSoftness) -> list[float]:
    """Return a softness as a row of numbers."""
    tables = [number for row in (*found.bending, *found.step_bending) for number in row]
    return [
        found.extra_length,
        found.warping_stiffness,
        *found.shear,
        *found.pole_shift,
        *found.step,
        found.torsion_share,
        found.warping_share,
        *tables,
    ]


def _unpacked(numbers: Sequence[float]) -> NotchSoftness:
    """Return a softness from its row of numbers."""
    from framecheck.frame.notch_softness import NotchSoftness

    n = list(numbers)
    bending, stepped = (tuple((n[k], n[k + 1], n[k + 2]) for k in range(first, first + 9, 3)) for first in (11, 20))
    return NotchSoftness(
        extra_length=n[0],
        warping_stiffness=n[1],
        bending=(bending[0], bending[1], bending[2]),
        shear=(n[2], n[3]),
        pole_shift=(n[4], n[5]),
        step=(n[6], n[7], n[8]),
        step_bending=(stepped[0], stepped[1], stepped[2]),
        torsion_share=n[9],
        warping_share=n[10],
    )
