"""How a line reads hangs on nothing but the kinds of its words: its shape, of which even long plans have few.

A shape that is met often has one pattern that takes such a line apart, in a quarter of the time in which its words are
found one by one, and one function that makes of them what they say. It is asked of lines that begin with the same word,
and matches none that would read in another way.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from operator import itemgetter

from .former import FORMER
from .make import Make, Senseless
from .quantities import MEASURES, Quantity, read_quantity
from .record import NamedTuple
from .span import Word
from .tables import KEYWORDS, TERMINALS
from .typed import Any, cast

_as_word: Any = str.__new__
SPELLED = KEYWORDS | {"->"}
KEYWORD = "keyword"
"""The kind of all keywords in a step: no kind of word has that name."""

OFTEN, MOST_PATTERNS = 100, 16
"""How often a shape is met before its pattern is made, which takes about as long as to read so many lines; and for how
many shapes that begin with the same word."""

Pick = Callable[[Sequence[Any]], Sequence[Any]]
Reduction = tuple[Sequence[int], Pick, Make]
"""Which of all values so far become one, what picks them, and how."""
Maker = Callable[[Sequence[str], Sequence[tuple[int, int]]], Any]
"""What the words of a line say, which begin and end there."""


class ParseStep(NamedTuple):
    """What is done at a word: what is complete before it, and the kind of the value in its place; none for the line's
    end, and for a word that cannot stand there."""

    complete: tuple[Reduction, ...]
    kind: str | None


class LineShape:
    """How a line reads, by the kinds of its words: step by step, as far as its first word that cannot stand where it
    does, which is `wrong`."""

    __slots__ = ("steps", "wrong", "met")

    def __init__(self, steps: Sequence[ParseStep], wrong: Any) -> None:
        self.steps = steps
        self.wrong = wrong
        self.met = 0


def picking(places: Sequence[int]) -> Pick:
    """Picks these of some values."""
    if len(places) == 1:
        (place,) = places
        return lambda values: (values[place],)
    return itemgetter(*places) if places else lambda _: ()


def made(steps: Sequence[ParseStep], texts: Sequence[str], extents: Iterable[tuple[int, int]]) -> Any:
    """What the words of a line say, when they are read by these steps; None of no words."""
    values: list[Any] = [None]  # the first is what is left out
    append = values.append
    lead: tuple[Word, ...] = ()
    for (complete, kind), text, (start, end) in zip(steps, texts, extents, strict=False):
        for _, pick, make in complete:
            append(make(pick(values)))
        if kind is KEYWORD:
            (word,) = own = _keyword(text, start)
            append(word)
            lead = (*lead, word) if lead else own
        elif kind in MEASURES:
            begins = [word.start for word in lead]
            append(_led(kind, text, start, lead, *begins) if lead else value_of(kind, text, start))
            lead = ()
        elif kind is not None:  # a word as `Word` makes it, without the call: a long plan has many
            value = _as_word(Word, text)
            value.start, value.end, value.lead = start, end, lead
            append(value)
            lead = ()
    return values[-1]


def written_out(steps: Sequence[ParseStep]) -> Maker:
    """The same for lines that are all read by these steps, as one function: what nobody picks is not made. It is
    written of the grammar's own steps alone, no word of a plan goes into it, and takes three quarters of the time."""
    picked = {place for complete, _ in steps for places, *_ in complete for place in places}
    known = {"keyword": _keyword, "as_word": _as_word, "Word": Word, "led": _led, "value_of": value_of, "v0": None}
    ends = ", ".join(f"(s{nth}, e{nth})" for nth in range(len(steps)))
    lines, count = [f"{', '.join(f't{nth}' for nth in range(len(steps)))} = texts", f"{ends} = extents"], 1
    lead, begins = "", ""
    for nth, (complete, kind) in enumerate(steps):
        for places, _, make in complete:
            known[f"make{count}"] = make
            lines.append(f"v{count} = make{count}(({''.join(f'v{place}, ' for place in places)}))")
            count += 1
        if kind is KEYWORD:
            lines.append(f"[v{count}] = k{count} = keyword(t{nth}, s{nth})")
            lead, begins = f"{lead} + k{count}" if lead else f"k{count}", f"{begins}, s{nth}"
        elif kind in MEASURES:
            lines.append(f"v{count} = " + (f"led({kind!r}, t{nth}, s{nth}, {lead}{begins})" if lead else
                                           f"value_of({kind!r}, t{nth}, s{nth})"))  # fmt: skip
        elif kind is not None and count in picked:
            lines.append(f"v{count} = value = as_word(Word, t{nth})")
            lines.append(f"value.start, value.end, value.lead = s{nth}, e{nth}, {lead or '()'}")
        lead, begins = (lead, begins) if kind is KEYWORD else ("", "")
        count += kind is not None
    body = "\n ".join([*lines, f"return v{count - 1}"])
    exec(f"def read(texts, extents):\n {body}", known)
    found: Any = known["read"]
    return cast("Maker", found)


