"""A live axle on links and springs, with a lateral rod among the links or a lateral linkage."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.suspension import LateralLinkage, LinkAxle
from framecheck.model.vehicle import Axle
from framecheck.value_class import value_class
from framecheck.vehicle.bars import bar_brackets, bar_load, bar_push
from framecheck.vehicle.corners import Points, foot, pusher, rod
from framecheck.vehicle.live_axles import housing_load, middle
from framecheck.vehicle.masses import wheel_centre
from framecheck.vehicle.notes import travel_notes
from framecheck.vehicle.scene import BracketForce, Carried, Foot, Roll, given_roll, vector
from framecheck.vehicle.sharing import shared
from framecheck.vehicle.statics import Joint, Mechanism, bracket_forces, compliance, joint_forces


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

    def carry(self, now: Array, rest: Array) -> Carried:
        """Return the forces of links, springs and bar on the frame."""
        about = self.mechanism.centre
        load, before = housing_load(self.axle, now, about), housing_load(self.axle, rest, about)
        soft = compliance(self.mechanism)
        push = bar_push(self.axle.bar, float(soft[3] @ (load - before)), float(soft[3, 3]))
        forces = joint_forces(self.mechanism, load + bar_load(self.axle.bar, push, about), {})
        still = joint_forces(self.mechanism, before, {})
        rows = [row for each in bracket_forces(self.mechanism, forces, ()) for row in self._ends(each)]
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

    def _notes(self, change: Array) -> Iterator[str]:
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
    return Joint(first.name, 0, linkage.pivot, (0.0, 1.0, 0.0), Foot(first.name, first.point, linkage.pivot), stiffness)


def _linkage_name(axle: Axle) -> str:
    return f"{axle.name} lateral linkage"
