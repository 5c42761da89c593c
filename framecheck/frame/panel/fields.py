"""Panels that carry shear alone: one shear flow each, which the members along their edges hand on as their pull grows. SI.

A parallelogram under one shear flow q on all edges is in balance and evenly stressed; its work is q^2 A c / (2 G t), with
c = 1 + 2 cot(a)^2 / (1 + nu) for an angle a between its edges (elasticity: on a slanting edge the flow needs a direct stress of
2 q cot(a) / t besides). Along a rod, q makes the pull grow evenly: between two nodes h apart that moves the rod's middle on by
q h^2 / (8 E A), whose mean over the length, q h^2 / (12 E A), the panel feels. Shear-field theory of stiffened sheet (E. F. Bruhn,
Analysis and Design of Flight Vehicle Structures, 1973, A15; P. Kuhn, Stresses in Aircraft and Shell Structures, 1956; from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.discretise import Pieces
from framecheck.frame.element import Beams
from framecheck.frame.panel.division import DividedSheet
from framecheck.frame.panel.hung import Hung
from framecheck.frame.panel.touch import OnEdge
from framecheck.frame.supports import rigid_moves
from framecheck.model.arrays import Array, IntArray
from framecheck.model.frame import Frame
from framecheck.model.panels import Panel, PanelCarries
from framecheck.value_class import array_class

SIGNS = (-1.0, 1.0, -1.0, 1.0)
"""Which way along its edges, in order round it, a positive shear flow pushes a panel."""


@array_class
class ShearFields:
    """p panels that carry shear alone, of all panels. panel (p,): which; rows (p, 3 n): movements of the sheet's nodes to what the
    flow works on, m2; own (p,): flexibility of each, m3/N; stiffness (p, p): of flows, with what rods give between nodes.
    piece, of (s,): pieces along edges and the panel of each; sense (s,): 1 where a positive flow pushes the panel along the piece's x.
    """

    panel: IntArray
    rows: Array
    own: Array
    stiffness: Array
    piece: IntArray
    of: IntArray
    sense: Array

    def flows(self, moved: Array) -> Array:
        """Return the shear flows (p, k) in N/m from the movements (3 n, k) of the sheet's nodes."""
        found: Array = self.stiffness @ (self.rows @ moved)
        return found

    def pulls(self, flows: Array, count: int) -> Array:
        """Return the load (count, k) along the pieces that flows (p, k) put on them, N/m along their own x."""
        found = np.zeros((count, flows.shape[1]))
        np.add.at(found, self.piece, -self.sense[:, None] * flows[self.of])
        return found


def fields_of(
    frame: Frame, division: DividedSheet, hung: Sequence[Hung | None], pieces: Pieces, beams: Beams
) -> ShearFields | None:
    """Return the panels of a frame that carry shear alone, None where there are none."""
    which = [number for number, panel in enumerate(frame.panels) if panel.carries is PanelCarries.SHEAR]
    if not which:
        return None
    rows = np.zeros((len(which), 3 * len(division.places)))
    own, along = np.zeros(len(which)), list[tuple[int, int, float]]()
    for place, number in enumerate(which):
        own[place] = flexibility(frame.panels[number], division.sites[number].flat(division.sites[number].corners))
        for edge, nodes in enumerate(edge_nodes(division, number)):
            _add_edge(rows[place], division, number, edge, nodes)
            along += [(place, *each) for each in _pieces_along(division, hung, pieces, beams, number, edge, nodes)]
        _balance(rows[place], division)
    of, piece = (np.array([each[way] for each in along], dtype=np.int64) for way in (0, 1))
    sense = np.array([each[2] for each in along], dtype=np.float64)
    flexible = np.diag(own)
    for row, other in _at_one_piece(piece):
        gives = float(beams.length[piece[row]] ** 3 / (12 * beams.stretch[piece[row]]))
        flexible[of[row], of[other]] += sense[row] * sense[other] * gives
    stiffness = np.asarray(np.linalg.inv(flexible), dtype=np.float64)
    return ShearFields(np.array(which, dtype=np.int64), rows, own, stiffness, piece, of, sense)


