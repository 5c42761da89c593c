"""Words on standard error while sections are computed for the first time, for a person who waits at a terminal."""

from __future__ import annotations

import sys
from dataclasses import dataclass, field
from time import monotonic

from framecheck.section.store import SectionStore

PATIENCE = 2.0
"""Seconds of silence before something is said; a run that finds its sections in the store says nothing."""


@dataclass(slots=True)
class TellingStore:
    """A store that says now and then how many sections were computed."""

    store: SectionStore
    count: int = 0
    last: float = field(default_factory=monotonic)

    def get(self, key: str) -> bytes | None:
        """Return an entry of the store."""
        return self.store.get(key)

    def put(self, key: str, content: bytes) -> None:
        """Keep an entry, and say so where it has been quiet for long."""
        self.store.put(key, content)
        self.count += 1
        if monotonic() - self.last > PATIENCE:
            self.last = monotonic()
            sys.stderr.write(f"{self.count} sections and joints computed; the next run finds them kept\n")


def telling(store: SectionStore) -> SectionStore:
    """Return a store that tells of its work where a terminal shows standard error, else the store itself."""
    return TellingStore(store) if sys.stderr.isatty() else store
