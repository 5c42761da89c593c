"""Which members' ends are solved over a range, and why. SI."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.frame.end_springs import has_unsized
from framecheck.frame.joints import flanged_seats, meetings_of, seats_of
from framecheck.frame.stand_in import Unmodelled
from framecheck.model.frame import Frame, Make
from framecheck.value_class import value_class


@value_class
class OpenEnd:
    """A member's end that is solved over a range. why: no model covers it; unsaid: its make is not said; near_end: nor what the end
    of its rail, which is near, is. at: its place in the frame, 0 start or 1 end."""

    member: str
    point: str
    why: Unmodelled | None
    unsaid: bool
    near_end: bool
    at: tuple[int, int]

    @property
    def is_left_out(self) -> bool:
        """Return whether the range is of what the file leaves out; else it says what no model covers."""
        return self.unsaid or self.near_end or self.why is Unmodelled.GUSSETS


def open_ends(frame: Frame) -> Iterator[OpenEnd]:
    """Yield every end that is solved over a range."""
    for (number, end), where in {**seats_of(frame), **flanged_seats(frame)}.items():
        member = frame.members[number]
        make = (member.end if end else member.start).make
        unsized = any(has_unsized(make, each) for each in where.turns)
        leans = Unmodelled.ASKEW if where.askew is not None and make is not Make.RIGID else None
        over = Unmodelled.OVER_EDGE if where.over > 0.0 and make is not Make.RIGID else None
        plate = Unmodelled.PLATE if where.ends.unmodelled else None
        why = where.unmodelled or leans or over or (Unmodelled.GUSSETS if unsized else plate)
        unsaid, near_end = make is Make.UNSAID, make is not Make.RIGID and where.ends.unsaid
        if why is not None or unsaid or near_end:
            yield OpenEnd(member.name, member.points[-end], why, unsaid, near_end, (number, end))
    for at, met in meetings_of(frame).items():
        if at not in seats_of(frame):
            yield OpenEnd(frame.members[met.number].name, met.point, Unmodelled.MEETING, unsaid=False, near_end=False, at=at)


def leaves_joints_open(frame: Frame) -> bool:
    """Return whether any end meets a rail and its make is not said, or no model covers it."""
    return any(True for _ in open_ends(frame))
