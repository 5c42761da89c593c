"""What a case file may hold, told to an editor (JSON Schema) and to a person (Markdown), both from the forms that read it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from framecheck.reading.blocks.study import STUDY
from framecheck.reading.form import REQUIRED, Either, Field, Form, LazyForm, ListOf, Named, OneForm, slug
from framecheck.reading.kinds import JsonSchema, QuantityKind, ValueKind
from framecheck.reading.library import Library
from framecheck.reading.load_items import LoadItems, forms_of
from framecheck.reading.whole_case import case_form
from framecheck.units import QUANTITIES

NO_PICTURES: Mapping[str, str] = {}
DRAFT = "https://json-schema.org/draft/2020-12/schema"


@dataclass(slots=True)
class FormRegistry:
    """Every form that can be reached from one, in the order met; words: the key and word that choose a form among several."""

    forms: dict[str, Form] = field(default_factory=dict)
    words: dict[str, tuple[str, str]] = field(default_factory=dict)

    def visit(self, kind: object) -> None:
        """Take in a kind and all that it holds."""
        if isinstance(kind, Form):
            if self.forms.setdefault(kind.name, kind) is not kind:
                raise ValueError(f"two forms are called '{kind.name}'")
        elif isinstance(kind, OneForm):
            self.words.update({form.name: (kind.key, word) for word, form in kind.forms.items()})
        for inner in parts_of(kind):
            if not (isinstance(inner, Form) and inner.name in self.forms and self.forms[inner.name] is inner):
                self.visit(inner)


def parts_of(kind: object) -> Iterator[object]:
    """Yield the kinds inside a kind."""
    match kind:
        case Form():
            yield from (each.kind for each in kind.fields)
        case ListOf() | Named():
            yield kind.kind
        case OneForm():
            yield from kind.forms.values()
        case LazyForm():
            yield kind.kind()
        case Either():
            yield kind.short
            yield kind.full
        case LoadItems():
            yield from forms_of(kind)


def atlas_of(library: Library) -> FormRegistry:
    """Return every form of a case file."""
    return atlas_from(case_form(library))


def atlas_from(form: Form) -> FormRegistry:
    """Return a form and every form that can be reached from it."""
    atlas = FormRegistry()
    atlas.visit(form)
    return atlas


def case_schema(library: Library) -> JsonSchema:
    """Return the JSON Schema (draft 2020-12) of a case file, for editors."""
    return schema_from(atlas_of(library), "case")


def study_schema() -> JsonSchema:
    """Return the JSON Schema of a study file."""
    return schema_from(atlas_from(STUDY), "study")


def schema_from(atlas: FormRegistry, top: str) -> JsonSchema:
    """Return the schema of a file whose top is the form of that name."""
    defs = {slug(name): form_schema(form, atlas.words.get(name)) for name, form in atlas.forms.items()}
    return {"$schema": DRAFT, "title": f"framecheck {top}", "$ref": f"#/$defs/{top}", "$defs": defs}


def form_schema(form: Form, word: tuple[str, str] | None) -> JsonSchema:
    """Return the schema of one form; word: the key and word that choose it."""
    properties: dict[str, Any] = {} if word is None else {word[0]: {"const": word[1]}}
    required = [] if word is None else [word[0]]
    for each in form.fields:
        properties[each.key] = {**each.kind.schema(), "description": description(each)}
        required += [each.key] if each.default is REQUIRED else []
    schema: JsonSchema = {"type": "object", "description": form.about, "properties": properties}
    return {**schema, "required": required, "additionalProperties": False}


def description(each: Field) -> str:
    """Return what a key is, what to write and what it is where left out."""
    unsaid = "" if each.default is REQUIRED else f" Left out: {each.shown}."
    return f"{each.about}. Write {each.kind.words()}.{unsaid}"


def input_reference(library: Library, pictures: Mapping[str, str] = NO_PICTURES) -> str:
    """Return the reference of the case file in Markdown, form by form; pictures: lines that show one, by the form's name."""
    atlas = atlas_of(library)
    kinds = set(library.load_kinds())
    head = [
        "# The case file",
        "",
        "Written from the forms that read it. `framecheck schema` gives the same as JSON Schema, for editors that check while",
        "you type.",
        "",
        "A case is YAML text. Every dimensional number carries its unit (`3 in`, `1 1/2 in`, `2 ft 6 in`, `76 mm`, `11 ga tube`,",
        "`46 ksi`, `180 lb·ft`); a point stands for the decimal, never a comma. x runs forward, y to the left, z up. Keys without a",
        "default have to be written. A name is looked up as it is written, capitals and all.",
        "",
    ]
    forms = [form for name, form in atlas.forms.items() if name not in kinds]
    body = [line for form in forms for line in form_lines(form, atlas.words.get(form.name), 2, pictures.get(form.name, ""))]
    cases = [line for name in library.load_kinds() for line in form_lines(atlas.forms[name], None, 3)]
    told = [
        "## Load cases of the vehicle",
        "",
        "Kinds, with the factors they run with unless a case says otherwise.",
        "",
    ]
    return "\n".join([*head, *body, *told, *cases]).rstrip() + "\n"


