"""Every named part in every shape of several: a section that is built, or a refusal with its line. No exit 4."""

from __future__ import annotations

from pathlib import Path

import pytest

from framecheck.cli.main import entry

NAMED = {
    "chan": "shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm, inside radius: 3 mm",
    "tube": "shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 3 mm, outside radius: 6 mm",
    "round": "shape: round tube, diameter: 60 mm, wall: 3 mm",
    "brim": "shape: hat, height: 60 mm, crown: 60 mm, brim: 25 mm, wall: 2.5 mm, inside radius: 2 mm",
    "ell": "shape: angle, height: 60 mm, width: 50 mm, wall: 4 mm",
    "zed": "shape: Z, height: 80 mm, flange: 40 mm, wall: 3 mm",
    "eye": "shape: I, height: 100 mm, width: 60 mm, web: 4 mm, flange: 6 mm",
    "bar": "shape: flat, height: 80 mm, width: 8 mm",
    "rod": "shape: round bar, diameter: 30 mm",
    "out": "shape: outline, corners: [{y: 0 mm, z: 0 mm}, {y: 30 mm, z: 0 mm}, {y: 0 mm, z: 50 mm}]",
    "giv": "shape: given properties, area: 500 mm2, second moment vertical: 1e6 mm4, second moment sideways: 5e5 mm4,"
    " torsion constant: 1e5 mm4",
    "boxed": "shape: boxed channel, channel: chan, plate: 3 mm",
    "over": "shape: sleeve, outer: huge, core: tube",
    "floor": "shape: floor closed, base: brim, sheet: 1.5 mm",
    "plates": "shape: plated, base: tube, plates: [{side: top, width: 40 mm, thickness: 4 mm}]",
    "pair": "shape: channel pair, first: chan, second: chan",
    "rusted": "shape: worn, base: chan, top: 0.5 mm, left: 0.4 mm",
    "rusted tube": "shape: worn, base: tube, top: 0.5 mm, left: 0.4 mm",
    "holed": "shape: drilled, base: chan, holes: [{side: left, size: 10 mm, position: 10 mm}]",
    "holed tube": "shape: drilled, base: tube, holes: [{side: left, size: 10 mm}]",
    "twice": "shape: drilled, base: rusted tube, holes: [{side: left, size: 10 mm}]",
    "channel 5 x 2 x 10 ga": "",
    "tube 4 x 2 x 3/16 in": "",
}
"""Parts by name; without sizes: of the library."""
FURTHER = {
    "huge": "shape: rectangular tube, height: 220 mm, width: 220 mm, wall: 5 mm",
    "tiny": "shape: round tube, diameter: 20 mm, wall: 2 mm",
}
WHOLES = {
    "boxed channel": "shape: boxed channel, channel: {}, plate: 3 mm",
    "boxed inset": "shape: boxed channel, channel: {}, plate: 3 mm, inset: 2 mm",
    "sleeve over it": "shape: sleeve, outer: huge, core: {}",
    "sleeve of it": "shape: sleeve, outer: {}, core: tiny",
    "floor closed": "shape: floor closed, base: {}, sheet: 2 mm",
    "plated": "shape: plated, base: {}, plates: [{{side: bottom, width: 70 mm, thickness: 4 mm}}]",
    "first of a pair": "shape: channel pair, first: {}, second: chan",
    "second of a pair": "shape: channel pair, first: chan, second: {}",
    "toe to toe": "shape: channel pair, first: {0}, second: {0}, pairing: toe to toe",
    "worn": "shape: worn, base: {}, bottom: 0.3 mm",
    "drilled": "shape: drilled, base: {}, holes: [{{side: top, size: 6 mm, position: 9 mm}}]",
}
BUILT = {
    ("boxed channel", "rusted"), ("boxed channel", "holed"), ("boxed channel", "channel 5 x 2 x 10 ga"), ("boxed inset", "rusted"),
    ("sleeve over it", "rusted"), ("sleeve over it", "rusted tube"), ("sleeve of it", "rusted tube"), ("floor closed", "rusted"),
    ("floor closed", "holed"), ("plated", "boxed"), ("plated", "floor"), ("plated", "pair"), ("plated", "rusted tube"),
    ("plated", "holed tube"), ("plated", "twice"), ("first of a pair", "rusted"), ("second of a pair", "holed"),
    ("toe to toe", "rusted"), ("toe to toe", "holed"), ("worn", "holed tube"), ("drilled", "rusted tube"), ("drilled", "plates"),
    ("drilled", "holed tube"), ("drilled", "boxed"), ("drilled", "tube 4 x 2 x 3/16 in"),
}  # fmt: skip
"""What a repair shop has: built, not refused."""
CASE = """\
title: parts
origin: the left end
sections:
{}  whole: {{{}, material: S235}}
frame:
  points: {{a: {{x: 0 mm, y: 0 mm, z: 0 mm}}, b: {{x: 1000 mm, y: 0 mm, z: 0 mm}}}}
  members: [{{name: m, points: [a, b], section: whole}}]
  supports: [{{point: a, held: all}}]
load cases: [{{push: {{forces: [{{point: b, force: {{z: -200 N}}}}]}}}}]
"""


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> str:
    return str(tmp_path_factory.mktemp("store"))


@pytest.mark.parametrize("part", NAMED)
@pytest.mark.parametrize("whole", WHOLES)
def test_a_part_in_a_whole_is_built_or_refused_with_its_line(
    whole: str, part: str, store: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("FRAMECHECK_STORE", store)
    own = {**NAMED, **FURTHER}
    lines = "".join(f"  {name}: {{{sizes}, material: S235}}\n" for name, sizes in own.items() if sizes)
    case = tmp_path / "case.yaml"
    case.write_text(CASE.format(lines, WHOLES[whole].format(f"'{part}'" if " " in part else part)), encoding="utf-8")
    code = entry(["check", str(case), "-q"])
    at = next(number for number, line in enumerate(case.read_text().splitlines(), 1) if line.startswith("  whole:"))
    told = capsys.readouterr().err
    assert code in ({0, 1} if (whole, part) in BUILT else {0, 1, 2})
    assert code < 2 or f"case.yaml:{at}: whole: " in told


def test_a_section_by_itself_is_refused_with_its_line_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A hole that lies outside what a worn part is left with shows only when the section is worked out."""
    holed = f"{{{NAMED['holed']}, material: S235}}"
    lines = f"  chan: {{{NAMED['chan']}, material: S235}}\n  holed: {holed}\n"
    lines += "  mid: {shape: worn, base: holed, bottom: 0.3 mm, material: S235}\n"
    case = tmp_path / "case.yaml"
    case.write_text(CASE.format(lines, WHOLES["drilled"].format("mid").replace("9 mm", "90 mm")), encoding="utf-8")
    for words in (["check", str(case)], ["section", str(case)], ["compare", f"{case}:whole", f"{case}:chan"]):
        assert entry(words) == 2
        assert "case.yaml:7: whole: the hole of 6 mm at 90 mm on the top lies outside the wall" in capsys.readouterr().err
