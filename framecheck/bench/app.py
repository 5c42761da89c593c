"""The page's addresses: starts, editor, edits of a text, its answer, files. It keeps nothing: the text is with the browser."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from anyio.to_thread import run_sync
from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from framecheck.bench import document
from framecheck.bench.files import ChangedOutsideError, Folder
from framecheck.bench.forms import Group, form_of
from framecheck.bench.starts import STARTS, start_of, text_of
from framecheck.bench.two_sections import compared
from framecheck.bench.worker import Worker
from framecheck.cli.files import library
from framecheck.cli.main import CAUTION
from framecheck.errors import InputError
from framecheck.value_class import value_class

PAGE = Path(__file__).parent / "page"


@cache
def templates() -> Environment:
    """Return the page's templates; everything that is put into them is escaped."""
    return Environment(loader=PackageLoader("framecheck.bench", "page"), autoescape=True, undefined=StrictUndefined, trim_blocks=True)


@value_class
class Bench:
    """What the addresses share: the folder, the process that answers."""

    folder: Folder
    worker: Worker

    def routes(self) -> list[Route | Mount]:
        """Return the addresses, each with what answers it."""
        posted: dict[str, Callable[[dict[str, Any]], Any]] = {
            "form": self.form,
            "edit": self.edit,
            "answer": self.answer,
            "load": self.load,
            "save": self.save,
            "sections": sections,
        }
        return [
            Route("/", self.starts),
            Route("/edit", self.editor),
            Route("/sections", two_sections),
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

    def form(self, given: dict[str, Any]) -> dict[str, Any]:
        """Return the form of a text, its main fields first where it came from a start."""
        group = form_of(text_in(given), library())
        first = first_entries(group, str(given.get("start", "")))
        return {"html": templates().get_template("form.html").render(group=group, first=first, path_words=document.words_of)}

    def edit(self, given: dict[str, Any]) -> dict[str, Any]:
        """Return a text after one edit."""
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

    def answer(self, given: dict[str, Any]) -> dict[str, Any]:
        """Return the answer to a text."""
        file = str(given.get("file", "")) or "case.yaml"
        found = self.worker.ask(text_in(given), str(self.folder.inside(file)))
        parts = {part: templates().get_template(f"{part}.html").render(answer=found) for part in ("verdict", "answer")}
        return {"state": found["state"], **parts, "picture": found.get("picture", ""), "faults": found["faults"]}

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


def doing(do: Callable[[dict[str, Any]], Any]) -> Callable[[Request], Any]:
    """Return what answers a posted request: JSON in, JSON out, faults of the input as words."""

    async def answered(request: Request) -> Response:
        try:
            given = await request.json()
            if not isinstance(given, dict):
                raise ValueError("a JSON object is asked for")
            return JSONResponse(await run_sync(do, given))
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
    return text.replace("\r\n", "\n")


def path_in(given: dict[str, Any]) -> document.Path:
    """Return the path of a request: keys and numbers."""
    steps = given["path"]
    if not isinstance(steps, list) or not steps or not all(isinstance(each, str | int) for each in steps):
        raise ValueError("a path is asked for")
    return tuple(steps)


def first_entries(group: Group, key: str) -> list[Any]:
    """Return the main fields of a start that are in its form."""
    if not any(each.key == key for each in STARTS):
        return []
    entries = {each.path: each for each in every_entry(group)}
    return [entries[path] for path in start_of(key).first if path in entries]


def every_entry(group: Group) -> list[Any]:
    """Return the fields of a group and of all groups in it."""
    return [*group.entries, *(each for inner in group.groups for each in every_entry(inner))]


def application(folder: Path, worker: Worker) -> Starlette:
    """Return the page's application without its guard."""
    return Starlette(routes=Bench(Folder(folder.resolve()), worker).routes())
