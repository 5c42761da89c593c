"""The shop's tables as lists: sections, materials, gauges, example cases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from framecheck.output.display import Units, bare, shown_unit
from framecheck.output.text_table import Column, table
from framecheck.reading.library import Library
from framecheck.value_class import value_class


@value_class
class Listing:
    """Headings and rows of a list."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


def as_text(listing: Listing, words: Sequence[str], width: int) -> str:
    """Return the rows that hold every word, and how many there are."""
    found = [row for row in listing.rows if all(word.lower() in " ".join(row).lower() for word in words)]
    if not found:
        return f"none of {len(listing.rows)} holds {' and '.join(words)}"
    return f"{table(listing.columns, found, width)}\n\n{len(found)} of {len(listing.rows)}"


def sections(shop: Library, units: Units) -> Listing:
    """Return every section of the library with its shape and metal."""
    records = ((name, shop.section(name)) for name in shop.section_names())
    rows = tuple((name, record["shape"], record["material"]) for name, record in records if record is not None)
    return Listing((Column("section"), Column("shape"), Column("material")), rows)


def materials(shop: Library, units: Units) -> Listing:
    """Return every material with its strengths."""
    found = [shop.material(name) for name in shop.materials()]
    unit = shown_unit("stress", units).label
    rows = tuple(
        (
            each.name,
            bare(each.yield_strength, "stress", units),
            "" if each.welded_yield is None else bare(each.welded_yield, "stress", units),
            bare(each.ultimate_strength, "stress", units),
            each.source,
        )
        for each in found
    )
    heads = (Column(f"yield\n{unit}", True), Column(f"as welded\n{unit}", True), Column(f"ultimate\n{unit}", True))
    return Listing((Column("material"), *heads, Column("source")), rows)


def gauges(shop: Library, units: Units) -> Listing:
    """Return every gauge with its thickness, written as a case file takes it; zinc carries no load and is shown beside it."""
    unit = shown_unit("length", units).label
    coated = {key: bare(size, "length", units) for key, size in shop.coated_gauges().items()}
    rows = tuple((f"{key[1]} ga {key[0]}", bare(size, "length", units), coated.get(key, "")) for key, size in shop.gauges().items())
    return Listing((Column("gauge"), Column(f"thickness\n{unit}", True), Column(f"with zinc\n{unit}", True)), rows)


def cases(texts: Mapping[str, str]) -> Listing:
    """Return the example cases by path with their titles."""
    titles = {
        path: next((line for line in text.splitlines() if line.startswith("title:")), "")
        for path, text in texts.items()
    }
    return Listing(
        (Column("case"), Column("title")),
        tuple((path, line.removeprefix("title:").strip()) for path, line in titles.items()),
    )
