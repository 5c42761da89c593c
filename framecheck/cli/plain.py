"""Text for streams that carry ASCII alone: signs are spelt out, so that "12 cm⁴" arrives as "12 cm4" and not as "12 cm?".

This is a codec and not an error handler, because click takes a stream that calls itself ASCII for a mistake and writes UTF-8.
"""

from __future__ import annotations

import codecs
import unicodedata
from typing import TextIO

NAME = "framecheck_plain"
SPELT = {"·": "*", "×": "x", "–": "-", "—": "-", "−": "-", "≤": "<=", "≥": ">=", "°": "deg", "√": "sqrt", "∫": "int", "→": "->",
         "“": '"', "”": '"', "‘": "'", "’": "'", "…": "..."}  # fmt: skip
GREEK = {"α": "alpha", "β": "beta", "γ": "gamma", "Δ": "delta", "ε": "eps", "λ": "lambda", "μ": "mu", "ν": "nu", "π": "pi",
         "σ": "sigma", "τ": "tau", "φ": "phi", "ω": "omega"}  # fmt: skip


def speak_plainly(*streams: TextIO) -> None:
    """Set each stream to UTF-8, or to spelt-out ASCII where its environment said that it carries nothing else."""
    codecs.register(find)
    for stream in streams:
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None and stream.encoding != NAME:
            reconfigure(encoding=NAME if is_ascii(stream.encoding) else "utf-8", errors="replace")


def is_ascii(encoding: str | None) -> bool:
    """Return whether an encoding is one of the many names of ASCII."""
    try:
        return codecs.lookup(encoding or "utf-8").name == "ascii"
    except LookupError:
        return False


def find(name: str) -> codecs.CodecInfo | None:
    """Return the codec of that name, as `codecs.register` asks for it."""
    if name != NAME:
        return None
    ascii_codec = codecs.lookup("ascii")
    return codecs.CodecInfo(
        encode=encode, decode=ascii_codec.decode, name=NAME, incrementalencoder=Spelling,
        incrementaldecoder=ascii_codec.incrementaldecoder,
    )  # fmt: skip


class Spelling(codecs.IncrementalEncoder):
    """Encodes piece by piece; no letter hangs on the one before it."""

    def encode(self, text: str, final: bool = False) -> bytes:
        """Return a piece of text in ASCII."""
        return encode(text)[0]


def encode(text: str, errors: str = "strict") -> tuple[bytes, int]:
    """Return a text in ASCII and how many letters went in."""
    plain = text if text.isascii() else "".join(map(spelt, text))
    return plain.encode("ascii"), len(text)


def spelt(letter: str) -> str:
    """Return a letter in ASCII: itself, its name, itself without its accents, else a question mark."""
    known = letter if letter.isascii() else SPELT.get(letter) or GREEK.get(letter)
    return known or unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode() or "?"
