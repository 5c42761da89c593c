"""What moves freely, said in words: which point or joint, which way, and what would hold it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.errors import MechanismError, UnsolvableError
from framecheck.frame.linear import Factored
from framecheck.frame.structure import Structure
from framecheck.frame.supports import Supports, rigid_moves
from framecheck.model.arrays import Array, BoolArray, IntArray

WAYS = (
    "along x (forward)",
    "along y (left)",
    "along z (up)",
    "turning about x (forward)",
    "turning about y (left)",
    "turning about z (up)",
)
SHARE = 0.3  # of the largest movement; ways that take less are not named
MOVES = 1e-4  # of a movement, m per rad: points that move less than this stay where they are
NEXT_TO_NOTHING = (
    "what holds it, if anything does, is less than a millionth of a millionth as stiff as the rest: no digit of an answer would be "
    "left; make a short member longer, or a soft one stiffer"
)
FREE = 1e-9  # rigid moves whose holds are weaker than this, of the strongest, are free


def unused(structure: Structure) -> BoolArray:
    """Return which unknowns (n,) nothing resists for nothing hangs on them: those of points that no member meets.

    A stiff body's unknowns are never unused: it is there to be held by its mounts.
    """
    loose: BoolArray = structure.matrix.diagonal() <= 0
    for group in structure.freedoms.groups:
        loose[group.freedoms[group.freedoms >= 0]] = False
    for node in structure.links.bodies.values():
        loose[6 * node : 6 * node + 6] = False
    return loose


def refuse_unheld_loads(structure: Structure, cases: Sequence[str], vector: Array, unknowns: Array) -> None:
    """Raise where a load (n, k) acts on what nothing resists: a point that no member meets, or a moment on a loose pin."""
    idle = structure.idle
    pushed = np.where(unused(structure)[:, None], np.abs(vector), 0.0)
    _refuse_across_sheet(structure, cases, vector)
    turned = idle.stiffness[:, None] * np.abs(np.einsum("ij,ijk->ik", idle.axis, unknowns[idle.freedoms]))
    size = max(float(np.abs(vector).max(initial=0.0)), np.finfo(float).tiny)
    points = list(structure.frame.points)
    for unknown, case in np.argwhere(pushed > 0)[:1].tolist():
        raise UnsolvableError(
            f"load case '{cases[case]}' acts on point '{points[unknown // 6]}', which nothing holds {WAYS[unknown % 6]}; "
            "join a member to it or put the load elsewhere"
        )
    for turn, case in np.argwhere(turned > 1e-6 * size)[:1].tolist():
        raise UnsolvableError(
            f"load case '{cases[case]}' puts a moment on point '{points[idle.freedoms[turn, 0] // 6]}', where every member is "
            "pinned; nothing can take it: leave the moment out or make an end rigid"
        )


def _refuse_across_sheet(structure: Structure, cases: Sequence[str], vector: Array) -> None:
    """Raise where a load (n, k) acts across sheet on a point that hangs on it alone."""
    points, size = list(structure.frame.points), max(float(np.abs(vector).max(initial=0.0)), np.finfo(float).tiny)
    for bare in () if structure.sheets is None else structure.sheets.bare:
        across = np.abs(bare.way @ vector[6 * bare.node : 6 * bare.node + 3])
        for case in np.flatnonzero(across > 1e-6 * size)[:1].tolist():
            raise UnsolvableError(
                f"load case '{cases[case]}' acts on point '{points[bare.node]}' across the bare sheet of panel "
                f"'{structure.frame.panels[bare.panel].name}', which holds nothing that way; put a member under it, or spread "
                "the load to members"
            )


def refuse_loose(structure: Structure, factor: Factored, supports: Supports, free_free: bool) -> None:
    """Raise MechanismError where something moves freely."""
    if factor.loose.shape[1] == 0:
        return
    modes = np.zeros((structure.freedoms.count, factor.loose.shape[1]))
    modes[factor.free] = factor.scale[:, None] * factor.loose
    said = tuple(dict.fromkeys(_named(structure, modes, supports, free_free)))
    points = all(name.startswith("point") for name in said)  # of whole parts and released ends the reason is sure
    raise MechanismError("; ".join((*said, NEXT_TO_NOTHING) if points else said))


def _named(structure: Structure, modes: Array, supports: Supports, free_free: bool) -> Iterator[str]:
    """Yield what moves freely: whole parts that hang on nothing first, else what moves most in each movement."""
    parts = list(loose_parts(structure, supports, free_free))
    yield from parts
    bare = [] if parts or structure.sheets is None else _on_bare_sheet(structure, modes)
    yield from bare
    if not parts and not bare:
        for mode in one_by_one(structure, modes):
            yield _most_moved(structure, mode)


def _on_bare_sheet(structure: Structure, modes: Array) -> list[str]:
    """Return which members end on bare sheet, entering the panels' room for a frame that has some."""
    from framecheck.frame.panel.words import ends_on_bare_sheet

    return list(ends_on_bare_sheet(structure, modes))


