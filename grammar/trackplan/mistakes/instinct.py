"""What people type before they have read anything. Each function tells its own habit, with the right words, or None."""

from __future__ import annotations

import re

from ..make import Senseless
from ..parse import END, Token, Unexpected, parse
from ..statements import Broken
from ..tables import KEYWORDS
from .fault import Misreading

SYNONYMS = {
    "switch": "turnout", "track": "segment", "straight": "segment", "curve": "segment", "rail": "segment",
    "wire": "feeder", "wires": "feeder", "drop": "feeder", "drops": "feeder", "feed": "feeder", "insulator": "gap",
    "lh": "left", "rh": "right", "left-hand": "left", "right-hand": "right", "lefthand": "left", "righthand": "right",
    "y": "wye", "straight-through": "through", "main": "through", "diverge": "diverging", "branch": "diverging",
    "powered-frog": "live-frog", "plastic-frog": "dead-frog",
    "power": "booster", "supply": "booster", "breaker": "district", "reversed": "crossed", "swapped": "crossed",
    "no": "number", "nr": "number", "num": "number", "bumper": "stop", "insulate": "gap",
}  # fmt: skip
"""Words of everyday speech for keywords; each is taken only where its keyword can stand."""
ENDS = {
    "points", "through", "diverging", "left", "right", "start", "finish", "red", "black", "bridge", "stock", "frog",
    "a1", "a2", "b1", "b2", "a", "b",
}  # fmt: skip
_MARK = re.compile(r"#\s?([0-9]+(?:\.[0-9]+)?)(?![\w.])")
_COMMA = re.compile(r'"[^"\n]*"|[,;](?=\s|$)')
_NUMBERED = re.compile(r"(?:n[or]|num)\.?\s*([0-9]+(?:\.[0-9]+)?)(?![\w.])", re.IGNORECASE)


def marked_number(fault: Misreading) -> Broken | None:
    """`#5`, of which the language reads nothing: `#` starts a comment."""
    found = _MARK.match(fault.raw, fault.raw.find("#", fault.token.start))
    if found is None or fault.token.kind != END:
        return None
    for meant, kind in ((f"number {found[1]}", "number"), (f"{found[1]} AWG", "SIZE")):
        if fault.takes(kind):
            message = f"`#` starts a comment, so nothing from `{found[0]}` on was read: write `{meant}`"
            return fault._replace(token=Token("", found[0], found.start())).tell(message, meant)
    return None


def numbered(fault: Misreading) -> Broken | None:
    """`No. 5`."""
    found = _NUMBERED.match(fault.line, fault.token.start)
    if found is None or not fault.takes("number"):
        return None
    return fault.tell(f"a frog's number is written `number {found[1]}`", f"number {found[1]}", found.end())


def without_dot(fault: Misreading) -> Broken | None:
    """`T1 diverging` for `T1.diverging`."""
    last = fault.before[-1] if fault.before else None
    if last is None or last.kind != "WORD" or fault.token.text.lower() not in ENDS:
        return None
    meant = f"{last.text}.{fault.token.text.lower()}"
    message = f"an end, a rail or a leg is one word with a dot: write `{meant}`"
    return fault._replace(token=last).tell(message, meant, fault.token.end)


def commas(fault: Misreading) -> Broken | None:
    """Commas after the parts, as in a list."""
    places = [one.start() for one in _COMMA.finditer(fault.line) if one[0] in ",;"]
    if not places or places[-1] < fault.token.start:
        return None
    first, stop = places[0], places[-1] + 1
    meant = _COMMA.sub(lambda one: " " if one[0] in ",;" else one[0], fault.line[first:stop] + " ")[:-1]
    message = "the parts of a statement stand with blanks between them, without commas"
    return fault._replace(token=Token("", fault.line[first:stop], first)).tell(message, meant)


def capitals(fault: Misreading) -> Broken | None:
    """`Turnout`, `LEFT`."""
    meant = fault.token.text.lower()
    if meant == fault.token.text or meant not in fault.expected.keywords:
        return None
    return fault.tell(f"the words of the language are in small letters: write `{meant}`", meant)


def synonym(fault: Misreading) -> Broken | None:
    """`switch` for `turnout`."""
    meant = SYNONYMS.get(fault.token.text.lower())
    if meant not in fault.expected.keywords:
        return None
    return fault.tell(f"what you call {fault.shown} is called `{meant}` in a plan", meant)


def half_of_two(fault: Misreading) -> Broken | None:
    """`both` for `both rails`: the end of a line where one word only can follow."""
    (word, *others) = fault.expected.words or ("",)
    if others or fault.expected.roles or word not in KEYWORDS or fault.token.kind != END or not fault.before:
        return None
    last = fault.before[-1]
    message = f"the line ends too soon: after `{last.text}`, {fault.wanted}"
    return fault._replace(token=last).tell(message, f"{last.text} {word}")


def missing_word(fault: Misreading) -> Broken | None:
    """`frog T1 through …` without `switched`: the one word with which the line reads."""
    start = fault.token.start
    if fault.before and fault.before[-1].kind == "WORD" and fault.before[-1].text in KEYWORDS:
        return None  # rather the name before it is missing
    fitting = [one for one in fault.expected.words if reads(f"{fault.line[:start]}{one} {fault.line[start:]}")]
    if len(fitting) != 1 or fault.token.kind == END:
        return None
    what = "an arrow `->`" if fitting[0] == "->" else f"`{fitting[0]}`"
    return fault.tell(f"{what} is missing before {fault.shown}", f"{fitting[0]} {fault.token.text}")


def reads(line: str) -> bool:
    """Whether a line is a whole statement."""
    try:
        parse(line)
    except (Unexpected, Senseless):
        return False
    return True