def study_reference() -> str:
    """Return the reference of the study file in Markdown, form by form."""
    atlas = atlas_from(STUDY)
    head = [
        "# The study file",
        "",
        "Written from the forms that read it: `framecheck schema --study` gives the same as JSON Schema. A study varies a case file;",
        "a field of it is named by its path from the top, a point between the steps, entries of lists by their names:",
        "`sections.front rail.wall`, `frame.ladder.crossmembers.gearbox crossmember.section`, `load cases.vertical bump.factor`.",
        "",
    ]
    body = [line for form in atlas.forms.values() for line in form_lines(form, atlas.words.get(form.name), 2)]
    return "\n".join([*head, *body]).rstrip() + "\n"


def form_lines(form: Form, word: tuple[str, str] | None, level: int, picture: str = "") -> Iterator[str]:
    """Yield the lines of one form: what it is, a picture, an example, a table of its keys."""
    yield from (f"{'#' * level} {form.name}", "", f"{capital(form.about)}{'' if form.about.endswith('.') else '.'}")
    if word is not None:
        yield f"Chosen by `{word[0]}: {word[1]}`."
    yield ""
    yield from (picture, "") if picture else ()
    example = example_of(form)
    if example:
        yield from ("```yaml", *example.splitlines(), "```", "")
    if form.fields:
        yield from ("| key | what | write | left out |", "| --- | --- | --- | --- |")
        yield from (row(each) for each in form.fields)
        yield ""


def example_of(form: Form) -> str:
    """Return an example of a form in YAML, "" for a load case without keys."""
    return examples().get(form.name, "")


@cache
def examples() -> dict[str, str]:
    """Return the examples by form."""
    return dict(yaml.safe_load((Path(__file__).parent / "examples.yaml").read_text(encoding="utf-8")))


def row(each: Field) -> str:
    """Return a key's row of the table."""
    unsaid = "must be written" if each.default is REQUIRED else each.shown
    return f"| `{each.key}` | {cell(each.about)} | {cell(linked(each.kind))} | {cell(unsaid)} |"


def linked(kind: ValueKind) -> str:
    """Return what to write, with links to other forms."""
    match kind:
        case Form():
            return f"[{kind.name}](#{anchor(kind.name)})"
        case ListOf():
            return f"a list; each: {linked(kind.kind)}"
        case Named():
            return f"{kind.of}, then {linked(kind.kind)}"
        case OneForm():
            links = ", ".join(f"[{word}](#{anchor(form.name)})" for word, form in kind.forms.items())
            return f"a block with `{kind.key}`: {links}"
        case Either():
            return f"{linked(kind.short)}; or {linked(kind.full)}"
        case LazyForm():
            return linked(kind.kind())
        case QuantityKind():
            return QUANTITIES[kind.quantity].words + "".join(f", or {word}" for word in kind.special)
        case _:
            return kind.words()


def anchor(name: str) -> str:
    """Return a heading's anchor as Markdown viewers make it."""
    return "".join(letter for letter in name.lower().replace(" ", "-") if letter.isalnum() or letter in "-_")


def cell(text: str) -> str:
    """Return a text that keeps its table whole."""
    return text.replace("|", "\\|")


def capital(text: str) -> str:
    """Return a text with a capital first letter."""
    return text[:1].upper() + text[1:]
