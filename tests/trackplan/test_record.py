"""The named tuples of `record` do what those of Python's own library do."""

from __future__ import annotations

import copy
import importlib.util
import pickle
import sys
from collections.abc import Callable
from types import ModuleType
from typing import Any
from typing import NamedTuple as Known

import pytest

from trackplan.record import NamedTuple


class Ours(NamedTuple):
    """A place."""

    path: str
    start: int = 3
    steps: tuple[int, ...] = ()

    @property
    def after(self) -> int:
        """Where the next one begins."""
        return self.start + 1

    def __str__(self) -> str:
        return f"at {self!r}"


class Theirs(Known):
    """A place."""

    path: str
    start: int = 3
    steps: tuple[int, ...] = ()


class Empty(NamedTuple):
    """Nothing."""


SAME: tuple[Callable[[Any], Any], ...] = (
    lambda kind: tuple(kind("a")),
    lambda kind: tuple(kind("a", steps=(4,))),
    lambda kind: repr(kind("a", 5)).partition("(")[2],
    lambda kind: kind("a") == ("a", 3, ()) and hash(kind("a")) == hash(("a", 3, ())),
    lambda kind: tuple(kind("a")._replace(start=9)),
    lambda kind: kind("a")._asdict(),
    lambda kind: tuple(kind._make(["a", 1, ()])),
    lambda kind: (kind._fields, kind._field_defaults, kind.__doc__, kind.__match_args__),
    lambda kind: (kind("a").path, kind("a").start, kind.__mro__[1:]),
    lambda kind: type(copy.copy(kind("a"))) is kind and type(pickle.loads(pickle.dumps(kind("a")))) is kind,
)
BAD: tuple[Callable[[Any], Any], ...] = (
    lambda kind: kind(),
    lambda kind: kind("a", 1, (), 2),
    lambda kind: kind("a", other=1),
    lambda kind: kind("a")._replace(other=1),
    lambda kind: kind._make(["a"]),
    lambda kind: setattr(kind("a"), "path", "b"),
    lambda kind: setattr(kind("a"), "other", "b"),
)


@pytest.mark.parametrize("number", range(len(SAME)))
def test_what_they_do(number: int) -> None:
    assert SAME[number](Ours) == SAME[number](Theirs)


@pytest.mark.parametrize("number", range(len(BAD)))
def test_what_they_refuse(number: int) -> None:
    with pytest.raises(Exception) as known:
        BAD[number](Theirs)
    with pytest.raises(known.type):
        BAD[number](Ours)


def test_what_a_class_adds() -> None:
    assert Ours("a").after == 4
    assert str(Ours("a")) == "at Ours(path='a', start=3, steps=())"
    assert Empty() == ()


def test_defaults_come_last() -> None:
    with pytest.raises(TypeError):
        type(NamedTuple.__mro_entries__(())[0])("Wrong", (), {"__annotations__": {"a": int, "b": int}, "a": 1})  # type: ignore[attr-defined]


def test_without_the_quick_reader_of_fields_they_are_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not every Python has what CPython's library reads the fields of its own named tuples with."""
    monkeypatch.setitem(sys.modules, "_collections", ModuleType("_collections"))
    known = importlib.util.find_spec("trackplan.record")
    assert known and known.loader
    plain = importlib.util.module_from_spec(known)
    known.loader.exec_module(plain)
    kind = plain.NamedTuple.__mro_entries__(())[0]
    own = {
        "__annotations__": {"path": str, "start": int, "steps": tuple},
        "start": 3,
        "steps": (),
        "__doc__": "A place.",
    }
    slow = type(kind)("Ours", (), own)
    assert isinstance(vars(slow)["path"], property)
    for same in SAME[:-1]:
        assert same(slow) == same(Theirs)
    for bad in BAD:
        with pytest.raises(Exception) as refused:
            bad(Theirs)
        with pytest.raises(refused.type):
            bad(slow)
