"""Sections by themselves: one of the library by name, or all those of a file (a sections file or a case)."""

from __future__ import annotations

from collections.abc import Mapping

from framecheck.errors import Fault, InputError
from framecheck.model.frame import Section
from framecheck.model.shop_tables import Material
from framecheck.reading.blocks.common import MATERIALS
from framecheck.reading.blocks.sections import SECTION
from framecheck.reading.build.sections import SectionCatalogue
from framecheck.reading.case_file import build_own_sections
from framecheck.reading.diagnostics import Diagnostics, Missing, did_you_mean, refuse_faults
from framecheck.reading.form import Field, Form, Named, Record
from framecheck.reading.library import Library, material_of
from framecheck.reading.whole_case import check_names, records, refuse_language
from framecheck.reading.yamltext import YamlBlock, parse

SECTIONS = Form(
    "sections",
    "Sections of one's own.",
    (
        Field("materials", MATERIALS, "metals of one's own", (), "none"),
        Field("sections", Named(SECTION, "the name of a section"), "sections"),
    ),
)


def section_named(name: str, library: Library) -> Section:
    """Return a section of the library; InputError with the nearest name where there is none."""
    diagnostics = Diagnostics(name, library.gauges())
    catalogue = SectionCatalogue(diagnostics, library, {}, {})
    if not catalogue.knows_section(name):
        names = library.section_names()
        remedy = did_you_mean(name, names, f"there are {len(names)}; `framecheck list sections` shows them")
        raise InputError([Fault("", name, "there is no section of this name in the library", remedy)])
    section = catalogue.section(name)
    refuse_faults(diagnostics)
    return section


def sections_in(text: str, name: str, library: Library) -> Mapping[str, Section]:
    """Return the sections of a file's `sections:` block; its other blocks (of a case) are left alone. name: the file's."""
    diagnostics = Diagnostics(name, library.gauges())
    top = parse(text, name)
    refuse_language(top, name)
    own = YamlBlock(
        top.line, {key: entry for key, entry in top.entries.items() if key in ("materials", "sections")}, top.size
    )
    record = SECTIONS.read(own, "", diagnostics)
    refuse_faults(diagnostics)
    assert not isinstance(record, Missing)
    materials: dict[str, Material] = {each["name"]: material_of(each) for each in records(record["materials"])}
    catalogue = SectionCatalogue(diagnostics, library, record["sections"], materials)
    _check(diagnostics, record, catalogue)
    return {each: catalogue.section(each) for each in record["sections"]}


def place_of(text: str, name: str, section: str) -> str:
    """Return "file:line" of a section in a file's text, as read by `sections_in`; name: the file's."""
    sections = parse(text, name).entries["sections"].value
    return f"{name}:{sections.entries[section].line}" if isinstance(sections, YamlBlock) and section in sections.entries else name


def _check(diagnostics: Diagnostics, record: Record, catalogue: SectionCatalogue) -> None:
    """Look up every name and judge every size."""
    check_names(diagnostics, Record(record.line, "", {**record.values, "frame": None}), catalogue)
    refuse_faults(diagnostics)
    build_own_sections(diagnostics, catalogue)
    refuse_faults(diagnostics)
