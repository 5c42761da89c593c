"""Stored sections: what comes back is what went in, and nothing foreign or damaged ever does."""

from __future__ import annotations

import multiprocessing
import os
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from framecheck.cli.context import HOME, ROOMS, DiskStore, NoStore, disk_store, own_code
from framecheck.model.frame import Cut, Section, Side
from framecheck.model.shapes import BoxedChannel, RectTube
from framecheck.section.analysis import net_properties, section_properties
from framecheck.section.properties import SectionProperties
from framecheck.section.store import decoded, encoded, section_key
from tests.memory import Memory
from tests.unit.section.samples import CHANNEL, STEEL, TUBE, steel

BOXED = steel(BoxedChannel(CHANNEL, 0.003))


class Counting(Memory):
    """A store in memory that counts."""

    def __init__(self) -> None:
        super().__init__()
        self.hits = 0

    def get(self, key: str) -> bytes | None:
        self.hits += key in self.kept
        return super().get(key)


def same(one: SectionProperties, other: SectionProperties) -> bool:
    """Return whether two results agree to the last bit."""
    plain = [name for name in SectionProperties.__slots__ if name != "fields"]
    if any(getattr(one, name) != getattr(other, name) for name in plain):
        return False
    assert one.fields is not None
    assert other.fields is not None
    arrays = ("points", "normal", "shear", "sharp")
    return all(np.array_equal(getattr(one.fields, name), getattr(other.fields, name)) for name in arrays)


@pytest.mark.parametrize("section", [steel(TUBE), steel(CHANNEL), BOXED], ids=["tube", "channel", "boxed"])
def test_what_comes_back_is_what_went_in(section: Section) -> None:
    fresh = section_properties(section)
    back = decoded(encoded(fresh), section)
    assert back is not None
    assert same(fresh, back)


def test_a_stored_section_is_used() -> None:
    store = Counting()
    first, second = section_properties(BOXED, store), section_properties(BOXED, store)
    assert (len(store.kept), store.hits) == (1, 1)
    assert same(first, second)


def test_a_stored_shape_serves_any_name_and_grade() -> None:
    """A steel of another strength and density, but the same Poisson's ratio, has the same section."""
    store = Counting()
    section_properties(steel(TUBE, "left rail"), store)
    other = Section("right rail", TUBE, replace(STEEL, yield_strength=700e6, density=7800.0))
    found = section_properties(other, store)
    assert store.hits == 1
    assert (found.name, found.yield_strength) == ("right rail", 700e6)
    assert found.mass_per_length == pytest.approx(found.area * 7800.0)


def test_another_poissons_ratio_or_size_or_cut_is_another_entry() -> None:
    cut = Cut("notch", Side.TOP, 1.0, 0.02, 0.1)
    sections = (
        steel(TUBE),
        Section("rail", TUBE, replace(STEEL, shear_modulus=75e9)),
        steel(RectTube(0.1, 0.05, 0.003, 0.0061)),
    )
    keys = {
        *map(section_key, sections),
        section_key(steel(TUBE), cut),
        section_key(steel(TUBE), replace(cut, depth=0.021)),
    }
    assert len(keys) == 5
    assert section_key(steel(TUBE), cut) == section_key(steel(TUBE), replace(cut, at=2.0, length=0.2, name="other"))


def test_net_sections_are_stored() -> None:
    store, cut = Counting(), Cut("notch", Side.TOP, 1.0, 0.02, 0.1)
    assert same(net_properties(steel(TUBE), cut, store), net_properties(steel(TUBE), cut, store))
    assert store.hits == 1


