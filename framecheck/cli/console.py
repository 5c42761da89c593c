"""Text for the streams that people read, and words on standard error for a person who waits.

A title or a name from a file may hold escape codes, or letters that turn the order of a line round; shown as they are, they could
write an answer of their own. So "\\x1b" arrives as the four letters. On an ASCII stream "12 cm⁴" arrives as "12 cm4".
These are codecs and not error handlers, because click takes a stream that calls itself ASCII for a mistake and writes UTF-8.
"""

from __future__ import annotations

import codecs
import re
import sys
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from time import monotonic
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from threading import Event

    from framecheck.section.store import SectionStore


NAME, WIDE = "framecheck_plain", "framecheck_wide"
"""What the codecs are called: for ASCII, and for UTF-8."""
STEERING = re.compile(
    "\r(?!\n)|[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\xad\u034f\u0600-\u0605\u061c\u06dd\u070f\u0890\u0891\u08e2\u115f\u1160\u17b4\u17b5\u180e"
    "\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ufeff\uffa0\ufff9-\ufffb\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)
"""Control and escape characters, and those that hide or turn text round (Unicode, UAX 9 and 44: Cc, Cf, Zl, Zp, fillers that show
nothing); a line's end and a tab stay."""
PROGRESS = re.compile(r"\r\d+ of \d+ variants\n?")
SPELT = {"·": "*", "×": "x", "–": "-", "—": "-", "−": "-", "≤": "<=", "≥": ">=", "°": "deg", "√": "sqrt", "∫": "int", "→": "->",
         "“": '"', "”": '"', "‘": "'", "’": "'", "…": "..."}  # fmt: skip
GREEK = {"α": "alpha", "β": "beta", "γ": "gamma", "Δ": "delta", "ε": "eps", "λ": "lambda", "μ": "mu", "ν": "nu", "π": "pi",
         "σ": "sigma", "τ": "tau", "φ": "phi", "ω": "omega"}  # fmt: skip


def speak_plainly(*streams: TextIO) -> None:
    """Set each stream to UTF-8, or to spelt-out ASCII where its environment said that it carries nothing else."""
    codecs.register(find)
    for stream in streams:
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None and stream.encoding not in (NAME, WIDE):
            reconfigure(encoding=NAME if is_ascii(stream.encoding) else WIDE, errors="replace")


def is_ascii(encoding: str | None) -> bool:
    """Return whether an encoding is one of the many names of ASCII."""
    try:
        return codecs.lookup(encoding or "utf-8").name == "ascii"
    except LookupError:
        return False


def find(name: str) -> codecs.CodecInfo | None:
    """Return the codec of that name, as `codecs.register` asks for it."""
    if name not in (NAME, WIDE):
        return None
    base = codecs.lookup("ascii" if name == NAME else "utf-8")
    return codecs.CodecInfo(
        encode=plain if name == NAME else wide, decode=base.decode, name=name,
        incrementalencoder=AsciiEncoder if name == NAME else Wide, incrementaldecoder=base.incrementaldecoder,
    )  # fmt: skip


class AsciiEncoder(codecs.IncrementalEncoder):
    """Encodes piece by piece for ASCII; no letter hangs on the one before it."""

    def encode(self, text: str, final: bool = False) -> bytes:
        """Return a piece of text in ASCII."""
        return plain(text)[0]


class Wide(codecs.IncrementalEncoder):
    """Encodes piece by piece for UTF-8; no letter hangs on the one before it."""

    def encode(self, text: str, final: bool = False) -> bytes:
        """Return a piece of text in UTF-8."""
        return wide(text)[0]


def plain(text: str, errors: str = "strict") -> tuple[bytes, int]:
    """Return a text in ASCII and how many letters went in."""
    tame = tamed(text)
    return (tame if tame.isascii() else "".join(map(spelt, tame))).encode("ascii"), len(text)


def wide(text: str, errors: str = "strict") -> tuple[bytes, int]:
    """Return a text in UTF-8 and how many letters went in."""
    return tamed(text).encode("utf-8", "replace"), len(text)


def tamed(text: str) -> str:
    """Return a text with what would steer a terminal spelt out; our own progress begins its line anew, and nothing else may."""
    start = "\r" if PROGRESS.fullmatch(text) else ""
    return start + STEERING.sub(lambda found: ascii(found[0])[1:-1], text.removeprefix(start))


def spelt(letter: str) -> str:
    """Return a letter in ASCII: itself, its name, itself without its accents, else a question mark."""
    known = letter if letter.isascii() else SPELT.get(letter) or GREEK.get(letter)
    return known or unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode() or "?"


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
