"""A bench built wrong once, at which a search is answered: hands that take wires off, set points and hold a meter."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cached_property

from railbond.bench.fault_search import FaultSearch
from railbond.bench.jobs import jobs
from railbond.bench.observation import Observation
from railbond.bench.removable import OFF, what_is_off
from railbond.bench.wires import drop_place
from railbond.circuit.facts import Facts
from railbond.faces.schedule_csv import rows

from .against import Same
from .bench import Node
from .paper import Builder, Row, rows_of


def schedule(plan: Facts) -> list[Row]:
    """The schedule's rows, each wire with the screw that it hangs on."""
    return rows_of(rows(jobs(plan), [], plan.sources))


class Hands:
    """`done` are the schedule's rows as somebody did them, in the schedule's order; None for a row left out."""

    def __init__(self, search: FaultSearch, right: list[Row], done: list[Row | None]) -> None:
        self.search, self.plan, self.right, self.done = search, search.diagnosis.facts, right, done
        self.same = Same(self.plan, Builder().build(right))
        self._labels: dict[frozenset[tuple[str, str]], tuple[Builder, dict[Node, int]]] = {}

    def labels(self, stand: Mapping[str, str]) -> tuple[Builder, dict[Node, int]]:
        """What hangs together with some things off, and the bench."""
        key = frozenset(stand.items())
        if key not in self._labels:
            off = {number for name in what_is_off(stand) for number in self.goes_with(name)}
            builder = Builder()
            bench = builder.build(filter(None, (self._as(n, row, off) for n, row in enumerate(self.done))))
            points = {switch: at for switch, at in stand.items() if not switch.startswith(OFF)}
            self._labels[key] = builder, bench.labels(points)
        return self._labels[key]

    def _as(self, number: int, row: Row | None, off: set[int]) -> Row | None:
        """A row as it is with its wire off: a drop hangs on nothing, everything else joins nothing."""
        if row is None or number not in off:
            return row
        return {**row, "from": f"free{number}.end"} if row["kind"] == "drop" else None

    def goes_with(self, name: str) -> list[int]:
        """The rows of what is taken off by a name."""
        if name.startswith("joiner "):
            return self._rows("joiner", lambda row: row["rail"] == name.removeprefix("joiner "))
        plain = re.sub(r" again \d+$", "", name)
        found = self._rows("drop", lambda row: plain in (row["place"], f"{row['place']} {row['rail']}"))
        found += self._rows("drop", lambda row: plain == row["name"] and " at " not in row["place"])
        found += self._rows("bus", lambda row: plain in (row["name"], row["place"]))
        found += self._rows("common", lambda row: plain == f"common {row['place'].split(', ')[0]}")
        wanted = plain.rpartition(".")
        return found + self._rows(
            "frog", lambda row: bool(row["rail"]) and (row["name"], row["rail"].replace(" ", "-")) == wanted[::2]
        )

    def _rows(self, kind: str, fits: object) -> list[int]:
        return [n for n, row in enumerate(self.right) if row["kind"] == kind and fits(row)]  # type: ignore[operator]

    @cached_property
    def ends(self) -> dict[int, int]:
        """The row of the wire whose bare end a conductor is."""
        screws, found = self.search.diagnosis.screws, {}
        for drop in self.plan.layout.drops:
            metal = self.plan.layout.pieces[drop.piece].template.metals[drop.metal].words
            numbers = screws.bonds.of_drop(drop)
            if len(numbers) == 1 and screws.graph.bonds[numbers[0]].one in screws.bare:
                leg = self.plan.graph.names[self.plan.wiring.wire(drop.wire)]
                asked = drop_place(drop), metal, leg
                row = next(n for n, one in enumerate(self.right) if (one["place"], one["rail"], one["from"]) == asked)
                found[screws.graph.bonds[numbers[0]].one] = row
        return found

    def node(self, builder: Builder, conductor: int, off: set[int]) -> Node:
        """The metal at a place that is asked for; the end of a wire that is on is under its screw."""
        if conductor in self.ends:
            number = self.ends[conductor]
            row = self.done[number]
            hangs = builder.source(row["from"]) if row else ("nothing", str(number))
            return (f"free{number}", "end") if number in off else hangs
        if conductor in self.search.diagnosis.screws.bare:
            metal = next(bond.other for bond in self.search.diagnosis.screws.graph.bonds if bond.one == conductor)
            piece, frog = self.same.node[metal]
            number = 1 + self.same.bench.things[str(piece)].frogs.index(str(frog))
            there = {node for join in builder.bench.joins for node in join[:2] if node[0] == "contact"}
            own = (("contact", piece, f"{kind} {number}") for kind in ("changeover contact", "contact"))
            return next((node for node in own if node in there), ("contact", piece, number))
        place = self.same.place.get(conductor)
        return builder.bench.resolved(place) if place else self.same.node[conductor]

    def answer(self, asked: Observation) -> bool:
        """What the meter does, or what is seen of trains and breakers."""
        builder, labels = self.labels(asked.stand)
        off = {number for name in what_is_off(asked.stand) for number in self.goes_with(name)}

        def label(conductor: int) -> object:
            node = self.node(builder, conductor, off)
            return labels.get(node, node)

        if asked.kind == "beeps":
            return label(asked.ends[0]) == label(asked.ends[1])
        fed: dict[object, list[int]] = {}
        for conductor in self.plan.graph.sources:
            fed.setdefault(label(conductor), []).append(conductor)
        if asked.kind == "runs":
            return all(label(one) in fed for one in asked.route)
        sources = self.plan.graph.sources
        return any(sources[a].opposes(sources[b]) for several in fed.values() for a in several for b in several)
