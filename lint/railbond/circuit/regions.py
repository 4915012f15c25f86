"""Gathers conductors into stretches of track, so that one cause is told once."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.circuit.facts import Facts

from .plain_words import lies

PLACES = {"closure": "between {}'s blades and its frog", "frog rail": "beyond {}'s frog"}


def regions(facts: Facts, conductors: Iterable[int]) -> list[list[int]]:
    """The conductors by connected track: they belong together in one piece, or where their pieces meet."""
    members: dict[str, list[int]] = {}
    for conductor in conductors:
        members.setdefault(facts.piece_of(conductor), []).append(conductor)
    found, seen = [], set[str]()
    for name in members:
        if name not in seen:
            found.append([c for piece in _reach(facts, name, members, seen) for c in members[piece]])
    return found


def _reach(facts: Facts, name: str, members: dict[str, list[int]], seen: set[str]) -> list[str]:
    seen.add(name)
    queue = [name]
    for here in queue:
        for there, one, other in facts.neighbors.get(here, ()):
            if there in members and there not in seen and one in members[here] and other in members[there]:
                seen.add(there)
                queue.append(there)
    return queue


def track_words(facts: Facts, conductors: list[int]) -> str:
    """`both rails of spur`, `the left rail of mill`, `spur, T3 and 4 more pieces`."""
    pieces: dict[str, list[int]] = {}
    for conductor in conductors:
        pieces.setdefault(facts.piece_of(conductor), []).append(conductor)
    names = list(pieces)
    if len(names) > 3:
        return f"{', '.join(names[:2])} and {len(names) - 2} more pieces"
    return " and ".join(_piece_words(facts, name, own) for name, own in pieces.items())


def _piece_words(facts: Facts, name: str, own: list[int]) -> str:
    metals = facts.layout.pieces[name].template.metals
    base = facts.wiring.first[name]
    words = list(dict.fromkeys(metals[conductor - base].words for conductor in own))
    if {"left rail", "right rail"} <= set(words):
        return f"both rails of {name}"
    if len(words) == len({metal.words for metal in metals}):
        return f"every rail of {name}"
    if len(words) < 3:
        return " and ".join(_where(facts, name, word) for word in words)
    places: dict[str, list[str]] = {}
    for word in words:
        places.setdefault(next((one for part, one in PLACES.items() if part in word), "of {}"), []).append(word)
    told = [f"the rails {place.format(name)} ({', '.join(rails)})" for place, rails in places.items()]
    return " and ".join(told)


def _where(facts: Facts, name: str, rail: str) -> str:
    """A rail by where it lies, with its exact name in brackets: `left closure rail` says nothing to a beginner."""
    where = lies(facts, facts.layout.pieces[name], rail)
    return f"{where} ({rail})" if where else f"the {rail} of {name}"
