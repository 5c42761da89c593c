"""Ends whose make is left out and that may be unlike: which mixtures are solved besides all ends alike.

What a frame feels is, in the give of one end alone, a quotient of two straight lines (one spring is a change of rank one, by Sherman
and Morrison), so the worst lies where each end is at one end of its range. A stiff end takes most where those about it are soft, and
what it does fades out along a rail: so each member's ends are set apart from all others, with those of every third member from there;
a brace between a rail and a crossmember by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import combinations

from framecheck.frame.geometry import OneFrame
from framecheck.frame.joint_faces import rails_at
from framecheck.frame.open_ends import open_ends
from framecheck.frame.results import Bound, EndsApart, Joints
from framecheck.model.frame import Frame
from framecheck.value_class import value_class

EVERY = 3
"""Along a rail every third member is set apart at once: in random ladders of 5 and 7 crossmembers that told as much of every kind of
check, within 0.5 %, as each by itself; every second one missed up to 6 %."""
MOST = 8
"""Most groups of members whose two ends are set apart one by one (of more, members are set apart whole), and most rails."""
MOST_MIXED = 60
"""Most ends whose every mixture tells on members, walls, welds and kinks near them (soft_frame.py). Between MOST members and so many
ends what is left for the bounds here, the frame's buckling first of all, feels both ends of a member together."""
MOST_WHOLE = 24
"""Most groups that are set apart at all."""
EVERY_MIXTURE = 4
"""Of so few ends every mixture is solved: two crossmembers with stiff ends across a corner took up to a third more in single rows."""
NAMED = 3
"""Most names in the words for what is set apart."""

MOST_RAILS = 3
"""Most sets of ends farther off that are told apart there."""
MOST_CLASSES = 9
"""Most classes of ends in the mixtures that are solved at a member's ends alone (end_mixtures.py); each more doubles them."""

EVERY_ALONE = 12
"""Of so few ends each is a class by itself, so that nothing is left to choose, where few load cases ask for it: with 9 classes walls
read up to 10 % too well in single rows of four frames of 12 ends, members 12 %, fatigue 44 %; it takes a fifth more time there."""

FEW_LEGS = 40
"""Lengths between points of members; in a frame of more there is one class less about each."""

End = tuple[int, int]
Ends = frozenset[End]


@value_class
class OnRail:
    """Where an end stands: on which run of members (its first one's number), and at which of the places there that hold such ends."""

    run: int
    place: int


def unlike_bounds(frame: Frame, alike: Bound) -> Iterator[Bound]:
    """Yield the bounds under which some ends whose make is left out are unlike all others; alike: what holds of all else.

    The same ends stiff are two bounds: the rest of what is open (kinks, ends that no model covers) goes with the soft or the stiff.
    """
    every = frozenset(each.at for each in open_ends(frame) if each.is_left_out)
    seen: set[tuple[Joints, Ends]] = set()
    for apart in sets_apart(frame, every):
        for joints, stiff in ((Joints.SOFT, apart.ends), (Joints.STIFF, every - apart.ends)):
            if stiff in (frozenset(), every) or (joints, stiff) in seen:
                continue
            seen.add((joints, stiff))
            yield Bound(alike.warping, joints, alike.seams, alike.shell, apart)


def sets_apart(frame: Frame, every: Ends) -> Iterator[EndsApart]:
    """Yield which ends of all that are left out are set apart from the others: of each group both, and each; of each rail all.

    Of so few ends that every mixture is solved each and each pair: the rest of them are the others of these.
    """
    rails = on_rails(frame, every)
    fading = where_it_fades(frame, every, rails)
    groups = groups_of(every, fading)
    one_by_one = len(groups) <= MOST and (len(ends_members(every)) <= MOST or len(every) > MOST_MIXED)
    if len(groups) <= MOST_WHOLE:
        for own, spread in groups.items():
            yield EndsApart(spread, in_words(frame, every, own, spread))
            for end in sorted(own) if len(own) > 1 and one_by_one else ():
                yield EndsApart(_spread(end, fading), in_words(frame, every, frozenset((end,)), _spread(end, fading)))
    runs = sorted({each.run for each in rails.values()})
    for run in runs if len(runs) <= MOST else ():
        yield EndsApart(frozenset(end for end, at in rails.items() if at.run == run), f"all on {frame.members[run].name}")
    if len(every) <= EVERY_MIXTURE:
        for ends in (frozenset(each) for count in (1, 2) for each in combinations(sorted(every), count)):
            yield EndsApart(ends, in_words(frame, every, ends, ends))


