"""The bus runs from supplies to their terminals, and the wires that words such as `P1.red` name."""

from __future__ import annotations

from collections import defaultdict

from trackplan.span import Word
from trackplan.statements import Bus, Statement

from .model import Run, Wire
from .names import Names, begun, listed
from .supplies import LEGS, Legs, make_supplies, unread
from .symbols import SymbolTable

WHAT = "district, block, reverser or bus terminal"


class Terminals:
    """Where wires can be taken from: `legs` names the two of every supply and terminal."""

    def __init__(self, symbols: SymbolTable, names: Names) -> None:
        self.symbols = symbols
        self.names = names
        self.supplies = make_supplies(symbols, names)
        self.terminals: dict[str, Legs] = {name: LEGS for name in names.of(Bus)}
        self.legs = self.terminals | {name: supply.legs for name, supply in self.supplies.items()}
        self._meant: dict[str, str] = {}
        self._wires: dict[str, tuple[Wire, Wire]] = {}
        self.runs = [run for bus in symbols.of(Bus) if (run := self._run(bus))]
        self._name_terminals()

    def wires(self, name: str, crossed: bool = False) -> tuple[Wire, Wire]:
        """The two wires of a supply or terminal, the other way round where they are crossed."""
        both = self._wires.get(name)
        if both is None:
            both = self._wires[name] = Wire(name, 0), Wire(name, 1)
        return both[::-1] if crossed else both

    def pair(self, statement: Statement, word: Word) -> str:
        """The supply or terminal of which both wires are taken; a fault where the word names one leg."""
        name, leg = self.locate(statement, word)
        if leg and self._sure(word, name):
            message = f"both wires are needed here: expected `{self.names.typed(name)}`, without a leg"
            self.names.fault("impossible", statement, word, message)
        return name

    def wire(self, statement: Statement, word: Word) -> Wire | None:
        """The one wire that a word such as `P1.red` names; None, and a fault, where there is none."""
        return self.leg(statement, word, *self.locate(statement, word))

    def leg(self, statement: Statement, word: Word, name: str, leg: str) -> Wire | None:
        """The wire of a supply or terminal that is called `leg`."""
        if leg in self.legs[name]:
            return self.wires(name)[self.legs[name].index(leg)]
        return self._no_such_leg(statement, word, name, leg) if self._sure(word, name) else None

    def locate(self, statement: Statement, word: Word) -> tuple[str, str]:
        """The supply or terminal that a word names, and its leg (empty: both).

        An unknown one is told, and the likeliest takes its place.
        """
        whole = self.names.whole(word)
        if whole in self.legs:
            return whole, ""
        head, dot, leg = word.rpartition(".")
        name = self.names.whole(head if dot else word)
        leg = leg if dot else ""
        if name in self.legs:
            return name, leg
        return self._meant.get(name) or self._guess(statement, word, name, dot + leg), leg

    def _sure(self, word: Word, name: str) -> bool:
        """Whether the word names a supply itself, not one that was taken for it."""
        return name not in self._meant and self.names.whole(word).startswith(name)

    def _guess(self, statement: Statement, word: Word, name: str, tail: str) -> str:
        """What an unknown name is taken for, so that one wrong word is one fault."""
        lost = self.names.silent(name)
        if near := self.names.unknown(statement, word, name, WHAT, self.legs, tail):
            return near
        fixed = [one.name for one in self.supplies.values() if one.kind in ("district", "plug")]
        self._meant[name] = fixed[0] if len(fixed) == 1 and not lost else name
        if self._meant[name] == name:
            self.supplies[name] = unread(name, statement.at, self.symbols, self.names)
            self.legs[name] = self.supplies[name].legs
        return self._meant[name]

    def _no_such_leg(self, statement: Statement, word: Word, name: str, leg: str) -> Wire | None:
        legs, typed = self.legs[name], self.names.typed(name)
        if not leg:
            message = f"`{typed}` has two wires: expected {listed((f'{typed}.{one}' for one in legs), 'or')}"
            self.names.fault("impossible", statement, word, message)
            return None
        near = begun(leg, legs) or self.names.near(leg, legs)
        message = f"`{typed}` has no leg `{leg}`; its legs are {listed(legs)}"
        self.names.misspelled(statement, word, message, f"{name}.{near}" if near else None)
        return Wire(name, legs.index(near)) if near else None

    def _run(self, bus: Bus) -> Run | None:
        source, terminal = self.pair(bus, bus.supply), self.names.whole(bus.terminal)
        if source != terminal:
            return Run(source, terminal, bus.crossed is not None, bus)
        message = f"a bus run cannot end where it starts, at `{bus.terminal}`"
        self.names.fault("impossible", bus, bus.terminal, message)
        self.names.missing.add(terminal)
        return None

    def _name_terminals(self) -> None:
        """Gives each terminal the leg names of the supply that reaches it; one that none reaches is told."""
        beside: defaultdict[str, list[str]] = defaultdict(list)
        for run in self.runs:
            beside[run.source].append(run.terminal)
            beside[run.terminal].append(run.source)
        reached = set(self.supplies)
        self._spread(list(self.supplies), beside, reached)
        for name in self.terminals:
            if name not in reached:
                self._tell_unfed(name)
                reached.add(name)
                self._spread([name], beside, reached)

    def _spread(self, queue: list[str], beside: dict[str, list[str]], reached: set[str]) -> None:
        for name in queue:
            for other in beside[name]:
                if other not in reached:
                    reached.add(other)
                    self.terminals[other] = self.legs[other] = self.legs[name]
                    queue.append(other)

    def _tell_unfed(self, name: str) -> None:
        bus = self.names.defined[name]
        if isinstance(bus, Bus) and not self.names.silent(name):
            wanted = "expected a bus that leads to it from a district, block or reverser"
            self.names.fault("loose-end", bus, bus.terminal, f"nothing feeds `{bus.terminal}`: {wanted}")
