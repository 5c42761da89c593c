"""The page on the bench as a person uses it: from a question to a saved file, a slip of the finger, a reload, two tabs, a phone."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copy
from time import monotonic, sleep
from typing import TYPE_CHECKING, Any

import pytest

from framecheck.cli.context import read
from framecheck.output.wording import verdict_line
from framecheck.run import run
from tests.browser.conftest import CASES
from tests.browser.test_report import PHONE, opened

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
    copy(CASES / "notched-rail.yaml", found)
    return found


@pytest.fixture(scope="module")
def address(folder: Path) -> Iterator[str]:
    """Yield the address that the command prints; Ctrl-C ends it."""
    root = str(Path(__file__).parents[2])
    words = [sys.executable, "-m", "framecheck", "bench", "--no-browser"]
    variables = {**os.environ, "PYTHONPATH": root, "PYTHONUNBUFFERED": "1"}
    process = subprocess.Popen(words, cwd=folder, env=variables, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    yield process.stdout.readline().strip()
    process.send_signal(signal.SIGINT)
    assert process.wait(30) in (0, 130, -signal.SIGINT)
    process.stdout.close()


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


def test_from_a_question_to_a_saved_file_of_the_same_verdict(browser: Chrome, address: str, folder: Path) -> None:
    opened(browser, f"{address}edit?start=notch")
    first = answered(browser)
    put(browser, "depth", "2 in")
    assert answered(browser) != first
    browser.execute_script("window.confirm = function () { return false; };")
    press(browser, "save")
    until(lambda: "is there already" in words(browser, "said"))
    file = folder / "notched-rail-2.yaml"
    browser.execute_script("document.getElementById('file').value = 'notched-rail-2.yaml';")
    press(browser, "save")
    until(file.exists)
    until(lambda: words(browser, "said") == "saved")
    assert verdict_line(run(read(str(file))).verdict) in words(browser, "verdict")
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


@pytest.mark.parametrize("way", ["light", "dark", "phone"])
def test_axe_core_finds_nothing(browser: Chrome, address: str, axe: str, way: str) -> None:
    for path in ("", "sections", "edit?start=skid-plate"):
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
