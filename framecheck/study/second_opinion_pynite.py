"""The ideal frame as PyNiteFEA takes it: nodes, members, what holds them, and the load cases, from the model's own loads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, degrees
from typing import Any

import numpy as np

from framecheck.frame.geometry import point_stations, section_turns
from framecheck.frame.joints import hangs_of
from framecheck.frame.structure import NOTHING_OPEN, Structure
from framecheck.model.arrays import Array
from framecheck.model.loads import CaseLoads, MemberLoad
from framecheck.value_class import array_class, value_class

FORCES = ("FX", "FY", "FZ", "MX", "MY", "MZ")
TURNS = ("RX", "RY", "RZ")
STIFF, WHOLE_ARM = 1e4, 0.1
"""A rigid arm is a bar so many times stiffer than the stiffest section; a shorter one than that, m, by as much less: its ends are held
to each other by the cube of its shortness, which drowns the frame's own stiffness in rounding."""
IDLE = 1e-9
"""A node that every member is pinned to is kept from turning by so much of the stiffest bending stiffness per length."""
ASIDE = 2e-7
SPREAD = np.array([0.8191725134, 0.6710436067, 0.5497004779])
"""m, and steps round the whole that spread numbers evenly: how far nodes stand beside their places."""
SAME = 1e-9


@array_class
class Model:
    """A library's model of a structure."""

    structure: Structure
    library: Any


def model_of(structure: Structure, cases: Sequence[CaseLoads], links: Array) -> Model:
    """Return the library's model, loaded and solved. links (n_point, n_case, 6): what springs and mounts do to the points."""
    from Pynite import FEModel3D

    model = Model(structure, FEModel3D())
    _add_members(model)
    _hold(model)
    _release(model)
    for number, case in enumerate(cases):
        name = case_name(number)
        _load_points(model, case, name, links[:, number])
        _load_members(model, case, name)
        model.library.add_load_combo(name, {name: 1.0})
    model.library.analyze_linear(check_stability=False)
    return model


def case_name(number: int) -> str:
    """Return how a load case is called in the library: names of a file may be anything."""
    return f"case {number}"


def node_name(number: int) -> str:
    """Return how a node is called."""
    return f"node {number}"


def piece_name(number: int) -> str:
    """Return how a piece is called."""
    return f"piece {number}"


def end_name(piece: int, end: int) -> str:
    """Return how the end of an arm is called."""
    return f"end {end} of {piece}"


def arm_of(structure: Structure, piece: int, end: int) -> Array:
    """Return the arm (3,) from a piece's node to its end, m."""
    arm: Array = structure.pieces.arms[piece, end]
    return arm


def node_at(structure: Structure, piece: int, end: int) -> str:
    """Return the node that a piece's end is at: that of its arm's far end where it has one."""
    has_arm = np.linalg.norm(arm_of(structure, piece, end)) > SAME
    return end_name(piece, end) if has_arm else node_name(int(structure.pieces.nodes[piece, end]))


def _add_members(model: Model) -> None:
    """Add nodes, sections, and every piece as a member of its own."""
    structure, library = model.structure, model.library
    pieces = structure.pieces
    for node in np.unique(pieces.nodes).tolist():
        _add_node(library, node_name(node), pieces.places[node])
    for number, of in enumerate(structure.sections):
        library.add_material(f"metal {number}", of.youngs_modulus, of.shear_modulus, 0.3, 7850.0)
    for piece in range(pieces.count):
        for end in (0, 1):
            _add_arm(model, piece, end)
        _add_piece(model, piece)


def _add_node(library: Any, name: str, place: Array) -> None:
    """Add a node a hair beside its place: the library joins a member to every node that lies on its line, met or not."""
    aside = ASIDE * ((len(library.nodes) + 1) * SPREAD % 1.0 - 0.5)
    library.add_node(name, *(place + aside).tolist())


def _add_piece(model: Model, piece: int) -> None:
    """Add a piece, turned so that its axes are the section's principal ones."""
    structure, library = model.structure, model.library
    section = structure.sections[structure.pieces.section[piece]]
    turn = section_turns(structure.pieces.angle[piece : piece + 1], structure.pieces.mirrored[piece : piece + 1])[0]
    own = np.array([[section.i_sideways, section.i_product], [section.i_product, section.i_vertical]])
    moments, ways = np.linalg.eigh(turn @ own @ turn.T)
    twist = max(section.torsion_constant, 1e-12 * float(moments[1]))
    library.add_section(piece_name(piece), section.area, float(moments[1]), float(moments[0]), twist)
    nodes = (node_at(structure, piece, end) for end in (0, 1))
    library.add_member(piece_name(piece), *nodes, f"metal {structure.pieces.section[piece]}", piece_name(piece))
    wanted = ways[:, 0] @ structure.beams.axes[piece][1:]
    member = library.members[piece_name(piece)]
    across, up = member.T()[1, :3], member.T()[2, :3]
    member.rotation = degrees(atan2(float(wanted @ up), float(wanted @ across)))


