"""`framecheck test`: how to measure the frame in the shop, and what the dials should read."""

from __future__ import annotations

from typing import Any

import click

from framecheck.cli.files import may_write, origins, read_text, write_whole
from framecheck.cli.options import force_option, units_option
from framecheck.cli.rig_options import asked_from, rig_options, target_from
from framecheck.cli.workshop import caution, read_with_origin, screen_width, section_store, tell
from framecheck.output.display import Units


@click.command(name="test", short_help="A test sheet: how to measure the frame, what dials should read.")
@click.argument("case")
@rig_options
@click.option("--readings", "readings_file", metavar="FILE", help="What the dials did read (YAML or CSV): it is worked out.")
@click.option("--output", "-o", "file", metavar="FILE", help="Write the sheet as one HTML file that prints.")
@click.option("--json", "json_file", metavar="FILE", help="Write the sheet as JSON (SI); '-' for standard output.")
@force_option
@units_option
def command(
    case: str, readings_file: str | None, file: str | None, json_file: str | None, units: Units | None, **rig: Any
) -> int:
    """Write the test sheet of CASE: where to hold and load the frame, in which steps, where dials stand and what they should read.

    With --readings: what the readings say, stiffness with its uncertainty, where the frame gives more than drawn, what is odd.

    Nothing is judged by it: exit code 0, 2 where the rig can't stand or the load that is asked for is beyond the stop load.
    """
    if readings_file is not None:
        return read_back(case, readings_file, (file, json_file), units, rig)
    from framecheck.output.test_sheet.text import as_text
    from framecheck.rig.sheet import sheet_of

    described, origin = read_with_origin(case)
    may_write(file, json_file)
    shown_in = units or described.written_in
    sheet = sheet_of(described, asked_from(rig), section_store(), target_from(rig))
    if file is not None:
        from framecheck.output.test_sheet.page import as_html

        write_whole(file, as_html(sheet, caution(), shown_in, origin))
    if json_file is not None:
        from framecheck.output.test_sheet.json_text import as_json

        write_whole(json_file, as_json(sheet, caution(), origin))
    if "-" not in (file, json_file):
        tell(as_text(sheet, caution(), shown_in, screen_width()))
    return 0


def read_back(case: str, readings_file: str, files: tuple[str | None, str | None], units: Units | None, rig: dict[str, Any]) -> int:
    """Tell what readings say."""
    from framecheck.output.test_sheet.measured_text import as_text
    from framecheck.reading.shop_readings import read_record
    from framecheck.rig.measured import measured

    described, origin = read_with_origin(case)
    record = read_record(read_text(readings_file), readings_file, asked_from(rig))
    may_write(*files)
    shown_in = units or described.written_in
    found = measured(described, record, section_store(), target_from(rig))
    if files[0] is not None:
        from framecheck.output.test_sheet.measured_page import as_html

        write_whole(files[0], as_html(found, caution(), shown_in, origins()))
    if files[1] is not None:
        from framecheck.output.test_sheet.measured_json import as_json

        write_whole(files[1], as_json(found, caution(), origin))
    if "-" not in files:
        tell(as_text(found, caution(), shown_in, screen_width()))
    return 0
