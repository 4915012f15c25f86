"""What feeds frogs, as jobs: the wire from each frog, the throws of its contacts, automatic units."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.circuit.wiring import contacts, stock_contacts
from railbond.layout.model import FrogFeed, Piece
from railbond.layout.sharing import unit_groups
from railbond.layout.template import Frog
from railbond.trackwork import machines

from .job import Job, Task
from .wires import leg


class Throw(NamedTuple):
    """A wire that a frog gets through its contacts, and the positions of `mover` in which it does."""

    conductor: int
    source: str
    color: str
    mover: str
    positions: tuple[str, ...]


def frog_tasks(facts: Facts) -> Iterator[Task]:
    """Every frog's feed, in the order of the plan."""
    for feed in facts.layout.frogs.values():
        piece, at = facts.layout.pieces[feed.piece], feed.statement.at
        if feed.kind == "unpowered":
            yield Task(Job("frog", piece.name, "leave it without a wire", at=at))
        if feed.kind == "automatic":
            yield from _unit(facts, piece, feed)
        for number in feed.frogs:
            if feed.kind not in ("automatic", "unpowered"):
                yield from _contact(facts, piece, number + 1, piece.template.frogs[number], feed)


def _unit(facts: Facts, piece: Piece, feed: FrogFeed) -> Iterator[Task]:
    """As many units as the frogs that the line feeds need. Frogs that want opposite polarities at one time, as under a
    train that is on both, can never share one."""
    at, frogs = feed.statement.at, piece.template.frogs
    groups = unit_groups(piece.template, feed.frogs)
    apart = " and ".join(" with ".join(piece.template.metals[frogs[one].metal].words for one in own) for own in groups)
    note = f"one unit cannot feed {apart}: a train on both asks for opposite polarities" if len(groups) > 1 else ""
    for group in groups:
        what = f"automatic frog unit {1 + min(group)}"
        for frog in group:
            words = piece.template.metals[frogs[frog].metal].words
            yield Task(Job("frog", piece.name, f"{what}: wire to its output", words, note=note, at=at))
        yield Task(Job("frog", piece.name, f"{what}: its supply, both wires", source=feed.supply or "", at=at))


def _contact(facts: Facts, piece: Piece, number: int, frog: Frog, feed: FrogFeed) -> Iterator[Task]:
    """A changeover contact has the frog at its common, and a wire at each of its two throws."""
    throws, at, metal = _throws(facts, piece, frog, feed), feed.statement.at, facts.wiring.metal(piece.name, frog.metal)
    if not throws:
        return
    mover = facts.layout.pieces[throws[0].mover]
    full = len(throws) == 2 and {at for throw in throws for at in throw.positions} == set(mover.template.positions)
    what = f"changeover contact {number}" if full else f"contact {number}"
    note = moved_by(mover, throws[0].positions) if full else f"closed in some positions of {mover.name} only"
    yield Task(
        Job(
            "frog", piece.name, f"{what}: wire to its common", piece.template.metals[frog.metal].words, note=note, at=at
        )
    )
    for throw in throws:
        place = f"{what}: {'throw' if full else 'closed'} while {mover.name} stands {' or '.join(throw.positions)}"
        job = Job("frog", piece.name, place, color=throw.color, source=throw.source, at=at)
        yield Task(job, (throw.conductor, metal))


def _throws(facts: Facts, piece: Piece, frog: Frog, feed: FrogFeed) -> list[Throw]:
    """What a frog gets, and in which positions."""
    found: dict[int, Throw] = {}
    reach = contacts(facts.wiring, feed, frog)
    several = [(when, facts.wiring.wire(w), f"{w.name}.{leg(facts, w)}", leg(facts, w)) for when, w in reach]
    for position, rail in stock_contacts(piece, frog).items() if feed.kind == "stock rails" else ():
        words, when = piece.template.metals[rail].words, facts.wiring.literal(piece.name, position)
        several.append((when, facts.wiring.metal(piece.name, rail), f"{piece.name}'s {words}", ""))
    for (mover, position), conductor, source, color in several:
        before = found.get(conductor, Throw(conductor, source, color, mover, ()))
        found[conductor] = before._replace(positions=(*before.positions, position))
    return list(found.values())


def moved_by(mover: Piece, stands: tuple[str, ...]) -> str:
    """Which machine moves a contact that is thrown in these positions."""
    for machine, halves in machines(mover.statement).items():
        if set(stands) in map(set, halves):
            return f"moved by {mover.name}'s {machine}"
    if mover.template.aligned:
        return f"a toggle at {mover.name}, thrown for the track that is run"
    return f"moved by {mover.name}'s points"
