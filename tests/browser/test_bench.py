"""The page on the bench as a person uses it: from a question to a saved file, a slip of the finger, a reload, two tabs, a phone."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copy
from time import monotonic, sleep
from typing import TYPE_CHECKING, Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from framecheck.bench.starts import STARTS
from framecheck.cli.context import read
from framecheck.output.wording import verdict_line
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.browser.conftest import CASES
from tests.browser.test_report import PHONE, opened
from tests.cases.test_sections import LIBRARY

webdriver = pytest.importorskip("selenium.webdriver")
ActionChains, Keys = webdriver.ActionChains, webdriver.Keys

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

HANG = 120.0
"""Only ends a hang: seconds."""
FIELD = """
var field = document.querySelector('#form .field[data-key="' + arguments[0] + '"]');
return field && field.querySelector('input, select');
"""
FAULT = "var place = document.querySelector('#form .fault:not([hidden])'); return place && place.textContent;"
TYPE = "arguments[0].value = arguments[1]; arguments[0].dispatchEvent(new Event('input', {bubbles: true}));"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    found = tmp_path_factory.mktemp("bench")
    for name in ("notched-rail", "hill-truck"):
        copy(CASES / f"{name}.yaml", found)
    return found


@pytest.fixture(scope="module")
def running(folder: Path) -> Iterator[tuple[int, str]]:
    """Yield the number of the command's process and the address that it prints; Ctrl-C ends it."""
    root = str(Path(__file__).parents[2])
    words = [sys.executable, "-m", "framecheck", "bench", "--no-browser"]
    variables = {**os.environ, "PYTHONPATH": root, "PYTHONUNBUFFERED": "1"}
    process = subprocess.Popen(words, cwd=folder, env=variables, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    yield process.pid, process.stdout.readline().strip()
    process.send_signal(signal.SIGINT)
    assert process.wait(30) in (0, 130, -signal.SIGINT)
    process.stdout.close()


@pytest.fixture(scope="module")
def address(running: tuple[int, str]) -> str:
    return running[1]


@pytest.fixture(scope="module")
def bench(running: tuple[int, str]) -> int:
    return running[0]


@pytest.fixture(scope="module")
def truck(browser: Chrome, address: str) -> Chrome:
    """Return the browser with the demonstration open."""
    opened(browser, f"{address}edit?file=hill-truck.yaml")
    answered(browser)
    return browser


def until(found: Callable[[], Any]) -> Any:
    """Return what is found, as soon as it is."""
    end = monotonic() + HANG
    while monotonic() < end:
        result = found()
        if result:
            return result
        sleep(0.1)
    raise AssertionError("it never came")


def words(browser: Chrome, name: str) -> str:
    return str(browser.execute_script("return document.getElementById(arguments[0]).textContent;", name)).strip()


def answered(browser: Chrome) -> str:
    """Return the verdict once nothing is being worked out."""
    until(lambda: words(browser, "said") in ("saved", "not saved"))
    return words(browser, "verdict").split("\n")[0]


def put(browser: Chrome, key: str, value: str) -> None:
    """Type a value into the first field of a key and wait for the answer to it."""
    browser.execute_script(TYPE, until(lambda: browser.execute_script(FIELD, key)), value)
    until(lambda: f"{key}: {value}" in str(browser.execute_script("return document.getElementById('yaml').value;")))
    sleep(0.3)  # the pause after which an answer is asked for
    until(lambda: words(browser, "said") in ("saved", "not saved"))


def press(browser: Chrome, name: str) -> None:
    browser.execute_script("document.getElementById(arguments[0]).click();", name)


def saved_as(browser: Chrome, folder: Path, name: str) -> Path:
    """Save under a name and return the file."""
    browser.execute_script("document.getElementById('file').value = arguments[0];", name)
    press(browser, "save")
    until((folder / name).exists)
    until(lambda: words(browser, "said") == "saved")
    return folder / name


def says_the_same(browser: Chrome, file: Path) -> None:
    """Hold the verdict on the page to that of the file that it saved."""
    assert verdict_line(run(read(str(file))).verdict) in words(browser, "verdict")


@pytest.mark.parametrize("start", [each.key for each in STARTS])
def test_from_a_question_to_a_saved_file_of_the_same_verdict(browser: Chrome, address: str, folder: Path, start: str) -> None:
    opened(browser, address)
    browser.find_element("css selector", f"a[href$='start={start}']").click()
    assert answered(browser).startswith("MET SO FAR")
    first = words(browser, "now")
    usual = browser.execute_script("return document.querySelectorAll('.first .untouched').length;")
    assert 5 <= usual <= 12
    put(browser, "safety factor", "9")
    answered(browser)
    assert words(browser, "now") != first
    assert browser.execute_script("return document.querySelectorAll('.first .untouched').length;") in (usual, usual - 1)
    file = saved_as(browser, folder, f"mine-{start}.yaml")
    says_the_same(browser, file)
    browser.refresh()
    until(lambda: browser.execute_script("return document.getElementById('file').value;") == file.name)
    assert "safety factor: 9" in file.read_text(encoding="utf-8")
    assert browser.get_log("browser") == []


def test_a_pasted_table_becomes_a_frame(browser: Chrome, address: str, folder: Path) -> None:
    opened(browser, f"{address}lines")
    table = "member,point,x,y\nleft rail,a,0,15\nleft rail,b,-100,15\nfront,a,,\nfront,c,0,0\n"
    browser.execute_script("document.getElementById('table').value = arguments[0];", table)
    press(browser, "make")
    fault = "var each = document.getElementById('table-fault'); return each.hidden ? '' : each.textContent;"
    assert "has no unit" in until(lambda: browser.execute_script(fault))
    browser.execute_script("document.getElementById('unit').value = 'in'; document.getElementById('half').checked = true;")
    press(browser, "make")
    until(lambda: "edit?new=" in browser.current_url)
    answered(browser)
    browser.refresh()
    answered(browser)
    says_the_same(browser, saved_as(browser, folder, "pasted.yaml"))
    assert browser.get_log("browser") == []


def test_a_slip_is_told_beside_its_field_and_undone(browser: Chrome, address: str) -> None:
    opened(browser, f"{address}edit?file=notched-rail.yaml")
    before = answered(browser)
    put(browser, "depth", "1 inn")
    told = until(lambda: browser.execute_script(FAULT))
    assert "'inn' is not a unit of length" in told
    assert "1 thing is to be mended" in words(browser, "verdict")
    press(browser, "undo")
    until(lambda: answered(browser) == before)


def test_nothing_is_lost_by_a_reload_nor_saved_over_another_tab_s_work(browser: Chrome, address: str, folder: Path) -> None:
    file = folder / "notched-rail.yaml"
    opened(browser, f"{address}edit?file=notched-rail.yaml")
    answered(browser)
    put(browser, "depth", "19 mm")
    browser.refresh()
    until(lambda: "19 mm" in str(browser.execute_script("return document.getElementById('yaml').value;")))
    answered(browser)
    file.write_text(file.read_text(encoding="utf-8").replace("title: ", "title: theirs, "), encoding="utf-8")
    browser.execute_script("window.confirm = function () { return false; };")
    press(browser, "save")
    until(lambda: "changed outside this page" in words(browser, "said"))
    assert "theirs" in file.read_text(encoding="utf-8")


WRONG = {
    "a section": (["frame", "members", 0, "section"], "tube of mine", "there is no section 'tube of mine'"),
    "a length": (["frame", "points", "tip", "y"], "3 furlong", "is not a unit of length"),
    "a force": (["load cases", 0, "vertical bump, 3 g", "forces", 0, "force", "z"], "-450", "has no unit"),
    "a whole number": (["joints", 0, "grid", "across"], "two", "whole number"),
    "a decimal comma": (["joints", 0, "grid", "pitch along"], "4,5 in", "comma"),
    "a name of a table": (["joints", 0, "bolt", "grade"], "grade 99", "grade"),
    "a thread": (["joints", 0, "bolt", "thread"], "M9", "there is no thread"),
    "a thickness": (["joints", 0, "plies", 0, "thickness"], "-1/4 in", "negative"),
    "a ratio": (["targets", "safety factor"], "much", "number"),
    "a choice": (["joints", 0, "plane", "facing"], "sideways", "not known here"),
    "a list": (["frame", "supports", 0, "held"], "nothing", "not known here"),
    "a range": (["joints", 0, "contact", "across"], "[1 in]", "entries stand here"),
}
TOLD = """
var found = {};
document.querySelectorAll('#form .field').forEach(function (field) {
  var fault = field.querySelector('.fault');
  var input = field.querySelector('input, select, textarea');
  if (!fault.hidden) { found[JSON.stringify(JSON.parse(field.dataset.path))] = [input.value, fault.textContent]; }
});
return found;
"""
TYPE_IN = """
var path = JSON.stringify(arguments[0]), field = Array.from(document.querySelectorAll('#form .field')).find(function (each) {
  return JSON.stringify(JSON.parse(each.dataset.path)) === path;
});
var input = field.querySelector('input, select, textarea');
if (input.tagName === 'SELECT') { input.add(new Option(arguments[1])); }
input.value = arguments[1];
input.dispatchEvent(new Event('input', {bubbles: true}));
"""


def test_what_is_wrong_in_a_field_of_any_kind_is_told_beside_it_and_stays_as_typed(browser: Chrome, address: str) -> None:
    opened(browser, f"{address}edit?start=bolts")
    answered(browser)
    for path, value, _ in WRONG.values():
        browser.execute_script(TYPE_IN, path, value)
    until(lambda: len(browser.execute_script(TOLD)) >= len(WRONG))
    told = browser.execute_script(TOLD)
    for kind, (path, value, said) in WRONG.items():
        typed, fault = told[json.dumps(path, separators=(",", ":"))]
        assert (kind, typed) == (kind, value)
        assert said in fault, (kind, fault)
        assert ";" in fault


def test_two_tabs_lose_nothing_of_each_other(browser: Chrome, address: str, folder: Path) -> None:
    copy(CASES / "notched-rail.yaml", folder / "two.yaml")
    tabs = []
    for depth in ("0.9 in", "0.8 in"):
        browser.switch_to.new_window("tab")
        browser.get(f"{address}edit?file=two.yaml")
        answered(browser)
        put(browser, "depth", depth)
        tabs.append((browser.current_window_handle, depth))
    try:
        for tab, depth in tabs:
            browser.switch_to.window(tab)
            browser.refresh()
            answered(browser)
            assert f"depth: {depth}" in browser.execute_script("return document.getElementById('yaml').value;")
        browser.execute_script("window.confirm = function () { return false; };")
        press(browser, "save")
        until(lambda: words(browser, "said") == "saved")
        browser.switch_to.window(tabs[0][0])
        browser.execute_script("window.confirm = function () { return false; };")
        press(browser, "save")
        until(lambda: "changed outside this page" in words(browser, "said"))
        assert "depth: 0.8 in" in (folder / "two.yaml").read_text(encoding="utf-8")
    finally:
        for tab, _ in tabs:
            browser.switch_to.window(tab)
            browser.close()
        browser.switch_to.window(browser.window_handles[0])


def descendants(pid: int) -> list[int]:
    """Return the processes below one, the outermost last (Linux)."""
    found = []
    for task in Path(f"/proc/{pid}/task").iterdir():
        for child in map(int, (task / "children").read_text().split()):
            found += [child, *descendants(child)]
    return found


def test_a_worker_that_is_killed_is_begun_anew(browser: Chrome, address: str, bench: int) -> None:
    opened(browser, f"{address}edit?file=notched-rail.yaml")
    answered(browser)
    os.kill(descendants(bench)[-1], signal.SIGKILL)
    put(browser, "depth", "1 1/8 in")
    assert answered(browser).startswith(("MET", "NOT MET"))


def test_a_stranger_is_refused(address: str) -> None:
    """Another page's Origin, another host's name, another token."""
    for url, headers in (
        (address, {"Origin": "http://elsewhere.example"}),
        (address, {"Host": "elsewhere.example"}),
        (address.rsplit("/", 2)[0] + "/wrong/", {}),
    ):
        with pytest.raises(HTTPError, match="403"):
            urlopen(Request(url, headers=headers))


PIXELS = """
var thing = document.querySelector('#picture .thing[data-way]');
return thing.ownerSVGElement.getScreenCTM().a * thing.dataset.way.split(' ')[0];
"""


def drag(browser: Chrome, name: str, dx: int) -> None:
    """Drag a thing in the picture by pixels."""
    thing = browser.find_element("css selector", f"#picture .thing[data-way][data-name='{name}'] circle")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'});", thing)
    ActionChains(browser).click_and_hold(thing).move_by_offset(dx // 2, 0).move_by_offset(dx - dx // 2, 0).release().perform()


def metres_at(browser: Chrome) -> float:
    """Return where the notch of the text on the page is, m."""
    text = str(browser.execute_script("return document.getElementById('yaml').value;"))
    return read_case(text, "x.yaml", LIBRARY).frame.members[0].cuts[0].at


def test_a_notch_is_dragged_and_nudged_and_undone(browser: Chrome, address: str) -> None:
    opened(browser, f"{address}edit?start=notch")
    answered(browser)
    begun = metres_at(browser)
    pixels = float(browser.execute_script(PIXELS))
    drag(browser, "notch", 40)
    until(lambda: metres_at(browser) != begun)
    dragged = metres_at(browser)
    assert dragged - begun == pytest.approx(40 / pixels, abs=0.0254 / 16 + 1 / abs(pixels))
    answered(browser)
    notch = browser.find_element("css selector", "#picture .thing[data-way][data-name='notch']")
    notch.send_keys(Keys.ARROW_RIGHT)
    until(lambda: metres_at(browser) != dragged)
    assert (metres_at(browser) - dragged) * pixels > 0
    answered(browser)
    assert browser.execute_script("return document.activeElement.dataset.name;") == "notch"
    press(browser, "undo")
    press(browser, "undo")
    assert metres_at(browser) == begun
    press(browser, "redo")
    assert metres_at(browser) == dragged
    assert browser.get_log("browser") == []


CLICKED = """
var thing = document.querySelector(arguments[0]);
thing.dispatchEvent(new MouseEvent('click', {bubbles: true}));
var field = document.activeElement.closest('.field'), group = document.activeElement.closest('details.group');
return [field && field.dataset.key, group && group.dataset.name];
"""


@pytest.mark.parametrize(
    ("clicked", "key", "group"),
    [
        ("#picture .thing[data-name='gearbox crossmember']", "name", "gearbox crossmember"),
        ("#picture .thing[data-name='gearbox crossmember'][data-field]", "make", "ends"),
        ("#picture .thing[data-name='left engine mount']", "name", "engine mount"),
        ("#now [data-name='right rail']", "section", "rail"),
        ("#now [data-name='rock under the gearbox']", "kind", "rock under the gearbox"),
        ("#sheets [data-name='engine mount bolts']", "kind", "engine mount bolts"),
    ],
)
def test_a_click_leads_to_the_fields(truck: Chrome, clicked: str, key: str, group: str) -> None:
    assert truck.execute_script(CLICKED, clicked) == [key, group]


def test_papers_are_handed_out(truck: Chrome, tmp_path: Path) -> None:
    truck.execute_cdp_cmd("Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(tmp_path)})
    for paper, name, begins in (
        ("report", "hill-truck-report.html", b"<!doctype html>"),
        ("test sheet", "hill-truck-test-sheet.html", b"<!doctype html>"),
        ("tables", "hill-truck-tables.zip", b"PK"),
        ("drawing", "hill-truck.svg", b"<?xml"),
    ):
        truck.execute_script("document.querySelector(arguments[0]).click();", f"[data-paper='{paper}']")
        until(lambda name=name: (tmp_path / name).exists())
        assert (tmp_path / name).read_bytes()[:20].lower().startswith(begins.lower())
    assert truck.get_log("browser") == []


@pytest.mark.parametrize("way", ["light", "dark", "phone"])
def test_axe_core_finds_nothing(browser: Chrome, address: str, axe: str, way: str) -> None:
    for path in ("", "sections", "lines", "edit?start=skid-plate"):
        opened(browser, f"{address}{path}")
        if way == "phone":
            browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", PHONE)
        shade = {"name": "prefers-color-scheme", "value": "dark" if way == "dark" else "light"}
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [shade]})
        if path.startswith("edit"):
            answered(browser)
        browser.execute_script(axe)
        found = browser.execute_async_script("axe.run().then(arguments[arguments.length - 1]);")
        assert [(each["id"], each["nodes"][0]["html"]) for each in found["violations"]] == []
        assert browser.execute_script("return document.documentElement.scrollWidth <= window.innerWidth;")


def test_the_keyboard_alone_leads_from_the_picture_to_the_fields(browser: Chrome, address: str) -> None:
    opened(browser, f"{address}edit?file=notched-rail.yaml")
    answered(browser)
    pressed = "var line = document.querySelector('#picture [data-name=rail]'); line.focus();"
    enter = "line.dispatchEvent(new KeyboardEvent('keydown', {key: 'Enter', bubbles: true, cancelable: true}));"
    browser.execute_script(pressed + enter)
    group = "var group = document.activeElement.closest('details.group'); return group && group.dataset.name;"
    assert browser.execute_script(group) == "rail"
