"""The words for what may be wrong, by what a hand does, and for what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.bench.fault_search import FaultSearch, NextMove
from railbond.bench.mistake import Mistake
from trackplan.span import Span

SOUND = (
    "Nothing that was read is wrong: the railroad is as the plan says in all that was asked. If it still does not run, "
    "look at what no meter shows: dirty rails and wheels, a decoder, a contact that is bad only while the table shakes."
)
UNEXPLAINED = (
    "No mistake in the plan's wires and cuts explains what was seen. Look once more whether it is so; if it is, the "
    "cause is nothing that the plan tells: a tool or a strand of wire across the rails, or a faulty supply."
)
ALIKE = (
    "No measurement tells these apart: with any of them the same metal hangs together, whatever is taken off and "
    "however the points stand. Mend them all at once: each is put right by the same few moves."
)
HOW = {
    "swapped pair": "swapped",
    "missing drop": "one makes no contact",
    "drop on the wrong rail": "one on the wrong rail",
    "drop on the wrong leg": "one on the other leg's screw",
    "drop on the wrong supply": "one on another supply's screw",
    "pair on the wrong supply": "on another supply's screws",
    "contacts backwards": "their contacts close the wrong way",
    "missing frog wire": "makes no contact",
    "frog contacts swapped": "the two throws of the contacts are swapped",
    "swapped bus": "swapped",
    "missing bus wire": "one makes no contact",
    "bus on the wrong supply": "on another supply",
    "bus wire on the wrong leg": "one on the other leg",
    "missing common wire": "makes no contact",
}
"""How a thing that can be taken off may be wrong, in a few words."""
MENDS = {
    "swapped pair": "exchange these two wires at their screws",
    "missing drop": "solder that joint again, and tighten that screw",
    "drop on the wrong rail": "take that wire off the rail that it is on and solder it to the one that the plan names",
    "drop on the wrong leg": "put that wire on the other screw of the terminal",
    "frog contacts swapped": "exchange the wires at the two throws of these contacts",
    "contacts backwards": "put the wires on the other throw of these contacts",
    "missing frog wire": "solder the frog's wire again, and tighten its screw",
    "missing contact wire": "tighten that wire at the contact and at its terminal",
    "cut not made": "cut that rail through, or slide an insulated joiner in; look for metal dust in the gap",
    "cut on the wrong rail": "cut the rail that the plan names, and solder a wire across the other cut",
    "jumper not cut": "cut those two metals apart",
    "jumpers not cut": "cut the frog out as the schedule says",
    "jumper missing": "solder a jumper there",
    "bond forgotten": "solder that bond again",
    "bonds forgotten": "solder both bonds",
    "swapped bus": "exchange the two bus wires at one end",
    "missing bus wire": "tighten or solder that bus wire at both ends",
    "bus wire on the wrong leg": "put that bus wire on the other screw",
}
OTHERWISE = "put that wire where the plan says"


def mend(mistake: Mistake) -> str:
    """What to do about a mistake, or about each of two."""
    return "; and ".join(MENDS.get(one.kind, OTHERWISE) for one in mistake.both or (mistake,))


def hands(search: FaultSearch, mistakes: Iterable[Mistake]) -> list[tuple[str, Span | None]]:
    """Mistakes by the thing that a hand takes hold of: one line for each, with all that may be wrong with it."""
    groups: dict[str, list[Mistake]] = {}
    for one in mistakes:
        groups.setdefault(_thing(search, one) or one.words, []).append(one)
    return [(_line(thing, several), several[0].at) for thing, several in groups.items()]


def _thing(search: FaultSearch, mistake: Mistake) -> str:
    """The removable thing whose bonds a mistake changes, in words."""
    names = {search.chooser.carried.get(number, "") for number in mistake.lost}
    name = names.pop() if len(names) == 1 and mistake.kind in HOW else ""
    return search.diagnosis.screws.removable[name].words if name else ""


def _line(thing: str, mistakes: list[Mistake]) -> str:
    if len({one.words for one in mistakes}) == 1:
        return mistakes[0].words
    return f"{thing}: {', or '.join(dict.fromkeys(HOW[one.kind] for one in mistakes))}"


def unasked(search: FaultSearch, step: NextMove) -> Iterator[str]:
    """What no reading so far could have shown."""
    left = [one.mistake for one in step.fitting if one.mistake.lost or one.mistake.made]
    groups = hands(search, left)
    if groups:
        some = "; ".join(words for words, _ in groups[:4])
        more = f"; and {len(groups) - 4} more" if len(groups) > 4 else ""
        yield f"Not shown by what was asked: {some}{more}. Most stay hidden while another way joins the same two."
