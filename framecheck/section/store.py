"""The store of computed sections: the name under which one is kept, and its properties as bytes and back.

Name and material are left out, so that one stored shape serves every name and grade.
"""

from __future__ import annotations

import struct
from dataclasses import replace
from functools import lru_cache
from hashlib import blake2b
from typing import Protocol
from zlib import crc32

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.frame import Cut, Section
from framecheck.section.mesh import MESH_SETTING
from framecheck.section.properties import (
    Critical,
    Seam,
    SectionMetal,
    SectionProperties,
    Share,
    UnitFields,
    Wall,
    is_mixed,
    kinds_of,
    least_yield,
    mass_of,
    metals_in,
    numbers_of,
    stiffness_of,
    strength_shares,
)

ENGINE = 9
"""Raised whenever a change in this room changes a number: older entries are then no longer found."""


class SectionStore(Protocol):
    """Keeps bytes by name. A store that can't read or write says nothing: the section is computed again."""

    def get(self, key: str) -> bytes | None:
        """Return what was kept under a key, None where there is nothing sound."""
        ...

    def put(self, key: str, content: bytes) -> None:
        """Keep bytes under a key, whole or not at all."""
        ...


def section_key(section: Section, cut: Cut | None = None) -> str:
    """Return the name of a section's numbers: of its geometry, the one material constant they hang on, and how they are made.

    The versions of the libraries are the store's matter: it knows what is installed without loading it.
    """
    notch = (cut.side, cut.depth) if cut else None
    what = repr((ENGINE, MESH_SETTING, section.shape, section.material.poissons_ratio, notch, _metals(section), section.action.name))
    return blake2b(what.encode(), digest_size=16).hexdigest()


def _metals(section: Section) -> object:
    """Return what the numbers hang on where parts are of different metals: which are alike, moduli, strengths."""
    if not is_mixed(section):
        return ()
    kinds = numbers_of(section, np.arange(len(section.metals)))
    return tuple(kinds.tolist()), stiffness_of(section), tuple(strength_shares(section, kinds).tolist())


MAGIC = b"FCSEC05\n"
HEADER = struct.Struct("<8sIIIIIII4x")
"""Magic, checksum of the rest, counts of points, walls, seams, metals and shares, length of the text."""
PLAIN, FIELD, WALL, SEAM, METAL, SHARE = 30, 16, 11, 6, 1, 4
"""Numbers in a section, at a surface point, in a wall, in a seam, of a metal and in a share."""
ONE_METAL = -1.0
"""Stands for the metal of every point where there is one."""
LITTLE = np.dtype("<f8")


def encoded(properties: SectionProperties) -> bytes:
    """Return the bytes of a section's numbers."""
    p, fields = properties, properties.fields
    text = "\0".join((properties.engine, *properties.notes, *(seam.name for seam in p.seams))).encode()
    surface = _blocks(fields) if fields else ()
    rows = (*map(_wall_row, p.walls), *map(_seam_row, p.seams), [each.area for each in p.metals], *map(_share_row, p.shares))
    blocks = (_plain(p), *surface, *rows)
    body = b"".join([np.asarray(block, dtype=LITTLE).tobytes() for block in blocks]) + text
    points = len(fields.points) if fields else 0
    counts = points, *map(len, (p.walls, p.seams, p.metals, p.shares)), len(text)
    return HEADER.pack(MAGIC, crc32(body), *counts) + body


@lru_cache(maxsize=64)
def decoded(content: bytes, section: Section) -> SectionProperties | None:
    """Return stored numbers under a section's name and material; None where the bytes are damaged or foreign.

    Of the same section the very same, so that what the checks found of it stands for the next variant of a study.
    """
    if len(content) < HEADER.size:
        return None
    magic, checksum, points, walls, seams, metals, shares, length = HEADER.unpack_from(content)
    body = memoryview(content)[HEADER.size :]
    ends = np.cumsum([PLAIN, points * FIELD, walls * WALL, seams * SEAM, metals * METAL, shares * SHARE])
    count = int(ends[-1])
    if magic != MAGIC or len(body) != 8 * count + length or crc32(body) != checksum:
        return None
    plain, surface, wall, seam, metal, share = np.split(np.frombuffer(body, dtype=LITTLE, count=count), ends[:-1])
    if metals != (len(kinds_of(section)) if is_mixed(section) else 0):
        return None
    engine, *text = bytes(body[8 * count :]).decode().split("\0")
    names = text[len(text) - seams :]
    return replace(
        _properties(section, plain.tolist(), metals_in(section, metal.tolist())),
        engine=engine,
        notes=tuple(text[: len(text) - seams]),
        fields=_fields(surface, points) if points else None,
        walls=tuple(_wall(row) for row in wall.reshape(walls, WALL).tolist()),
        seams=tuple(_seam(name, row) for name, row in zip(names, seam.reshape(seams, SEAM).tolist(), strict=True)),
        shares=tuple(Share(*row) for row in share.reshape(shares, SHARE).tolist()),
    )


