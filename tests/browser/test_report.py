"""The report as a browser shows it: quiet, still on the network, turned by mouse and keys, printed, on a phone, to axe-core."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from framecheck.cli.context import caution, read
from framecheck.output.display import Units
from framecheck.output.html_report.page import ReportExtras, as_html
from framecheck.run import run
from framecheck.versions import Origin
from tests.browser.conftest import CASES
from tests.browser.printed import PAPER, cut_rows, left_behind, pages_of_rows, printed
from tests.memory import SHARED

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

EVERY = ("report", "short", "odd", "compared")
PHONE = {"width": 390, "height": 844, "deviceScaleFactor": 2, "mobile": True}
PRINTED_WIDTH, PRINTED_HEIGHT = 688, 1017
"""Pixels of an A4 page within its margins of 14 mm: (210 - 28) and (297 - 28) mm at 96 to the inch."""

UNFOLD = "document.querySelectorAll('details').forEach(function (each) { each.open = true; });"
UNFOLD_BODY = UNFOLD.replace("'details'", "'details:not(.appendix details)'")
"""The appendix has thousands of cells like those before it; axe-core would look at each."""
PICTURE = "return document.getElementById('view-canvas').toDataURL();"
CUT_ROWS = """
var highest = arguments[0];
return Array.from(document.querySelectorAll('tr')).filter(function (row) {
  return getComputedStyle(row).breakInside !== 'avoid' || row.getBoundingClientRect().height > highest;
}).map(function (row) { return row.textContent; });
"""


WHEEL = "arguments[0].dispatchEvent(new WheelEvent('wheel', {deltaY: -100, cancelable: true, ctrlKey: arguments[1]}));"
"""The wheel by itself is the page's: it turns nothing here."""
PRINTED_ROWS = "return document.querySelectorAll('main > :not(#in-space) tbody tr').length;"
"""The view in three dimensions is printed where a load case was chosen in it."""


def opened(browser: Chrome, address: str) -> Chrome:
    """Open a page with empty logs and the size of a desk."""
    for kind in ("browser", "performance"):
        browser.get_log(kind)
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    browser.get(address)
    return browser


def requests(browser: Chrome) -> list[str]:
    """Return the addresses that the page has asked for: a picture within it (data:) is none, nor are the browser's own."""
    said = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    asked = [each["params"]["request"]["url"] for each in said if each["method"] == "Network.requestWillBeSent"]
    return [each for each in asked if not each.startswith(("data:", "chrome:", "chrome-untrusted:"))]


@pytest.mark.parametrize("name", EVERY)
def test_no_console_message_and_no_request_but_the_page(browser: Chrome, pages: dict[str, str], name: str) -> None:
    opened(browser, pages[name])
    browser.execute_script(UNFOLD)
    assert browser.get_log("browser") == []
    assert requests(browser) == [pages[name]]


def test_a_request_would_be_seen(browser: Chrome, pages: dict[str, str]) -> None:
    """The check above can fail: an image from elsewhere is asked for, refused by the page's policy and said in the console."""
    opened(browser, pages["report"])
    browser.execute_script("new Image().src = 'http://example.invalid/x.png';")
    assert any("Content Security Policy" in entry["message"] for entry in browser.get_log("browser"))


def test_a_script_in_a_title_is_shown_as_text(browser: Chrome, pages: dict[str, str]) -> None:
    opened(browser, pages["odd"])
    assert browser.find_element("tag name", "h1").text.startswith("<script>alert('title')</script>")
    assert "- <script>alert('title')</script>" in browser.title
    assert browser.execute_script("return document.scripts.length;") == 2


def test_the_view_turns_by_mouse_and_by_keys_and_comes_back(browser: Chrome, pages: dict[str, str]) -> None:
    from selenium.webdriver import ActionChains, Keys

    canvas = opened(browser, pages["report"]).find_element("id", "view-canvas")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'});", canvas)
    start = browser.execute_script(PICTURE)
    assert browser.execute_script(PICTURE) == start
    ActionChains(browser).move_to_element(canvas).click_and_hold().move_by_offset(80, 30).release().perform()
    dragged = browser.execute_script(PICTURE)
    seen = [start, dragged]
    for key in (Keys.ARROW_LEFT, Keys.ARROW_UP, "+"):
        canvas.send_keys(key)
        seen.append(browser.execute_script(PICTURE))
    browser.execute_script(WHEEL, canvas, False)
    assert browser.execute_script(PICTURE) == seen[-1]
    browser.execute_script(WHEEL, canvas, True)
    seen.append(browser.execute_script(PICTURE))
    for name in ("side", "front", "top"):
        browser.find_element("css selector", f"[data-look={name}]").click()
        seen.append(browser.execute_script(PICTURE))
    assert len(set(seen)) == len(seen)
    browser.find_element("id", "view-reset").click()
    assert browser.execute_script(PICTURE) == start


