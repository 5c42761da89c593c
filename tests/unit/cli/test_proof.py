"""`framecheck selfcheck --proof`: how many values the tests hold the program to, by kind of proof."""

from __future__ import annotations

from framecheck.cli.shop_commands import read
from tests.cases.answers import told
from tests.verification.manual import MEANING, Kind


def test_every_kind_of_proof_is_counted_apart() -> None:
    answer = told("selfcheck", "--proof")
    assert answer.code == 0
    values = read()["values"]
    assert list(values) == [kind.value for kind in Kind]
    shown = answer.out.splitlines()
    for kind in Kind:
        row = next(line.split() for line in shown if line.startswith(kind.value))
        assert str(values[kind.value]["values"]) in row
        assert values[kind.value]["about"] == MEANING[kind]


def test_the_numbers_of_the_tables_are_counted_by_how_their_source_was_seen() -> None:
    seen = read()["tables"]
    assert sum(seen.values()) > 2000
    assert f"{seen['from memory']} from memory" in " ".join(told("selfcheck", "--proof").out.split())
