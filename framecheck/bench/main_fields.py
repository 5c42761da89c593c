"""The fields that stand first because they answer a question: those of a start, each with a label that says whose it is."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from framecheck.bench.document import Path
from framecheck.bench.forms import FieldGroup, FormField, form_of
from framecheck.bench.starts import STARTS, start_of, text_of
from framecheck.cli.files import library

AXES = ("x", "y", "z")


def first_entries(group: FieldGroup, key: str) -> list[FormField]:
    """Return the main fields of a start that are in its form; none where there is no such start."""
    if not any(each.key == key for each in STARTS):
        return []
    found = {entry.path: (entry, owner) for entry, owner in every_entry(group, ())}
    kept = [found[path] for path in start_of(key).first if path in found]
    often = Counter(entry.key for entry, _ in kept)
    return [replace(entry, key=label_of(entry, owner, often[entry.key])) for entry, owner in kept]


def label_of(entry: FormField, owner: Path, count: int) -> str:
    """Return a field's label: its key, and whose it is where that does not tell. owner: the titles of the blocks it is in."""
    if count == 1 and entry.key not in AXES:
        return entry.key
    *before, last = (str(each) for each in owner)
    return f"{before[-1]}: {last} {entry.key}" if last in ("force", "moment") and before else f"{last}: {entry.key}"


def every_entry(group: FieldGroup, owner: Path) -> Iterator[tuple[FormField, Path]]:
    """Yield the fields of a group and of all groups in it, each with the titles of the groups that it is in."""
    inner = (*owner, group.title)
    yield from ((entry, inner) for entry in group.entries)
    for each in group.groups:
        yield from every_entry(each, inner)


@cache
def usual_values(key: str) -> dict[str, str]:
    """Return the values that the main fields of a start begin with, by their path as the page writes it; none where there is none."""
    if not any(each.key == key for each in STARTS):
        return {}
    return {json.dumps(each.path): each.value for each in first_entries(form_of(text_of(start_of(key)), library()), key)}
