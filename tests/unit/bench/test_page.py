"""The page's addresses without a browser: who is refused, what is read and written, what an answer says."""

from __future__ import annotations

import html
import json
import os
from collections.abc import Iterator
from pathlib import Path
from shutil import copy
from typing import Any

import pytest
from starlette.testclient import TestClient

from framecheck.bench.app import application
from framecheck.bench.document import moved_length
from framecheck.bench.forms import FieldGroup, FormField, begin_of, form_of
from framecheck.bench.guard import Guard
from framecheck.bench.starts import STARTS, text_of
from framecheck.bench.worker import Worker
from framecheck.reading.blocks.frame import FRAME
from framecheck.reading.case_file import read_case
from tests.cases.test_sections import LIBRARY

CASES = Path(__file__).parents[3] / "cases"
TOKEN, OWN = "token", "http://127.0.0.1:80"


@pytest.fixture(scope="module")
def worker() -> Iterator[Worker]:
    found = Worker()
    yield found
    found.stop()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy(CASES / "notched-rail.yaml", tmp_path)
    (tmp_path / "below").mkdir()
    (tmp_path / "out.yaml").symlink_to(CASES / "twist-rig.yaml")
    return tmp_path


@pytest.fixture
def page(folder: Path, worker: Worker) -> TestClient:
    return TestClient(Guard(application(folder, worker, worker), TOKEN, 80), base_url=OWN, headers={"host": "127.0.0.1:80"})


def post(page: TestClient, name: str, **given: Any) -> Any:
    return page.post(f"/{TOKEN}/do/{name}", json=given).json()


@pytest.mark.parametrize(
    ("path", "headers"),
    [
        ("/", {}),
        ("/wrong/", {}),
        (f"/{TOKEN}", {}),
        (f"/{TOKEN}/", {"host": "elsewhere.example"}),
        (f"/{TOKEN}/", {"host": "127.0.0.1:81"}),
        (f"/{TOKEN}/", {"origin": "http://elsewhere.example"}),
        (f"/{TOKEN}/", {"origin": "null"}),
        (f"/{TOKEN}/", {"sec-fetch-site": "cross-site"}),
    ],
)
def test_a_stranger_is_refused(page: TestClient, path: str, headers: dict[str, str]) -> None:
    assert page.get(path, headers=headers).status_code == 403


def test_the_page_loads_nothing_from_elsewhere_and_no_script_within(page: TestClient) -> None:
    for path in ("/", "/edit?file=notched-rail.yaml", "/sections", "/lines"):
        reply = page.get(f"/{TOKEN}{path}")
        assert reply.status_code == 200
        assert "default-src 'none'; script-src 'self'" in reply.headers["content-security-policy"]
        assert "http://" not in reply.text.replace("http://www.w3.org", "")
        assert " style=" not in reply.text
        assert "<script>" not in reply.text
    assert page.get(f"/{TOKEN}/page/editor.js").status_code == 200
    assert page.get(f"/{TOKEN}/page/../app.py").status_code in (403, 404)


LONG = f"{300 * 'x'}.yaml"
NEVER = ["../x.yaml", "/etc/x.yaml", "out.yaml", "x.txt", "a\\b.yaml", "C:x.yaml", "x\0.yaml", ".yaml", "x\n.yaml", LONG]


@pytest.mark.parametrize("name", NEVER)
def test_only_case_files_of_the_folder_are_read_and_written(page: TestClient, folder: Path, name: str) -> None:
    before = sorted(folder.rglob("*"))
    assert "refused" in post(page, "load", file=name)
    assert "refused" in post(page, "save", file=name, text="title: x", sha256="", anyway=True)
    assert sorted(folder.rglob("*")) == before


def test_a_pipe_of_the_folder_keeps_nobody_waiting(page: TestClient, folder: Path) -> None:
    os.mkfifo(folder / "pipe.yaml")
    assert "is no file" in post(page, "load", file="pipe.yaml")["refused"][0]


