"""What is wrong with a plate as it was written, all of it at once, and which way it would tip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist, isfinite

import numpy as np

from framecheck.checks.plate.bending import patch_of
from framecheck.checks.plate.stiffeners import HELD_SIDES, breadth
from framecheck.errors import Fault, InputError, MechanismError, standing
from framecheck.model.arrays import Array
from framecheck.model.plate import (
    Bead,
    BoltedPlate,
    EdgeHold,
    HeldEdge,
    InPlane,
    PlateBolt,
    PlateLoad,
    PlateSide,
    Press,
    Stiffener,
    StiffenerRun,
    Strike,
)

NEAR = 1e-9


def require_sound(plate: BoltedPlate) -> None:
    """Raise InputError with every fault of the plate, or MechanismError where it is free to tip."""
    faults = plate_faults(plate)
    if faults:
        raise InputError(faults)
    tipping = which_way_it_tips(plate)
    if tipping:
        raise MechanismError(f"plate {plate.name}: {tipping}; hold it at three points or more that are not in one line")


def mm(*lengths: float) -> str:
    """Return lengths in words: "(10, 20) mm" or "10 mm"."""
    words = ", ".join(f"{round(1e3 * length, 3) + 0.0:.4g}" for length in lengths)
    return f"({words}) mm" if len(lengths) > 1 else f"{words} mm"


def plate_faults(plate: BoltedPlate) -> tuple[Fault, ...]:
    """Return every fault of a plate's sizes, bolts, edges, stiffeners and loads."""
    return standing(_plate_faults(plate), "plates", plate.name)


def _plate_faults(plate: BoltedPlate) -> Iterator[Fault]:
    name = f"plate {plate.name}"
    if not min(plate.length, plate.width, plate.thickness) > 0:
        yield Fault("", name, "a length, width or thickness is not above zero", "give the sizes of the sheet")
        return
    if not plate.loads:
        yield Fault("", name, "nothing acts on it", "give it a press, a pressure or a strike")
    if plate.in_plane is InPlane.HELD and len(plate.bolts) < 2 and all(e.hold is EdgeHold.ELASTIC for e in plate.edges):
        yield Fault("", name, "nothing keeps it from drawing in", "give it two bolts or more, or write that it is free to draw in")
    yield from _bolt_faults(plate)
    yield from _edge_faults(plate)
    for stiffener in plate.stiffeners:
        yield from standing(_stiffener_faults(plate, stiffener), "plates", plate.name, "stiffeners", stiffener.name)
    for load in plate.loads:
        yield from standing(_load_faults(plate, load), "plates", plate.name, "loads", load.name)


def _inside(plate: BoltedPlate, at: tuple[float, float], half: tuple[float, float] = (0.0, 0.0)) -> bool:
    return all(
        reach - NEAR <= place <= size - reach + NEAR
        for place, reach, size in zip(at, half, (plate.length, plate.width), strict=True)
    )


def _bolt_faults(plate: BoltedPlate) -> Iterator[Fault]:
    if sum(bolt.seat**2 for bolt in plate.bolts) > plate.length * plate.width / 2:
        yield Fault("", f"plate {plate.name}", "its bolts' seats cover most of it", "give the diameter of a head or washer")
    for n, bolt in enumerate(plate.bolts):
        found = _faults_of_bolt(plate, bolt, plate.bolts[:n])
        yield from standing(found, "plates", plate.name, "bolts", bolt.name)


def _faults_of_bolt(plate: BoltedPlate, bolt: PlateBolt, before: Sequence[PlateBolt]) -> Iterator[Fault]:
    name = f"plate {plate.name}, bolt {bolt.name}"
    if not _inside(plate, bolt.at):
        size = mm(plate.length, plate.width)
        yield Fault("", name, f"at {mm(*bolt.at)} it is outside the plate", f"keep it between (0, 0) and {size}")
    if not bolt.seat > 0:
        yield Fault("", name, "its seat has no diameter", "give the diameter of its head or washer")
    if not bolt.stiffness > 0:
        yield Fault("", name, "what it hangs on has no stiffness", "give a stiffness above zero, or none: stiff")
    for other in before:
        if dist(bolt.at, other.at) < (bolt.seat + other.seat) / 2 - NEAR:
            yield Fault("", name, f"its seat lies over the seat of bolt {other.name}", "give each bolt its own place")
    for edge in plate.edges:
        if edge.hold is not EdgeHold.ELASTIC and _on_edge(plate, edge, bolt.at):
            yield Fault("", name, f"it sits on the {edge.edge.value} edge, which is held", "leave one of the two out")


def _on_edge(plate: BoltedPlate, edge: HeldEdge, at: tuple[float, float]) -> bool:
    run, end = HELD_SIDES[edge.edge]
    axis = 1 if run is StiffenerRun.X else 0
    return abs(at[axis] - (0.0 if end == 0 else breadth(plate, run))) < NEAR


def _edge_faults(plate: BoltedPlate) -> Iterator[Fault]:
    for n, edge in enumerate(plate.edges):
        name = f"plate {plate.name}, {edge.edge.value} edge"
        if any(other.edge is edge.edge for other in plate.edges[:n]):
            yield Fault("", name, "it is held twice", "say once how it is held", ("plates", plate.name, "edges"))
        given = (edge.stiffness, edge.turning)
        if edge.hold is EdgeHold.ELASTIC and not (max(given) > 0 and min(given) >= 0 and all(map(isfinite, given))):
            yield Fault("", name, "an elastic edge without stiffness", "give its stiffness per length, above zero",
                        ("plates", plate.name, "edges"))  # fmt: skip


