"""Slips of the fingers in a number: two digits exchanged, one too many, a dot lost, the key beside; a size like no
other.

Tried only where a number itself is told to be wrong, and only for such as may be right in its place: what other lines
have, or what boosters and breakers mostly give.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from trackplan.amend import parts_of, set_word
from trackplan.quantities import Current, Length, Quantity, Voltage, WireSize
from trackplan.statements import Bus, District, Feeder, Reverser, Statement, Train

from .sizes import texts_of_others
from .slip import HandSlip

SET_TO = {12.0, 15.0, 16.0, 18.0}
"""Volts that boosters and cabs are mostly set to (common practice, from memory)."""

MOST_VOLTS, MOST_AMPERES = 20.0, 10.0
"""Beyond these a booster's, a cab's or a breaker's number is looked at twice (common practice, from memory)."""

LONG = 5.0
"""Meters beyond which a train on a railroad in a house is looked at twice."""

EXCHANGED, TOO_MANY, HALF, LAST, DOT, BESIDE = 0.0, 0.5, 0.55, 0.6, 0.75, 1.0
"""How far off, in steps, each such slip is, the last digit too many a little further than another; and a dot that was
lost, which is nearer before a five, for breakers are mostly set to whole and half amperes (common practice, from
memory)."""

AS_ALL = -1.0
"""The same where all other lines of the kind, two at least, have one and the same size."""

_DIGITS = r"[0-9]+(?=\s*[A-Za-z])"


def typed_slips(facts: Facts, statement: Statement) -> Iterator[HandSlip]:
    """Every number of a statement as it may have been meant."""
    for part in parts_of(tuple(statement[1:])):
        if isinstance(part, WireSize) and isinstance(statement, Bus | Feeder):
            yield from _as_others(facts, statement, part)
        elif isinstance(part, Voltage) and part > MOST_VOLTS:
            near = ((text, far) for text, far in mistyped(part.text) if _number(text) in SET_TO)
            yield from (_slip(statement, part, text, far) for text, far in near)
        elif isinstance(part, Current) and isinstance(statement, District | Reverser) and part > MOST_AMPERES:
            near = ((text, far) for text, far in mistyped(part.text) if 1 <= _number(text) <= MOST_AMPERES)
            yield from (_slip(statement, part, text, far) for text, far in near)
        elif isinstance(part, Length) and isinstance(statement, Train) and part > LONG:
            near = ((text, far) for text, far in mistyped(part.text) if far in (TOO_MANY, LAST))
            yield from (_slip(statement, part, text, far) for text, far in near)


def _as_others(facts: Facts, statement: Bus | Feeder, part: WireSize) -> Iterator[HandSlip]:
    """The size that all the other runs or drops have; one that some have, where a slip of the fingers leads to it."""
    sizes = texts_of_others(facts, statement, part)
    near = dict(mistyped(part.text))
    for text, often in sizes.items():
        if text != part.text and (text in near or (len(sizes) == 1 and often > 1)):
            yield _slip(statement, part, text, AS_ALL if len(sizes) == 1 else near[text])


def _slip(statement: Statement, part: Quantity, text: str, far: float) -> HandSlip:
    name = str(statement.terminal if isinstance(statement, Bus) else getattr(statement, "name", statement[1]))
    words, said = f"write `{text}` for `{part.text}`", f"{part.text} is a slip for {text}"
    return HandSlip("unit", statement.at, (set_word(statement, part, text),), words, said, (name,), far)


def mistyped(text: str) -> Iterator[tuple[str, float]]:
    """What one slip of the fingers makes such a number of, and how far off that is."""
    typed = re.search(_DIGITS, text)
    digits = typed[0] if typed else ""
    made: dict[str, float] = {}
    for at in range(len(digits)):
        before, here, after = digits[:at], digits[at], digits[at + 1 :]
        if after:
            made.setdefault(before + after[0] + here + after[1:], EXCHANGED)
        for key in (int(here) - 1, int(here) + 1):
            if 0 <= key <= 9:
                made.setdefault(f"{before}{key}{after}", BESIDE)
        if after and int(after):
            made.setdefault(f"{before}{here}.{after}", HALF if int(after) == 5 else DOT)
        if len(digits) > 1:
            far = TOO_MANY if after else LAST
            made[before + after] = min(made.get(before + after, far), far)
    for other, far in sorted(made.items(), key=lambda one: (one[1], -float(one[0]))):
        if typed and other != digits and not other.startswith("0"):
            yield text[: typed.start()] + other + text[typed.end() :], far


def _number(text: str) -> float:
    return float(text.split()[0]) if " " in text else float(re.sub(r"[A-Za-z]+$", "", text))
