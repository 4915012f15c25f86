"""What somebody saw at the bench, in a small text of its own: one observation a line, files end in `.seen`.

    beeps   P1.red and siding.right  with T1 diverging
    silent  P1.red and west.left  with T1 diverging  without P2, west at 45 cm
    trips   main  with T2 diverging, T3 through
    trips   at T1 through
    holds   main
    dies    at T3 diverging
    runs    at siding
    runs    backwards in yard
    lamp dim at end
    detector of span always on
    mended

Much is said in more ways than one: `breaker trips when the T2 switch is thrown`, `beeps between A and B`, `engine jerks
at T3`, `buzzes at T1`, `dead siding`, `stalls on siding`. `#` starts a comment. Points that are not named stand in
their first position; what stands after `without` was off. After `mended` all before it counts no more.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from .span import Source, Span
from .statements import Broken

Kind = Literal[
    "beeps", "silent", "trips", "holds", "dies", "runs", "backwards", "dim", "always-on", "never-on", "mended"
]

FORMS: dict[str, str] = {
    "beeps": "`beeps P1.red and west.left`",
    "silent": "`silent P1.red and west.left`",
    "trips": "`trips main`, or `trips at T1 through`",
    "holds": "`holds main`",
    "dies": "`dies at T1 diverging`",
    "runs": "`runs at west`",
    "backwards": "`runs backwards in yard`",
    "dim": "`lamp dim at end`",
    "always-on": "`detector of span always on`",
    "never-on": "`detector of span never on`",
    "mended": "`mended`",
}
"""Everything that can be told, by its kind; the words of `MEANT` are read as well."""
MEANT = {
    "beep": "beeps", "tripped": "trips", "trip": "trips", "buzzes": "trips", "sparks": "trips", "shorts": "trips",
    "dead": "dies", "stalls": "dies", "stops": "dies", "jerks": "dies", "hesitates": "dies", "stutters": "dies",
    "run": "runs", "silence": "silent", "no beep": "silent",
}  # fmt: skip
"""Words for the same, and what they are taken to mean."""
EXPECTED = " or ".join((", ".join(list(FORMS.values())[:-1]), list(FORMS.values())[-1]))
FILLERS = re.compile(r"\b(?:the|a|an|between|is|are|meter|breaker|engine|train|loco|it|of|from)\s+")
NAME = r"[A-Za-z][\w.-]*"
PLACE = rf"{NAME}(?: at \d+(?:\.\d+)? ?(?:mm|cm|m))?"
AT = rf"(?:(?:at|on|over|in) )?({NAME})(?: ({NAME}))?"
TAILS = {
    "beeps": rf"({PLACE}) and ({PLACE})",
    "silent": rf"({PLACE}) and ({PLACE})",
    "trips": rf"({NAME})?|(?:at|on|over|in) ({NAME})(?: ({NAME}))?",
    "holds": rf"({NAME})?|(?:at|on|over|in) ({NAME})(?: ({NAME}))?",
    "dies": AT,
    "runs": AT,
    "backwards": AT,
    "dim": AT,
    "always-on": rf"({NAME})",
    "never-on": rf"({NAME})",
    "mended": r"",
}
WHOLE = (
    (r"runs? backwards? (.*)", r"backwards \1"),
    (r"(?:lamp|light|headlight)s? dim (.*)", r"dim \1"),
    (r"dim (.*)", r"dim \1"),
    (r"detector (\S+) always on", r"always-on \1"),
    (r"detector (\S+) never on", r"never-on \1"),
    (r"(\S+) dead", r"dies at \1"),
)
"""Sentences whose first word does not tell what was seen."""
LONGEST = 1000


class Seen(NamedTuple):
    """One observation: what it names, how points stood, and what was `off`. `thrown` as a position is any but the
    first one. `there` says that a train at a place is meant, not a supply."""

    at: Span
    kind: Kind
    names: tuple[str, ...]
    setting: tuple[tuple[str, str], ...]
    text: str
    off: tuple[str, ...] = ()
    there: bool = False


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
    told, _, off = re.sub(r"\s+without\s+", "\0", words, count=1).partition("\0")
    head, _, setting = re.sub(r"\s+(?:with|when|while)\s+", "\0", FILLERS.sub("", f"{told} "), count=1).partition("\0")
    kind, tail = _kind(head.strip())
    if kind not in TAILS:
        return Broken(at, f"`{kind}` is not something that is seen: expected {EXPECTED}")
    found = re.fullmatch(TAILS[kind], tail.strip())
    if not found:
        return Broken(at, f"expected {FORMS[kind]}, and after that, if you like, `with T1 diverging`")
    stands = _setting(setting)
    if stands is None:
        return Broken(at, "expected after `with` how points stood, such as `with T1 diverging, T2 through`")
    names = tuple(name for name in found.groups() if name)
    there = kind in ("trips", "holds") and bool(re.match(r"(?:at|on|over|in) ", tail.strip()))
    taken = tuple(one.strip() for one in off.split(",") if one.strip())
    return Seen(at, kind, names, stands, words, taken, there)  # type: ignore[arg-type]


def _kind(head: str) -> tuple[str, str]:
    """The kind of an observation, and what follows it."""
    for form, meant in WHOLE:
        if re.fullmatch(form, head):
            head = re.sub(form, meant, head)
            break
    first, _, tail = head.partition(" ")
    return MEANT.get(first, first), tail


def _setting(text: str) -> tuple[tuple[str, str], ...] | None:
    """`T1 diverging, T2 through` as pairs; None where it is anything else."""
    plain = re.sub(r"\b(?:switch|points|turnout|stands?|set|to|for)\s+", "", f"{text} ")
    parts = [part.split() for part in re.split(r",|\band\b", plain)] if plain.strip() else []
    if any(len(part) != 2 for part in parts):
        return None
    return tuple((part[0], part[1]) for part in parts)
