"""What a rig does to a frame under one bound: movements of its dials per newton, forces of its stands. SI.

The loads and the stands' forces balance among themselves, so the frame hangs on nothing and is then laid on its stands: three stands
by statics alone; a fourth takes the force at which all four are level, found from the one way in which four forces balance.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.results import Bound, FrameSolution
from framecheck.frame.solve import Structure, solve_bounds
from framecheck.frame.supports import rigid_moves
from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads, MemberLoad, PointLoad
from framecheck.rig.places import place_on
from framecheck.rig.setup import Part, Rig, Spot, Stand
from framecheck.value_class import array_class

UNIT = 1000.0
"""N; the answer does not depend on it."""
SAME_STATION = 1e-9
"""Of a member's length; stations nearer than that are one place."""
LOADED, WARPED = "load", "stands out of level"


@array_class
class Response:
    """Per newton of load. moves (n_dial,): what dials read, m/N, on stands that don't give; turns (n_plane,): rad/N about x, less
    that of the last plane; stands (n_stand,): N that each puts on the frame, upwards; forces: all of the stands' forces, spot by spot.
    aside (n_dial,): m/N per m that a dial stands farther along its member.
    """

    bound: Bound
    moves: Array
    turns: Array
    stands: Array
    forces: tuple[Part, ...]
    aside: Array


def loads_on(name: str, loads: Sequence[Part]) -> CaseLoads:
    """Return forces on spots as a load case that hangs on nothing."""
    points = tuple(PointLoad(each.spot.point, each.force, each.moment) for each in loads if each.spot.point)
    members = tuple(
        MemberLoad(each.spot.member, each.force, each.force, each.spot.station, each.spot.station)
        for each in loads
        if not each.spot.point
    )
    return CaseLoads(name, points, members, free_free=True)


def times(vector: Vector, factor: float) -> Vector:
    """Return a vector times a factor."""
    return vector[0] * factor, vector[1] * factor, vector[2] * factor


def scaled(loads: Sequence[Part], factor: float) -> tuple[Part, ...]:
    """Return loads times a factor."""
    return tuple(Part(each.spot, times(each.force, factor), times(each.moment, factor)) for each in loads)


def held_by(stands: Sequence[Stand], forces: Array) -> tuple[Part, ...]:
    """Return the stands' forces (n_stand, 3) spot by spot; level ones are shared as upright ones are."""
    return tuple(
        Part(
            part.spot,
            (part.force[0] * up + ahead * part.force[2], part.force[1] * up + aside * part.force[2], part.force[2] * up),
            times(part.moment, up),
        )
        for stand, (ahead, aside, up) in zip(stands, forces.tolist(), strict=True)
        for part in stand.parts
    )


def middles(stands: Sequence[Stand]) -> Array:
    """Return the place (n_stand, 3) of each stand."""
    return np.array([stand.at for stand in stands])


def wrench(loads: Sequence[Part]) -> Array:
    """Return force and moment (6,) of loads about the origin."""
    force, at = np.array([each.force for each in loads]), np.array([each.spot.at for each in loads])
    moment = np.array([each.moment for each in loads])
    return np.concatenate((force.sum(axis=0), (np.cross(at, force) + moment).sum(axis=0)))


def stand_forces(stands: Sequence[Stand], loads: Sequence[Part]) -> Array:
    """Return forces (n_stand, 3) of the stands that balance loads, the least that do; upright ones alone where they can.

    UnsolvableError: the stands can't hold them.
    """
    load, at = wrench(loads), middles(stands)
    moves = rigid_moves(at).reshape(-1, 6).T
    upright = moves[:, 2::3]
    forces = np.zeros((len(stands), 3))
    found = np.linalg.lstsq(upright, -load, rcond=1e-12)[0]
    if np.abs(upright @ found + load).max() <= 1e-9 * max(np.abs(load).max(), 1e-12):
        forces[:, 2] = found
        return forces
    every = np.linalg.lstsq(moves, -load, rcond=1e-12)[0]
    if np.abs(moves @ every + load).max() > 1e-6 * np.abs(load).max():
        raise UnsolvableError("the stands can't hold this load; choose other places for them")
    return np.asarray(every.reshape(-1, 3))


