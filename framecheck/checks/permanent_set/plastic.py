"""Plastic strength of a section under forces together. SI; arrays of any one shape."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.value_class import value_class


@value_class
class Plastic:
    """What a section carries of each force alone: pull (N), bending vertically, sideways (Nm), bimoment (Nm2), shear (N), twist (Nm).

    Twist and bimoment at first yield (a lower bound). web, flange: the shares of the area that aw and af of EN 1993-1-1 give for a
    rectangular tube; None: another section.
    """

    pull: float
    vertical: float
    sideways: float
    bimoment: float
    shear_vertical: float
    shear_sideways: float
    twist: float
    tube_shares: tuple[float, float] | None


def plastic_strengths(section: SectionProperties, fields: UnitFields) -> Plastic:
    """Return the strengths of a section. EN 1993-1-1:2005, eq. (6.6), (6.13), (6.18): A fy, Wpl fy, Av fy / sqrt(3)."""
    if section.metals:
        return mixed_strengths(section, fields)
    fy = section.yield_strength
    shear = fy / 3**0.5
    twist = np.linalg.norm(fields.shear[:, :, 2], axis=1).max(initial=0.0)
    bimoment = np.abs(fields.normal[:, 3]).max(initial=0.0)
    return Plastic(
        section.area * fy,
        section.plastic_modulus_vertical * fy,
        section.plastic_modulus_sideways * fy,
        float(fy / bimoment) if bimoment > 0 else np.inf,
        min(section.shear_area_vertical, section.area) * shear,
        min(section.shear_area_sideways, section.area) * shear,
        float(shear / twist) if twist > 0 else np.inf,
        tube_shares(section),
    )


def mixed_strengths(section: SectionProperties, fields: UnitFields) -> Plastic:
    """Return the strengths of a section of several metals: pull and bending with each at its own yield, all else at first yield.

    Sum of A fy; plastic moments about the axis that halves the force (statics). Shear, twist and bimoment: a lower bound.
    """
    own = section.point_strengths

    def first(unit: Array) -> float:
        most = float((np.abs(unit) / own).max(initial=0.0))
        return 1 / most if most > 0 else np.inf

    sideways, vertical, twist = (3**0.5 * np.linalg.norm(fields.shear[:, :, force], axis=1) for force in range(3))
    return Plastic(
        sum(each.area * each.material.yield_strength for each in section.metals),
        section.plastic_modulus_vertical * section.yield_strength,
        section.plastic_modulus_sideways * section.yield_strength,
        first(fields.normal[:, 3]),
        first(vertical),
        first(sideways),
        first(twist),
        None,
    )


def tube_shares(section: SectionProperties) -> tuple[float, float] | None:
    """Return (aw, af) of a rectangular tube of one thickness, at most 0.5; None for another section.

    EN 1993-1-1:2005, 6.2.9.1(5): aw = (A - 2 b t) / A, af = (A - 2 h t) / A.
    """
    thickness = {round(wall.thickness, 7) for wall in section.walls}
    held = not any(wall.free_start or wall.free_end for wall in section.walls)
    if not (section.closed and held and len(section.walls) == 4 and len(thickness) == 1):
        return None
    wall = section.walls[0].thickness
    y_min, y_max, z_min, z_max = section.box
    wide, high = y_max - y_min, z_max - z_min
    shares = [(section.area - 2 * side * wall) / section.area for side in (wide, high)]
    return min(max(shares[0], 0.0), 0.5), min(max(shares[1], 0.0), 0.5)


def shear_loss(shear: Array, twist: Array) -> Array:
    """Return rho, the share of yield lost to shear, from V / Vpl and T / T at yield.

    EN 1993-1-1:2005, 6.2.7(9) (Vpl less by the twist's share, as of hollow sections) and 6.2.8(3): (2 V / Vpl - 1)2 above one half.
    """
    left = np.maximum(1 - twist, 1e-9)
    ratio = np.minimum(shear / left, 1.0)
    return np.where((ratio >= 1.0) | (twist >= 1.0), 1.0, np.where(ratio > 0.5, (2 * ratio - 1) ** 2, 0.0))


def reduced_moment(pull: Array, share: float) -> Array:
    """Return the plastic moment left beside a pull, over the whole one: (1 - n) / (1 - a / 2), at most 1.

    EN 1993-1-1:2005, eq. (6.39), (6.40).
    """
    return np.clip((1 - pull) / (1 - 0.5 * share), 0.0, 1.0)


def tube_used(pull: Array, bending: tuple[Array, Array], shares: tuple[float, float]) -> Array:
    """Return what a rectangular tube uses of its plastic strength (1: the limit), from N / Npl and (Mv / Mpl, Ms / Mpl).

    EN 1993-1-1:2005, eq. (6.41): (My / MNy)^a + (Mz / MNz)^a, a = 1.66 / (1 - 1.13 n2), at most 6.
    """
    n = np.minimum(pull, 1.0)
    power = np.clip(1.66 / np.maximum(1 - 1.13 * n**2, 1e-9), 1.0, 6.0)
    parts = [
        np.minimum(each / np.maximum(reduced_moment(n, share), 1e-9), 1e3) ** power
        for each, share in zip(bending, shares, strict=True)
    ]
    return np.asarray(np.where(pull >= 1.0, 1e3, parts[0] + parts[1]), dtype=np.float64)


def shares_of(strengths: Plastic, forces: Array) -> tuple[Array, ...]:
    """Return V / Vpl, T / Tpl, N / Npl, Mv / Mpl, Ms / Mpl and B / Bpl of forces (..., 9), each (...,); 0 where none acts."""
    size = np.abs(forces)
    pairs = ((0, strengths.pull), (4, strengths.vertical), (5, strengths.sideways), (6, strengths.bimoment))
    shear = np.maximum(size[..., 1] / strengths.shear_sideways, size[..., 2] / strengths.shear_vertical)
    with np.errstate(divide="ignore", invalid="ignore"):
        parts = (np.where(size[..., column] > 0, size[..., column] / strength, 0.0) for column, strength in pairs)
        return shear, size[..., 3] / strengths.twist, *parts


def used(shares: tuple[Array, ...], times: Array, tube: tuple[float, float] | None) -> Array:
    """Return what forces grown so many times (...,) use of the plastic section, (...,), 1: the limit; shares: `shares_of`.

    Tubes by EN 1993-1-1:2005, eq. (6.41), tube: their shares; all others by the plain sum of eq. (6.2). Shear and twist lower yield
    for all of it.
    """
    left = 1 - shear_loss(times * shares[0], times * shares[1])
    scale = times / np.maximum(left, 1e-9)
    pull, vertical, sideways, warping = (scale * each for each in shares[2:])
    plain = pull + vertical + sideways if tube is None else tube_used(pull, (vertical, sideways), tube)
    return np.where(left <= 0, 1e3, plain + warping)


def largest_factor(strengths: Plastic, forces: Array, least: Array) -> Array:
    """Return by how much all forces (..., 9) may grow together, (...,), by halving between `least` (...,) and four times that.

    Never less than `least`, the factor at first yield: a stress that nowhere passes yield can be borne (static theorem of
    plasticity). A gain beyond four times is not counted.
    """
    shares, low, high = shares_of(strengths, forces), least, 4 * least
    for _ in range(20):
        middle = np.sqrt(low * high)
        within = used(shares, middle, strengths.tube_shares) <= 1.0
        low, high = np.where(within, middle, low), np.where(within, high, middle)
    return low
