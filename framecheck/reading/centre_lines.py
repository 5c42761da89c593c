"""A frame's centre lines, from a drawing or a table, as named points and the members between them.

Lines that touch share a point, wherever on one another they do; lines of one layer that go on from end to end are one member.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations, pairwise
from math import cos, dist, hypot, radians

from framecheck.errors import Fault, InputError
from framecheck.reading.line_meetings import Place, apart, dot, minus, off_line, touching
from framecheck.value_class import value_class

MOST_LINES = 1000
STRAIGHT = 1e-3
"""Of the tolerance: a point that lies off the line past it by less is left out."""
SHARP = radians(60.0)
"""Lines that turn by as much begin another member: a rail's kick is a kink, a corner with a crossmember is none."""


@value_class
class CentreLine:
    """A line as drawn or listed. name: of its layer or member; path: m; labels: of its points, "" for none; section: "" if unsaid."""

    name: str
    path: tuple[Place, ...]
    labels: tuple[str, ...] = ()
    section: str = ""


@value_class
class DrawnMember:
    """A member through named points, from its first to its last."""

    name: str
    points: tuple[str, ...]
    section: str


@value_class
class DrawnFrame:
    """Points by name, m, and members; crossings: in how many places lines cross where neither ends."""

    points: dict[str, Place]
    members: tuple[DrawnMember, ...]
    crossings: int


def frame_of(lines: Sequence[CentreLine], tolerance: float, where: str) -> DrawnFrame:
    """Return points and members of lines; points nearer than `tolerance` (m) are one, a line drawn twice counts once.

    InputError where there are none, too many, or one without length.
    """
    if not lines:
        raise InputError([Fault(where, "", "holds no line", "draw the members' middle lines")])
    if sum(len(line.path) - 1 for line in lines) > MOST_LINES:
        raise InputError([Fault(where, "", f"holds more than {MOST_LINES} lines", "leave only the members' middle lines")])
    places = shared_places(lines, tolerance)
    paths = [without_repeats([places.number(place) for place in line.path]) for line in lines]
    short = sorted({line.name for line, path in zip(lines, paths, strict=True) if len(path) < 2})
    if short:
        raise InputError([Fault(where, name, "has no length", "draw it anew, or take it out") for name in short])
    labels, before = labels_of(lines, places, where), len(places.found)
    met = joined_where_met(paths, places)
    joined = without_doubles([Path(line.name, line.section, path) for line, path in zip(lines, met, strict=True)])
    kept = without_straight(chains(joined, places), places, labels)
    return named_frame(kept, places, labels, len(places.found) - before)


def without_repeats(path: Sequence[int]) -> tuple[int, ...]:
    """Return a path without points that follow themselves."""
    return tuple(a for a, b in pairwise([*path, -1]) if a != b)


@value_class
class Path:
    """A line through shared points, by their index."""

    name: str
    section: str
    points: Sequence[int]

    def through(self, points: Sequence[int]) -> Path:
        """Return a line of the same name through other points."""
        return Path(self.name, self.section, points)


class MergedPlaces:
    """Places found so far, each once; near ones are one."""

    def __init__(self, tolerance: float) -> None:
        self.tolerance = tolerance
        self.found: list[Place] = []

    def number(self, place: Place) -> int:
        """Return the index of a place, a new one where none is near."""
        near = [(dist(each, place), index) for index, each in enumerate(self.found)]
        nearest = min(near, default=(2 * self.tolerance, -1))
        if nearest[0] <= self.tolerance:
            return nearest[1]
        self.found.append(place)
        return len(self.found) - 1


def shared_places(lines: Iterable[CentreLine], tolerance: float) -> MergedPlaces:
    """Return the places of all points of lines."""
    places = MergedPlaces(tolerance)
    for line in lines:
        for place in line.path:
            places.number(place)
    return places