@pytest.mark.parametrize(("mark", "ending"), [("\ufeff", "\r\n"), ("", "\r\n"), ("\ufeff", "\n")])
def test_a_file_keeps_how_its_lines_end_and_how_it_begins(page: TestClient, folder: Path, mark: str, ending: str) -> None:
    file = folder / "notched-rail.yaml"
    before = mark + file.read_text(encoding="utf-8").replace("\n", ending)
    file.write_bytes(before.encode())
    loaded = post(page, "load", file="notched-rail.yaml")
    saved = post(page, "edit", how="value", text=loaded["text"], path=["targets", "safety factor"], value="1.6")["text"]
    assert "sha256" in post(page, "save", file="notched-rail.yaml", text=saved, sha256=loaded["sha256"])
    assert file.read_bytes() == before.replace("safety factor: 1.5", "safety factor: 1.6").encode()


def test_a_file_that_is_write_protected_or_gone_is_not_written_unasked(page: TestClient, folder: Path) -> None:
    loaded = post(page, "load", file="notched-rail.yaml")
    given = {"file": "notched-rail.yaml", "text": "title: mine", "sha256": loaded["sha256"]}
    (file := folder / "notched-rail.yaml").chmod(0o444)
    assert "not to be written" in post(page, "save", **given, anyway=True)["refused"][0]
    assert file.read_text(encoding="utf-8") == loaded["text"]
    file.unlink()
    assert "taken away" in post(page, "save", **given)["changed"]
    assert not file.exists()


def test_half_a_letter_is_no_text(page: TestClient) -> None:
    assert page.post(f"/{TOKEN}/do/answer", content=rb'{"text": "\ud800: 1"}').status_code == 400
    assert "refused" in page.post(f"/{TOKEN}/do/save", content=rb'{"text": "", "file": "\ud800.yaml"}').json()


def test_a_file_is_saved_whole_and_never_over_another_s_change(page: TestClient, folder: Path) -> None:
    found = post(page, "load", file="notched-rail.yaml")
    text = found["text"].replace("title: ", "title: mine, ")
    saved = post(page, "save", file="notched-rail.yaml", text=text, sha256=found["sha256"])
    assert (folder / "notched-rail.yaml").read_text(encoding="utf-8") == text
    (folder / "notched-rail.yaml").write_text("title: theirs", encoding="utf-8")
    assert "changed outside" in post(page, "save", file="notched-rail.yaml", text=text, sha256=saved["sha256"])["changed"]
    assert (folder / "notched-rail.yaml").read_text(encoding="utf-8") == "title: theirs"
    assert "is there already" in post(page, "save", file="notched-rail.yaml", text=text, sha256="")["changed"]
    assert "sha256" in post(page, "save", file="notched-rail.yaml", text=text, sha256="", anyway=True)
    assert "sha256" in post(page, "save", file="below/new/other.yaml", text=text, sha256="")


@pytest.mark.parametrize("given", [{}, {"text": 1}, {"text": "a: 1", "path": "a"}, {"text": "a: 1", "path": [], "how": "value"}])
def test_a_request_that_the_page_does_not_make_is_refused(page: TestClient, given: dict[str, Any]) -> None:
    assert "refused" in post(page, "edit", **given)
    assert page.post(f"/{TOKEN}/do/edit", content=b"[1").status_code == 400


def entries(group: FieldGroup) -> Iterator[FormField]:
    yield from group.entries
    for inner in group.groups:
        yield from entries(inner)


@pytest.mark.parametrize("case", sorted(CASES.glob("*.yaml")), ids=lambda case: case.stem)
def test_every_value_of_a_case_has_its_field(case: Path) -> None:
    if case.stem.endswith("-study"):
        return
    text = case.read_text(encoding="utf-8")
    found = [each for each in entries(form_of(text, LIBRARY)) if not each.is_whole]
    lines = text.splitlines()
    assert all(each.value.split()[0].strip("\"'") in lines[each.line - 1] or ">" in lines[each.line - 1] for each in found)
    assert not [each.key for each in found if each.about == "not known here"]


