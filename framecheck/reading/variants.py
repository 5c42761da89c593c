"""A field of a case file by its path, and the cases and sections that come of other texts in that field."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import cache, lru_cache

from framecheck.errors import Fault, InputError
from framecheck.model.as_measured import AsMeasured
from framecheck.model.case import Case
from framecheck.model.frame import Section
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.build.sections import SectionCatalogue, named_parts
from framecheck.reading.case_file import case_form, case_from, shelf_of
from framecheck.reading.diagnostics import Diagnostics, Missing, did_you_mean, listed, refuse_faults
from framecheck.reading.form import Record
from framecheck.reading.library import Library, load_library, no_drawing
from framecheck.reading.yamltext import Items, Node, Text, YamlBlock, YamlEntry, parse
from framecheck.value_class import value_class

NAMES = ("name", "point", "member", "title")


@value_class
class FieldPath:
    """Where a field stands: keys of blocks and numbers in lists, from the top. words: as the user writes it."""

    words: str
    steps: tuple[str | int, ...]


def field_path(tree: YamlBlock, words: str) -> FieldPath:
    """Return the place of a field; InputError (without its file) where there is none.

    The last key may be one that the case leaves out: it is written in.
    """
    node: Node = tree
    steps: list[str | int] = []
    rest = words
    while rest:
        key, rest = taken(node, rest, words)
        step, node = entered(node, key)
        steps.append(step)
    if not isinstance(node, Text):
        raise refusal(words, "this is not one value", f"go on to one of: {listed(offered(node), 20)}")
    return FieldPath(words, tuple(steps))


def taken(node: Node, rest: str, words: str) -> tuple[str, str]:
    """Return the next key of a path and what follows it; the longest key that fits, for names may hold points."""
    keys = list(offered(node))
    fits = [key for key in keys if rest == key or rest.startswith(f"{key}.")]
    if fits:
        key = max(fits, key=len)
        return key, rest[len(key) + 1 :]
    if isinstance(node, YamlBlock) and "." not in rest and not did_you_mean(rest, keys, ""):
        return rest, ""
    unknown = rest.partition(".")[0]
    raise refusal(words, f"'{unknown}' is not in the case there", did_you_mean(unknown, keys, offer(keys)))


def offer(keys: list[str]) -> str:
    """Return what may be written in place of a key that is not known."""
    return f"there are: {listed(keys, 20)}" if keys else "the path ends one step earlier"


def refusal(words: str, fault: str, remedy: str) -> InputError:
    """Return an input error about a path; whoever reads the study adds the line."""
    return InputError([Fault("", words, fault, remedy)])


def offered(node: Node) -> Iterator[str]:
    """Yield the keys by which one may go on from a node."""
    if isinstance(node, YamlBlock):
        yield from node.entries
    if isinstance(node, Items):
        yield from (title(item, number) for number, item in enumerate(node.items, 1))


def title(item: Node, number: int) -> str:
    """Return how an entry of a list is called in a path: by its name, by its only key (a load case), else by its number from 1."""
    if isinstance(item, YamlBlock):
        for key in NAMES:
            named = item.entries.get(key)
            if named is not None and isinstance(named.value, Text):
                return named.value.text
        if len(item.entries) == 1:
            return next(iter(item.entries))
    return str(number)


def entered(node: Node, key: str) -> tuple[str | int, Node]:
    """Return the step that a key stands for, and the node there; a text of nothing where the key is left out."""
    if isinstance(node, Items):
        number = list(offered(node)).index(key)
        return number, inner(node.items[number])
    assert isinstance(node, YamlBlock)
    entry = node.entries.get(key)
    return key, Text(node.line, "") if entry is None else entry.value


def inner(item: Node) -> Node:
    """Return what a load case's only key holds, any other entry of a list as it is."""
    if isinstance(item, YamlBlock) and len(item.entries) == 1:
        value = next(iter(item.entries.values())).value
        return value if isinstance(value, YamlBlock) else item
    return item


def written(tree: YamlBlock, path: FieldPath) -> Text:
    """Return what the case holds in a field; an empty text where it is left out."""
    node: Node = tree
    for step in path.steps:
        if isinstance(node, Items):
            assert isinstance(step, int)
            node = inner(node.items[step])
        else:
            assert isinstance(node, YamlBlock)
            entry = node.entries.get(str(step))
            node = Text(node.line, "") if entry is None else entry.value
    assert isinstance(node, Text)
    return node


def with_fields(tree: YamlBlock, texts: Mapping[FieldPath, str]) -> YamlBlock:
    """Return the tree with other texts in some fields; what a field shares by an alias with another place stays there as it was."""
    node: Node = tree
    for path, text in texts.items():
        node = changed(node, path.steps, text)
    assert isinstance(node, YamlBlock)
    return node


def changed(node: Node, steps: tuple[str | int, ...], text: str) -> Node:
    """Return a node with another text at the end of some steps."""
    if not steps:
        return Text(node.line, text, quoted=True)
    step, rest = steps[0], steps[1:]
    if isinstance(node, Items):
        assert isinstance(step, int)
        items = list(node.items)
        items[step] = changed_item(items[step], rest, text)
        return replace(node, items=tuple(items))
    assert isinstance(node, YamlBlock)
    key = str(step)
    old = node.entries.get(key, YamlEntry(node.line, Text(node.line, "")))
    new = YamlEntry(old.line, changed(old.value, rest, text))
    return replace(node, entries={**node.entries, key: new})


