"""docs/front_door.md, written from the table of examples: `python -m tests.verification.front_door_page`."""

from __future__ import annotations

from pathlib import Path

from tests.verification.front_door_table import Example, Lacking, examples, lacking
from tests.verification.manual import Kind, escaped

PAGE = Path(__file__).parents[2] / "docs" / "front_door.md"


HEAD = """# Examples through the front door

Written by `python -m tests.verification.front_door_page` from `tests/verification/front_door/values*.yaml`. Each example is a
case file that `framecheck check FILE --json OUT` or `framecheck section FILE --json OUT` reads, and numbers that its JSON is held
to. Some stand printed in their source, the others are worked out by hand from it: the last two columns tell. Our numbers and the
differences stand in {doc}`verification`.

These are a part of the values that `framecheck selfcheck --proof` counts as through the front door: tests with case files of their
own hold the rest. `looked up` says whether somebody opened the named source for this. A value of a source from memory counts there
as "from memory" only where the number itself is remembered: where it is our sum on a rule that we remember, it counts as formula or
derived."""
TABLE = """| case file | what | source | page | looked up | values | printed |
| --- | --- | --- | --- | --- | --- | --- |"""
LACKING = """## What has no printed example

Every check, way of failing, kind of load case, shape, joint and plate load that can govern a case has a printed number above or
stands here with the reason.
"""


def page() -> str:
    """Return the page."""
    values = [value for each in examples() for value in each.values]
    printed = sum(value.kind is Kind.PRINTED for value in values)
    count = f"{len(values)} values in {len(examples())} examples, {printed} of them printed in the source as they stand."
    rows = (example_row(each) for each in examples())
    reasons = (line for each in lacking() for line in reason_lines(each))
    return "\n".join((HEAD, "", f"{count} {from_memory()}", "", TABLE, *rows, "", LACKING, *reasons))


def from_memory() -> str:
    """Return how many values hang on a source that nobody opened, by what they count as."""
    unseen = [value.kind for each in examples() if not each.seen for value in each.values]
    kinds = ", ".join(f"{unseen.count(kind)} {kind}" for kind in Kind if kind in unseen)
    opened = sum(value.kind is Kind.MEMORY for each in examples() if each.seen for value in each.values)
    return f"{len(unseen)} hang on a source from memory: {kinds}; {opened} more are remembered beside an opened source."


def example_row(each: Example) -> str:
    """Return one line of the table."""
    looked = "seen" if each.seen else "from memory"
    printed = sum(value.kind is Kind.PRINTED for value in each.values)
    cells = (f"`{each.case}`", escaped(each.about), escaped(each.source), escaped(each.page), looked, len(each.values), printed)
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def reason_lines(each: Lacking) -> tuple[str, ...]:
    """Return a reason and what it holds for."""
    by = "held by a value worked out by hand" if each.is_held else "no value goes through the front door"
    return f"**{escaped(each.reason[:1].upper() + each.reason[1:])}** ({by}): {', '.join(escaped(name) for name in each.names)}.", ""


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
