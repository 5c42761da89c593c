"""Value classes and array classes, held to the standard library's frozen dataclasses."""

import copy
import inspect
import pickle
from collections.abc import Mapping
from dataclasses import FrozenInstanceError, dataclass, field, fields, is_dataclass, replace
from typing import Any

import pytest

from framecheck.value_class import array_class, value_class


@value_class
class Tube:
    """A tube."""

    width: float
    wall: float = 0.003
    names: Mapping[str, int] = field(default_factory=dict)
    note: str = field(default="", compare=False)
    price: float = field(default=0.0, repr=False)

    def inside(self) -> float:
        return self.width - 2 * self.wall


class Library:
    """The same class as the standard library makes it."""

    @dataclass(frozen=True, slots=True)
    class Tube:
        """A tube."""

        width: float
        wall: float = 0.003
        names: Mapping[str, int] = field(default_factory=dict)
        note: str = field(default="", compare=False)
        price: float = field(default=0.0, repr=False)


@value_class
class Empty:
    """Nothing."""


@value_class
class Written:
    """Writes its own text and equality."""

    name: str

    def __repr__(self) -> str:
        return self.name

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Written) and self.name.lower() == other.name.lower()

    def __hash__(self) -> int:
        return hash(self.name.lower())


@array_class
class Held:
    """Holds something that can't be compared."""

    values: Any


GIVEN: tuple[tuple[tuple[Any, ...], dict[str, Any]], ...] = (
    ((0.1,), {}),
    ((0.1, 0.004), {}),
    ((), {"wall": 0.002, "width": 0.08}),
    ((0.1,), {"names": {"a": 1}, "note": "said", "price": 3.0}),
)


@pytest.mark.parametrize(("words", "named"), GIVEN)
def test_holds_and_shows_what_the_library_s_does(words: tuple[Any, ...], named: dict[str, Any]) -> None:
    ours, library = Tube(*words, **named), Library.Tube(*words, **named)
    assert [getattr(ours, each.name) for each in fields(ours)] == [
        getattr(library, each.name) for each in fields(library)
    ]
    assert "Library." + repr(ours) == repr(library)


@pytest.mark.parametrize(("words", "named"), [((), {}), ((1, 2, {}, "", 0, 6), {}), ((1,), {"width": 2}), ((1,), {"odd": 2})])
def test_refuses_what_the_library_s_refuses(words: tuple[Any, ...], named: dict[str, Any]) -> None:
    for made in (Tube, Library.Tube):
        with pytest.raises(TypeError):
            made(*words, **named)


@pytest.mark.parametrize("changed", [{}, {"width": 2.0}, {"names": {"a": 1}}, {"note": "other"}, {"price": 4.0}])
def test_compares_as_the_library_s_does(changed: dict[str, Any]) -> None:
    of_library = Library.Tube(1.0) == replace(Library.Tube(1.0), **changed)
    assert (Tube(1.0) == replace(Tube(1.0), **changed)) is of_library


def test_equal_ones_are_one_key() -> None:
    assert len({Tube(1.0, names=(), note="a"), Tube(1.0, names=(), note="b"), Tube(2.0, names=())}) == 2
    assert Empty() == Empty()
    assert hash(Empty()) == hash(Empty())


def test_classes_that_hold_the_same_differ() -> None:
    assert Tube(1.0) != Library.Tube(1.0)
    assert Tube(1.0) != (1.0, 0.003)


def test_nothing_can_be_set_added_or_deleted() -> None:
    tube: Any = Tube(1.0)
    with pytest.raises(FrozenInstanceError):
        tube.width = 2.0
    with pytest.raises(FrozenInstanceError):
        tube.other = 2.0
    with pytest.raises(FrozenInstanceError):
        del tube.width
    assert not hasattr(tube, "__dict__")


def test_refuses_a_field_without_default_after_one_with() -> None:
    for kind in (value_class, dataclass(frozen=True, slots=True)):
        with pytest.raises(TypeError, match="default"):
            kind(type("Odd", (), {"__annotations__": {"first": int, "second": int}, "first": 1, "__module__": __name__}))


def test_default_made_anew_is_not_shared() -> None:
    assert Tube(1.0).names is not Tube(1.0).names


def test_copies_and_pickles() -> None:
    tube = Tube(1.0, 0.002, {"a": 1}, "said", 3.0)
    for again in (pickle.loads(pickle.dumps(tube)), copy.copy(tube), copy.deepcopy(tube)):
        assert again == tube
        assert again.note == "said"


def test_is_a_dataclass_to_the_standard_library_and_to_match() -> None:
    assert is_dataclass(Tube)
    assert str(inspect.signature(Tube)) == str(inspect.signature(Library.Tube))
    match Tube(1.0, 0.1):
        case Tube(width, wall):
            assert (width, wall) == (1.0, 0.1)
    assert Tube(1.0, 0.1).inside() == 0.8


def test_holds_what_others_ask_a_dataclass_for() -> None:
    """dask asks the parameters before the fields when it sends one to a worker: a sweep on a cluster ended in exit 4."""

    @value_class
    class Unasked:
        width: float

    assert {"eq", "frozen"} <= {name for name in dir(Unasked(1.0).__dataclass_params__) if not name.startswith("_")}
    assert [each.name for each in fields(Unasked)] == ["width"]


def test_keeps_what_a_class_writes_itself() -> None:
    assert repr(Written("Rail")) == "Rail"
    assert Written("Rail") == Written("rail")
    assert hash(Written("Rail")) == hash(Written("rail"))


def test_array_class_equals_itself_alone() -> None:
    held = Held([1.0])
    same = held
    assert held == same
    assert held != Held([1.0])
    assert hash(held) != hash(Held([1.0]))
    with pytest.raises(FrozenInstanceError):
        held.values = []  # type: ignore[misc]


def test_what_holds_itself_can_be_shown() -> None:
    inside: list[Any] = []
    held = Held(inside)
    inside.append(held)
    assert repr(held) == "Held(values=[...])"