def _add_arm(model: Model, piece: int, end: int) -> None:
    """Add a rigid arm between a piece's end and its node, where it has one."""
    structure, library = model.structure, model.library
    arm = arm_of(structure, piece, end)
    if np.linalg.norm(arm) <= SAME:
        return
    node = int(structure.pieces.nodes[piece, end])
    _add_node(library, end_name(piece, end), structure.pieces.places[node] + arm)
    share, name = STIFF * min(1.0, float(np.linalg.norm(arm)) / WHOLE_ARM), f"arm {end} of {piece}"
    area = share * max(s.area for s in structure.sections)
    stiff = share * max(max(s.i_vertical, s.i_sideways, s.torsion_constant) for s in structure.sections)
    library.add_section(name, area, stiff, stiff, stiff)
    library.add_member(name, node_name(node), end_name(piece, end), "metal 0", name)


def _release(model: Model) -> None:
    """Let pinned ends turn, and keep a node that every member is pinned to from turning by next to nothing."""
    structure, library = model.structure, model.library
    pieces = structure.pieces
    pinned: set[tuple[int, int]] = set()
    for hang in hangs_of(structure.frame, NOTHING_OPEN, None):
        if hang.stiffness[4] == 0.0:
            piece = int((pieces.first, pieces.last)[hang.end][hang.member])
            pinned.add((piece, hang.end))
    for piece in {piece for piece, _ in pinned}:
        start, end = (piece, 0) in pinned, (piece, 1) in pinned
        library.def_releases(piece_name(piece), Ryi=start, Rzi=start, Ryj=end, Rzj=end)
    everywhere = {(piece, end) for piece in range(pieces.count) for end in (0, 1)}
    stiff = {int(pieces.nodes[piece, end]) for piece, end in everywhere - pinned}
    soft = IDLE * max(s.youngs_modulus * max(s.i_vertical, s.i_sideways) for s in structure.sections)
    for node in {int(pieces.nodes[piece, end]) for piece, end in pinned} - stiff:
        for way in TURNS:
            library.def_support_spring(node_name(node), way, soft)


def _hold(model: Model) -> None:
    """Hold what the supports hold, and let springs push where they are springs."""
    library, numbers = model.library, {name: place for place, name in enumerate(model.structure.frame.points)}
    for support in model.structure.frame.supports:
        node = node_name(numbers[support.point])
        if node not in library.nodes:
            continue
        library.def_support(node, *(value == np.inf for value in support.stiffness))
        for way, value in zip(("DX", "DY", "DZ", *TURNS), support.stiffness, strict=True):
            if 0 < value < np.inf:
                library.def_support_spring(node, way, value)


def _load_points(model: Model, case: CaseLoads, name: str, links: Array) -> None:
    """Load the nodes with a case's point loads and with what springs and mounts do to them."""
    numbers = {point: place for place, point in enumerate(model.structure.frame.points)}
    total = links.copy()
    for load in case.point_loads:
        total[numbers[load.point]] += (*load.force, *load.moment)
    for node, row in enumerate(total.tolist()):
        if node_name(node) in model.library.nodes:
            _load_node(model, node_name(node), row, name)


def _load_node(model: Model, node: str, row: Sequence[float], name: str) -> None:
    """Load one node with a force and a moment."""
    for way, value in zip(FORCES, row, strict=True):
        if value:
            model.library.add_node_load(node, way, value, case=name)


def _load_members(model: Model, case: CaseLoads, name: str) -> None:
    """Load the pieces with a case's member loads and with the frame's own mass."""
    numbers = {member.name: place for place, member in enumerate(model.structure.frame.members)}
    for load in case.member_loads:
        (_load_at if load.start == load.end else _load_along)(model, numbers[load.member], load, name)
    for piece in range(model.structure.pieces.count):
        _weigh(model, piece, case, name)


