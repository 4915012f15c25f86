"""What speaks for one terminal or another as the one that a wire was meant for: names, neighbors, what lies idle."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import lru_cache

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.unused import wires_of_feed
from railbond.fixes.wires_nearby import idle_wires, share_a_word
from railbond.layout.model import Drop
from trackplan.span import Span
from trackplan.statements import Feeder, FrogAutomatic, FrogSwitched

from .slip import one_letter_off

LIKE = 3.0
"""How much nearer, in steps, a supply is that feeds all track of nearly the same name, and one that has it in its own;
and how much further off, where the wire hangs on one of the track's name."""

BARE = 3.5
"""How much nearer a terminal is that nothing hangs on: nobody puts one up for nothing."""

BESIDE, NEXT_LINE = 2, 4
"""Votes of track beside, and of a line beside of the same kind, for their terminals: wires are soldered, and written
down, one after the other."""

AT_A_FROG = 3
"""How many times more track beside says of a frog, which has such on all its sides."""

ONE_LETTER = 5
"""Votes of a name that is one letter off: who errs among `A1`, `A2`, `B1` and `B2` mostly has half of it right."""

SAME = 6
"""Votes of another frog of the same piece."""


def nearer(facts: Facts, piece: str, own: str, wire: str) -> float:
    """How many steps nearer a wire to a piece is than by the track alone, that hangs on the wire `own`. A piece that is
    cut within may belong to two supplies, and its name speaks for neither."""
    idle = BARE * (wire in _idle(facts))
    if facts.layout.pieces[piece].template.links:
        return idle
    alike = of_its_like(facts, piece)
    steps = LIKE if alike and facts.supply_of_wire.get(wire) == alike else 0.0
    return idle + steps + LIKE * (_is_named_for(facts, wire, piece) - _is_named_for(facts, own, piece))


@once
def _idle(facts: Facts) -> frozenset[str]:
    """The terminals from which no wire goes anywhere."""
    return frozenset(idle_wires(facts)) & facts.layout.terminals.keys()


def _is_named_for(facts: Facts, wire: str, piece: str) -> bool:
    """Whether a wire or its supply shares a word with a piece, as the block `east` does with `east-main`."""
    return any(share_a_word(name, piece) for name in (wire, *facts.supply_of_wire.get(wire, ())))


def by_neighbors(facts: Facts, wires: Iterable[str], own: str, at: Span, pieces: Iterable[str]) -> list[str]:
    """The wires in their order, but those of one supply by how many wires beside hang on each: of the lines before and
    after, and of the track that meets some pieces; and by a name that is one letter off that of the wire as it is."""
    wires, votes = list(wires), _votes(facts, at, set(pieces))
    votes.update(dict.fromkeys(one_letter_off(own, wires), ONE_LETTER))
    supplies = [facts.supply_of_wire.get(wire) for wire in wires]
    ranked = {
        supply: iter(sorted((one for one, own in zip(wires, supplies, strict=True) if own == supply), key=votes))
        for supply in dict.fromkeys(supplies)
    }
    return [next(ranked[supply]) for supply in supplies]


class _Votes(Counter[str]):
    def __call__(self, wire: str) -> int:
        return -self[wire]


def _votes(facts: Facts, at: Span, pieces: set[str]) -> _Votes:
    own = next((type(one) for one in facts.statements if one[0] == at), Feeder)
    kinds, around = ((Feeder,), BESIDE) if own is Feeder else ((FrogAutomatic, FrogSwitched), BESIDE * AT_A_FROG)
    lines = [one[0] for one in facts.statements if type(one) in kinds]
    place = lines.index(at) if at in lines else -2
    beside = {lines[nth] for nth in (place - 1, place + 1) if 0 <= nth < len(lines)}
    met = ((one.one.piece, one.other.piece) for one in facts.layout.meetings)
    near = {piece for pair in met if pair[0] in pieces or pair[1] in pieces for piece in pair}
    drops = (drop for drop in facts.layout.drops if drop.piece in near or drop.statement.at in beside)
    found = _Votes()
    for drop in {drop.statement.at: drop for drop in drops if drop.statement.at != at}.values():
        found[drop.wire.name] += around * (drop.piece in near) + NEXT_LINE * (drop.statement.at in beside)
    for feed in facts.layout.frogs.values():
        if feed.statement.at != at:
            votes = SAME * (feed.piece in pieces) + NEXT_LINE * (feed.statement.at in beside)
            found.update(dict.fromkeys(wires_of_feed(feed), votes))
    return found


def of_its_like(facts: Facts, piece: str) -> frozenset[str]:
    """The supplies that all other pieces of nearly the same name hang on, `in-1` beside `in-2`, as far as no cut
    in both rails parts them."""
    own = stem(piece)
    if own == piece:
        return frozenset()
    region, drops = _by_stem(facts)
    wires = {drop.wire.name for drop in drops.get((region[piece], own), ()) if drop.piece != piece}
    behind = {facts.supply_of_wire.get(wire, frozenset()) for wire in wires}
    return next(iter(behind)) if len(behind) == 1 else frozenset()


@once
def _by_stem(facts: Facts) -> tuple[dict[str, int], dict[tuple[int, str], list[Drop]]]:
    """For each piece the number of those that hang together with it over joints of which no two rails are cut; and by
    that number and by how their pieces are called, the drops."""
    beside: dict[str, list[str]] = {}
    for meeting in facts.layout.meetings:
        if len(meeting.gaps) < 2:
            beside.setdefault(meeting.one.piece, []).append(meeting.other.piece)
            beside.setdefault(meeting.other.piece, []).append(meeting.one.piece)
    region: dict[str, int] = {}
    for number, piece in enumerate(facts.layout.pieces):
        queue = [] if piece in region else [piece]
        for here in queue:
            if here not in region:
                region[here] = number
                queue += beside.get(here, ())
    drops: dict[tuple[int, str], list[Drop]] = {}
    for drop in facts.layout.drops:
        drops.setdefault((region[drop.piece], stem(drop.piece)), []).append(drop)
    return region, drops


def stem(name: str) -> str:
    """A name without the number at its end."""
    return name.rstrip("0123456789")


def are_kin(one: str, other: str) -> bool:
    """Whether two names go together by how they begin or end: `E1` and `E2`, `rev-s` and `loop-s`, `b11` and `X11`."""
    (tail, own), (tail_, own_) = _tail_and_stem(one), _tail_and_stem(other)
    return bool(tail and tail_ and (tail == tail_ or own == own_))


@lru_cache(4096)
def _tail_and_stem(name: str) -> tuple[str, str]:
    """How a name ends, by a number or a word of its own, and how it begins."""
    _, dash, word = name.rpartition("-")
    if dash and word.replace("_", "x").isalnum():
        return f"-{word}", stem(name)
    last = len(name)
    while last and name[last - 1].isdecimal():
        last -= 1
    return name[last:], stem(name)
