"""Files made to harm: bombs, depth, numbers of things, paths out of the folder, devices, links, code in names."""

from __future__ import annotations

import csv
import os
import re
import socket
from html.parser import HTMLParser
from io import StringIO
from pathlib import Path
from typing import NoReturn

import pytest

from framecheck.cli.main import entry
from tests.trust.texts import ROOT, SMALL

DEMO = str(ROOT / "cases" / "hill-truck.yaml")
Said = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True, scope="module")
def _own_store(tmp_path_factory: pytest.TempPathFactory) -> object:
    """Keep sections in a folder of these tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))
        yield


def checked(text: str, folder: Path) -> int:
    """Write a case and check it."""
    (folder / "case.yaml").write_text(text, encoding="utf-8")
    return entry(["check", str(folder / "case.yaml")])


BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n" for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)
"""Nine levels of nine aliases: 9^9 values ("billion laughs")."""
HOSTILE = {
    "alias bomb": (BOMB, "values once its aliases"),
    "alias of itself": ("a: &a [*a]\n", "names nothing above it"),
    "deep lists": ("a: " + "[" * 40 + "]" * 40, "nested deeper"),
    "deeper lists": ("a: " + "[" * 5000 + "]" * 5000, "nest"),
    "deep blocks": ("\n".join(" " * n + "a:" for n in range(200)), "nested deeper"),
    "long list": ("a: [" + "1, " * 6000 + "1]\n", "longer than"),
    "many values": ("\n".join(f"k{n}: [{'1, ' * 999}1]" for n in range(60)), "values once"),
    "code in a tag": ("title: !!python/object/apply:os.system ['touch harmed']\n", "has no meaning here"),
    "merge key": ("a: &a {b: c}\nd: {<<: *a}\n", "merge"),
    "two documents": ("title: a\n---\ntitle: b\n", "second document"),
    "megabytes": ("# " + "x" * 1_100_000, "larger than"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_text_is_refused_in_words(name: str, tmp_path: Path, capsys: Said) -> None:
    text, words = HOSTILE[name]
    assert checked(text, tmp_path) == 2
    told = capsys.readouterr().err
    assert words in told
    assert len(told) < 5000
    assert not (tmp_path / "harmed").exists()


def test_more_members_than_a_frame_has_are_refused(tmp_path: Path, capsys: Said) -> None:
    members = "".join(f"    - {{name: m{n}, points: [a, b], section: own}}\n" for n in range(4900))
    assert checked(SMALL.replace("  members:\n", "  members:\n" + members), tmp_path) == 2
    assert "4903 entries stand here" in capsys.readouterr().err


def test_a_thousand_faults_are_all_told_and_the_answer_stays_an_answer(tmp_path: Path, capsys: Said) -> None:
    points = "".join(f"    p{n}: {{x: {n}, y: 0 mm, z: 0 mm}}\n" for n in range(400))
    assert checked(SMALL.replace("  points:\n", "  points:\n" + points), tmp_path) == 2
    assert capsys.readouterr().err.count("has no unit") == 400


@pytest.mark.parametrize("device", ["/dev/zero", "/dev/random", "/dev/null"])
def test_a_device_is_no_case(device: str, capsys: Said) -> None:
    if not Path(device).exists():
        pytest.skip("no such device here")
    assert entry(["check", device]) == 2
    assert "not a regular file" in capsys.readouterr().err


def test_a_pipe_without_a_writer_does_not_hang(tmp_path: Path, capsys: Said) -> None:
    os.mkfifo(tmp_path / "case.yaml")
    assert entry(["check", str(tmp_path / "case.yaml")]) == 2
    assert "not a regular file" in capsys.readouterr().err


@pytest.mark.parametrize("made", ["folder", "loop", "dangling", "to a device"])
def test_links_that_lead_nowhere_good(made: str, tmp_path: Path, capsys: Said) -> None:
    case = tmp_path / "case.yaml"
    if made == "folder":
        case.mkdir()
    else:
        case.symlink_to({"loop": case, "dangling": tmp_path / "none", "to a device": Path("/dev/zero")}[made])
    assert entry(["check", str(case)]) == 2
    assert capsys.readouterr().err.startswith(str(case))


@pytest.mark.parametrize("name", ["case\0.yaml", "x" * 5000, "", "\udcff.yaml"])
def test_names_that_no_file_can_have(name: str, capsys: Said) -> None:
    assert entry(["check", name]) == 2
    assert capsys.readouterr().err


def test_a_case_can_name_no_path_to_read(tmp_path: Path, capsys: Said) -> None:
    """A section given as a file is no section: nothing in a case opens a file."""
    own = "{shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, outside radius: 8 mm, material: S235}"
    assert checked(SMALL.replace(own, "{shape: drawing, file: ../../../etc/passwd}"), tmp_path) == 2
    assert checked(SMALL.replace("section: own", "section: /etc/passwd"), tmp_path) == 2
    assert "root:" not in capsys.readouterr().err


EVIL = "</script><script>alert(1)</script><img src=x onerror=alert(2)>"


class Seen(HTMLParser):
    """Notes the tags and attributes of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def tags(page: str) -> list[tuple[str, dict[str, str | None]]]:
    """Return the tags of a page with their attributes."""
    seen = Seen()
    seen.feed(page)
    return seen.found


