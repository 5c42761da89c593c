"""What holds a frame: supports, springs, stiff bodies on mounts; and a free-free frame that hangs on nothing. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame, StiffBody
from framecheck.model.loads import CaseLoads, Support
from framecheck.value_class import array_class

BALANCED = 1e-6
"""Largest residual, of the loads' own size, with which loads count as balanced."""

SLENDER = 1e-6  # area of a triangle over its longest side squared, below which three points lie in one line


def rigid_moves(places: Array) -> Array:
    """Return (n, 3, 6): displacements of places (n, 3) when all moves by one along, or one about, each axis."""
    n = len(places)
    moves = np.zeros((n, 3, 6))
    moves[:, :, :3] = np.eye(3)
    x, y, z = places.T
    moves[:, 1, 3], moves[:, 2, 3] = -z, y
    moves[:, 0, 4], moves[:, 2, 4] = z, -x
    moves[:, 0, 5], moves[:, 1, 5] = -y, x
    return moves


def three_far_apart(places: Array) -> IntArray | None:
    """Return three places (of n) that span a wide triangle; None where all lie in one line."""
    if len(places) < 3:
        return None
    first = int(np.argmax(np.sum((places - places.mean(axis=0)) ** 2, axis=1)))
    from_first = places - places[first]
    second = int(np.argmax(np.sum(from_first**2, axis=1)))
    areas = np.linalg.norm(np.cross(from_first, from_first[second]), axis=1)
    third = int(np.argmax(areas))
    longest = float(from_first[second] @ from_first[second])
    if longest == 0 or areas[third] < SLENDER * longest:
        return None
    return np.array([first, second, third], dtype=np.int64)


