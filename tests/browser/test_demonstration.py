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


def test_every_figure_has_words_and_a_table_with_it(hill_truck: Results) -> None:
    """WCAG 2.1, 1.1.1: a title and a description; in its part of the page stands a table with the numbers."""
    page = as_html(hill_truck, caution(), further=ReportExtras(is_full=True))
    parts = [part for part in re.split(r"<section|<h2>", page) if "<figure" in part]
    assert len(parts) >= 9
    assert all("<tbody>" in part for part in parts)
    figures = re.findall(r"<figure.*?</figure>", page, re.DOTALL)
    assert len(figures) >= 24
    for figure in figures:
        assert re.search(r'<svg [^>]*role="img" aria-labelledby="(\w+)-title \1-desc"', figure)
        assert re.search(r"<title id=[^>]*>[^<]+</title><desc id=[^>]*>[^<]+</desc>", figure)
    along = re.findall(r"<figcaption>Along (.*?) in ", page)
    assert len(along) == 6
    assert all(f"<caption>Along {name}" in page for name in along)


def test_the_twist_is_said_and_drawn(hill_truck: Results) -> None:
    page = as_html(hill_truck, caution(), further=ReportExtras(is_full=True))
    said = re.search(r"<p>(\w+ rail) twists most: ([\d.]+) deg between", page)
    assert said is not None
    assert f"Angle of twist along {said.group(1)}" in page
    rows = re.findall(r"<tr>.*?</tr>", page[page.rindex("<caption>Angle of twist along") :].split("</table>")[0])
    angles = [float(re.findall(r">([^<>]+)</td>", row)[-1]) for row in rows[1:]]
    assert max(angles) - min(angles) == float(said.group(2))
