"""What the plan tells of each wire: by its own line, or for all of them by `limit bus-size` and the like."""

from __future__ import annotations

from collections.abc import Mapping

from railbond.layout.model import Drop, Layout
from trackplan.quantities import Length, WireSize
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder
from trackplan.typed import TypeVar

Statement = Bus | Feeder
Kind = TypeVar("Kind")


class Changes(NamedTuple):
    """A plan changed in the head: wires of another size, and drops added with their wires' size and length."""

    sizes: Mapping[Statement, WireSize] = {}
    drops: tuple[tuple[Drop, WireSize, float], ...] = ()


NO_CHANGES = Changes()


def size_of(layout: Layout, wire: Statement) -> WireSize | None:
    """The size of a bus run or feeder, where the plan tells it."""
    return wire.size or _said(layout, "bus-size" if isinstance(wire, Bus) else "feeder-size", WireSize)


def length_of(layout: Layout, wire: Statement) -> Length | None:
    """Meters of one leg of a bus run or feeder, where the plan tells it."""
    if wire.length is not None or isinstance(wire, Bus):
        return wire.length
    return _said(layout, "feeder-length", Length)


def _said(layout: Layout, name: str, kind: type[Kind]) -> Kind | None:
    limit = layout.limits.get(name)
    return limit.value if limit and isinstance(limit.value, kind) else None


class Sized(NamedTuple):
    """Whether the plan tells enough of its wires: `unknown` are those whose size or length it does not tell."""

    wires: tuple[Statement, ...]
    unknown: tuple[Statement, ...]

    @property
    def nothing_said(self) -> bool:
        """Whether there are wires, and no size and no length of any of them is told."""
        return 0 < len(self.wires) == len(self.unknown) and not any(one.size or one.length for one in self.wires)


def sized(layout: Layout) -> Sized:
    """Every bus run and feeder that the layout uses, in the plan's order."""
    used: dict[int, Statement] = {id(run.statement): run.statement for run in layout.runs}
    used |= {id(drop.statement): drop.statement for drop in layout.drops}
    wires = tuple(dict.fromkeys(used.values()))
    doubtful = [one for one in wires if not (one.size and one.length)]
    return Sized(wires, tuple(one for one in doubtful if not (size_of(layout, one) and length_of(layout, one))))
