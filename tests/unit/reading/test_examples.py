"""Every block of the language has an example, and the form of its name reads it without a fault."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from framecheck.reading.blocks.study import STUDY
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.diagnostics import Diagnostics
from framecheck.reading.form import REQUIRED, Form, Record
from framecheck.reading.schema import atlas_from, atlas_of, example_of
from framecheck.reading.whole_case import known_names
from framecheck.reading.yamltext import Items, Node, YamlBlock, parse
from tests.cases.test_sections import LIBRARY

CASE, STUDIES = atlas_of(LIBRARY), atlas_from(STUDY)
FORMS = {**CASE.forms, **STUDIES.forms}
CHOSEN = {**CASE.words, **STUDIES.words}
OF_THE_LIBRARY = ("material", "fatigue class", "finish", "thread", "bolt grade", "torque factor", "surface", "electrode")
NAMES = known_names(Record(1, "", {}, {}, True), SectionCatalogue(Diagnostics("example"), LIBRARY, {}, {}))
SHOP = {of: frozenset(NAMES[of]()) for of in OF_THE_LIBRARY}
"""The names of the shared tables; points, members, sections and joints stand elsewhere in a file."""
NAMED = sorted(name for name, form in FORMS.items() if form.fields and name not in LIBRARY.load_kinds())


def tree(text: str) -> YamlBlock:
    """Return an example as it would stand in a file."""
    return parse("example:\n" + "".join(f"  {line}\n" for line in text.splitlines()), "example")


def blocks(node: Node) -> Iterator[YamlBlock]:
    """Yield every block of a tree, the outer one first."""
    if isinstance(node, YamlBlock):
        yield node
        for entry in node.entries.values():
            yield from blocks(entry.value)
    elif isinstance(node, Items):
        for item in node.items:
            yield from blocks(item)


def is_of(block: YamlBlock, form: Form, chooser: str) -> bool:
    """Return whether a block has the keys that a form asks for, and no other."""
    keys = block.entries.keys() - {chooser}
    due = {each.key for each in form.fields if each.default is REQUIRED}
    return bool(keys) and due <= keys <= {each.key for each in form.fields}


def faults_of(block: YamlBlock, form: Form, chooser: str) -> list[str]:
    """Return what a form refuses of a block, and what it names that no shared table has."""
    diagnostics = Diagnostics("example", LIBRARY.gauges())
    entries = {key: value for key, value in block.entries.items() if key != chooser}
    form.read(YamlBlock(block.line, entries), form.name, diagnostics)
    unknown = [each for each in diagnostics.references if each.of in SHOP and each.name not in SHOP[each.of]]
    told = [f"{each.subject}: {each.fault}" for each in diagnostics.faults]
    return told + [f"there is no {each.of} '{each.name}'" for each in unknown]


def faults(form: Form, text: str) -> list[str]:
    """Return what is wrong with the block of an example that is the form's; where more stands for it (...), with its keys alone."""
    chooser = CHOSEN.get(form.name, ("", ""))[0]
    fitting = [block for block in blocks(tree(text)) if is_of(block, form, chooser)]
    if not fitting:
        return [f"no block of it has the keys of {form.name}"]
    return [] if "..." in text else min((faults_of(block, form, chooser) for block in fitting), key=len)


@pytest.mark.parametrize("name", NAMED)
def test_a_block_has_an_example_that_is_read(name: str) -> None:
    assert faults(FORMS[name], example_of(FORMS[name])) == []


def test_a_wrong_example_is_noticed() -> None:
    tube = FORMS["rectangular tube"]
    sizes = "shape: rectangular tube, height: 4, width: 2 in, wall: 3 mm"
    assert faults(tube, f"rail: {{{sizes}, material: A36}}") == ["rectangular tube > height: '4' has no unit"]
    assert faults(tube, f"rail: {{{sizes.replace('4,', '4 in,')}, material: A63}}") == ["there is no material 'A63'"]
    assert faults(tube, "rail: {shape: rectangular tube, hight: 4 in}") == ["no block of it has the keys of rectangular tube"]
