"""Centre lines out of files: a DXF drawing by its layers, a table by its members."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from math import ceil, isfinite
from typing import Any

from framecheck.errors import Fault, InputError
from framecheck.reading.centre_lines import CentreLine
from framecheck.reading.diagnostics import Diagnostics, Missing
from framecheck.reading.drawing import drawing_scale, modelspace, refusal
from framecheck.reading.drawing_entities import FARTHEST, SILENT
from framecheck.reading.kinds import QuantityKind
from framecheck.reading.line_meetings import Place
from framecheck.reading.line_questions import AnswerError, LineQuestion
from framecheck.reading.shop_readings import numbered_rows
from framecheck.reading.yamltext import Text
from framecheck.value_class import value_class

COLUMNS = ("member", "point", "x", "y", "z", "section")
TableRow = Mapping[str, tuple[str, str]]
"""Of each column the cell and the unit in its heading."""
HEAD = re.compile(r"(?P<name>[a-z]+)\s*[\[(]?\s*(?P<unit>[a-z]*)\s*[\])]?")
BEND = 15.0
"""Degrees of a bend that one straight piece stands for."""
LENGTH = QuantityKind("length")


@value_class
class DrawingLayout:
    """How a drawing lies. unit: of its numbers; overall: the frame's whole length along the vehicle instead, m; front: where forward
    is on the sheet, as a number of quarter turns to the left from its right edge."""

    unit: str = ""
    overall: float = 0.0
    quarter_turns: int = 0


FRONTS = {"right": 0, "top": 1, "left": 2, "bottom": 3}


def drawn_lines(text: str, where: str, sheet: DrawingLayout) -> list[CentreLine]:
    """Return the lines of a DXF drawing in plan (or in space), each named after its layer; m, x forward, y left.

    InputError with every entity that can't be read as a centre line.
    """
    scale = drawing_scale(sheet.unit, where) if sheet.unit else 1.0
    rows: list[tuple[str, list[Place]]] = []
    faults: list[Fault] = []
    for entity in modelspace(text, where):
        if entity.dxftype() in SILENT:
            continue
        try:
            rows += [(plain_name(str(entity.dxf.layer)), path) for path in paths_of(entity, where)]
        except InputError as error:
            faults += error.faults
        except Exception as error:  # an entity without what its kind needs: the library raises what it likes
            faults += refusal(where, f"an entity is not whole ({error})", "draw it again, or save the drawing anew").faults
    if faults:
        raise InputError(list(dict.fromkeys(faults)))
    return [CentreLine(name, tuple(path)) for name, path in placed(rows, scale, sheet, where)]


def plain_name(layer: str) -> str:
    """Return a layer's name as a member may be called: no commas, nothing that can't be printed."""
    plain = " ".join("".join(letter if letter.isprintable() and letter != "," else " " for letter in layer).split())
    return {"": "member", "0": "member"}.get(plain, plain)


def paths_of(entity: Any, where: str) -> list[list[Place]]:
    """Return the points of one entity in the drawing's own numbers; of a polyline, those of its sides one by one."""
    match kind := entity.dxftype():
        case "LINE":
            path = [entity.dxf.start, entity.dxf.end]
        case "ARC":
            sweep = (entity.dxf.end_angle - entity.dxf.start_angle) % 360.0 or 360.0
            path = list(entity.vertices(entity.angles(ceil(sweep / BEND - 1e-6) + 1)))
        case "LWPOLYLINE" | "POLYLINE":
            return [path for side in entity.virtual_entities() for path in paths_of(side, where)]
        case _:
            raise refusal(where, f"{kind} can't be read as a middle line", "draw middle lines with lines, polylines or arcs")
    points = [(float(x), float(y), float(z)) for x, y, z in path]
    if not all(isfinite(each) for point in points for each in point):
        raise refusal(where, f"a {kind} has a coordinate that is not a number", "draw it again")
    return [points]


def placed(rows: Sequence[tuple[str, list[Place]]], scale: float, sheet: DrawingLayout, where: str) -> list[tuple[str, list[Place]]]:
    """Return rows of points in m with x forward and y left."""
    turned = [(name, [turned_back(each, sheet.quarter_turns) for each in path]) for name, path in rows]
    if not sheet.unit and turned:
        xs = [x for _, path in turned for x, _, _ in path]
        reach = max(xs) - min(xs)
        if not reach > 0.0:
            faults = refusal(where, "reaches nowhere along the vehicle", "check which way is forward").faults
            raise AnswerError(faults, LineQuestion.FRONT)
        scale = sheet.overall / reach
    farthest = max((abs(each) * scale for _, path in turned for point in path for each in point), default=0.0)
    if farthest > FARTHEST:
        raise refusal(where, f"reaches {farthest:.3g} m from its origin", "check the unit, or move it")
    return [(name, [(x * scale, y * scale, z * scale) for x, y, z in path]) for name, path in turned]


