"""Modules coupled as one layout: their own layouts side by side, joined at their edges and their bus plugs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from railbond.findings import Step
from trackplan.edit import Edit, add_line
from trackplan.span import Word
from trackplan.statements import Accept, Bus, Couple, Gap, Module, Statement, where

from .accepted import acceptances, check_acceptances
from .couplings import Couplings
from .cuts import RAILS
from .model import EndAt, Fault, Layout, Meeting, Run, Supply
from .names import Names, listed
from .template import OTHER_SIDE, Side


def assemble(
    own: Layout, modules: Mapping[str, Layout], statements: Iterable[Statement], missing: Iterable[str]
) -> Layout:
    """The layout of a meet. `own` is what its plan says by itself, `modules` its modules' layouts, the names of each
    beginning with the module's; `statements` are the meet's, of which those that name modules are carried out here, and
    what it accepts. `missing` holds the words of lines that could not be read."""
    meet = _Meet(_merged([own, *modules.values()]), set(modules), missing)
    for statement in statements:
        meet.carry_out(statement)
    return meet.finished()


def speaks_of_modules(statement: Statement, modules: Iterable[str]) -> bool:
    """Whether a statement of a meet names something of a module, and so is none for the meet's own layout."""
    known = set(modules)
    words = (part for part in statement if isinstance(part, Word) and "." in part)
    return isinstance(statement, Module) or any(word.partition(".")[0] in known for word in words)


def _merged(layouts: list[Layout]) -> Layout:
    """Everything of some layouts; what there can be only one of is the first one's that has it."""
    parts: list[Any] = []
    for field in Layout._fields:
        values = [getattr(layout, field) for layout in layouts]
        if isinstance(values[0], dict):
            parts.append({key: one for value in reversed(values) for key, one in value.items()})
        elif isinstance(values[0], list):
            parts.append([one for value in values for one in value])
        else:
            parts.append(next((value for value in values if value is not None), None))
    return Layout(*parts)


