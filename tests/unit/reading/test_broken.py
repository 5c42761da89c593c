"""Broken input: each fault has its own message, which says where, what, and what would do."""

from __future__ import annotations

import pytest

from framecheck.errors import InputError
from framecheck.reading.diagnostics import did_you_mean
from tests.unit.reading.shop import LIBRARY, changed, read_case

TUBE = "height: 4 in, width: 2 in"
LENGTHS = "write a length such as 3 in, 1 1/2 in, 2 ft 6 in or 76 mm"
SIZES = "such as 3 in, 1 1/2 in, 2 ft 6 in or 76 mm"
GEARBOX = "frame > ladder > crossmembers > gearbox crossmember"


def faults_of(text: str) -> list[str]:
    """Return the messages about a text."""
    with pytest.raises(InputError) as caught:
        read_case(text, "truck.yaml", LIBRARY)
    return [str(fault) for fault in caught.value.faults]


BROKEN = {
    "wrong unit": (
        (TUBE, "height: 4 furlong, width: 2 in"),
        f"truck.yaml:4: sections > rail tube > height: 'furlong' is not a unit of length; {LENGTHS}",
    ),
    "unit of something else": (
        ("mass: 520 lb", "mass: 520 lb·ft"),
        "truck.yaml:27: vehicle > masses > engine > mass: 'lb·ft' is not a unit of mass; 'lb·ft' measures a moment; "
        "write a mass such as 520 lb or 236 kg",
    ),
    "bare number": (
        (TUBE, "height: 4, width: 2 in"),
        f"truck.yaml:4: sections > rail tube > height: '4' has no unit; write a length with its unit, {SIZES}",
    ),
    "comma decimal": (
        ("drop: 3 in", "drop: 3,5 in"),
        f"truck.yaml:22: {GEARBOX} > drop: the comma in '3,5 in' is not read as a point; write '3.5 in'",
    ),
    "negative": (
        (TUBE, "height: -4 in, width: 2 in"),
        "truck.yaml:4: sections > rail tube > height: '-4 in' is negative; write a value above zero",
    ),
    "zero": (
        (TUBE, "height: 0 in, width: 2 in"),
        "truck.yaml:4: sections > rail tube > height: '0 in' is zero; write a value above zero",
    ),
    "not a number": (
        (TUBE, "height: .nan in, width: 2 in"),
        f"truck.yaml:4: sections > rail tube > height: '.nan in' is not a finite number; {LENGTHS}",
    ),
    "too large": (
        (TUBE, "height: 1e999 in, width: 2 in"),
        "truck.yaml:4: sections > rail tube > height: '1e999 in' is too large a number; write a smaller one",
    ),
    "ambiguous gauge": (
        ("wall: 11 ga tube", "wall: 11 ga"),
        "truck.yaml:4: sections > rail tube > wall: '11 ga' is a different thickness on each scale; "
        "write '11 ga aluminium' (0.0907 in) or '11 ga galvanized sheet' (0.1196 in) or '11 ga sheet' (0.1196 in) "
        "or '11 ga stainless sheet' (0.1250 in) or '11 ga tube' (0.1200 in)",
    ),
    "wall thicker than half the width": (
        ("wall: 11 ga tube", "wall: 1 1/4 in"),
        "truck.yaml:4: rail tube: wall 31.75 mm is half the width 50.8 mm or more; give a thinner wall, or a solid bar",
    ),
    "unknown section": (
        ("section: tube 2 x 2 x 11 ga", "section: tube 2x2x11 ga"),
        "truck.yaml:24: frame > ladder > crossmembers > tail crossmember > section: there is no section 'tube 2x2x11 ga'; "
        "did you mean 'tube 2 x 2 x 11 ga'?",
    ),
    "unknown material": (
        ("material: A500 grade B", "material: A500 grad B"),
        "truck.yaml:4: sections > rail tube > material: there is no material 'A500 grad B'; did you mean 'A500 grade B'?",
    ),
    "unknown shape": (
        ("shape: channel", "shape: chanel"),
        "truck.yaml:5: sections > stamped > shape: 'chanel' is not known here; did you mean 'channel'?",
    ),
    "misspelt key": (
        ("drop: 3 in", "dorp: 3 in"),
        f"truck.yaml:22: {GEARBOX} > dorp: this key is not known here; did you mean 'drop'?",
    ),
    "duplicate key": (
        ("drop: 3 in", "drop: 3 in\n        drop: 2 in"),
        "truck.yaml:23: drop: this key is given twice (it stands on line 22 already); keep one of the two",
    ),
    "yes or no where a name is due": (
        ("name: bed, mass", "name: no, mass"),
        "truck.yaml:28: vehicle > masses > no > name: 'no' means yes or no, and a name is due; put it in quotes: \"no\"",
    ),
    "a word where yes or no is due": (
        ("driven: yes", "driven: perhaps"),
        "truck.yaml:31: vehicle > axles > rear > driven: 'perhaps' is neither yes nor no; write yes or no",
    ),
    "a list where a value is due": (
        ("mass: 520 lb", "mass: [520 lb]"),
        "truck.yaml:27: vehicle > masses > engine > mass: a list stands here; write a mass, such as 520 lb or 236 kg",
    ),
    "nothing where a value is due": (
        ("x: 0 in, track", "x: , track"),
        f"truck.yaml:30: vehicle > axles > front > x: nothing stands here; write a length, {SIZES}",
    ),
    "two members of one name": (
        ("name: tail crossmember", "name: front crossmember"),
        "truck.yaml:24: frame > ladder > crossmembers > front crossmember: a crossmember 'front crossmember' stands on line 17 "
        "already; give one of them another name",
    ),
    "mass on an unknown point": (
        ("on: [left kick-up, right", "on: [left kickup, right"),
        "truck.yaml:28: vehicle > masses > bed > on > entry 1: there is no frame point 'left kickup'; did you mean 'left kick-up'?",
    ),
    "payload with nowhere to sit": (
        ("kind: payload, on: [left kick-up, right kick-up, left tail, right tail]", "kind: payload"),
        "truck.yaml:28: vehicle > masses > bed: is a payload with nowhere to sit; "
        "name the frame points that carry it under 'on', or its mounts",
    ),
    "wheel without a path to the frame": (
        ("unsprung mass: 180 lb, on: front axle", "unsprung mass: 180 lb"),
        "truck.yaml:30: vehicle > axles > front: has no path to the frame; name frame points under 'on', or its suspension",
    ),
    "stations out of order": (
        ("x: -90 in", "x: -65 in"),
        "truck.yaml:14: frame > ladder > rail > stations > front eye: is not behind 'kick-up'; "
        "list stations from front to rear: x falls from one to the next",
    ),
    "unknown station": (
        ("station: tail", "station: tial"),
        "truck.yaml:24: frame > ladder > crossmembers > tail crossmember: there is no station 'tial'; "
        "stations are: front horn, front axle, kick-up, front eye, tail",
    ),
    "crossmember beyond the rails": (
        ("x: -40 in", "x: -400 in"),
        f"truck.yaml:19: {GEARBOX}: lies beyond the ends of the rails; choose x from -140 in (-3556 mm) to 30 in (762 mm)",
    ),
    "mount beside the frame": (
        ("{name: gearbox mount}", "{name: gearbox mount, y: 20 in}"),
        f"truck.yaml:23: {GEARBOX} > points > gearbox mount: does not lie between the rails; "
        "choose y within 14.14 in (359.2 mm) of the middle",
    ),
    "a point that nothing reaches": (
        ("frame:\n", "frame:\n  points: {stray: {x: 0 in}}\n"),
        "truck.yaml:7: stray: no member reaches this point; draw a member or a spring through it, or remove it",
    ),
    "member to an unknown point": (
        ("frame:\n", "frame:\n  members: [{name: brace, points: [left tail, left frontaxle], section: stamped}]\n"),
        "truck.yaml:7: frame > members > brace > points > entry 2: there is no frame point 'left frontaxle'; "
        "did you mean 'left front axle'?",
    ),
    "member without length": (
        (
            "frame:\n",
            "frame:\n  points: {a: {x: 0 in, y: 13 in, z: 24 in}}\n"
            "  members: [{name: brace, points: [left front axle, a], section: stamped}]\n",
        ),
        "truck.yaml:8: frame > members > brace: has no length between 'left front axle' and 'a', which are at one place; "
        "move or leave out one of the two points",
    ),
    "cut outside its member": (
        (
            "frame:\n",
            "frame:\n  cuts: [{name: notch, member: left rail, side: top, x: -139 in, depth: 1 in, length: 4 in}]\n",
        ),
        "truck.yaml:7: frame > cuts > notch: does not lie within 'left rail', which is 170.3 in (4326 mm) long; "
        "move it, or make it shorter",
    ),
    "open side of a tube": (
        ("section: stamped\n        ends", "section: tube 2 x 2 x 11 ga\n        open side: up\n        ends"),
        f"truck.yaml:21: {GEARBOX}: the section 'tube 2 x 2 x 11 ga' has no open side; remove 'open side'",
    ),
    "unknown make of an end": (
        ("ends: butt on one face", "ends: butt on on face"),
        f"truck.yaml:21: {GEARBOX} > ends: 'butt on on face' is not known here; did you mean 'butt on one face'?",
    ),
    "unknown load case": (
        ("  - static", "  - statik"),
        "truck.yaml:33: load cases: there is no kind of load case 'statik'; did you mean 'static'?",
    ),
    "unknown factor": (
        ("vertical bump: {factor: 3}", "vertical bump: {faktor: 3}"),
        "truck.yaml:34: load cases > vertical bump > faktor: this key is not known here; did you mean 'factor'?",
    ),
    "load case twice": (
        ("  - static", "  - static\n  - static"),
        "truck.yaml:34: load cases > static: a load case 'static' stands on line 33 already; "
        "name one of them: 'a name: {kind: ...}'",
    ),
    "a needed point left out": (
        ("{point: left front axle}", "{}"),
        "truck.yaml:36: load cases > jacked at a point: 'point' is missing; write point: the name of a point",
    ),
    "target of an unknown load case": (
        ("{big bump: 1.2}", "{big bmp: 1.2}"),
        "truck.yaml:39: targets: there is no load case 'big bmp'; did you mean 'big bump'?",
    ),
    "unit on a plain number": (
        ("safety factor: 1.5", "safety factor: 1.5 in"),
        "truck.yaml:39: targets > safety factor: '1.5 in' is not a plain number; write a number without a unit, such as 1.5",
    ),
    "tab in the margin": (
        ("        drop: 3 in", "\tdrop: 3 in"),
        "truck.yaml:22: a tab stands in the margin; indent with spaces",
    ),
}


