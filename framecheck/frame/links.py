"""What else the unknowns hang on: springs between points, stiff bodies on mounts, supports. SI."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame, StiffBody
from framecheck.model.supports import Support
from framecheck.value_class import array_class

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
