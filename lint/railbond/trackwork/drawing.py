"""Draws a template rail by rail, with the rails called by their names instead of numbers."""

from __future__ import annotations

from collections.abc import Mapping

from railbond.layout.template import Blade, End, Frog, Metal, Pass, Side, Template, Tie
from trackplan.typed import Literal

When = str | tuple[str, ...] | None
"""A position, several of them, or always."""


class Drawing:
    """A template in the making. Every rail is named before anything is tied to it."""

    def __init__(self, *positions: str, parts: int = 1, aligned: bool = False) -> None:
        self.positions = positions
        self.parts = parts
        self.aligned = aligned
        self.metals: dict[str, Metal] = {}
        self.ties: list[Tie] = []
        self.passes: list[Pass] = []
        self.ends: dict[str, End] = {}
        self.blades: list[Blade] = []
        self.frogs: list[Frog] = []

    def rails(self, *names: str) -> None:
        self.metals |= {name: Metal(name) for name in names}

    def frog(
        self, name: str, wants: Mapping[str, str], rails: Mapping[str, str], legs: Mapping[str, int] | None = None
    ) -> None:
        """A metal frog: the rail whose polarity it wants, its frog rail, and the wire of its contacts (0 the one after
        `through`, 1 the one after `diverging`; unless said, in the order of the positions) in each position."""
        self.metals[name] = Metal(name, frog=True)
        at = self.at
        wanted, behind = ({p: at(r) for p, r in rail.items()} for rail in (wants, rails))
        order = {position: leg for leg, position in enumerate(self.positions)}
        self.frogs.append(Frog(at(name), wanted, behind, dict(order if legs is None else legs)))

    def at(self, name: str) -> int:
        return list(self.metals).index(name)

    def tie(self, *names: str, kind: Literal["build", "bond", "touch"] = "build", when: When = None) -> None:
        """Ties each of the named metals to the next."""
        for one, other in zip(names, names[1:], strict=False):
            self.ties += [Tie(self.at(one), self.at(other), position, kind) for position in each(when)]

    def rolls(self, route: When, *names: str) -> None:
        """A wheel on that route rolls from each of the named metals onto the next."""
        for one, other in zip(names, names[1:], strict=False):
            self.passes += [Pass(self.at(one), self.at(other), position) for position in each(route)]

    def blade(self, closure: str, stock: str, touches: When, opens: When) -> None:
        """A blade that touches a rail in some positions and stands open beside it, a flange between them, in others."""
        self.tie(closure, stock, kind="touch", when=touches)
        self.blades += [Blade(self.at(closure), self.at(stock), position or "") for position in each(opens)]

    def end(
        self,
        name: str,
        left: str,
        right: str,
        leaves: bool,
        route: When = (),
        rails: Mapping[str, Side] | None = None,
        part: int = 0,
    ) -> None:
        """An end, its rails looking outwards; `route` is the position in which a train passes it (all unless said)."""
        routes = tuple(position for position in each(route) if position)
        self.ends[name] = End(self.at(left), self.at(right), leaves, routes, rails or {}, part)

    def template(self) -> Template:
        return Template(
            tuple(self.metals.values()),
            tuple(self.ties),
            tuple(self.passes),
            self.ends,
            self.positions,
            tuple(self.blades),
            tuple(self.frogs),
            self.parts,
            aligned=self.aligned,
        )


def each(when: When) -> tuple[str | None, ...]:
    return when if isinstance(when, tuple) else (when,)
