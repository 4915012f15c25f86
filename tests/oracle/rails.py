"""What the oracle knows of a plan: named lengths of metal, and what joins, feeds and is rolled over.

Everything here is a plain list of facts in which conductors are readable tuples: `("west", "left", 1)` is the
left rail (seen along the arrow) of the segment west after its first cut, `("T1", "through frog rail")` a
turnout's rail, `("T1", "frog")` its metal frog. A wye's left route is called through, its right diverging.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import NamedTuple

Stretch = tuple[str, str, int]
Conductor = tuple[str, str] | Stretch
Node = tuple[str, int]
"""A piece of track, as reversing sees it: a turnout, or a stretch of a segment between two cut places."""

Setting = dict[str, str]
"""Every turnout's route, `through` or `diverging`."""

Condition = frozenset[tuple[str, str]]
"""Turnouts and the routes they must be set to, all of them. Empty: always."""

ALWAYS: Condition = frozenset()
ROUTES = ("through", "diverging")


class Source(NamedTuple):
    """One leg of a supply. `kind`: fixed, reverser or frog unit; only a fixed one has a phase, + or -."""

    supply: str
    leg: int
    kind: str

    @property
    def phase(self) -> str:
        return "+-"[self.leg] if self.kind == "fixed" else ""


class Bond(NamedTuple):
    """Two conductors that are one while `when` holds; `touch`: only by a blade against its stock rail."""

    one: Conductor
    other: Conductor
    when: Condition = ALWAYS
    touch: bool = False


class Feed(NamedTuple):
    """A source that reaches a conductor by wire alone while `when` holds."""

    conductor: Conductor
    source: Source
    when: Condition = ALWAYS


class Pass(NamedTuple):
    """A wheel rolls from one conductor to the other when the route is set. `kind`: joint, cut or frog."""

    one: Conductor
    other: Conductor
    when: Condition
    kind: str


class Blade(NamedTuple):
    """A closure rail's blade, the stock rail it lies beside, and the condition in which it stands open."""

    closure: Conductor
    stock: Conductor
    open: Condition


class Meeting(NamedTuple):
    """Two pieces that meet: `turns` where the looking directions disagree, `gapped` where both rails are cut.

    `rails_one` and `rails_other` are the two rails on each side of the meeting.
    """

    one: Node
    other: Node
    turns: bool
    gapped: bool
    rails_one: tuple[Conductor, Conductor]
    rails_other: tuple[Conductor, Conductor]


class Model(NamedTuple):
    """A whole plan as the oracle sees it."""

    turnouts: tuple[str, ...]
    rails: tuple[Conductor, ...]
    frogs: tuple[Conductor, ...]
    bonds: tuple[Bond, ...]
    feeds: tuple[Feed, ...]
    passes: tuple[Pass, ...]
    blades: tuple[Blade, ...]
    meetings: tuple[Meeting, ...]

    @property
    def conductors(self) -> tuple[Conductor, ...]:
        return self.rails + self.frogs

    @property
    def pairs(self) -> frozenset[tuple[Conductor, Conductor]]:
        """The two rails on either side of each meeting."""
        return frozenset(pair for one in self.meetings for pair in (one.rails_one, one.rails_other))

    def settings(self) -> Iterator[Setting]:
        """All 2^n of them."""
        for routes in product(ROUTES, repeat=len(self.turnouts)):
            yield dict(zip(self.turnouts, routes, strict=True))


def holds(when: Condition, setting: Setting) -> bool:
    return all(setting[turnout] == route for turnout, route in when)


def opposed(one: frozenset[Source], other: frozenset[Source]) -> bool:
    """Whether a wheel from one to the other shorts two phases, or the two legs of one reverser."""
    return any(conflict(mine, theirs) for mine in one for theirs in other)


def drives(one: frozenset[Source], other: frozenset[Source]) -> bool:
    """Whether an engine with a wheel on each of two rails has volts."""
    return any(drive(mine, theirs) for mine in one for theirs in other)


def drive(one: Source, other: Source) -> bool:
    """Whether two sources make a circuit. A unit and a reverser turn to whatever is asked of them."""
    if "frog unit" in (one.kind, other.kind):
        return True
    return conflict(one, other) or ("reverser" in (one.kind, other.kind) and one.supply != other.supply)


def conflict(one: Source, other: Source) -> bool:
    if one.phase and other.phase:
        return one.phase != other.phase
    return one.kind == other.kind == "reverser" and one.supply == other.supply and one.leg != other.leg


def mixed(one: Source, other: Source) -> bool:
    """Whether two sources are two supplies that ought never to meet, without being opposite phases."""
    if "frog unit" in (one.kind, other.kind) or one.supply == other.supply:
        return False
    return "reverser" in (one.kind, other.kind) or one.leg == other.leg
