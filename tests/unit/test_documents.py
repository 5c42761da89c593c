"""Every file and room that the pages for contributors and the theory pages name is there: a page goes stale when files are moved."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
ROOMS = ("framecheck", "tests", "benchmarks", "docs", "shared", "sections", "cases", ".ci")
PAGES = (ROOT / "DEVELOPERS.md", ROOT / "docs" / "trust.md", *sorted((ROOT / "docs" / "theory").glob("*.md")))
NAMED = re.compile(r"`((?:[\w.-]+/)*[\w-]+\.(?:py|yaml|csv|md|toml)|(?:[\w.-]+/)+)`")


def paths() -> list[str]:
    """Return every file of the project as /room/.../name, and every folder as /room/.../."""
    found = [path for room in ROOMS for path in (ROOT / room, *(ROOT / room).rglob("*"))]
    return [f"/{path.relative_to(ROOT).as_posix()}{'/' if path.is_dir() else ''}" for path in (*found, *ROOT.glob("*"))]


def missing(text: str) -> list[str]:
    """Return the names in a text that end no path of the project."""
    known = paths()
    return [name for name in NAMED.findall(text) if not any(path.endswith(f"/{name}") for path in known)]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_file_that_a_page_names_is_there(page: Path) -> None:
    assert missing(page.read_text(encoding="utf-8")) == []


def test_every_room_of_the_package_is_on_the_map() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rooms = {path.parent.name for path in (ROOT / "framecheck").glob("*/__init__.py")}
    assert [room for room in sorted(rooms) if f"`framecheck/{room}/`" not in page] == []


def test_a_file_that_is_gone_is_found() -> None:
    assert missing("see `frame/nowhere.py`, `framecheck/nowhere/`, `framecheck/run.py` and `framecheck/frame/panel/`") == [
        "frame/nowhere.py",
        "framecheck/nowhere/",
    ]
