"""Section shapes, outside sizes in m, drawn as seen looking along the member: z up, y to the left."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RectTube:
    """A rectangular tube: height along z, width along y; outside_radius 0 means sharp corners."""

    height: float
    width: float
    wall: float
    outside_radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Channel:
    """A stamped channel drawn as the letter C: web on the left (+y), open to the right (-y).

    height along z; flange: outside width along y; lip: outside length of the flange lips turned inward, 0 for none.
    """

    height: float
    flange: float
    wall: float
    inside_radius: float
    lip: float = 0.0


@dataclass(frozen=True, slots=True)
class GivenProperties:
    """Numbers from a catalogue; m, m2, m4, m6; shear centre (y, z) from the centroid.

    Fibre distances (top, bottom, left, right) from the centroid; None: no stress can be given for bending.
    Shear areas of None: no shear deformation, shear stress not checked. wall: thickness for the twist stress of an open
    section; enclosed_area: area inside the mid-line for a tube.
    """

    area: float
    i_vertical: float
    i_sideways: float
    torsion_constant: float
    i_product: float = 0.0
    warping_constant: float = 0.0
    shear_area_vertical: float | None = None
    shear_area_sideways: float | None = None
    shear_centre: tuple[float, float] = (0.0, 0.0)
    fibres: tuple[float, float, float, float] | None = None
    torsion_modulus: float | None = None


Shape = RectTube | Channel | GivenProperties
