"""A search at the bench on any plan: what somebody says that they saw, and answers to what is asked, true or not."""

from __future__ import annotations

from random import Random

from railbond.bench.fault_search import FaultSearch
from railbond.circuit.facts import Facts
from railbond.faces.diagnosis import again, asked, begin, told
from trackplan.seen import FORMS, read_seen
from trackplan.span import Source

WORDS = (
    "beeps", "silent", "trips", "holds", "dies at", "runs at", "runs backwards in", "lamp dim at", "jerks at",
    "detector of", "mended", "the breaker trips when", "stalls",
)  # fmt: skip
TAILS = ("", " and", " always on", " never on", " with", " without", ", ", " at 20 cm", " thrown", " through")
MOST_ASKED = 12


def seen(facts: Facts, dice: Random) -> str:
    """A few lines of an observer's: by the book, or any words in a row."""
    names = [*facts.graph.names, *facts.graph.positions, *facts.layout.pieces, *facts.layout.supplies, "nobody", "T1"]
    names = [name for name in names if name] or ["x"]
    lines = (_line(names, dice) for _ in range(dice.randint(1, 4)))
    return "\n".join(lines)


def _line(names: list[str], dice: Random) -> str:
    if dice.random() < 0.4:
        form = dice.choice(list(FORMS.values())).split("`")[1]
        for word in ("P1.red", "west.left", "main", "T1 through", "T1", "west", "yard", "end", "span"):
            form = form.replace(word, dice.choice(names)) if dice.random() < 0.8 else form
        return form
    parts = [dice.choice(WORDS)]
    for _ in range(dice.randint(0, 4)):
        parts.append(dice.choice(names) if dice.random() < 0.7 else dice.choice(TAILS))
    return " ".join(parts)


def searched(facts: Facts, dice: Random) -> str:
    """All that a search says: it is told what was seen, asks, and is answered at random. It must come to an end or be
    able to go on after every answer."""
    search = FaultSearch(facts, doubles=dice.random() < 0.3)
    said = [begin(search)]
    source = Source("seen", seen(facts, dice))
    for one in filter(None, map(search.resolver.resolve, read_seen(source)[0])):
        search.see(one)
    for _ in range(MOST_ASKED):
        step = search.step()
        if step.end:
            said.append(told(search, step, facts.sources, dice.random() < 0.5))
            if step.end == "sound" or dice.random() < 0.5:
                break
            search.mend(step)
        elif step.following:
            said += asked(search, step.following, step)
            search.answer(step, dice.random() < 0.5)
        elif step.again:
            said.append(again(search, step.again))
            search.answer(step, dice.random() < 0.5)
    return "\n".join(said)
