"""Live axles on leaf springs or on links and springs; anti-roll bars."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector
from framecheck.model.said import Said, SaidAmount, Topic, Words, said
from framecheck.model.suspension import AntiRollBar, LeafAxle, LeafSpring
from framecheck.model.vehicle import Axle
from framecheck.value_class import value_class
from framecheck.vehicle.corners import LEAST_LENGTH, Points, foot, unit
from framecheck.vehicle.masses import wheel_centre
from framecheck.vehicle.scene import Attachment, BracketForce, Carried, Roll, cross, given_roll, track, vector, wrench
from framecheck.vehicle.statics import shared
from framecheck.vehicle.travel import RollLaw, Travel, roll_law, stiffer, travel_of


def travel_notes(name: str, travel: float, bump: float | None, droop: float | None) -> Iterator[Said]:
    """Say where something would travel further than it can, m; bump, droop: its limits up and down from rest."""
    if bump is not None and travel > bump:
        yield said(f"the {name} is on its bump stop: ", asked(travel), " asked of ", asked(bump), topic=Topic.TRAVEL)
    if droop is not None and -travel > droop:
        yield said(f"the {name} is at full droop: ", asked(-travel), " asked of ", asked(droop), topic=Topic.TRAVEL)


def asked(travel: float) -> SaidAmount:
    """Return a travel, m."""
    return SaidAmount(travel, "deflection")


def bar_brackets(axle: str, bar: AntiRollBar, push: float, points: Points) -> Iterator[BracketForce]:
    """Yield what a bar's two bushes do to the frame when its links push down the left and up the right with `push`, N.

    The bar itself is pushed up on the left and down on the right; its bushes answer as a couple.
    """
    left, right = (
        foot(f"{axle} anti-roll bar, {side} bush", each, points)
        for side, each in zip(("left", "right"), bar.bushes, strict=True)
    )
    about = np.array(left.at)
    up = np.array([0.0, 0.0, push])
    total = wrench(up, bar.ends[0], about) + wrench(-up, bar.ends[1], about)
    rows = shared(total, left.at, (left.at, right.at))
    yield from (
        BracketForce(each, vector(row[:3]), vector(row[3:])) for each, row in zip((left, right), rows, strict=True)
    )


def bar_push(bar: AntiRollBar | None, roll: float, softness: float) -> float:
    """Return the link force of a bar on an axle that would roll by `roll` (rad, left up) without it, N.

    softness: roll per moment without the bar, rad/Nm. P = k w roll / (1 + k w2 softness), w between the links.
    """
    if bar is None:
        return 0.0
    apart = bar.ends[0][1] - bar.ends[1][1]
    return bar.rate * apart * roll / (1 + bar.rate * apart**2 * softness)


def bar_load(bar: AntiRollBar | None, push: float, about: Vector) -> Array:
    """Return force and moment (6,) of a bar's links on the housing about a place."""
    if bar is None:
        return np.zeros(6)
    down = np.array([0.0, 0.0, -push])
    return wrench(down, bar.ends[0], about) + wrench(-down, bar.ends[1], about)


SIDES = ("left", "right")


def housing_load(axle: Axle, wheels: Array, about: Vector) -> Array:
    """Return force and moment (6,) of both wheels (2, 6, about their centres) on the housing about a place."""
    total = np.zeros(6)
    for wheel, each in zip((axle.left, axle.right), wheels, strict=True):
        total += wrench(each[:3], wheel_centre(wheel), about)
        total[3:] += each[3:]
    return total


def middle(first: Vector, second: Vector) -> Vector:
    """Return the place half-way."""
    return vector((np.array(first) + np.array(second)) / 2)


@value_class
class LeafStatics:
    """A live axle on leaf springs. pads: where each spring's eye line passes the axle (left, right), m."""

    axle: Axle
    live: LeafAxle
    points: Points
    pads: tuple[Vector, Vector]

    @property
    def softness(self) -> float:
        """Return roll per moment of the springs alone, 1 / (k s2 / 2), rad/Nm."""
        apart = self.pads[0][1] - self.pads[1][1]
        return 4.0 / ((self.live.left.rate + self.live.right.rate) * apart**2)

    @property
    def roll(self) -> Roll:
        """Return roll stiffness of springs and bar; the roll centre lies on the eye lines (statics of the springs)."""
        bar = self.axle.bar
        of_bar = 0.0 if bar is None else bar.rate * (bar.ends[0][1] - bar.ends[1][1]) ** 2
        return given_roll(self.axle, Roll(1 / self.softness + of_bar, middle(*self.pads)[2]))

    @property
    def pad_travel(self) -> Travel:
        """Return the travel at a spring's pad, that of the side which gives the higher force where the two differ."""
        left, right = (travel_of(s.rate, s.bump, s.droop, s.stop_rate, s.strap_rate) for s in (self.live.left, self.live.right))
        return stiffer(left, right)

    @property
    def roll_law(self) -> RollLaw | None:
        """Return the roll on both springs, their stops and straps, and the bar."""
        assert self.roll.stiffness is not None
        return roll_law(self.pad_travel, self.pads[0][1] - self.pads[1][1], self.roll.stiffness)

    def travel(self, wheels: int) -> Travel:
        """Return a wheel's travel from that of the pads."""
        return at_wheel(self.pad_travel, track(self.axle) / (self.pads[0][1] - self.pads[1][1]), wheels)

    def carry(self, now: Array, rest: Array) -> Carried:
        """Return the forces of the spring eyes, shackles and bump stops on the frame."""
        about = middle(*self.pads)
        load, before = housing_load(self.axle, now, about), housing_load(self.axle, rest, about)
        push = bar_push(self.axle.bar, float(load[3] - before[3]) * self.softness, self.softness)
        parts = shared(load + bar_load(self.axle.bar, push, about), about, self.pads)
        still = shared(before, about, self.pads)
        rows: list[BracketForce] = []
        notes: list[Words] = []
        springs = (self.live.left, self.live.right)
        for side, spring, pad, part, was in zip(SIDES, springs, self.pads, parts, still, strict=True):
            name = f"{self.axle.name} {side} spring"
            stopped = beyond_bump(spring.rate, spring.bump, float(part[2] - was[2])) if spring.stop is not None else 0.0
            rows += leaf_brackets(name, spring, pad, part - np.array([0, 0, stopped, 0, 0, 0]), self.points)
            if spring.stop is not None:
                rows.append(through(foot(f"{name}, bump stop", spring.stop, self.points), np.array([0.0, 0.0, stopped]), pad))
            notes += travel_notes(
                f"{self.axle.name} {side} spring", float(part[2] - was[2]) / spring.rate, spring.bump, spring.droop
            )
        if self.axle.bar is not None:
            rows += bar_brackets(self.axle.name, self.axle.bar, push, self.points)
        return Carried(tuple(rows), tuple(notes))


