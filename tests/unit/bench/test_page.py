"""The page's addresses without a browser: who is refused, what is read and written, what an answer says."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from shutil import copy
from typing import Any

import pytest
from starlette.testclient import TestClient

from framecheck.bench.app import application
from framecheck.bench.asked import Asked
from framecheck.bench.forms import Entry, Group, begin_of, form_of
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
    for path in ("/", "/edit?file=notched-rail.yaml", "/sections"):
        reply = page.get(f"/{TOKEN}{path}")
        assert reply.status_code == 200
        assert "default-src 'none'; script-src 'self'" in reply.headers["content-security-policy"]
        assert "http://" not in reply.text.replace("http://www.w3.org", "")
        assert " style=" not in reply.text
        assert "<script>" not in reply.text
    assert page.get(f"/{TOKEN}/page/editor.js").status_code == 200
    assert page.get(f"/{TOKEN}/page/../app.py").status_code in (403, 404)


@pytest.mark.parametrize("name", ["../x.yaml", "/etc/x.yaml", "out.yaml", "x.txt", "a\\b.yaml", "C:x.yaml", "x\0.yaml"])
def test_only_case_files_of_the_folder_are_read_and_written(page: TestClient, folder: Path, name: str) -> None:
    before = sorted(folder.rglob("*"))
    assert "refused" in post(page, "load", file=name)
    assert "refused" in post(page, "save", file=name, text="title: x", sha256="", anyway=True)
    assert sorted(folder.rglob("*")) == before


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


def entries(group: Group) -> Iterator[Entry]:
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


def test_work_that_lasts_too_long_or_is_ended_from_outside_is_told(folder: Path) -> None:
    hasty = Worker(seconds=0.0)
    text = (folder / "notched-rail.yaml").read_text(encoding="utf-8")
    try:
        assert "took longer" in hasty.ask(Asked(text, str(folder / "notched-rail.yaml")))["verdict"]
        hasty.process.kill()
        hasty.process.join()
        assert "ended from outside" in hasty.ask(Asked(text, str(folder / "notched-rail.yaml")))["verdict"]
    finally:
        hasty.stop()


def test_two_sections_stand_side_by_side(page: TestClient) -> None:
    found = post(page, "sections", first="channel 5 x 2 x 10 ga", second="tube 2 x 3 x 11 ga", units="us")["html"]
    assert "twist" in found
    assert "refused" in post(page, "sections", first="no such", second="tube 2 x 3 x 11 ga", units="us")


def test_a_block_that_is_added_has_its_own_fields_to_add(page: TestClient) -> None:
    """It began with the example of the language's pages, whose first key is the block's own: `cut: {cut: ...}`."""
    begun = begin_of(next(each.kind for each in FRAME.fields if each.key == "ladder"))
    text = post(page, "edit", how="add", text="title: x\nframe: {}\n", path=["frame", "ladder"], value=begun)["text"]
    frame = next(each for each in form_of(text, LIBRARY).groups if each.title == "frame")
    ladder = next(each for each in frame.groups if each.title == "ladder")
    assert ([each.key for each in ladder.entries], {each.key for each in ladder.absent}) == ([], {"rail", "crossmembers"})
