"""The factors of a load case, asked for by name, with a plain message where one is missing or senseless."""

from __future__ import annotations

from difflib import get_close_matches

from framecheck.errors import Fault, InputError
from framecheck.model.case import Factor, LoadCase
from framecheck.vehicle.scene import Scene


def number(load_case: LoadCase, name: str) -> float:
    """Return a factor that is a number, in SI."""
    value = _factor(load_case, name)
    if isinstance(value, str | tuple):
        raise _fault(load_case, name, f"'{value}' is not a number", "give a number with its unit")
    return float(value)


def number_or(load_case: LoadCase, name: str, otherwise: float) -> float:
    """Return a factor that is a number, in SI, or another value where the load case does not have it."""
    return number(load_case, name) if name in load_case.factors else otherwise


def positive(load_case: LoadCase, name: str) -> float:
    """Return a factor that must be above zero, in SI."""
    value = number(load_case, name)
    if value <= 0:
        raise _fault(load_case, name, f"{value:g} is not above zero", "give a value above zero")
    return value


def word(load_case: LoadCase, name: str) -> str:
    """Return a factor that is a word: a wheel, a side, a point."""
    value = _factor(load_case, name)
    if not isinstance(value, str):
        said = ", ".join(value) if isinstance(value, tuple) else f"{value:g}"
        raise _fault(load_case, name, f"{said} is not a name", "give a name")
    return value


def _fault(load_case: LoadCase, name: str, fault: str, remedy: str) -> InputError:
    return InputError([Fault("", f"{load_case.name}: {name}", fault, remedy, ("load cases", load_case.in_file, name))])


def _factor(load_case: LoadCase, name: str) -> Factor:
    if name not in load_case.factors:
        raise _fault(load_case, name, "is not given", "give it under the load case")
    return load_case.factors[name]


def point(scene: Scene, load_case: LoadCase, name: str) -> str:
    """Return a factor that names a frame point."""
    return points(scene, load_case, name)[0]


def points(scene: Scene, load_case: LoadCase, name: str) -> tuple[str, ...]:
    """Return a factor that names one frame point or several."""
    given = _factor(load_case, name)
    found = given if isinstance(given, tuple) else (word(load_case, name),)
    for each in found:
        if each not in scene.points:
            near = get_close_matches(each, scene.points, n=1)
            raise _fault(
                load_case, name, f"'{each}' is not a frame point", f"did you mean '{near[0]}'?" if near else "name one"
            )
    return found
