"""What the room hands over: origin, names, walls, catalogue numbers, and a machine without the mesher."""

from __future__ import annotations

import subprocess
import sys
from types import ModuleType

import numpy as np
import pytest
from pytest import approx

from framecheck.errors import MeshError
from framecheck.model.frame import Cut, Side
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    Flat,
    GivenProperties,
    Hat,
    IShape,
    OutlinePolygon,
    Plate,
    Plated,
    RectTube,
    RoundTube,
    Shape,
    Sleeve,
)
from framecheck.section.analysis import net_properties, section_properties
from tests.unit.section.samples import CHANNEL, MM, SHARP_CHANNEL, SHARP_TUBE, TUBE, steel

LIPPED = Channel(0.1, 0.05, 0.003, 0.003, 0.015)


def test_the_web_of_a_channel_is_on_the_left() -> None:
    """The letter C: centroid and, beyond the web, shear centre lie to the left (+y) of the box's middle."""
    found = section_properties(steel(CHANNEL))
    assert found.centroid[0] > 0
    assert found.centroid[0] + found.shear_centre[0] > CHANNEL.flange / 2
    assert found.box[1] + found.centroid[0] == approx(CHANNEL.flange / 2)


def test_the_crown_of_a_hat_is_up() -> None:
    found = section_properties(steel(Hat(0.05, 0.06, 0.01, 0.002, 0.002)))
    assert found.box[3] - found.box[2] == approx(0.05)
    assert found.box[1] - found.box[0] == approx(0.08)
    assert found.centroid[1] > 0


def test_a_rail_does_not_move_when_a_plate_is_added() -> None:
    """The reference point stays the middle of the first piece's box."""
    found = section_properties(steel(Plated(TUBE, (Plate(Side.TOP, 0.04, 0.004),))))
    assert found.box[2] + found.centroid[1] == approx(-0.05)
    assert found.box[3] + found.centroid[1] == approx(0.054)


def test_a_drawn_outline_is_measured_from_the_middle_of_its_box() -> None:
    drawn = section_properties(steel(OutlinePolygon(((1.0, 2.0), (1.006, 2.0), (1.006, 2.05), (1.0, 2.05)))))
    bar = section_properties(steel(Flat(0.05, 0.006)))
    assert drawn.centroid == approx((0.0, 0.0), abs=1e-9)
    assert drawn.i_vertical == approx(bar.i_vertical, rel=1e-9)


def test_mass_is_area_times_density() -> None:
    found = section_properties(steel(TUBE))
    assert found.mass_per_length == approx(found.area * 7850.0)


def test_sharp_corners_are_marked_and_bends_are_not() -> None:
    """A peak at a sharp re-entrant corner does not converge: points beside it are marked, outer faces are not."""
    sharp, bent = (section_properties(steel(shape)).fields for shape in (SHARP_TUBE, TUBE))
    assert sharp is not None
    assert bent is not None
    assert not bent.sharp.any()
    marked = sharp.points[sharp.sharp]
    assert len(marked)
    assert np.abs(np.abs(marked[:, 0]) - 0.022).max() < 3.1 * MM
    assert np.abs(np.abs(marked[:, 1]) - 0.047).max() < 3.1 * MM


def test_fields_are_read_only() -> None:
    fields = section_properties(steel(TUBE)).fields
    assert fields is not None
    with pytest.raises(ValueError, match="read-only"):
        fields.normal[0, 0] = 1.0


WALLS: tuple[tuple[Shape, int, int], ...] = (
    (TUBE, 4, 0),
    (CHANNEL, 3, 2),
    (LIPPED, 5, 2),
    (IShape(0.1, 0.06, 0.005, 0.008), 5, 4),
    (BoxedChannel(CHANNEL, 0.003), 4, 0),
    (Sleeve(RectTube(0.108, 0.058, 0.003, 0.004), CHANNEL), 7, 2),
    (RoundTube(0.05, 0.003), 0, 0),
)


@pytest.mark.parametrize(("shape", "count", "free"), WALLS)
def test_walls(shape: Shape, count: int, free: int) -> None:
    """How many flat walls, and how many of their edges nothing holds."""
    walls = section_properties(steel(shape)).walls
    assert len(walls) == count
    assert sum(wall.free_start + wall.free_end for wall in walls) == free


