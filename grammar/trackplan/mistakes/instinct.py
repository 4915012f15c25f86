"""What people type before they have read anything. Each function tells its own habit, with the right words, or None."""

from __future__ import annotations

import re

from ..parse import END, Token, reads
from ..statements import Broken
from ..tables import KEYWORDS
from .fault import Misreading

SYNONYMS: dict[str, str | tuple[str, ...]] = {
    "switch": "turnout", "track": "segment", "straight": "segment", "curve": "segment", "rail": "segment",
    "wire": "feeder", "drop": "feeder", "drops": "feeder", "feed": "feeder", "insulator": "gap",
    "lh": "left", "rh": "right", "left-hand": "left", "right-hand": "right", "lefthand": "left", "righthand": "right",
    "y": "wye", "straight-through": "through", "main": "through", "diverge": "diverging", "branch": "diverging",
    "powered-frog": "live-frog", "plastic-frog": "dead-frog",
    "power": "booster", "supply": "booster", "breaker": "district", "reversed": "crossed", "swapped": "crossed",
    "no": "number", "nr": "number", "num": "number", "bumper": "stop", "insulate": "gap",
    "line": "segment", "siding": "segment", "spur": "segment", "points": "turnout", "loco": "engine",
    "locomotive": "engine", "throttle": "cab", "controller": "cab", "powerpack": "cab", "power-pack": "cab",
    "detector": "block", "light": "lamp", "bulb": "lamp", "breaks": "trips", "auto": "automatic",
    "autoreverser": "reverser", "auto-reverser": "reverser", "threeway": "three-way", "transfertable": "transfer-table",
    "live": "live-frog", "isolated": "isolated-frog", "dead": ("dead-frog", "unpowered"),
    "from": "in", "on": ("from", "in"), "of": ("from", "in"), "behind": ("from", "in"), "wires": ("feeder", "legs"),
}  # fmt: skip
"""Words of everyday speech for keywords; each is taken only where its keyword can stand."""
NO_NAMES = {"dead", "powered", "unpowered", "auto", "not", "on", "off", "the", "a", "to", "of"}
"""Words that nobody means as a name."""
ENDS = {
    "points", "through", "diverging", "left", "right", "start", "finish", "red", "black", "bridge", "stock", "frog",
    "a1", "a2", "b1", "b2", "a", "b",
}  # fmt: skip
RATIOS = {
    "22.5": "G", "43.5": "O", "45": "O", "48": "O", "64": "S", "87": "HO", "87.1": "HO", "120": "TT", "160": "N",
    "220": "Z",
}  # fmt: skip
"""Scales by their proportion, from memory of NMRA S-1.2; some say 1:43.5 or 1:45 for what is built to O gauge."""
_RATIO = re.compile(r"1\s?[:/]\s?([0-9]+(?:\.[0-9]+)?)(?![\w.])")
_MARK = re.compile(r"#\s?([0-9]+(?:\.[0-9]+)?)(?![\w.])")
_COMMA = re.compile(r'"[^"\n]*"|[,;:](?=\s|$)')
_SLIP = re.compile(r"(double|single)[- ]slip\s+(\S+)", re.IGNORECASE)
_WAY = re.compile(r"(?:3|three)[- ]?way\b", re.IGNORECASE)
MARKS = (",", ";", ":")
_NUMBERED = re.compile(r"(?:n[or]|num)\.?\s*([0-9]+(?:\.[0-9]+)?)(?![\w.])", re.IGNORECASE)


def marked_number(fault: Misreading) -> Broken | None:
    """`#5`, of which the language reads nothing: `#` starts a comment."""
    found = _MARK.match(fault.raw, fault.raw.find("#", fault.token.start))
    if found is None or fault.token.kind != END:
        return None
    forms = ((found[1], "NUMBER"), (f"number {found[1]}", "number"), (f"{found[1]} AWG", "SIZE"))
    meant = next((meant for meant, kind in forms if fault.takes(kind)), f"number {found[1]}")
    message = f"`#` starts a comment, so nothing from `{found[0]}` on was read: write `{meant}`"
    return fault._replace(token=Token("", found[0], found.start())).tell(message, meant)


def scale_by_ratio(fault: Misreading) -> Broken | None:
    """`1:87`."""
    found = _RATIO.match(fault.line, fault.token.start)
    if found is None or found[1] not in RATIOS or "scale_name" not in fault.expected.roles:
        return None
    return fault.tell(f"a scale is told by its letters: write `{RATIOS[found[1]]}`", RATIOS[found[1]], found.end())


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
    """Commas after the parts, as in a list, and colons after the first of them."""
    places = [one.start() for one in _COMMA.finditer(fault.line) if one[0] in MARKS]
    if not places or places[-1] < fault.token.start:
        return None
    first, stop = places[0], places[-1] + 1
    meant = _COMMA.sub(_without, fault.line[first:stop] + " ")[:-1]
    message = "the parts of a statement stand with blanks between them, without commas or colons"
    return fault._replace(token=Token("", fault.line[first:stop], first)).tell(message, meant)


def _without(found: re.Match[str]) -> str:
    return {",": " ", ";": " ", ":": ""}.get(found[0], found[0])


def capitals(fault: Misreading) -> Broken | None:
    """`Turnout`, `LEFT`."""
    meant = fault.token.text.lower()
    if meant == fault.token.text or meant not in fault.expected.keywords:
        return None
    return fault.tell(f"the words of the language are in small letters: write `{meant}`", meant)


def synonym(fault: Misreading) -> Broken | None:
    """`switch` for `turnout`."""
    known = SYNONYMS.get(fault.token.text.lower(), ())
    words = known if isinstance(known, tuple) else (known,)
    meant = next((one for one in words if one in fault.expected.keywords), None)
    if meant is None:
        return None
    return fault.tell(f"what you call {fault.shown} is called `{meant}` in a plan", meant)


def kind_of_two_words(fault: Misreading) -> Broken | None:
    """`double slip D1`, `3-way W1`."""
    slip, way = _SLIP.match(fault.line), _WAY.match(fault.line)
    found = slip or way
    if found is None or fault.before:
        return None
    meant = f"slip {slip[2]} {slip[1].lower()}" if slip else "three-way"
    return fault.tell(f"write `{meant}`", meant, found.end())


def which_build(fault: Misreading) -> Broken | None:
    """`insulated`, which means one thing to one maker and another to the next."""
    if fault.token.text.lower() not in ("powered", "insulated", "metal", "electric") or not fault.takes("live-frog"):
        return None
    return fault.tell(
        f"{fault.shown} may mean any of three: a frog of plastic is `dead-frog`, a metal one that is one with its "
        "rails is `live-frog`, and a metal one that stands alone is `isolated-frog`"
    )


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
    if len(fitting) != 1 or fault.token.kind == END or fault.token.text.lower() in NO_NAMES:
        return None
    what = "an arrow `->`" if fitting[0] == "->" else f"`{fitting[0]}`"
    return fault.tell(f"{what} is missing before {fault.shown}", f"{fitting[0]} {fault.token.text}")
