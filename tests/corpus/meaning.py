"""Whether two texts of one layout mean the same: in what they say, or in what every rail carries in every setting.

Rails are compared where they lie, so a segment that is written the other way round is turned back first. Which
reverser feeds a section, and which way round, does not matter, since it turns. A frog that an automatic unit feeds
carries what a contact would bring.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting, SupplyLeg
from railbond.doorway import enter
from trackplan.read import read
from trackplan.span import Source as Text
from trackplan.statements import Segment

Texts = Mapping[str, str]
Ways = frozenset[tuple[SupplyLeg, Setting]]
Place = tuple[str, ...]


class Carried(NamedTuple):
    """What each place of the track carries. Along a segment's rail: stretches, each with its beginning in meters."""

    metals: dict[Place, Ways]
    rails: dict[Place, list[tuple[float, Ways]]]
    ends: dict[str, tuple[str, str, float]]


def said(texts: Texts) -> Counter[tuple[object, ...]]:
    """All that the files say, without order and places."""
    read_texts = ((file, read(Text(file, text))) for file, text in texts.items())
    return Counter((file, type(one).__name__, *one[1:]) for file, reading in read_texts for one in reading.statements)


def same(root: str, sound: Texts, other: Texts, faulty: Texts) -> bool:
    """Whether a mended text means what the sound one does. Where the slip did not change what any rail carries, as with
    a number, only the sound text's own words will do."""
    if said(sound) == said(other):
        return True
    want = carried(root, sound)
    return not alike(want, carried(root, faulty)) and alike(want, carried(root, other))


def facts_of(root: str, texts: Texts) -> Facts:
    """The facts of a plan, or of a meet with its modules."""

    def open_text(path: str) -> str:
        if path not in texts:
            raise FileNotFoundError(path)
        return texts[path]

    return enter(root, open_text).facts


def carried(root: str, texts: Texts) -> Carried:
    """What every metal of a layout carries."""
    facts = facts_of(root, texts)
    found = Carried({}, {}, {})
    for name, piece in facts.layout.pieces.items():
        first = facts.wiring.first[name]
        for index, metal in enumerate(piece.template.metals):
            ways = frozenset((one.source, one.setting) for one in facts.proof.reachable(first + index))
            if isinstance(piece.statement, Segment):
                along = found.rails.setdefault((name, metal.words), [])
                if not along or along[-1][1] != ways:
                    along.append((round(metal.start, 4), ways))
            else:
                found.metals[name, metal.words] = ways
        if isinstance(piece.statement, Segment):
            found.ends[name] = str(piece.statement.start), str(piece.statement.finish), float(piece.statement.length)
    return found


def alike(one: Carried, other: Carried) -> bool:
    """Whether every rail carries the same, each reverser one way round."""
    if one.metals.keys() != other.metals.keys() or one.ends.keys() != other.ends.keys():
        return False
    if any(one.ends[name][2] != other.ends[name][2] for name in one.ends):
        return False
    pairs = [(ways, other.metals[place]) for place, ways in one.metals.items()]
    for (name, words), along in one.rails.items():
        turned = one.ends[name][:2] == other.ends[name][1::-1] != one.ends[name][1::-1]
        theirs = _turned_rail(other, name, words) if turned else other.rails[name, words]
        if [at for at, _ in along] != [at for at, _ in theirs]:
            return False
        pairs += [(mine, far) for (_, mine), (_, far) in zip(along, theirs, strict=True)]
    return all(_paired(mine, theirs, reversed_) for reversed_ in [_turned_reversers(pairs)] for mine, theirs in pairs)


def _turned_rail(carried: Carried, name: str, words: str) -> list[tuple[float, Ways]]:
    """The stretches of the rail on the other side, counted from the other end."""
    side = "right rail" if words == "left rail" else "left rail"
    along, length = carried.rails[name, side], carried.ends[name][2]
    stops = [at for at, _ in along[1:]] + [length]
    return [(round(length - stop, 4), ways) for stop, (_, ways) in zip(stops, along, strict=True)][::-1]


def _turned_reversers(pairs: Iterable[tuple[Ways, Ways]]) -> set[str]:
    """The reversers of the first plan whose legs stand the other way round in the second, by the first rail of each."""
    seen: dict[str, bool] = {}
    for mine, theirs in pairs:
        ours = {source for source, _ in mine if source.kind == "reverser"}
        far = {source for source, _ in theirs if source.kind == "reverser"}
        if len(ours) == len(far) == 1:
            (one,), (other,) = ours, far
            seen.setdefault(one.supply, one.leg != other.leg)
    return {name for name, turned in seen.items() if turned}


def _paired(mine: Ways, theirs: Ways, turned: set[str]) -> bool:
    if any(ways and all(source.kind == "unit" for source, _ in ways) for ways in (mine, theirs)):
        return bool(mine) == bool(theirs)
    return {_plain(one, turned) for one in mine} == {_plain(one, set()) for one in theirs}


def _plain(way: tuple[SupplyLeg, Setting], turned: set[str]) -> tuple[object, ...]:
    source, setting = way
    name = "" if source.kind == "reverser" else source.supply
    return name, source.leg ^ (source.supply in turned), source.kind, source.cab, setting
