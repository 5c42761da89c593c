"""An axle's suspension, whatever its kind: roll stiffness and roll centre, and its forces on the frame's brackets."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.model.said import Words
from framecheck.model.suspension import AntiRollBar, LeafAxle, LinkAxle
from framecheck.model.vehicle import Axle
from framecheck.value_class import value_class
from framecheck.vehicle.corners import AXES, CornerStatics, Points, corner_statics, on_carrier
from framecheck.vehicle.link_axles import link_axle
from framecheck.vehicle.live_axles import bar_brackets, leaf_axle, travel_notes
from framecheck.vehicle.masses import wheel_centre
from framecheck.vehicle.scene import Attachment, AxleSuspension, BracketForce, Carried, Roll, given_roll, track, vector
from framecheck.vehicle.statics import Loads, bracket_forces, joint_forces, load_rows, shared
from framecheck.vehicle.travel import RollLaw, Travel, linear, roll_law, stiffer


def suspension_of(axle: Axle, points: Points) -> AxleSuspension:
    """Return the suspension of an axle, ready for statics."""
    if isinstance(axle.live, LeafAxle):
        return leaf_axle(axle, axle.live, points)
    if isinstance(axle.live, LinkAxle):
        return link_axle(axle, axle.live, points)
    if axle.left.corner is not None and axle.right.corner is not None:
        left = corner_statics(axle.left, axle.left.corner, points)
        return CornerAxle(axle, points, left, corner_statics(axle.right, axle.right.corner, points))
    return PlainAxle(axle, points)


@value_class
class PlainAxle:
    """Suspension of which only the frame points are known: they share each wheel's forces by statics."""

    axle: Axle
    points: Points

    @property
    def roll(self) -> Roll:
        """Return what the user gave."""
        return given_roll(self.axle, Roll())

    @property
    def roll_law(self) -> RollLaw | None:
        """Return a roll without limits, of the stiffness that the user gave."""
        return None if self.roll.stiffness is None else linear(self.roll.stiffness)

    def travel(self, wheels: int) -> Travel | None:
        """Return that no spring is known."""
        del wheels
        return None

    def carry(self, now: Array, rest: Array) -> Carried:
        """Return each wheel's force and moment shared by its frame points; `rest` makes no difference."""
        rows: list[BracketForce] = []
        for wheel, total in zip((self.axle.left, self.axle.right), now, strict=True):
            feet = [Attachment(f"{wheel.name} wheel", name, self.points[name]) for name in wheel.on]
            parts = shared(total, wheel_centre(wheel), tuple(foot.at for foot in feet))
            rows += [
                BracketForce(foot, vector(row[:3]), vector(row[3:])) for foot, row in zip(feet, parts, strict=True)
            ]
        return Carried(tuple(rows))


