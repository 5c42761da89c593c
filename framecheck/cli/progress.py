"""Words on standard error for a person who waits at a terminal: on sections computed for the first time, and on all that is long."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from time import monotonic
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from threading import Event

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


TOLD_AT = (2, 10, 30, 60, 120, 300, 600, 1200, 3600)
"""Seconds after which a command says that it still works."""
TELLS_ITSELF = ("size", "new")
"""Commands that tell how far they are, or that wait for the user."""


@contextmanager
def waited_for(command: str) -> Iterator[None]:
    """Say now and then that a command still works, where a terminal shows standard error."""
    if command in TELLS_ITSELF or not sys.stderr.isatty():
        yield
        return
    from threading import Event, Thread

    done = Event()
    Thread(target=keep_telling, args=(done,), daemon=True).start()
    try:
        yield
    finally:
        done.set()


def keep_telling(done: Event) -> None:
    """Say after some seconds each that the command still works, until it is done."""
    before = 0
    for after in TOLD_AT:
        if done.wait(after - before):
            return
        sys.stderr.write(f"still working after {after} s; Ctrl-C stops it, and nothing is left half written\n")
        before = after


def telling(store: SectionStore) -> SectionStore:
    """Return a store that tells of its work where a terminal shows standard error, else the store itself."""
    return TellingStore(store) if sys.stderr.isatty() else store
