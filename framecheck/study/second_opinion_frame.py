"""A frame by PyNiteFEA: made ideal, solved by both programs under the case's own loads, number beside number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import inf

import numpy as np

from framecheck.frame.loads import reach_of
from framecheck.frame.results import FrameSolution
from framecheck.frame.solve import Structure, hanging_supports, solve_frame, structure_of
from framecheck.model.arrays import Array
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd
from framecheck.model.loads import CaseLoads, Support
from framecheck.run import Results
from framecheck.section.properties import SectionProperties
from framecheck.study.second_opinion_pynite import Model, arm_of, case_name, model_of, node_name, piece_name
from framecheck.study.second_opinion_section import NEAR, Difference, SecondOpinion, largest_first, version_of

LEFT_OUT = (
    "softness of joints, notches, held warping and shear flexibility",
    "offsets of centroid and shear centre from the members' lines",
    "what forces do on the moved frame",
)
"""What the ideal frame leaves out, in both programs."""


def ideal_structure(frame: Frame, sections: Mapping[str, SectionProperties]) -> Structure:
    """Return our own model of the ideal frame: pins stay pins, every other end is rigid."""
    return structure_of(ideal_frame(frame), {name: ideal_section(each) for name, each in sections.items()})


def ideal_frame(frame: Frame) -> Frame:
    """Return a frame without notches whose joints are rigid and whose members warp freely."""
    return replace(frame, members=tuple(ideal_member(member) for member in frame.members))


def ideal_member(member: Member) -> Member:
    """Return a member without notches and with ideal ends."""
    return replace(member, cuts=(), start=ideal_end(member.start), end=ideal_end(member.end))


def ideal_end(end: MemberEnd) -> MemberEnd:
    """Return an end that is pinned where it was, else rigid; its arm stays."""
    return MemberEnd(Make.PINNED if end.make is Make.PINNED else Make.RIGID, EndWarping.FREE, arm=end.arm)


def ideal_section(section: SectionProperties) -> SectionProperties:
    """Return a section whose axis is its member's line, without warping and without shear flexibility."""
    return replace(
        section,
        centroid=(0.0, 0.0),
        shear_centre=(0.0, 0.0),
        warping_constant=0.0,
        closed=True,
        shear_area_vertical=inf,
        shear_area_sideways=inf,
    )


LIBRARY = "PyNiteFEA"
COMPARED = "the frame with rigid joints and free warping, solved by both"
LINKED = "rubber mounts and springs between points: there they are the forces found here"
KINDS = ("force", "moment")
WAYS = ("DX", "DY", "DZ", "RX", "RY", "RZ")


def opinion_of_frame(results: Results) -> SecondOpinion:
    """Return what PyNiteFEA makes of a case's frame under its own loads, beside ours on the same ideal frame."""
    outcome = results.outcome
    structure = ideal_structure(outcome.case.frame, outcome.sections)
    asked = [case for case in outcome.loads if not (case.warmings or case.moved_supports)]
    rows: list[Difference] = []
    energy: dict[str, float] = {}
    without = left_out(structure, outcome.loads)
    for how in dict.fromkeys((case.free_free, case.supports) for case in asked):
        hangs, supports = how
        cases = [replace(case, free_free=False, supports=None) for case in asked if (case.free_free, case.supports) == how]
        own = structure if supports is None else ideal_structure(replace(outcome.case.frame, supports=supports), outcome.sections)
        held = held_still(own) if hangs else own
        ours = solve_frame(held, cases)
        energy |= dict(zip(ours.cases, ours.energy.tolist(), strict=True))
        found = found_by_library(held, cases, ours, hangs)
        if isinstance(found, str):
            without += (f"{len(cases)} load case{'s' * (len(cases) > 1)} that could not be compared ({found})",)
        else:
            rows += found
    note = as_checked(outcome.solutions, energy)
    return SecondOpinion(LIBRARY, version_of(LIBRARY), outcome.case.title, COMPARED, largest_first(rows), without, note)


