"""What the joint checks share: a capacity with its mode, the row it makes, and the order of rows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from framecheck.model.frame import Frame
from framecheck.model.joints import AtMemberEnd, AtPoint, InSplice, Terminal
from framecheck.model.said import Words
from framecheck.model.weld_joints import Bracket, Joint
from framecheck.results.row import Check, CheckResult, Mode, Sizing
from framecheck.results.row_order import margin, worst_by
from framecheck.results.subjects import Claim, Open, Question, Remark, Subject, Thing, asked, left_open
from framecheck.value_class import value_class

Line = CheckResult | Open | Claim | Sizing | Remark
SPRUNG = "give the joint its loads: `at: {loads: [...]}`"


@value_class
class Capacity:
    """What one mode of failure can carry, the safety factor asked of it, and where the rule stands.

    part: what the mode names (a ply, a wall, a run); note: further words for people.
    """

    mode: Mode
    value: float
    target: float
    source: str
    unit: str = "N"
    part: str = ""
    note: Words = ""


@value_class
class Judging:
    """Which check is speaking of which thing."""

    check: Check
    subject: Subject


def of_joint(check: Check, name: str) -> Judging:
    """Return that a check speaks of a joint."""
    return Judging(check, Subject(Thing.JOINT, name))


def unjudged_joint(name: str, part: str, reason: str, remedy: str = "") -> Open:
    """Return what was not judged of a joint; remedy: what would do, where it is not a size that the joint leaves out."""
    return left_open(Thing.JOINT, name, Question.JOINT, reason, part, remedy=remedy)


def claims(frame: Frame, joint: Joint) -> Iterator[Claim | Open]:
    """Yield what a joint that is judged answers for the place that it holds: the fastening there, or the wall under it.

    At a point that a spring pulls at, it answers for nothing: the spring's force is not among those that it is judged with.
    """
    place = getattr(joint, "place", None)
    is_wall = isinstance(joint, Bracket)
    if isinstance(place, AtMemberEnd):
        question = Question.FACE if is_wall else Question.FASTENING
        member = next(each for each in frame.members if each.name == place.member)
        point = member.points[0 if place.end is Terminal.START else -1]
        yield Claim(asked(Thing.MEMBER_END, place.member, question, point))
    elif isinstance(place, InSplice):
        yield Claim(asked(Thing.SPLICE, place.splice, Question.SPLICE))
    elif isinstance(place, AtPoint):
        entry = asked(Thing.POINT, place.point, Question.ATTACHED_WALL if is_wall else Question.ATTACHED_BY)
        sprung = [each.name for each in frame.springs if place.point in each.points]
        yield from (Open(entry, f"what spring '{name}' pulls is not counted on '{joint.name}'", SPRUNG) for name in sprung)
        yield from (unjudged_joint(joint.name, f"with spring {name}", "what the spring pulls is not counted") for name in sprung)
        if not sprung:
            yield Claim(entry)


def judged(of: Judging, load_case: str | None, demand: float, capacity: Capacity) -> CheckResult:
    """Return the row of one demand against one capacity."""
    return CheckResult(
        check=of.check,
        mode=capacity.mode,
        subject=of.subject,
        load_case=load_case,
        demand=demand,
        capacity=capacity.value,
        unit=capacity.unit,
        target=capacity.target,
        source=capacity.source,
        part=capacity.part,
        note=capacity.note,
    )


def governing_first(rows: Iterable[Line]) -> tuple[Line, ...]:
    """Return one row a subject, mode and part, that of its worst load case, least margin first; then all else, once."""
    lines = tuple(rows)
    worst: dict[object, CheckResult] = {}
    for row in lines:
        if isinstance(row, CheckResult):
            key = (row.check, row.subject, row.mode, row.part)
            if key not in worst or margin(row) < margin(worst[key]):
                worst[key] = row
    others = dict.fromkeys(row for row in lines if not isinstance(row, CheckResult))
    return (*sorted(worst.values(), key=margin), *others)


def worst_lines(found: Sequence[tuple[Line, ...]]) -> tuple[Line, ...]:
    """Return the lines of one outcome as they are; of several one row for each thing, way of failing and load case: the worst."""
    if len(found) == 1:
        return found[0]
    lines = [line for each in found for line in each]
    rows = (line for line in lines if isinstance(line, CheckResult))
    worst = worst_by(rows, lambda row: (row.check, row.mode, row.subject, row.load_case, row.part))
    return (*worst.values(), *dict.fromkeys(line for line in lines if not isinstance(line, CheckResult)))


Key = tuple[object, ...]


def lines_of_blocks(whole: tuple[Line, ...], blocks: Sequence[tuple[Line, ...]]) -> Iterator[Line]:
    """Yield the lines of all load cases together, and of blocks of them; or of all bounds at few stations, and of some at more.

    Where a check tells one row of a thing whatever the load cases: the worst. What is open is told by the whole where it can be:
    a size that would do is the one for all load cases.
    """
    told = {line.entry for line in whole if isinstance(line, Open)}
    found = [whole, *(tuple(line for line in lines if not (isinstance(line, Open) and line.entry in told)) for lines in blocks)]
    numbers: dict[Key, int] = {}  # each thing is looked up once: there may be a hundred thousand lines
    rows = (line for lines in found for line in lines if isinstance(line, CheckResult))
    things = {id(row): numbers.setdefault(_thing(row), len(numbers)) for row in rows}
    most: Counter[int] = Counter()
    for lines in found:
        most |= Counter(things[id(line)] for line in lines if isinstance(line, CheckResult))
    worst: dict[int, CheckResult] = {}
    for line in worst_lines(found):
        if not isinstance(line, CheckResult) or most[things[id(line)]] > 1:
            yield line
            continue
        known = worst.get(things[id(line)])
        worst[things[id(line)]] = line if known is None or line.used > known.used else known
    yield from worst.values()


def _thing(row: CheckResult) -> Key:
    """Return what a row is about, whatever the load case."""
    return row.check, row.mode, row.subject, row.part
