"""From what the varied fields hold to a case, through the same reader and the same checks as a case file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cache

from framecheck.errors import Fault
from framecheck.model.case import Case
from framecheck.reading.case_file import case_form, case_from
from framecheck.reading.desk import Desk
from framecheck.reading.field_path import FieldPath, with_fields
from framecheck.reading.library import Library, load_library, no_drawing
from framecheck.reading.yamltext import Block, parse
from framecheck.value_class import value_class


@value_class
class CaseBuilder:
    """Builds a case with other texts in some fields. Plain texts only, so that it can be sent to other processes.

    text, name: of the case file; tables: the shop's, by file name; drawing: as of a Library.
    """

    text: str
    name: str
    tables: Mapping[str, str]
    paths: tuple[FieldPath, ...]
    drawing: Callable[[str], str] = no_drawing

    def __call__(self, values: Sequence[str]) -> Case:
        """Return the case whose fields hold `values`, in the order of the paths; InputError with every fault."""
        return case_from(self.tree(values), self.name, self.library)

    def tree(self, values: Sequence[str]) -> Block:
        """Return the case file's tree with the fields' texts in it."""
        return with_fields(tree_of(self.text, self.name), dict(zip(self.paths, values, strict=True)))

    def faults(self, values: Sequence[str]) -> tuple[Fault, ...]:
        """Return what the case's form says against the values, each by itself: units, words, keys. Sizes are not tried."""
        desk = Desk(self.name, self.library.gauges())
        case_form(self.library).read(self.tree(values), "", desk)
        return tuple(desk.faults)

    @property
    def library(self) -> Library:
        """Return the shop's tables."""
        return replace(library_of(tuple(self.tables.items())), drawing=self.drawing)


@cache
def tree_of(text: str, name: str) -> Block:
    """Return the tree of a case file; it is never changed."""
    return parse(text, name)


@cache
def library_of(tables: tuple[tuple[str, str], ...]) -> Library:
    """Return the library of some texts."""
    return load_library(dict(tables))
