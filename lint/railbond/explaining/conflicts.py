"""Where a fault rests: the lines of which one must be wrong, or beside which something is missing, while it is there.

A short needs its whole path through metal, and two rails of opposite legs the paths from both supplies: any slip that
explains the fault touches that path. So the slips to be tried are those of one path, the shortest, and not of the plan
(conflict sets, as in Reiter 1987).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond, Setting, SupplyLeg
from railbond.circuit.polarity import part_of
from railbond.circuit.questions import Clash
from railbond.circuit.regions import regions
from railbond.circuit.signed_graph import Part
from railbond.findings import Finding
from railbond.layout.model import Meeting
from trackplan.record import NamedTuple
from trackplan.span import Span

MOST_ROLLS = 6
"""Opposed passes whose paths are looked at."""

MOST_CLASHES = 12
"""Shorts, and as many supplies that mingle and systems that meet, whose paths are looked at: those first that are there
however the points stand. One wire that is wrong for good has an effect at every turnout."""


class Conflict(NamedTuple):
    """The lines on which a fault rests, the joints that its path passes, the pieces it runs over, and, where the fault
    is that they have no power, the conductors. `legs` are two conductors that are one metal in every setting, where
    that is the fault."""

    lines: frozenset[Span]
    meetings: tuple[int, ...] = ()
    pieces: tuple[str, ...] = ()
    dead: tuple[int, ...] = ()
    legs: tuple[int, int] | None = None

    @property
    def size(self) -> int:
        """What there is to be tried, roughly."""
        return len(self.lines) + 4 * len(self.meetings) + 20 * bool(self.dead)


def conflicts(facts: Facts) -> list[Conflict]:
    """The conflicts of everything that is electrically wrong, the smallest first; of equal ones, by the pieces' names,
    so that the order of lines has no say."""
    tracer = _Tracer(facts)
    clashes = (clash for kind in (facts.shorts, facts.minglings, facts.aliens) for clash in kind[:MOST_CLASHES])
    found = [tracer.clash(clash) for clash in clashes]
    found += [tracer.opposed(number) for number in range(min(len(facts.opposed), MOST_ROLLS))]
    found += list(_turns(facts))
    found += [_dead(facts, region) for region in regions(facts, dead_rails(facts))]
    return sorted((one for one in found if one), key=lambda one: (one.size, sorted(one.pieces)))


def reasons(facts: Facts, findings: Iterable[Finding]) -> Iterator[Conflict]:
    """The same by what findings say themselves: the lines of their steps, and all that they name."""
    for finding in findings:
        places = [finding.at, *(step.at for step in finding.why if step.at)]
        first, last = min(place.start for place in places), max(place.end for place in places)
        near = (at for at in (one.at for one in facts.statements) if at[1] <= last and first <= at[2])
        lines = frozenset(at for at in near if any(at.holds(place) for place in places))
        pieces = tuple(name for name in finding.names if name in facts.layout.pieces)
        lines |= {facts.layout.pieces[name].statement.at for name in pieces}
        lines |= set(_hanging(facts, finding.names))
        yield Conflict(lines, _meetings_of(facts, pieces[:2]), pieces)


def _hanging(facts: Facts, names: Iterable[str]) -> Iterator[Span]:
    """The runs behind the supplies that are named and from their like, and the drops that hang on one."""
    supplies = facts.layout.supplies
    own = {name for name in names if name in supplies}
    kinds = {supplies[name].kind for name in own}
    for run in facts.layout.runs:
        is_like = run.source in supplies and supplies[run.source].kind in kinds
        if is_like or not own.isdisjoint(facts.supply_of_wire.get(run.source, ())):
            yield run.statement.at
    yield from (drop.statement.at for drop in facts.layout.drops if drop.wire.name in own)


def dead_rails(facts: Facts) -> list[int]:
    """Rails without a source in every setting."""
    return [rail for rail in facts.proof.dead(facts.graph.rails) if rail not in facts.frog_units]


class _Tracer:
    """Finds the paths of faults, and what lies on them."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.between: dict[tuple[str, str], list[int]] = {}
        """Where two pieces meet."""
        for number, (one, other, _, _, _) in enumerate(facts.layout.meetings):
            self.between.setdefault((one[0], other[0]), []).append(number)

    def clash(self, clash: Clash) -> Conflict | None:
        sources = self.facts.graph.sources
        start = next(c for c, source in sources.items() if source == clash.one)
        path = self.facts.witness.path_to(start, clash.other, clash.setting)
        if not path:
            return None
        legs = None if clash.setting else (start, path[-1][1])
        return self._conflict([(start, path)])._replace(legs=legs)

    def opposed(self, number: int) -> Conflict | None:
        """Both paths from the supplies to the two sides of a pass, and the joint or piece that is passed."""
        roll, setting = self.facts.opposed[number]
        pair = next(
            (
                (here, there)
                for here in self.facts.proof.reachable(roll.one)
                for there in self.facts.proof.reachable(roll.other)
                if here.source.opposes(there.source) and here.setting | there.setting <= setting
            ),
            None,
        )
        if pair is None:
            return None
        paths = [self._from(roll.one, pair[0].source, setting), self._from(roll.other, pair[1].source, setting)]
        found = self._conflict([(start, path) for start, path in paths if path is not None])
        passed = () if roll.meeting is None else (roll.meeting,)
        lines = found.lines | ({roll.at} if roll.at else set())
        return found._replace(meetings=tuple(dict.fromkeys((*passed, *found.meetings))), lines=lines)

    def _from(self, rail: int, source: SupplyLeg, setting: Setting) -> tuple[int, list[tuple[Bond, int]] | None]:
        return rail, self.facts.witness.path_to(rail, source, setting)

    def _conflict(self, paths: list[tuple[int, list[tuple[Bond, int]] | None]]) -> Conflict:
        lines, meetings, pieces = set[Span](), dict[int, None](), dict[str, None]()
        for start, path in paths:
            here = start
            for bond, there in path or ():
                if bond.at:
                    lines.add(bond.at)
                if bond.kind == "joint":
                    meetings |= dict.fromkeys(self._joints(bond))
                pieces |= dict.fromkeys(name for name in map(self.facts.piece_of, (here, there)) if name)
                here = there
            lines |= set(self._supply_line(here)) | set(self._supply_line(start))
        lines |= {self.facts.layout.pieces[name].statement.at for name in pieces}
        return Conflict(frozenset(lines), tuple(meetings), tuple(pieces))

    def _joints(self, bond: Bond) -> Iterator[int]:
        """The joints that are uncut between two rails: of an oval of two pieces there may be two."""
        rails, meetings = {bond.one, bond.other}, self.facts.layout.meetings
        one, other = self.facts.piece_of(bond.one), self.facts.piece_of(bond.other)
        for number in sorted({*self.between.get((one, other), ()), *self.between.get((other, one), ())}):
            whole = (side for side in ("left", "right") if side not in meetings[number].gaps)
            if any(rails == {*self.facts.wiring.across(meetings[number], side)} for side in whole):
                yield number

    def _supply_line(self, conductor: int) -> Iterator[Span]:
        source = self.facts.graph.sources.get(conductor)
        supply = self.facts.layout.supplies.get(source.supply) if source else None
        if supply:
            yield supply.statement.at