def as_checked(solutions: Sequence[FrameSolution], energy: Mapping[str, float]) -> str:
    """Return how much more the frame gives way as it was checked than as the ideal one, where that is most.

    energy: of the ideal one by load case, J.
    """
    found = [
        (each.energy[each.cases.index(name)] / ideal, name)
        for each in solutions
        for name, ideal in energy.items()
        if ideal > 0
    ]
    if not found:
        return ""
    most, name = max(found)
    least = min(share for share, of in found if of == name)
    span = f"{least:.2f} to {most:.2f}" if most > 1.005 * least else f"{most:.2f}"
    return (
        f"as it was checked, with joints as made, warping and offsets, the frame gives way {span} times as far "
        f"in '{name}' as this ideal one"
    )


def left_out(structure: Structure, loads: Sequence[CaseLoads]) -> tuple[str, ...]:
    """Return what was not compared."""
    names = [case.name for case in loads if case.warmings or case.moved_supports]
    without = (f"load cases with warmed members or moved supports: {', '.join(names)}",) if names else ()
    linked = (LINKED,) if len(structure.links.nodes) else ()
    return (*LEFT_OUT, *linked, *without)


LOOSE = 1e-11
"""Smallest pivot of the library's equations, on a diagonal of ones, over the largest, under which nothing holds the frame: held ones
have 1e-9 and more (their rigid arms make them so small), loose ones under 1e-12. Common practice, no source."""


def found_by_library(
    structure: Structure, cases: Sequence[CaseLoads], ours: FrameSolution, hangs: bool
) -> tuple[Difference, ...] | str:
    """Return every number of some load cases, or why the library's answer is none.

    Where the two differ, the library's equations are looked at: what nothing holds moves as far as rounding likes, and so large a
    number would compare nothing.
    """
    try:
        model = model_of(structure, cases, of_links(structure, ours))
        found = tuple(compared(model, ours, hangs))
        if any(not abs(each.share) <= NEAR for each in found) and least_pivot(model) < LOOSE:
            return "the library's equations are singular: in it, nothing holds the frame"
    except Exception as error:  # the library raises what it likes where it can't solve something
        return f"the library can't solve it: {' '.join(str(error).split())[:80]}"
    return found


def least_pivot(model: Model) -> float:
    """Return the smallest pivot of the library's equations over the largest, on a diagonal of ones. RuntimeError: one is nothing."""
    from scipy.sparse import diags
    from scipy.sparse.linalg import splu

    library = model.library
    ways = [(node, place, way) for node in library.nodes.values() for place, way in enumerate(WAYS)]
    free = [6 * node.ID + place for node, place, way in ways if not getattr(node, f"support_{way}")]
    stiffness = library.Ke(next(iter(library.load_combos)), check_stability=False).tocsc()[free][:, free]
    scale = diags(1 / np.sqrt(np.abs(stiffness.diagonal())))
    pivots = np.abs(splu((scale @ stiffness @ scale).tocsc()).U.diagonal())
    return float(pivots.min() / pivots.max())


def compared(model: Model, ours: FrameSolution, hangs: bool) -> Iterator[Difference]:
    """Yield every number of the load cases of a model. hangs: what holds the frame is no support of the case's."""
    for number in range(len(ours.cases)):
        yield from movements(model, ours, number)
        yield from ends(model, ours, number)
        if not hangs:
            yield from ground(model, ours, number)


def held_still(structure: Structure) -> Structure:
    """Return a frame that hangs on nothing, held by three of its points as a rigid body just is: nothing pushes there.

    What the ideal frame's mass, moved to its members' lines, leaves unbalanced goes there in both programs.
    """
    ways = np.zeros((len(structure.frame.points), 6))
    ways.ravel()[hanging_supports(structure).held] = inf
    names = list(structure.frame.points)
    supports = tuple(Support(names[place], tuple(ways[place].tolist())) for place in np.flatnonzero(ways.any(axis=1)).tolist())
    return replace(structure, frame=replace(structure.frame, supports=supports), factors={})


def of_links(structure: Structure, ours: FrameSolution) -> Array:
    """Return what springs and mounts do to the frame points, (n_point, n_case, 6)."""
    links, points = structure.links, len(ours.points)
    moved = np.zeros((len(structure.pieces.places), len(ours.cases), 6))
    moved[:points] = ours.displacements
    for name, node in links.bodies.items():
        moved[node] = ours.bodies[name]
    made = np.zeros_like(moved)
    for nodes, row, stiffness in zip(links.nodes.tolist(), links.rows, links.stiffness.tolist(), strict=True):
        both = np.concatenate((moved[nodes[0]], moved[nodes[1]]), axis=1)
        force = -stiffness * (both @ row)
        made[nodes[0]] += force[:, None] * row[:6]
        made[nodes[1]] += force[:, None] * row[6:]
    return made[:points]


