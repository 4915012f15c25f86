"""A word of the language is a name wherever the grammar cannot take it as that word."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from plan_texts import CLAUSES, FORMS
from trackplan.read import read
from trackplan.span import Source, Word
from trackplan.tables import KEYWORDS

EXAMPLES = {
    "text": '"x"', "volts": "15 V", "amps": "4 A", "ohms": "50 mohm", "length": "90 cm", "size": "14 AWG",
    "angle": "30 degrees", "route": "through", "shape": "symmetrical", "time": "3 s", "speed": "20 mm/s",
    "number": "6", "places": "0 31 62 mm", "rail": "left rail", "what": "around frog", "clause": CLAUSES[0],
    "end": "A", "name": "A",
}  # fmt: skip
MARK = "\0"

# A name with a word of the language after it that could be a name as well: there the language's word wins.
TAKEN = {
    "segment": {"stop"},
    "joint": set(),
    "any": {"between"},
    "construction": {
        "aligned", "blade", "enters", "frog", "leaves", "left", "opening", "pass", "positions", "rail", "right",
        "stock", "tie", "touching", "soldered", "end", "part", "through", "diverging",
    },
}  # fmt: skip


def slots() -> Iterator[str]:
    """Every form of statement with a mark where one of its names stands, all else filled in."""
    for form in FORMS:
        whole = re.sub(r"\S*\|\S*", lambda choice: choice[0].split("|")[0], form.replace("[", "").replace("]", ""))
        names = list(re.finditer(r"\{(?:name|end)\}", whole))
        for name in names:
            marked = whole[: name.start()] + MARK + whole[name.end() :]
            yield re.sub(r"\{(\w+)\}", lambda part: EXAMPLES[part[1]], marked)


def words(part: object) -> Iterator[Word]:
    if isinstance(part, Word):
        yield part
    elif isinstance(part, tuple):
        for one in part:
            yield from words(one)


@pytest.mark.parametrize("form", dict.fromkeys(slots()), ids=lambda form: form.replace(MARK, "_"))
def test_every_keyword_is_a_name(form: str) -> None:
    kind, plain = form.split()[0], read(Source("p", form.replace(MARK, "A")))
    assert len(plain.statements) == 1, plain.broken
    place = form.index(MARK)
    refused = set()
    for keyword in sorted(KEYWORDS):
        reading = read(Source("p", form.replace(MARK, keyword)))
        named = [word for one in reading.statements for word in words(one[1:]) if word.start == place]
        if named != [keyword] or type(reading.statements[0]) is not type(plain.statements[0]):
            refused.add(keyword)
    assert refused <= TAKEN.get(kind, set())


def test_such_a_name_serves_everywhere() -> None:
    """A whole plan whose things are all named by words of the language."""
    plan = """
booster open 15 V 5 A
district from from open trips 4 A legs left right
segment leg end -> part.points 90 cm
turnout part left number 6 isolated-frog
segment around part.through -> stop 90 cm
segment frog part.diverging -> stop 90 cm
frog part switched through from.left diverging from.right
endplate end left left
feeder from -> leg
feeder from -> around
feeder from.left -> frog.left
accept unfed-rail at rail because "x"
"""
    reading = read(Source("p", plan))
    assert not reading.broken
    assert len(reading.statements) == 12