def test_damaged_and_foreign_bytes_are_not_there() -> None:
    good = encoded(section_properties(steel(TUBE)))
    flipped = bytearray(good)
    flipped[len(good) // 2] ^= 1
    for bad in (b"", b"hello", good[:-1], good[: len(good) // 2], bytes(flipped), b"X" + good[1:], good + b"\0"):
        assert decoded(bad, steel(TUBE)) is None


def test_a_damaged_entry_is_computed_again(tmp_path: Path) -> None:
    store = DiskStore(tmp_path)
    fresh = section_properties(steel(TUBE), store)
    (entry,) = tmp_path.iterdir()
    entry.write_bytes(entry.read_bytes()[:1000])
    assert same(section_properties(steel(TUBE), store), fresh)
    assert same(section_properties(steel(TUBE), store), fresh)
    assert decoded(store.get(entry.name) or b"", steel(TUBE)) is not None


def test_a_store_that_cannot_be_written_is_silently_none(tmp_path: Path) -> None:
    """A file where the folder should be: nothing can be read or written there, by any user."""
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    store = DiskStore(blocked / "sections")
    store.put("key", b"content")
    assert store.get("key") is None
    assert section_properties(steel(TUBE), store).engine == "meshed"


def test_an_entry_that_is_a_folder_counts_as_not_there(tmp_path: Path) -> None:
    (tmp_path / "key").mkdir()
    store = DiskStore(tmp_path)
    assert store.get("key") is None
    store.put("key", b"content")
    assert store.get("key") is None


def test_the_store_leaves_no_scraps(tmp_path: Path) -> None:
    store = DiskStore(tmp_path / "new" / "folder")
    store.put("key", b"content")
    store.put("key", b"other content")
    assert [path.name for path in store.folder.iterdir()] == ["key"]
    assert store.get("key") == b"other content"


def write_often(folder: Path, letter: bytes) -> None:
    """Write the same entry many times."""
    for _ in range(100):
        DiskStore(folder).put("key", letter * 100_000)


def test_many_writers_never_leave_half_an_entry(tmp_path: Path) -> None:
    context = multiprocessing.get_context("fork")
    writers = [context.Process(target=write_often, args=(tmp_path, letter)) for letter in (b"a", b"b")]
    for writer in writers:
        writer.start()
    seen = set()
    while any(writer.is_alive() for writer in writers):
        content = DiskStore(tmp_path).get("key")
        if content is not None:
            assert len(content) == 100_000
            seen |= set(content)
    for writer in writers:
        writer.join()
        assert writer.exitcode == 0
    assert seen <= set(b"ab")


def test_the_environment_names_the_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path))
    store = disk_store()
    assert isinstance(store, DiskStore)
    assert store.folder.parent == tmp_path
    monkeypatch.setenv("FRAMECHECK_STORE", "")
    assert isinstance(disk_store(), NoStore)
    assert disk_store().get("key") is None


def test_without_the_variable_the_store_is_in_the_users_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("FRAMECHECK_STORE", raising=False)
    store = disk_store()
    assert isinstance(store, DiskStore)
    assert "framecheck" in str(store.folder)


def test_other_library_versions_have_a_store_of_their_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path))
    before = disk_store()
    monkeypatch.setattr("framecheck.cli.context._version", lambda library: f"{library}-99.dist-info")
    after = disk_store()
    assert isinstance(before, DiskStore)
    assert isinstance(after, DiskStore)
    assert before.folder != after.folder


def test_changed_code_has_a_store_of_its_own(tmp_path: Path) -> None:
    """A formula was changed under one version of the program, and a warm store gave the old number."""
    for room in ROOMS:
        (tmp_path / room / "__pycache__").mkdir(parents=True)
        (tmp_path / room / "formula.py").write_text("area = b * h\n")
    before = tuple(own_code(tmp_path))
    assert len(before) == len(ROOMS)
    (tmp_path / ROOMS[0] / "__pycache__" / "formula.pyc").write_text("compiled")
    assert tuple(own_code(tmp_path)) == before
    formula, time = tmp_path / ROOMS[0] / "formula.py", (tmp_path / ROOMS[0] / "formula.py").stat().st_mtime_ns
    formula.write_text("area = b + h\n")  # as long as it was
    os.utime(formula, ns=(time + 1_000_000, time + 1_000_000))
    assert tuple(own_code(tmp_path)) != before


def test_the_code_that_a_store_hangs_on_is_the_one_that_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is imported to compute a section stands in a folder that is looked at; so does it where it is installed as a wheel."""
    assert any("mesh.py" in each for each in own_code(HOME))
    monkeypatch.setenv("FRAMECHECK_STORE", str(tmp_path))
    before = disk_store()
    monkeypatch.setattr("framecheck.cli.context.own_code", lambda home: ("another",))
    after = disk_store()
    assert isinstance(before, DiskStore)
    assert isinstance(after, DiskStore)
    assert before.folder != after.folder
