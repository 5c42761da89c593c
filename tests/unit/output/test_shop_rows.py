"""What the joints ask of the shop, in every output: the same numbers, in the units asked for."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from framecheck.cli.main import entry
from framecheck.output.display import Units
from framecheck.output.terminal import amount
from framecheck.results.row import Check, Sizing

CASE = Path(__file__).parents[3] / "cases" / "hill-truck.yaml"


def test_a_size_is_shown_in_the_unit_asked_for_and_a_dash_where_none_is_drawn() -> None:
    """One inch is 25.4 mm, a pound-foot 1.3558 N·m (exact by definition, rounded)."""
    leg, torque = (Sizing(Check.WELDS, "w", "leg", 0.0254, "m", None, "s"), Sizing(Check.BOLTS, "b", "torque", 2.712, "Nm", None, "s"))
    assert amount(leg, leg.value, Units.SI) == "25.4 mm"
    assert amount(leg, leg.value, Units.US) == "1 in"
    assert amount(torque, torque.value, Units.US) == "2.000 lb·ft"
    assert amount(leg, leg.given, Units.SI) == "-"


def test_terminal_json_tables_and_report_tell_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data, report = tmp_path / "out.json", tmp_path / "out.html"
    assert entry(["check", str(CASE), "--full", "--units", "si", "--json", str(data), "--csv", str(tmp_path / "tables")]) == 0
    said = capsys.readouterr().out
    assert entry(["report", str(CASE), "--units", "si", "-o", str(report)]) == 0
    rows = json.loads(data.read_text(encoding="utf-8"))["sizings"]
    torque = next(row for row in rows if row["what"] == "tightening torque")
    shown = f"{torque['value']:.2f} N·m"
    assert shown in said
    assert shown in report.read_text(encoding="utf-8")
    lines = (tmp_path / "tables" / "sizings.csv").read_text(encoding="utf-8").splitlines()
    assert len(lines) == len(rows) + 1
