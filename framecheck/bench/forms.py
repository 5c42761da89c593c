"""What a case file holds as forms to fill in, made from the same declarations that read it."""

from __future__ import annotations

from collections.abc import Iterator

import yaml

from framecheck.bench.document import Path, source_of, tree_of
from framecheck.reading.form import REQUIRED, Either, Field, Form, LazyForm, ListOf, Named, OneForm
from framecheck.reading.kinds import Choice, NameOf, QuantityKind, TextKind, ValueKind, YesNo
from framecheck.reading.library import Library
from framecheck.reading.load_items import SUM, WRITTEN, LoadItems
from framecheck.reading.whole_case import case_form
from framecheck.units import QUANTITIES
from framecheck.value_class import value_class


@value_class
class FormField:
    """One field. key: its label; about, write: what it is and what to write; value: as written; line: where it stands.

    options: words to choose from; names: of what a name is asked ("section"); is_whole: a list or block, edited as it is written.
    """

    path: Path
    key: str
    about: str
    write: str
    value: str
    line: int
    options: tuple[str, ...] = ()
    names: str = ""
    is_whole: bool = False
    is_due: bool = False


@value_class
class Absent:
    """A key that is not written: what it would be, what counts as long as it is left out, what an entry begins with."""

    path: Path
    key: str
    about: str
    shown: str
    begins: str


@value_class
class FieldGroup:
    """A block or list with its fields, the blocks in it, and what could be added. is_list: its blocks are entries of a list."""

    path: Path
    title: str
    about: str
    entries: tuple[FormField, ...]
    groups: tuple[FieldGroup, ...]
    absent: tuple[Absent, ...]
    line: int
    is_list: bool = False


def form_of(text: str, library: Library) -> FieldGroup:
    """Return the form of a whole case file; InputError where the text is no YAML."""
    top = tree_of(text)
    node = top if isinstance(top, yaml.MappingNode) else yaml.MappingNode("", [], MARK, MARK)
    return group_of(text, case_form(library), node, ((), "case", ""))


MARK = yaml.Mark("", 0, 0, 0, None, 0)
Heading = tuple[Path, str, str]
"""Where a group stands, its title, what it is."""


def group_of(text: str, form: Form, node: yaml.MappingNode, heading: Heading) -> FieldGroup:
    """Return the group of a block that follows a form."""
    path, title, about = heading
    known = {each.key: each for each in form.fields}
    held = list(parts(text, known, node, path))
    written = {key.value for key, _ in node.value}
    return FieldGroup(
        path,
        title,
        about or form.about,
        tuple(each for each in held if isinstance(each, FormField)),
        tuple(each for each in held if isinstance(each, FieldGroup)),
        tuple(absent(each, path) for each in form.fields if each.key not in written),
        node.start_mark.line + 1,
    )


def parts(text: str, known: dict[str, Field], node: yaml.MappingNode, path: Path) -> Iterator[FormField | FieldGroup]:
    """Yield a field or a group for each key of a block; keys that the form does not know are fields, refused by the reader."""
    for key, value in node.value:
        at = (*path, key.value)
        field = known.get(key.value)
        if field is None:
            yield FormField(at, key.value, "not known here", "", source_of(text, value), key.start_mark.line + 1)
        else:
            yield part(text, field.kind, value, (at, key.value, field.about))


def part(text: str, kind: ValueKind, node: yaml.Node, heading: Heading) -> FormField | FieldGroup:
    """Return the field or the group of a value."""
    path = heading[0]
    match kind, node:
        case LazyForm(), _:
            return part(text, kind.kind(), node, heading)
        case Either(), _:
            return part(text, kind.short if isinstance(node, yaml.ScalarNode) else kind.full, node, heading)
        case Form(), yaml.MappingNode():
            return group_of(text, kind, node, heading)
        case OneForm(), yaml.MappingNode():
            return chosen(text, kind, node, heading)
        case Named(), yaml.MappingNode():
            inner = tuple(part(text, kind.kind, value, ((*path, key.value), key.value, "")) for key, value in node.value)
            more = (Absent((*path, ""), kind.of, f"one more: {kind.words()}", "", ""),)
            return listed(inner, more, node, heading)
        case LoadItems(), yaml.SequenceNode() if node.value:
            inner = tuple(load_case(text, kind, value, (*path, number)) for number, value in enumerate(node.value))
            more = (Absent((*path, len(inner)), "one more", "a load case force by force", "", "{another load case: {own weight: 1}}"),)
            return listed(inner, more, node, heading)
        case ListOf(), yaml.SequenceNode() if node.value and all(isinstance(each, yaml.MappingNode) for each in node.value):
            found = enumerate(node.value)
            inner = tuple(part(text, kind.kind, value, ((*path, number), name_of(value, number), "")) for number, value in found)
            more = (Absent((*path, len(inner)), "one more", kind.kind.words(), "", source_of(text, node.value[-1])),)
            return listed(inner, more, node, heading)
        case _:
            return entry(text, kind, node, heading)