def changed_item(item: Node, steps: tuple[str | int, ...], text: str) -> Node:
    """Return an entry of a list with another text within it."""
    held = inner(item)
    if held is item:
        return changed(item, steps, text)
    assert isinstance(item, YamlBlock)
    ((key, entry),) = item.entries.items()
    return replace(item, entries={key: YamlEntry(entry.line, changed(held, steps, text))})


@value_class
class CaseBuilder:
    """Builds a case with other texts in some fields. Plain texts only, so that it can be sent to other processes.

    text, name: of the case file; tables: the shop's, by file name; drawing: as of a Library. measured: what readings that the case
    names found of the case as written; every variant is as much softer or stiffer than drawn.
    """

    text: str
    name: str
    tables: Mapping[str, str]
    paths: tuple[FieldPath, ...]
    drawing: Callable[[str], str] = no_drawing
    measured: AsMeasured | None = None

    def __call__(self, values: Sequence[str]) -> Case:
        """Return the case whose fields hold `values`, in the order of the paths; InputError with every fault."""
        case = case_from(self.tree(values), self.name, self.library)
        if self.measured is None:
            return case
        from framecheck.rig.applied import as_measured

        return as_measured(case, self.measured)

    def tree(self, values: Sequence[str]) -> YamlBlock:
        """Return the case file's tree with the fields' texts in it."""
        return with_fields(tree_of(self.text, self.name), dict(zip(self.paths, values, strict=True)))

    def faults(self, values: Sequence[str]) -> tuple[Fault, ...]:
        """Return what the case's form says against the values, each by itself: units, words, keys. Sizes are not tried."""
        diagnostics = Diagnostics(self.name, self.library.gauges())
        case_form(self.library).read(self.tree(values), "", diagnostics)
        return tuple(diagnostics.faults)

    @property
    def library(self) -> Library:
        """Return the shop's tables."""
        return replace(library_of(tuple(self.tables.items())), drawing=self.drawing)


@cache
def tree_of(text: str, name: str) -> YamlBlock:
    """Return the tree of a case file; it is never changed."""
    return parse(text, name)


@cache
def library_of(tables: tuple[tuple[str, str], ...]) -> Library:
    """Return the library of some texts."""
    return load_library(dict(tables))


SECTIONS = "sections"


@value_class
class SectionBuilder:
    """Builds the case's own sections that some fields change. key: of the study, so that a process reads the case once; measured: what
    a test found of the case.
    """

    key: str
    case: CaseBuilder
    measured: AsMeasured | None = None

    def __call__(self, values: Sequence[str]) -> Mapping[str, Section]:
        """Return the changed sections by name, those made of them too; InputError with every fault."""
        shop = shop_of(KeyedCase(self.key, self.case))
        diagnostics = Diagnostics(self.case.name, shop.diagnostics.gauges)
        own = {**shop.own_sections, **dict(self.records(values, diagnostics))}
        refuse_faults(diagnostics)
        catalogue = SectionCatalogue(diagnostics, shop.library, own, shop.own_materials)
        made = {name: catalogue.section(name) for name in touched(own, self.names())}
        refuse_faults(diagnostics)
        if self.measured is None:
            return made
        from framecheck.rig.applied import sections_as_measured

        return sections_as_measured(made, self.measured)

    def names(self) -> tuple[str, ...]:
        """Return the names of the sections whose fields are varied."""
        return tuple(dict.fromkeys(str(path.steps[1]) for path in self.case.paths))

    def records(self, values: Sequence[str], diagnostics: Diagnostics) -> Iterator[tuple[str, Record]]:
        """Yield the records of the varied sections by name."""
        block = tree_of(self.case.text, self.case.name).entries[SECTIONS].value
        assert isinstance(block, YamlBlock)
        for name in self.names():
            node = block.entries[name].value
            for path, text in zip(self.case.paths, values, strict=True):
                node = changed(node, path.steps[2:], text) if path.steps[1] == name else node
            record = SECTION.read(node, f"{SECTIONS} > {name}", diagnostics)
            if not isinstance(record, Missing):
                yield name, record


@value_class
class KeyedCase:
    """A case known by the key of its study alone."""

    key: str
    case: CaseBuilder = field(compare=False)


@lru_cache(maxsize=4)
def shop_of(keyed: KeyedCase) -> SectionCatalogue:
    """Return where the sections of a case as written are found."""
    library = keyed.case.library
    diagnostics = Diagnostics(keyed.case.name, library.gauges())
    record = case_form(library).read(tree_of(keyed.case.text, keyed.case.name), "", diagnostics)
    assert not isinstance(record, Missing)
    return with_metals(shelf_of(diagnostics, library, record))


def with_metals(catalogue: SectionCatalogue) -> SectionCatalogue:
    """Return a catalogue with the library's metals that its own sections are made of at hand, so that each is read once."""
    names = {record["material"] for record in catalogue.own_sections.values()} - set(catalogue.own_materials)
    metals = {name: catalogue.library.material(name) for name in names if name in catalogue.library.materials()}
    return replace(catalogue, own_materials={**catalogue.own_materials, **metals})


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