def movements(model: Model, ours: FrameSolution, number: int) -> Iterator[Difference]:
    """Yield the movement and the turn that differ most in a load case."""
    library, case = model.library, case_name(number)
    shared = [node for node in range(len(ours.points)) if node_name(node) in library.nodes]
    mine = ours.displacements[shared, number]
    theirs = np.array([node_movement(library.nodes[node_name(node)], case) for node in shared])
    for quantity, kind, axis, part in (("movement", "deflection", "along", slice(0, 3)), ("turn", "angle", "about", slice(3, 6))):
        one, other = mine[:, part], theirs[:, part]
        size = float(np.abs(one).max(initial=0.0))
        place, way = (int(each) for each in np.unravel_index(int(np.argmax(np.abs(one - other))), one.shape))
        where = f"{ours.points[shared[place]]}, {axis} {'xyz'[way]}, in '{ours.cases[number]}'"
        if size > 0:
            yield Difference(quantity, where, kind, float(one[place, way]), float(other[place, way]), size)


def node_movement(node: object, case: str) -> list[float]:
    """Return the six movements of a node of the library."""
    return [float(getattr(node, way)[case]) for way in WAYS]


def ground(model: Model, ours: FrameSolution, number: int) -> Iterator[Difference]:
    """Yield the reaction that differs most in a load case."""
    points = {name: place for place, name in enumerate(ours.points)}
    rows = []
    for name, found in ours.reactions.items():
        node = model.library.nodes.get(node_name(points[name]))
        if node is not None:
            theirs = [float(getattr(node, f"Rxn{way}")[case_name(number)]) for way in ("FX", "FY", "FZ", "MX", "MY", "MZ")]
            rows.append((name, found[number], np.array(theirs)))
    yield from worst_of("reaction", rows, ours.cases[number], reach_of(model.structure.pieces.places))


def ends(model: Model, ours: FrameSolution, number: int) -> Iterator[Difference]:
    """Yield what the members do to their points where it differs most in a load case."""
    pieces = model.structure.pieces
    rows = []
    for place, member in enumerate(model.structure.frame.members):
        found = ours.member_ends[member.name][number]
        for end, piece in ((0, int(pieces.first[place])), (1, int(pieces.last[place]))):
            words = f"{member.name} on {member.points[-end]}"
            rows.append((words, found[end], push_of(model, piece, end, case_name(number))))
    yield from worst_of("member end", rows, ours.cases[number], reach_of(pieces.places))


def push_of(model: Model, piece: int, end: int, case: str) -> Array:
    """Return force and moment (6,) that the end of a piece puts on its node, vehicle axes."""
    on_member = model.library.members[piece_name(piece)].F(case).ravel()[6 * end : 6 * end + 6]
    found: Array = -np.asarray(on_member, dtype=np.float64)
    found[3:] += np.cross(arm_of(model.structure, piece, end), found[:3])
    return found


def worst_of(quantity: str, rows: Sequence[tuple[str, Array, Array]], case: str, reach: float) -> Iterator[Difference]:
    """Yield the force and the moment that differ most. rows: where, ours, theirs (6,).

    Forces are measured by the largest force of the load case or what its largest moment comes to over the frame's reach (m), moments
    by the largest moment or that force times a hundredth of the reach: rounding is not held against itself.
    """
    push = max((float(np.abs(one[:3]).max()) for _, one, _ in rows), default=0.0)
    turn = max((float(np.abs(one[3:]).max()) for _, one, _ in rows), default=0.0)
    sizes = (max(push, turn / reach), max(turn, push * reach / 100))
    found = [
        Difference(f"{quantity}, {kind}", f"{words}, {'xyz'[way]}, in '{case}'", kind, float(one[at]), float(other[at]), size)
        for words, one, other in rows
        for part, (kind, size) in enumerate(zip(KINDS, sizes, strict=True))
        for way, at in enumerate(range(3 * part, 3 * part + 3))
        if size > 0
    ]
    yield from largest_first(found)
