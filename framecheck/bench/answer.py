"""What a text of a case comes to: the verdict, the table of kinds, what is open, the picture; or every fault at its place."""

from __future__ import annotations

from typing import Any

from framecheck.bench.picture import Scene, picture_of
from framecheck.errors import Fault, InputError, UnsolvableError, line_number
from framecheck.model.case import Case
from framecheck.output.first_screen import kind_rows
from framecheck.output.wording import first_words, open_lines, verdict_line
from framecheck.reading.case_file import read_case
from framecheck.reading.library import Library
from framecheck.results.summary import drawn_row
from framecheck.run import Results, run
from framecheck.section.store import SectionStore

Answer = dict[str, Any]
"""Plain values alone: it goes from process to process and to the page."""
COLUMNS = ("kind", "used", "safety_factor", "target", "where", "load_case", "grade")


def answer_of(text: str, file: str, library: Library, store: SectionStore) -> Answer:
    """Return the answer to a text, plain values alone."""
    try:
        case = read_case(text, file, library)
    except InputError as error:
        return {"state": "refused", "verdict": refused_words(error), "faults": [fault_of(each) for each in error.faults]}
    try:
        results = run(case, store)
    except (InputError, UnsolvableError) as error:
        faults = [fault_of(each) for each in error.faults] if isinstance(error, InputError) else []
        said = refused_words(error) if isinstance(error, InputError) else str(error)
        return {"state": "refused", "verdict": said, "faults": faults, "picture": picture_of(Scene(case.frame, {}))}
    return solved(case, results)


def solved(case: Case, results: Results) -> Answer:
    """Return the answer of a case that was judged."""
    units = case.written_in
    rows = [{key: row[key] for key in COLUMNS} for row in kind_rows(results, units)]
    return {
        "state": results.verdict.state.name.lower().replace("_", " "),
        "verdict": verdict_line(results.verdict),
        "worst": first_words(results, units),
        "rows": rows,
        "open": list(open_lines(results.verdict, units)),
        "faults": [],
        "picture": picture_of(scene_of(results)),
        "title": case.title,
    }


def scene_of(results: Results) -> Scene:
    """Return what the picture shows of a case that was judged."""
    frame = results.outcome.case.frame
    names = {member.name for member in frame.members}
    used: dict[str, float] = dict.fromkeys(names, 0.0)
    for row in results.rows:
        if row.subject.name in names:
            used[row.subject.name] = max(used[row.subject.name], row.used)
    shown = drawn_row(results.outcome, results.rows)
    loads = next((each for each in results.outcome.loads if shown is not None and each.name == shown.load_case), None)
    return Scene(frame, used, () if loads is None else loads.point_loads, "" if loads is None else loads.name)


def refused_words(error: InputError) -> str:
    """Return how many faults there are, in words."""
    count = len(error.faults)
    return f"The file can't be used yet: {count} {'thing is' if count == 1 else 'things are'} to be mended."


def fault_of(fault: Fault) -> dict[str, Any]:
    """Return a fault with the line it stands on (0: none) and the key it is about."""
    line = line_number(fault.place)
    key = fault.subject.split(" > ")[-1]
    return {"line": line, "key": key, "subject": fault.subject, "fault": fault.fault, "remedy": fault.remedy}
