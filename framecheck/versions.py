"""Versions of the program and of its language, and where an answer comes from: every page, picture and file that is written says
it.
"""

from __future__ import annotations

from collections.abc import Iterable

from framecheck import __version__
from framecheck.value_class import value_class

LANGUAGE = 1
"""Of the words that a case or study is written in. Raised when a file that was right becomes wrong, or means something else."""
SCHEMA = 2
"""Of the JSON and CSV that are written; docs/json.md. Raised when a key goes or means something else."""


MADE_BY = f"framecheck {__version__}"


@value_class
class Origin:
    """The file that was read, the SHA-256 of its bytes, and the program's version."""

    file: str = ""
    sha256: str = ""
    version: str = __version__

    @property
    def words(self) -> str:
        """Return all three in one line, the checksum shortened to eight digits."""
        return "  ".join(part for part in (self.file, self.sha256[:8], self.version) if part)


UNKNOWN = Origin()


def stamp(inputs: Iterable[Origin]) -> str:
    """Return one sentence: the program and its version, those of what it reads and writes, and each input with its checksum."""
    made = f"{MADE_BY} (file language {LANGUAGE}, results schema {SCHEMA})"
    return "; ".join((made, *(f"from {each.file}, SHA-256 {each.sha256}" for each in inputs)))
