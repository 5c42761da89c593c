"""A headless browser for the report, and the report's pages as files."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from shutil import copy
from typing import TYPE_CHECKING

import pytest

from framecheck.cli.context import caution, read
from framecheck.output.display import Units
from framecheck.output.html_report import compared
from framecheck.output.html_report.page import ReportExtras, as_html
from framecheck.run import Results, run
from framecheck.study.compare import compare_results
from framecheck.study.frame_measures import points_of, stiffness_of
from framecheck.versions import Origin
from tests.unit.output.samples import results as sample

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

CASES = Path(__file__).parents[2] / "cases"
BROWSERS, DRIVERS = ("chromium", "google-chrome", "chrome"), ("chromedriver", "chromium-driver")
SWITCHES = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--window-size=1280,1000",
)
NOWHERE = "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"
"""A page that asks the network for anything gets an error in its console."""
HOW_TO_GET_ONE = "THE REPORT WAS NOT OPENED IN A BROWSER"


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    """Yield a browser that logs its console and its requests; skip loudly where there is none."""
    webdriver = pytest.importorskip("selenium.webdriver", reason=f"{HOW_TO_GET_ONE}: pip install selenium")
    program = next(filter(None, map(shutil.which, BROWSERS)), None)
    driver = next(filter(None, map(shutil.which, DRIVERS)), None)
    if program is None or driver is None:
        pytest.skip(f"{HOW_TO_GET_ONE}: apt-get install chromium chromium-driver")
    options = webdriver.ChromeOptions()
    options.binary_location = program
    for switch in (*SWITCHES, NOWHERE, f"--user-data-dir={tmp_path_factory.mktemp('browser')}"):
        options.add_argument(switch)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    found = webdriver.Chrome(options=options, service=webdriver.ChromeService(driver))
    yield found
    found.quit()


@pytest.fixture(scope="session")
def axe() -> str:
    """Return the text of axe-core, which is not ours to ship: FRAMECHECK_AXE says where axe.min.js is."""
    path = os.environ.get("FRAMECHECK_AXE", "")
    if not path:
        pytest.skip("ACCESSIBILITY WAS NOT CHECKED: set FRAMECHECK_AXE to the axe.min.js of an installed axe-core")
    return Path(path).read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def hill_truck() -> Results:
    """Return the demonstration truck, solved."""
    return run(read(str(CASES / "hill-truck.yaml")))


@pytest.fixture(scope="session")
def pages(hill_truck: Results, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Return the addresses of the pages by name."""
    folder, case = tmp_path_factory.mktemp("pages"), hill_truck.outcome.case
    text = (CASES / "hill-truck.yaml").read_text(encoding="utf-8")
    further = ReportExtras(text, stiffness=stiffness_of(case, points_of(case)), is_full=True)
    odd = sample("<script>alert('title')</script> " + "a very long name that goes on " * 12)
    both, origin = [hill_truck, hill_truck], Origin("hill-truck.yaml", "0" * 64)
    found = {
        "report": as_html(hill_truck, caution(), Units.US, further),
        "short": as_html(hill_truck, caution(), Units.US, replace(further, is_full=False), origin),
        "odd": as_html(odd, caution(), further=ReportExtras("# <script>alert(1)</script>\n" * 3, is_full=True)),
        "compared": compared.as_html(both, compare_results(both), caution()),
    }
    for name, page in found.items():
        (folder / f"{name}.html").write_text(page, encoding="utf-8")
    return {name: (folder / f"{name}.html").as_uri() for name in found}


@pytest.fixture(scope="session")
def bench_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder that the page on the bench is started in."""
    found = tmp_path_factory.mktemp("bench")
    for name in ("notched-rail", "hill-truck"):
        copy(CASES / f"{name}.yaml", found)
    return found


@pytest.fixture(scope="session")
def running(bench_folder: Path) -> Iterator[tuple[int, str]]:
    """Yield the number of the command's process and the address that it prints; Ctrl-C ends it."""
    root = str(Path(__file__).parents[2])
    words = [sys.executable, "-m", "framecheck", "bench", "--no-browser"]
    variables = {**os.environ, "PYTHONPATH": root, "PYTHONUNBUFFERED": "1"}
    process = subprocess.Popen(words, cwd=bench_folder, env=variables, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    yield process.pid, process.stdout.readline().strip()
    process.send_signal(signal.SIGINT)
    assert process.wait(30) in (0, 130, -signal.SIGINT)
    process.stdout.close()


@pytest.fixture(scope="session")
def address(running: tuple[int, str]) -> str:
    """Return the address of the page on the bench."""
    return running[1]


@pytest.fixture(scope="session")
def bench(running: tuple[int, str]) -> int:
    """Return the number of the process that serves it."""
    return running[0]