def _stiffener_faults(plate: BoltedPlate, stiffener: Stiffener) -> Iterator[Fault]:
    kind = "bead" if isinstance(stiffener, Bead) else "rib"
    name = f"plate {plate.name}, {kind} {stiffener.name}"
    along, across = (plate.length, plate.width) if stiffener.run is StiffenerRun.X else (plate.width, plate.length)
    half = stiffener.width / 2 if isinstance(stiffener, Bead) else stiffener.thickness / 2
    if not -NEAR <= stiffener.start < stiffener.end <= along + NEAR:
        span = f"{mm(stiffener.start)} to {mm(stiffener.end)}"
        yield Fault("", name, f"its run from {span} does not fit", f"keep it between 0 and {mm(along)}, start first")
    if not half - NEAR <= stiffener.at <= across - half + NEAR:
        yield Fault("", name, f"on its line at {mm(stiffener.at)} it is outside the plate",
                    f"keep it between {mm(half)} and {mm(across - half)}")  # fmt: skip
    if not (stiffener.height > 0 and half > 0):
        yield Fault("", name, "a size is not above zero", "give its height and width or thickness")
    if isinstance(stiffener, Bead) and not 0 <= stiffener.crest < stiffener.width:
        yield Fault("", name, "its crest is not narrower than its foot", f"give a crest from 0 to {mm(stiffener.width)}")
    if plate.gap is not None and stiffener.facing is PlateSide.UP and stiffener.height >= plate.gap:
        yield Fault("", name, f"{mm(stiffener.height)} tall, it fills the gap of {mm(plate.gap)} above the plate",
                    "make it lower, face it down, or hang the plate lower")  # fmt: skip


def _load_faults(plate: BoltedPlate, load: PlateLoad) -> Iterator[Fault]:
    name, patch = f"plate {plate.name}, load {load.name}", patch_of(load)
    if patch is not None:
        if not min(patch.size) > 0:
            yield Fault("", name, "its patch has no size", "give the patch a length and a width")
        elif not _inside(plate, patch.at, (patch.size[0] / 2, patch.size[1] / 2)):
            yield Fault("", name, f"its patch of {mm(*patch.size)} at {mm(*patch.at)} is outside the plate",
                        f"keep all of it between (0, 0) and {mm(plate.length, plate.width)}")  # fmt: skip
        if patch.rock is not None and not patch.rock > 0:
            yield Fault("", name, "the rock's sharp end has no diameter", "give its diameter, or leave it out: blunt")
    if isinstance(load, Press) and load.force == 0:
        yield Fault("", name, "its force is zero", "give the force, upward above zero")
    if isinstance(load, Strike) and not load.blow.mass > 0:
        yield Fault("", name, "nothing strikes: its mass is not above zero", "give the vehicle's mass share")


def _holds(plate: BoltedPlate) -> Array:
    """Return rows (k, 3): what each support holds of the rigid moves 1, x, y."""
    rows = [(1.0, *bolt.at) for bolt in plate.bolts]
    for edge in plate.edges:
        run, end = HELD_SIDES[edge.edge]
        level = 0.0 if end == 0 else breadth(plate, run)
        if edge.hold is not EdgeHold.ELASTIC or edge.stiffness > 0:
            rows += [(1.0, *(spot if run is StiffenerRun.Y else spot[::-1])) for spot in
                     ((level, 0.0), (level, plate.width if run is StiffenerRun.Y else plate.length))]  # fmt: skip
        if edge.hold is EdgeHold.CLAMPED or (edge.hold is EdgeHold.ELASTIC and edge.turning > 0):
            rows.append((0.0, *((1.0, 0.0) if run is StiffenerRun.Y else (0.0, 1.0))))
    return np.array(rows, dtype=np.float64).reshape(-1, 3)


def which_way_it_tips(plate: BoltedPlate) -> str:
    """Return how the plate moves freely, in words; "" where it does not."""
    size = max(plate.length, plate.width)
    holds = _holds(plate) / np.array([1.0, size, size])
    strengths, ways = (np.zeros(3), np.eye(3)) if len(holds) == 0 else np.linalg.svd(holds)[1:]
    rank = int(np.sum(strengths > 1e-9))
    if rank == 3:
        return ""
    if rank == 0:
        return "nothing holds it up"
    if rank == 1:
        at = next((bolt.at for bolt in plate.bolts), (0.0, 0.0))
        return f"it is held at one point and tips every way about {mm(*at)}"
    return _about_a_line(plate, np.asarray(ways[2] / np.array([1.0, size, size])))


def _about_a_line(plate: BoltedPlate, way: Array) -> str:
    """Return in words how w = way . (1, x, y) tips the plate, and which end its first load pushes along."""
    if np.hypot(way[1], way[2]) * max(plate.length, plate.width) < 1e-9:
        return "it moves up and down freely"
    patch, sign = (patch_of(plate.loads[0]), 1.0) if plate.loads else (None, 1.0)
    at = patch.at if patch is not None else (plate.length / 2, plate.width / 2)
    if float(way @ np.array([1.0, *at])) < 0:
        sign = -1.0
    lengthwise = abs(way[1]) * plate.length >= abs(way[2]) * plate.width
    ends = ("rear", "front") if lengthwise else ("right", "left")
    up = ends[1] if sign * way[1 if lengthwise else 2] > 0 else ends[0]
    foot = -way[0] * way[1:] / float(way[1:] @ way[1:])
    angle = np.degrees(np.arctan2(way[1], -way[2])) % 180
    return (
        f"its supports lie in one line, through {mm(*(float(part) for part in foot))} at {angle:.0f} degrees to plate x, "
        f"and it tips about that line: a push up at {mm(*at)} lifts its {up} end"
    )
