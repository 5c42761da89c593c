"""A frame made ready to be solved under one bound: its pieces, unknowns, stiffness matrix and factors. SI."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from framecheck.frame.discretise import NO_SHEET, Key, Pieces, pieces_of, softened_sections
from framecheck.frame.element import Beams, across, beams_of, deformation_stiffness, section_table
from framecheck.frame.freedoms import (
    NONE,
    Blocks,
    Freedoms,
    FreePinRotations,
    PieceGroup,
    freedoms_of,
    idle_turns,
    slips_of,
)
from framecheck.frame.joints import hangs_of
from framecheck.frame.kink_springs import turn_springs
from framecheck.frame.linear import Factored
from framecheck.frame.number_cache import NumberStore
from framecheck.frame.results import Bound, Shell
from framecheck.frame.splice_ties import ties_of
from framecheck.frame.stated_body import body_springs
from framecheck.frame.supports import Links, links_of
from framecheck.frame.warping import warp_ties
from framecheck.model.arrays import Array, IntArray, Vector
from framecheck.model.frame import Frame
from framecheck.model.panels import SheetKnown
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csr_array

    from framecheck.frame.panel.division import DividedSheet
    from framecheck.frame.panel.sheets import Sheets
    from framecheck.frame.stated_body import BodySprings


DENSE = 1000
"""Most unknowns of a dense matrix: up to here it is factorised in the time that importing a sparse solver takes."""


def group_blocks(group: PieceGroup, stiffness: Array) -> Blocks:
    """Return a group's stiffness on its unknowns; stiffness (n, 8, 8) of all pieces' deformations."""
    return Blocks(group.freedoms, group.strain.transpose(0, 2, 1) @ (stiffness[group.pieces] @ group.strain))


def link_blocks(links: Links) -> Blocks:
    """Return the links' stiffness on their unknowns."""
    return Blocks(links.freedoms, links.stiffness[:, None, None] * links.rows[:, :, None] * links.rows[:, None, :])


def diagonal(freedoms: Freedoms) -> tuple[IntArray, Array]:
    """Return the springs that work on one unknown alone: rates of twist and slips."""
    first = 6 * freedoms.n_node
    own = np.concatenate((freedoms.ties.springs, freedoms.slips.stiffness))
    return first + np.arange(len(own)), own


def all_blocks(freedoms: Freedoms, stiffness: Array, links: Links) -> list[Blocks]:
    """Return everything that makes up the stiffness matrix."""
    unknowns, own = diagonal(freedoms)
    blocks = [group_blocks(group, stiffness) for group in freedoms.groups]
    return [*blocks, link_blocks(links), Blocks(unknowns[:, None], own[:, None, None])]


def dense_matrix(blocks: list[Blocks], count: int) -> Array:
    """Return the assembled matrix (count, count)."""
    size = count + 1  # the last row and column take what belongs to no unknown
    places, values = [], []
    for block in blocks:
        at = np.where(block.freedoms == NONE, count, block.freedoms)
        places.append((at[:, :, None] * size + at[:, None, :]).ravel())
        values.append(block.values.ravel())
    total = np.bincount(np.concatenate(places), np.concatenate(values), size * size).astype(np.float64, copy=False)
    return total.reshape(size, size)[:count, :count]


def sparse_matrix(blocks: list[Blocks], count: int) -> csr_array:
    """Return the assembled matrix (count, count), sparse."""
    from scipy.sparse import coo_array

    rows, columns, values = [], [], []
    for block in blocks:
        at = block.freedoms.astype(np.int32)
        there = np.broadcast_to((at[:, :, None] != NONE) & (at[:, None, :] != NONE), block.values.shape)
        keep = there & (block.values != 0.0)
        rows.append(np.broadcast_to(at[:, :, None], block.values.shape)[keep])
        columns.append(np.broadcast_to(at[:, None, :], block.values.shape)[keep])
        values.append(block.values[keep])
    parts = np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))
    return coo_array(parts, shape=(count, count)).tocsr()


NOTHING_OPEN = Bound()
AS_RIGID = 1e4  # a spring without end is taken as so many times the stiffest member


@array_class
class Structure:
    """A frame under one bound. sections: per piece key, whose stress is recovered; stiff_sections: whose stiffness is used (cuts
    softened). sheets: what its panels do, None without any. body: of a stated body.
    stiffness (n_piece, 8, 8): against deformations; matrix: of all unknowns, without supports. factors: filled when
    asked for.
    """

    frame: Frame
    bound: Bound
    pieces: Pieces
    sections: tuple[SectionProperties, ...]
    stiff_sections: tuple[SectionProperties, ...]
    beams: Beams
    freedoms: Freedoms
    links: Links
    idle: FreePinRotations
    stiffness: Array
    matrix: Any
    notes: tuple[str, ...] = ()
    factors: dict[object, Factored] = field(default_factory=dict)
    sheets: Sheets | None = None
    body: BodySprings | None = None

    def mass_lines(self) -> tuple[tuple[Vector, Vector, float], ...]:
        """Return the lines along which the frame's own mass is loaded: start, end (m, vehicle axes) and kg/m."""
        ends = self.beams.ends + across(self.beams.axes, self.beams.centroid)[:, None]
        lines = [(ends, self.beams.mass), *self._sheet_lines()]
        return tuple(
            ((a[0], a[1], a[2]), (b[0], b[1], b[2]), mass)
            for places, masses in lines
            for (a, b), mass in zip(places.tolist(), masses.tolist(), strict=True)
        )

    def _sheet_lines(self) -> Iterator[tuple[Array, Array]]:
        """Yield, of every panel, the lines (m, 2, 3) that its mass is taken to lie along, and kg/m (m,)."""
        if self.sheets is not None:
            from framecheck.frame.panel.weight import strips_of

            for strips in strips_of(self.frame, self.sheets):
                yield strips.ends, strips.mass / np.linalg.norm(strips.ends[:, 1] - strips.ends[:, 0], axis=1)


