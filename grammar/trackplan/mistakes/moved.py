"""Words that are too many, too few or in another place. Each function offers one way to the line that was meant, or
None; what it offers is told only where the whole line reads with it."""

from __future__ import annotations

import re

from ..parse import END, reads, tokens
from ..statements import Broken
from ..tables import KEYWORDS
from ..words import expected_after
from .fault import Misreading
from .instinct import NO_NAMES

FILLERS = {
    "the", "a", "an", "of", "from", "at", "to", "in", "on", "is", "has", "with", "between", "long", "length", "hand",
    "wide", "rail", "rails", "frog", "by", "=", "size", "wire", "powered", "turnout", "trips", "legs",
}  # fmt: skip
"""Words that say nothing where the language has no place for them."""
CONNECTORS = ("through", "diverging", "->", "from", "in", "at", "trips")
"""Words that only tie a line together, the first one first."""
JOINED = {"limit_name": "-", "rule_name": "-", "table_end": ".", "lit_end": ".", "solder_place": "."}
"""What ties a name of two words, by its role."""
BARE = ("segment", "turnout")
"""Statements whose keyword is left out where the line cannot be any other."""
ALIKE = {"cut": "gap", "gap": "cut", "feeder": "bus", "bus": "feeder", "booster": "cab", "cab": "booster"}
"""Statements that are taken for one another."""
LONGEST_BLOCK = 4
MOST_WORDS = 18
_GLUED = re.compile(r"([a-z][a-z-]*?)-?(\d+(?:\.\d+)?)")
_OTHER_COMMENT = re.compile(r"//+|--+|/\*+|;+|%+|\*+")


def too_many(fault: Misreading) -> Broken | None:
    """`cut T1 around the frog`."""
    token, last = fault.token, fault.before[-1] if fault.before else None
    if last is None or token.text.lower() not in FILLERS:
        return None
    message = f"{fault.shown} says nothing here: leave it out"
    if fault.after.kind == END:
        return fault._replace(token=last).tell(message, last.text, token.end)
    return fault.tell(message, fault.after.text, fault.after.end)


def too_many_before(fault: Misreading) -> Broken | None:
    """`segment west from W -> stop 1 m`, where `from` was taken for a name."""
    last = fault.before[-1] if len(fault.before) > 1 else None
    if last is None or last.text.lower() not in FILLERS or fault.token.kind == END:
        return None
    message = f"`{last.text}` says nothing here: leave it out"
    return fault._replace(token=last).tell(message, fault.token.text, fault.token.end)


def in_the_middle(fault: Misreading) -> Broken | None:
    """`at middle`, which is where a wire is unless it says another place."""
    last = fault.before[-1] if len(fault.before) > 2 else None
    if last is None or last.text != "at" or fault.token.text.lower() not in ("middle", "center", "mid"):
        return None
    before = fault.before[-2]
    message = "without `at` it is at the middle: leave both words out"
    return fault._replace(token=before).tell(message, before.text, fault.token.end)


def glued(fault: Misreading) -> Broken | None:
    """`number6`, `code83`."""
    found = _GLUED.fullmatch(fault.token.text.lower())
    if found is None or found[1] not in fault.expected.keywords:
        return None
    return fault.tell(f"a blank is missing: write `{found[1]} {found[2]}`", f"{found[1]} {found[2]}")


def hyphenated(fault: Misreading) -> Broken | None:
    """`frog-rail` for `frog rail`."""
    meant = fault.token.text.lower().replace("-", " ")
    if "-" not in fault.token.text or meant.split()[:1] not in [[word] for word in fault.expected.keywords]:
        return None
    return fault.tell(f"these are two words: write `{meant}`", meant)


def parted(fault: Misreading) -> Broken | None:
    """`feeder spacing` for `feeder-spacing`, `TT lead` for `TT.lead`."""
    if not fault.before or fault.token.kind in (END, "stray"):
        return None
    *earlier, last = fault.before
    tie = next((JOINED[role] for role in expected_after(earlier).roles if role in JOINED), None)
    if tie is None:
        return None
    meant = f"{last.text}{tie}{fault.token.text}"
    return fault._replace(token=last).tell(f"this is one word: write `{meant}`", meant, fault.token.end)


def connected(fault: Misreading) -> Broken | None:
    """`frog T1 switched main.red main.black` without `through` and `diverging`."""
    word = next((one for one in CONNECTORS if one in fault.expected.words), None)
    if word is None or fault.token.kind == END or fault.token.text.lower() in NO_NAMES:
        return None
    if fault.before and fault.before[-1].kind == "WORD" and fault.before[-1].text in KEYWORDS:
        return None  # rather the name before it is missing
    return fault.tell(f"`{word}` is missing before {fault.shown}", f"{word} {fault.token.text}")


def out_of_order(fault: Misreading) -> Broken | None:
    """`turnout T1 left live-frog number 6`: the one other order of the words around the fault that reads."""
    words = tokens(fault.line)[:-1]
    place = len(fault.before)
    if not 2 < len(words) <= MOST_WORDS:
        return None
    found: dict[tuple[str, ...], tuple[int, int]] = {}
    for first, last in _blocks(place, len(words)):
        rest = [*words[:first], *words[last:]]
        for target in range(len(rest) + 1):
            order = [*rest[:target], *words[first:last], *rest[target:]]
            texts = tuple(one.text for one in order)
            if target != first and texts not in found and reads(" ".join(texts)):
                found[texts] = min(first, target), max(last, target + last - first)
    named = {texts: at for texts, at in found.items() if texts[:2] == tuple(one.text for one in words[:2])}
    if len(named or found) != 1:
        return None
    ((texts, (first, last)),) = (named or found).items()
    told = fault._replace(token=words[first])
    meant = " ".join(texts[first:last])
    return told.tell(f"the parts stand in another order here: write `{meant}`", meant, words[last - 1].end)


def _blocks(place: int, count: int) -> list[tuple[int, int]]:
    """Runs of words that begin at a place or end there."""
    after = [(place, min(place + size, count)) for size in range(1, LONGEST_BLOCK) if place < count]
    before = [(place - size, place) for size in range(1, LONGEST_BLOCK) if place - size >= 0 and place <= count]
    return [*dict.fromkeys(after), *before]


def other_statement(fault: Misreading) -> Broken | None:
    """`cut T1.through both rails` for `gap T1.through both rails`: another keyword with which the line reads."""
    first = fault.before[0] if fault.before else fault.token
    meant = ALIKE.get(first.text)
    if meant is None or not fault.before or not reads(f"{meant}{fault.line[first.end :]}"):
        return None
    return fault._replace(token=first).tell(f"a line that says this begins with `{meant}`", meant)


def no_keyword(fault: Misreading) -> Broken | None:
    """`west W -> T1.points 90 cm`: what it is has been left out."""
    fitting = [word for word in BARE if not fault.before and reads(f"{word} {fault.line}")]
    if len(fitting) != 1:
        return None
    meant = f"{fitting[0]} {fault.token.text}"
    return fault.tell(f"what it is comes first: write `{meant} …`", meant)


def other_comment(fault: Misreading) -> Broken | None:
    """`// by the door`."""
    found = _OTHER_COMMENT.match(fault.line, fault.token.start)
    if found is None or not (fault.expected.ends or not fault.before):
        return None
    return fault.tell(f"a comment begins with `#`, not with `{found[0]}`", "#", found.end())