@value_class
class CornerAxle:
    """Two independent corners, with an anti-roll bar or without."""

    axle: Axle
    points: Points
    left: CornerStatics
    right: CornerStatics

    @property
    def roll(self) -> Roll:
        """Return stiffness of springs and bar at the wheels, and the roll centre from the corners' statics.

        Springs (k_left + k_right) (t/2)^2, bar k (travel ratio)^2 t^2 (virtual work). The roll centre is where a
        sideways force moves no spring: t/2 x (spring force per sideways force) / (spring force per vertical force).
        """
        width = track(self.axle)
        stiffness = (self.left.wheel_rate + self.right.wheel_rate) * width**2 / 4
        if self.axle.bar is not None:
            stiffness += self.axle.bar.rate * (self._link_ratio(0, self.axle.bar) * width) ** 2
        lifts = [_sideways(each) / each.spring_per_load for each in (self.left, self.right)]
        ground = (self.axle.left.contact[2] + self.axle.right.contact[2]) / 2
        return given_roll(self.axle, Roll(stiffness, ground + (lifts[0] - lifts[1]) / 2 * width / 2))

    @property
    def roll_law(self) -> RollLaw | None:
        """Return the roll on the stiffer of both corners, whose travel is the shorter, and the bar."""
        assert self.roll.stiffness is not None
        return roll_law(self.travel(1), track(self.axle), self.roll.stiffness)

    def travel(self, wheels: int) -> Travel:
        """Return the wheel's own travel, that of the side which gives the higher force where the two differ."""
        del wheels
        return stiffer(self.left.travel, self.right.travel)

    def carry(self, now: Array, rest: Array) -> Carried:
        """Return the bracket forces: the corners by statics, the bar by its share of the roll."""
        sides = (self.left, self.right)
        push = self._bar_force(now, rest)
        rows: list[BracketForce] = []
        notes: list[Words] = []
        for number, side in enumerate(sides):
            loads = self._bar_load(number, push)
            forces, said = settled(side, now[number], rest[number], loads)
            rows += bracket_forces(side.mechanism, forces, loads)
            notes += said
        if self.axle.bar is not None:
            rows += bar_brackets(self.axle.name, self.axle.bar, push, self.points)
        return Carried(tuple(rows), tuple(notes))

    def _bar_load(self, number: int, push: float) -> Loads:
        if self.axle.bar is None:
            return ()
        body = (self.left, self.right)[number].arms[self.axle.bar.on]
        return ((body, np.array([0.0, 0.0, push if number else -push]), self.axle.bar.ends[number]),)

    def _bar_force(self, now: Array, rest: Array) -> float:
        """Return the bar's link force, N, + where the left wheel is further up than the right, compared with rest.

        P = k (u_left - u_right), u the link's travel; each spring gives way under its own link's force.
        """
        if self.axle.bar is None:
            return 0.0
        apart, soft = 0.0, 0.0
        for number, (side, sign) in enumerate(((self.left, 1.0), (self.right, -1.0))):
            per_link = self._per_link(number, self.axle.bar)
            moved = (spring_force(side, now[number]) - spring_force(side, rest[number])) / side.source.rate
            apart += sign * moved * per_link
            soft += per_link**2 / side.source.rate
        return self.axle.bar.rate * apart / (1 + self.axle.bar.rate * soft)

    def _per_link(self, number: int, bar: AntiRollBar) -> float:
        side = (self.left, self.right)[number]
        return side.per_force(AXES[2], bar.ends[number], side.arms[bar.on])

    def _link_ratio(self, number: int, bar: AntiRollBar) -> float:
        """Return link travel per wheel travel."""
        return self._per_link(number, bar) / (self.left, self.right)[number].spring_per_load


def spring_force(side: CornerStatics, total: Array) -> float:
    """Return the spring's compression force under a wheel force and moment (6,), N."""
    return float(joint_forces(side.mechanism, on_carrier(side.mechanism, total), side.at_rest())[side.spring])


def settled(side: CornerStatics, now: Array, rest: Array, loads: Loads) -> tuple[Array, tuple[Words, ...]]:
    """Return the joint forces of a corner with its travel limits kept, and what is to be said.

    Past its travel the spring's force stays, and the bump stop or the droop strap takes the rest at its own place.
    """
    load = on_carrier(side.mechanism, now) + sum(
        (load_rows(side.mechanism, body, force, at) for body, force, at in loads),
        np.zeros(6 + len(side.mechanism.hinges)),
    )
    forces = joint_forces(side.mechanism, load, side.at_rest())
    before, ratio = spring_force(side, rest), side.spring_per_load
    travel = (float(forces[side.spring]) - before) / side.source.rate * ratio
    said = tuple(travel_notes(f"{side.wheel.name} wheel", travel, side.source.bump, side.source.droop))
    bump, droop = side.source.bump, side.source.droop
    if bump is not None and travel > bump and side.stop is not None:
        limit, works = bump, side.stop
    elif droop is not None and -travel > droop and side.strap is not None:
        limit, works = -droop, side.strap
    else:
        return forces, said
    given = {side.spring: before + side.source.rate * limit / ratio}
    given |= {number: 0.0 for number in side.at_rest() if number != works}
    return joint_forces(side.mechanism, load, given), said


def _sideways(side: CornerStatics) -> float:
    """Return the spring force per sideways force at the contact patch."""
    contact: Vector = side.wheel.contact
    return side.per_force(AXES[1], contact)
