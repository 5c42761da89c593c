"""The shop's tables: texts of sections/*.yaml and shared/*.yaml, each read when something in it is first asked for.

Nothing here opens a file: `framecheck.cli` finds the folders and hands over the texts.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from framecheck.errors import Fault, InputError
from framecheck.model.shop_tables import Material
from framecheck.reading.blocks.common import GAUGES, MATERIAL
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.diagnostics import Diagnostics, Missing
from framecheck.reading.form import Record
from framecheck.reading.load_kinds import LoadKind, load_kinds
from framecheck.reading.yamltext import Items, Node, Text, YamlBlock, parse
from framecheck.units import Gauges
from framecheck.value_class import value_class

SECTION_LINE = re.compile(r"^  ([^\s#][^:]*?):\s", re.MULTILINE)


def no_drawing(name: str) -> str:
    """Refuse a drawing where there is no folder to find it in."""
    raise InputError([Fault(name, "drawing", "drawings are read beside a case file only", "give its corners here")])


@value_class
class Library:
    """Texts by file name as in a checkout: "sections/channel.yaml", "shared/gauges.yaml" ...

    drawing: gives the text of a drawing by the name that a case calls it; InputError where it can't.
    """

    texts: Mapping[str, str]
    drawing: Callable[[str], str] = no_drawing

    def gauges(self) -> Gauges:
        """Return the thickness of load-bearing metal by scale and gauge, m."""
        return gauges_of(*self.table("gauges"))

    def coated_gauges(self) -> Gauges:
        """Return the thickness of galvanized sheet with its zinc by scale and gauge, m."""
        rows = gauge_rows(*self.table("gauges"))
        return {(row["scale"], row["gauge"]): row["coated"] for row in rows if row["coated"] is not None}

    def load_kinds(self) -> Mapping[str, LoadKind]:
        """Return the kinds of load case by name."""
        return load_kinds(*self.table("load_cases"))

    def materials(self) -> Mapping[str, Node]:
        """Return rows of materials by name, unread."""
        return named_rows(*self.table("materials"), "materials")

    def material(self, name: str) -> Material:
        """Return a material; its name is in `materials`."""
        return _material(*self.table("materials"), name)

    def section_names(self) -> tuple[str, ...]:
        """Return the names of all sections, by a look at the texts."""
        return tuple(name.strip("'\"") for _, text in self.section_files() for name in SECTION_LINE.findall(text))

    def section(self, name: str) -> Record | None:
        """Return a section as written in the files, None where there is none of that name."""
        for file, text in self.section_files():
            node = named_block(text, file, "sections").get(name) if name in text else None
            if node is not None:
                return filled(SECTION.read, node, name, Diagnostics(file, self.gauges()))
        return None

    def section_files(self) -> Iterator[tuple[str, str]]:
        """Yield the files of sections with their texts."""
        return ((file, text) for file, text in sorted(self.texts.items()) if file.startswith("sections/"))

    def table(self, name: str) -> tuple[str, str]:
        """Return a shared table's text and file name."""
        file = f"shared/{name}.yaml"
        if file not in self.texts:
            raise InputError(
                [Fault(file, "", "this table is missing", "install framecheck again, or restore the file")]
            )
        return self.texts[file], file


@cache
def _material(text: str, file: str, name: str) -> Material:
    return material_of(filled(MATERIAL.read, named_rows(text, file, "materials")[name], name, Diagnostics(file)))


def load_library(texts: Mapping[str, str]) -> Library:
    """Return the library of some texts by file name; none of them is read yet."""
    return Library(MappingProxyType(dict(texts)))


def filled(read: object, node: Node, name: str, diagnostics: Diagnostics) -> Record:
    """Return a record read from a library file; InputError with all its faults."""
    assert callable(read)
    record = read(node, name, diagnostics)
    if diagnostics.faults or not isinstance(record, Record):
        raise InputError(diagnostics.faults)
    return record


@cache
def gauges_of(text: str, file: str) -> Gauges:
    """Return thickness by scale and gauge, m, from the text of shared/gauges.yaml."""
    return {(row["scale"], row["gauge"]): row["thickness"] for row in gauge_rows(text, file)}


@cache
def gauge_rows(text: str, file: str) -> tuple[Record, ...]:
    """Return the rows of shared/gauges.yaml from its text."""
    diagnostics = Diagnostics(file)
    rows = GAUGES.read(_under(text, file, "gauges"), "gauges", diagnostics)
    if diagnostics.faults or isinstance(rows, Missing):
        raise InputError(diagnostics.faults)
    return tuple(rows)


@cache
def named_rows(text: str, file: str, key: str) -> Mapping[str, Node]:
    """Return the rows of a list by the name in each, unread."""
    rows = _under(text, file, key)
    return {name: row for row in (rows.items if isinstance(rows, Items) else ()) if (name := _name(row))}


@cache
def named_block(text: str, file: str, key: str) -> Mapping[str, Node]:
    """Return the entries of a block by name, unread."""
    block = _under(text, file, key)
    return {name: entry.value for name, entry in block.entries.items()} if isinstance(block, YamlBlock) else {}


tree_of = cache(parse)
"""The tree of a table's text, composed once however many of its lists are read."""


def _under(text: str, file: str, key: str) -> Node:
    entry = tree_of(text, file).entries.get(key)
    if entry is None:
        raise InputError([Fault(file, key, "this table is missing", f"write it under '{key}:'")])
    return entry.value


def _name(row: Node) -> str:
    entry = row.entries.get("name") if isinstance(row, YamlBlock) else None
    return entry.value.text if entry is not None and isinstance(entry.value, Text) else ""


def material_of(record: Record) -> Material:
    """Return a material from its record; G = E / 2 (1 + nu) where it is not given (isotropic elasticity)."""
    young = record["youngs modulus"]
    return Material(
        name=record["name"],
        youngs_modulus=young,
        shear_modulus=record["shear modulus"] or young / (2 * (1 + record["poissons ratio"])),
        density=record["density"],
        yield_strength=record["yield strength"],
        ultimate_strength=record["ultimate strength"],
        source=record["source"],
        elongation=record["elongation"],
        welded_yield=record["welded yield strength"],
        welded_ultimate=record["welded ultimate strength"],
        kind=record["kind"],
        thermal_expansion=record["thermal expansion"],
        buckling_class=record["buckling class"],
        seen=record["seen"],
        design_share=record["design share"],
    )


def fitting(library: Library, asked: Record) -> Iterator[str]:
    """Yield the names of sections of a shape, a metal and sizes."""
    for name in library.section_names():
        section = library.section(name)
        if section is None or section["shape"] != asked["shape"]:
            continue
        if asked["material"] not in (None, section["material"]):
            continue
        if all(within(section.values.get(key), limits) for key, limits in asked["sizes"].items()):
            yield name


def within(size: Any, limits: Record) -> bool:
    """Return whether a size lies between limits, a hair of rounding allowed."""
    return isinstance(size, float) and limits["from"] - 1e-9 <= size <= limits["to"] + 1e-9