def one_by_one(structure: Structure, modes: Array) -> Iterator[Array]:
    """Yield movements (n,) that span the same as modes (n, j), each moving one point its own way that the others leave alone.

    Gauss-Jordan elimination on the points' displacements; movements without displacements come last, as they are.
    """
    left = modes / np.maximum(np.abs(modes).max(axis=0), np.finfo(float).tiny)
    six = np.arange(6 * structure.freedoms.n_node).reshape(-1, 6)
    straight = six[:, :3].ravel()
    done: list[int] = []
    for _ in range(left.shape[1]):
        sizes = np.abs(left[straight])
        sizes[:, done] = 0.0
        row, column = np.unravel_index(int(np.argmax(np.round(sizes, 9))), sizes.shape)
        if sizes[row, column] < MOVES:
            break
        left[:, column] /= left[straight[row], column]
        others = np.arange(left.shape[1]) != column
        left[:, others] -= np.outer(left[:, column], left[straight[row], others])
        done.append(int(column))
    yield from (left[:, column] for column in done)
    yield from (left[:, column] for column in range(left.shape[1]) if column not in done)


def parts_of(structure: Structure) -> IntArray:
    """Return the part (n_node,) that each node belongs to: nodes of one part hang together; -1 where nothing hangs."""
    pairs = np.concatenate((structure.pieces.nodes, structure.links.nodes[structure.links.stiffness > 0], _sheet_pairs(structure)))
    part = np.arange(len(structure.pieces.places))
    for _ in range(len(part)):
        least = np.minimum(part[pairs[:, 0]], part[pairs[:, 1]])
        lower = part.copy()
        np.minimum.at(lower, pairs.ravel(), np.repeat(least, 2))
        lower = lower[lower]
        if (lower == part).all():
            break
        part = lower
    alone = np.ones(len(part), dtype=np.bool_)
    alone[pairs.ravel()] = False
    return np.where(alone, -1, part)


def _sheet_pairs(structure: Structure) -> IntArray:
    """Return pairs (m, 2) of nodes that sheet or a stated body joins."""
    sheet = np.zeros(0, dtype=np.int64) if structure.sheets is None else structure.sheets.nodes
    body = np.zeros(0, dtype=np.int64) if structure.body is None else structure.body.freedoms[-1, ::3] // 6
    return np.concatenate([np.stack((each[:-1], each[1:]), axis=1) for each in (sheet, body)])


