"""A case file as text that is edited place by place: each edit changes its own letters alone, so comments, order and layout stay.

What comes out is read again and held to what was meant; an edit that can't be made so is refused, and the YAML view is left for it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from copy import copy
from typing import Any

import yaml

from framecheck.errors import Fault, InputError
from framecheck.output.display import shop_number
from framecheck.reading.diagnostics import Diagnostics, refuse_faults
from framecheck.reading.kinds import QuantityKind
from framecheck.reading.yamltext import DEEPEST, MOST_VALUES, Text
from framecheck.units import INCH, Units

Path = tuple[str | int, ...]
"""Keys and numbers of list entries that lead from the top of a file to a value."""
PLAIN = re.compile(r"(?!-(?: |$))[A-Za-z0-9+.-](?:[A-Za-z0-9 ./+°·²³%()_'-]*[A-Za-z0-9.%°)'²³])?")
"""Texts that YAML takes as they stand, within braces too."""
MOST_COUNTED = 2 * MOST_VALUES
"""Keys and values that a text may hold, where the reader counts values."""
PARSER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
PLAIN_VALUES: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


def tree_of(text: str) -> yaml.Node | None:
    """Return the nodes of a text with the places they stand at; InputError where it is no YAML, or more than the reader takes."""
    try:
        found = yaml.compose(text, Loader=PARSER)
        count_values(found, {}, 0)
        return found
    except RecursionError:
        raise refused(("the text",), "is nested deeper than can be followed", "check brackets, or edit it in the YAML view") from None
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        problem = getattr(error, "problem", None) or "it is broken here"
        place = f"line {1 if mark is None else mark.line + 1}"
        raise InputError([Fault(place, "", f"can't be read as YAML ({problem})", "check colons, quotes, brackets")]) from None


def count_values(node: yaml.Node | None, counted: dict[int, int], depth: int) -> int:
    """Return how many values a node holds with its aliases written out; InputError where the reader would take no such text."""
    if id(node) in counted:
        return counted[id(node)]
    if depth > DEEPEST + 1:
        raise refused(("the text",), f"is nested deeper than {DEEPEST} levels", "check brackets, or edit it in the YAML view")
    inner = [] if not isinstance(node, yaml.CollectionNode) else [part for each in node.value for part in parts_of(each)]
    count = 1 + sum(count_values(each, counted, depth + 1) for each in inner)
    if count > MOST_COUNTED:
        raise refused(("the text",), f"holds more than {MOST_VALUES} values once its aliases are written out", "remove the repeats")
    counted[id(node)] = count
    return count


def parts_of(entry: yaml.Node | tuple[yaml.Node, yaml.Node]) -> tuple[yaml.Node, ...]:
    """Return the nodes of an entry of a list, or of a block: its key and its value."""
    return entry if isinstance(entry, tuple) else (entry,)


def node_at(top: yaml.Node | None, path: Sequence[str | int]) -> yaml.Node:
    """Return the node that a path leads to; InputError where there is none."""
    node = top
    for step in path:
        if isinstance(node, yaml.MappingNode):
            node = next((value for key, value in node.value if key.value == step), None)
        elif isinstance(node, yaml.SequenceNode) and isinstance(step, int) and 0 <= step < len(node.value):
            node = node.value[step]
        else:
            node = None
    if node is None:
        raise refused(path, "there is nothing here any more", "load the form again")
    return node


def end_of(text: str, node: yaml.Node) -> int:
    """Return where the letters of a node end: those of a block end with its last value, not with the comments behind it."""
    if not isinstance(node, yaml.CollectionNode) or node.flow_style or not node.value:
        start = int(node.start_mark.index)
        return start + len(text[start : node.end_mark.index].rstrip())
    last = node.value[-1]
    return end_of(text, last[1] if isinstance(node, yaml.MappingNode) else last)


def source_of(text: str, node: yaml.Node) -> str:
    """Return the letters that a node is written in."""
    return text[node.start_mark.index : end_of(text, node)]


def with_value(text: str, path: Path, value: str) -> str:
    """Return a text with another single value at a place."""
    node = node_at(tree_of(text), path)
    if not isinstance(node, yaml.ScalarNode):
        raise refused(path, "there is no single value here", "edit it in the YAML view")
    return held(replaced(text, node, written_as(value)), changed(text, path, " ".join(value.split())), path)


def with_source(text: str, path: Path, source: str) -> str:
    """Return a text with a list or block at a place written anew."""
    tree_of(source)
    return held(replaced(text, node_at(tree_of(text), path), source.strip()), changed(text, path, data_of(source)), path)


def replaced(text: str, node: yaml.Node, source: str) -> str:
    """Return a text with other letters for a node."""
    start = node.start_mark.index
    gap = "" if start == 0 or text[start - 1] in " [{\n" else " "
    return text[:start] + gap + source + text[start + len(source_of(text, node)) :]


def written_as(value: str) -> str:
    """Return a value as it stands in YAML: plain where that is safe, in quotes where it could be taken for more."""
    plain = " ".join(value.split())
    return plain if PLAIN.fullmatch(plain) else json.dumps(plain, ensure_ascii=False)


def with_entry(text: str, path: Path, source: str) -> str:
    """Return a text with an entry more: a key of a block (the path's last step), or the next entry of a list."""
    *before, last = path
    tree_of(source)
    holder = node_at(tree_of(text), before)
    if not isinstance(holder, yaml.CollectionNode):
        raise refused(path, "nothing can be added to a single value", "change it in the YAML view")
    is_list = isinstance(holder, yaml.SequenceNode)
    entry = source.strip() if is_list else f"{written_as(str(last))}: {source.strip()}"
    if holder.flow_style or not holder.value:
        at = holder.end_mark.index - 1
        found = text[:at].rstrip() + (", " if holder.value else "") + entry + text[at:]
    else:
        at = end_of_line(text, end_of(text, holder))
        margin = " " * holder.start_mark.column + ("- " if is_list else "")
        found = f"{text[:at].rstrip()}\n{margin}{entry}{text[at:]}"
    meant, inner = opened(text, before)
    value = data_of(source)
    if is_list:
        inner.append(value)
    else:
        inner[last] = value
    return held(found, meant, path)


def without(text: str, path: Path) -> str:
    """Return a text without what stands at a place; a block or list that would be left empty goes with it."""
    *before, last = path
    holder = node_at(tree_of(text), before)
    if not isinstance(holder, yaml.CollectionNode):
        raise refused(path, "there is nothing here any more", "load the form again")
    if before and len(holder.value) == 1:
        return without(text, tuple(before))
    meant, inner = opened(text, before)
    del inner[last]
    return held(cut_out(text, holder, last), meant, path)


def cut_out(text: str, holder: yaml.CollectionNode, step: str | int) -> str:
    """Return a text without one entry of a block or list."""
    pairs = [each if isinstance(each, tuple) else (each, each) for each in holder.value]
    spans = [(key.start_mark.index, end_of(text, value)) for key, value in pairs]
    number = step if isinstance(step, int) else [key.value for key, _ in holder.value].index(step)
    start, end = spans[number]
    if holder.flow_style:
        return text[: spans[number - 1][1]] + text[end:] if number else text[:start] + text[spans[1][0] :]
    line = text.rfind("\n", 0, start) + 1
    before = text[line:start]
    if isinstance(holder, yaml.MappingNode) and before.strip():  # "- name: ...": the dash stays, the next key takes the place
        return text[:start] + text[spans[1][0] :]
    return text[:line] + text[end_of_line(text, end) + 1 :]


def end_of_line(text: str, at: int) -> int:
    """Return where the line of a place ends."""
    found = text.find("\n", at)
    return len(text) if found < 0 else found


def data_of(text: str) -> Any:
    """Return what a text says, every value as text."""
    return yaml.load(text, Loader=PLAIN_VALUES)


def held(text: str, meant: Any, path: Path) -> str:
    """Return a text that says what was meant; InputError where it does not."""
    try:
        found = data_of(text)
    except yaml.YAMLError:
        found = None
    if found != meant:
        raise refused(path, "can't be changed here without touching its neighbours", "change it in the YAML view")
    return text


def changed(text: str, path: Path, value: Any) -> Any:
    """Return what a text says with another value at a place."""
    meant, inner = opened(text, path[:-1])
    inner[path[-1]] = value
    return meant


def opened(text: str, path: Sequence[str | int]) -> tuple[Any, Any]:
    """Return what a text says, and the block or list that a path leads to, to be changed there alone: an alias elsewhere keeps what
    it says.
    """
    meant = copy(data_of(text))
    inner = meant
    for step in path:
        inner[step] = copy(inner[step])
        inner = inner[step]
    return meant, inner


def refused(path: Sequence[str | int], fault: str, remedy: str) -> InputError:
    """Return an error about a place."""
    return InputError([Fault("", words_of(path), fault, remedy)])


def words_of(path: Sequence[str | int]) -> str:
    """Return a place in words, as messages name it."""
    return " > ".join(str(step + 1) if isinstance(step, int) else step for step in path)


def with_moved(text: str, moves: Sequence[tuple[Path, float]], by: float) -> str:
    """Return a text with lengths changed, each by its share of so much, m, in the unit that it is written in.

    The first is rounded as a shop writes it; the others go with it by what it then has moved.
    """
    (path, share), *others = moves
    node = length_at(text, path)
    rounded = moved_length(str(node.value), by * share, path)
    text = with_value(text, path, rounded)
    moved = (metres(rounded, path) - metres(str(node.value), path)) / share
    for each, part in others:
        text = with_value(text, each, shifted_length(str(length_at(text, each).value), moved * part, each))
    return text


def length_at(text: str, path: Path) -> yaml.ScalarNode:
    """Return the node of a single value at a place."""
    node = node_at(tree_of(text), path)
    if not isinstance(node, yaml.ScalarNode):
        raise refused(path, "there is no single length here", "change it in the YAML view")
    return node


METRIC = {"mm": (1e-3, 0), "cm": (1e-2, 1), "m": (1.0, 3)}
"""Of a unit its size, m, and the decimals that a dragged length is written with."""
PART = 16
"""A dragged length is written in whole parts of an inch of this size."""
FINER = 2
"""Decimals more of a length that goes with another; of an inch four in all."""


def metres(written: str, path: Path) -> float:
    """Return a length as it is written, m; InputError where it is none."""
    diagnostics = Diagnostics("")
    found = QuantityKind("length").read(Text(0, written, quoted=True), words_of(path), diagnostics)
    refuse_faults(diagnostics)
    assert isinstance(found, float)
    return found


def moved_length(written: str, by: float, path: Path) -> str:
    """Return a length in the unit it was written in, changed by so much, m; to a millimetre, or to a sixteenth of an inch."""
    found, unit = metres(written, path) + by, written.split()[-1].lower()
    if unit in METRIC:
        size, decimals = METRIC[unit]
        return f"{round(found / size, decimals) + 0.0:.{decimals}f} {unit}"
    return f"{in_parts(found)} in"


def in_parts(length: float) -> str:
    """Return a length as inches and sixteenths."""
    parts = round(length / INCH * PART)
    return f"{'-' if parts < 0 else ''}{shop_number(abs(parts) / PART, Units.US)}"


def shifted_length(written: str, by: float, path: Path) -> str:
    """Return a length in the unit it was written in, changed by so much, m, finer than a shop writes it where it must be."""
    found, unit = metres(written, path) + by, written.split()[-1].lower()
    if unit in METRIC:
        size, decimals = METRIC[unit]
        return f"{round(found / size, decimals + FINER) + 0.0:.{decimals + FINER}f}".rstrip("0").rstrip(".") + f" {unit}"
    inches = round(found / INCH, 2 * FINER) + 0.0
    if inches * PART == round(inches * PART):
        return f"{in_parts(found)} in"
    return f"{inches:.{2 * FINER}f} in"
