"""The page's addresses: starts, editor, edits of a text, its answer, files. It keeps nothing: the text is with the browser."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from math import isfinite
from pathlib import Path
from typing import Any
from urllib.parse import quote

from anyio.to_thread import run_sync
from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from framecheck.bench import document
from framecheck.bench.asked import Asked, Paper
from framecheck.bench.files import ChangedOutsideError, Folder
from framecheck.bench.forms import form_of
from framecheck.bench.lines_in import frame_from
from framecheck.bench.main_fields import first_entries, usual_values
from framecheck.bench.starts import STARTS, start_of, text_of
from framecheck.bench.two_sections import compared
from framecheck.bench.worker import Worker
from framecheck.cli.case_file_commands import KINDS
from framecheck.cli.files import library
from framecheck.cli.main import CAUTION
from framecheck.errors import InputError
from framecheck.value_class import value_class

PAGE = Path(__file__).parent / "page"
PARTS = ("verdict", "answer", "test", "sheets", "open")
"""What an answer consists of on the page, beside the picture."""


@cache
def templates() -> Environment:
    """Return the page's templates; everything that is put into them is escaped."""
    return Environment(loader=PackageLoader("framecheck.bench", "page"), autoescape=True, undefined=StrictUndefined, trim_blocks=True)


@value_class
class Bench:
    """What the addresses share: the folder, the process that answers, the one that makes papers."""

    folder: Folder
    worker: Worker
    printer: Worker

    def routes(self) -> list[Route | Mount]:
        """Return the addresses, each with what answers it."""
        posted: dict[str, Callable[[dict[str, Any]], Any]] = {
            "form": form,
            "edit": edit,
            "answer": self.answer,
            "load": self.load,
            "save": self.save,
            "sections": sections,
            "paper": self.paper,
            "lines": partial(frame_from, folder=self.folder),
        }
        return [
            Route("/", self.starts),
            Route("/edit", self.editor),
            Route("/sections", two_sections),
            Route("/lines", self.lines_page),
            *(Route(f"/do/{name}", doing(do), methods=["POST"]) for name, do in posted.items()),
            Mount("/page", StaticFiles(directory=PAGE / "static")),
        ]

    async def starts(self, request: Request) -> Response:
        """Return the first page: what do you want to know?"""
        names = await run_sync(self.folder.names)
        return page("starts.html", request, starts=STARTS, files=names)

    async def editor(self, request: Request) -> Response:
        """Return the editor; which file or start it begins with is in the address and read by the page itself."""
        return page("editor.html", request, sections=await run_sync(section_names))

    def answer(self, given: dict[str, Any]) -> dict[str, Any]:
        """Return the answer to a text."""
        found = self.worker.ask(asked_in(given, self.folder))
        parts = {part: templates().get_template(f"{part}.html").render(answer=found) for part in PARTS}
        return {"state": found["state"], **parts, "picture": found.get("picture", ""), "faults": found["faults"]}

    def paper(self, given: dict[str, Any]) -> Response | dict[str, Any]:
        """Return a report, a test sheet, tables or a drawing, to be saved by the browser; why not, where it can't be made."""
        made = self.printer.ask(asked_in(given, self.folder))
        if made["state"] != "made":
            return {"refused": [made["verdict"] or "a newer one was asked for"]}
        saved_as = {"content-disposition": f"attachment; filename*=UTF-8''{quote(made['name'])}"}
        return Response(made["content"], media_type=made["kind"], headers=saved_as)

    async def lines_page(self, request: Request) -> Response:
        """Return the page that makes a frame from a drawing or a table."""
        names = await run_sync(self.folder.lines)
        usual = KINDS["ladder"].made_of[1]
        return page("lines.html", request, files=names, sections=await run_sync(section_names), usual=usual)

    def load(self, given: dict[str, Any]) -> dict[str, Any]:
        """Return the text of a file, or of a start."""
        if given.get("start"):
            start = start_of(str(given["start"]))
            return {"name": start.file, "text": text_of(start), "sha256": ""}
        found = self.folder.load(str(given.get("file", "")))
        return {"name": found.name, "text": found.text, "sha256": found.sha256}

    def save(self, given: dict[str, Any]) -> dict[str, Any]:
        """Write a text to a file."""
        name, seen = str(given.get("file", "")), str(given.get("sha256", ""))
        try:
            return {"sha256": self.folder.save(name, text_in(given), seen, given.get("anyway") is True)}
        except ChangedOutsideError as error:
            return {"changed": str(error)}