@pytest.mark.parametrize("what", BROKEN)
def test_each_fault_has_its_own_message(what: str) -> None:
    change, message = BROKEN[what]
    assert faults_of(changed(change)) == [message]


BOMB = "\n".join(
    ["a0: &a0 [1, 1, 1, 1, 1, 1, 1, 1, 1]", *(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9))]
)
WHOLE = {
    "empty": ("", "truck.yaml:1: the file is empty; write a case, or copy one from the cases folder"),
    "only a comment": ("# no\n", "truck.yaml:1: the file is empty; write a case, or copy one from the cases folder"),
    "a list": ("- a\n", "truck.yaml:1: a list is not a case; start with keys, such as 'title: my truck'"),
    "a word": ("truck\n", "truck.yaml:1: 'truck' is not a case; start with keys, such as 'title: my truck'"),
    "alias bomb": (
        BOMB,
        "truck.yaml:5: holds more than 50000 values once its aliases are written out; remove the repeats ('*name') or split the case",
    ),
    "deep nesting": (
        "a: " + "{b: " * 500 + "1" + "}" * 500,
        "truck.yaml:1: is nested deeper than 16 levels; a case needs no such depth; check brackets",
    ),
    "huge": ("#" * 1_000_001, "truck.yaml:1: is larger than 1000 kB; a case is a few pages; check the file"),
    "long list": ("a: [" + "1, " * 5001 + "1]", "truck.yaml:1: this list is longer than 5000; shorten it"),
    "alias of nothing": ("a: *b", "truck.yaml:1: '*b' names nothing above it; write '&b' where it is defined"),
    "alias of itself": ("a: &b [*b]", "truck.yaml:1: '*b' names nothing above it; write '&b' where it is defined"),
    "a tag": (
        "a: !!python/name:os.system x",
        "truck.yaml:1: the tag 'tag:yaml.org,2002:python/name:os.system' has no meaning here; remove it",
    ),
    "two documents": ("a: 1\n---\nb: 2\n", "truck.yaml:2: a second document begins; remove the '---'"),
}  # fmt: skip


