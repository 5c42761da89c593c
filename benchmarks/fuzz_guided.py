"""Let a coverage-guided fuzzer write texts for the reader: `python benchmarks/fuzz_guided.py CORPUS -max_total_time=600`.

It needs the package atheris, which is in no list of ours: it builds on few machines. A text is read or refused in words; anything
else ends the run with the text that did it. Reading alone: what follows from a case that can be read is the other fuzz's to try.
"""

from __future__ import annotations

import sys
from pathlib import Path

import atheris

sys.path.insert(0, str(Path(__file__).parents[1]))
with atheris.instrument_imports(include=["framecheck.reading", "framecheck.units"]):
    from framecheck.cli.files import library
    from framecheck.errors import InputError
    from framecheck.reading.case_file import read_case

LIBRARY = library()


def read(data: bytes) -> None:
    """Read one text; InputError is an answer."""
    try:
        read_case(data.decode(errors="replace"), "case.yaml", LIBRARY)
    except InputError as error:
        if not str(error).strip():
            raise AssertionError("refused without a word") from error


if __name__ == "__main__":
    atheris.Setup(sys.argv, read)
    atheris.Fuzz()
