"""What a case asked to be read, as a table that people read: the screen and the page show a few numbers of each, JSON and CSV all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from framecheck.results.readings import ReadAt
from framecheck.results.tables import LOAD_CASE, STATION, Column, ResultTable, Value

READ = (
    Column("reading", "reading"), LOAD_CASE, Column("member", "member"), STATION, Column("upward_m", "moves up", "deflection"),
    Column("bending_nm", "bending, vertical", "moment"), Column("torsion_nm", "torsion", "moment"),
    Column("bimoment_nm2", "bimoment", "bimoment"), Column("normal_stress_pa", "normal stress", "stress"),
    Column("von_mises_pa", "von Mises stress", "stress"),
)  # fmt: skip
BOUND = Column("bound", "range")
UP, TORSION, BENDING, BIMOMENT = 2, 3, 4, 6
"""Places in the rows of movements (3,), member forces (6,) and section forces (9,)."""


def readings_table(found: tuple[ReadAt, ...], cases: tuple[str, ...]) -> ResultTable:
    """Return what is read at the places that a case names; the end of the range only where one was left open."""
    bounds = (BOUND,) if any(each.bound for each in found) else ()
    body = tuple(row if bounds else row[:-1] for row in rows_of(found, cases))
    return ResultTable("readings", "Readings at the places that the file names", (*READ, *bounds), body)


def rows_of(found: Iterable[ReadAt], cases: tuple[str, ...]) -> Iterator[tuple[Value, ...]]:
    """Yield a row a place, load case and end of the range; stress None where none is wanted or known."""
    for each in found:
        for number, name in enumerate(cases):
            stress = (None, None) if each.place is None else (float(each.normal[number]), float(each.von_mises[number]))
            member = each.member_forces[number]
            yield (
                each.reading.name, name, each.reading.member, each.reading.station, float(each.moved[number, UP]),
                float(member[BENDING]), float(member[TORSION]), float(each.forces[number, BIMOMENT]), *stress, each.bound,
            )  # fmt: skip
