"""Questions that begin with "is there a setting in which", asked of a proof."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import chain, combinations, product

from trackplan.record import NamedTuple

from .across import Needs, across, choices
from .graph import Roll, Setting, SupplyLeg, agree
from .proof import Proof, Reachable


class Clash(NamedTuple):
    """Two sources that meet on one conductor, in a setting (empty: in every one)."""

    conductor: int
    one: SupplyLeg
    other: SupplyLeg
    setting: Setting


def shorts(proof: Proof) -> list[Clash]:
    """Where both phases meet through metal: one clash for each component or island, in its least setting."""
    return _clashes(proof, SupplyLeg.opposes)


def minglings(proof: Proof) -> list[Clash]:
    """Where two supplies that must stay apart meet through metal, one clash for each component or island. Two that meet
    only by way of a leg of the other phase need not be among them: that short is told, and parts them when mended."""
    return _clashes(proof, SupplyLeg.mingles)


def aliens(proof: Proof) -> list[Clash]:
    """Where an analog and a digital supply meet through metal, one clash for each component or island."""
    is_analog = {source.kind == "analog" for source in proof.graph.sources.values()}
    return _clashes(proof, SupplyLeg.is_alien_to) if len(is_analog) == 2 else []


def opposed(proof: Proof, one: int, other: int, needs: Needs = ()) -> Setting | None:
    """The least setting, with the switches as `needs` asks, in which two conductors carry opposite phases."""
    is_one = proof.component[one] == proof.component[other]
    return None if is_one else across(proof, one, other, SupplyLeg.opposes, needs)


def touch_may_feed(proof: Proof) -> bool:
    """Whether a blade touches metal without a source of its own, or always touches some: where none does, whatever is
    fed comes to a source by a way without a touch."""
    own, component = proof.sources.keys(), proof.component
    touches = (one for one in proof.graph.bonds if one.kind == "touch")
    return not all(one.when and {component[one.one], component[one.other]} <= own for one in touches)


def opposed_passes(proof: Proof, before: Sequence[tuple[Roll, Setting]] = ()) -> Iterator[tuple[Roll, Setting]]:
    """Every pass along a route that is set which goes from one phase to the other, in its least setting. `before` are
    those of the proof that is known from before."""
    component, rolls, known = proof.component, proof.graph.rolls, proof.before
    if known and proof.changed is not None and known.graph.rolls is rolls:
        own, same = {id(one[0]) for one in before}, proof.is_as_before
        rolls = [one for one in rolls if id(one) in own or not (same(one.one) and same(one.other))]
    for roll in rolls:
        if component[roll.one] != component[roll.other]:
            setting = across(proof, roll.one, roll.other, SupplyLeg.opposes, roll.needs)
            if setting is not None:
                yield roll, setting


def against(proof: Proof, roll: Roll) -> Setting | None:
    """The same for a train that meets exactly one switch of the roll set against it."""
    for switch, good in roll.needs:
        bad = tuple(p for p in proof.graph.positions.get(switch, ()) if p not in good)
        needs = tuple((s, bad if s == switch else p) for s, p in roll.needs)
        if bad and (setting := opposed(proof, roll.one, roll.other, needs)) is not None:
            return setting
    return None


def against_reverser(proof: Proof, left: Roll, right: Roll) -> Setting | None:
    """The least setting, with one switch of a meeting against the train, in which no polarity of a reverser suits both
    rails: the two rolls of a meeting lead from fixed supply into its section, and ask it for opposite polarities."""
    for switch, good in left.needs:
        bad = tuple(p for p in proof.graph.positions.get(switch, ()) if p not in good)
        needs = tuple((s, bad if s == switch else p) for s, p in left.needs)
        stands = choices(needs) if bad else []
        found = (
            setting
            for one_turned, one in _asks(proof, left)
            for other_turned, other in _asks(proof, right)
            if one_turned != other_turned
            for choice in stands
            if agree(setting := one | other | choice)
        )
        if (least := min(found, key=len, default=None)) is not None:
            return least
    return None


def avoiding(proof: Proof, setting: Setting, barred: Sequence[Setting]) -> Setting | None:
    """A setting in which all of one holds and none of the `barred` ones does; None where there is none."""
    if any(bar <= setting for bar in barred):
        return None
    bar = next((bar for bar in barred if agree(bar | setting)), None)
    if bar is None:
        return setting
    for switch, stands in sorted(bar - setting):
        for other in proof.graph.positions.get(switch, ()):
            if other != stands and (found := avoiding(proof, setting | {(switch, other)}, barred)) is not None:
                return found
    return None


def _asks(proof: Proof, roll: Roll) -> list[tuple[bool, Setting]]:
    """What a wheel on one rail asks of a reverser beyond a gap: whether its first leg must be the - phase.

    A rail that is shorted as it is asks for nothing.
    """
    if _is_shorted(proof, roll.one) or _is_shorted(proof, roll.other):
        return []
    return [
        (here.source.leg != there.source.leg, both)
        for here in proof.reachable(roll.one)
        for there in proof.reachable(roll.other)
        if {here.source.kind, there.source.kind} == {"fixed", "reverser"}
        and agree(both := here.setting | there.setting)
    ]


def _is_shorted(proof: Proof, conductor: int) -> bool:
    ways = combinations(proof.reachable(conductor), 2)
    return any(one.source.opposes(other.source) and agree(one.setting | other.setting) for one, other in ways)


def _clashes(proof: Proof, bad: Callable[[SupplyLeg, SupplyLeg], bool]) -> list[Clash]:
    """At most one clash a component; those that hold in every setting first."""
    found: dict[int, Clash] = {}
    quiet = set[tuple[SupplyLeg, ...]]()
    """Sources that may all meet: of the frogs of a district it is asked once."""
    for component in proof.components():
        ways = proof.reachable_of(component)
        if _may_meet(ways) and (sources := tuple([way.source for way in ways])) not in quiet:
            if not any(bad(*pair) for pair in combinations(sources, 2)):
                quiet.add(sources)
            else:
                _keep(found, component, ways, (), bad)
        if component in proof.sources and component not in found:
            for there, setting in proof.ties.get(component, ()):
                if there in proof.sources:
                    far = [Reachable(source, setting) for source in proof.sources[there]]
                    if any(bad(one.source, other.source) for one, other in combinations((*ways, *far), 2)):
                        _keep(found, component, ways, far, bad)
    return sorted(found.values(), key=lambda clash: len(clash.setting))


def _may_meet(ways: Sequence[Reachable]) -> bool:
    """Whether two of these may be there in one setting, as what a frog's two contacts bring may not."""
    return len(ways) > 2 or (len(ways) == 2 and agree(ways[0].setting | ways[1].setting))


def _keep(
    found: dict[int, Clash],
    component: int,
    ways: Sequence[Reachable],
    far: Sequence[Reachable],
    bad: Callable[[SupplyLeg, SupplyLeg], bool],
) -> None:
    """Keeps the first pair that clashes in the least setting, where that is less than what is known: of the ways into
    a component, or with some that come from afar, when those among the ways are known. Sources are few, the ways from
    them many."""
    best, clashing = found.get(component), dict[tuple[SupplyLeg, SupplyLeg], bool]()
    shortest = min(len(way.setting) for way in (*ways, *far))
    for here, there in chain(product(ways, far), combinations(far or ways, 2)):
        if best and len(best.setting) <= shortest:
            break  # whatever is left has as many switches
        pair = here.source, there.source
        if pair not in clashing:
            clashing[pair] = bad(*pair)
        if clashing[pair]:
            setting = here.setting | there.setting
            if (best is None or len(setting) < len(best.setting)) and agree(setting):
                best = found[component] = Clash(component, here.source, there.source, setting)
