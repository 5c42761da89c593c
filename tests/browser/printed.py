"""What a printed page holds, read from the tags that Chromium writes into a PDF (ISO 32000-1, 14.7: logical structure)."""

from __future__ import annotations

import base64
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

PAPER = {"A4": {"paperWidth": 8.27, "paperHeight": 11.69}, "letter": {"paperWidth": 8.5, "paperHeight": 11.0}}
ELEMENT = re.compile(rb"(\d+) 0 obj\n<<(/Type /StructElem\n.*?)\nendobj", re.DOTALL)
KIND, PARENT, PAGE = re.compile(rb"/S /(\w+)"), re.compile(rb"/P (\d+) 0 R"), re.compile(rb"/Pg (\d+) 0 R")
WITHIN, ONE = re.compile(rb"/K (\[.*?\]|\d+ 0 R)", re.DOTALL), re.compile(rb"(\d+) 0 R")
HEADS = {b"H2", b"H3", b"Caption"}


def printed(browser: Chrome, paper: str) -> bytes:
    """Return the open page as a tagged PDF."""
    how = {**PAPER[paper], "generateTaggedPDF": True}
    return base64.b64decode(browser.execute_cdp_cmd("Page.printToPDF", how)["data"])


@dataclass(frozen=True)
class Tags:
    """The tree of tags: by number an element's kind, what it is in, the pages it stands on itself, and what is in it."""

    kinds: dict[int, bytes]
    parents: dict[int, int]
    pages: dict[int, list[bytes]]
    within: dict[int, list[int]]

    def around(self, number: int) -> Iterator[int]:
        """Yield an element and all that it is in."""
        while number in self.kinds:
            yield number
            number = self.parents[number]

    def row(self, number: int) -> int | None:
        """Return the row of a table that an element is in."""
        return next((each for each in self.around(number) if self.kinds[each] == b"TR"), None)

    def in_order(self, number: int) -> Iterator[int]:
        """Yield an element and all in it, as they are read."""
        yield number
        for each in self.within[number]:
            if each in self.kinds:
                yield from self.in_order(each)


def tags(pdf: bytes) -> Tags:
    """Return the tags of a PDF."""
    bodies = {int(found.group(1)): found.group(2) for found in ELEMENT.finditer(pdf)}
    inner = {number: WITHIN.search(body) for number, body in bodies.items()}
    return Tags(
        {number: found.group(1) for number, body in bodies.items() if (found := KIND.search(body))},
        {number: int(found.group(1)) for number, body in bodies.items() if (found := PARENT.search(body))},
        {number: PAGE.findall(body) for number, body in bodies.items()},
        {
            number: [int(each) for each in ONE.findall(found.group(1))] if found else []
            for number, found in inner.items()
        },
    )


def body_rows(found: Tags) -> set[int]:
    """Return the rows of tables but the first of each, its head, which is printed on every page."""
    tables = [within for number, within in found.within.items() if found.kinds[number] == b"Table"]
    return {row for within in tables for row in [each for each in within if found.kinds.get(each) == b"TR"][1:]}


def pages_of_rows(pdf: bytes) -> dict[int, set[bytes]]:
    """Return the pages that each row of a table's body stands on, by the row's number in the PDF."""
    found, rows = tags(pdf), defaultdict[int, set[bytes]](set)
    bodies = body_rows(found)
    for number, pages in found.pages.items():
        row = found.row(number)
        if row in bodies and row is not None:
            rows[row].update(pages)
    return rows


def cut_rows(pdf: bytes) -> list[int]:
    """Return the rows that stand on more than one page."""
    return [number for number, pages in pages_of_rows(pdf).items() if len(pages) > 1]


def is_head(found: Tags, number: int) -> bool:
    """Return whether an element stands over something; the caption of a figure stands under it."""
    kind, around = found.kinds[number], found.kinds.get(found.parents[number])
    return kind in HEADS and (kind != b"Caption" or around == b"Table")


def left_behind(pdf: bytes) -> list[bytes]:
    """Return the kind of each heading and caption that ends on another page than what it stands over begins."""
    found = tags(pdf)
    bodies, waiting, behind = body_rows(found), dict[bytes, bytes](), list[bytes]()
    root = next(number for number, kind in found.kinds.items() if kind == b"Document")
    for number in found.in_order(root):
        heads = [found.kinds[each] for each in found.around(number) if is_head(found, each)]
        row = found.row(number)
        if not found.pages[number] or (row is not None and row not in bodies):
            continue
        if heads:
            waiting[heads[0]] = found.pages[number][-1]
            continue
        behind += [head for head, page in waiting.items() if page != found.pages[number][0]]
        waiting = {}
    return behind
