"""What a button hands out: the report, the test sheet, the tables, a drawing; each made whole from the text, or refused in words."""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256
from io import BytesIO
from pathlib import PurePosixPath
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from framecheck.bench.asked import Asked, Paper, fault_of, refused_words
from framecheck.cli.context import caution
from framecheck.errors import InputError, UnsolvableError
from framecheck.model.case import Case
from framecheck.run import run
from framecheck.section.store import SectionStore
from framecheck.value_class import value_class
from framecheck.versions import Origin, stamp

FIRST_DAY = (1980, 1, 1, 0, 0, 0)
"""The date of every file in an archive: the same input gives the same bytes."""


@value_class
class MadePaper:
    """A paper. ending: of its file's name; kind: as the web names it."""

    ending: str
    kind: str
    content: bytes


def paper_of(asked: Asked, case: Case, store: SectionStore) -> dict[str, Any]:
    """Return a paper of a case under the name to save it by; faults in words where it can't be made."""
    file = PurePosixPath(asked.shown_name)
    try:
        made = MAKERS[asked.paper](asked, case, store)
    except (InputError, UnsolvableError) as error:
        faults = [fault_of(each) for each in error.faults] if isinstance(error, InputError) else []
        said = refused_words(error) if isinstance(error, InputError) else str(error)
        return {"state": "refused", "verdict": " ".join([said, *(f"{each['fault']}; {each['remedy']}." for each in faults)])}
    return {"state": "made", "name": f"{file.stem}{made.ending}", "kind": made.kind, "content": made.content}


def origin_of(asked: Asked) -> Origin:
    """Return where a paper comes from: the text as it stands on the page, saved or not."""
    return Origin(asked.shown_name, sha256(asked.text.encode("utf-8")).hexdigest())


def report(asked: Asked, case: Case, store: SectionStore) -> MadePaper:
    """Return the report."""
    from dataclasses import replace

    from framecheck.cli.check_commands import further
    from framecheck.output.html_report.page import as_html

    more = further(case, asked.text)
    if case.as_drawn is not None:
        more = replace(more, drawn=run(case.as_drawn, store))
    page = as_html(run(case, store), caution(), case.written_in, more, origin_of(asked))
    return MadePaper("-report.html", "text/html; charset=utf-8", page.encode("utf-8"))


def test_sheet(asked: Asked, case: Case, store: SectionStore) -> MadePaper:
    """Return the sheet of a torsion test."""
    from framecheck.output.test_sheet.page import as_html
    from framecheck.rig.setup import AskedTest, RigKind
    from framecheck.rig.sheet import sheet_of

    page = as_html(sheet_of(case, AskedTest(asked.test or RigKind.TORSION), store), caution(), case.written_in, origin_of(asked))
    return MadePaper("-test-sheet.html", "text/html; charset=utf-8", page.encode("utf-8"))


def tables(asked: Asked, case: Case, store: SectionStore) -> MadePaper:
    """Return all tables as CSV files in one archive."""
    from framecheck.output.csv_text import as_csv

    found, content = as_csv(run(case, store), caution(), origin_of(asked)), BytesIO()
    with ZipFile(content, "w", ZIP_DEFLATED) as archive:
        for name, text in found.items():
            archive.writestr(ZipInfo(name, FIRST_DAY), text.encode("utf-8"), ZIP_DEFLATED)
    return MadePaper("-tables.zip", "application/zip", content.getvalue())


def drawing(asked: Asked, case: Case, store: SectionStore) -> MadePaper:
    """Return the frame drawn in the load case that governs."""
    from framecheck.cli.draw_command import frame_figure, governing_case
    from framecheck.output.charts.on_axes import Picture, as_bytes

    results = run(case, store)
    figure = frame_figure(results, governing_case(results), results.governing, None, case.written_in)
    return MadePaper(".svg", "image/svg+xml", as_bytes(figure, Picture("svg", stamp([origin_of(asked)]))))


MAKERS: dict[Paper | None, Callable[[Asked, Case, SectionStore], MadePaper]] = {
    Paper.REPORT: report,
    Paper.TEST_SHEET: test_sheet,
    Paper.TABLES: tables,
    Paper.DRAWING: drawing,
}
