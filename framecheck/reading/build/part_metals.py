"""The metal of each part of a section: of the section that the part names, of the part itself where it says so, else of the whole."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from framecheck.model.shape_parts import part_count
from framecheck.model.shapes import BoxedChannel, ChannelPair, Drilled, FloorClosed, Plated, Sleeve, Worn
from framecheck.model.shop_tables import Material
from framecheck.reading.blocks.sections import SHAPES
from framecheck.reading.form import Record

if TYPE_CHECKING:
    from framecheck.reading.build.sections import SectionCatalogue

BUILT_UP = (BoxedChannel, Sleeve, FloorClosed, Plated, ChannelPair)
SHEETS = ("plate", "sheet")
"""Keys of a built-up shape that give a sheet by its thickness alone: it is of the section's own metal."""


def metals_of(catalogue: SectionCatalogue, record: Record, whole: Material) -> tuple[Material, ...]:
    """Return the metal of each part of a section's record, the piece that was there first leading; whole: the record's own."""
    kind, _, fields = SHAPES[record["shape"]]
    if kind in (Worn, Drilled):
        return tuple(weaker(each, whole) for each in piece_metals(catalogue, record["base"], whole))
    if kind not in BUILT_UP:
        return (whole,)
    return tuple(metal for each in fields for metal in field_metals(catalogue, each.key, record[each.key], whole))


def field_metals(catalogue: SectionCatalogue, key: str, value: Any, whole: Material) -> Iterator[Material]:
    """Yield the metals of the parts that one key of a built-up shape gives."""
    if isinstance(value, str) or (isinstance(value, Record) and "shape" in value.values):
        yield from piece_metals(catalogue, value, whole)
    elif isinstance(value, tuple):
        yield from (own_metal(catalogue, each, whole) for each in value)
    elif key in SHEETS:
        yield whole


def piece_metals(catalogue: SectionCatalogue, value: str | Record, whole: Material) -> tuple[Material, ...]:
    """Return the metals of a part: of a section by name, or of a piece written in place.

    A size of the library is what it is made of in the shop's table, or what the section says where that is weaker (unfavourable: the
    name may stand for the size alone).
    """
    if isinstance(value, Record):
        return metals_of(catalogue, value, own_metal(catalogue, value, whole))
    named = catalogue.section(value)
    found = named.metals or (named.material,) * part_count(named.shape)
    return found if value in catalogue.own_sections else tuple(weaker(each, whole) for each in found)


def own_metal(catalogue: SectionCatalogue, record: Record, whole: Material) -> Material:
    """Return the metal that a piece or plate says it is of, that of the whole where it says none."""
    name = record.values.get("material")
    return whole if name is None or not catalogue.knows_material(name) or name in catalogue.refused else catalogue.material(name)


def weaker(one: Material, other: Material) -> Material:
    """Return the metal of the lower yield strength."""
    return one if one.yield_strength <= other.yield_strength else other
