"""Imported once by the process that others are forked from: one small case is worked out, so that all is loaded in each of them.

Nothing is taken from the store: the mesher too is loaded.
"""

from __future__ import annotations

from contextlib import suppress

from framecheck.bench.answer import made_of
from framecheck.bench.asked import Asked
from framecheck.bench.starts import STARTS, text_of
from framecheck.cli.context import NoStore
from framecheck.cli.files import library

FIRST = STARTS[0]
with suppress(Exception):  # whatever it is: it is told when it is asked for
    made_of(Asked(text_of(FIRST), FIRST.file), library(), NoStore())
