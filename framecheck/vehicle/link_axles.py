"""A live axle on links and springs, with a lateral rod among the links or a lateral linkage."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.said import Words
from framecheck.model.suspension import LateralLinkage, LinkAxle
from framecheck.model.vehicle import Axle
from framecheck.value_class import value_class
from framecheck.vehicle.corners import Points, foot, pusher, rod
from framecheck.vehicle.live_axles import (
    at_wheel,
    bar_brackets,
    bar_load,
    bar_push,
    beyond_bump,
    housing_load,
    middle,
    through,
    travel_notes,
)
from framecheck.vehicle.masses import wheel_centre
from framecheck.vehicle.scene import Attachment, BracketForce, Carried, Roll, given_roll, track, vector
from framecheck.vehicle.statics import Joint, Mechanism, bracket_forces, compliance, joint_forces, shared
from framecheck.vehicle.travel import RollLaw, Travel, roll_law, stiffer, travel_of


@value_class
class LinkStatics:
    """A live axle on links ready for statics. The first two joints are the springs (left, right)."""

    axle: Axle
    live: LinkAxle
    points: Points
    mechanism: Mechanism

    @property
    def roll(self) -> Roll:
        """Return roll stiffness with the bar, and the roll centre: the height where a sideways force makes no roll."""
        soft = compliance(self.mechanism)
        bar = self.axle.bar
        of_bar = 0.0 if bar is None else bar.rate * (bar.ends[0][1] - bar.ends[1][1]) ** 2
        centre = self.mechanism.centre[2] + float(soft[3, 1] / soft[3, 3])
        return given_roll(self.axle, Roll(1 / float(soft[3, 3]) + of_bar, centre))

    @property
    def spring_base(self) -> float:
        """Return the distance at which two upright springs would hold the axle in roll as these do, M / F, m."""
        soft = joint_forces(self.mechanism, np.array([0.0, 0.0, 0.0, 1.0, 0.0, 0.0]), {})
        return 2.0 / float(np.abs(soft[:2]).sum())

    @property
    def spring_travel(self) -> Travel:
        """Return the travel of a spring, that of the side which gives the higher force where the two differ."""
        left, right = (travel_of(s.rate, s.bump, s.droop, s.stop_rate, s.strap_rate) for s in self.live.springs)
        return stiffer(left, right)

    @property
    def roll_law(self) -> RollLaw | None:
        """Return the roll on both springs, their stops and straps, and the bar."""
        assert self.roll.stiffness is not None
        return roll_law(self.spring_travel, self.spring_base, self.roll.stiffness)

    def travel(self, wheels: int) -> Travel:
        """Return a wheel's travel from that of the springs."""
        return at_wheel(self.spring_travel, track(self.axle) / self.spring_base, wheels)

    def carry(self, now: Array, rest: Array) -> Carried:
        """Return the forces of links, springs, bump stops and bar on the frame."""
        about = self.mechanism.centre
        load, before = housing_load(self.axle, now, about), housing_load(self.axle, rest, about)
        soft = compliance(self.mechanism)
        push = bar_push(self.axle.bar, float(soft[3] @ (load - before)), float(soft[3, 3]))
        forces = joint_forces(self.mechanism, load + bar_load(self.axle.bar, push, about), {})
        still = joint_forces(self.mechanism, before, {})
        rows = [row for each in bracket_forces(self.mechanism, forces, ()) for row in self._ends(each)]
        rows += self._stopped(forces - still)
        if self.axle.bar is not None:
            rows += bar_brackets(self.axle.name, self.axle.bar, push, self.points)
        return Carried(tuple(rows), tuple(self._notes(forces - still)))

    def _ends(self, row: BracketForce) -> Iterator[BracketForce]:
        """Yield a force as it is, or that of the lateral linkage shared by its two brackets."""
        linkage = self.live.linkage
        if linkage is None or row.foot.name != _linkage_name(self.axle):
            yield row
            return
        feet = [
            foot(f"{_linkage_name(self.axle)}, {side}", each, self.points)
            for side, each in zip(("left", "right"), linkage.brackets, strict=True)
        ]
        parts = shared(np.array([*row.force, 0.0, 0.0, 0.0]), row.foot.at, (feet[0].at, feet[1].at))
        yield from (
            BracketForce(each, vector(part[:3]), vector(part[3:])) for each, part in zip(feet, parts, strict=True)
        )

    def _stopped(self, change: Array) -> Iterator[BracketForce]:
        """Yield what moves from a spring's bracket to that of its bump stop when its travel is used up."""
        for spring, more, joint in zip(self.live.springs, change[:2], self.mechanism.joints[:2], strict=True):
            if spring.stop is None or not isinstance(joint.other, Attachment):
                continue
            force = -beyond_bump(spring.rate, spring.bump, float(more)) * np.array(joint.direction)
            yield BracketForce(joint.other, vector(-force))
            yield through(foot(f"{joint.name}, bump stop", spring.stop.bracket, self.points), force, joint.other.at)

    def _notes(self, change: Array) -> Iterator[Words]:
        for side, spring, more in zip(("left", "right"), self.live.springs, change[:2], strict=True):
            yield from travel_notes(
                f"{self.axle.name} {side} spring", float(more) / spring.rate, spring.bump, spring.droop
            )


def link_axle(axle: Axle, live: LinkAxle, points: Points) -> LinkStatics:
    """Return a live axle on links ready for statics."""
    springs = (
        pusher(f"{axle.name} {side} spring", 0, spring.end, spring.bracket, points, spring.rate)
        for side, spring in zip(("left", "right"), live.springs, strict=True)
    )
    links = (rod(f"{axle.name} {link.name}", link, points, live.link_rate) for link in live.links)
    linkage = () if live.linkage is None else (_linkage(axle, live.linkage, points, live.link_rate),)
    centre = middle(wheel_centre(axle.left), wheel_centre(axle.right))
    return LinkStatics(axle, live, points, Mechanism(f"{axle.name} axle", centre, (*springs, *links, *linkage)))


def _linkage(axle: Axle, linkage: LateralLinkage, points: Points, stiffness: float) -> Joint:
    """Return the hold of a lateral linkage: sideways, at its pivot on the axle."""
    first = foot(_linkage_name(axle), linkage.brackets[0], points)
    return Joint(first.name, 0, linkage.pivot, (0.0, 1.0, 0.0), Attachment(first.name, first.point, linkage.pivot), stiffness)


def _linkage_name(axle: Axle) -> str:
    return f"{axle.name} lateral linkage"
