"""Sections: records to shapes in their materials."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from framecheck.errors import Fault, InputError
from framecheck.model.frame import Section
from framecheck.model.joining import E70_SHEAR, BoltRow, ContinuousWeld, Joining, StitchWeld
from framecheck.model.shape_parts import drilled_whole
from framecheck.model.shapes import GivenProperties, Hole, OutlinePolygon, Plate, RectTube, Shape, Side
from framecheck.model.shop_tables import Material
from framecheck.reading.blocks.sections import DESIGN_SHARE, RADII, SHAPES
from framecheck.reading.build.part_metals import metals_of
from framecheck.reading.diagnostics import Diagnostics, length
from framecheck.reading.form import Record
from framecheck.reading.library import Library
from framecheck.reading.shop_tables import welds_of
from framecheck.section.validate import section_faults

if TYPE_CHECKING:  # the room of drawings is entered where a section is drawn
    from framecheck.model.shop_tables import Electrode
    from framecheck.reading.drawing import DrawnOutline

DEEPEST = 8  # sections within sections


@dataclass(slots=True)
class SectionCatalogue:
    """Finds sections and materials by name: first the case's own, then the library's. Each is built once.

    refused: names of the case's own sections and materials with faults, which are noted already.
    """

    diagnostics: Diagnostics
    library: Library
    own_sections: Mapping[str, Record]
    own_materials: Mapping[str, Material]
    built: dict[str, Section] = field(default_factory=dict)
    building: list[str] = field(default_factory=list)
    refused: frozenset[str] = frozenset()

    def knows_section(self, name: str) -> bool:
        """Return whether there is a section of that name."""
        return name in self.own_sections or name in self.refused or self.library.section(name) is not None

    def knows_material(self, name: str) -> bool:
        """Return whether there is a material of that name."""
        return name in self.own_materials or name in self.refused or name in self.library.materials()

    def can_build(self, name: str, within: tuple[str, ...] = ()) -> bool:
        """Return whether a section and all that it is made of could be read; rings of sections are told when built."""
        record = self.own_sections.get(name)
        if name in self.refused or record is None or name in within or len(within) > DEEPEST:
            return name not in self.refused
        known = record["material"] not in self.refused and self.knows_material(record["material"])
        return known and all(
            self.knows_section(part) and self.can_build(part, (*within, name)) for part in named_parts(record)
        )

    def material(self, name: str) -> Material:
        """Return a material that is known."""
        return self.own_materials[name] if name in self.own_materials else self.library.material(name)

    def metal_being_built(self) -> str:
        """Return the kind of metal of the section that is being built; steel where none is."""
        return self.material(self._record(self.building[0])["material"]).kind if self.building else "steel"

    def section(self, name: str) -> Section:
        """Return a section that is known; faults of its sizes are noted."""
        if name not in self.built:
            record = self._record(name)
            shape, notes = self._unwound(name, record)
            metals = metals_of(self, record, self.material(record["material"]))
            sold = as_sold(record)
            notes += () if sold is None else (design_note(sold.wall, record["design share"]),)
            sharp = name in self.own_sections and any(is_sharp(each) for each in pieces(self, record))
            differ = metals if len(set(metals)) > 1 else ()
            made = Section(name, shape, metals[0], notes, metals=differ, sold=sold, sharp=sharp)
            self.built[name] = made
            for fault in section_faults(made):
                self.diagnostics.faults.append(replace(fault, place=self._place(name, record)))
        return self.built[name]

    def _unwound(self, name: str, record: Record) -> tuple[Shape, tuple[str, ...]]:
        """Return the shape of a section and its notes, or raise where sections are made of one another in a ring."""
        if name in self.building or len(self.building) > DEEPEST:
            fault = Fault(
                self._place(name, record), name, "is made of itself, or of too many others", "give its sizes here"
            )
            raise InputError([*self.diagnostics.faults, fault])
        self.building.append(name)
        drawn = drawn_outline(self, record) if record["shape"] == "outline" and record["drawing"] is not None else None
        made = (shape_of(self, record), ()) if drawn is None else (drawn.shape, (echo(record["drawing"], drawn),))
        self.building.pop()
        return made

    def _record(self, name: str) -> Record:
        found = self.own_sections.get(name) or self.library.section(name)
        assert found is not None
        return found

    def _place(self, name: str, record: Record) -> str:
        return f"{self.diagnostics.file}:{record.line}" if name in self.own_sections else "sections"


def shape_of(catalogue: SectionCatalogue, record: Record) -> Shape:
    """Return the shape of a record."""
    if record["shape"] in BY_THEMSELVES:
        return BY_THEMSELVES[record["shape"]](catalogue, record)
    cls, _, fields = SHAPES[record["shape"]]
    made: Shape = cls(
        **{each.key.replace(" ", "_"): value_of(catalogue, record[each.key]) for each in fields if each not in (DESIGN_SHARE, *RADII)},
        **{each.key.replace(" ", "_"): record[each.key] or 0.0 for each in fields if each in RADII},
    )
    return replace(made, wall=record["design share"] * made.wall) if isinstance(made, RectTube) else drilled_whole(made)


def as_sold(record: Record) -> RectTube | None:
    """Return a tube by the wall that it is sold by, its corners thicker alike; None where that is the wall that counts."""
    if record["shape"] != "rectangular tube" or record["design share"] == 1.0:
        return None
    corners = (record["outside radius"] or 0.0) / record["design share"]
    return RectTube(record["height"], record["width"], record["wall"], min(corners, record["height"] / 2, record["width"] / 2))


def design_note(wall: float, share: float) -> str:
    """Return what is to be said of a tube whose design wall is thinner than the one it is sold by."""
    return (
        f"strength and stiffness count on a design wall of {length(share * wall)}, {share:.4g} of the {length(wall)} that it is "
        "sold by; its weight is that of the latter (ANSI/AISC 360-22, B4.2)"
    )


def value_of(catalogue: SectionCatalogue, value: Any) -> Any:
    """Return a value of a shape: a number, a part that is a shape itself, plates, holes, how it is joined."""
    if isinstance(value, str):
        return catalogue.section(value).shape
    if isinstance(value, Record):
        return shape_of(catalogue, value) if "shape" in value.values else joined(catalogue, value)
    if isinstance(value, tuple):
        return tuple(plate_or_hole(each) for each in value)
    return value


def named_parts(record: Record) -> Iterator[str]:
    """Yield the names of sections that a section is made of."""
    if record["shape"] in BY_THEMSELVES:
        return
    for each in SHAPES[record["shape"]][2]:
        part = record[each.key]
        if isinstance(part, str):
            yield part
        elif isinstance(part, Record) and "shape" in part.values:
            yield from named_parts(part)


def pieces(catalogue: SectionCatalogue, record: Record) -> Iterator[Record]:
    """Yield a section and every piece that it is made of; of the library's sections none, whose sizes have a source."""
    yield record
    if record["shape"] in BY_THEMSELVES:
        return
    parts = (record[each.key] for each in SHAPES[record["shape"]][2])
    for part in parts:
        within = catalogue.own_sections.get(part) if isinstance(part, str) else part
        if isinstance(within, Record) and "shape" in within.values:
            yield from pieces(catalogue, within)


