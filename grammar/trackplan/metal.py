"""The statements about rails as conductors. `statements` says how every statement is made."""

from __future__ import annotations

from .quantities import Current, Number
from .record import NamedTuple
from .span import Span, Word

METALS = ("nickel-silver", "brass", "steel")


class Rails(NamedTuple):
    """The rail of every piece that does not say its own. `metal` is one of METALS."""

    at: Span
    code: Number
    metal: Word | None


class Solder(NamedTuple):
    """A joint whose two joiners are soldered: an end, or a joint's free name."""

    at: Span
    place: Word


class Lamp(NamedTuple):
    """A lamp across the rails of a buffer stop, at the end of track that `end` names: a load, which joins nothing."""

    at: Span
    end: Word
    current: Current
