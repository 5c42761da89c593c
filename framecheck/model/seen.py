"""How the source of a table's row was seen by who wrote the row."""

from __future__ import annotations

from enum import Enum


class Seen(Enum):
    """Opened, or quoted from memory: nobody could open it."""

    OPENED = "opened"
    MEMORY = "from memory"
