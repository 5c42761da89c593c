"""Readings as files: made from a sheet's expected ones, and changed as things go wrong in a shop."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

STEPS = (0, 1, 2, 3, 4, 5, 4, 3, 2, 1, 0, -1, -2, -3, -4, -5, -4, -3, -2, -1, 0)
Change = Callable[[str, int, int, float], float]
"""From a dial's letter, the number of the sitting, its step and the reading, m, to what is read."""


def as_expected(letter: str, sitting: int, step: int, value: float) -> float:
    """Return a reading as it is expected."""
    del letter, sitting, step
    return value


def rows_of(sheet: dict[str, Any], change: Change = as_expected, steps: Sequence[int] = STEPS) -> list[tuple[float, dict[str, float]]]:
    """Return loads (N) with what each dial reads (m), in the order of the test."""
    top = {dial["letter"]: row[-1] for dial, row in zip(sheet["dials"], sheet["expected_m"]["expected"], strict=True)}
    return [
        (step / 5 * sheet["loads_n"][-1], {each: change(each, number, step, step / 5 * value) for each, value in top.items()})
        for number, step in enumerate(steps)
    ]


def as_yaml(rows: Sequence[tuple[float, dict[str, float]]], head: str = "") -> str:
    """Return rows as a YAML file of readings."""
    told = [(load, ", ".join(f"{name}: {1000 * value:.6f} mm" for name, value in dials.items())) for load, dials in rows]
    return head + "readings:\n" + "".join(f"  - {{load: {load:.6f} N, dials: {{{dials}}}}}\n" for load, dials in told)


def as_csv(rows: Sequence[tuple[float, dict[str, float]]]) -> str:
    """Return rows as a CSV file of readings, in pounds and inches."""
    lines = [
        f"{number},{load / 4.4482216152605:.8f},lb,{name},{value / 0.0254:.8f},in"
        for number, (load, dials) in enumerate(rows)
        for name, value in dials.items()
    ]
    return "\n".join(["step,load,load unit,dial,reading,unit", *lines]) + "\n"