def test_script_in_names_stays_text_in_the_report(tmp_path: Path) -> None:
    """As many scripts with the name as without it, none of the name's own tags, and a policy that forbids to load anything."""
    counts = []
    for name in ("plain", EVIL):
        text = SMALL.replace("- push:", f"- '{name}':").replace("title: Bench", f"title: '{name}'")
        text = text.replace("name: first", f"name: '{name}'").replace("member: first", f"member: '{name}'")
        text = text.replace("  own:", f"  '{name}':").replace("section: own", f"section: '{name}'")
        (tmp_path / "case.yaml").write_text(text, encoding="utf-8")
        assert entry(["report", str(tmp_path / "case.yaml"), "-o", str(tmp_path / "out.html")]) in (0, 1)
        page = tmp_path / "out.html"
        found = tags(page.read_text(encoding="utf-8"))
        assert not any("onerror" in attributes for _, attributes in found)
        counts.append(sum(tag == "script" for tag, _ in found))
        policies = [a["content"] for t, a in found if t == "meta" and "content-security-policy" in str(a).lower()]
        assert len(policies) == 1
        assert "default-src 'none'" in (policies[0] or "")
    assert counts[0] == counts[1]


@pytest.mark.parametrize("first", ["=", "+", "-", "@"])
def test_no_cell_of_a_table_begins_a_formula(first: str, tmp_path: Path) -> None:
    """A spreadsheet runs a cell that begins so (OWASP, "CSV injection", from memory); numbers may begin with a minus."""
    name = f"{first}HYPERLINK(0)"
    text = SMALL.replace("- push:", f"- '{name}':").replace("name: first", f"name: '{name}'")
    (tmp_path / "case.yaml").write_text(text.replace("member: first", f"member: '{name}'"), encoding="utf-8")
    assert entry(["check", str(tmp_path / "case.yaml"), "--csv", str(tmp_path / "tables")]) in (0, 1)
    texts = [file.read_text(encoding="utf-8") for file in (tmp_path / "tables").iterdir()]
    cells = [cell for text in texts for row in csv.reader(StringIO(text)) for cell in row]
    assert any(name in cell for cell in cells)
    risky = [
        cell for cell in cells if cell[:1] in ("=", "+", "-", "@") and not re.fullmatch(r"-?[\d.]+(e[+-]?\d+)?", cell)
    ]
    assert risky == []


def test_a_run_opens_no_connection(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> NoReturn:
        raise AssertionError("a connection was tried")

    monkeypatch.setattr(socket, "socket", refused)
    monkeypatch.setattr(socket, "create_connection", refused)
    monkeypatch.setattr(socket, "getaddrinfo", refused)
    assert entry(["report", DEMO, "-o", str(tmp_path / "out.html")]) == 0
    assert entry(["check", DEMO, "--json", str(tmp_path / "out.json")]) == 0
    assert entry(["draw", DEMO, "-o", str(tmp_path / "out.svg")]) == 0


def test_a_report_names_nothing_outside_itself(tmp_path: Path) -> None:
    assert entry(["report", DEMO, "-o", str(tmp_path / "out.html")]) == 0
    found = tags((tmp_path / "out.html").read_text(encoding="utf-8"))
    named = [a[key] or "" for _, a in found for key in ("src", "href", "action", "data") if key in a]
    assert [each for each in named if not each.startswith(("#", "data:"))] == []
