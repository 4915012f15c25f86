"""What somebody saw at the bench, in a small text of its own: one observation a line, files end in `.seen`.

    beeps   P1.red and siding.right  with T1 diverging
    silent  P1.red and west.left
    trips   main  with T2 diverging, T3 through
    holds   main
    dies    at T3 diverging
    runs    at siding

`breaker trips when T2 is thrown`, `beeps between A and B` and `engine dies at T3` are read as well. `#` starts a
comment. Points that are not named stand in their first position.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from .span import Source, Span
from .statements import Broken

Kind = Literal["beeps", "silent", "trips", "holds", "dies", "runs"]

FORMS: dict[str, str] = {
    "beeps": "`beeps P1.red and west.left`",
    "silent": "`silent P1.red and west.left`",
    "trips": "`trips main`",
    "holds": "`holds main`",
    "dies": "`dies at T1 diverging`",
    "runs": "`runs at west`",
}
EXPECTED = " or ".join((", ".join(list(FORMS.values())[:-1]), list(FORMS.values())[-1]))
FILLERS = re.compile(r"\b(?:the|a|an|between|is|are|meter|breaker|engine|of)\s+")
NAME = r"[A-Za-z][\w.-]*"
PLACE = rf"{NAME}(?: at \d+(?:\.\d+)? ?(?:mm|cm|m))?"
TAILS = {
    "beeps": rf"({PLACE}) and ({PLACE})",
    "silent": rf"({PLACE}) and ({PLACE})",
    "trips": rf"({NAME})?",
    "holds": rf"({NAME})?",
    "dies": rf"(?:at|on|over) ({NAME})(?: ({NAME}))?",
    "runs": rf"(?:at|on|over) ({NAME})(?: ({NAME}))?",
}
LONGEST = 1000


class Seen(NamedTuple):
    """One observation: what it names, and how points stood. `thrown` as a position is any but the first one."""

    at: Span
    kind: Kind
    names: tuple[str, ...]
    setting: tuple[tuple[str, str], ...]
    text: str


def read_seen(source: Source) -> tuple[list[Seen], list[Broken]]:
    """The observations of a text, and its broken lines."""
    seen: list[Seen] = []
    broken: list[Broken] = []
    for number, start in enumerate(source.starts):
        line = source.line_text(number)
        words = " ".join(line.partition("#")[0].split())
        if words:
            at = Span(source.path, start, start + len(line.rstrip()))
            one = _observation(words[:LONGEST], at)
            (seen if isinstance(one, Seen) else broken).append(one)  # type: ignore[arg-type]
    return seen, broken


def _observation(words: str, at: Span) -> Seen | Broken:
    head, _, setting = re.sub(r"\s+(?:with|when)\s+", "\0", FILLERS.sub("", f"{words} "), count=1).partition("\0")
    kind, _, tail = head.strip().partition(" ")
    if kind not in TAILS:
        return Broken(at, f"`{kind}` is not something that is seen: expected {EXPECTED}")
    found = re.fullmatch(TAILS[kind], tail.strip())
    if not found:
        return Broken(at, f"expected {FORMS[kind]}, and after that, if you like, `with T1 diverging`")
    stands = _setting(setting)
    if stands is None:
        return Broken(at, "expected after `with` how points stood, such as `with T1 diverging, T2 through`")
    names = tuple(name for name in found.groups() if name)
    return Seen(at, kind, names, stands, words)  # type: ignore[arg-type]


def _setting(text: str) -> tuple[tuple[str, str], ...] | None:
    """`T1 diverging, T2 through` as pairs; None where it is anything else."""
    parts = [part.split() for part in re.split(r",|\band\b", text)] if text.strip() else []
    if any(len(part) != 2 for part in parts):
        return None
    return tuple((part[0], part[1]) for part in parts)
