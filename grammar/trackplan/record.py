"""`NamedTuple` as `typing` has it, made in a tenth of the time.

A plan of 40 lines needs more than a hundred kinds of named tuples, and a class of `typing.NamedTuple` compiles its
constructor and every annotation of its fields when it is made: that was a quarter of the whole start. Here the
constructor of each number of fields is compiled once, and annotations are left as they are written.
"""

from __future__ import annotations

from .typed import TYPE_CHECKING, Any, TypeVar, cast

Kind = TypeVar("Kind")

_new: Any = tuple.__new__
new = cast("Callable[[type[Kind], tuple[object, ...]], Kind]", _new)
"""Makes a record of a kind from a tuple of all its fields, as `new(Span, (path, start, end))`, in half the time of its
constructor: for the few places in which thousands are made."""

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import NamedTuple as NamedTuple
else:
    from types import FunctionType

    try:
        from _collections import _tuplegetter as field_at
    except ImportError:  # another Python than CPython
        from operator import itemgetter

        def field_at(index, words):
            """Reads one field."""
            return property(itemgetter(index), doc=words)

    _MADE = (
        lambda _cls, a: new(_cls, (a,)),
        lambda _cls, a, b: new(_cls, (a, b)),
        lambda _cls, a, b, c: new(_cls, (a, b, c)),
        lambda _cls, a, b, c, d: new(_cls, (a, b, c, d)),
        lambda _cls, a, b, c, d, e: new(_cls, (a, b, c, d, e)),
        lambda _cls, a, b, c, d, e, f: new(_cls, (a, b, c, d, e, f)),
        lambda _cls, a, b, c, d, e, f, g: new(_cls, (a, b, c, d, e, f, g)),
        lambda _cls, a, b, c, d, e, f, g, h: new(_cls, (a, b, c, d, e, f, g, h)),
        lambda _cls, a, b, c, d, e, f, g, h, i: new(_cls, (a, b, c, d, e, f, g, h, i)),
        lambda _cls, a, b, c, d, e, f, g, h, i, j: new(_cls, (a, b, c, d, e, f, g, h, i, j)),
        lambda _cls, a, b, c, d, e, f, g, h, i, j, k: new(_cls, (a, b, c, d, e, f, g, h, i, j, k)),
        lambda _cls, a, b, c, d, e, f, g, h, i, j, k, m: new(_cls, (a, b, c, d, e, f, g, h, i, j, k, m)),
        lambda _cls, a, b, c, d, e, f, g, h, i, j, k, m, n: new(_cls, (a, b, c, d, e, f, g, h, i, j, k, m, n)),
    )  # fmt: skip
    """Constructors of one field, of two, and so on; larger ones are compiled when the first of these is made."""
    _CODES = {size: one.__code__ for size, one in enumerate(_MADE, 1)}
    _NEW = {"new": tuple.__new__, "__builtins__": {}, "__name__": __name__}

    def _constructor(fields, defaults):
        """`__new__` with the fields as its parameters."""
        size = len(fields)
        if size not in _CODES:
            names = "".join(f", _{number}" for number in range(size))
            _CODES[size] = eval(f"lambda _cls{names}: new(_cls, ({names[1:]}{',' if size else ''}))", _NEW).__code__
        code = _CODES[size].replace(co_varnames=("_cls", *fields), co_name="__new__", co_qualname="__new__")
        return FunctionType(code, _NEW, "__new__", defaults)

    def _make(cls, values):
        """A tuple of these values."""
        made = tuple.__new__(cls, values)
        if len(made) != len(cls._fields):
            raise TypeError(f"Expected {len(cls._fields)} arguments, got {len(made)}")
        return made

    def _replace(self, /, **changed):
        """The same but for these fields."""
        made = self._make(map(changed.pop, self._fields, self))
        if changed:
            raise ValueError(f"Got unexpected field names: {list(changed)!r}")
        return made

    def _repr(self):
        fields = ", ".join(f"{name}={value!r}" for name, value in zip(self._fields, self, strict=True))
        return f"{type(self).__name__}({fields})"

    def _asdict(self):
        """The values by the names of their fields."""
        return dict(zip(self._fields, self, strict=True))

    def _values(self):
        """What a copy is made of."""
        return tuple(self)

    _METHODS = {
        "__slots__": (),
        "__repr__": _repr,
        "__getnewargs__": _values,
        "_make": classmethod(_make),
        "_replace": _replace,
        "_asdict": _asdict,
    }

    class _Making(type):
        """Makes plain tuples with names of what is written as a class of fields."""

        def __new__(cls, name, bases, own):
            fields = tuple(own.get("__annotations__", ()))
            defaults = {one: own.pop(one) for one in fields if one in own}
            last = fields[len(fields) - len(defaults) :]
            if tuple(defaults) != last:
                raise TypeError(f"{name}: a field without a default follows one with a default")
            own |= {one: field_at(index, "") for index, one in enumerate(fields)}
            own |= {"_fields": fields, "_field_defaults": defaults, "__match_args__": fields}
            own["__new__"] = _constructor(fields, tuple(defaults.values()))
            return type(name, (tuple,), _METHODS | own)

    class _Named:
        def __mro_entries__(self, bases):
            return (_BASE,)

    _BASE = type.__new__(_Making, "NamedTuple", (), {})
    NamedTuple = _Named()
