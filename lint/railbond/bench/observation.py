"""Observations with their names resolved on a plan."""

from __future__ import annotations

import re
from typing import NamedTuple

from railbond.circuit.facts import Facts
from trackplan.seen import Seen
from trackplan.span import Span
from trackplan.statements import Broken

from .removable import Removable, Screws, off
from .test_points import TestPoints

METERS = {"mm": 0.001, "cm": 0.01, "m": 1.0}
KINDS = {"silent": "beeps", "holds": "trips", "dies": "runs"}
"""What is asked, where no is what was seen."""


class Observation(NamedTuple):
    """A question and its answer, in a full setting. `ends` are two conductors (`beeps`), `supply` is whose breaker
    (`trips`; empty: any) or whose detector, `route` the conductors that a train ran over, each step after the other."""

    kind: str
    answer: bool
    stand: dict[str, str]
    ends: tuple[int, int] = (0, 0)
    supply: str = ""
    route: tuple[int, ...] = ()
    text: str = ""
    at: Span | None = None

    @property
    def question(self) -> tuple[object, ...]:
        """What was asked: equal for observations that must not differ in their answers."""
        return self.kind, frozenset(self.stand.items()), frozenset(self.ends), self.supply, self.route


class Resolver:
    """Looks the names of observations up on a plan. What is not there is kept in `broken`."""

    def __init__(self, facts: Facts, points: TestPoints, screws: Screws | None = None) -> None:
        self.facts, self.points = facts, points
        self.removable: dict[str, Removable] = screws.removable if screws else {}
        self.first = {switch: stands[0] for switch, stands in facts.graph.positions.items()}
        self.broken: list[Broken] = []

    def resolve(self, seen: Seen) -> Observation | None:
        """The observation, or None and a word on why not."""
        try:
            return self._resolved(seen)
        except LookupError as error:
            self.broken.append(Broken(seen.at, str(error.args[0])))
            return None

    def _resolved(self, seen: Seen) -> Observation:
        stand = self.first | {switch: self._position(switch, at) for switch, at in seen.setting}
        kind = KINDS.get(seen.kind, seen.kind)
        asked = Observation(kind, kind == seen.kind, stand | self._off(seen), text=seen.text, at=seen.at)
        if kind == "mended":
            return asked
        if kind == "beeps":
            one, other = (self._conductor(name) for name in seen.names)
            return asked._replace(ends=(one, other))
        if kind == "trips" and not seen.there:
            return asked._replace(supply=self._supply(seen.names[0]) if seen.names else "")
        if kind in ("always-on", "never-on"):
            return asked._replace(supply=self._supply(seen.names[0]))
        if len(seen.names) == 2:
            asked.stand[seen.names[0]] = self._position(*seen.names)
        if kind == "trips":
            return asked._replace(kind="wheel", route=self._steps(seen.names[0], asked.stand))
        if kind == "backwards":
            return asked._replace(route=self._both_rails(seen.names[0]))
        return asked._replace(route=self._route(seen.names[0], asked.stand))

    def _off(self, seen: Seen) -> dict[str, str]:
        """What was off: one thing by its name, or all wires to a track or at a terminal."""
        return off(one for name in seen.off for one in self._taken(name))

    def _taken(self, name: str) -> list[str]:
        plain = re.sub(r"^(?:the )?(?:wires?|drops?|feeders?|bus|output) (?:to|of|from|at) ", "", name).removesuffix(
            "'s wires"
        )
        known = self.removable
        if name in known or plain in known:
            return [name if name in known else plain]
        whole = [one for one in known.values() if not one.part_of]
        found = [one.name for one in whole if re.match(rf"{re.escape(plain)}(?: at .*|\.frog.*| .* rail)$", one.name)]
        found = found or [one.name for one in whole if one.place == plain and one.wires]
        if not found:
            raise LookupError(f"nothing that can be taken off is called `{name}`{_near(plain, known)}")
        return found

    def _position(self, switch: str, at: str) -> str:
        positions = self.facts.graph.positions
        if switch not in positions:
            raise LookupError(f"no points are called `{switch}`{_near(switch, positions)}")
        if at == "thrown" and len(positions[switch]) > 1:
            return positions[switch][1]
        if at not in positions[switch]:
            raise LookupError(f"`{switch}` can stand {' or '.join(positions[switch])}, not `{at}`")
        return at

    def _supply(self, name: str) -> str:
        known = self.facts.layout.supplies
        if name not in known:
            raise LookupError(f"no district, block or reverser is called `{name}`{_near(name, known)}")
        return name

    def _conductor(self, name: str) -> int:
        """The conductor at a place: by its name, or on a cut segment by a length along it."""
        known = self.points.conductor
        if name in known:
            return known[name]
        found = re.fullmatch(r"(\S+)\.(left|right) at ([\d.]+) ?(mm|cm|m)", name)
        if found and found[1] in self.facts.layout.pieces:
            place = float(found[3]) * METERS[found[4]]
            for number, metal in enumerate(self.facts.layout.pieces[found[1]].template.metals):
                if metal.words == f"{found[2]} rail" and metal.start <= place <= metal.stop:
                    return self.facts.wiring.metal(found[1], number)
        raise LookupError(f"no place is called `{name}`{_near(name, known)}")

    def _steps(self, piece: str, stand: dict[str, str]) -> tuple[int, ...]:
        """From which conductor onto which a wheel rolls on a piece and at its ends, pair after pair."""
        self._known(piece)
        rolls = (roll for roll in self.facts.graph.rolls if piece in map(self.facts.piece_of, roll[:2]))
        rolled = (roll for roll in rolls if all(stand.get(switch) in stands for switch, stands in roll.needs))
        return tuple(end for roll in rolled for end in (roll.one, roll.other))

    def _both_rails(self, piece: str) -> tuple[int, ...]:
        """The left and the right rail at the first end of a piece."""
        self._known(piece)
        template = self.facts.layout.pieces[piece].template
        rails = template.bridge or next((end.left, end.right) for end in template.ends.values())
        return tuple(self.facts.wiring.metal(piece, rail) for rail in rails)

    def _known(self, piece: str) -> None:
        if piece not in self.facts.layout.pieces:
            raise LookupError(f"no track is called `{piece}`{_near(piece, self.facts.layout.pieces)}")

    def _route(self, piece: str, stand: dict[str, str]) -> tuple[int, ...]:
        """The metals of a piece over which wheels roll in a setting; all of them where none is said to."""
        self._known(piece)
        rolls = (roll for roll in self.facts.graph.rolls if roll.meeting is None)
        mine = [roll for roll in rolls if self.facts.piece_of(roll.one) == self.facts.piece_of(roll.other) == piece]
        rolled = [roll for roll in mine if all(stand.get(switch) in stands for switch, stands in roll.needs)]
        first = self.facts.wiring.first[piece]
        metals = range(first, first + len(self.facts.layout.pieces[piece].template.metals))
        return tuple(sorted({end for roll in rolled for end in (roll.one, roll.other)})) or tuple(metals)


def _near(word: str, known: object) -> str:
    from difflib import get_close_matches

    found = get_close_matches(word, list(known), n=3, cutoff=0.6)  # type: ignore[call-overload]
    return f"; did you mean {' or '.join(found)}?" if found else ""
