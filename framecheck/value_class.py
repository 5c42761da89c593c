"""`value_class` and `array_class`: frozen dataclasses with slots that are quick to make.

The standard library compiles six functions from text for each frozen class (0.7 ms on a slow core); a run needs some 250 classes, and
that was a quarter of its time. Here one function is compiled, `__init__`; the others are the same for every class (0.2 ms).
`dataclasses.fields` and `dataclasses.replace` work as ever.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from reprlib import recursive_repr
from types import FunctionType
from typing import Any, TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, field_specifiers=(field, Field))
def value_class(cls: type[T]) -> type[T]:
    """Return a class as a frozen dataclass with slots; two of them are equal where all their values are."""
    made: Any = _with(_frozen(cls), _Equal)
    made.__compared__ = _getter([each.name for each in fields(made) if each.compare])
    return made  # type: ignore[no-any-return]


@dataclass_transform(frozen_default=True, eq_default=False, field_specifiers=(field, Field))
def array_class(cls: type[T]) -> type[T]:
    """Return a class as a frozen dataclass with slots that equals itself alone, as whatever holds arrays must."""
    return _frozen(cls)


def _frozen(cls: type[T]) -> type[T]:
    made: Any = _with(dataclass(init=False, repr=False, eq=False, slots=True)(cls), _Frozen)
    made.__init__ = _initialiser(made)
    return made  # type: ignore[no-any-return]


class _Frozen:
    """What both kinds do."""

    @recursive_repr()
    def __repr__(self: Any) -> str:
        shown = (f"{each.name}={getattr(self, each.name)!r}" for each in fields(self) if each.repr)
        return f"{self.__class__.__qualname__}({', '.join(shown)})"

    def __setattr__(self, name: str, value: object) -> None:
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> None:
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def __reduce__(self: Any) -> tuple[type, tuple[Any, ...]]:
        return self.__class__, tuple(getattr(self, each.name) for each in fields(self))


class _Equal:
    """What a value class does besides."""

    __compared__: Callable[[object], tuple[Any, ...]]

    def __eq__(self, other: object) -> bool:
        if other.__class__ is not self.__class__:
            return NotImplemented
        values = self.__class__.__compared__
        return values(self) == values(other)

    def __hash__(self) -> int:
        return hash(self.__class__.__compared__(self))


def _getter(names: list[str]) -> Callable[[object], tuple[Any, ...]]:
    """Return what gives the values of some fields; a getter of one name would give no tuple."""
    if not names:
        return staticmethod(lambda of: ())
    return attrgetter(*names) if len(names) > 1 else attrgetter(*names, *names)


class _Absent:
    """Stands in `__init__` for a default that is made anew each time."""

    def __repr__(self) -> str:
        return "<factory>"


def _with(cls: type[T], common: type) -> type[T]:
    """Return a class with what is common to all, except what it has written itself."""
    for name, each in vars(common).items():
        if isinstance(each, FunctionType) and name not in vars(cls):
            setattr(cls, name, each)
    return cls


def _initialiser(cls: Any) -> Callable[..., None]:
    """Return `__init__`, which takes the fields in order."""
    taken, body = ["self"], ["pass"]
    known: dict[str, Any] = {"_set": object.__setattr__, "_absent": _Absent()}
    for number, each in enumerate(fields(cls)):
        given, name = each.name, f"_of{number}"
        if each.default_factory is not MISSING:
            known[name] = each.default_factory
            given = f"{name}() if {each.name} is _absent else {each.name}"
            taken.append(f"{each.name}=_absent")
        elif each.default is not MISSING:
            known[name] = each.default
            taken.append(f"{each.name}={name}")
        else:
            taken.append(each.name)
        body.append(f"_set(self, {each.name!r}, {given})")
    init = _compiled(taken, body, known, vars(sys.modules[cls.__module__]))
    init.__qualname__ = f"{cls.__qualname__}.__init__"
    init.__annotations__ = {**{each.name: each.type for each in fields(cls)}, "return": None}
    return init


def _compiled(taken: list[str], body: list[str], known: dict[str, Any], module: dict[str, Any]) -> Callable[..., None]:
    """Return `__init__` of a body in which some values are known, as a function of a module."""
    inside = "\n  ".join((f" def __init__({', '.join(taken)}):", *body))
    made: dict[str, Any] = {}
    exec(f"def make({', '.join(known)}):\n{inside}\n return __init__", module, made)
    init: Callable[..., None] = made["make"](**known)
    return init
