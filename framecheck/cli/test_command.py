"""`framecheck test`: how to measure the frame in the shop, and what the dials should read."""

from __future__ import annotations

from typing import Any

import click

from framecheck.cli.files import may_write, write_whole
from framecheck.cli.options import force_option, units_option
from framecheck.cli.rig_options import asked_from, rig_options, target_from
from framecheck.cli.workshop import caution, read_with_origin, screen_width, section_store, tell
from framecheck.output.display import Units


@click.command(name="test", short_help="A test sheet: how to measure the frame, what dials should read.")
@click.argument("case")
@rig_options
@click.option("--output", "-o", "file", metavar="FILE", help="Write the sheet as one HTML file that prints.")
@click.option("--json", "json_file", metavar="FILE", help="Write the sheet as JSON (SI); '-' for standard output.")
@force_option
@units_option
def command(case: str, file: str | None, json_file: str | None, units: Units | None, **rig: Any) -> int:
    """Write the test sheet of CASE: where to hold and load the frame, in which steps, where dials stand and what they should read.

    Nothing is judged by it: exit code 0, 2 where the rig can't stand or the load that is asked for is beyond the stop load.
    """
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
