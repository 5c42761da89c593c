"""Where an answer comes from: every page and file that is written says it."""

from __future__ import annotations

from framecheck import __version__
from framecheck.value_class import value_class


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