def flexibility(panel: Panel, flat: Array) -> float:
    """Return A c / (G t) of a parallelogram with corners (4, 2), m3/N; see the head of this file."""
    one, two = flat[1] - flat[0], flat[3] - flat[0]
    area = abs(float(one[0] * two[1] - one[1] * two[0]))
    cotangent = float(one @ two) / area
    slant = 1 + 2 * cotangent**2 / (1 + panel.material.poissons_ratio)
    return area * slant / (panel.material.shear_modulus * panel.carrying)


def edge_nodes(division: DividedSheet, number: int) -> Iterator[IntArray]:
    """Yield the nodes along each edge of a panel, in order."""
    site = division.sites[number]
    nodes = np.array(sorted(set(division.cells[division.of == number].ravel().tolist())), dtype=np.int64)
    places = division.places[nodes]
    for first, second in zip(site.corners, np.roll(site.corners, -1, axis=0), strict=True):
        span = second - first
        along = (places - first) @ span / float(span @ span)
        on = np.linalg.norm(first + along[:, None] * span - places, axis=1) <= 1e-6 * float(np.linalg.norm(span)) + 1e-9
        chosen = np.flatnonzero(on)
        yield nodes[chosen[np.argsort(along[chosen])]]


def _add_edge(row: Array, division: DividedSheet, number: int, edge: int, nodes: IntArray) -> None:
    """Add what a unit flow along one edge works on: movements along it, straight from node to node."""
    corners = division.sites[number].corners
    way = corners[(edge + 1) % 4] - corners[edge]
    way = way / np.linalg.norm(way)
    steps = np.diff(division.places[nodes] @ way)
    weight = np.concatenate((steps, [0.0])) / 2 + np.concatenate(([0.0], steps)) / 2
    for node, each in zip(nodes.tolist(), weight.tolist(), strict=True):
        row[3 * node : 3 * node + 3] += SIGNS[edge] * each * way


def _balance(row: Array, division: DividedSheet) -> None:
    """Take off what a rigid move of a panel a little out of its plane would work on."""
    nodes = np.flatnonzero(row.reshape(-1, 3).any(axis=1))
    places = division.places[nodes]
    rigid = rigid_moves(places - places.mean(axis=0)).reshape(-1, 6)
    at = (3 * nodes[:, None] + np.arange(3)).ravel()
    row[at] -= np.linalg.pinv(rigid).T @ (rigid.T @ row[at])


def _pieces_along(
    division: DividedSheet,
    hung: Sequence[Hung | None],
    pieces: Pieces,
    beams: Beams,
    number: int,
    edge: int,
    nodes: IntArray,
) -> Iterator[tuple[int, float]]:
    """Yield the pieces that lie between neighbouring nodes of an edge on a member, and whether they run along its flow."""
    members = {
        touch.leg.member for touch in division.touches[number] if isinstance(touch, OnEdge) and touch.edge == edge
    }
    corners = division.sites[number].corners
    way = corners[(edge + 1) % 4] - corners[edge]
    for first, second in zip(nodes[:-1].tolist(), nodes[1:].tolist(), strict=True):
        ends = [set() if each is None else set(each.nodes.tolist()) for each in (hung[first], hung[second])]
        for member in members:
            for piece in range(int(pieces.first[member]), int(pieces.last[member]) + 1):
                one, two = pieces.nodes[piece].tolist()
                if (one in ends[0] and two in ends[1]) or (one in ends[1] and two in ends[0]):
                    yield piece, SIGNS[edge] * float(np.sign(way @ beams.axes[piece, 0]))


def _at_one_piece(piece: IntArray) -> Iterator[tuple[int, int]]:
    """Yield all pairs of rows that lie along one piece, each with itself too."""
    for row in range(len(piece)):
        for other in np.flatnonzero(piece == piece[row]).tolist():
            yield row, other