def labels_of(lines: Iterable[CentreLine], places: MergedPlaces, where: str) -> dict[int, str]:
    """Return the names that points were given, by index of their place; one name for two places is refused."""
    labels = {places.number(place): label for line in lines for place, label in zip(line.path, line.labels, strict=False) if label}
    doubled = [label for label, count in Counter(labels.values()).items() if count > 1]
    if doubled:
        fault, remedy = "is the name of two places", "give one of them another name"
        raise InputError([Fault(where, f"point '{each}'", fault, remedy) for each in doubled])
    return labels


def without_doubles(paths: Sequence[Path]) -> list[Path]:
    """Return paths without sides that lie on an earlier one: a line drawn twice is one member."""
    seen: set[frozenset[int]] = set()
    whole: list[Path] = []
    for path in paths:
        run: list[int] = []
        for a, b in pairwise(path.points):
            if frozenset((a, b)) in seen:
                whole, run = ([*whole, path.through(run)] if len(run) > 1 else whole), []
                continue
            seen.add(frozenset((a, b)))
            run = [*run, b] if run else [a, b]
        whole = [*whole, path.through(run)] if len(run) > 1 else whole
    return whole


def chains(paths: Sequence[Path], places: MergedPlaces) -> list[Path]:
    """Return lines joined to members: two of one name that meet end to end without a sharp turn, where no third of that name ends."""
    layers: dict[tuple[str, str], list[Path]] = defaultdict(list)
    for path in paths:
        layers[path.name, path.section].append(path)
    return [each for layer in layers.values() for each in chained_paths(layer, places)]


def chained_paths(paths: Sequence[Path], places: MergedPlaces) -> list[Path]:
    """Return paths of one name joined where just two ends of them meet."""
    ends = Counter(end for path in paths for end in (path.points[0], path.points[-1]))
    left, done = list(paths), []
    while left:
        path = left.pop(0)
        while follower := next((each for each in left if goes_on(path.points, each.points, ends, places)), None):
            left.remove(follower)
            path = path.through(end_to_end(path.points, follower.points))
        done.append(path)
    return done


def goes_on(path: Sequence[int], other: Sequence[int], ends: Counter[int], places: MergedPlaces) -> bool:
    """Return whether two paths are one: they share an end that no third has, and turn there by less than SHARP."""
    shared = {path[0], path[-1]} & {other[0], other[-1]}
    if len(shared) != 1 or ends[(at := next(iter(shared)))] != 2:
        return False
    whole = end_to_end(path, other)
    step = whole.index(at)
    before, after = (minus(places.found[whole[n + 1]], places.found[whole[n]]) for n in (step - 1, step))
    return dot(before, after) >= cos(SHARP) * hypot(*before) * hypot(*after)


def end_to_end(path: Sequence[int], other: Sequence[int]) -> list[int]:
    """Return two paths that share an end as one, in the direction of the first."""
    if path[-1] in (other[0], other[-1]):
        return [*path, *(other if other[0] == path[-1] else other[::-1])[1:]]
    return [*(other if other[-1] == path[0] else other[::-1])[:-1], *path]


def joined_where_met(paths: Sequence[Sequence[int]], places: MergedPlaces) -> list[list[int]]:
    """Return paths with a point of their own wherever another touches or crosses them."""
    sides = [(number, step, path[step], path[step + 1]) for number, path in enumerate(paths) for step in range(len(path) - 1)]
    extra: dict[tuple[int, int], set[int]] = defaultdict(set)
    for (n, i, a, b), (m, k, c, d) in combinations(sides, 2):
        ends = [places.found[each] for each in (a, b, c, d)]
        if apart(ends, places.tolerance):
            continue
        for at in touching(ends, places.tolerance):
            index = places.number(at)
            if index not in (a, b):
                extra[n, i].add(index)
            if index not in (c, d):
                extra[m, k].add(index)
    return [divided(path, {i: extra[n, i] for i in range(len(path) - 1)}, places) for n, path in enumerate(paths)]


def divided(path: Sequence[int], extra: dict[int, set[int]], places: MergedPlaces) -> list[int]:
    """Return a path with further points on its sides, in order along it."""
    whole: list[int] = []
    for step, (start, end) in enumerate(pairwise(path)):
        inner = sorted(extra[step] - {start, end}, key=lambda index: dist(places.found[start], places.found[index]))
        whole += [start, *inner]
    return [*whole, path[-1]]