class _Meet:
    """The layout of a meet in the making."""

    def __init__(self, layout: Layout, modules: set[str], missing: Iterable[str]) -> None:
        self.layout = layout
        self.modules = modules
        self.names = Names(missing, "")
        edges = {name: edge.end for name, edge in layout.edges.items()}
        self.couplings = Couplings(edges, str, self.names.near)
        self.at_end: dict[EndAt, Meeting] = {}
        self.gaps: list[Gap] = []
        self.plugged: dict[str, str] = {}
        self.lines: list[Couple | Bus] = []
        self.accepted: list[Accept] = []

    def carry_out(self, statement: Statement) -> None:
        if isinstance(statement, Couple | Bus):
            self.lines.append(statement)
        if isinstance(statement, Accept):
            self.accepted.append(statement)
        elif isinstance(statement, Couple):
            if speaks_of_modules(statement, self.modules):
                self.couplings.couple(statement)
        elif isinstance(statement, Bus) and speaks_of_modules(statement, self.modules):
            self._plug(statement)
        elif isinstance(statement, Gap) and speaks_of_modules(statement, self.modules):
            self.gaps.append(statement)
        elif not isinstance(statement, Module) and speaks_of_modules(statement, self.modules):
            message = "this belongs in the module's own plan: a meet couples modules, plugs buses and cuts their joints"
            self.names.fault("impossible", statement, None, message)

    def _plug(self, bus: Bus) -> None:
        """A bus from anything that gives power to a module's bus plug, or to a terminal."""
        layout, known = self.layout, [*self.layout.supplies, *self.layout.terminals]
        source = self._known(bus, bus.supply, known)
        target = str(bus.terminal)
        if target not in known and target.partition(".")[0] in self.modules:
            target = self._known(bus, bus.terminal, known) or ""
        if not source or not target:
            return
        supply = layout.supplies.get(target)
        if supply and supply.kind == "plug":
            del layout.supplies[target]
            self.plugged[target] = source
            layout.terminals[target] = supply.legs
        elif supply:
            message = f"`{target}` is a {supply.kind}, which has power of its own: expected a module's bus plug"
            why = (Step(where(supply.statement), "it is this"),)
            self.names.fault("impossible", bus, bus.terminal, message, why=why)
            return
        elif target not in layout.terminals:
            layout.terminals[target] = layout.legs_of(source)
        layout.runs.append(Run(source, target, bus.crossed is not None, bus))

    def _known(self, bus: Bus, word: Word, known: list[str]) -> str | None:
        if word in known:
            return str(word)
        module = f"{word.partition('.')[0]}."
        own = [name for name in known if name.startswith(module)]
        near = self.names.near(word, own or known)
        self.names.misspelled(bus, word, f"no supply, bus plug or terminal is called `{word}`", near)
        return near

    def finished(self) -> Layout:
        layout = self.layout
        layout.meetings.extend(self.couplings.meetings)
        for meeting in self.couplings.meetings:
            self.at_end[meeting.one] = self.at_end[meeting.other] = meeting
        for gap in self.gaps:
            self._cut(gap)
        self._tell_unplugged()
        of_parts = [one for one in self.accepted if one.place not in self.modules]
        check_acceptances(of_parts, self.names, layout.acceptable)
        layout.acceptances.extend(acceptances(self.accepted))
        layout.faults.extend([*self.couplings.faults, *self.names.faults])
        supplies = {name: self._rooted(one) for name, one in layout.supplies.items()}
        return layout._replace(supplies=supplies)

    def _cut(self, gap: Gap) -> None:
        """A cut where two modules are coupled: its place is an endplate, left and right along the arrow there."""
        edge = self.layout.edges.get(str(gap.place))
        meeting = self.at_end.get(edge.end) if edge and edge.end else None
        if meeting is None or edge is None or edge.end is None or gap.rail not in RAILS:
            coupled = [name for name, one in self.layout.edges.items() if one.end in self.at_end]
            wanted = f"expected one of {listed(coupled, 'or')}" if coupled else "nothing is coupled yet"
            message = f"a meet cuts rails only where modules are coupled, and `{gap.place}` is no such place: {wanted}"
            self.names.fault("impossible", gap, gap.place, message)
            return
        leaves = self.layout.pieces[edge.end.piece].template.ends[edge.end.end].leaves
        flip = leaves == (edge.end == meeting.one)
        for side in RAILS[gap.rail]:
            seen: Side = side if flip or gap.rail == "both rails" else OTHER_SIDE[side]
            meeting.gaps.setdefault(seen, gap)

    def _tell_unplugged(self) -> None:
        """Tells every module's bus plug that no bus of the meet reaches; what it feeds is not told as dead besides."""
        district = next((name for name, one in self.layout.supplies.items() if one.kind == "district"), None)
        for name, supply in list(self.layout.supplies.items()):
            module = name.partition(".")[0]
            if supply.kind == "plug" and module in self.modules:
                line = f"`bus main -> {name}`"
                message = f"nothing feeds the bus plug `{name}`: expected a line such as {line} in the meet"
                at = where(supply.statement)
                edits = self._plugged_in(name)
                mend = f"plug it in: {edits[0].text}" if edits else ""
                self.layout.faults.append(Fault("loose-end", at, message, (name, module), mend, edits))
                if district:
                    del self.layout.supplies[name]
                    self.layout.terminals[name] = supply.legs
                    self.plugged[name] = district
                    like = next((one for one in reversed(self.lines) if isinstance(one, Bus)), None)
                    bus = Bus(at, Word(district), Word(name), like and like.length, like and like.size, None)
                    self.layout.runs.append(Run(district, name, False, bus))

    def _plugged_in(self, plug: str) -> tuple[Edit, ...]:
        """A bus to a plug, as the meet's other buses are: from that terminal of its own that the fewest leave;
        else from the last one of a module that is coupled to its own. Nothing where there is none."""
        module = plug.partition(".")[0]
        pairs = [(one.one.piece, one.other.piece) for one in self.couplings.meetings]
        modules = [tuple(name.partition(".")[0] for name in pair) for pair in pairs]
        near = [two if one == module else one for one, two in modules if module in (one, two)]
        terminals = (name for name in self.layout.terminals if name not in self.plugged)
        buses = [one for one in self.lines if isinstance(one, Bus)]
        own = [str(one.terminal) for one in buses if one.terminal.partition(".")[0] not in self.modules]
        sources = [name for name in terminals if name.partition(".")[0] in near]
        sources = sources if not own else sorted(own, key=lambda name: sum(name == one.supply for one in buses))[:1]
        if not sources or not self.lines:
            return ()
        like = "".join(f"  {one.text}" for one in (buses[-1].length, buses[-1].size) if one) if buses else ""
        return (add_line((buses or self.lines)[-1].at, f"bus {sources[-1]} -> {plug}{like}"),)

    def _rooted(self, supply: Supply) -> Supply:
        """A block or reverser behind a bus plug belongs to the district that feeds the plug."""
        name, seen = supply.district or "", set[str]()
        if name not in self.plugged:
            return supply
        source = {run.terminal: run.source for run in reversed(self.layout.runs)}
        while name in source and name not in seen:
            seen.add(name)
            name = source[name]
        root = self.layout.supplies.get(name)
        return supply._replace(district=root.district, booster=root.booster) if root else supply