def structure_of(
    frame: Frame,
    sections: Mapping[str, SectionProperties],
    bound: Bound = NOTHING_OPEN,
    cuts: Mapping[tuple[str, str], SectionProperties] | None = None,
    store: NumberStore | None = None,
) -> Structure:
    """Return a frame ready to be solved under a bound.

    sections: by name; cuts: net properties by (member, cut); store: where joints' and notches' numbers are kept between runs.
    """
    frame = under_bound(frame, bound)
    hangs = hangs_of(frame, bound, store)
    division = _division(frame)
    pieces = pieces_of(frame, hangs, NO_SHEET if division is None else division.stations())
    stressed = tuple(_section(key, sections, cuts or {}) for key in pieces.keys)
    notches = softened_sections(frame, pieces.keys, stressed, store)
    stiff = tuple(notches[key][0] if key in notches else of for key, of in zip(pieces.keys, stressed, strict=True))
    beams = beams_of(pieces, section_table(stiff), [member.name for member in frame.members])
    ties = warp_ties(frame, pieces, beams, bound.warping, {key: found[1] for key, found in notches.items()})
    slips = slips_of(pieces, hangs, turn_springs(frame, bound.joints, store))
    freedoms = freedoms_of(pieces, beams, ties, slips)
    rigid = AS_RIGID * float(np.max(beams.stretch / beams.length, initial=1.0))
    links = links_of(frame, len(pieces.places) - len(frame.stiff_bodies), rigid, ties_of(frame, store))
    idle = idle_turns(frame, pieces, beams, slips, links)
    stiffness = deformation_stiffness(beams)
    blocks = [*all_blocks(freedoms, stiffness, links), Blocks(idle.freedoms, idle.values)]
    sheets = None if division is None else _sheets(frame, division, pieces, beams)
    body = None if frame.body is None else _body(frame, bound)
    if body is not None:
        blocks.append(body.blocks)
    if sheets is not None:
        blocks += [sheets.block, *sheets.bare_blocks]
    assembled = dense_matrix if freedoms.count <= DENSE else sparse_matrix
    matrix = assembled(blocks, freedoms.count)
    return Structure(frame, bound, pieces, stressed, stiff, beams, freedoms, links, idle, stiffness, matrix, sheets=sheets, body=body)


NOTHING = 1e-6
"""Share of its stiffness that sheet has where it is taken to carry nothing: what hangs on it alone goes a million times as far."""


def under_bound(frame: Frame, bound: Bound) -> Frame:
    """Return the frame with its sheet as a bound has it: where it is not known to carry, and the shell is soft, it carries nothing."""
    if frame.sheet is SheetKnown.AS_DRAWN or bound.shell is not Shell.SOFT:
        return frame
    return replace(frame, panels=tuple(replace(each, material=_soft(each.material)) for each in frame.panels))


def _soft(material: Material) -> Material:
    moduli = material.youngs_modulus * NOTHING, material.shear_modulus * NOTHING
    return replace(material, youngs_modulus=moduli[0], shear_modulus=moduli[1])


def _division(frame: Frame) -> DividedSheet | None:
    """Return the frame's sheet, divided, None without any; that room is entered by frames with panels alone."""
    if not frame.panels:
        return None
    from framecheck.frame.panel.division import divided

    return divided(frame)


def _body(frame: Frame, bound: Bound) -> BodySprings | None:
    return body_springs(frame, bound)


def _sheets(frame: Frame, division: DividedSheet, pieces: Pieces, beams: Beams) -> Sheets:
    from framecheck.frame.panel.sheets import sheets_of

    return sheets_of(frame, division, pieces, beams)


def _section(
    key: Key, sections: Mapping[str, SectionProperties], cuts: Mapping[tuple[str, str], SectionProperties]
) -> SectionProperties:
    """Return the section whose stress is recovered along pieces of a key."""
    return cuts[key] if key[0] else sections[key[1]]


def shifts_of(structure: Structure) -> Array:
    """Return (n_key, 2, 2): by how much a key's stressed centroid and shear centre lie beside its stiff ones, own axes, m."""
    rows = []
    for net, soft in zip(structure.sections, structure.stiff_sections, strict=True):
        centroid = np.subtract(net.centroid, soft.centroid)
        rows.append([centroid, centroid + np.subtract(net.shear_centre, soft.shear_centre)])
    return np.array(rows, dtype=np.float64).reshape(-1, 2, 2)