def test_the_choice_of_load_case_and_scale_changes_the_drawing(browser: Chrome, pages: dict[str, str]) -> None:
    from selenium.webdriver.support.select import Select

    opened(browser, pages["report"])
    choice = Select(browser.find_element("id", "view-case"))
    names = [option.text for option in choice.options]
    seen = [browser.execute_script(PICTURE)]
    choice.select_by_visible_text(names[3])
    seen.append(browser.execute_script(PICTURE))
    assert names[3] in browser.find_element("id", "view-said").text
    assert names[3] in browser.find_element("css selector", "#view-table caption").text
    rows = "return document.querySelectorAll('tbody tr').length;"
    assert len(pages_of_rows(printed(browser, "A4"))) == browser.execute_script(rows)
    browser.execute_script(
        "var s = document.getElementById('view-scale'); s.value = 3; s.dispatchEvent(new Event('input'));"
    )
    seen.append(browser.execute_script(PICTURE))
    assert len(set(seen)) == 3


CONTROLS = """
return Array.from(document.querySelectorAll('a[href], button, select, input, summary, [tabindex]')).filter(function (each) {
  return each.checkVisibility() && !window.reached.has(each);
}).map(function (each) { return each.outerHTML.slice(0, 80); });
"""


@pytest.mark.parametrize("name", ["short", "compared"])
def test_the_keyboard_alone_reaches_everything(browser: Chrome, pages: dict[str, str], name: str) -> None:
    """WCAG 2.1, 2.1.1: what a mouse can do, keys can; every link, button, choice and picture is reached by Tab."""
    from selenium.webdriver import ActionChains, Keys

    opened(browser, pages[name])
    script = "window.reached = new Set(); document.addEventListener('focusin', function (e) { window.reached.add(e.target); });"
    browser.execute_script(script)
    count = len(browser.execute_script(CONTROLS))
    assert count > 20
    ActionChains(browser).send_keys(Keys.TAB * (count + 5)).perform()
    assert browser.execute_script(CONTROLS) == []


@pytest.mark.parametrize("name", EVERY)
def test_no_row_is_cut_in_print(browser: Chrome, pages: dict[str, str], name: str) -> None:
    """Each row avoids a break, and none is higher than a page, which would have to break."""
    opened(browser, pages[name])
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {**PHONE, "width": PRINTED_WIDTH, "mobile": False})
    browser.execute_script(UNFOLD)
    assert browser.execute_script(CUT_ROWS, PRINTED_HEIGHT) == []
    too_wide = "return document.documentElement.scrollWidth;"
    assert browser.execute_script(too_wide) <= PRINTED_WIDTH
    if name == "report":
        shown = "return ['view', 'still-title'].map(id => document.getElementById(id).closest('section').offsetHeight > 0);"
        assert browser.execute_script(shown) == [False, True]


@pytest.mark.parametrize("paper", PAPER)
@pytest.mark.parametrize("name", EVERY)
def test_prints_to_pdf_with_no_row_cut_and_no_heading_left_behind(
    browser: Chrome, pages: dict[str, str], name: str, paper: str
) -> None:
    """What is folded on the screen is printed too, in as many rows; no heading or
    caption is left behind at the foot of a page.
    """
    opened(browser, pages[name])
    pdf = printed(browser, paper)
    assert pdf.startswith(b"%PDF")
    assert len(pages_of_rows(pdf)) == browser.execute_script(PRINTED_ROWS)
    assert cut_rows(pdf) == []
    assert left_behind(pdf) == []


@pytest.mark.parametrize("paper", PAPER)
def test_the_demonstration_is_signed_on_ten_pages(browser: Chrome, pages: dict[str, str], paper: str) -> None:
    """The first page is complete by itself: it ends with the place to sign."""
    opened(browser, pages["short"])
    pdf = printed(browser, paper)
    assert len(re.findall(rb"/Type /Page\b", pdf)) <= 10
    assert cut_rows(pdf) == []
    assert left_behind(pdf) == []
    browser.execute_script("document.querySelectorAll('main > :not(:first-child)').forEach(each => each.remove());")
    assert len(re.findall(rb"/Type /Page\b", printed(browser, paper))) == 1
    assert browser.find_element("css selector", ".sheet .sign") is not None


