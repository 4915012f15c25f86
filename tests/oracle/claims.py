"""Whether what a finding claims of a plan is so, setting by setting, by the oracle's own lists of metal and wires.

Claims come in the tool's words: names of metal (`T1's frog`), legs as the plan writes them, switches and how they
stand. Here they are looked up one by one; power is followed through wires and supplies too, as a short is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property

from trackplan.read import read
from trackplan.span import Source as Text
from trackplan.statements import District, FrogAutomatic, Reverser

from .brute import groups
from .plan_model import model
from .rails import Bond, Conductor, Feed, Setting, Source, drives, holds, opposed
from .reversing import kinds_of, reverses_by_color
from .track import Cuts
from .wires import Wires

Claim = tuple[str, tuple[str, ...], tuple[str, ...], tuple[tuple[str, str], ...]]
WYE = {"left": "through", "right": "diverging"}


class Stand:
    """One setting: what is one metal, wires and supplies among it, and the sources on it."""

    def __init__(self, truth: Truth, setting: Setting, touches: bool = True) -> None:
        self.setting = setting
        plan = truth.model
        nodes = [*plan.conductors, *truth.sources]
        ties = [one for one in plan.bonds if holds(one.when, setting) and (touches or not one.touch)]
        fed = [(one.conductor, one.source) for one in plan.feeds if holds(one.when, setting)]
        wired = [Bond(*pair) for pair in (*fed, *truth.wires)]  # type: ignore[arg-type]
        self.group = groups(nodes, [*ties, *wired])  # type: ignore[arg-type]
        self.on: dict[object, set[Source]] = {}
        for source in truth.sources:
            self.on.setdefault(self.group[source], set()).add(source)

    def sources(self, node: object) -> frozenset[Source]:
        return frozenset(self.on.get(self.group[node], ()))


class Truth:
    """What is so of a plan; `names` are the tool's names of the oracle's conductors."""

    def __init__(self, text: str, names: Mapping[str, Conductor]) -> None:
        statements = read(Text("plan.trackplan", text)).statements
        self.names = names
        self.model = model(statements)
        self.reached = Wires(statements, Cuts(statements))
        self.reversers = {str(one.name) for one in statements if isinstance(one, Reverser)}

    @cached_property
    def sources(self) -> list[Source]:
        wired = (source for found in self.reached.reached.values() for source in found)
        return list(dict.fromkeys([*wired, *(feed.source for feed in self.model.feeds)]))

    @cached_property
    def wires(self) -> list[tuple[Source, Source]]:
        """Sources that wires alone join."""
        found = (sorted(one) for one in self.reached.reached.values())
        return [pair for own in found for pair in zip(own, own[1:], strict=False)]

    @cached_property
    def stands(self) -> list[Stand]:
        return [Stand(self, setting) for setting in self.model.settings()]

    @cached_property
    def untouched(self) -> list[Stand]:
        return [Stand(self, setting, touches=False) for setting in self.model.settings()]

    def false(self, claims: Iterable[Claim]) -> list[Claim]:
        """The claims that are not so."""
        return [one for one in claims if not self.holds(one)]

    def holds(self, claim: Claim) -> bool:
        says, of, legs, positions = claim
        when = frozenset((switch, WYE.get(position, position)) for switch, position in positions)
        stands = [one for one in self.stands if holds(when, one.setting)]
        return bool(stands) and bool(ASKED[says](self, of, legs, stands))

    def leg(self, word: str) -> frozenset[Source]:
        """The sources on a supply's or terminal's leg, or that of an automatic frog unit."""
        if "." not in word:
            units = (one for one in self.sources if one.kind == "frog unit")
            return frozenset(one for one in units if word.endswith(f" {one.supply.split()[0]}"))
        return frozenset(self.reached.reached[self.reached.leg(word)])

    def metal(self, of: Iterable[str]) -> list[Conductor]:
        return [self.names[one] for one in of]


Asked = Callable[[Truth, tuple[str, ...], tuple[str, ...], list[Stand]], bool]


def _carries(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    (metal,), (leg,) = truth.metal(of), legs
    return all(truth.leg(leg) & one.sources(metal) for one in stands)


def _feeds(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    (metal,), (supply,) = truth.metal(of), legs
    return any(source.supply == supply for one in stands for source in one.sources(metal))


def _joined(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    one, other = (next(iter(truth.leg(leg))) for leg in legs)
    return one != other and all(stand.group[one] == stand.group[other] for stand in stands)


def _tied(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    metal = [one for one in of if one in truth.names]
    wires = [truth.leg(one) for one in of if one not in truth.names]
    if len(wires) == 2:
        return wires[0] == wires[1]
    if wires:
        feeds = _feeds_of(truth, truth.names[metal[0]], wires[0])
        return all(any(holds(feed.when, stand.setting) for feed in feeds) for stand in stands)
    pair = set(truth.metal(metal))
    bonds = [bond for bond in truth.model.bonds if {bond.one, bond.other} == pair]
    return all(any(holds(bond.when, stand.setting) for bond in bonds) for stand in stands)


def _feeds_of(truth: Truth, metal: Conductor, wire: frozenset[Source]) -> list[Feed]:
    return [feed for feed in truth.model.feeds if feed.conductor == metal and feed.source in wire]


def _dead(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    return not any(one.sources(metal) for metal in truth.metal(of) for one in stands)


def _touch(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    return all(
        any(one.sources(metal) for one in stands) and not any(one.sources(metal) for one in truth.untouched)
        for metal in truth.metal(of)
    )


def _no_volts(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    left, right = truth.metal(of)
    return not any(drives(one.sources(left), one.sources(right)) for one in stands)


def _opposed(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    one, other = truth.metal(of)
    apart = any(stand.group[one] != stand.group[other] for stand in stands)
    return apart and all(opposed(stand.sources(one), stand.sources(other)) for stand in stands)


def _missed(truth: Truth, of: tuple[str, ...], stands: list[Stand]) -> Iterator[int]:
    """How many turnouts stand against a wheel from one to the other, in each setting; a train may have more ways."""
    pair = set(truth.metal(of))
    ways = [one for one in truth.model.passes if {one.one, one.other} == pair]
    for stand in stands:
        missed = [sum(stand.setting[turnout] != route for turnout, route in way.when) for way in ways]
        yield min(missed, default=-1)


def _rolls(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    return set(_missed(truth, of, stands)) == {0}


def _against(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    return set(_missed(truth, of, stands)) == {1}


def _open(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    closure, stock = truth.metal(of)
    blades = [one for one in truth.model.blades if (one.closure, one.stock) == (closure, stock)]
    return all(any(holds(blade.open, stand.setting) for blade in blades) for stand in stands)


def _turns(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    return _reverses(truth, lambda piece: piece in of, truth.reversers)


def _idle(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    everywhere: Callable[[str], bool] = lambda piece: True  # noqa: E731
    turns_anyway = _reverses(truth, everywhere, truth.reversers)
    return turns_anyway or not _reverses(truth, everywhere, truth.reversers - set(of))


def _unused(truth: Truth, of: tuple[str, ...], legs: tuple[str, ...], stands: list[Stand]) -> bool:
    """No drop, contact or unit hangs on a supply, by whatever runs and terminals, and no district on a booster."""
    powering = {str(one.booster) for one in truth.reached.statements if isinstance(one, District)}
    units = (one.supply for one in truth.reached.statements if isinstance(one, FrogAutomatic))
    feeding = {source.supply for name in units for source in truth.reached.reached[str(name), 0]}
    return not (powering | feeding | {feed.source.supply for feed in truth.model.feeds}) & set(of)


def _reverses(truth: Truth, among: Callable[[str], bool], reversers: set[str]) -> bool:
    """Whether the track of some pieces brings a train back onto its opposite, with only some reversers to part it."""

    def kinds(rails: Iterable[Conductor]) -> frozenset[str]:
        found = {source for stand in truth.stands for rail in rails for source in stand.sources(rail)}
        return kinds_of(found, reversers)

    parts = {frozenset({"reverser"}), frozenset({"fixed"})}
    meetings = [one for one in truth.model.meetings if among(one.one[0]) and among(one.other[0])]
    open_ = [one for one in meetings if not (one.gapped and {kinds(one.rails_one), kinds(one.rails_other)} == parts)]
    return reverses_by_color(open_)


ASKED: dict[str, Asked] = {
    "carries": _carries, "feeds": _feeds, "joined": _joined, "tied": _tied, "dead": _dead, "touch": _touch,
    "no volts": _no_volts, "opposed": _opposed, "rolls": _rolls, "against": _against, "open": _open,
    "turns": _turns, "idle": _idle, "unused": _unused,
}  # fmt: skip
