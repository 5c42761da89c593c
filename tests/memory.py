"""A store of sections that lasts as long as the tests."""

from __future__ import annotations


class Memory:
    """Keeps sections while the tests run."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def get(self, key: str) -> bytes | None:
        return self.kept.get(key)

    def put(self, key: str, content: bytes) -> None:
        self.kept[key] = content


SHARED = Memory()
"""What all tests keep together that only want to be quick: sections and joints of our own cases are worked out once a process."""
