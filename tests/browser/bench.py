"""The page on the bench in a browser: how a person's doings are done, and how what is shown is read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from time import monotonic, sleep
from typing import TYPE_CHECKING, Any

from framecheck.cli.context import read
from framecheck.output.wording import verdict_line
from framecheck.run import run

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