@pytest.mark.parametrize("what", WHOLE)
def test_a_file_that_is_no_case(what: str) -> None:
    text, message = WHOLE[what]
    assert faults_of(text) == [message]


def test_what_is_no_yaml_says_where() -> None:
    told = faults_of("title: a\nframe: [1, 2\n")
    assert told[0].startswith("truck.yaml:3: can't be read as YAML (")
    assert told[0].endswith("check the indent, colons, quotes and brackets here and on the line before")


def test_all_faults_are_told_at_once_in_file_order() -> None:
    """One fault of each stage that can be seen together: a unit, a size, a name, a key."""
    text = changed(
        ("wall: 11 ga tube", "wall: 1 1/4 in"),
        ("y: 15 in, z: 20 in", "y: 15, z: 20 in"),
        ("section: tube 2 x 2 x 11 ga", "section: tube 2x2x11 ga"),
        ("tyre radius: 14.5 in, unsprung mass: 180 lb", "tire radius: 14.5 in, unsprung mass: 180 lb"),
    )
    places = [fault.split(": ")[0] for fault in faults_of(text)]
    assert places == [f"truck.yaml:{line}" for line in (4, 13, 24, 30, 30)]


def test_a_decimal_comma_in_braces_is_told_as_such() -> None:
    told = faults_of(changed((TUBE, "height: 4,5 in, width: 2 in")))
    assert told[0] == (
        "truck.yaml:4: sections > rail tube: '5 in' stands alone: inside braces a comma ends a value; "
        "write decimals with a point, such as 4.5 in"
    )


