"""The facts of a meet as one layout: its modules side by side, coupled at their edges."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from railbond.circuit.bus_tree import Swap
from railbond.circuit.effort import spend
from railbond.circuit.facts import Facts
from railbond.circuit.polarity import Polarity
from railbond.circuit.proof import Proof
from railbond.circuit.rewire import REWIRED, with_wires
from railbond.circuit.turning import Turning
from railbond.fixes.fix_edits import uncrossed
from railbond.layout.assembly import assemble, speaks_of_modules
from railbond.layout.build import build
from railbond.layout.model import Layout
from railbond.trackwork import expand, template_for
from trackplan.edit import Edit, revise
from trackplan.span import Source, Word
from trackplan.statements import Accept, AnyOrder, Bus, Couple, Module, Statement

from .reading import Meet

MOST_TURNED = 12
"""Buses of a meet that are tried the other way round."""


class ModuleStatements(NamedTuple):
    """The statements of one module, or of the meet itself (its name empty), and what of its lines was not read."""

    name: str
    statements: Sequence[Statement]
    unread: frozenset[str]
    paths: frozenset[str]


class MeetFacts(Facts):
    """A meet's facts. A module that is left out takes its couplings and its buses with it."""

    def __init__(
        self,
        meet: Meet,
        couples: Sequence[Couple] = (),
        origin: MeetFacts | None = None,
        made: tuple[Edit, ...] = (),
        with_fixes: bool = True,
    ) -> None:
        """`origin` are the facts of the meet as it was read, of which the edits `made` make these."""
        self.meet, self.couples = meet, couples
        self.as_scoped: tuple[ModuleStatements, ...] = origin.as_scoped if origin else _scopes(meet, couples)
        self._laid: dict[str, Layout] = origin._laid if origin else {}
        self.scopes = tuple(_revised(scope, made, meet.sources) for scope in self.as_scoped)
        statements = {(type(one), one.at): one for scope in self.scopes for one in scope.statements}
        broken = [*meet.gathered.broken, *meet.broken]
        as_read = origin.as_read if origin else None
        super().__init__(statements.values(), meet.sources, broken, as_read, made, with_fixes)

    def revised(self, edits: Iterable[Edit]) -> MeetFacts:
        """The meet as it would be after the edits, wherever the edited file is used in it."""
        return MeetFacts(self.meet, self.couples, self, (*self.made, *edits), self.with_fixes)

    @cached_property
    def layout(self) -> Layout:
        spend(len(self.statements))
        own, *others = self.scopes
        known = set(self.meet.modules)
        alone = [one for one in own.statements if not isinstance(one, Accept) and not speaks_of_modules(one, known)]
        base = build(alone, template_for, own.unread, expand=expand)
        modules = {scope.name: self._of_module(scope) for scope in others}
        missing = [*own.unread, *(f"{scope.name}.{word}" for scope in others for word in scope.unread)]
        return assemble(base, modules, [one for one in own.statements if self._is_there(one)], missing)

    def _of_module(self, scope: ModuleStatements) -> Layout:
        """A module's layout; one that no edit has changed is laid out once."""
        if not any(scope is one for one in self.as_scoped):
            return _prefixed(scope)
        if scope.name not in self._laid:
            self._laid[scope.name] = _prefixed(scope)
        return self._laid[scope.name]

    @cached_property
    def swaps(self) -> tuple[Swap, ...]:
        """Each module agrees with itself by now: where two do not agree, the bus between them is turned round, if that
        mends it, and no wire of a module."""
        found, turned = Polarity(self.turning).swaps, list[Bus]()
        for bus in self._buses(found)[:MOST_TURNED] if found else ():
            left = Polarity(self._with_turned([*turned, bus])).swaps
            if len(left) < len(found):
                found = left
                turned.append(bus)
        return (*turned, *found)

    def _buses(self, swaps: Sequence[Swap]) -> list[Bus]:
        """The meet's buses, those first that lead to a module of which a wire is the wrong way round."""
        paths = {one.at.path for one in swaps}
        modules = {name for name, gathered in self.meet.modules.items() if paths & gathered.readings.keys()}
        buses = [one for one in self.scopes[0].statements if isinstance(one, Bus)]
        return sorted(buses, key=lambda bus: bus.terminal.partition(".")[0] not in modules)

    def _with_turned(self, buses: list[Bus]) -> Turning:
        """The track with some buses the other way round: nothing but their legs differs."""
        spend(REWIRED * len(self.statements))
        own = set(map(id, buses))
        runs = [run._replace(crossed=run.crossed != (id(run.statement) in own)) for run in self.layout.runs]
        layout = self.layout._replace(runs=runs)
        wiring = with_wires(self.wiring, self.layout, layout)
        if wiring is None:
            return (self.tried(edit for bus in buses for edit in uncrossed(self, bus)) or self).turning
        return Turning(wiring, Proof(wiring.graph, budget=self.budget), self.turning)

    @cached_property
    def _left_out(self) -> frozenset[str]:
        """The modules that were left out."""
        named = (str(one.name) for one in self.scopes[0].statements if isinstance(one, Module))
        return frozenset(named) - self.meet.modules.keys()

    def _is_there(self, statement: Statement) -> bool:
        """Whether a statement names no module that is left out."""
        if isinstance(statement, Accept):
            return statement.everywhere or statement.place.partition(".")[0] not in self._left_out
        words = (part for part in statement if isinstance(part, Word) and "." in part)
        return not self._left_out or not any(word.partition(".")[0] in self._left_out for word in words)


def _revised(scope: ModuleStatements, edits: Iterable[Edit], sources: Mapping[str, Source]) -> ModuleStatements:
    own = [edit for edit in edits if edit.at.path in scope.paths]
    return scope._replace(statements=revise(scope.statements, own, sources)) if own else scope


def _scopes(meet: Meet, couples: Sequence[Couple]) -> tuple[ModuleStatements, ...]:
    """The meet's own statements, and those of each module."""
    return _scope("", meet, couples), *(_scope(name, meet) for name in meet.modules)


def _scope(name: str, meet: Meet, couples: Sequence[Couple] = ()) -> ModuleStatements:
    gathered = meet.modules[name] if name else meet.gathered
    unread = frozenset(
        word
        for one in gathered.broken
        if one.at.path in gathered.sources
        for word in gathered.sources[one.at.path].line_text(gathered.sources[one.at.path].line_of(one.at.start)).split()
    )
    statements = [one for one in (*gathered.statements, *couples) if not isinstance(one, AnyOrder)]
    return ModuleStatements(name, statements, unread, frozenset(gathered.readings))


def _prefixed(scope: ModuleStatements) -> Layout:
    """A module's layout, everything in it called after the module; what it accepts, too."""
    prefix = f"{scope.name}."
    layout = build(scope.statements, template_for, scope.unread, prefix, expand=expand)
    accepted = [
        one._replace(place=Word(prefix + one.place, one.place.start, one.place.end, one.place.lead))
        for one in layout.acceptances
    ]
    return layout._replace(acceptances=accepted)
