"""What a text of a case comes to: the verdict, the table of kinds, what is open, the pictures; or every fault at its place."""

from __future__ import annotations

from framecheck.bench.asked import Answer, Asked, fault_of, refused_words
from framecheck.bench.document import data_of
from framecheck.bench.picture import built_picture, picture_of
from framecheck.bench.to_scale import names_on, sheets_of
from framecheck.errors import InputError, UnsolvableError
from framecheck.model.case import Case
from framecheck.output.first_screen import kind_rows
from framecheck.output.wording import first_words, open_lines, verdict_line
from framecheck.reading.case_file import read_case
from framecheck.reading.library import Library
from framecheck.rig.setup import AskedTest, RigKind
from framecheck.run import Results, run
from framecheck.section.store import SectionStore

COLUMNS = ("kind", "used", "safety_factor", "target", "where", "load_case", "grade")


def made_of(asked: Asked, library: Library, store: SectionStore) -> Answer:
    """Return the answer to a text, or the paper that is asked for; plain values alone."""
    try:
        case = case_in(asked, library, store)
    except InputError as error:
        return {"state": "refused", "verdict": refused_words(error), "faults": [fault_of(each) for each in error.faults]}
    if asked.paper is None:
        return answer_of(asked, case, store)
    from framecheck.bench.papers import paper_of  # a page that is only looked at never needs them

    return paper_of(asked, case, store)


def case_in(asked: Asked, library: Library, store: SectionStore) -> Case:
    """Return the case in a text; as its readings found it where it names some. InputError with every fault."""
    case = read_case(asked.text, asked.file, library)
    if not case.measured_by:
        return case
    from framecheck.cli.measured_case import with_fit

    return with_fit(case, asked.file, store)


def answer_of(asked: Asked, case: Case, store: SectionStore) -> Answer:
    """Return the answer of a case, or why there is none."""
    try:
        results = run(case, store)
    except (InputError, UnsolvableError) as error:
        faults = [fault_of(each) for each in error.faults] if isinstance(error, InputError) else []
        said = refused_words(error) if isinstance(error, InputError) else str(error)
        return {"state": "refused", "verdict": said, "faults": faults, "picture": built_picture(case.frame, data_of(asked.text))}
    return solved(asked, case, results) | ({} if asked.test is None else test_of(case, asked.test, store))


def solved(asked: Asked, case: Case, results: Results) -> Answer:
    """Return the answer of a case that was judged."""
    units, written = case.written_in, data_of(asked.text)
    rows = [{key: row[key] for key in COLUMNS} for row in kind_rows(results, units)]
    return {
        "state": results.verdict.state.name.lower().replace("_", " "),
        "verdict": verdict_line(results.verdict),
        "worst": first_words(results, units),
        "rows": rows,
        "open": list(open_lines(results.verdict, units)),
        "faults": [],
        "picture": picture_of(results, written, units),
        "sheets": sheets_of(results, names_on(asked.looked_at, written), units),
        "title": case.title,
    }


def test_of(case: Case, kind: RigKind, store: SectionStore) -> Answer:
    """Return what a test of the frame would read, or why it can't be made."""
    from framecheck.output.test_sheet.tables import expected
    from framecheck.output.test_sheet.wording import first_lines
    from framecheck.rig.sheet import sheet_of

    try:
        sheet = sheet_of(case, AskedTest(kind), store)
    except (InputError, UnsolvableError) as error:
        return {"test": {"kind": kind.value, "said": [str(error)], "caption": "", "heads": [], "rows": []}}
    table = expected(sheet, case.written_in)
    heads = [each.text for each in table.headings]
    said = list(first_lines(sheet, case.written_in))
    rows = [list(row) for row in table.rows]
    return {"test": {"kind": kind.value, "said": said, "caption": table.caption, "heads": heads, "rows": rows}}
