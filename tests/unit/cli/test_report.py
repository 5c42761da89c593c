"""`framecheck report`: one case, several, ratings; odd names, sections without outlines, nothing to solve."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from framecheck.cli.main import entry
from framecheck.output.html_report.page import page_script

CAUTION = "framecheck informs; it does not approve."
MANY = 40
SCRIPT = "<script>alert(1)</script>"
CASE = f"""
title: "Rail $x_{{$ \u8f66\u67b6 {SCRIPT}"
frame:
  points:
    a: {{x: 0 m, y: 0 m, z: 0 m}}
    b: {{x: 1 m, y: 0 m, z: 0 m}}
  members:
    - {{name: "rail $\\\\frac{{$ & {SCRIPT} {"that goes on " * 4}", points: [a, b], section: tube 4 x 2 x 3/16 in}}
  supports:
    - {{point: a, held: all}}
"""
LOADS = "".join(
    f"""
  - "pull $_{{$ {number}":
      forces: [{{point: b, force: {{z: -{200 * (number + 1)} N}}}}]
"""
    for number in range(MANY)
)


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a case of many load cases and odd names, and one without load cases."""
    made = tmp_path_factory.mktemp("report")
    (made / "rail.yaml").write_text(f"{CASE}\nload cases:{LOADS}", encoding="utf-8")
    (made / "unloaded.yaml").write_text(CASE, encoding="utf-8")
    return made


def page(folder: Path, *arguments: str) -> str:
    """Return the page that a command writes, whatever its exit code of 0 or 1."""
    assert entry(["report", *arguments, "-o", str(folder / "page.html")]) in (0, 1)
    return (folder / "page.html").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def metric(folder: Path) -> str:
    """Return the page of the loaded rail with its appendix."""
    return page(folder, str(folder / "rail.yaml"), "--full")


def test_odd_names_and_many_load_cases_are_shown_the_same_each_time(folder: Path) -> None:
    found = page(folder, str(folder / "rail.yaml"), "--units", "us", "--full")
    assert page(folder, str(folder / "rail.yaml"), "--units", "us", "--full") == found
    assert SCRIPT not in found.replace("&lt;script&gt;", "")
    assert all(f"pull $_{{$ {number}<" in found for number in range(MANY))
    assert "rail $\\frac{$ &amp; &lt;script&gt;" in found
    assert "lbf" in found


def test_the_parts_stand_in_their_order(metric: str) -> None:
    heads = re.findall(r"<(?:h[23]|caption)[^>]*>(.*?)</(?:h[23]|caption)>", metric)
    asked = [
        "The worst of each kind of check",
        "Open: not judged, so no word above is about them",
        "Sign-off: to be filled in by the people who decide",
        "The frame in space, load case by load case",
        "What each member and joint uses in each load case, % of what is allowed",
        "What stands behind it",
        "Sections",
        "Open, every thing by name",
        "Assumptions",
        "Taken on the safe side, and limits of every answer",
        "Self-checks, the worst of each",
        "Words",
        "Load cases",
        "Members",
        "Sections and their stress",
        "Joints, notches, plates",
        "Ratings",
        "Masses and axle loads",
        "Inputs as read",
        "Load factors",
        "Safety factors asked",
        "Sources",
    ]
    assert [head for head in heads if head in asked] == asked
    assert metric.index(CAUTION) < metric.index('class="answer"') < metric.index("<h2")
    assert "--ratings" in metric


def test_the_worst_station_has_the_moment_of_a_cantilever(metric: str) -> None:
    """The last load case, 200 N more a step, at the end of 1 m: M = F L (statics), most at the held end."""
    row = re.search(r"Each section where it is worst.*?<tbody>\s*<tr>(.*?)</tr>", metric, re.DOTALL)
    assert row is not None
    cells = re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row.group(1))
    assert cells[2:4] == [f"pull $_{{$ {MANY - 1}", "0"]
    assert float(cells[8]) == pytest.approx(200.0 * MANY * 1.0, rel=1e-3)


