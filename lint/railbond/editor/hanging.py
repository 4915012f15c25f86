"""What hangs on a supply, a terminal or a booster: its wires, and the track that they feed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts

MOST = 12


def booster_feeds(facts: Facts, name: str) -> Iterator[str]:
    """The supplies behind a booster, each with what hangs on it."""
    own = [one for one in facts.layout.supplies.values() if one.booster == name]
    yield f"feeds {_listed(one.name for one in own)}" if own else "feeds nothing"
    for one in own:
        yield from (f"- {one.name} {words}" for words in hangs_on(facts, one.name))


def hangs_on(facts: Facts, name: str) -> Iterator[str]:
    """The bus runs, drops and frogs that begin at a supply or a terminal."""
    layout = facts.layout
    runs = [run.terminal for run in layout.runs if run.source == name]
    track = dict.fromkeys(drop.piece for drop in layout.drops if drop.wire.name == name)
    frogs = dict.fromkeys(
        feed.name or feed.piece
        for feed in layout.frogs.values()
        if name in {feed.supply, *(wire.name for wire in feed.contacts.values())}
    )
    if runs:
        yield f"bus to {_listed(runs)}"
    if track:
        yield f"drops to {_listed(track)}"
    if frogs:
        yield f"frogs of {_listed(frogs)}"
    if not (runs or track or frogs):
        yield "nothing hangs on it"


def _listed(names: Iterable[str]) -> str:
    names = list(names)
    return ", ".join(names[:MOST]) + (f" and {len(names) - MOST} more" if len(names) > MOST else "")