def out_of_level(stands: Sequence[Stand]) -> Array:
    """Return the ways (k, n_stand) in which upright forces of the stands balance among themselves: one for four stands."""
    upright = rigid_moves(middles(stands)).reshape(-1, 6).T[2:5, 2::3]
    _, sizes, rows = np.linalg.svd(upright)
    return np.asarray(rows[int(np.sum(sizes > 1e-9 * sizes[0])) :])


def spots_of(rig: Rig) -> tuple[Spot, ...]:
    """Return every spot that is read: the dials', then the stands'."""
    dials = (spot for dial in rig.dials for spot, _ in dial.parts)
    return (*dials, *(part.spot for stand in rig.stands for part in stand.parts))


def reading(rig: Rig) -> Array:
    """Return (n_dial, n_spot): how what a dial reads follows from the spots' movements."""
    found, first = np.zeros((len(rig.dials), len(spots_of(rig)))), 0
    for row, dial in enumerate(rig.dials):
        for _, share in dial.parts:
            found[row, first] = share
            first += 1
    return found


def marks_of(spots: Sequence[Spot]) -> dict[str, list[float]]:
    """Return the stations that are read by member."""
    marks: dict[str, list[float]] = {}
    for spot in spots:
        if spot.member:
            marks.setdefault(spot.member, []).append(spot.station)
    return marks


def moved(solution: FrameSolution, spots: Sequence[Spot]) -> Array:
    """Return the movements and turns of spots (n_spot, n_case, 6). Turns are those of frame points; of other spots 0: nothing there
    needs them.
    """
    number = {name: row for row, name in enumerate(solution.points)}
    lines = {line.member: line for line in solution.members}
    found = np.zeros((len(spots), len(solution.cases), 6))
    for row, spot in enumerate(spots):
        if spot.point:
            found[row] = solution.displacements[number[spot.point]]
        else:
            line = lines[spot.member]
            found[row, :, :3] = line.displacements[int(np.argmin(np.abs(line.stations - spot.station)))]
    return found


def farther(solution: FrameSolution, frame: Frame, spots: Sequence[Spot]) -> tuple[Array, Array]:
    """Return how movements (n_spot, n_case, 3), and places (n_spot, 3), change per metre along the spots' members; 0 at points."""
    lines = {line.member: line for line in solution.members}
    members = {each.name: each for each in frame.members}
    along, tangents = np.zeros((len(spots), len(solution.cases), 3)), np.zeros((len(spots), 3))
    for row, spot in enumerate(spots):
        if spot.point:
            continue
        line, member = lines[spot.member], members[spot.member]
        near = SAME_STATION * float(line.stations[-1])
        at = float(line.stations[int(np.argmin(np.abs(line.stations - spot.station)))])
        before = max(int(np.searchsorted(line.stations, at - near)) - 1, 0)
        after = min(int(np.searchsorted(line.stations, at + near, side="right")), len(line.stations) - 1)
        first, last = float(line.stations[before]), float(line.stations[after])
        along[row] = (line.displacements[after] - line.displacements[before]) / (last - first)
        tangents[row] = np.subtract(place_on(frame, member, last), place_on(frame, member, first)) / (last - first)
    return along, tangents


