"""The version of the language that a file is written in: this program reads its own, and tells what to do of others."""

from __future__ import annotations

from framecheck.errors import Fault, InputError
from framecheck.reading.form import Field
from framecheck.reading.kinds import Whole
from framecheck.reading.yamltext import Block, Text
from framecheck.versions import LANGUAGE

CHANGED: dict[int, str] = {}
"""What to change in a file of an earlier version, by that version; one that is not named here is read as it is."""
KEY = "framecheck"
WRITTEN_IN = Field(KEY, Whole(1, LANGUAGE), "the version of this language that the file is written in", LANGUAGE, str(LANGUAGE))


def refuse_language(tree: Block, name: str) -> None:
    """Refuse a file of a later version before anything else in it is read, and an earlier one whose words have changed."""
    entry = tree.entries.get(KEY)
    said = entry.value.text.strip() if entry is not None and isinstance(entry.value, Text) else ""
    if entry is None or not said.isascii() or not said.isdigit():
        return  # the form says what is wrong with it
    version, place = int(said[:12]), f"{name}:{entry.line}"
    if version > LANGUAGE:
        fault = f"the file is written in version {version} of the language; this framecheck reads up to {LANGUAGE}"
        raise InputError([Fault(place, KEY, fault, "install a newer one: pip install --upgrade framecheck")])
    if version in CHANGED:
        fault = f"the file is written in version {version} of the language, which has changed since"
        raise InputError([Fault(place, KEY, fault, f"{CHANGED[version]}, and write {KEY}: {LANGUAGE}")])