def isostatic(places: Array, nodes: IntArray) -> IntArray:
    """Return six unknowns of three nodes that just hold a rigid frame, as far from a mechanism as can be.

    Chosen one by one: the displacement that the rigid moves left free do most (Gram-Schmidt with pivoting).
    """
    rows = rigid_moves(places[nodes] - places[nodes].mean(axis=0))
    rows[:, :, 3:] /= np.abs(rows[:, :, 3:]).max()
    left: Array = rows.reshape(9, 6)
    chosen = []
    for _ in range(6):
        sizes: Array = np.sqrt(np.sum(left**2, axis=1))
        best = int(np.argmax(np.round(sizes, 9)))
        chosen.append(6 * int(nodes[best // 3]) + best % 3)
        along: Array = left[best] / sizes[best]
        left = left - (left @ along)[:, None] * along
    return np.array(chosen, dtype=np.int64)


def holding_nodes(places: Array, used: IntArray) -> IntArray:
    """Return three of the used nodes to hold a frame at; UnsolvableError where all lie in one line."""
    found = three_far_apart(places[used])
    if found is None:
        raise UnsolvableError("a frame that hangs on nothing must have three points off one line; all of its points lie in one")
    return used[found]


def from_mean_plane(moved: Array, places: Array, reference: IntArray) -> Array:
    """Return the rigid move (6,) of each column that best fits the displacements (n_node, 3, k) of the reference nodes, (6, k)."""
    rows = rigid_moves(places[reference]).reshape(-1, 6)
    fit: Array = np.linalg.pinv(rows) @ moved[reference].reshape(-1, moved.shape[2])
    return fit


def refuse_unbalanced(names: Sequence[str], balance: Array) -> None:
    """Raise where the loads of a case that hangs on nothing do not balance."""
    for name, residual in zip(names, balance.tolist(), strict=True):
        if not residual <= BALANCED:
            raise UnsolvableError(
                f"load case '{name}' hangs on nothing but its loads leave {residual:.1e} of their size unbalanced; "
                "add the missing force, or supports"
            )


WAYS = np.eye(6)


@array_class
class Tie:
    """What holds two points of a splice together: springs midway between them along and about axes (3, 3), rows, N/m and Nm/rad."""

    splice: str
    points: tuple[str, str]
    axes: Array
    stiffness: tuple[float, ...]


@array_class
class Links:
    """m springs between two nodes, each working on one way of moving.

    nodes (m, 2); rows (m, 12): the two nodes' movements to the spring's stretch; stiffness (m,). mounts: body, point and the
    first of the three links of every mount; bodies: node of each stiff body; ties: splice and first of the six links of each of its
    ties.
    """

    nodes: IntArray
    rows: Array
    stiffness: Array
    mounts: tuple[tuple[str, str, int], ...]
    bodies: dict[str, int]
    ties: tuple[tuple[Tie, int], ...] = ()

    @property
    def freedoms(self) -> IntArray:
        """Return the unknowns (m, 12) that each link joins."""
        return (6 * self.nodes[:, :, None] + np.arange(6)).reshape(-1, 12)


@array_class
class Supports:
    """What the ground does. held: unknowns that are held; sprung, stiffness: unknowns on springs to the ground."""

    held: IntArray
    sprung: IntArray
    stiffness: Array


def turned(axes: Array) -> Array:
    """Return (6, 6): movements and turns in the vehicle's axes to those along and about other axes (3, 3), rows."""
    found = np.zeros((6, 6))
    found[:3, :3] = found[3:, 3:] = axes
    return found


def carried(arm: Array) -> Array:
    """Return (6, 6): movements of a node to those of a place fixed to it at the end of an arm (3,)."""
    x, y, z = arm
    rows = np.eye(6)
    rows[:3, 3:] = [[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]]
    return rows


def _between(first: Array, second: Array, ways: int) -> Array:
    """Return rows (ways, 12): how far the second node's place goes from the first's; arms (3,) from each node to it."""
    rows: Array = np.hstack((-carried(first)[:ways], carried(second)[:ways]))
    return rows


def links_of(frame: Frame, first_body: int, stiffest: float, ties: Sequence[Tie] = ()) -> Links:
    """Return the springs between points, measured at their middle so that they balance, and the bodies' mounts.

    stiffest: what a spring without end (inf) is taken as, N/m and Nm/rad. ties: of splices.
    """
    number = {name: place for place, name in enumerate(frame.points)}
    nodes: list[tuple[int, int]] = []
    rows: list[Array] = []
    stiffness: list[float] = []
    for spring in frame.springs:
        start, end = (np.array(frame.points[name]) for name in spring.points)
        rows.append(_between((end - start) / 2, (start - end) / 2, 6))
        nodes += [(number[spring.points[0]], number[spring.points[1]])] * 6
        stiffness += spring.stiffness
    mounts: list[tuple[str, str, int]] = []
    bodies = {body.name: first_body + place for place, body in enumerate(frame.stiff_bodies)}
    for body in frame.stiff_bodies:
        _add_mounts(frame, body, (number, bodies), (nodes, rows, stiffness), mounts)
    tied: list[tuple[Tie, int]] = []
    for tie in ties:
        tied.append((tie, len(nodes)))
        start, end = (np.array(frame.points[name]) for name in tie.points)
        rows.append(turned(tie.axes) @ _between((end - start) / 2, (start - end) / 2, 6))
        nodes += [(number[tie.points[0]], number[tie.points[1]])] * 6
        stiffness += tie.stiffness
    table = np.concatenate(rows) if rows else np.zeros((0, 12))
    values = np.array(stiffness, dtype=np.float64)
    values[np.isinf(values)] = stiffest
    return Links(np.array(nodes, dtype=np.int64).reshape(-1, 2), table, values, tuple(mounts), bodies, tuple(tied))


def _add_mounts(
    frame: Frame,
    body: StiffBody,
    numbers: tuple[dict[str, int], dict[str, int]],
    table: tuple[list[tuple[int, int]], list[Array], list[float]],
    mounts: list[tuple[str, str, int]],
) -> None:
    """Add a stiff body's mounts to the table of links: three springs each, at the frame point."""
    nodes, rows, stiffness = table
    for mount in body.mounts:
        mounts.append((body.name, mount.point, len(nodes)))
        arm = np.array(frame.points[mount.point]) - np.array(body.at)
        rows.append(_between(arm, np.zeros(3), 3))
        nodes += [(numbers[1][body.name], numbers[0][mount.point])] * 3
        stiffness += mount.stiffness


def supports_of(frame: Frame, supports: Sequence[Support]) -> Supports:
    """Return what the given supports hold or spring."""
    number = {name: place for place, name in enumerate(frame.points)}
    values = np.array([each.stiffness for each in supports], dtype=np.float64).reshape(-1)
    nodes = np.array([number[each.point] for each in supports], dtype=np.int64)
    unknowns = (6 * nodes[:, None] + np.arange(6)).reshape(-1)
    stiff, sprung = np.isinf(values), np.isfinite(values) & (values > 0)
    return Supports(unknowns[stiff], unknowns[sprung], values[sprung])


Hold = tuple[bool, tuple[Support, ...] | None]


def hold_of_case(case: CaseLoads) -> Hold:
    """Return what holds the frame in a case: whether it hangs on nothing, and the case's own supports (None: the frame's)."""
    return case.free_free, None if case.free_free else case.supports


@array_class
class SupportSet:
    """Cases (k,) that hang on the same supports. key: under which the frame's factors on them are kept."""

    key: object
    supports: Supports
    cases: IntArray


def ground_of(frame: Frame, case: CaseLoads) -> tuple[object, Supports]:
    """Return the supports of a case that hangs on some, and the key of the frame's factors on them."""
    if case.supports is None:
        return "supports", supports_of(frame, frame.supports)
    return case.supports, supports_of(frame, case.supports)


def grounds_of(frame: Frame, cases: Sequence[CaseLoads]) -> Iterator[SupportSet]:
    """Yield the cases that hang on supports, those together that hang on the same."""
    found: dict[object, list[int]] = {}
    for number, case in enumerate(cases):
        if not case.free_free:
            found.setdefault(case.supports, []).append(number)
    for numbers in found.values():
        yield SupportSet(*ground_of(frame, cases[numbers[0]]), np.array(numbers, dtype=np.int64))
