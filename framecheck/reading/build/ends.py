"""Member ends that can't be made as the file says: too wide for the wall, gussets or welds where there is no metal."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from framecheck.frame.end_details import sides_of
from framecheck.frame.joint.outlines import outline_of
from framecheck.frame.joints import seats_of
from framecheck.frame.seats import Seat
from framecheck.model.ends import LEAST_PLATE, GussetPair
from framecheck.model.frame import LAID, STANDING, Frame, Make, Member, MemberEnd
from framecheck.reading.build.draft import Draft
from framecheck.reading.desk import length

HAIR = 1e-6  # m
Told = tuple[str, str]
"""What is wrong, and what would do."""


def refuse_ends(draft: Draft, frame: Frame) -> None:
    """Note every member end that can't be made as it is said, at its member's line."""
    ends = [each for member in frame.members for each in (member.start, member.end)]
    if not any(each.welded or each.gussets or each.make in STANDING for each in ends):
        return
    seats = seats_of(frame)
    for number, member in enumerate(frame.members):
        for end, made in ((0, member.start), (1, member.end)):
            line, subject = draft.member_places[member.name]
            for fault, remedy in of_end(frame, member, (end, made), seats.get((number, end))):
                draft.desk.refuse(line, subject, f"at '{member.points[-end]}': {fault}", remedy)


def of_end(frame: Frame, member: Member, at: tuple[int, MemberEnd], seat: Seat | None) -> Iterator[Told]:
    """Yield what is wrong with one end; at: 0 start or 1 end, and what is said of it."""
    made = at[1]
    yield from of_welds(frame, member, at)
    if made.gussets is not None and made.gussets.thickness < LEAST_PLATE:
        yield "it has gussets under 1 mm", "write 1 mm or more: thinner sheet burns away"
    if made.gussets is not None and made.make in LAID:
        yield "it lies across the wall, where gussets are not modelled", "leave them out: the answer is then on the safe side"
    elif made.gussets is not None:
        yield from of_gussets(frame, member, made.gussets, seat)
    if seat is None or seat.unmodelled is not None or made.make not in STANDING:
        return
    face, foot = seat.chord.face, seat.branch.outline
    low, high = foot.span(1)
    wall = max(each.wall for each in foot.strips)
    wide = high - low + (wall if foot.closed else 0.0)
    if wide > seat.chord.depth + HAIR:
        fault = f"it is {length(wide)} wide where the wall it stands on is {length(seat.chord.depth)}"
        yield fault, "take a narrower one, or say that it is cut to fit by `make: rigid` or by a `stiffness`"
    if made.make is Make.WEB_AND_FLANGES:
        gap = max(low - face[0], face[1] - high)
        if not seat.between_flanges:
            yield "there are no flanges beside it to weld it to", "turn the rail's open side towards it, or write `butt on one face`"
        elif gap > 2 * (wall + seat.chord.wall):
            yield f"it ends {length(gap)} short of the flanges' middle: no weld reaches them", "write `butt on one face`"


def of_welds(frame: Frame, member: Member, at: tuple[int, MemberEnd]) -> Iterator[Told]:
    """Yield the welded sides on which the member has no wall."""
    end, made = at
    if not made.welded:
        return
    twice = [side.value for number, side in enumerate(made.welded) if side in made.welded[:number]]
    if twice:
        yield f"its {twice[0]} is named twice among the sides that are welded", "name each side once"
    outline = outline_of(frame.sections[member.stretches[-end].section].shape)
    if outline is None:
        yield "its section has no flat sides", "leave out `welded sides`: it is then welded all round"
        return
    there = sides_of(outline, member)
    for side in made.welded:
        if side not in there:
            names = ", ".join(sorted(each.value for each in there))
            yield f"there is no wall on its {side.value} to weld", f"write sides that it has: {names}"


def of_gussets(frame: Frame, member: Member, pair: GussetPair, seat: Seat | None) -> Iterator[Told]:
    """Yield the ways in which gussets stand on nothing."""
    whole = sum(dist(frame.points[a], frame.points[b]) for a, b in zip(member.points, member.points[1:], strict=False))
    if pair.along_member > whole:
        yield f"its gussets are {length(pair.along_member)} along it, and it is {length(whole)} long", "write shorter ones"
    if seat is None:
        return
    low, high = seat.branch.outline.span(1)
    if pair.height is not None and abs(pair.height) > (high - low) / 2 + seat.branch.outline.strips[0].wall / 2 + HAIR:
        fault = f"its gussets lie {length(abs(pair.height))} from its middle, off its walls"
        yield fault, f"write a height of {length((high - low) / 2)} or less"
    sides = seat.branch.outline.span(0)
    reach = max(-sides[0], sides[1]) + pair.along_rail
    for end in seat.ends.soft:
        if reach > end.away + HAIR:
            fault = f"its gussets reach {length(reach)} along the rail, which ends {length(end.away)} away"
            yield fault, "write shorter ones, or draw the rail as long as it is"
