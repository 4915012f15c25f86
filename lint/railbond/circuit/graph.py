"""The rail graph: conductors, the bonds between them, the passes of wheels, and the sources of power.

It is all that the electrical rules ask. `circuit.wiring` builds it from a layout; a test can write one in five lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from trackplan.record import NamedTuple
from trackplan.span import Span

Literal = tuple[str, str]
"""One switch in one of its positions: `("T1", "diverging")`."""

Setting = frozenset[Literal]
"""Positions of some of the switches; those not named may stand either way."""


def agree(setting: Setting) -> bool:
    """Whether no switch is asked to stand in two positions at once."""
    return len(setting) < 2 or len({switch for switch, _ in setting}) == len(setting)


class Bond(NamedTuple):
    """Two conductors in contact: always, or while a switch stands so.

    Kinds: `build` and `bond` within a piece, `touch` of a blade, `joint` of two pieces, `wire`, and `contact` that
    moves with the points.
    """

    one: int
    other: int
    when: Literal | None = None
    kind: str = "build"
    at: Span | None = None


class Roll(NamedTuple):
    """A wheel rolls from one conductor onto the other while each switch stands in one of its listed positions.

    `meeting` numbers the layout's meeting at which it happens; None inside a piece.
    """

    one: int
    other: int
    needs: tuple[tuple[str, tuple[str, ...]], ...] = ()
    at: Span | None = None
    meeting: int | None = None


class SupplyLeg(NamedTuple):
    """One leg of a supply. A `fixed` supply's leg 0 is the + phase everywhere; a `reverser`'s phase floats; a
    `unit` (automatic frog unit) takes the phase that is wanted and so conflicts with nothing. An `analog` source's
    phase is its `cab`'s direction of travel. `common` names the common rail that the leg is part of."""

    supply: str
    leg: int
    kind: str = "fixed"
    cab: str = ""
    common: str = ""

    def opposes(self, other: SupplyLeg) -> bool:
        """Whether metal from one to the other is a short: both phases, or both legs of one reverser or cab."""
        if self.leg == other.leg or "unit" in (self.kind, other.kind):
            return False
        return self.kind == other.kind == "fixed" or (self.cab or self.supply) == (other.cab or other.supply)

    @property
    def groups(self) -> tuple[str, ...]:
        """What it opposes is the other leg of whatever has one of these: all that is fixed, its own supply or cab."""
        if self.kind == "unit":
            return ()
        own = f"of {self.cab or self.supply}"
        return ("fixed", own) if self.kind == "fixed" else (own,)

    def mingles(self, other: SupplyLeg) -> bool:
        """Whether metal from one to the other joins two supplies that must stay apart."""
        if self.supply == other.supply or "unit" in (self.kind, other.kind) or self.is_alien_to(other):
            return False
        if self.opposes(other) or (self.common and self.common == other.common):
            return False
        return self.leg == other.leg or not {self.kind, other.kind}.isdisjoint(("reverser", "analog"))

    def is_alien_to(self, other: SupplyLeg) -> bool:
        """Whether one is analog and the other digital: those two must never meet."""
        return (self.kind == "analog") != (other.kind == "analog")


class Open(NamedTuple):
    """An open blade: while `when` holds, `closure` stands beside `stock` without touching it."""

    closure: int
    stock: int
    when: Literal
    piece: str


class RailGraph(NamedTuple):
    """Conductors are numbered from 0; `names` tells them to people.

    `rails` are the conductors that a wheel's tread runs on, metal frogs apart, and `frogs` the metal frogs.
    """

    names: list[str]
    bonds: list[Bond]
    rolls: list[Roll]
    sources: dict[int, SupplyLeg]
    blades: list[Open]
    rails: list[int]
    frogs: dict[int, str]
    positions: dict[str, tuple[str, ...]]


def contract(count: int, bonds: Iterable[Bond], metal: Sequence[int] | None = None) -> list[int]:
    """The component of each conductor: what the bonds join that always hold. Where it is known what is one metal, it is
    only asked what wires join of that."""
    if metal is None:
        return joined(count, [(one, other) for one, other, when, _, _ in bonds if when is None])
    return _united([*metal], [(one, other) for one, other, when, kind, _ in bonds if kind == "wire" and when is None])


def one_metal(graph: RailGraph) -> list[int]:
    """For each conductor a number that it shares with all that is one metal with it, wires apart."""
    pairs = [(one, other) for one, other, when, kind, _ in graph.bonds if when is None and kind != "wire"]
    return joined(len(graph.names), pairs)


def joined(count: int, pairs: Iterable[tuple[int, int]]) -> list[int]:
    """For each of so many a number that it shares with what some pairs join: the least of them."""
    return _united(list(range(count)), pairs)


def _united(parent: list[int], pairs: Iterable[tuple[int, int]]) -> list[int]:
    """The same numbers where some were known before (union-find)."""
    for one, other in pairs:
        while parent[one] != one:
            parent[one] = one = parent[parent[one]]
        while parent[other] != other:
            parent[other] = other = parent[parent[other]]
        if one < other:
            parent[other] = one
        elif other < one:
            parent[one] = other
    for conductor, above in enumerate(parent):  # whose own is known by then: it has a lesser number
        parent[conductor] = parent[above]
    return parent
