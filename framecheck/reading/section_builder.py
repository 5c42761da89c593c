"""From what the varied fields hold to the sections that they change, without reading the rest of the case again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import lru_cache

from framecheck.errors import Fault, InputError
from framecheck.model.frame import Section
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.build.sections import Shelf, named_parts
from framecheck.reading.case_file import case_form, refuse_faults, shelf_of
from framecheck.reading.desk import Desk, Missing
from framecheck.reading.field_path import FieldPath, changed
from framecheck.reading.form import Record
from framecheck.reading.variant_builder import CaseBuilder, tree_of
from framecheck.reading.yamltext import Block
from framecheck.value_class import value_class

SECTIONS = "sections"


@value_class
class SectionBuilder:
    """Builds the case's own sections that some fields change. key: of the study, so that a process reads the case once."""

    key: str
    case: CaseBuilder

    def __call__(self, values: Sequence[str]) -> Mapping[str, Section]:
        """Return the changed sections by name, those made of them too; InputError with every fault."""
        shop = shop_of(Keyed(self.key, self.case))
        desk = Desk(self.case.name, shop.desk.gauges)
        own = {**shop.own_sections, **dict(self.records(values, desk))}
        refuse_faults(desk)
        shelf = Shelf(desk, shop.library, own, shop.own_materials)
        made = {name: shelf.section(name) for name in touched(own, self.names())}
        refuse_faults(desk)
        return made

    def names(self) -> tuple[str, ...]:
        """Return the names of the sections whose fields are varied."""
        return tuple(dict.fromkeys(str(path.steps[1]) for path in self.case.paths))

    def records(self, values: Sequence[str], desk: Desk) -> Iterator[tuple[str, Record]]:
        """Yield the records of the varied sections by name."""
        block = tree_of(self.case.text, self.case.name).entries[SECTIONS].value
        assert isinstance(block, Block)
        for name in self.names():
            node = block.entries[name].value
            for path, text in zip(self.case.paths, values, strict=True):
                node = changed(node, path.steps[2:], text) if path.steps[1] == name else node
            record = SECTION.read(node, f"{SECTIONS} > {name}", desk)
            if not isinstance(record, Missing):
                yield name, record


@value_class
class Keyed:
    """A case known by the key of its study alone."""

    key: str
    case: CaseBuilder = field(compare=False)


@lru_cache(maxsize=4)
def shop_of(keyed: Keyed) -> Shelf:
    """Return where the sections of a case as written are found."""
    library = keyed.case.library
    desk = Desk(keyed.case.name, library.gauges())
    record = case_form(library).read(tree_of(keyed.case.text, keyed.case.name), "", desk)
    assert not isinstance(record, Missing)
    return with_metals(shelf_of(desk, library, record))


def with_metals(shelf: Shelf) -> Shelf:
    """Return a shelf with the library's metals that its own sections are made of at hand, so that each is read once."""
    names = {record["material"] for record in shelf.own_sections.values()} - set(shelf.own_materials)
    metals = {name: shelf.library.material(name) for name in names if name in shelf.library.materials()}
    return replace(shelf, own_materials={**shelf.own_materials, **metals})


def touched(records: Mapping[str, Record], names: tuple[str, ...]) -> tuple[str, ...]:
    """Return sections by name with all those that are made of them."""
    found = dict.fromkeys(names)
    for _ in records:
        found |= dict.fromkeys(
            name for name, record in records.items() if any(part in found for part in named_parts(record))
        )
    return tuple(found)


def refuse_screen(paths: Sequence[FieldPath]) -> None:
    """Raise where a field is varied that a screen can't follow: only sizes of the case's own sections."""
    others = [path.words for path in paths if len(path.steps) != 3 or path.steps[0] != SECTIONS]
    if others:
        fault = "a screen by yield follows sizes of the case's own sections alone (sections.NAME.SIZE)"
        raise InputError([Fault("", words, fault, "write engine: every check") for words in others])
