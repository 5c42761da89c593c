"""What was read in the shop: loads in the order in which they were put on, and what each dial read. SI."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Frame
from framecheck.rig.places import pair_at, spot_at_point, spot_on
from framecheck.rig.setup import UP, AskedTest, Dial, Plane, Rig, Spot
from framecheck.value_class import array_class, value_class

SAME = 1e-6
"""m; dials nearer than this stand at one place."""


@value_class
class OwnDial:
    """A dial that the readings' file places itself: at a frame point, on a member at a station, or on a bar across both rails at x, y.

    place: "file:line".
    """

    name: str
    place: str
    point: str = ""
    member: str = ""
    station: float = 0.0
    across: tuple[float, float] | None = None
    direction: Vector = UP
    at_stand: bool = False


@value_class
class OwnPair:
    """Two of the file's own dials whose difference is a turn."""

    name: str
    place: str
    left: str
    right: str


@array_class
class ReadingsRecord:
    """Readings. loads (n,): N, in the order of the test; values (n, n_dial): m, NaN where a dial was not read; lines: of the file.

    names: of the dials; a letter of the sheet, its name there, or that of an own dial. asked: the rig, own dials and pairs: () the
    sheet's. resolution: of the dials, m.
    """

    file: str
    asked: AskedTest
    names: tuple[str, ...]
    loads: Array
    values: Array
    lines: tuple[int, ...]
    dials: tuple[OwnDial, ...] = ()
    pairs: tuple[OwnPair, ...] = ()


def with_own_dials(rig: Rig, record: ReadingsRecord) -> Rig:
    """Return the rig with the dials of the readings' file; InputError: a place that is none, two dials at one place."""
    if not record.dials:
        return rig
    faults: list[Fault] = []
    found: dict[str, Dial] = {}
    for own in record.dials:
        try:
            dial = placed(rig.frame, own)
        except InputError as error:
            faults += [replace(each, place=own.place) for each in error.faults]
            continue
        same = next((name for name, each in found.items() if is_same(each, dial)), None)
        if same is not None:
            fault = f"it stands where '{same}' does, and reads the same way"
            remedy = "leave one out, or correct its place: a second dial there tells nothing new"
            faults.append(Fault(own.place, own.name, fault, remedy))
        found[own.name] = dial
    planes = tuple(planes_of(found, record, faults))
    if rig.torque and not planes and not faults:
        fault = "this rig twists the frame, and no pair of dials tells the turn"
        faults.append(Fault(record.dials[0].place, "pairs", fault, "write pairs: a left and a right dial each"))
    if faults:
        raise InputError(faults)
    return replace(rig, dials=tuple(found.values()), planes=planes, sag=rig.sag if rig.torque else (0,))


def is_same(first: Dial, second: Dial) -> bool:
    """Return whether two dials read one place the same way."""
    apart = np.abs(np.subtract(first.spot.at, second.spot.at)).max()
    return bool(apart < SAME and np.allclose(first.direction, second.direction))


def planes_of(found: dict[str, Dial], record: ReadingsRecord, faults: list[Fault]) -> list[Plane]:
    """Return the pairs of own dials, front first; faults are added to the list."""
    planes, names = [], list(found)
    for pair in record.pairs:
        own = {each.name for each in record.dials}
        unknown = [name for name in (pair.left, pair.right) if name not in own]
        if not unknown and not {pair.left, pair.right} <= found.keys():
            continue  # said at the dial: its place is none
        faults += [Fault(pair.place, pair.name, f"'{name}' is no dial of this file", "name one under dials") for name in unknown]
        if unknown:
            continue
        left, right = found[pair.left].spot.at, found[pair.right].spot.at
        if left[1] - right[1] < SAME:
            faults.append(Fault(pair.place, pair.name, f"'{pair.left}' is not to the left of '{pair.right}'", "swap the two"))
            continue
        span, x = left[1] - right[1], (left[0] + right[0]) / 2
        planes.append(Plane(pair.name, x, names.index(pair.left), names.index(pair.right), span))
    return sorted(planes, key=lambda plane: -plane.x)


def placed(frame: Frame, own: OwnDial) -> Dial:
    """Return a dial at the place that the file gives it. InputError without a line: there is no such place."""
    if own.point:
        if own.point not in frame.points:
            raise InputError([Fault("", own.name, f"'{own.point}' is no point of the frame", "use a point's name")])
        return Dial(own.name, spot_at_point(frame, own.point), own.direction, own.at_stand)
    if own.across is not None:
        return on_a_bar(frame, own, own.across)
    member = next((each for each in frame.members if each.name == own.member), None)
    if member is None:
        raise InputError([Fault("", own.name, f"'{own.member}' is no member of the frame", "use a member's name")])
    return Dial(own.name, spot_on(frame, member, own.station, own.member), own.direction, own.at_stand)


def on_a_bar(frame: Frame, own: OwnDial, across: tuple[float, float]) -> Dial:
    """Return a dial on a measuring bar laid across both rails at x: it moves as the straight line through the two rails does."""
    x, y = across
    pair = pair_at(frame, x)
    if pair is None:
        raise InputError([Fault("", own.name, "no rails on both sides carry a bar there", "correct its x")])
    left, right = pair
    share = (y - right.at[1]) / (left.at[1] - right.at[1])
    z = share * left.at[2] + (1 - share) * right.at[2]
    return Dial(own.name, Spot(f"bar at x {x:.3f} m", (x, y, z)), own.direction, own.at_stand, ((left, share), (right, 1 - share)))
