"""The demonstration's page by itself, without a browser: small, the same twice, every figure with its words and its numbers."""

from __future__ import annotations

import re

from framecheck.cli.context import caution
from framecheck.output.html_report.page import ReportExtras, as_html
from framecheck.run import Results

MOST_BYTES = 1_000_000
"""What the issue asks of the demonstration's report."""


def test_it_is_small_and_the_same_twice(hill_truck: Results) -> None:
    page = as_html(hill_truck, caution())
    assert len(page.encode("utf-8")) <= MOST_BYTES
    assert as_html(hill_truck, caution()) == page


def test_every_figure_has_words_and_a_table_under_it(hill_truck: Results) -> None:
    """WCAG 2.1, 1.1.1: a title and a description; before the next figure comes a table with the numbers."""
    page = as_html(hill_truck, caution(), further=ReportExtras(is_full=True))
    figures = re.findall(r"<figure.*?(?=<figure|</main>)", page, re.DOTALL)
    assert len(figures) >= 6
    for figure in figures:
        assert re.search(r'<svg [^>]*role="img" aria-labelledby="(\w+)-title \1-desc"', figure)
        assert re.search(r"<title id=[^>]*>[^<]+</title><desc id=[^>]*>[^<]+</desc>", figure)
        assert "<tbody>" in figure


def test_the_twist_is_said_and_drawn(hill_truck: Results) -> None:
    page = as_html(hill_truck, caution(), further=ReportExtras(is_full=True))
    said = re.search(r"<p>(\w+ rail) twists most: ([\d.]+) deg between", page)
    assert said is not None
    assert f"Angle of twist along {said.group(1)}" in page
    rows = re.findall(r"<tr>.*?</tr>", page[page.rindex("<caption>Angle of twist along") :].split("</table>")[0])
    angles = [float(re.findall(r">([^<>]+)</td>", row)[-1]) for row in rows[1:]]
    assert max(angles) - min(angles) == float(said.group(2))