def loose_parts(structure: Structure, supports: Supports, free_free: bool) -> Iterator[str]:
    """Yield the parts that their supports leave free to move as rigid bodies. Afloat, the part held for reference is not free."""
    part = parts_of(structure)
    grounded = np.concatenate((supports.held, supports.sprung))
    grounded = grounded[grounded < 6 * len(part)]
    for number in np.unique(part[part >= 0]).tolist():
        nodes = np.flatnonzero(part == number)
        free = _free_moves(structure, nodes, grounded[np.isin(grounded // 6, nodes)])
        if len(free) and not (free_free and np.isin(supports.held // 6, nodes).all()):
            yield _part_words(structure, nodes, free, len(np.unique(part[part >= 0])) > 1)


def _free_moves(structure: Structure, nodes: IntArray, grounded: IntArray) -> list[int]:
    """Return the rigid moves (0..5) of a part that its grounded unknowns leave free: its largest ways, at least one if any is."""
    places = structure.pieces.places
    middle = places[nodes].mean(axis=0)
    reach = max(float(np.ptp(places[nodes], axis=0).max()), 1e-3)
    rows = np.zeros((len(grounded), 6))
    for row, unknown in enumerate(grounded.tolist()):
        node, way = divmod(unknown, 6)
        if way < 3:
            rows[row] = rigid_moves((places[node] - middle)[None])[0, way]
            rows[row, 3:] /= reach
        else:
            rows[row, way] = 1.0
    _, sizes, ways = np.linalg.svd(np.vstack((rows, np.zeros((6, 6)))))
    loose = ways[sizes < FREE * max(1.0, float(sizes.max()))]
    shares = np.sum(loose**2, axis=0) if len(loose) else np.zeros(6)
    return [way for way in range(6) if shares[way] > SHARE**2]


def _part_words(structure: Structure, nodes: IntArray, free: list[int], several: bool) -> str:
    """Return which part is free, which way, and what would hold it."""
    names = _names(structure, nodes)
    ways = ", ".join(WAYS[way] for way in free)
    if len(free) == 6 and several:
        return f"the part of {names} hangs on nothing: join it to the rest of the frame or give it supports of its own"
    who = f"the part of {names}" if several else "the whole frame"
    return f"{who} is free to move: {ways}; hold a point of it that way (missing support)"


def _names(structure: Structure, nodes: IntArray) -> str:
    """Return the names of the first points and bodies among nodes."""
    points = list(structure.frame.points)
    bodies = {node: name for name, node in structure.links.bodies.items()}
    said = [f"point '{points[n]}'" for n in nodes.tolist() if n < len(points)]
    said += [f"body '{bodies[n]}'" for n in nodes.tolist() if n in bodies]
    more = f" and {len(said) - 3} more" if len(said) > 3 else ""
    return ", ".join(said[:3]) + more


def _most_moved(structure: Structure, mode: Array) -> str:
    """Return in words what moves most in a movement that nothing resists, m and rad."""
    freedoms = structure.freedoms
    six = mode[: 6 * freedoms.n_node].reshape(-1, 6)
    slips = freedoms.slips
    first = 6 * freedoms.n_node + freedoms.n_tie
    slipped = np.where(slips.stiffness == 0, np.abs(mode[first:]), 0.0)
    stays = np.abs(six[:, :3]).max() < MOVES * np.abs(mode).max()
    if stays and len(slipped) and slipped.max() > SHARE * np.abs(mode).max():
        return _slip_words(structure, int(np.argmax(slipped)))
    if not stays:
        six = six * np.array([1, 1, 1, 0, 0, 0])  # points that move matter more than how they turn
    node, way = np.unravel_index(int(np.argmax(np.round(np.abs(six), 12))), six.shape)
    ways = ", ".join(WAYS[k] for k in range(6) if abs(six[node, k]) > SHARE * abs(six[node, way]))
    return f"{_node_words(structure, int(node))} is free to move: {ways}; {_remedy(structure, int(node))}"


def _slip_words(structure: Structure, slip: int) -> str:
    """Return which member's end moves freely at its joint, and what would hold it."""
    slips = structure.freedoms.slips
    member = structure.frame.members[int(structure.pieces.member[slips.piece[slip]])]
    end = ("start", "end")[int(slips.end[slip])]
    point = member.points[0 if slips.end[slip] == 0 else -1]
    along = structure.beams.axes[slips.piece[slip], 0]
    turns = slips.way[slip] >= 3
    own = abs(float(along @ slips.axis[slip])) > 0.99
    way = "its own axis" if own else WAYS[int(np.argmax(np.abs(slips.axis[slip]))) + (3 if turns else 0)]
    moves = (f"turn about {way}" if turns else f"slide along {way}") if own else f"move: {way}"
    return (
        f"member '{member.name}' is free to {moves} (its {end} at point '{point}' is released that way, and nothing else "
        "holds it); make one of its ends rigid or springy that way"
    )


def _node_words(structure: Structure, node: int) -> str:
    """Return what a node is to the user."""
    if node < len(structure.frame.points):
        return f"point '{list(structure.frame.points)[node]}'"
    bodies = {place: name for name, place in structure.links.bodies.items()}
    if node in bodies:
        return f"body '{bodies[node]}'"
    piece = int(np.flatnonzero((structure.pieces.nodes == node).any(axis=1))[0])
    return f"member '{structure.frame.members[int(structure.pieces.member[piece])].name}' inside"


def _remedy(structure: Structure, node: int) -> str:
    """Return what would hold a node."""
    if node in structure.links.bodies.values():
        return "give its mounts stiffness that way, or set them further apart"
    return "support it that way, brace it, or make a pinned end of its members rigid"
