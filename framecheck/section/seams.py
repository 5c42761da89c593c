"""The shear flow that each seam of a built-up section must carry: the balance of the part it holds on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.elements import SIDES, VALUES, Elements, contracted
from framecheck.section.meshed import Body, Meshed
from framecheck.section.outline import MM
from framecheck.section.potential import load_from
from framecheck.section.properties import Seam
from framecheck.section.sharp import mean_wall
from framecheck.value_class import array_class

WIDE = 4.0
"""A contact wider than this many mean wall thicknesses is joined along both its edges: two seams."""


@array_class
class Contact:
    """Sides (s, 3) of triangles on which two parts (s, 2) meet, as start, middle and end node."""

    sides: IntArray
    pair: IntArray


def seams_of(analysis: Meshed) -> tuple[Seam, ...]:
    """Return the seams between touching parts; none for one part, or parts that don't touch."""
    body = analysis.welded or analysis.body
    contact = contact_of(body.elements)
    if not len(contact.sides):
        return ()
    return tuple(_seams(analysis, body, contact))


def contact_of(elements: Elements) -> Contact:
    """Return the sides that triangles of two parts share."""
    sides = np.concatenate([elements.ids[:, [i, 3 + k, j]] for k, (i, j) in enumerate(SIDES)])
    part = np.tile(elements.part, 3)
    order = np.argsort(sides[:, 1], kind="stable")
    one, other = order[:-1], order[1:]
    meet = (sides[one, 1] == sides[other, 1]) & (part[one] != part[other])
    pair = np.sort(np.stack([part[one][meet], part[other][meet]], axis=1), axis=1)
    return Contact(sides[one][meet], pair)


def _seams(analysis: Meshed, body: Body, contact: Contact) -> Iterator[Seam]:
    """Yield the seams, chain by chain of touching sides."""
    elements = body.elements
    thickness = mean_wall(elements, body.rim)
    for held in np.unique(contact.pair[:, 1]):
        push = _push_on(analysis, elements, int(held))
        sides = contact.sides[contact.pair[:, 1] == held]
        chain = chained(sides)
        for label in np.unique(chain):
            nodes = np.unique(sides[chain == label])
            for i, edge in enumerate(_edges(elements.nodes[nodes], WIDE * thickness), 1):
                yield _seam(analysis, f"part {held + 1}, seam {label + 1}.{i}", nodes[edge], elements, push, int(held))


def _push_on(analysis: Meshed, elements: Elements, held: int) -> Array:
    """Return what the rest gives to each node of a part, per unit Vy, Vz, T, (n, 3): grad N . tau less the growth of stress.

    Over all contact of a part the sum is exactly V Q / I (equilibrium of the part), and 0 for torsion.
    """
    of_part = elements.part == held
    stress = np.concatenate([analysis.shear.at_nodes, analysis.joined_twist.free[..., None]], axis=-1)
    flow = contracted("gi,midk->mgdk", VALUES, stress) * of_part[:, None, None, None]
    growth = analysis.plane.local(elements) @ analysis.plane.bending() * (of_part * elements.young)[:, None, None]
    return load_from(elements, flow, -np.concatenate([growth, np.zeros((*growth.shape[:2], 1))], axis=2))


def chained(sides: IntArray) -> IntArray:
    """Return the number of the chain each side (s, 3) belongs to; sides with an end in common are of one chain."""
    chain: dict[int, int] = {}
    for start, _, end in sides.tolist():
        old, new = chain.get(end, end), chain.get(start, start)
        chain |= {node: new for node, label in chain.items() if label == old} | {start: new, end: new}
    _, numbers = np.unique([chain[int(start)] for start in sides[:, 0]], return_inverse=True)
    return numbers.astype(np.int64)


def _edges(points: Array, wide: float) -> list[IntArray]:
    """Return the nodes of a contact as one seam, or where it is wide as two, one for each edge."""
    spread = points - points.mean(axis=0)
    _, _, axes = np.linalg.svd(spread, full_matrices=False)
    along = spread @ axes[0]
    if np.ptp(along) <= wide:
        return [np.arange(len(points))]
    middle = (along.max() + along.min()) / 2
    return [np.flatnonzero(along <= middle), np.flatnonzero(along > middle)]


def _seam(analysis: Meshed, name: str, nodes: IntArray, elements: Elements, push: Array, held: int) -> Seam:
    """Return one seam in SI."""
    y, z = (elements.nodes[nodes].mean(axis=0) - analysis.plane.centroid) / MM
    sideways, vertical, torsion = push[nodes].sum(axis=0) * np.array([MM, MM, MM**2])
    return Seam(name, (float(y), float(z)), float(vertical), float(sideways), float(torsion), held)
