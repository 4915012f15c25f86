"""A wired sketch as the text of a plan, laid out as a club would write it."""

from __future__ import annotations

from itertools import groupby

from .sketch import leaves
from .wiring import Row, Wiring, flip, frog_side


class Writer:
    """Writes one plan, choosing among the ways in which the language says the same."""

    def __init__(self, wiring: Wiring) -> None:
        self.wiring, self.sketch, self.rng = wiring, wiring.sketch, wiring.rng
        self.joints: dict[str, str] = {}
        self.edges: list[Row] = []
        self._name_joints()

    def text(self) -> str:
        wiring = self.wiring
        heading = [["plan", f'"{self.rng.choice(TITLES)}"'], ["scale", "HO"]]
        sections = [
            ("", heading),
            ("# power", self._power()),
            ("# track, as one walks it", [self._segment(one) for one in self.sketch.segments]),
            ("", [self._turnout(one) for one in self.sketch.turnouts] + self._joints() + self.edges),
            ("# cuts, bonds and frogs", self._gaps() + wiring.inner + wiring.work + wiring.frogs),
            ("# wires to the rails", wiring.feeders),
        ]
        return "\n".join(section(title, rows) for title, rows in sections if rows)

    def _power(self) -> list[Row]:
        rows = [["booster", "B1", "15 V", "5 A"]]
        for one in self.wiring.zones.supplies.values():
            if one.kind == "district":
                legs = "" if one.legs == ("red", "black") else f"legs {one.legs[0]} {one.legs[1]}"
                rows.append(["district", one.name, "from B1", "trips 4 A", legs])
            elif one.kind == "block":
                rows.append(["block", one.name, f"in {one.district}"])
            else:
                rows.append(["reverser", one.name, f"in {one.district}", "trips 3 A"])
        return rows + self.wiring.buses

    def _name_joints(self) -> None:
        """Between two segments: a free name, or each naming the other's end."""
        for one, other in self.sketch.meets.items():
            both = {self.sketch.piece(one), self.sketch.piece(other)} <= self.sketch.segments.keys()
            if one < other and both and self.sketch.chance(75):
                self.joints[one] = self.joints[other] = f"J{len(self.joints) // 2 + 1}"

    def _segment(self, name: str) -> Row:
        ends = (self._beyond(f"{name}.{word}") for word in ("start", "finish"))
        return ["segment", name, " -> ".join(ends), length(self.sketch.segments[name], self.rng.randrange(4))]

    def _beyond(self, end: str) -> str:
        if end in self.sketch.meets:
            return self.joints.get(end, self.sketch.meets[end])
        zone = self.wiring.zones.at(self.sketch.node(end))
        if zone.kind != "district" or not self.sketch.chance(20):
            return "stop"
        name = f"edge{len(self.edges) + 1}"
        out = (self.wiring.zones.way[self.sketch.node(end)] > 0) == leaves(end)
        self.edges.append(["endplate", name, f"left {zone.legs[0 if out != self.wiring.slip() else 1]}"])
        return name

    def _turnout(self, name: str) -> Row:
        one = self.sketch.turnouts[name]
        return ["turnout", name, one.hand, f"number {one.number}", one.build]

    def _joints(self) -> list[Row]:
        """Turnout to turnout, and turnouts at whose end the track stops."""
        turnouts = self.sketch.turnouts.keys()
        pairs = [
            f"{one} -> {other}"
            for one, other in self.sketch.meets.items()
            if one < other and {self.sketch.piece(one), self.sketch.piece(other)} <= turnouts
        ]
        stops = [f"{end} -> stop" for end in self.sketch.loose() if self.sketch.piece(end) in turnouts]
        return [["joint", words] for words in pairs + stops]

    def _gaps(self) -> list[Row]:
        return [self._gap(*ends, sides) for ends, sides in self.wiring.gaps.items() if sides]

    def _gap(self, one: str, other: str, sides: set[str]) -> Row:
        """One line for the gaps of a joint. `sides` are seen looking out of `one`."""
        if len(sides) == 1:
            side = next(iter(sides))
            ways = self._single(one, other, side) + self._single(other, one, flip(side))
            if ways:
                return ["gap", *self.rng.choice(ways)]
        places = [one, other] + ([self.joints[one]] if one in self.joints else [])
        return ["gap", self.rng.choice(places), "both rails"]

    def _single(self, end: str, beyond: str, side: str) -> list[tuple[str, str]]:
        """The ways to name one rail at an end: along the segment there, or by a turnout's frog."""
        if self.sketch.piece(end) in self.sketch.segments:
            return [(end, f"{along(end, side)} rail")]
        ways = []
        if self.sketch.piece(beyond) in self.sketch.segments:
            ways.append((end, f"{along(beyond, flip(side))} rail"))
        turnout = self.sketch.turnouts[self.sketch.piece(end)]
        for route in ("through", "diverging"):
            if end.endswith(f".{turnout.end(route)}"):
                ways.append((end, "frog rail" if frog_side(turnout, route) == side else "stock rail"))
        return ways


def along(end: str, side: str) -> str:
    """A side seen looking out of a segment's end, as it is called along the segment's arrow."""
    return side if leaves(end) else flip(side)


def length(centimeters: int, unit: int) -> str:
    if unit == 0:
        return f"{centimeters / 100:g} m"
    return f"{centimeters * 10} mm" if unit == 1 else f"{centimeters} cm"


def section(title: str, rows: list[Row]) -> str:
    lines = [line for _, group in groupby(rows, key=lambda row: row[0]) for line in columns(list(group))]
    return "\n".join(([title] if title else []) + lines) + "\n"


def columns(rows: list[Row]) -> list[str]:
    """Rows of one kind of statement with their parts below each other."""
    widths = [max(len(row[nth]) for row in rows if nth < len(row)) for nth in range(max(map(len, rows)))]
    widths[0] = LONGEST_KEYWORD
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=False) if width).rstrip() for row in rows
    ]


LONGEST_KEYWORD = len("endplate")
TITLES = ("Quarry Junction", "Harbor Belt Line", "Two Rivers Club", "Saturday Night Module", "Müller's Mill")