def test_a_crowded_first_page_still_ends_with_the_place_to_sign(browser: Chrome, tmp_path: Path) -> None:
    """The stiffened coupe has sixteen kinds of check, targets missed and a line accepted: its sign-off stood alone on page two."""
    page = tmp_path / "coupe.html"
    results = run(read(str(CASES / "coast-coupe-stiffened.yaml")), store=SHARED)
    page.write_text(as_html(results, caution(), Units.US, ReportExtras(""), Origin("coupe.yaml", "0" * 64)), encoding="utf-8")
    opened(browser, page.as_uri())
    assert browser.find_element("css selector", ".sheet .sign") is not None
    browser.execute_script("document.querySelectorAll('main > :not(:first-child)').forEach(each => each.remove());")
    assert [len(re.findall(rb"/Type /Page\b", printed(browser, paper))) for paper in PAPER] == [1, 1]


def test_a_row_on_two_pages_would_be_seen(browser: Chrome, pages: dict[str, str]) -> None:
    """The check above can fail: a row higher than a page has to break."""
    opened(browser, pages["compared"])
    browser.execute_script("document.querySelector('tbody td').innerHTML = 'long<br>'.repeat(200);")
    assert len(cut_rows(printed(browser, "A4"))) == 1


def test_a_heading_left_behind_would_be_seen(browser: Chrome, pages: dict[str, str]) -> None:
    opened(browser, pages["compared"])
    browser.execute_script("document.querySelector('h2').style.breakAfter = 'page';")
    assert left_behind(printed(browser, "A4")) == [b"H2"]


@pytest.mark.parametrize("name", EVERY)
def test_a_phone_scrolls_down_only(browser: Chrome, pages: dict[str, str], name: str) -> None:
    opened(browser, pages[name])
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", PHONE)
    browser.execute_script(UNFOLD)
    assert browser.execute_script("return document.documentElement.scrollWidth;") <= PHONE["width"]


@pytest.mark.parametrize("name", EVERY)
def test_axe_finds_no_serious_fault(browser: Chrome, pages: dict[str, str], axe: str, name: str) -> None:
    """axe-core (Deque, MPL-2.0): WCAG 2 A and AA and its own best practice: nothing on the page as it is signed;
    serious and critical findings fail on the others."""
    opened(browser, pages[name])
    browser.execute_script(UNFOLD_BODY)
    browser.execute_script(axe + "; window.axe = axe;")
    browser.set_script_timeout(240)
    found: dict[str, Any] = browser.execute_async_script("axe.run(document).then(arguments[arguments.length - 1]);")
    assert len(found["passes"]) > 10
    bad = [each for each in found["violations"] if name == "short" or each["impact"] in ("serious", "critical")]
    assert [(each["id"], each["help"], [node["html"][:120] for node in each["nodes"][:3]]) for each in bad] == []


def test_what_is_folded_opens_for_print_and_folds_again(browser: Chrome, pages: dict[str, str]) -> None:
    """A browser whose style rules don't reach into a fold printed the page without what is open, thing by thing."""
    opened(browser, pages["report"])
    closed = "return document.querySelectorAll('details:not([open])').length;"
    before = browser.execute_script(closed)
    assert before > 0
    browser.execute_script("window.dispatchEvent(new Event('beforeprint'));")
    assert browser.execute_script(closed) == 0
    browser.execute_script("window.dispatchEvent(new Event('afterprint'));")
    assert browser.execute_script(closed) == before


def test_a_case_that_is_missed_scrolls_sideways_nowhere(browser: Chrome, pages: dict[str, str]) -> None:
    """The word that only a screen reader hears lies within the table of shares, which scrolls by itself."""
    opened(browser, pages["report"])
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", PHONE)
    browser.execute_script("document.querySelectorAll('table.used td.number').forEach(function (each) { each.innerHTML += WORD; });"
                           .replace("WORD", "'<span class=\"unseen\"> LOW</span>'"))
    assert browser.execute_script("return document.documentElement.scrollWidth;") <= PHONE["width"]
