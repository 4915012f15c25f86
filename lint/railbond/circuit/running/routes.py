"""Runs of a train from place to place, the shortest first, and whether it comes back facing the other way.

The ways over the pieces are the nodes of a directed graph, each twice: with the nose leading and with it trailing. From
a way one rolls on to those that begin where it ends. A train that may reverse does so on plain track that holds it, and
then its other end leads.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, pairwise, product
from typing import Any, NamedTuple

from railbond.layout.model import EndAt
from railbond.layout.template import Template

from .geometry import Leg, Stretch
from .walking import WalkedTrack

Place = frozenset[EndAt]
"""The ends that a name stands for: those of a piece, or of a joint."""

MOST_RUNS = 100
"""Runs that are listed; a yard has more ways through than anybody reads."""
REVERSING = 10**12
"""What a reversal costs against micrometers of track: any detour is preferred to it."""


class Ride(NamedTuple):
    """A train on a leg, heading for its end with the nose leading or not. `stage` counts the places it has been to."""

    leg: Leg
    nose_leads: bool
    stage: int = 0

    @property
    def facing(self) -> tuple[str, str]:
        """The piece and the end of it that the nose points at."""
        return self.leg.piece, self.leg.leave if self.nose_leads else self.leg.enter


class Journeying(NamedTuple):
    """Rides in a row. Where one follows another on the same piece, the train has reversed there."""

    rides: tuple[Ride, ...]

    @property
    def legs(self) -> tuple[Leg, ...]:
        return tuple(ride.leg for ride in self.rides)

    @property
    def length(self) -> int:
        """Micrometers, of the first and the last piece as well."""
        return sum(leg.length for leg in self.legs)

    @property
    def reversals(self) -> tuple[str, ...]:
        """The pieces on which the train reverses."""
        return tuple(here.leg.piece for here, there in pairwise(self.rides) if here.nose_leads != there.nose_leads)

    @property
    def turns(self) -> bool:
        """Whether the train is back where it began, facing the other way."""
        first, last = self.rides[0].facing, self.rides[-1].facing
        return first[0] == last[0] and first[1] != last[1]

    @property
    def points(self) -> list[tuple[str, str]]:
        """Each turnout and how it must stand, in the order in which the train comes to them."""
        return list(dict.fromkeys((leg.piece, leg.position) for leg in self.legs if leg.position))


class Routes:
    """Runs over a track. `room` is the length of the train in micrometers: where plain track is shorter, it does not
    reverse."""

    def __init__(self, track: WalkedTrack, may_reverse: bool = False, room: int = 0) -> None:
        self.track = track
        self.may_reverse = may_reverse
        self.room = room

    def runs(self, places: list[Place], turned: bool = False) -> Iterator[Journeying]:
        """Runs that go to each of the places in turn, the shortest first; `turned` ones end facing the other way.

        No run takes the same way twice between two places.
        """
        from heapq import merge

        graph = self._graph(places)
        starts = [Ride(leg, True) for leg in self._at(places[0])]
        goals = [Ride(leg, nose, len(places) - 1) for leg in self._at(places[-1]) for nose in (True, False)]
        ways = [_paths(graph, one, [goal for goal in goals if not turned or _turns(one, goal)]) for one in starts]
        yield from islice(merge(*ways, key=lambda run: (len(run.reversals), run.length)), MOST_RUNS)

    def _at(self, place: Place) -> list[Leg]:
        """The ways that begin or end at a place."""
        whole = (leg for legs in self.track.legs.values() for leg in legs)
        return [leg for leg in whole if _touches(leg, place)]

    def _graph(self, places: list[Place]) -> Any:
        import networkx as nx

        graph = nx.DiGraph()
        for stage in range(1, len(places)):
            for one, other in self._moves():
                ahead = stage if _touches(other.leg, places[stage]) else stage - 1
                graph.add_edge(one._replace(stage=stage - 1), other._replace(stage=ahead), weight=_cost(one, other))
        return graph

    def _moves(self) -> Iterator[tuple[Ride, Ride]]:
        for legs in self.track.legs.values():
            for leg in legs:
                for nose in (True, False):
                    yield from ((Ride(leg, nose), Ride(follow, nose)) for follow in self.track.follow(leg))
                    if self.may_reverse and self._holds(leg):
                        yield Ride(leg, nose), Ride(self.track.back(leg), not nose)
        yield from self._on_table()

    def _on_table(self) -> Iterator[tuple[Ride, Ride]]:
        """Onto the bridge of a table and off it again, which has moved in between. A turntable lets a train leave
        either end first; off a transfer table it goes on to the far side, or back to the near one."""
        for onto in self._over_tables():
            table = self.track.layout.pieces[onto.piece].template
            came = [leg for leg in self._arriving(onto) if onto.length >= self.room]
            for nose in (True, False):
                for leg in came:
                    across = _at_head(table, onto.enter) != _at_head(table, onto.leave)
                    for then in (True, False) if table.headings else (nose == across,):
                        yield Ride(leg, nose), Ride(onto, then)
                yield from ((Ride(onto, nose), Ride(follow, nose)) for follow in self.track.follow(onto))

    def _over_tables(self) -> Iterator[Leg]:
        """Every way over a bridge, its left and right rail as seen by a train that leaves it there."""
        for name, piece in self.track.layout.pieces.items():
            if piece.template.bridge:
                length = self.track.size(name).length
                left, right = ((Stretch(0, length, metal),) for metal in piece.template.bridge)
                for enter, leave in product(piece.template.ends, repeat=2):
                    sides = (left, right) if _at_head(piece.template, leave) else (right, left)
                    yield Leg(name, enter, leave, None, length, *sides)

    def _arriving(self, onto: Leg) -> list[Leg]:
        there = self.track.beyond.get(EndAt(onto.piece, onto.enter))
        whole = (leg for legs in self.track.legs.values() for leg in legs)
        return [leg for leg in whole if there == EndAt(leg.piece, leg.leave)]

    def _holds(self, leg: Leg) -> bool:
        return self.track.layout.pieces[leg.piece].template.is_plain and leg.length >= self.room


def _at_head(table: Template, end: str) -> bool:
    """Whether a track lies at the head end of a bridge: that one's left rail then leads to its left rail."""
    left = (table.bridge or (0, 0))[0]
    return any((one.one, one.other) == (left, table.ends[end].left) for one in table.passes)


def _touches(leg: Leg, place: Place) -> bool:
    return not place.isdisjoint((EndAt(leg.piece, leg.enter), EndAt(leg.piece, leg.leave)))


def _turns(start: Ride, goal: Ride) -> bool:
    return start.facing[0] == goal.facing[0] and start.facing[1] != goal.facing[1]


def _cost(one: Ride, other: Ride) -> int:
    return REVERSING if one.nose_leads != other.nose_leads else other.leg.length


def _paths(graph: Any, start: Ride, goals: list[Ride]) -> Iterator[Journeying]:
    """Runs from a ride to any of the goals, the shortest first."""
    import networkx as nx

    own = graph.copy()
    own.add_edges_from((goal, "goal", {"weight": 0}) for goal in goals)
    try:
        for path in nx.shortest_simple_paths(own, start, "goal", "weight"):
            yield Journeying(tuple(ride._replace(stage=0) for ride in path[:-1]))
    except (nx.NetworkXNoPath, nx.NodeNotFound):
        return
