"""What is read at the places that a case names, in every load case and bound, and its table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, IntArray
from framecheck.model.case import Reading
from framecheck.model.shapes import Side
from framecheck.results.summary import told_solutions
from framecheck.results.tables import LOAD_CASE, STATION, Column, ResultTable, Value
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.stress import SolvedCase
from framecheck.surface_stress import SHEARING, STRETCHING
from framecheck.value_class import array_class
from framecheck.yield_criterion import equivalent_on_surface

SAME = 1e-6
"""m; a station as near as this is the place itself."""
NO_METAL = 0.25
"""Share of a side: surface points further apart than that leave a gap between them."""

BESIDE = 0.01
"""Share of a side: a place as near as this to its outermost surface point is still on it (a round outline is a polygon)."""
COVER = 2.0
"""Points of a wall's outside stand no farther apart, along it, than twice this times its thickness: the mesh is finer."""


@array_class
class ReadAt:
    """What is read at one place under one bound; arrays by load case. beyond: of two where a force or the section jumps, the second.

    forces (n_case, 9), member_forces (n_case, 6), moved (n_case, 3) as in MemberForces; place: (y, z) on the section from its
    centroid, m, None: no stress is wanted or known; normal (n_case,), shear (n_case, 2), Pa.
    """

    reading: Reading
    bound: str
    section: str
    beyond: bool
    forces: Array
    member_forces: Array
    moved: Array
    place: tuple[float, float] | None
    normal: Array
    shear: Array

    @property
    def von_mises(self) -> Array:
        """Return the equivalent stress, (n_case,), Pa."""
        return equivalent_on_surface(self.normal, self.shear[:, 0], self.shear[:, 1])


def read_at(outcome: SolvedCase) -> Iterator[ReadAt]:
    """Yield what is read, place by place, bound by bound. InputError: a place has no metal."""
    numbers = {member.name: number for number, member in enumerate(outcome.case.frame.members)}
    for reading in outcome.case.readings:
        for solution in told_solutions(outcome, None):
            line = solution.members[numbers[reading.member]]
            rows = rows_at(line, reading.station)
            for count, row in enumerate(rows.tolist()):
                yield one(reading, solution.bound.name, line, row, beyond=count > 0)


def rows_at(line: MemberForces, station: float) -> IntArray:
    """Return the rows of a member at a station: one, or the first and the last where something jumps there."""
    near = np.abs(line.stations - station)
    rows = np.flatnonzero(near <= near.min() + SAME)
    first, last = int(rows[0]), int(rows[-1])
    same = line.sections[first] is line.sections[last] and np.allclose(line.forces[first], line.forces[last], rtol=1e-9, atol=1e-9)
    return np.array([first] if same else [first, last], dtype=np.int64)


def one(reading: Reading, bound: str, line: MemberForces, row: int, *, beyond: bool) -> ReadAt:
    """Return what is read at one row of a member."""
    section, forces = line.sections[row], line.forces[row]
    place, normal, shear = None, np.zeros(len(forces)), np.zeros((len(forces), 2))
    if reading.side is not None:
        if section.fields is None:
            raise InputError([no_fields(reading, section.name)])
        place, unit_normal, unit_shear = stress_at(section, section.fields, reading)
        normal = forces[:, STRETCHING] @ unit_normal
        shear = forces[:, SHEARING] @ unit_shear.T
    return ReadAt(
        reading, bound, section.name, beyond, forces, line.member_forces[row], line.displacements[row], place, normal, shear
    )


def stress_at(section: SectionProperties, fields: UnitFields, reading: Reading) -> tuple[tuple[float, float], Array, Array]:
    """Return a place on a side, and the stress there per unit force, normal (4,) and shear (2, 4): straight between its neighbours."""
    y_min, y_max, z_min, z_max = section.box
    level = reading.side in (Side.TOP, Side.BOTTOM)
    along, size = (0, y_max - y_min) if level else (1, z_max - z_min)
    middle = (y_min + y_max) / 2 if level else (z_min + z_max) / 2
    edge = {Side.TOP: z_max, Side.BOTTOM: z_min, Side.LEFT: y_max, Side.RIGHT: y_min}[reading.side or Side.TOP]
    order = facing(fields.points, 1 - along, edge, (y_min + y_max, z_min + z_max)[1 - along] / 2)
    places, wanted = fields.points[order, along], middle + reading.offset
    if not len(order) or not places[0] - BESIDE * size <= wanted <= places[-1] + BESIDE * size:
        raise InputError([no_metal(reading)])
    after = int(np.clip(np.searchsorted(places, wanted), 1, max(len(places) - 1, 1)))
    if len(places) < 2 or places[after] - places[after - 1] > NO_METAL * size:
        raise InputError([no_metal(reading)])
    step = places[after] - places[after - 1]
    share = float(np.clip((wanted - places[after - 1]) / step if step else 0.0, 0.0, 1.0))
    pair, weights = order[[after - 1, after]], np.array([1 - share, share])
    spot = weights @ fields.points[pair]
    return (float(spot[0]), float(spot[1])), weights @ fields.normal[pair], np.einsum("k,kij->ij", weights, fields.shear[pair])


def facing(points: Array, out: int, edge: float, middle: float) -> IntArray:
    """Return the surface points that are seen from the side at `edge`, in order along it; out: the axis that looks out of it.

    Of the half beyond `middle`; a point is hidden where others stand farther out on both sides of it: the inside of a wall.
    """
    way = 1.0 if edge > middle else -1.0
    half = np.flatnonzero(way * (points[:, out] - middle) >= 0.0)
    rise = way * (points[half, out][None, :] - points[half, out][:, None])
    shift = points[half, 1 - out][None, :] - points[half, 1 - out][:, None]
    over = (rise > SAME) & (np.abs(shift) <= COVER * rise + SAME)
    hidden = np.any(over & (shift <= SAME), axis=1) & np.any(over & (shift >= -SAME), axis=1)
    seen = half[~hidden]
    return np.asarray(seen[np.argsort(points[seen, 1 - out], kind="stable")], dtype=np.int64)


def no_fields(reading: Reading, section: str) -> Fault:
    """Return that no stress is known at any place of a section."""
    fault = f"asks for the stress on a side of '{section}', which is given by its numbers: it is known at no place of it"
    where, remedy = f"readings: {reading.name}", "leave out side: forces and movement are read without one"
    return Fault("", where, fault, remedy, ("readings", reading.name))


def no_metal(reading: Reading) -> Fault:
    """Return that a reading sits on nothing."""
    where, remedy = f"readings: {reading.name}", "choose another offset or side: there is no metal at that place"
    return Fault("", where, "sits where the section is open", remedy, ("readings", reading.name))


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
