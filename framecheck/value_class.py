"""`value_class` and `array_class`: frozen dataclasses with slots that are quick to make.

The standard library compiles six functions from text for each frozen class (0.7 ms on a slow core); a run needs some 380 classes, and
that was a quarter of its time. Here `__init__` is compiled once for each number of fields; the others are the same for every class.
`dataclasses.fields` and `dataclasses.replace` work as ever: what they read of a class is made by the standard library when it is
first asked for.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields, replace
from functools import cache
from inspect import get_annotations
from operator import attrgetter
from reprlib import recursive_repr
from types import FunctionType
from typing import Any, TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, field_specifiers=(field, Field))
def value_class(cls: type[T]) -> type[T]:
    """Return a class as a frozen dataclass with slots; two of them are equal where all their values are."""
    own = _own_fields(cls)
    made: Any = _with(_frozen(cls, own), _Equal)
    made.__compared__ = _getter([each.name for each in own if each.compare])
    return made  # type: ignore[no-any-return]


@dataclass_transform(frozen_default=True, eq_default=False, field_specifiers=(field, Field))
def array_class(cls: type[T]) -> type[T]:
    """Return a class as a frozen dataclass with slots that equals itself alone, as whatever holds arrays must."""
    return _frozen(cls, _own_fields(cls))


@dataclass(slots=True)
class _Own:
    """A field as a class is written. factory: what makes its default, MISSING where there is none."""

    name: str
    type: Any
    default: Any
    factory: Any
    compare: bool


def _own_fields(cls: type) -> tuple[_Own, ...]:
    """Return the fields that a class is written with, in their order."""
    given = vars(cls)
    return tuple(_own_field(name, kind, given.get(name, MISSING)) for name, kind in get_annotations(cls).items())


def _own_field(name: str, kind: Any, given: Any) -> _Own:
    if isinstance(given, Field):
        return _Own(name, kind, given.default, given.default_factory, given.compare is not False)
    return _Own(name, kind, given, MISSING, True)


def _frozen(cls: type[T], own: tuple[_Own, ...]) -> type[T]:
    if cls.__bases__ != (object,):
        raise TypeError(f"{cls.__qualname__}: a value class stands on no other class")
    names = tuple(each.name for each in own)
    written = {name: each for name, each in vars(cls).items() if name not in (*names, "__dict__", "__weakref__")}
    late = {name: _Late(cls, name) for name in ("__dataclass_fields__", "__dataclass_params__")}
    shared = {"__slots__": names, "__match_args__": names, "__qualname__": cls.__qualname__, **late}
    made: Any = _with(type(cls.__name__, (), {**written, **shared}), _Frozen)
    made.__init__ = _initialiser(made, own)
    return made  # type: ignore[no-any-return]


class _Late:
    """What the standard library keeps of a dataclass under a name, made when it is first asked for. dask asks for both names."""

    def __init__(self, written: type, name: str) -> None:
        self.written, self.name = written, name

    def __get__(self, _: object, made: type) -> Any:
        known = vars(self.written)
        if self.name not in known:
            dataclass(init=False, repr=False, eq=False)(self.written)
        type.__setattr__(made, self.name, known[self.name])
        return known[self.name]


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

    def __replace__(self: Any, /, **changes: Any) -> Any:  # copy.replace, from Python 3.13 on
        return replace(self, **changes)

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


_ABSENT = _Absent()


def _with(cls: type[T], common: type) -> type[T]:
    """Return a class with what is common to all, except what it has written itself."""
    for name, each in vars(common).items():
        if isinstance(each, FunctionType) and name not in vars(cls):
            setattr(cls, name, each)
    return cls


def _initialiser(cls: Any, own: tuple[_Own, ...]) -> Callable[..., None]:
    """Return `__init__`, which takes the fields in order: the one of all classes of its shape, with this class's names."""
    factories = [each.factory for each in own if each.factory is not MISSING]
    shape = tuple(each.factory is not MISSING for each in own)
    shared = _of_shape(shape)(_ABSENT, *(getattr(cls, each.name).__set__ for each in own), *factories)
    code = shared.__code__.replace(co_varnames=("self", *(each.name for each in own)), co_qualname=f"{cls.__qualname__}.__init__")
    given = tuple(_ABSENT if is_made else each.default for each, is_made in zip(own, shape, strict=True))
    defaults = tuple(each for each in given if each is not MISSING)
    if any(each is MISSING for each in given[len(given) - len(defaults) :]):
        raise TypeError(f"{cls.__qualname__}: a field without a default follows one with a default")
    init = FunctionType(code, vars(sys.modules[cls.__module__]), "__init__", defaults, shared.__closure__)
    init.__annotations__ = {**{each.name: each.type for each in own}, "return": None}
    return init


@cache
def _of_shape(shape: tuple[bool, ...]) -> Callable[..., Any]:
    """Return what makes `__init__` of a setter a field and the factories; shape: which fields have one. Compiled once: 0.1 ms."""
    numbers, made = range(len(shape)), [number for number, is_made in enumerate(shape) if is_made]
    known = ("_absent", *(f"_set{number}" for number in numbers), *(f"_make{number}" for number in made))
    given = {number: f"_make{number}() if _{number} is _absent else _{number}" for number in made}
    body = [f"  _set{number}(self, {given.get(number, f'_{number}')})" for number in numbers]
    taken = ", ".join(("self", *(f"_{number}" for number in numbers)))
    head = (f"def of_class({', '.join(known)}):", f" def __init__({taken}):", "  pass")
    found: dict[str, Any] = {}
    exec("\n".join((*head, *body, " return __init__")), found)
    of_class: Callable[..., Any] = found["of_class"]
    return of_class
