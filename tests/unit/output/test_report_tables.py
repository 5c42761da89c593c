"""The report leaves nothing out that was judged: what a person asks of a page handed over. Common practice, no source."""

from __future__ import annotations

from framecheck.cli.context import read
from framecheck.cli.files import data_folder
from framecheck.output.display import Units
from framecheck.output.html_report import check_tables
from framecheck.results.row import Check
from framecheck.run import run

TABLES = (
    check_tables.joints, check_tables.joint_modes, check_tables.ends_judged, check_tables.kinks, check_tables.others,
    check_tables.notches, check_tables.plates, check_tables.every_member_check, check_tables.fatigue,
)  # fmt: skip


def test_every_check_of_every_thing_stands_in_a_table() -> None:
    """Yield stands in the table of members, gaps in that of clearances; all else has its table here."""
    results = run(read(str(data_folder("cases") / "hill-truck.yaml")))
    told = set()
    for each in TABLES:
        table = each(results, Units.US)
        heads = [heading.text for heading in table.headings]
        told |= {(row[heads.index("where")], row[heads.index("check")]) for row in table.rows}
    judged = {(row.where, row.check.words) for row in results.rows if row.check not in (Check.YIELD, Check.CLEARANCE)}
    assert len(judged) > 60
    assert sorted(judged - told) == []