def form(given: dict[str, Any]) -> dict[str, Any]:
    """Return the form of a text, its main fields first where it came from a start."""
    group = form_of(text_in(given), library())
    start = str(given.get("start", ""))
    first, usual = first_entries(group, start), usual_values(start)
    page = templates().get_template("form.html")
    return {"html": page.render(group=group, first=first, usual=usual, path_words=document.words_of)}


def edit(given: dict[str, Any]) -> dict[str, Any]:
    """Return a text after one edit."""
    if given.get("how") == "move":
        return {"text": document.with_moved(text_in(given), moves_in(given), number_in(given["value"]))}
    text, path, value = text_in(given), path_in(given), str(given.get("value", ""))
    match given.get("how"):
        case "value":
            return {"text": document.with_value(text, path, value)}
        case "source":
            return {"text": document.with_source(text, path, value)}
        case "add":
            return {"text": document.with_entry(text, path, value)}
        case "remove":
            return {"text": document.without(text, path)}
        case _:
            raise ValueError("no such edit")


MOST_LETTERS = 40


def asked_in(given: dict[str, Any], folder: Folder) -> Asked:
    """Return what a request asks of a text."""
    file, start = str(given.get("file", "")) or "case.yaml", str(given.get("start", ""))
    return Asked(
        text_in(given),
        str(folder.inside(file)),
        file,
        paper=Paper(given["paper"]) if "paper" in given else None,
        looked_at=path_in(given) if given.get("path") else (),
        test=next((each.test for each in STARTS if each.key == start), None),
        tab=str(given.get("tab", ""))[:MOST_LETTERS],
    )


def doing(do: Callable[[dict[str, Any]], Any]) -> Callable[[Request], Any]:
    """Return what answers a posted request: JSON in, JSON out, faults of the input as words."""

    async def answered(request: Request) -> Response:
        try:
            given = await request.json()
            if not isinstance(given, dict):
                raise ValueError("a JSON object is asked for")
            found = await run_sync(do, given)
            return found if isinstance(found, Response) else JSONResponse(found)
        except InputError as error:
            return JSONResponse({"refused": [str(fault) for fault in error.faults]}, 422)
        except (ValueError, KeyError, TypeError):
            return JSONResponse({"refused": ["this request is none that the page makes"]}, 400)

    return answered


def page(name: str, request: Request, **what: Any) -> HTMLResponse:
    """Return a page."""
    return HTMLResponse(templates().get_template(name).render(base=request.scope["root_path"], caution=CAUTION, **what))


async def two_sections(request: Request) -> Response:
    """Return the page that puts two sections side by side."""
    return page("sections.html", request, sections=await run_sync(section_names))


def sections(given: dict[str, Any]) -> dict[str, Any]:
    """Return two sections side by side."""
    found = compared(str(given.get("first", "")), str(given.get("second", "")), str(given.get("units", "us")))
    return {"html": templates().get_template("compared.html").render(compared=found)}


@cache
def section_names() -> tuple[str, ...]:
    """Return the names of the library's sections."""
    return library().section_names()


def text_in(given: dict[str, Any]) -> str:
    """Return the text of a request."""
    text = given["text"]
    if not isinstance(text, str):
        raise ValueError("a text is asked for")
    text.encode("utf-8")  # half a letter is none: ValueError
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def moves_in(given: dict[str, Any]) -> list[tuple[document.Path, float]]:
    """Return the numbers that a request moves, and how much of the way each goes."""
    return [(path_of(steps), number_in(share)) for steps, share in given["moves"]]


def number_in(value: Any) -> float:
    """Return a number of a request that is one; not nothing, not endless."""
    found = float(value)
    if not isfinite(found) or not found:
        raise ValueError("a number is asked for")
    return found


def path_in(given: dict[str, Any]) -> document.Path:
    """Return the path of a request."""
    return path_of(given["path"])


def path_of(steps: Any) -> document.Path:
    """Return a path: keys and numbers."""
    if not isinstance(steps, list) or not steps or not all(isinstance(each, str | int) for each in steps):
        raise ValueError("a path is asked for")
    return tuple(steps)


def application(folder: Path, worker: Worker, printer: Worker) -> Starlette:
    """Return the page's application without its guard. worker: answers; printer: makes papers, while answers go on."""
    return Starlette(routes=Bench(Folder(folder.resolve()), worker, printer).routes())