def without_straight(paths: Sequence[Path], places: MergedPlaces, labels: Mapping[int, str]) -> list[Path]:
    """Return paths without inner points that bend nothing, join nothing and bear no name."""
    uses = Counter(index for path in paths for index in path.points)

    def thinned(path: Path) -> Path:
        kept = [path.points[0]]
        for index, after in pairwise(path.points[1:]):
            a, b, c = (places.found[each] for each in (kept[-1], index, after))
            if uses[index] > 1 or index in labels or off_line(b, a, c) > STRAIGHT * places.tolerance:
                kept.append(index)
        return path.through([*kept, path.points[-1]])

    return [thinned(path) for path in paths]


def named_frame(paths: Sequence[Path], places: MergedPlaces, labels: Mapping[int, str], crossings: int) -> DrawnFrame:
    """Return points and members with names: a point is called after the first member that has it, and its number there."""
    names = member_names([(path.name, [places.found[i] for i in path.points]) for path in paths])
    points = dict(labels)
    for name, path in zip(names, paths, strict=True):
        for step, index in enumerate(path.points, 1):
            if index not in points:
                points[index] = free_name(f"{name} {step}", points.values())
    along = [tuple(points[i] for i in path.points) for path in paths]
    members = tuple(DrawnMember(name, each, path.section) for name, each, path in zip(names, along, paths, strict=True))
    used = dict.fromkeys(i for path in paths for i in path.points)
    return DrawnFrame({points[i]: places.found[i] for i in used}, members, crossings)


def free_name(name: str, taken: Iterable[str]) -> str:
    """Return a name that is not taken yet."""
    known = set(taken)
    return name if name not in known else next(f"{name}.{n}" for n in range(2, len(known) + 3) if f"{name}.{n}" not in known)


def member_names(members: Sequence[tuple[str, Sequence[Place]]]) -> list[str]:
    """Return a name for each: its own, "left" or "right" before it where one lies on each side, else numbered."""
    alone = Counter(name for name, _ in members)
    sides = ((name, side_of(path) if alone[name] > 1 else "") for name, path in members)
    sided = [f"{side} {without_side(name)}" if side else name for name, side in sides]
    count = Counter(sided)
    seen: Counter[str] = Counter()
    names: list[str] = []
    for name in sided:
        seen[name] += 1
        names.append(free_name(f"{name} {seen[name]}" if count[name] > 1 else name, names))
    return names


def without_side(name: str) -> str:
    """Return a name without the side that it says: one side is drawn, and its mirror image bears its name too."""
    first, _, rest = name.partition(" ")
    return rest if first.lower() in ("left", "right") and rest else name


def side_of(path: Sequence[Place]) -> str:
    """Return "left" or "right" where a member lies on one side of the vehicle's middle plane, else ""."""
    return "left" if min(y for _, y, _ in path) > 0.0 else "right" if max(y for _, y, _ in path) < 0.0 else ""


def mirrored(lines: Sequence[CentreLine], tolerance: float) -> list[CentreLine]:
    """Return lines and their mirror images across the middle plane (y = 0); one that lies in that plane stays alone."""
    on_plane = [max(abs(place[1]) for place in line.path) <= tolerance for line in lines]
    return [*lines, *(image_of(line) for line, lies in zip(lines, on_plane, strict=True) if not lies)]


def image_of(line: CentreLine) -> CentreLine:
    """Return a line's mirror image."""
    path = tuple((x, -y, z) for x, y, z in line.path)
    return CentreLine(line.name, path, tuple(image_name(each) for each in line.labels), line.section)


def image_name(label: str) -> str:
    """Return the name of a point's mirror image: "left" and "right" changed over, "" where it says neither."""
    first, _, rest = label.partition(" ")
    other = {"left": "right", "right": "left"}.get(first.lower(), "")
    return f"{other} {rest}" if other and rest else ""