def classes_about(frame: Frame, every: Ends, number: int, most: int = MOST_CLASSES) -> tuple[Ends, ...]:
    """Return the classes of ends of which every mixture is solved at a member's own ends alone, those farther off first.

    Each of its own ends and of the ends of members beside it is one; the rest on each rail, and all else. Where these are too many the
    rest is one, then both ends of each member beside it.
    """
    return told_apart(frame, every, (ends_of(every, {number}), near_members(frame, every, number)), most)


@lru_cache(maxsize=2048)
def classes_along(
    of: OneFrame, every: Ends, number: int, points: tuple[str, str], most: int = MOST_CLASSES
) -> tuple[Ends, ...]:
    """Return the classes of ends of which every mixture is solved for a length of a member between two points, as `classes_about`.

    Its own are those of the member itself, unless a rail, and of members that stand at those points.
    """
    frame = of.frame
    at = {end[0] for end in every if frame.members[end[0]].points[-end[1]] in points}
    own = ends_of(every, at | ({number} & ends_members(every)))
    near = frozenset().union(*(near_members(frame, every, each) for each in ends_members(own) or (number,))) - ends_members(own)
    legs = sum(len(member.points) - 1 for member in frame.members)
    return told_apart(frame, every, (own, near), most if legs <= FEW_LEGS else MOST_CLASSES - 1)


def told_apart(frame: Frame, every: Ends, of: tuple[Ends, frozenset[int]], most: int = MOST_CLASSES) -> tuple[Ends, ...]:
    """Return classes of ends, at most so many where that can be: some are each one, then those of members near by; the rest. Each is
    one where all are so few; else no more than MOST_CLASSES.
    """
    own, near = of
    beside = ends_of(every, near)
    if len(every) <= most:
        return tuple(frozenset((end,)) for ends in (every - own - beside, beside - own, own) for end in sorted(ends))
    rest = rest_by_rail(frame, every - own - beside)
    whole = [each for each in (every - own - beside,) if each]
    singles = [frozenset((end,)) for end in sorted(beside)]
    members = [ends_of(every, {each}) for each in sorted(near)]
    ways = [*rest, *singles], [*whole, *singles], [*rest, *members], [*whole, *members], [each for each in (every - own,) if each]
    mine = [frozenset((end,)) for end in sorted(own)]
    found = next(way for way in ways if len(way) + len(mine) <= min(most, MOST_CLASSES) or way is ways[-1])
    return (*found, *mine)


def ends_of(every: Ends, numbers: Iterable[int]) -> Ends:
    """Return those ends that some members have."""
    return frozenset(end for end in every if end[0] in set(numbers))


def rest_by_rail(frame: Frame, rest: Ends) -> list[Ends]:
    """Return ends by the run that they stand on, those that stand on none with such as are few: more than two sets are one."""
    rails = rails_at(frame)
    by_run: dict[int, set[End]] = {}
    for end in sorted(rest):
        point = frame.members[end[0]].points[-end[1]]
        by_run.setdefault(min(rails[point][0].numbers) if point in rails and rails[point][0].is_rail else -1, set()).add(end)
    found = [frozenset(ends) for _, ends in sorted(by_run.items())]
    return found if len(found) <= MOST_RAILS else [rest]


def near_members(frame: Frame, every: Ends, number: int) -> frozenset[int]:
    """Return the members with such ends that stand next to a member along a run, on it, or under it."""
    rails, under = on_rails(frame, every), rails_at(frame)
    beside = {
        other[0]
        for own in ends_of(every, {number}) if own in rails
        for other, at in rails.items()
        if at.run == rails[own].run and abs(at.place - rails[own].place) <= 1
    }  # fmt: skip
    points = {end: frame.members[end[0]].points[-end[1]] for end in every}
    for end, point in points.items():
        on = under[point][0].numbers if point in under else frozenset()
        beside |= {end[0]} if number in on else (ends_members(every) & set(on) if end[0] == number else set())
    return frozenset(beside - {number})