def listed(inner: tuple[FormField | FieldGroup, ...], more: tuple[Absent, ...], node: yaml.Node, heading: Heading) -> FieldGroup:
    """Return the group of a list or of named blocks."""
    path, title, about = heading
    entries = tuple(each for each in inner if isinstance(each, FormField))
    groups = tuple(each for each in inner if isinstance(each, FieldGroup))
    return FieldGroup(path, title, about, entries, groups, more, node.start_mark.line + 1, is_list=True)


def load_case(text: str, kind: LoadItems, node: yaml.Node, path: Path) -> FormField | FieldGroup:
    """Return the field of a load case that is a name alone, or the group of one with keys."""
    if not isinstance(node, yaml.MappingNode) or len(node.value) != 1:
        known = kind.kinds.get(str(node.value))
        about = "" if known is None else known.form.about
        return FormField(path, f"case {int(path[-1]) + 1}", about, "", source_of(text, node), node.start_mark.line + 1, is_whole=True)
    ((key, inner),) = node.value
    name, at = str(key.value), (*path, str(key.value))
    if not isinstance(inner, yaml.MappingNode):
        return FormField(at, name, "", "", source_of(text, inner), inner.start_mark.line + 1, is_whole=True)
    written = {each.value: str(value.value) for each, value in inner.value}
    word = written.get("kind", name)
    if word not in kind.kinds:
        return group_of(text, SUM if "sum of" in written else WRITTEN, inner, (at, name, ""))
    form = kind.kinds[word].form
    fields = (KIND, *form.fields) if "kind" in written else form.fields
    return group_of(text, Form(form.name, form.about, fields), inner, (at, name, ""))


KIND = Field("kind", TextKind("a kind of load case"), "which kind of load case")


def chosen(text: str, kind: OneForm, node: yaml.MappingNode, heading: Heading) -> FieldGroup:
    """Return the group of a block whose form a word in it chooses."""
    path, title, about = heading
    word = next((value for key, value in node.value if key.value == kind.key), None)
    told = "" if word is None else str(word.value)
    form = kind.forms.get(told) or Form(title, about, ())
    rest = yaml.MappingNode(node.tag, [each for each in node.value if each[0].value != kind.key], node.start_mark, node.end_mark)
    group = group_of(text, form, rest, (path, title, form.about))
    line = node.start_mark.line + 1 if word is None else word.start_mark.line + 1
    choice = FormField((*path, kind.key), kind.key, "which kind it is", "one of these", told, line, tuple(kind.forms), is_due=True)
    return FieldGroup(path, title, group.about, (choice, *group.entries), group.groups, group.absent, group.line)


def entry(text: str, kind: ValueKind, node: yaml.Node, heading: Heading) -> FormField:
    """Return the field of a single value, or of a list or block that is edited as it is written."""
    path, key, about = heading
    is_whole = not isinstance(node, yaml.ScalarNode)
    value = source_of(text, node) if is_whole else str(node.value)
    names = kind.of if isinstance(kind, NameOf) else ""
    return FormField(path, key, about, write_of(kind), value, node.start_mark.line + 1, options_of(kind), names, is_whole)


def options_of(kind: ValueKind) -> tuple[str, ...]:
    """Return the words that a kind can be chosen from."""
    match kind:
        case Choice():
            return tuple(kind.meanings)
        case YesNo():
            return ("yes", "no")
        case _:
            return ()


def write_of(kind: ValueKind) -> str:
    """Return what to write, with an example."""
    if isinstance(kind, QuantityKind):
        return f"{QUANTITIES[kind.quantity].words}, such as {QUANTITIES[kind.quantity].example}"
    return kind.words()


def absent(field: Field, path: Path) -> Absent:
    """Return a key that is not written."""
    shown = "has to be written" if field.default is REQUIRED else f"left out: {field.shown}"
    return Absent((*path, field.key), field.key, field.about, shown, begin_of(field.kind))


def begin_of(kind: ValueKind) -> str:
    """Return what an entry of a kind begins with: a block empty but for the word that chooses it, whose fields are then added."""
    match kind:
        case LazyForm():
            return begin_of(kind.kind())
        case Form():
            return "{}"
        case OneForm():
            return f"{{{kind.key}: {next(iter(kind.forms))}}}"
        case QuantityKind():
            return QUANTITIES[kind.quantity].example
        case Choice():
            return next(iter(kind.meanings))
        case YesNo():
            return "yes"
        case _:
            return ""


def name_of(node: yaml.Node, number: int) -> str:
    """Return how an entry of a list is called: by its name, else by its number."""
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if key.value in ("name", "point", "member") and isinstance(value, yaml.ScalarNode):
                return str(value.value)
    return f"entry {number + 1}"
