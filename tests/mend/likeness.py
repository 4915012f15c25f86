"""How like two plans of the same track are: in what they say, and in what every rail carries in every setting.

Electrically alike, looked at with the oracle's eyes, means that in each setting every turnout's rail and frog, and
every segment's rails at both of its ends and wherever the first plan has a drop, carry the same supplies. Which name
and which leg a reverser has does not matter, since it turns; and of a stretch of track that reversers part from all
the rest, or that meets nothing else, both legs may be exchanged, since no train can tell. Rails are known by
where they lie: a segment that one plan writes from its other end has its left rail on the right there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import TypeGuard

from oracle.brute import Brute, groups
from oracle.plan_model import model
from oracle.rails import Bond, Conductor, Node, Source
from oracle.reversing import guarded
from oracle.track import Cuts
from trackplan.read import read
from trackplan.span import Source as Text
from trackplan.statements import Feeder, Segment, Statement, Turnout

Probe = tuple[Node, str, float]
OTHER_SIDE = {"left": "right", "right": "left"}


def statements(text: str) -> list[Statement]:
    reading = read(Text("plan.trackplan", text))
    assert not reading.broken, reading.broken
    return reading.statements


def said(text: str) -> Counter[tuple[object, ...]]:
    """What a plan says, without order and places."""
    return Counter((type(one).__name__, *one[1:]) for one in statements(text))


def lines_apart(one: str, other: str) -> int:
    """How many statements must be added, taken out or changed to make one plan of the other."""
    mine, theirs = said(one), said(other)
    gone, new = mine - theirs, theirs - mine
    count = 0
    for kind in {what[0] for what in (*gone, *new)}:
        count += max(sum(n for what, n in side.items() if what[0] == kind) for side in (gone, new))
    return count


def _is_segment(one: Statement, name: str) -> TypeGuard[Segment]:
    return isinstance(one, Segment) and one.name == name


class Power:
    """What the probes of a plan carry, setting by setting."""

    def __init__(self, text: str) -> None:
        self.said = statements(text)
        self.cuts = Cuts(self.said)
        self.brute = Brute(model(self.said))

    def probes(self) -> Iterator[Probe]:
        """Both ends of each segment's rails, and the places of its drops."""
        for segment in (one for one in self.said if isinstance(one, Segment)):
            name, length = str(segment.name), float(segment.length)
            middle = length / 2
            drops = [one for one in self.said if isinstance(one, Feeder) and one.rail.split(".")[0] == name]
            places = {0.0, length, *(middle if one.place is None else float(one.place) for one in drops)}
            for side in ("left", "right"):
                yield from (((name, 0), side, place) for place in sorted(places))

    def at(self, probe: Probe) -> list[frozenset[Source]]:
        (name, _), side, place = probe
        return self.carried(self.cuts.rail(name, side, place))

    def as_laid_in(self, other: Power, probe: Probe) -> Probe:
        """A probe of this plan as the other one says it."""
        (name, number), side, place = probe
        mine, theirs = (next(one for one in plan.said if _is_segment(one, name)) for plan in (self, other))
        if (mine.start, mine.finish) != (theirs.finish, theirs.start) or mine.start == mine.finish:
            return probe
        return (name, number), OTHER_SIDE[side], float(mine.length) - place

    def carried(self, conductor: Conductor) -> list[frozenset[Source]]:
        return [walk.potential(conductor) for walk in self.brute.walks]

    def turnout_metal(self) -> list[Conductor]:
        names = {str(one.name) for one in self.said if isinstance(one, Turnout)}
        return [one for one in self.brute.model.conductors if one[0] in names]

    def stretch_of(self) -> dict[Node, Node]:
        """Every node's stretch: what hangs together without a reverser's boundary in between."""
        meetings = self.brute.model.meetings
        nodes = {node for one in meetings for node in (one.one, one.other)}
        joints = [Bond(one.one, one.other) for one in meetings if not guarded(self.brute, one)]
        return groups(nodes, joints)  # type: ignore[arg-type, return-value]

    def node(self, probe: Probe) -> Node:
        (name, _), _, place = probe
        cuts = self.cuts.places(name)
        return name, sum(cut <= place for cut in cuts)


def electrically_alike(one: str, other: str) -> bool:
    """Whether every rail of two plans of the same track carries the same, as this module's first lines say."""
    first, second = Power(one), Power(other)
    stretches = first.stretch_of()
    pairs: dict[Node, list[tuple[frozenset[Source], frozenset[Source]]]] = {}
    for probe in first.probes():
        node = first.node(probe)
        pairs.setdefault(stretches.get(node, node), []).extend(
            zip(first.at(probe), second.at(first.as_laid_in(second, probe)), strict=True)
        )
    for metal in first.turnout_metal():
        node = (metal[0], 0)
        both = zip(first.carried(metal), second.carried(metal), strict=True)
        pairs.setdefault(stretches.get(node, node), []).extend(both)
    return all(alike(own) for own in pairs.values())


def alike(pairs: Iterable[tuple[frozenset[Source], frozenset[Source]]]) -> bool:
    """Whether one stretch carries the same, as it is or with both legs exchanged."""
    pairs = list(pairs)
    return any(all(plain(mine, False) == plain(theirs, turned) for mine, theirs in pairs) for turned in (False, True))


def plain(sources: frozenset[Source], turned: bool) -> frozenset[tuple[str, int, str]]:
    """Sources without the names of reversers, the legs exchanged where `turned`."""
    return frozenset(
        ("" if one.kind == "reverser" else one.supply, one.leg ^ (turned and one.kind != "frog unit"), one.kind)
        for one in sources
    )