@pytest.mark.parametrize("start", STARTS, ids=lambda start: start.key)
def test_a_start_is_a_case_with_its_main_fields(page: TestClient, start: Any) -> None:
    text = text_of(start)
    assert read_case(text, start.file, LIBRARY).title
    html = post(page, "form", text=text, start=start.key)["html"]
    assert 5 <= html.count('<label for="first-') <= 12


def test_an_answer_is_what_the_command_says_and_a_fault_stands_at_its_field(page: TestClient) -> None:
    text = post(page, "load", file="notched-rail.yaml")["text"]
    found = post(page, "answer", text=text, file="notched-rail.yaml")
    assert found["state"] in ("met", "met so far", "not met")
    assert 'data-name="rail"' in found["picture"] or "polyline" in found["picture"]
    wrong = post(page, "edit", how="value", text=text, path=["frame", "cuts", 0, "depth"], value="1 1/2 inn")["text"]
    told = post(page, "answer", text=wrong, file="notched-rail.yaml")
    assert (told["state"], len(told["faults"])) == ("refused", 1)
    field = next(each for each in entries(form_of(wrong, LIBRARY)) if each.path == ("frame", "cuts", 0, "depth"))
    assert (told["faults"][0]["line"], told["faults"][0]["key"]) == (field.line, field.key)


def test_hostile_words_are_shown_as_words(page: TestClient) -> None:
    text = "title: \"<script>alert(1)</script>\"\nframe: {points: {'<b>': {x: 0 m}}}\n"
    for name in ("form", "answer"):
        found = post(page, name, text=text, file="x.yaml")
        assert "<script>" not in str(found)
        assert "<b>'" not in str(found)


@pytest.mark.parametrize("name", ["rails.csv", "below/rails.DXF"])
def test_lines_of_the_folder_are_read_and_nothing_else(page: TestClient, folder: Path, name: str) -> None:
    (folder / name).write_text("member,point,x,y\nrail,a,0 m,0 m\nrail,b,1 m,0 m\n", encoding="utf-8")
    (folder / "away.csv").symlink_to(CASES.parent / "pyproject.toml")
    (folder / "note.csv").symlink_to(folder / "notched-rail.yaml")
    assert name in page.get(f"/{TOKEN}/lines").text
    found = post(page, "lines", source="rails.csv", section="tube 4 x 2 x 3/16 in") if name == "rails.csv" else None
    frame = None if found is None else read_case(found["text"], found["name"], LIBRARY).frame
    assert frame is None or frame.points["b"] == pytest.approx((1.0, 0.0, 0.0), abs=1e-5)
    for other in ("away.csv", "note.csv", "../x.csv", "/etc/x.dxf", "notched-rail.yaml", "x.txt"):
        told = post(page, "lines", source=other, section="tube 4 x 2 x 3/16 in")
        assert [each["field"] for each in told["faults"]] == ["source"]
    assert "refused" in post(page, "load", file=name)
    assert "refused" in post(page, "save", file=name, text="title: x", sha256="", anyway=True)


TABLE = "member,point,x [in],y [in]\nleft rail,a,0,15\nleft rail,b,-100,15\nfront,a,,\nfront,c,0,0\n"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"table": ""}, "table"),
        ({"table": TABLE.replace("-100", "far")}, "table"),
        ({"section": "tube 9 x 9"}, "section"),
        ({"tolerance": "3 furlong"}, "tolerance"),
    ],
)
def test_a_fault_of_a_table_stands_at_its_field(page: TestClient, wrong: dict[str, str], field: str) -> None:
    given = {"table": TABLE, "section": "tube 4 x 2 x 3/16 in", "half": True}
    assert "right rail" in post(page, "lines", **given)["found"]
    told = post(page, "lines", **{**given, **wrong})["faults"]
    assert {each["field"] for each in told} == {field}
    assert "--" not in str(told)