def _load_at(model: Model, member: int, load: MemberLoad, name: str) -> None:
    """Put a force within a member on the piece or arm that it lies on."""
    reach = min(_reaches(model, member), key=lambda each: max(each.low - load.start, load.start - each.high, 0.0))
    wrench = np.concatenate((load.force_start, np.cross(load.arm, load.force_start)))
    _force_on(model, reach, (min(max(load.start, reach.low), reach.high), wrench), name)


def _load_along(model: Model, member: int, load: MemberLoad, name: str) -> None:
    """Put a load per length on the pieces and arms that it lies on."""
    frame = model.structure.frame
    until = min(load.end, point_stations(frame, frame.members[member])[-1])
    for reach in _reaches(model, member):
        first, last = max(load.start, reach.low), min(until, reach.high)
        if last > first + SAME and reach.end is None:
            along = (first - reach.low, last - reach.low)
            _line_on(model, reach.piece, along, [_intensity(load, until, at) for at in (first, last)], name)
        elif last > first + SAME:
            for at, weight in ((first, 1 / 6), ((first + last) / 2, 4 / 6), (last, 1 / 6)):  # Simpson's rule: exact
                _force_on(model, reach, (at, _intensity(load, until, at) * weight * (last - first)), name)


@value_class
class Reach:
    """A part of a member between two stations, m: a piece, or (end 0 or 1) the arm at its start or end."""

    low: float
    high: float
    piece: int
    end: int | None = None


def _reaches(model: Model, member: int) -> Iterator[Reach]:
    """Yield the pieces of a member and the arms along it."""
    structure = model.structure
    for piece in range(int(structure.pieces.first[member]), int(structure.pieces.last[member]) + 1):
        start = float(structure.beams.start[piece])
        stop, way = start + float(structure.beams.length[piece]), structure.beams.axes[piece][0]
        yield Reach(start, stop, piece)
        before, after = float(arm_of(structure, piece, 0) @ way), -float(arm_of(structure, piece, 1) @ way)
        if before > SAME:
            yield Reach(start - before, start, piece, 0)
        if after > SAME:
            yield Reach(stop, stop + after, piece, 1)


def _intensity(load: MemberLoad, end: float, at: float) -> Array:
    """Return a member load's force per length (3,) at a station; end: where it really ends."""
    one, other = np.array(load.force_start), np.array(load.force_end)
    found: Array = one + (at - load.start) / (end - load.start) * (other - one)
    return found


def _force_on(model: Model, reach: Reach, force: tuple[float, Array], name: str) -> None:
    """Put a force (3,), or one with a moment (6,), at a station on a piece, or of an arm on its node."""
    if reach.end is not None:
        _on_arm(model, reach.piece, reach.end, force, name)
        return
    at = min(force[0] - reach.low, float(model.library.members[piece_name(reach.piece)].L()))
    for way, value in zip(FORCES, force[1].tolist(), strict=False):
        if value:
            model.library.add_member_pt_load(piece_name(reach.piece), way, value, at, case=name)


def _line_on(model: Model, piece: int, along: tuple[float, float], ends: Sequence[Array], name: str) -> None:
    """Put a load per length on a piece between two places along it."""
    whole = float(model.library.members[piece_name(piece)].L())
    along = along[0], min(along[1], whole)
    for way, first, last in zip(FORCES[:3], ends[0].tolist(), ends[1].tolist(), strict=True):
        if first or last:
            model.library.add_member_dist_load(piece_name(piece), way, first, last, *along, case=name)


def _on_arm(model: Model, piece: int, end: int, force: tuple[float, Array], name: str) -> None:
    """Put a force at a station of a rigid arm on the piece's node, with its moment."""
    beams = model.structure.beams
    node = int(model.structure.pieces.nodes[piece, end])
    place = beams.ends[piece, 0] + beams.axes[piece][0] * (force[0] - beams.start[piece])
    push, turn = force[1][:3], force[1][3:]
    moment = np.cross(place - model.structure.pieces.places[node], push) + (turn if len(turn) else 0.0)
    _load_node(model, node_name(node), [*push.tolist(), *moment.tolist()], name)


def _weigh(model: Model, piece: int, case: CaseLoads, name: str) -> None:
    """Load a piece with its own mass in a case's motion."""
    beams, motion = model.structure.beams, case.motion
    pull = [
        beams.mass[piece] * (np.array(motion.linear) - np.cross(motion.angular, place - np.array(motion.about)))
        for place in beams.ends[piece]
    ]
    _line_on(model, piece, (0.0, float(beams.length[piece])), pull, name)
