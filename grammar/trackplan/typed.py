"""Those words of `typing` that are said at run time too, as plain as that needs them. Type checkers see the true ones.

To load `typing` takes more than half as long as to read and prove a plan of 40 lines, so a start does without it.
"""

from __future__ import annotations

TYPE_CHECKING = False

if TYPE_CHECKING:
    from typing import Any as Any
    from typing import Literal as Literal
    from typing import Protocol as Protocol
    from typing import Self as Self
    from typing import TypeVar as TypeVar
    from typing import cast as cast
    from typing import get_args as get_args
else:
    from types import GenericAlias

    Any = Protocol = Self = object

    class Literal:
        """One of some values."""

        __class_getitem__ = classmethod(GenericAlias)

    def TypeVar(name, *kinds, bound=None):
        """A kind that a function does not name, of these or of this."""
        return name, kinds, bound

    def cast(kind, value):
        """The value, of which the reader knows what it is."""
        return value

    def get_args(kind):
        """The kinds, or the values, of which one is meant."""
        return kind.__args__