def ends_members(every: Ends) -> frozenset[int]:
    """Return the members that ends belong to."""
    return frozenset(member for member, _ in every)


def groups_of(every: Ends, fading: Mapping[End, OnRail]) -> Mapping[Ends, Ends]:
    """Return, by one member's ends, those that are set apart with them; of members that are set apart together the first."""
    found: dict[Ends, Ends] = {}
    for number in sorted({number for number, _ in every}):
        own = frozenset(end for end in every if end[0] == number)
        spread = frozenset[End]().union(*(_spread(end, fading) for end in own))
        if spread not in found.values():
            found[own] = spread
    return found


def on_rails(frame: Frame, every: Ends) -> Mapping[End, OnRail]:
    """Return where ends stand that stand on a run of members which does not close upon itself."""
    rails = rails_at(frame)
    at = {end: rails[point] for end in every if (point := frame.members[end[0]].points[-end[1]]) in rails}
    places: dict[int, set[int]] = {}
    for run, number in at.values():
        places.setdefault(min(run.numbers), set()).add(number)
    ranks = {run: {number: rank for rank, number in enumerate(sorted(numbers))} for run, numbers in places.items()}
    return {end: OnRail(min(run.numbers), ranks[min(run.numbers)][number]) for end, (run, number) in at.items() if not run.is_ring}


def where_it_fades(frame: Frame, every: Ends, on: Mapping[End, OnRail]) -> Mapping[End, OnRail]:
    """Return where ends stand of members along which what an end does fades out from place to place; on: where all stand.

    A brace that stands on a member with such ends itself carries it farther: it is set apart alone, and with no other.
    """
    rails, movers = rails_at(frame), ends_members(every)
    points = {end: frame.members[end[0]].points[-end[1]] for end in every}
    braces = {end[0] for end, point in points.items() if point in rails and not movers.isdisjoint(rails[point][0].numbers)}
    return {end: at for end, at in on.items() if end[0] not in braces}


def _spread(end: End, rails: Mapping[End, OnRail]) -> Ends:
    """Return an end with those at every third place along its rail from there."""
    own = rails.get(end)
    if own is None:
        return frozenset((end,))
    steps = {other: at.place - own.place for other, at in rails.items() if at.run == own.run}
    return frozenset((end, *(other for other, step in steps.items() if step and step % EVERY == 0)))


def mixture(of: tuple[Frame, Ends, Bound], classes: Sequence[Ends], number: int) -> Bound:
    """Return the mixture in which those classes are stiff whose bit is set in a number; of: the frame, its ends that may be unlike,
    the bound of all else.
    """
    frame, every, base = of
    return _mixture(OneFrame(frame), (every, base), tuple(classes), number)


@lru_cache(maxsize=8192)
def _mixture(of: OneFrame, ends: tuple[Ends, Bound], classes: tuple[Ends, ...], number: int) -> Bound:
    frame, (every, base) = of.frame, ends
    stiff = frozenset(end for k, ends in enumerate(classes) if number >> k & 1 for end in ends)
    apart = EndsApart(stiff, in_words(frame, every, frozenset(sorted(stiff)[:1]), stiff)) if stiff else None
    return replace(base, apart=apart)


def in_words(frame: Frame, every: Ends, own: Ends, spread: Ends) -> str:
    """Return how ends that are set apart are called, the first one's own first."""
    names: list[str] = []
    for ends in (own, spread - own):
        for number in sorted({number for number, _ in ends}):
            member, mine = frame.members[number], {end for end in ends if end[0] == number}
            whole = mine == {end for end in every if end[0] == number}
            names += [member.name] if whole else [f"{member.name} at {member.points[-end]}" for _, end in sorted(mine)]
    more = [f"{len(names) - NAMED} more"] if len(names) > NAMED else []
    *before, last = [*names[:NAMED], *more]
    return f"{', '.join(before)} and {last}" if before else last