def at_wheel(pads: Travel, lever: float, wheels: int) -> Travel:
    """Return a wheel's travel on an axle held by two springs, track / spring base = lever, one wheel or both moving up.

    One wheel's load F puts F (1 + lever)/2 on the near spring and moves the wheel up by F (1 + lever2) / 2k (statics of a beam
    on two springs). Its stop touches when the near spring's travel is used up.
    """
    if wheels > 1:
        return pads
    share, rate = (1 + lever) / 2, 2 * pads.rate / (1 + lever**2)
    per_travel = pads.rate / (share * rate)
    stiffening = rate / pads.rate
    return Travel(rate, pads.bump * per_travel, pads.droop * per_travel, pads.stop_rate * stiffening, pads.strap_rate * stiffening)


def beyond_bump(rate: float, bump: float | None, more: float) -> float:
    """Return what the bump stop takes of a spring's force, N, `more` than at rest: what is beyond its rate times its travel."""
    return 0.0 if bump is None else max(more - rate * bump, 0.0)


def through(at: Attachment, force: Array, place: Vector) -> BracketForce:
    """Return a force that acts through a place, on a bracket beside it."""
    return BracketForce(at, vector(force), vector(cross(np.array(place) - np.array(at.at), force)))


def leaf_axle(axle: Axle, live: LeafAxle, points: Points) -> LeafStatics:
    """Return a leaf-sprung axle ready for statics."""
    centre = middle(wheel_centre(axle.left), wheel_centre(axle.right))
    left, right = (
        _pad(spring, centre[0], points, f"{axle.name} {side} spring")
        for side, spring in zip(SIDES, (live.left, live.right), strict=True)
    )
    if abs(left[1] - right[1]) < LEAST_LENGTH:
        raise UnsolvableError(
            f"{axle.name}: both leaf springs are in one line and don't hold it in roll; move them apart"
        )
    return LeafStatics(axle, live, points, (left, right))


def leaf_brackets(name: str, spring: LeafSpring, pad: Vector, load: Array, points: Points) -> Iterator[BracketForce]:
    """Yield what a leaf spring does to the frame under force and moment (6,) at its pad: statics of the spring.

    The shackle pushes along itself in the side view, sized by the moment about the eye; sideways the two ends share by
    their distances; a moment about x that is left goes half to each end. The shackle's hinge carries what turns it as its eye
    stands beside or below its pin.
    """
    eye = foot(f"{name}, fixed eye", spring.eye, points)
    pin = foot(f"{name}, shackle", spring.shackle, points)
    shackle = _in_side_view(pin.at, spring.shackle_eye, f"{name} shackle")
    arm = np.array(spring.shackle_eye) - np.array(eye.at)
    about_eye = cross(np.array(pad) - np.array(eye.at), load[:3]) + load[3:]
    along, sideways = cross(arm, shackle), cross(arm, np.array([0.0, 1.0, 0.0]))
    if abs(along[1]) < 1e-3 * float(np.linalg.norm(arm)):
        raise UnsolvableError(
            f"{name}: the shackle points along the spring and can't carry a vertical load; turn it up or down"
        )
    size = -about_eye[1] / along[1]
    across = -(about_eye[2] + size * along[2]) / sideways[2]
    left_over = about_eye[0] + size * along[0] + across * sideways[0]
    hold = size * shackle + np.array([0.0, across, 0.0])
    half = np.array([left_over / 2, 0.0, 0.0])
    drop = cross(np.array(spring.shackle_eye) - np.array(pin.at), -hold)
    yield BracketForce(eye, vector(load[:3] + hold), vector(half))
    yield BracketForce(pin, vector(-hold), vector(half + drop))


def _in_side_view(start: Vector, end: Vector, name: str) -> Array:
    """Return the unit direction from one place to another as seen from the side."""
    return np.array(unit((start[0], 0.0, start[2]), (end[0], 0.0, end[2]), f"{name}, seen from the side"))


def _pad(spring: LeafSpring, x: float, points: Points, name: str) -> Vector:
    """Return the place on the line between the spring's eyes at the axle's x."""
    eye = np.array(points[spring.eye.point] if spring.eye.at is None else spring.eye.at)
    other = np.array(spring.shackle_eye)
    if abs(other[0] - eye[0]) < LEAST_LENGTH:
        raise UnsolvableError(f"{name}: one eye is straight above the other; a leaf spring's eyes lie fore and aft")
    return vector(eye + (other - eye) * (x - eye[0]) / (other[0] - eye[0]))
