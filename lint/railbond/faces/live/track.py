"""Where trains can go in the picture: every way over a piece, its line, its length and the metal under the wheels."""

from __future__ import annotations

from typing import Any

from railbond.circuit.facts import Facts
from railbond.circuit.running.answers import running
from railbond.circuit.running.geometry import Leg, Rail
from railbond.circuit.running.pickups import pickups
from railbond.faces.drawing.scene import Scene

Json = dict[str, Any]


def track(facts: Facts, scene: Scene) -> Json:
    """Ways, what lies beyond each end, and what can be driven. Lengths are micrometers."""
    walked = running(facts).track
    legs = [leg for found in walked.legs.values() for leg in found]
    return {
        "ways": [_way(facts, scene, leg) for leg in legs if drawn(scene, leg)],
        "beyond": {str(one): str(other) for one, other in walked.beyond.items()},
        "stops": [str(one) for one in walked.stops],
        "trains": [*_engines(facts), *_trains(facts)],
    }


def drawn(scene: Scene, leg: Leg) -> bool:
    """Whether the way has a line in the picture."""
    cell = scene.cells.get(leg.piece)
    return leg.piece in scene.stretches or bool(cell and {leg.enter, leg.leave} <= cell.ends.keys())


def _way(facts: Facts, scene: Scene, leg: Leg) -> Json:
    stands = facts.wiring.literal(leg.piece, leg.position) if leg.position else None
    return {
        "piece": leg.piece, "enter": f"{leg.piece}.{leg.enter}", "leave": f"{leg.piece}.{leg.leave}",
        "stands": stands, "length": leg.length, **_line(scene, leg, facts),
        "left": _rail(facts, leg, leg.left), "right": _rail(facts, leg, leg.right),
    }  # fmt: skip


def _rail(facts: Facts, leg: Leg, rail: Rail) -> list[list[int]]:
    """From where to where there is which conductor; -1 for plastic and for a cut."""
    metals = ((one, -1 if one.metal is None else facts.wiring.metal(leg.piece, one.metal)) for one in rail)
    return [[one.start, one.stop, conductor] for one, conductor in metals]


def _line(scene: Scene, leg: Leg, facts: Facts) -> Json:
    """The middle of the track as path data; `back` where the way runs against it."""
    if stretch := scene.stretches.get(leg.piece):
        first = next(iter(facts.layout.pieces[leg.piece].template.ends))
        return {
            "line": stretch.course.path(stretch.start, stretch.stop), "back": stretch.along != (leg.enter == first)
        }  # fmt: skip
    work = scene.works[leg.piece]
    return {"line": work.line(leg.enter, leg.leave), "back": work.runs_back(leg.enter, leg.leave)}


def _engines(facts: Facts) -> list[Json]:
    return [
        {
            "name": one.name, "kind": "engine", "length": one.span,
            "left": [place - one.foremost for place in one.left],
            "right": [place - one.foremost for place in one.right],
        }
        for one in pickups(facts.layout)
    ]  # fmt: skip


def _trains(facts: Facts) -> list[Json]:
    return [
        {"name": f"train {one.name}", "kind": "train", "length": round(float(one.metal or one.length) * 1e6)}
        for one in facts.layout.trains
    ]