def _turns(facts: Facts) -> Iterator[Conflict]:
    """Track that turns back on itself: its joints, and all wires that are soldered to it."""
    if not facts.turning.forest.odd:
        return
    numbers = {id(meeting): number for number, meeting in enumerate(facts.layout.meetings)}
    soldered, contacts = _wires_by_part(facts), _contacts_by_piece(facts)
    for cycle in facts.turning.forest.disjoint_odd_cycles():
        parts = {part for seam in cycle for part in (seam.one, seam.other)}
        pieces = tuple(dict.fromkeys(name for name, _ in sorted(parts)))
        lines = {line for part in parts for line in soldered.get(part, ())}
        lines |= {line for name in pieces for line in contacts.get(name, ())}
        meetings = tuple(numbers[id(seam.meeting)] for seam in cycle if seam.meeting)
        yield Conflict(frozenset(lines), meetings, pieces)


def _wires_by_part(facts: Facts) -> Mapping[Part, set[Span]]:
    """For each part of track the lines of the drops that are soldered to it, and of the runs to these."""
    runs, found = defaultdict[str, list[Span]](list), defaultdict[Part, set[Span]](set)
    for run in facts.layout.runs:
        runs[run.terminal].append(run.statement.at)
    for drop in facts.layout.drops:
        found[part_of(facts.wiring, drop)].update((drop.statement.at, *runs.get(drop.wire.name, ())))
    return found


def _contacts_by_piece(facts: Facts) -> Mapping[str, list[Span]]:
    found = defaultdict[str, list[Span]](list)
    for feed in facts.layout.frogs.values():
        found[feed.piece].append(feed.statement.at)
    return found


def _dead(facts: Facts, region: list[int]) -> Conflict:
    """Track without power: the cuts around it, and its own wires, which bring nothing."""
    pieces = tuple(dict.fromkeys(facts.piece_of(one) for one in region))
    meetings = _meetings_of(facts, pieces)
    gaps = {gap.at for number in meetings for gap in facts.layout.meetings[number].gaps.values()}
    inside = {drop.statement.at for drop in facts.layout.drops if drop.piece in pieces}
    works = {one.at for name in pieces for one in facts.layout.pieces[name].work}
    lines = gaps | inside | works | {facts.layout.pieces[name].statement.at for name in pieces}
    return Conflict(frozenset(lines), meetings, pieces, tuple(region))


def _meetings_of(facts: Facts, pieces: Iterable[str]) -> tuple[int, ...]:
    own = set(pieces)
    return tuple(number for number, one in enumerate(facts.layout.meetings) if _touches(one, own))


def _touches(meeting: Meeting, pieces: set[str]) -> bool:
    return meeting.one.piece in pieces or meeting.other.piece in pieces