@lru_cache(4096)
def _keyword(text: str, start: int) -> tuple[Word]:
    """A keyword at a place, as all that leads up to a word: the same for all lines that have it there."""
    return (Word(text, start),)


@lru_cache(4096)
def value_of(kind: str, text: str, start: int) -> Quantity:
    """A quantity at a place that no keyword leads up to: the same for all lines that have it there."""
    try:
        return read_quantity(kind, text, start)
    except ValueError as error:
        raise Senseless(start, start + len(text), str(error)) from None


def forget_words() -> None:
    """Lets go of the words that many lines have at the same place."""
    for known in (_keyword, value_of, _led):
        known.cache_clear()


@lru_cache(4096)
def _led(kind: str, text: str, start: int, lead: tuple[Word, ...], *_begins: int) -> Quantity:
    """The same behind some keywords, which begin there."""
    value = value_of.__wrapped__(kind, text, start)
    value.lead = lead
    return value


def by_pattern(text: str) -> Any:
    """Kind and parts of what a line says by the pattern of its shape; None where it has none."""
    for match, names, make in _patterns.get(text.partition(" ")[0], ()):
        if found := match(text):
            texts = found.groups()
            if _RESERVED.isdisjoint(names(texts)):
                return make(texts, found.regs[1:])
    return None


def meet(kinds: Sequence[str], shape: LineShape) -> None:
    """Counts a line that reads, of these kinds of words, and makes the pattern of its shape when there were enough."""
    shape.met += 1
    if shape.met == OFTEN and SPELLED.union(TERMINALS).issuperset(kinds[:-1]):
        known = _patterns.setdefault(kinds[0], [])
        if len(known) < MOST_PATTERNS:
            names = [place for place, kind in enumerate(kinds) if kind == "WORD"]
            known.append((line_pattern(kinds).fullmatch, picking(names), written_out(shape.steps)))


_patterns: dict[str, list[tuple[Callable[[str], re.Match[str] | None], Pick, Maker]]] = {}
_RESERVED = SPELLED.union(FORMER)


def line_pattern(kinds: Sequence[str]) -> re.Pattern[str]:
    """A pattern for the whole of a line whose words are of these kinds, with a group for each word and for its end. No
    word is any shorter than where words are found one by one, and no number is one with a unit."""
    return re.compile("".join(rf"\s*+((?>{_word_pattern(kind)}))" for kind in kinds[:-1]) + r"\s*+()")


def _word_pattern(kind: str) -> str:
    if kind == "NUMBER":
        units = "|".join(sorted(re.escape(unit) for measure in MEASURES.values() for unit in measure.units if unit))
        return rf"{TERMINALS[kind]}(?!\s*(?:{units})(?![^\W\d_]))"
    if kind in TERMINALS:
        return TERMINALS[kind]
    return re.escape(kind) if kind == "->" else rf"{re.escape(kind)}(?!\w|-+\w|\.\w)"
