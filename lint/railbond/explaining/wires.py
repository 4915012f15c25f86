"""Slips with wires: drops, bus runs and what they hang on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from railbond.circuit.drops_by import drops_at
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.odd_lines import soldered_twice
from railbond.circuit.polarity import part_of
from railbond.circuit.unused import wires_of_feed
from railbond.fixes.fix_edits import is_fed_besides, is_single, uncrossed
from railbond.fixes.swaps import swap_words
from railbond.fixes.wires_nearby import wires_outwards
from railbond.layout.model import Drop
from railbond.layout.order import by_name
from trackplan.amend import set_word, take_out
from trackplan.span import Span
from trackplan.statements import Feeder

from .meant import by_neighbors, nearer
from .practice import EARLIER
from .slip import HandSlip, one_letter_off

MOST_WIRES = 8
"""Other terminals that a wire may have been meant for, the nearest first."""

IDLE = 16.0
"""How much further off, in steps, another terminal lies where the supply would then feed nothing."""

BARE_TERMINAL = 8.0
"""The same where only its terminal would: nobody puts up a terminal for nothing, but may have put it up for this."""

PARTED = 4.0
"""How much nearer another supply is where a cut parts the drop from one of its own supply on the same segment."""

HAS_WIRES = 1.0
"""How much further off, in steps, other track is to which wires go already."""

BARES = 20.0
"""The same where this track would then have none."""

OTHER = {"left": "right", "right": "left", "stock": "frog", "frog": "stock"}


def feeder_slips(facts: Facts, feeder: Feeder) -> Iterator[HandSlip]:
    """All that may be wrong with one pair of drops, or with one drop."""
    drops = drops_at(facts).get(feeder.at)
    if not drops:
        return
    yield _swapped(facts, feeder)
    yield from _elsewhere(facts, feeder, drops)
    yield from _other_track(facts, feeder, drops)
    if is_fed_besides(facts, feeder):
        yield _off(facts, feeder)


def _swapped(facts: Facts, feeder: Feeder) -> HandSlip:
    target, names = str(feeder.rail), (_owner(feeder.rail),)
    if is_single(feeder):
        words, said = swap_words(facts, (feeder,)), f"the wire to {target} comes from the other leg"
        return HandSlip("swapped", feeder.at, uncrossed(facts, feeder), words, said, names)
    kind = "swapped" if feeder.crossed is None else "uncrossed"
    words, said = f"swap the two wires to {target}", f"the two wires to {target} are swapped"
    return HandSlip(kind, feeder.at, uncrossed(facts, feeder), words, said, names)


def _elsewhere(facts: Facts, feeder: Feeder, drops: list[Drop]) -> Iterator[HandSlip]:
    own, target = drops[0].wire.name, str(feeder.rail)
    idle = IDLE if leaves_idle(facts, feeder.at, own) else BARE_TERMINAL * _is_for_one(facts, feeder.at, own)
    around = by_neighbors(facts, others_around(facts, drops, own), own, feeder.at, {drops[0].piece})
    is_parted = _is_parted(facts, drops[0])
    for far, wire in enumerate(around):
        name = local_name(wire)
        text = f"{name}.{leg_word(facts, wire, drops[0].wire.leg)}" if is_single(feeder) else name
        typed = feeder.supply.rpartition(".")[0] if is_single(feeder) else ""
        typed = typed or str(feeder.supply)
        words = f"move the wire to {target} from {typed} to {name}"
        said = f"the wire to {target} hangs on {typed} in place of {name}"
        edits = (set_word(feeder, feeder.supply, text),)
        near = nearer(facts, drops[0].piece, own, wire) + PARTED * is_parted
        yield HandSlip("terminal", feeder.at, edits, words, said, (_owner(feeder.rail), name), far + idle - near)


def _is_parted(facts: Facts, drop: Drop) -> bool:
    """Whether a cut within its segment lies between drops which are all of one supply: some were meant for another. Not
    beside plain track that is not cut from it: it ends there for no other reason than that the cut belongs there."""
    is_cut = bool(facts.layout.pieces[drop.piece].template.links)
    own = [one for one in facts.layout.drops if is_cut and one.piece == drop.piece]
    behind = {facts.supply_of_wire.get(one.wire.name) for one in own}
    if len(behind) > 1 or len({part_of(facts.wiring, one) for one in own}) < 2:
        return False
    ends = ({one.one.piece, one.other.piece} for one in facts.layout.meetings if not one.gaps)
    return not any(drop.piece in both and _are_plain(facts, both) for both in ends)


def _are_plain(facts: Facts, pieces: set[str]) -> bool:
    return all(facts.layout.pieces[name].template.is_plain for name in pieces)


def leaves_idle(facts: Facts, at: Span, wire: str) -> bool:
    """Whether the supplies behind a wire feed nothing but what one line takes there: who lays on a supply uses it."""
    behind = facts.supply_of_wire.get(wire, frozenset())
    others = (name for name, lines in _hanging(facts).items() if any(line != at for line in lines))
    return not any(behind & facts.supply_of_wire.get(name, frozenset()) for name in others)


def _is_for_one(facts: Facts, at: Span, wire: str) -> bool:
    """Whether nothing hangs on a terminal but what one line takes there."""
    is_used = any(line != at for line in _hanging(facts).get(wire, ()))
    return wire in facts.layout.terminals and not is_used and all(run.source != wire for run in facts.layout.runs)


def _other_track(facts: Facts, feeder: Feeder, drops: list[Drop]) -> Iterator[HandSlip]:
    """The drop on the other rail, or on track whose name is nearly the same."""
    name, dot, rail = feeder.rail.rpartition(".") if is_single(feeder) else (str(feeder.rail), "", "")
    if rail in OTHER:
        yield _resoldered(feeder, f"{name}.{OTHER[rail]}", "rail")
    prefix = drops[0].piece.removesuffix(name.partition(".")[0])
    pieces = facts.layout.pieces
    pool = (one.removeprefix(prefix) for one in pieces if one.startswith(prefix))
    earlier = EARLIER * any(first is feeder for first, _ in soldered_twice(facts))
    for other in (one for one in one_letter_off(name, pool) if pieces[f"{prefix}{one}"].template.is_plain):
        has_its_own = f"{prefix}{other}" in _soldered(facts)
        far = (BARES if len(_soldered(facts)[drops[0].piece]) == 1 else HAS_WIRES) * has_its_own
        yield _resoldered(feeder, f"{other}{dot}{rail}", "letter")._replace(far=far + earlier)


@once
def _soldered(facts: Facts) -> dict[str, set[Span]]:
    """For each piece to which wires go the lines of these."""
    found: dict[str, set[Span]] = {}
    for drop in facts.layout.drops:
        found.setdefault(drop.piece, set()).add(drop.statement.at)
    return found


def _resoldered(feeder: Feeder, rail: str, kind: str) -> HandSlip:
    words = f"solder the wire to {feeder.rail} to {rail} instead"
    said = f"the wire to {feeder.rail} belongs to {rail}"
    names = (_owner(feeder.rail), _owner(rail))
    return HandSlip(kind, feeder.at, (set_word(feeder, feeder.rail, rail),), words, said, names)


def moved_to(feeder: Feeder, rail: str, far: float) -> HandSlip:
    """A drop that was meant for other track, which has none."""
    return _resoldered(feeder, rail, "track")._replace(far=far)


def _off(facts: Facts, feeder: Feeder) -> HandSlip:
    kind = ("lone" if _is_lone(facts, feeder) else "stray") if is_single(feeder) else "off"
    which = "wire" if is_single(feeder) else "pair of wires"
    edit = take_out(facts.sources[feeder.at.path], feeder)
    said = f"the {which} to {feeder.rail} belongs nowhere"
    return HandSlip(kind, feeder.at, (edit,), f"take the {which} to {feeder.rail} off", said, (_owner(feeder.rail),))


def _is_lone(facts: Facts, feeder: Feeder) -> bool:
    """Whether a single wire to plain track has a pair beside it, and no other wire goes to the other rail alone."""
    name = feeder.rail.rpartition(".")[0]
    beside = [drop.statement for drop in facts.layout.drops if drop.statement.at.path == feeder.at.path]
    singles = {str(one.rail) for one in beside if is_single(one)}
    other = f"{name}.{OTHER.get(feeder.rail.rpartition('.')[2], '')}"
    return other not in singles and any(str(one.rail) == name for one in beside)


@once
def _hanging(facts: Facts) -> dict[str, list[Span]]:
    """For each wire on which drops or frogs hang the lines of these."""
    found: dict[str, list[Span]] = {}
    for drop in facts.layout.drops:
        found.setdefault(drop.wire.name, []).append(drop.statement.at)
    for feed in facts.layout.frogs.values():
        for name in wires_of_feed(feed):
            found.setdefault(name, []).append(feed.statement.at)
    return found


def others_around(facts: Facts, drops: Iterable[Drop], own: str) -> list[str]:
    """The wires that might have been meant, the nearest to the drops first, then what feeds nothing, then the rest."""
    parts = [part_of(facts.wiring, drop) for drop in drops]
    return nearest_wires(facts, wires_outwards(facts, parts), own)


def nearest_wires(facts: Facts, around: Iterable[str], own: str) -> list[str]:
    """Wires in the given order, then the others of the same module; not `own`."""
    rest = (name for kind in (facts.layout.terminals, facts.layout.supplies) for name in sorted(kind, key=by_name))
    kept: dict[str, None] = {}
    for wire in chain(around, rest):
        if wire != own and is_beside(wire, own):
            kept[wire] = None
            if len(kept) == MOST_WIRES:
                break
    return list(kept)


def is_beside(wire: str, own: str) -> bool:
    """Whether two names are of the same module."""
    return wire.rpartition(".")[0] == own.rpartition(".")[0]


def local_name(whole: str) -> str:
    """A supply or terminal as its own file calls it."""
    return whole.rpartition(".")[2]


def leg_word(facts: Facts, wire: str, leg: int) -> str:
    """What a wire calls its leg."""
    supply = facts.layout.supplies.get(wire)
    return (supply.legs if supply else facts.layout.terminals[wire])[leg]


def _owner(word: str) -> str:
    return str(word).partition(".")[0]