def laid(rig: Rig, moves: Array) -> tuple[Array, Array, Array]:
    """Return movements of the spots (n_spot, 3), laid on the stands, how much (k,) of each out-of-level way that takes, and the rigid
    move (6,) that lays them.

    moves (n_spot, 1 + k, 6): under the load, then under each out-of-level way. The mean of the stands neither slides nor turns.
    """
    rigid = rigid_moves(np.array([spot.at for spot in spots_of(rig)]))
    stands_rigid = rigid_moves(middles(rig.stands))
    up = np.einsum("sni,nki->sk", working(rig), moves)
    flat = np.einsum("sn,nki->ski", working(rig)[:, :, 2], moves[..., :3])
    centre = middles(rig.stands) - middles(rig.stands).mean(axis=0)
    turn = np.stack((-centre[:, 1], centre[:, 0], np.zeros(len(centre))), axis=1)

    def level(values: Array) -> Array:
        slid = values.mean(axis=0)
        return np.array([slid[0], slid[1], float(np.sum(turn * values))])

    columns = [np.concatenate((stands_rigid[:, 2, way], level(stands_rigid[:, :, way]))) for way in range(6)]
    columns += [np.concatenate((up[:, 1 + way], level(flat[:, 1 + way]))) for way in range(up.shape[1] - 1)]
    give = np.array(rig.give) if rig.give else np.zeros(len(rig.stands))
    wanted = np.concatenate((give - up[:, 0], -level(flat[:, 0])))
    found = np.linalg.lstsq(np.array(columns).T * scale_of(columns), wanted, rcond=1e-12)[0] * scale_of(columns)
    share = found[6:]
    placed = moves[:, 0, :3] + np.einsum("nij,j->ni", rigid, found[:6]) + np.einsum("nki,k->ni", moves[:, 1:, :3], share)
    return placed, share, found[:6]


def scale_of(columns: Sequence[Array]) -> Array:
    """Return what makes each column's largest number one, so that metres and newtons weigh alike."""
    return np.array([1 / max(float(np.abs(column).max()), 1e-300) for column in columns])


def working(rig: Rig) -> Array:
    """Return (n_stand, n_spot, 6): how a stand's movement up follows from the spots' movements and turns, by virtual work."""
    first = sum(len(dial.parts) for dial in rig.dials)
    found = np.zeros((len(rig.stands), len(spots_of(rig)), 6))
    for row, stand in enumerate(rig.stands):
        for part in stand.parts:
            found[row, first] = (*part.force, *part.moment)
            first += 1
    return found


def responses(rig: Rig, structures: Sequence[Structure]) -> Iterator[Response]:
    """Yield the rig's response under each bound of the frame."""
    spots = spots_of(rig)
    forces = stand_forces(rig.stands, rig.loads)
    ways = out_of_level(rig.stands)
    upright = [np.column_stack((np.zeros((len(way), 2)), way)) for way in ways]
    cases = [
        loads_on(LOADED, scaled((*rig.loads, *held_by(rig.stands, forces)), UNIT)),
        *(loads_on(f"{WARPED} {number}", scaled(held_by(rig.stands, way), UNIT)) for number, way in enumerate(upright)),
    ]
    for solution in solve_bounds(structures, cases, marks_of(spots)):
        yield response(rig, solution, forces, ways)


def response(rig: Rig, solution: FrameSolution, forces: Array, ways: Array) -> Response:
    """Return the response from the solution of the rig's cases; forces (n_stand, 3) per newton without the out-of-level ways."""
    spots = spots_of(rig)
    along, tangents = farther(solution, rig.frame, spots)
    placed, share, lays = laid(rig, moved(solution, spots) / UNIT)
    aslant = (rigid_moves(tangents) - rigid_moves(np.zeros((len(spots), 3)))) @ lays
    apart = along[:, 0] / UNIT + np.einsum("nki,k->ni", along[:, 1:], share) / UNIT + aslant
    total = forces.copy()
    total[:, 2] += share @ ways if len(ways) else 0.0
    directions = np.array([dial.direction for dial in rig.dials])
    by_dial = reading(rig)
    read = np.sum((by_dial @ placed) * directions, axis=1)
    aside = np.sum((by_dial @ apart) * directions, axis=1)
    turns = turns_of(rig, read)
    return Response(solution.bound, read, turns, total[:, 2], held_by(rig.stands, total), aside)


def turns_of(rig: Rig, read: Array) -> Array:
    """Return the turn about x (n_plane,) that dials read, less that of the last plane where it is at stands, rad (small angles)."""
    if not rig.planes:
        return np.zeros(0)
    turns = np.array([(read[plane.left] - read[plane.right]) / plane.span for plane in rig.planes])
    return np.asarray(turns - turns[-1] if ends_at_stands(rig) else turns)


def ends_at_stands(rig: Rig) -> bool:
    """Return whether the last pair of dials reads what the stands give."""
    return bool(rig.planes) and rig.dials[rig.planes[-1].left].at_stand
