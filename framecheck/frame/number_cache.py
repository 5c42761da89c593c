"""What small shell models found of joints and notches, kept from run to run so that a warm run loads no solver for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from hashlib import blake2b
from math import isnan
from typing import Protocol
from zlib import crc32

from framecheck.frame.joint.data import Branch, Chord, JointStiffness
from framecheck.frame.joint.data import BranchMake as JointMake

ENGINE = 5
"""Raised whenever a change in the joint or notch model changes a number: older entries are then no longer found."""


class NumberStore(Protocol):
    """Keeps bytes by name, as the section store does. One that can't read or write says nothing: it is computed again."""

    def get(self, key: str) -> bytes | None:
        """Return what was kept under a key, None where there is nothing sound."""
        ...

    def put(self, key: str, content: bytes) -> None:
        """Keep bytes under a key, whole or not at all."""
        ...


@lru_cache(maxsize=1024)
def key_of(what: tuple[object, ...]) -> str:
    """Return the name under which numbers are kept. Many bounds ask for the same joint, and its words take long to write."""
    return blake2b(repr((ENGINE, *what)).encode(), digest_size=16).hexdigest()


def kept_numbers(
    what: tuple[object, ...], count: int, store: NumberStore | None, compute: Callable[[], Sequence[float]]
) -> Sequence[float]:
    """Return the numbers that the store keeps of `what`, else compute and keep them.

    Kept as text: exact (hexadecimal) numbers, then a checksum of them.
    """
    key = key_of(what)
    found = _decoded(store.get(key) if store else None, count)
    if found is not None:
        return found
    fresh = [float(value) for value in compute()]
    if store:
        text = " ".join(value.hex() for value in fresh)
        store.put(key, f"{text} {crc32(text.encode()):x}".encode())
    return fresh


@lru_cache(maxsize=1024)
def _decoded(content: bytes | None, count: int) -> tuple[float, ...] | None:
    """Return the numbers, None where they are missing or damaged."""
    if content is None:
        return None
    try:
        text, _, checksum = content.decode().rpartition(" ")
        if int(checksum, 16) != crc32(text.encode()):
            return None
        numbers = tuple(float.fromhex(word) for word in text.split())
    except (UnicodeDecodeError, ValueError, OverflowError):
        return None
    return numbers if len(numbers) == count and not any(map(isnan, numbers)) else None


def joint_springs(chord: Chord, branch: Branch, make: JointMake, store: NumberStore | None) -> JointStiffness:
    """Return a joint's springs, kept or from its shell model."""

    def compute() -> Sequence[float]:
        from framecheck.frame.joint.stiffness import joint_stiffness

        found = joint_stiffness(chord, branch, make)
        return (
            found.bending_vertical,
            found.bending_sideways,
            found.twist,
            found.axial,
            found.shear_vertical,
            found.shear_sideways,
            found.centre,
        )

    return JointStiffness(*kept_numbers(("joint 5", chord, branch, make), 7, store, compute))