def test_sections_made_of_one_another_are_refused() -> None:
    ring = "  a: {shape: worn, base: b, material: S235}\n  b: {shape: worn, base: a, material: S235}\nframe:\n"
    told = faults_of(changed(("frame:\n", ring)))
    assert told == ["truck.yaml:6: a: is made of itself, or of too many others; give its sizes here"]


@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("4x2x3/16", "did you mean 'tube 4 x 2 x 3/16 in'?"),
        ("IIW T joint", 'did you mean "IIW T joint, toe", with these quotes?'),
        ("qqq", "otherwise"),
    ],
)
def test_a_near_name_is_found_whatever_its_blanks_and_told_as_a_file_needs_it(word: str, told: str) -> None:
    offered = ("tube 4 x 2 x 3/16 in", "tube 3 x 2 x 1/4 in", "IIW T joint, toe", "IIW lap, lap plate")
    assert did_you_mean(word, offered, "otherwise") == told


def test_a_fault_of_a_section_s_sizes_is_told_once() -> None:
    """It was told on the line of the section's name, and on the first one in it."""
    text = changed(("wall: 11 ga tube", "wall: 1 1/4 in"))
    old = next(line for line in text.splitlines() if "rail tube: {" in line)
    name, inner = old.strip().rstrip("}").split(": {")
    block = "\n    ".join([f"  {name}:", *inner.split(", ")])
    assert len([each for each in faults_of(text.replace(old, block)) if "is half the width" in each]) == 1