def test_flat_widths_lie_between_the_bends() -> None:
    """By hand: web 100 - 2 (3 + 3), flange 50 - (3 + 3)."""
    flange, web, _ = section_properties(steel(CHANNEL)).walls
    assert web.width == approx(0.088)
    assert flange.width == approx(0.044)
    assert flange.free_start
    assert not flange.free_end


def test_walls_are_measured_from_the_centroid() -> None:
    found = section_properties(steel(CHANNEL))
    web = found.walls[1]
    assert web.start[0] == approx(found.box[1] - 1.5 * MM)


def test_a_notch_leaves_webs_with_a_free_edge() -> None:
    """Half depth from the top of a tube: two webs of 50 - 3 mm flat, free at the top, over the bottom wall."""
    walls = net_properties(steel(SHARP_TUBE), Cut("C-notch", Side.TOP, 1.0, 0.05, 0.1)).walls
    webs = [wall for wall in walls if wall.free_start or wall.free_end]
    assert [wall.width for wall in webs] == approx([0.047, 0.047])
    assert len(walls) == 3


CATALOGUE = GivenProperties(
    1e-3, 1e-6, 5e-7, 8e-7, fibres=(0.05, 0.04, 0.03, 0.02), shear_area_vertical=6e-4, torsion_modulus=2e-5
)


def test_catalogue_numbers_pass_through() -> None:
    found = section_properties(steel(CATALOGUE))
    assert found.engine == "given"
    assert (found.area, found.i_vertical, found.torsion_constant) == (1e-3, 1e-6, 8e-7)
    assert found.shear_area_sideways == np.inf
    assert found.box == (-0.02, 0.03, -0.04, 0.05)
    assert found.closed


def test_catalogue_stress_is_m_c_over_i() -> None:
    """L. Navier (1826): at the top Mv c / I = 0.05 / 1e-6, on the right - Ms c / I; shear V / A_s; twist T / W."""
    fields = section_properties(steel(CATALOGUE)).fields
    assert fields is not None
    assert fields.normal[:, 1].max() == approx(0.05 / 1e-6)
    assert fields.normal[:, 2].min() == approx(-0.02 / 5e-7)
    assert fields.normal[:, 0] == approx(1e3)
    assert fields.shear[:, 1, 1] == approx(1 / 6e-4)
    assert sorted(set(fields.shear[:, 1, 2])) == approx([-1 / 2e-5, 1 / 2e-5])


def test_catalogue_numbers_without_fibres_give_no_stress() -> None:
    found = section_properties(steel(GivenProperties(1e-3, 1e-6, 5e-7, 8e-7)))
    assert found.fields is None
    assert any("fibre" in note for note in found.notes)


def without_mesher(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make the mesher's import fail, as it does where its compiled part is missing."""
    monkeypatch.setitem(sys.modules, "pythoncdt", None)


def test_without_the_mesher_a_notch_has_no_answer_and_the_error_says_how_to_mend_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    without_mesher(monkeypatch)
    with pytest.raises(MeshError, match=r"can't be loaded: reinstall it with 'pip install"):
        net_properties(steel(TUBE), Cut("C-notch", Side.TOP, 1.0, 0.05, 0.1))


@pytest.mark.parametrize("library", ["pythoncdt", "shapely"])
def test_without_the_mesher_mid_line_theory_answers_and_says_so(monkeypatch: pytest.MonkeyPatch, library: str) -> None:
    meshed = section_properties(steel(SHARP_CHANNEL))
    monkeypatch.setitem(sys.modules, library, None)
    found = section_properties(steel(SHARP_CHANNEL))
    assert found.engine == "mid-line"
    assert found.i_vertical == approx(meshed.i_vertical, rel=0.01)
    assert any("by mid-line theory" in note for note in found.notes)


def test_what_mid_line_theory_gave_in_need_is_not_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    without_mesher(monkeypatch)
    kept: dict[str, bytes] = {}
    store = ModuleType("store")
    store.get = kept.get  # type: ignore[attr-defined]
    store.put = kept.__setitem__  # type: ignore[attr-defined]
    section_properties(steel(SHARP_CHANNEL), store)  # type: ignore[arg-type]
    assert not kept


def test_a_stored_section_loads_no_heavy_library() -> None:
    """Neither scipy, shapely, the mesher nor matplotlib, by importing the room afresh."""
    script = (
        "import sys; import framecheck.section.analysis, framecheck.section.store, framecheck.section.store;"
        "print([name for name in ('scipy', 'shapely', 'pythoncdt', 'matplotlib', 'sectionproperties') if name in sys.modules])"
    )
    shown = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "[]"