def _plain(p: SectionProperties) -> tuple[float, ...]:
    """Return the single numbers of a section; bounds of 0 stand for none."""
    moments = (p.i_vertical, p.i_sideways, p.i_product, p.torsion_constant, p.warping_constant)
    shear = (*p.shear_centre, p.shear_area_vertical, p.shear_area_sideways)
    plastic = (p.plastic_modulus_vertical, p.plastic_modulus_sideways)
    bounds, lips = p.torsion_bounds or (0.0, 0.0), (0.0,) * 7 if p.distortion is None else _lips(p.distortion)
    return (p.area, *p.centroid, *moments, *shear, *plastic, *p.box, float(p.closed), *bounds, *p.wagner, *lips)


def _lips(found: Critical) -> tuple[float, ...]:
    """Return the numbers of distortional buckling; all 0 stand for none."""
    return found.push, found.top, found.bottom, found.left, found.right, found.bimoment, found.against


def _properties(section: Section, plain: list[float], metals: tuple[SectionMetal, ...]) -> SectionProperties:
    """Return properties from `_plain`'s numbers."""
    area, y, z, i_v, i_s, i_p, torsion, warping, sc_y, sc_z, a_v, a_s, z_v, z_s = plain[:14]
    y_low, y_high, z_low, z_high, closed, low, high, wagner_v, wagner_s, *lips = plain[14:]
    material = section.material
    return SectionProperties(
        name=section.name,
        area=area,
        mass_per_length=mass_of(section, area, metals),
        centroid=(y, z),
        i_vertical=i_v,
        i_sideways=i_s,
        i_product=i_p,
        torsion_constant=torsion,
        warping_constant=warping,
        shear_centre=(sc_y, sc_z),
        shear_area_vertical=a_v,
        shear_area_sideways=a_s,
        plastic_modulus_vertical=z_v,
        plastic_modulus_sideways=z_s,
        box=(y_low, y_high, z_low, z_high),
        closed=bool(closed),
        youngs_modulus=material.youngs_modulus,
        shear_modulus=material.shear_modulus,
        yield_strength=least_yield(section, metals),
        engine="",
        torsion_bounds=(low, high) if high else None,
        metals=metals,
        wagner=(wagner_v, wagner_s),
        distortion=Critical(*lips) if any(lips) else None,
    )


def _blocks(fields: UnitFields) -> tuple[Array, ...]:
    """Return the arrays of the fields in the order they are kept."""
    metal = np.full(len(fields.points), ONE_METAL) if fields.metal is None else fields.metal.astype(np.float64)
    return fields.points, fields.normal, fields.shear, fields.sharp.astype(np.float64), metal


def _fields(numbers: Array, points: int) -> UnitFields:
    """Return the fields from one row of numbers; read-only, as the bytes are."""
    at, normal, shear, sharp, metal = np.split(numbers, np.cumsum([2, 4, 8, 1]) * points)
    flags = sharp.astype(np.bool_)
    flags.flags.writeable = False
    kinds = None if metal[0] == ONE_METAL else metal.astype(np.int64)
    return UnitFields(at.reshape(points, 2), normal.reshape(points, 4), shear.reshape(points, 2, 4), flags, kinds)


def _wall_row(wall: Wall) -> tuple[float, ...]:
    """Return the numbers of a wall."""
    free = float(wall.free_start), float(wall.free_end)
    return (*wall.start, *wall.end, wall.width, wall.thickness, *free, float(wall.metal), wall.gap, wall.tip_gap)


def _wall(row: list[float]) -> Wall:
    """Return a wall from its numbers."""
    y1, z1, y2, z2, width, thickness, free_start, free_end, metal, gap, tip_gap = row
    return Wall((y1, z1), (y2, z2), width, thickness, bool(free_start), bool(free_end), int(metal), gap, tip_gap)


def _seam_row(seam: Seam) -> tuple[float, ...]:
    """Return the numbers of a seam."""
    return (*seam.place, seam.per_vertical, seam.per_sideways, seam.per_torsion, float(seam.part))


def _share_row(share: Share) -> tuple[float, ...]:
    """Return the numbers of a share."""
    return share.stretch, share.vertical, share.sideways, share.twist


def _seam(name: str, row: list[float]) -> Seam:
    """Return a seam from its name and numbers."""
    y, z, vertical, sideways, torsion, part = row
    return Seam(name, (y, z), vertical, sideways, torsion, int(part))
