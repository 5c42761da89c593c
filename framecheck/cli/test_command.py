"""`framecheck test`: how to measure the frame in the shop, and what the dials should read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from framecheck.cli.context import caution, read, read_with_origin, screen_width, section_store, tell
from framecheck.cli.files import read_text, write_whole
from framecheck.cli.options import force_option, page_name, units_option
from framecheck.cli.places import may_write, origins
from framecheck.cli.rig_options import asked_from, rig_options, target_from
from framecheck.model.case import Case
from framecheck.output.display import Units
from framecheck.output.test_sheet.also import Also
from framecheck.output.test_sheet.fitted_case import fitted_case
from framecheck.output.test_sheet.json_text import as_json as sheet_as_json
from framecheck.output.test_sheet.measured_json import as_json
from framecheck.output.test_sheet.measured_text import as_text
from framecheck.output.test_sheet.text import as_text as sheet_as_text
from framecheck.reading.shop_readings import read_record
from framecheck.rig.change import change_of
from framecheck.rig.fit import DEFAULT
from framecheck.rig.fitted import fit_of
from framecheck.rig.measured import measured
from framecheck.rig.sheet import sheet_of
from framecheck.rig.unknowns import Sort
from framecheck.section.store import SectionStore
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from framecheck.rig.change import BeforeAndAfter
    from framecheck.rig.fitted import Fitted
    from framecheck.rig.measured import MeasuredTest


FOUND = ("joints", "kinks", "splices", "walls", "panels", "body", "modulus")


@click.command(name="test", short_help="A test sheet: how to measure the frame, what dials should read.")
@click.argument("case")
@rig_options
@click.option("--readings", "readings_files", metavar="FILE", multiple=True,
              help="What the dials did read (YAML or CSV): it is worked out. Of several tests, several times.")
@click.option("--fit", "is_fitted", is_flag=True, help="Fit the model to the readings.")
@click.option("--find", "wanted", multiple=True, type=click.Choice(FOUND), help="What to fit; all where left out.")
@click.option("--sample", "chain", type=click.IntRange(100, 100_000), help="Check the fit's spread by so many steps of a chain.")
@click.option("--after", "after_file", metavar="FILE", help="Readings of the same test after a change: before and after on one sheet.")
@click.option("--after-case", metavar="CASE", help="The case as changed, for --after.")
@click.option("--write", "case_file", metavar="FILE", help="Write the case as fitted; the case itself is never changed.")
@click.option("--output", "-o", "file", metavar="FILE", callback=page_name, help="Write the sheet as one HTML file that prints.")
@click.option("--json", "json_file", metavar="FILE", help="Write the sheet as JSON (SI); '-' for standard output.")
@force_option
@units_option
def test_command(
    case: str,
    readings_files: tuple[str, ...],
    is_fitted: bool,
    wanted: tuple[str, ...],
    case_file: str | None,
    chain: int | None,
    after_file: str | None,
    after_case: str | None,
    file: str | None,
    json_file: str | None,
    units: Units | None,
    **rig: Any,
) -> int:
    """Write the test sheet of CASE: where to hold and load the frame, in which steps, where dials stand and what they should read.

    With --readings: what the readings say, stiffness with its uncertainty, where the frame gives more than drawn, what is odd.

    Nothing is judged by it: exit code 0, 2 where the rig can't stand or the load that is asked for is beyond the stop load.
    """
    if (is_fitted or wanted or chain or case_file is not None or after_file is not None) and not readings_files:
        raise click.UsageError("--fit, --find, --sample, --write and --after go with --readings")
    if after_case is not None and after_file is None:
        raise click.UsageError("--after-case goes with --after")
    if readings_files:
        fits = is_fitted or bool(wanted or chain) or case_file is not None
        asked = Asking(fits, wanted, chain or 0, case_file, after_file, after_case)
        return read_back(case, readings_files, (file, json_file), units, (asked, rig))
    return write_sheet(case, (file, json_file), units, rig)


def write_sheet(case: str, files: tuple[str | None, str | None], units: Units | None, rig: dict[str, Any]) -> int:
    """Write the sheet of a test that is to be made."""
    described, origin = read_with_origin(case)
    file, json_file = files
    may_write(*files)
    shown_in = units or described.written_in
    sheet = sheet_of(described, asked_from(rig), section_store(), target_from(rig))
    if file is not None:
        from framecheck.output.test_sheet.page import as_html

        write_whole(file, as_html(sheet, caution(), shown_in, origin))
    if json_file is not None:
        write_whole(json_file, sheet_as_json(sheet, caution(), origin))
    if "-" not in files:
        tell(sheet_as_text(sheet, caution(), shown_in, screen_width()))
    return 0


@value_class
class Asking:
    """Whether to fit, what, and where the fitted case is to be written; readings after a change, and the case as changed."""

    is_fitted: bool
    wanted: tuple[str, ...]
    chain: int
    case_file: str | None
    after: str | None
    after_case: str | None


def read_back(
    case: str, readings: tuple[str, ...], files: tuple[str | None, str | None], units: Units | None, of: tuple[Asking, dict[str, Any]]
) -> int:
    """Tell what readings say, and what a fit to them says."""
    asking, rig = of
    described, origin = read_with_origin(case)
    described = described.as_drawn or described  # readings are told against the drawing, not against an earlier fit
    records = [read_record(read_text(file), file, asked_from(rig)) for file in readings]
    may_write(*files, asking.case_file)
    shown_in, store = units or described.written_in, section_store()
    found = [measured(described, record, store, target_from(rig)) for record in records]
    fit = fit_to(described, found, asking, store)
    change = change_to(described, found[0], asking, rig)
    also = Also(tuple(origins()), fit, change)
    if files[0] is not None:
        from framecheck.output.test_sheet.measured_page import as_html

        write_whole(files[0], as_html(found, caution(), shown_in, also))
    if files[1] is not None:
        write_whole(files[1], as_json(found, caution(), origin, also))
    if asking.case_file is not None and fit is not None:
        write_whole(asking.case_file, fitted_case(read_text(case), fit, [each for each in origins() if each != origin]))
    if "-" not in (*files, asking.case_file):
        tell(as_text(found, caution(), shown_in, screen_width(), also))
    return 0


def fit_to(case: Case, found: list[MeasuredTest], asking: Asking, store: SectionStore) -> Fitted | None:
    """Return the fit that is asked for."""
    if not asking.is_fitted:
        return None
    sorts = {"joints": (Sort.JOINTS,), "kinks": (Sort.KINKS,), "splices": (Sort.SPLICES,), "walls": (Sort.WALLS,),
             "panels": (Sort.PANELS,), "modulus": (Sort.MODULUS,), "body": (Sort.TORSION, Sort.BENDING)}  # fmt: skip
    wanted = tuple(sort for each in asking.wanted for sort in sorts[each])
    return fit_of(case, found, wanted or DEFAULT, store, asking.chain)


def change_to(case: Case, before: MeasuredTest, asking: Asking, rig: dict[str, Any]) -> BeforeAndAfter | None:
    """Return what readings after a change say beside those before it."""
    if asking.after is None:
        return None
    changed = case if asking.after_case is None else read(asking.after_case)
    record = read_record(read_text(asking.after), asking.after, asked_from(rig))
    return change_of(before, measured(changed.as_drawn or changed, record, section_store(), target_from(rig)))
