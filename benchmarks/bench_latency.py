"""How long the page on the bench takes from a key to the answer: median and worst of so many keys, in a browser.

    python benchmarks/bench_latency.py [CASE] [--keys 50]

Needs `pip install "framecheck[bench]" selenium` and Chromium. Each key changes a number of the demonstration to one that was never
seen before; the time runs in the page itself, from the last key of a change to the new verdict and tables, less the pause that the
page waits for further keys. Told apart are numbers that leave every section as it is (a mass, a place, a target) and a wall, for which
section, corners and kinks are worked out anew. The processor time of all of framecheck's processes stands beside it (Linux): on a
machine that does other things too it says what an idle one would take.
"""

from __future__ import annotations

import argparse
import os
import shutil
import signal
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from random import Random
from typing import Any

ROOT = Path(__file__).parents[1]
PAUSE = 0.2
"""s, that the page waits for further keys (framecheck/bench/page/static/editor.js)."""
TIMED = """
var path = arguments[0], value = arguments[1], done = arguments[2], form = document.getElementById('form');
var field = Array.from(form.querySelectorAll('.field')).find(function (each) { return each.dataset.path === path; });
var input = field.querySelector('input, textarea'), now = document.getElementById('now'), begun = 0;
var seen = new MutationObserver(function () {
  seen.disconnect();
  requestAnimationFrame(function () { done((performance.now() - begun) / 1000); });
});
seen.observe(now, { childList: true });
input.value = value;
begun = performance.now();
input.dispatchEvent(new Event('input', { bubbles: true }));
"""
CHANGES = {
    "a mass": ('["vehicle", "masses", 1, "mass"]', lambda random: f"{random.uniform(400, 640):.2f} lb"),
    "a crossmember's place": ('["frame", "ladder", "crossmembers", 3, "x"]', lambda random: f"-{random.uniform(74, 78):.3f} in"),
    "a target": ('["targets", "safety factor"]', lambda random: f"{random.uniform(1.2, 1.6):.4f}"),
    "a wall": ('["sections", "front rail", "wall"]', lambda random: f"{random.uniform(0.28, 0.34):.5f} in"),
}


def opened(profile: str) -> Any:
    """Return a headless browser."""
    from selenium import webdriver

    options = webdriver.ChromeOptions()
    options.binary_location = shutil.which("chromium") or shutil.which("google-chrome") or ""
    for switch in ("--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={profile}"):
        options.add_argument(switch)
    browser = webdriver.Chrome(options=options, service=webdriver.ChromeService(shutil.which("chromedriver")))
    browser.set_script_timeout(60)
    return browser


TICKS = os.sysconf("SC_CLK_TCK")


def processor_time(pid: int) -> float:
    """Return the processor time of a process and of all below it, s (Linux; 0 elsewhere)."""
    try:
        fields = Path(f"/proc/{pid}/stat").read_text().rsplit(") ", 1)[1].split()
        below = [int(each) for task in Path(f"/proc/{pid}/task").iterdir() for each in (task / "children").read_text().split()]
    except OSError:
        return 0.0
    return sum(int(each) for each in fields[11:15]) / TICKS + sum(map(processor_time, below))


def measured(browser: Any, what: str, keys: int, random: Random) -> list[float]:
    """Return the times of so many changes, s, without the pause."""
    path, new = CHANGES[what]
    return [browser.execute_async_script(TIMED, path, new(random)) - PAUSE for _ in range(keys)]


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("case", nargs="?", default=str(ROOT / "cases" / "hill-truck.yaml"))
    parser.add_argument("--keys", type=int, default=50)
    asked, random = parser.parse_args(), Random()
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(asked.case, folder)
        words = [sys.executable, "-m", "framecheck", "bench", "--no-browser"]
        variables = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"}
        process = subprocess.Popen(words, cwd=folder, env=variables, stdout=subprocess.PIPE, text=True)
        assert process.stdout is not None
        address, browser = process.stdout.readline().strip(), opened(f"{folder}/profile")
        try:
            browser.get(f"{address}edit?file={Path(asked.case).name}")
            browser.execute_async_script(
                "var done = arguments[0]; (function look() { if (document.getElementById('now').innerHTML) { done(); } "
                "else { setTimeout(look, 50); } })();"
            )
            print(f"load of the machine: {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
            for what in CHANGES:
                before = processor_time(process.pid)
                times = measured(browser, what, asked.keys, random)
                each = (processor_time(process.pid) - before) / len(times)
                said = f"median {statistics.median(times):.2f} s, worst of {len(times)} {max(times):.2f} s"
                print(f"{what:24} {said}; processor {each:.2f} s a key", flush=True)
        finally:
            browser.quit()
            process.send_signal(signal.SIGINT)
            process.wait(30)


if __name__ == "__main__":
    main()
