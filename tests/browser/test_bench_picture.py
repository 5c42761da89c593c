"""What is done on the page on the bench in its pictures and by its buttons: dragged, clicked, by keys alone; dark and on a phone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from framecheck.reading.case_file import read_case
from tests.browser.bench import answered, press, until
from tests.browser.test_report import PHONE, opened
from tests.cases.test_sections import LIBRARY
from tests.unit.bench.test_sliding import text_of

webdriver = pytest.importorskip("selenium.webdriver")
ActionChains, Keys = webdriver.ActionChains, webdriver.Keys

if TYPE_CHECKING:
    from selenium.webdriver import Chrome


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


def test_a_notch_is_dragged_by_a_finger(browser: Chrome, address: str) -> None:
    opened(browser, f"{address}edit?start=notch")
    answered(browser)
    begun = metres_at(browser)
    ring = browser.find_element("css selector", "#picture .thing[data-way][data-name='notch'] circle")
    x, y = browser.execute_script(
        "arguments[0].scrollIntoView({block: 'center'}); var at = arguments[0].getBoundingClientRect();"
        "return [at.x + at.width / 2, at.y + at.height / 2];",
        ring,
    )
    for kind, moved in (("touchStart", 0), ("touchMove", 20), ("touchMove", 40), ("touchEnd", None)):
        points = [] if moved is None else [{"x": x + moved, "y": y}]
        browser.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    until(lambda: metres_at(browser) != begun)


def crossmember_at(browser: Chrome) -> list[float]:
    """Return where both ends of the crossmember of the text on the page are along the vehicle, m."""
    text = str(browser.execute_script("return document.getElementById('yaml').value;"))
    frame = read_case(text, "x.yaml", LIBRARY).frame
    member = next(each for each in frame.members if each.name == "middle")
    return [frame.points[name][0] for name in member.points]


def test_a_crossmember_between_points_is_nudged_and_a_held_one_says_why(browser: Chrome, address: str, bench_folder: Path) -> None:
    (bench_folder / "by-points.yaml").write_text(text_of(), encoding="utf-8")
    opened(browser, f"{address}edit?file=by-points.yaml")
    answered(browser)
    begun = crossmember_at(browser)
    browser.find_element("css selector", "#picture .thing[data-way][data-name='middle']").send_keys(Keys.ARROW_RIGHT)
    until(lambda: crossmember_at(browser) != begun)
    assert [now - was for now, was in zip(crossmember_at(browser), begun, strict=True)] == pytest.approx([0.00635] * 3, abs=1e-5)
    press(browser, "undo")
    assert crossmember_at(browser) == begun
    answered(browser)
    browser.find_element("css selector", "#picture .thing[data-held][data-name='front cross']").send_keys(Keys.ARROW_LEFT)
    assert "left rail ends at 'l1'" in browser.find_element("id", "said").text
    assert crossmember_at(browser) == begun
    assert browser.get_log("browser") == []


@pytest.fixture
def truck(browser: Chrome, address: str) -> Chrome:
    """Return the browser with the demonstration open."""
    if not browser.current_url.endswith("edit?file=hill-truck.yaml"):
        opened(browser, f"{address}edit?file=hill-truck.yaml")
        answered(browser)
    return browser


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


def tab_to(browser: Chrome, is_there: str) -> None:
    """Press Tab until the element that has the focus is the one that is meant."""
    for _ in range(80):
        browser.switch_to.active_element.send_keys(Keys.TAB)
        if browser.execute_script(f"var at = document.activeElement; return {is_there};"):
            return
    raise AssertionError(f"Tab never came to {is_there}")


def test_the_keyboard_alone_leads_from_a_question_to_a_saved_file(browser: Chrome, address: str, bench_folder: Path) -> None:
    opened(browser, address)
    tab_to(browser, "at.href && at.href.endsWith('start=notch')")
    browser.switch_to.active_element.send_keys(Keys.ENTER)
    answered(browser)
    tab_to(browser, "at.id === 'file'")
    browser.switch_to.active_element.send_keys(Keys.CONTROL + "a", Keys.NULL, "by-keys.yaml")
    tab_to(browser, "at.closest('.field') && at.closest('.field').dataset.key === 'depth'")
    browser.switch_to.active_element.send_keys(Keys.CONTROL + "a", Keys.NULL, "1 1/16 in")
    until(lambda: "depth: 1 1/16 in" in str(browser.execute_script("return document.getElementById('yaml').value;")))
    answered(browser)
    browser.switch_to.active_element.send_keys(Keys.CONTROL + "s")
    until((bench_folder / "by-keys.yaml").exists)
    assert "depth: 1 1/16 in" in (bench_folder / "by-keys.yaml").read_text(encoding="utf-8")
