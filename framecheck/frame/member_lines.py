"""The members' results as one table each, cut into members when they are asked for. SI."""

from __future__ import annotations

from collections.abc import Sequence
from typing import overload

from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, IntArray
from framecheck.section.properties import SectionProperties


class MemberLines(Sequence[MemberForces]):
    """Every member's forces and movements. Of a thousand members most are never looked at one by one, so none is cut out before.

    names: of members; cuts (n_member + 1,): where each one's stations begin; sections: all, and the number of that at each
    station; rows: stations, forces, member forces, displacements, places and axes of all members, as in MemberForces.
    """

    def __init__(
        self,
        names: Sequence[str],
        cuts: IntArray,
        sections: tuple[Sequence[SectionProperties], IntArray],
        rows: tuple[Array, ...],
    ) -> None:
        self._names, self._cuts, self._sections, self._rows = names, cuts.tolist(), sections, rows
        self._found: dict[int, MemberForces] = {}

    def __len__(self) -> int:
        return len(self._names)

    @overload
    def __getitem__(self, at: int) -> MemberForces: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[MemberForces, ...]: ...
    def __getitem__(self, at: int | slice) -> MemberForces | tuple[MemberForces, ...]:
        if isinstance(at, slice):
            return tuple(self[number] for number in range(*at.indices(len(self))))
        number = range(len(self))[at]
        if number not in self._found:
            self._found[number] = self._cut(number)
        return self._found[number]

    def _cut(self, number: int) -> MemberForces:
        """Return one member's part of the tables."""
        part = slice(self._cuts[number], self._cuts[number + 1])
        every, of = self._sections
        at, own, turned, moved, places, axes = (rows[part] for rows in self._rows)
        return MemberForces(
            self._names[number], at, tuple(every[key] for key in of[part].tolist()), own, turned, moved, places, axes
        )
