"""A case that names the readings of a test (`measured:`): the files beside it read, the frame fitted, the case as measured."""

from __future__ import annotations

from pathlib import Path

from framecheck.cli.files import read_text
from framecheck.errors import Fault, InputError
from framecheck.model.case import Case
from framecheck.section.store import SectionStore


def with_fit(case: Case, path: str, store: SectionStore) -> Case:
    """Return the case as the readings that it names found it. InputError: they lie outside its folder, or can't be read."""
    from framecheck.reading.shop_readings import read_record
    from framecheck.rig.applied import as_measured
    from framecheck.rig.fitted import fit_of
    from framecheck.rig.measured import measured
    from framecheck.rig.setup import AskedTest

    files = [beside(case, path, name) for name in case.measured_by]
    records = [read_record(read_text(str(file)), str(file), AskedTest()) for file in files]
    plain = case.as_drawn or case
    tests = [measured(plain, record, store) for record in records]
    return as_measured(plain, fit_of(plain, tests, store=store).as_measured)


def beside(case: Case, path: str, name: str) -> Path:
    """Return a file in the case's folder or below it."""
    folder = Path(path).parent
    file = folder / name
    if not file.resolve().is_relative_to(folder.resolve()):
        fault = f"'{name}' lies outside the case's folder"
        raise InputError([Fault(case.place_of(("measured",)) or path, "measured", fault, "put the readings beside the case")])
    return file