@pytest.mark.parametrize(
    ("paper", "name", "begins"),
    [
        ("report", "notched-rail-report.html", b"<!doctype html>"),
        ("tables", "notched-rail-tables.zip", b"PK"),
        ("drawing", "notched-rail.svg", b"<?xml"),
    ],
)
def test_a_paper_is_handed_out_whole_under_a_name_of_its_own(page: TestClient, paper: str, name: str, begins: bytes) -> None:
    text = post(page, "load", file="notched-rail.yaml")["text"]
    asked = {"text": text, "file": "notched-rail.yaml", "paper": paper}
    reply = page.post(f"/{TOKEN}/do/paper", json=asked)
    assert reply.headers["content-disposition"].endswith(name)
    assert reply.headers["x-content-type-options"] == "nosniff"
    assert reply.content[:20].lower().startswith(begins.lower())
    assert page.post(f"/{TOKEN}/do/paper", json={**asked, "text": text.replace("depth:", "deep:")}).json()["refused"]


def test_what_a_paper_can_t_be_made_of_is_said(page: TestClient) -> None:
    """One rail has no front and rear to twist."""
    text = post(page, "load", file="notched-rail.yaml")["text"]
    said = post(page, "paper", text=text, file="notched-rail.yaml", paper="test sheet")["refused"][0]
    assert ";" in said


@pytest.mark.parametrize(
    ("written", "by", "moved"),
    [  # by hand: 1 in = 25.4 mm
        ("22.5 in", 0.0254, "23 1/2 in"),
        ("-42 in", 0.00635, "-41 3/4 in"),
        ("2 ft 6 in", -0.0254, "29 in"),
        ("76 mm", 0.0123, "88 mm"),
        ("1.2 m", 0.01, "1.210 m"),
        ("0 in", 0.0, "0 in"),
    ],
)
def test_a_dragged_length_keeps_its_unit(written: str, by: float, moved: str) -> None:
    assert moved_length(written, by, ("x",)) == moved


def test_a_notch_is_dragged_by_its_own_number(page: TestClient) -> None:
    text = post(page, "load", file="notched-rail.yaml")["text"]
    found = post(page, "answer", text=text, file="notched-rail.yaml", path=["frame", "cuts", 0, "depth"])
    moves = [[["frame", "cuts", 0, "at"], 1.0]]
    assert html.escape(json.dumps(moves)) in found["picture"]
    assert "axle notch" in found["sheets"]
    moved = post(page, "edit", how="move", text=text, moves=moves, value=0.0254)["text"]
    before, after = (read_case(each, "x.yaml", LIBRARY).frame.members[0].cuts[0].at for each in (text, moved))
    assert after - before == pytest.approx(0.0254, abs=0.0254 / 32)


def test_a_load_case_has_its_fields(page: TestClient) -> None:
    text = (CASES / "hill-truck.yaml").read_text(encoding="utf-8")
    found = {each.path: each.value for each in entries(form_of(text, LIBRARY)) if each.path[0] == "load cases"}
    assert found[("load cases", 13, "diagonal twist", "height")] == "10 in"
    assert found[("load cases", 0)] == "static"
    after = post(page, "edit", how="value", text=text, path=["load cases", 13, "diagonal twist", "height"], value="12 in")["text"]
    assert "diagonal twist: {height: 12 in}" in after


def test_two_sections_stand_side_by_side(page: TestClient) -> None:
    found = post(page, "sections", first="channel 5 x 2 x 10 ga", second="tube 2 x 3 x 11 ga", units="us")["html"]
    assert "twist" in found
    assert found.count("shear centre") >= 2  # both are drawn
    assert "refused" in post(page, "sections", first="no such", second="tube 2 x 3 x 11 ga", units="us")


def test_a_block_that_is_added_has_its_own_fields_to_add(page: TestClient) -> None:
    """It began with the example of the language's pages, whose first key is the block's own: `cut: {cut: ...}`."""
    begun = begin_of(next(each.kind for each in FRAME.fields if each.key == "ladder"))
    text = post(page, "edit", how="add", text="title: x\nframe: {}\n", path=["frame", "ladder"], value=begun)["text"]
    frame = next(each for each in form_of(text, LIBRARY).groups if each.title == "frame")
    ladder = next(each for each in frame.groups if each.title == "ladder")
    assert ([each.key for each in ladder.entries], {each.key for each in ladder.absent}) == ([], {"rail", "crossmembers"})