def test_several_cases_stand_side_by_side(folder: Path) -> None:
    one, two = str(folder / "rail.yaml"), str(folder / "heavier.yaml")
    text = Path(one).read_text(encoding="utf-8").replace("tube 4 x 2 x 3/16 in", "tube 4 x 2 x 1/4 in")
    Path(two).write_text(text.replace("Rail $x", "Heavier rail $x"), encoding="utf-8")
    found = page(folder, one, two)
    assert "B (Heavier rail" in found
    assert "safety factor of what governs" in found
    assert CAUTION in found
    assert page(folder, one, two) == found
    assert found.count("<script") == 2
    assert "script-src &#39;sha256-" in found
    (scene,) = re.findall(r'<script type="application/json" id="scene">(.*?)</script>', found, re.DOTALL)
    assert [(frame["title"], len(frame["cases"])) for frame in json.loads(scene)] == [("A", MANY), ("B", MANY)]


def test_three_cases_have_no_view_and_only_the_script_that_opens_folds_for_print(folder: Path) -> None:
    one = str(folder / "rail.yaml")
    found = page(folder, one, one, one)
    assert f"<script>{page_script(has_view=False)}</script>" in found
    assert found.count("<script") == 1
    assert "view-canvas" not in page_script(has_view=False)


def test_nothing_to_solve_is_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert entry(["report", str(folder / "unloaded.yaml"), "-o", str(folder / "never.html")]) == 2
    assert "there is nothing to solve" in capsys.readouterr().err
    assert not (folder / "never.html").exists()


def test_ratings_go_with_one_case(folder: Path) -> None:
    one = str(folder / "rail.yaml")
    assert entry(["report", one, one, "--ratings", "-o", str(folder / "never.html")]) == 2
    assert "No load case of this file has a load that can be rated." in page(folder, one, "--ratings", "--full")


RIG = """
title: Two rails
frame:
  ladder:
    rail:
      section: tube 4 x 2 x 3/16 in
      stations: [{name: front, x: 0 m, y: 0.4 m, z: 0.5 m}, {name: rear, x: -2.5 m, y: 0.4 m, z: 0.5 m}]
    crossmembers:
      - {name: nose, x: 0 m, section: tube 3 x 2 x 3/16 in, ends: rigid}
      - {name: tail, x: -2.5 m, section: tube 3 x 2 x 3/16 in, ends: rigid}
  supports: [{point: left front, held: all}]
load cases:
  - down: {forces: [{point: left rear, force: {z: -1 kN}}]}
"""


def texts(html: str, tag: str) -> list[str]:
    return re.findall(rf"<{tag}[^>]*>([^<]*)</{tag}>", html)


def test_a_test_sheet_within_the_report_says_what_the_sheet_by_itself_says(folder: Path) -> None:
    """Every cell, line and answer of `framecheck test` stands in the report, on pages of its own (W3C, CSS Fragmentation 3.1)."""
    case, sheet = folder / "two.yaml", folder / "sheet.html"
    case.write_text(RIG, encoding="utf-8")
    assert entry(["test", str(case), "-o", str(sheet), "--force"]) == 0
    alone, within = sheet.read_text(encoding="utf-8"), page(folder, str(case), "--test", "torsion")
    section = within[within.index('<section class="sheet test" id="test"') :]
    for tag in ("td", "li", "figcaption"):
        assert texts(alone, tag)
        assert set(texts(alone, tag)) <= set(texts(section, tag))
    assert set(re.findall(r'<p class="answer">([^<]*)', alone)) <= set(re.findall(r'<p class="answer">([^<]*)', section))
    assert ".sheet { break-before: page; }" in within
    assert 'id="test"' not in page(folder, str(case))


def test_a_test_sheet_goes_with_one_case(folder: Path) -> None:
    one = str(folder / "rail.yaml")
    assert entry(["report", one, one, "--test", "torsion", "-o", str(folder / "never.html")]) == 2