def is_sharp(record: Record) -> bool:
    """Return whether a section or piece has corners of a radius that is not said."""
    return any(each.key in record.values and record[each.key] is None for each in RADII)


def plate_or_hole(record: Record) -> Plate | Hole:
    """Return a plate or a hole."""
    side: Side = record["side"]
    if "thickness" in record.values:
        return Plate(side, record["width"], record["thickness"], record["offset"])
    return Hole(side, record["size"], record["position"])


def joined(catalogue: SectionCatalogue, record: Record | ContinuousWeld) -> Joining:
    """Return how the parts of a built-up section are held together."""
    if isinstance(record, ContinuousWeld):
        return replace(record, shear_strength=default_shear(catalogue))
    weld, stitches, bolts = record["weld"], record["stitches"], record["bolts"]
    if sum(each is not None for each in (weld, stitches, bolts)) > 1:
        fault = "its parts are joined in more than one way"
        raise refused(catalogue, record, Fault("", record.subject, fault, "keep one of weld, stitches and bolts"))
    if stitches is not None:
        metal = weld_shear(catalogue, stitches)
        return StitchWeld(stitches["length"], stitches["pitch"], stitches["leg"], metal)
    if bolts is not None:
        return BoltRow(bolts["pitch"], bolts["holds"])
    if weld is None:
        return ContinuousWeld(shear_strength=default_shear(catalogue))
    return ContinuousWeld(weld["leg"], weld_shear(catalogue, weld))


