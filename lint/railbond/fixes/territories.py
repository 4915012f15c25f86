"""FedStretches of track between cuts, what feeds each, and how one is moved to another supply."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.polarity import part_of
from railbond.circuit.signed_graph import Part, beyond
from railbond.circuit.unused import wires_of_feed
from railbond.findings import Fix
from railbond.layout.model import Drop, FrogFeed, Run, Supply
from railbond.layout.order import by_name
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Bus, Feeder, FrogAutomatic, FrogSwitched

from .wires_nearby import idle_wires, share_a_word


class FedStretch(NamedTuple):
    """Track that hangs together, with all its wires: from one supply only. `track` is the same for stretches that only
    cuts part."""

    supply: str
    track: int
    drops: tuple[Drop, ...]
    feeds: tuple[FrogFeed, ...]

    @property
    def pieces(self) -> tuple[str, ...]:
        """Its fed pieces, in an order in which the order of lines has no say."""
        return tuple(sorted({drop.piece for drop in self.drops}, key=by_name))

    @property
    def at(self) -> Span:
        return self.drops[0].statement.at

    @property
    def words(self) -> str:
        more = f" and {len(self.pieces) - 1} more" if len(self.pieces) > 2 else ""
        return " and ".join(self.pieces[:1] if more else self.pieces[:2]) + more

    def without(self, pieces: Container[str]) -> FedStretch:
        """The same without the drops to some pieces."""
        return self._replace(drops=tuple(drop for drop in self.drops if drop.piece not in pieces))

    def likeness(self, name: str) -> int:
        """How many of its pieces share a word with a supply's name."""
        return sum(share_a_word(piece, name) for piece in self.pieces)

    def lines(self, facts: Facts) -> list[Bus | Feeder | FrogAutomatic | FrogSwitched]:
        """The lines that bring power to it: the runs of terminals that are its own, else its drops and frogs."""
        wires = {drop.wire.name for drop in self.drops} | {name for feed in self.feeds for name in wires_of_feed(feed)}
        if (run := _own_run(facts, self, wires)) is not None:
            return [run.statement] if isinstance(run.statement, Bus) else []
        told = {drop.statement.at: drop.statement for drop in self.drops}
        frogs = [one.statement for one in self.feeds if isinstance(one.statement, FrogAutomatic | FrogSwitched)]
        return [*told.values(), *frogs]


@once
def stretches(facts: Facts) -> list[FedStretch]:
    """All stretches that one supply feeds alone."""
    found: dict[int, list[Drop]] = {}
    where, whole = _numbered(facts, cuts=True), _numbered(facts, cuts=False)
    for drop in facts.layout.drops:
        found.setdefault(where.get(part_of(facts.wiring, drop), -1), []).append(drop)
    frogs: dict[int, dict[str, FrogFeed]] = {}
    parts_of = _parts_of(where)
    for name, one in facts.layout.frogs.items():
        for number in {where[part] for part in parts_of.get(one.piece, ())} if wires_of_feed(one) else ():
            frogs.setdefault(number, {})[name] = one
    result = []
    for number, drops in found.items():
        feeds = tuple(frogs.get(number, {}).values())
        names = {drop.wire.name for drop in drops} | {name for one in feeds for name in wires_of_feed(one)}
        behind = frozenset[str]().union(*(facts.supply_of_wire.get(name, frozenset()) for name in names))
        if len(behind) == 1:
            track = whole.get(part_of(facts.wiring, drops[0]), -1)
            result.append(FedStretch(next(iter(behind)), track, tuple(drops), feeds))
    return result


def _parts_of(parts: Iterable[Part]) -> dict[str, list[Part]]:
    """Some parts of track by their pieces."""
    found: dict[str, list[Part]] = {}
    for part in parts:
        found.setdefault(part[0], []).append(part)
    return found


def rewired_to(facts: Facts, stretch: FedStretch, supply: Supply) -> tuple[Edit, ...]:
    """The wires of a stretch on another supply, or on a terminal of it that nothing hangs on yet."""
    own = next((one for one in idle_wires(facts) if facts.supply_of_wire[one] == {supply.name}), supply.name)
    edits = []
    for line in stretch.lines(facts):
        if isinstance(line, FrogSwitched):
            for word in (line.through, line.diverging):
                if word:
                    edits.append(set_word(line, word, f"{_local(own)}.{word.rpartition('.')[2]}"))
            continue
        name = supply.name if isinstance(line, Bus) else own
        single = isinstance(line, Feeder) and "." in line.supply and "." in line.rail
        edits.append(
            set_word(line, line.supply, f"{_local(name)}.{line.supply.rpartition('.')[2]}" if single else _local(name))
        )
    return tuple(edits)


