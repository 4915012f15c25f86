"""The statements of a plan, sorted by kind, each name standing for one of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable

from trackplan.pits import Table
from trackplan.statements import Bus, Module, SpecialWork, Statement, Trackwork
from trackplan.typed import Any, TypeVar, get_args

from .names import Names
from .template import Expansion

Kind = TypeVar("Kind")

PIECES: tuple[type, ...] = get_args(Trackwork)
"""The statements that lay a piece of track."""

SPECIAL: tuple[type, ...] = get_args(SpecialWork)
"""Those of them whose rails are bonded and cut, and whose frogs are fed."""

TABLES: tuple[type, ...] = get_args(Table)
"""Those of them that carry an engine over a pit."""


Expander = Callable[[Statement], Expansion | None]
"""Gives what a statement stands for that lays several pieces; None for any other."""


class SymbolTable:
    """Statements by kind, in the plan's order; those whose name was taken already are told and left out.

    `ends` holds, by whole names, the ends of what stands for several pieces, and which of their ends each is.
    """

    def __init__(self, statements: Iterable[Statement], names: Names, expand: Expander = lambda _: None) -> None:
        self._sorted: defaultdict[type, list[Any]] = defaultdict(list)
        self._every: list[Statement] = []
        self.ends: dict[str, str] = {}
        for statement in statements:
            self._take(statement, names, expand)
        self._sorted[Bus] = [bus for bus in self.of(Bus) if _ends_at_terminal(bus, names)]
        names.missing.update(names.whole(module.name) for module in self.of(Module))

    def _take(self, statement: Statement, names: Names, expand: Expander) -> None:
        name = getattr(statement, "name", None)
        if name is not None and not names.declare(statement, name):
            return
        self._sorted[type(statement)].append(statement)
        self._every.append(statement)
        if name is not None and (expansion := expand(statement)):
            self.ends |= {names.whole(f"{name}.{end}"): names.whole(part) for end, part in expansion.ends.items()}
            for part in expansion.statements:
                self._take(part, names, expand)

    def of(self, kind: type[Kind]) -> list[Kind]:
        """All statements of one kind."""
        return self._sorted[kind]

    def among(self, *symbols: type) -> list[Any]:
        """All statements of several kinds, in the plan's order."""
        kinds = {kind for kind in symbols if self._sorted[kind]}
        if len(kinds) < 2:
            return [statement for kind in kinds for statement in self._sorted[kind]]
        return [statement for statement in self._every if type(statement) in kinds]


def _ends_at_terminal(bus: Bus, names: Names) -> bool:
    """Whether the name at a bus's far end is free, or a terminal's already: a ring ends there twice."""
    first = names.defined.setdefault(names.whole(bus.terminal), bus)
    if isinstance(first, Bus):
        return True
    names.taken(bus, bus.terminal, first, ", and a bus ends at a terminal")
    names.set_aside(bus)
    return False
