"""Draws a template rail by rail, with the rails called by their names instead of numbers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from railbond.layout.template import Blade, End, Frog, Metal, Pass, Side, Template, Tie


class Drawing:
    """A template in the making. Every rail is named before anything is tied to it."""

    def __init__(self, *positions: str) -> None:
        self.positions = positions
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

    def tie(self, *names: str, kind: Literal["build", "bond", "touch"] = "build", when: str | None = None) -> None:
        """Ties each of the named metals to the next."""
        for one, other in zip(names, names[1:], strict=False):
            self.ties.append(Tie(self.at(one), self.at(other), when, kind))

    def rolls(self, route: str | None, *names: str) -> None:
        """A wheel on that route rolls from each of the named metals onto the next."""
        for one, other in zip(names, names[1:], strict=False):
            self.passes.append(Pass(self.at(one), self.at(other), route))

    def blade(self, closure: str, stock: str, touches: str, opens: str) -> None:
        """A blade that touches a stock rail in one position and stands open beside it in the other."""
        self.tie(closure, stock, kind="touch", when=touches)
        self.passes.append(Pass(self.at(stock), self.at(closure), touches))
        self.blades.append(Blade(self.at(closure), self.at(stock), opens))

    def end(
        self, name: str, left: str, right: str, leaves: bool, route: str = "", rails: Mapping[str, Side] | None = None
    ) -> None:
        """An end, its rails looking outwards; `route` is the position in which a train passes it."""
        self.ends[name] = End(self.at(left), self.at(right), leaves, (route,) if route else (), rails or {})

    def template(self) -> Template:
        return Template(
            tuple(self.metals.values()),
            tuple(self.ties),
            tuple(self.passes),
            self.ends,
            self.positions,
            tuple(self.blades),
            tuple(self.frogs),
        )