def likely(facts: Facts, supply: Supply, found: Iterable[FedStretch]) -> list[FedStretch]:
    """The stretches that may have been meant for a supply without use, the likeliest first: of its own name and not
    of that of what feeds them, of few lines, and in the order in which supplies are told; of what is left to a
    district by its blocks, that which is told last."""
    order = {name: place for place, name in enumerate(facts.layout.supplies)}
    blocks = {one.name for one in facts.layout.supplies.values() if supply.name in (one.district, *one.choices)}
    found = list(found)
    by_runs = all(isinstance(line, Bus) for one in found for line in one.lines(facts))

    def far(one: FedStretch) -> tuple[object, ...]:
        later = order[supply.name] > order[one.supply] or one.supply in blocks
        lines = one.lines(facts)
        at = lines[0].at.start if lines and by_runs else one.at.start
        return (
            one.likeness(one.supply) - one.likeness(supply.name),
            len(lines),
            abs(order[supply.name] - order[one.supply]),
            (-at if later else at),
        )

    return sorted(found, key=far)


def moved_to(facts: Facts, supply: Supply, found: Iterable[FedStretch]) -> Iterator[Fix]:
    """Each of some stretches fed from a supply, where that shorts nothing."""
    for one in found:
        edits = rewired_to(facts, one, supply)
        tried = facts.tried(edits)
        if tried and not (tried.shorts or tried.minglings or len(tried.opposed) > len(facts.opposed)):
            yield Fix(f"feed {one.words} from {supply.name} in place of {one.supply}", edits)


def _numbered(facts: Facts, cuts: bool) -> dict[Part, int]:
    """The parts of track by the stretch in which they lie: up to where both rails are cut, or the one that is not
    common; without heed of `cuts` by what a train can come to."""
    parted = any if facts.layout.commons else all
    number: dict[Part, int] = {}
    for start in facts.turning.seams_at:
        queue = [start] if start not in number else []
        number.setdefault(start, len(number))
        for here in queue:
            for seam in facts.turning.seams_at.get(here, ()):
                there = beyond(seam, here)
                if there not in number and not (cuts and parted(seam.gapped)):
                    number[there] = number[here]
                    queue.append(there)
    return number


def _own_run(facts: Facts, stretch: FedStretch, wires: set[str]) -> Run | None:
    """The run to the terminals of a stretch, where it comes from the supply and feeds nothing else."""
    ats = {drop.statement.at for drop in stretch.drops} | {one.statement.at for one in stretch.feeds}
    hanging, behind = _hanging(facts), _behind(facts)
    for run in facts.layout.runs:
        own = behind[run.terminal]
        if wires <= own and all(at in ats for name in own for at in hanging.get(name, ())):
            return run
    return None


@once
def _hanging(facts: Facts) -> dict[str, list[Span]]:
    """The lines of the drops and the fed frogs that hang on each wire."""
    found: dict[str, list[Span]] = {}
    for drop in facts.layout.drops:
        found.setdefault(drop.wire.name, []).append(drop.statement.at)
    for one in facts.layout.frogs.values():
        for name in wires_of_feed(one):
            found.setdefault(name, []).append(one.statement.at)
    return found


@once
def _behind(facts: Facts) -> dict[str, set[str]]:
    """For each terminal at which a run ends those that it feeds, one after the other, itself among them."""
    beyond_it: dict[str, list[str]] = {}
    for run in facts.layout.runs:
        beyond_it.setdefault(run.source, []).append(run.terminal)
    found: dict[str, set[str]] = {}
    for run in facts.layout.runs:
        queue = [run.terminal]
        own = found[run.terminal] = {run.terminal}
        for name in queue:
            new = [one for one in beyond_it.get(name, ()) if one not in own]
            own.update(new)
            queue += new
    return found


def _local(name: str) -> str:
    return name.rpartition(".")[2]
