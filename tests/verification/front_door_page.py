"""docs/front_door.md, written from the table of published examples: `python -m tests.verification.front_door_page`."""

from __future__ import annotations

from pathlib import Path

from tests.verification.front_door_table import Example, Lacking, examples, lacking
from tests.verification.manual import Kind, escaped

PAGE = Path(__file__).parents[2] / "docs" / "front_door.md"


HEAD = """# Published examples through the front door

Written by `python -m tests.verification.front_door_page` from `tests/verification/front_door/values*.yaml`. Each example is a
case file that `framecheck check FILE --json` or `framecheck section FILE --json` reads, and numbers that its JSON is held to;
our numbers and the differences stand in {doc}`verification`. `seen`: somebody opened the source for this."""
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
    return "\n".join((HEAD, "", count, "", TABLE, *rows, "", LACKING, *(line for each in lacking() for line in reason_lines(each))))


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