def turned_back(each: Place, quarter_turns: int) -> Place:
    """Return a place of the sheet with forward along x."""
    x, y, z = each
    return {0: (x, y, z), 1: (y, -x, z), 2: (-x, -y, z), 3: (-y, x, z)}[quarter_turns]


def listed_lines(text: str, where: str, unit: str) -> list[CentreLine]:
    """Return the members of a table: a row a point, in the order along its member; InputError with every fault.

    Columns: member, point (its name), x, y, z, section. A length has its unit in its cell or in the heading (x [in]); unit: of those
    that have neither. A point that stood before needs its name alone.
    """
    rows = table_rows(text, where)
    diagnostics = Diagnostics(where)
    known: dict[str, Place] = {}
    found: dict[str, list[tuple[str, Place]]] = {}
    sections: dict[str, str] = {}
    for line, row in rows:
        at = place_of(row, line, unit, known, diagnostics)
        name, label = plain_name(row["member"][0]), row["point"][0]
        if not row["member"][0]:
            diagnostics.refuse(line, "member", "is not named", "write in each row which member it belongs to")
        if label:
            known.setdefault(label, at or (0.0, 0.0, 0.0))
        found.setdefault(name, []).append((label, at or (0.0, 0.0, 0.0)))
        sections.setdefault(name, row["section"][0])
    if diagnostics.faults:
        raise InputError(diagnostics.faults)
    return [
        CentreLine(name, tuple(at for _, at in path), tuple(label for label, _ in path), sections[name])
        for name, path in found.items()
    ]


def place_of(row: TableRow, line: int, unit: str, known: Mapping[str, Place], diagnostics: Diagnostics) -> Place | None:
    """Return the place in a row, that of a named point that stood before where it has none; None where it can't be read."""
    given = [axis for axis in ("x", "y", "z") if row[axis][0]]
    label = row["point"][0]
    if not given and label in known:
        return known[label]
    if not given:
        diagnostics.refuse(line, label or "point", "has no place", "write x, y and z, or the name of a point that stands above")
        return None
    read = [LENGTH.read(amount(row[axis], line, unit), f"{axis} of {label or row['member'][0]}", diagnostics) for axis in given]
    values = {axis: each for axis, each in zip(given, read, strict=True) if not isinstance(each, Missing)}
    if len(values) < len(given):
        return None
    at = tuple(values.get(axis, 0.0) for axis in ("x", "y", "z"))
    if label in known and known[label] != at:
        diagnostics.refuse(line, f"point '{label}'", "stands at another place above", "give one of them another name")
    return at[0], at[1], at[2]


def amount(cell: tuple[str, str], line: int, unit: str) -> Text:
    """Return a cell with its own unit, its column's, or the table's."""
    value, of_column = cell
    bare = value.replace(".", "", 1).replace("-", "", 1).replace("/", "").replace(" ", "").isdigit()
    return Text(line, f"{value} {of_column or unit}".strip() if bare else value, quoted=True)


def table_rows(text: str, where: str) -> list[tuple[int, TableRow]]:
    """Return rows by line, each cell with the unit of its column; commas, semicolons or tabs part them."""
    lines = numbered(text, where)
    heads = [HEAD.fullmatch(each.strip().lower()) for each in (lines[0][0] if lines else [])]
    names = [head["name"] if head else "" for head in heads]
    missing = [each for each in ("member", "x", "y") if each not in names]
    unknown = [each for each in names if each not in COLUMNS]
    if missing or unknown:
        fault = f"there is no column '{missing[0]}'" if missing else f"the column '{unknown[0]}' is not known"
        raise InputError([Fault(f"{where}:1", "", fault, f"write a first line with columns of: {', '.join(COLUMNS)}")])
    units = [head["unit"] if head else "" for head in heads]
    return [(line, row_of(cells, names, units)) for cells, line in lines[1:] if any(each.strip() for each in cells)]


def row_of(cells: Sequence[str], names: Sequence[str], units: Sequence[str]) -> TableRow:
    """Return a row's cells and their columns' units by column, "" where there is none."""
    row = {name: (" ".join(cell.split()), unit) for name, unit, cell in zip(names, units, cells, strict=False)}
    return {name: row.get(name, ("", "")) for name in COLUMNS}


def numbered(text: str, where: str) -> list[tuple[list[str], int]]:
    """Return rows with the line each stands on."""
    first = text.partition("\n")[0]
    try:
        return list(numbered_rows(text, max(("\t", ";", ","), key=first.count)))
    except csv.Error as error:
        raise InputError([Fault(where, "", f"is no table ({error})", "save it as CSV text")]) from None