def weld_shear(catalogue: SectionCatalogue, record: Record) -> float:
    """Return the shear strength of a seam's weld metal, Pa; one for another metal than the section's is refused."""
    row = next((row for row in welds_of(catalogue.library).electrodes if row.name == record["electrode"]), None)
    if row is None:
        return default_shear(catalogue)
    kind = catalogue.metal_being_built()
    if row.metal != kind:
        raise refused(catalogue, record, Fault("", record.subject, *wrong_filler(row, kind)))
    return row.shear


def default_shear(catalogue: SectionCatalogue) -> float:
    """Return the shear strength of weld metal that is not named (or refused elsewhere), Pa: E70 on steel, the weakest on aluminium."""
    if catalogue.metal_being_built() == "steel":
        return E70_SHEAR

    return min(row.shear for row in welds_of(catalogue.library).electrodes if row.metal != "steel")


def wrong_filler(electrode: Electrode, kind: str) -> tuple[str, str]:
    """Return fault and remedy of weld metal for one metal on another."""
    remedy = "choose ER4043 or ER5356" if kind == "aluminium" else "choose E60 to E110"
    return f"weld metal {electrode.name} is for {electrode.metal}, what it joins is {kind}", remedy


def outline(catalogue: SectionCatalogue, record: Record) -> OutlinePolygon:
    """Return an outline by its corners."""
    if record["corners"] is None:
        remedy = "write the corners, or a drawing and its unit"
        raise refused(catalogue, record, Fault("", record.subject, "there is neither 'corners' nor 'drawing'", remedy))
    return OutlinePolygon(corners_of(record["corners"]), tuple(corners_of(hole) for hole in record["holes"]))


def drawn_outline(catalogue: SectionCatalogue, record: Record) -> DrawnOutline:
    """Return an outline from a drawing beside the case file; the unit is the user's to state."""
    from framecheck.reading.drawing import read_outline

    file, unit = record["drawing"], record["unit"]
    subject = f"{record.subject} drawing '{file}'"
    if record["corners"] is not None or record["holes"]:
        raise refused(catalogue, record, Fault("", subject, "stands beside corners or holes", "write one of the two"))
    if unit is None:
        remedy = "write unit: mm, cm, m, in or ft (its header is not trusted)"
        raise refused(catalogue, record, Fault("", subject, "its unit is missing", remedy))
    try:
        return read_outline(catalogue.library.drawing(file), unit.value, file, record["tolerance"])
    except InputError as error:
        raise refused(catalogue, record, *(replace(fault, subject=subject) for fault in error.faults)) from None


def refused(catalogue: SectionCatalogue, record: Record, *faults: Fault) -> InputError:
    """Return the error of faults of a section, with all that is noted already."""
    place = f"{catalogue.diagnostics.file}:{record.line}"
    return InputError([*catalogue.diagnostics.faults, *(replace(fault, place=place) for fault in faults)])


def echo(file: str, drawn: DrawnOutline) -> str:
    """Return what was read of a drawing, for the user to hold against it."""
    size = f"{length(drawn.width)} wide and {length(drawn.height)} high, area {1e6 * drawn.area:.5g} mm2"
    left = "; ".join(f"{count} {kind}" for kind, count in drawn.skipped)
    skipped = f"; draws nothing and is left out: {left}" if left else ""
    return f"drawn in {file}, read in {drawn.unit}: {size}, {len(drawn.shape.holes)} holes{skipped}; hold it against the drawing"


def corners_of(records: tuple[Record, ...]) -> tuple[tuple[float, float], ...]:
    """Return corners as (y, z)."""
    return tuple((corner["y"], corner["z"]) for corner in records)


def given_properties(_shelf: SectionCatalogue, record: Record) -> GivenProperties:
    """Return properties from a catalogue."""
    centre, fibres = record["shear centre"], record["fibres"]
    return GivenProperties(
        area=record["area"],
        i_vertical=record["second moment vertical"],
        i_sideways=record["second moment sideways"],
        torsion_constant=record["torsion constant"],
        i_product=record["product"],
        warping_constant=record["warping constant"],
        shear_area_vertical=record["shear area vertical"],
        shear_area_sideways=record["shear area sideways"],
        shear_centre=(0.0, 0.0) if centre is None else (centre["y"], centre["z"]),
        fibres=None if fibres is None else (fibres["top"], fibres["bottom"], fibres["left"], fibres["right"]),
        torsion_modulus=record["torsion modulus"],
    )


BY_THEMSELVES: Mapping[str, Callable[[SectionCatalogue, Record], Shape]] = {
    "outline": outline,
    "given properties": given_properties,
}
