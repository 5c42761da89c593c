"""The page on the bench as a person uses it: from a question to a saved file, a slip of the finger, a reload, two tabs, a phone."""

from __future__ import annotations

import json
import os
import signal
from pathlib import Path
from shutil import copy
from typing import TYPE_CHECKING
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from framecheck.bench.starts import STARTS
from tests.browser.bench import FAULT, answered, press, put, saved_as, says_the_same, until, words
from tests.browser.conftest import CASES
from tests.browser.test_report import opened

webdriver = pytest.importorskip("selenium.webdriver")
ActionChains, Keys = webdriver.ActionChains, webdriver.Keys

if TYPE_CHECKING:
    from selenium.webdriver import Chrome


@pytest.mark.parametrize("start", [each.key for each in STARTS])
def test_from_a_question_to_a_saved_file_of_the_same_verdict(browser: Chrome, address: str, bench_folder: Path, start: str) -> None:
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
    file = saved_as(browser, bench_folder, f"mine-{start}.yaml")
    says_the_same(browser, file)
    browser.refresh()
    until(lambda: browser.execute_script("return document.getElementById('file').value;") == file.name)
    assert "safety factor: 9" in file.read_text(encoding="utf-8")
    assert browser.get_log("browser") == []


def test_a_pasted_table_becomes_a_frame(browser: Chrome, address: str, bench_folder: Path) -> None:
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
    says_the_same(browser, saved_as(browser, bench_folder, "pasted.yaml"))
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


def test_nothing_is_lost_by_a_reload_nor_saved_over_another_tab_s_work(browser: Chrome, address: str, bench_folder: Path) -> None:
    file = bench_folder / "notched-rail.yaml"
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


IN_THE_TEXT = """
var yaml = document.getElementById('yaml');
yaml.value = yaml.value.replace('title: ', 'title: mine, ');
yaml.dispatchEvent(new Event('input', {bubbles: true}));
"""


def test_what_was_typed_a_moment_ago_is_in_what_is_saved_loaded_again_or_typed_beside_it(
    browser: Chrome, address: str, bench_folder: Path
) -> None:
    """No pause is waited for between typing in a field and typing in the text, saving, loading the page anew, undoing."""
    file = bench_folder / "moment.yaml"
    copy(CASES / "notched-rail.yaml", file)
    opened(browser, f"{address}edit?file=moment.yaml")
    answered(browser)
    place = ["targets", "safety factor"]
    browser.execute_script(TYPE_IN + IN_THE_TEXT + "document.getElementById('save').click();", place, "1.61")
    until(lambda: "safety factor: 1.61" in file.read_text(encoding="utf-8"))
    assert "title: mine, " in file.read_text(encoding="utf-8")
    browser.execute_script(TYPE_IN + "location.reload();", place, "1.62")
    until(lambda: "safety factor: 1.62" in str(browser.execute_script("return document.getElementById('yaml').value;")))
    answered(browser)
    browser.execute_script(TYPE_IN + "document.getElementById('undo').click();", place, "1.63")
    until(lambda: browser.execute_script("return !document.getElementById('redo').disabled;"))
    assert "safety factor: 1.62" in str(browser.execute_script("return document.getElementById('yaml').value;"))
    assert "safety factor: 1.61" in file.read_text(encoding="utf-8")


def test_two_tabs_lose_nothing_of_each_other(browser: Chrome, address: str, bench_folder: Path) -> None:
    copy(CASES / "notched-rail.yaml", bench_folder / "two.yaml")
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
        assert "depth: 0.8 in" in (bench_folder / "two.yaml").read_text(encoding="utf-8")
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
