"""A line that is taken apart by the pattern of its shape reads as it does word by word."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from plan_texts import statement_lines
from trackplan import shapes
from trackplan.make import Senseless
from trackplan.parse import END, Unexpected, parse, shape_of, words
from trackplan.quantities import Quantity
from trackplan.read import without_comments
from trackplan.shapes import MOST_PATTERNS, OFTEN, SPELLED, by_pattern, line_pattern, made, written_out
from trackplan.span import Word

LIKE = "turnout T1 left number 6 live-frog"


def kinds_of(line: str) -> tuple[str, ...]:
    return tuple(word.kind for word in words(line))


pattern_of = cache(line_pattern)


@given(statement_lines(), statement_lines(), st.data())
@example("frog T1 switched through a diverging b", "frog T1 switched through a diverging left", None)
@example("train stop 2 m", "train keep-alive 2 m", None)
@example("limit a 6", "limit a 6ft 3in", None)
@example("limit a 2", "limit a 2x 14 AWG", None)
@example("rails code 6", "rails code 6 mm", None)
@example("segment a b -> c 1 m code 6 x", "segment a b -> c 1 m code 6 ft6", None)
@example("joint a -> b", "joint a-x->b", None)
@example("gap a left rail", "gap a left-2 rail", None)
def test_only_lines_whose_words_are_of_these_kinds_match(one: str, other: str, data: st.DataObject | None) -> None:
    """Of a line itself, of another one, and of one that goes on as another does, anywhere."""
    own = without_comments(one).strip()
    cut, on = (data.draw(st.integers(0, len(own))), data.draw(st.integers(0, len(other)))) if data else (0, 0)
    kinds = kinds_of(own)
    for line in (own, other, own[:cut] + other[on:]):
        bare = without_comments(line).strip()
        if found := pattern_of(kinds).fullmatch(bare):
            named = [text for text, kind in zip(found.groups(), kinds, strict=True) if kind == "WORD"]
            if SPELLED.isdisjoint(named):
                told = [
                    (kind, text, at[0]) for kind, text, at in zip(kinds, found.groups(), found.regs[1:], strict=True)
                ]
                assert told == list(words(bare))


@given(statement_lines())
def test_the_line_itself_matches(line: str) -> None:
    """All but numbers behind which a word begins as a unit does."""
    bare = without_comments(line).strip()
    kinds = kinds_of(bare)
    found = pattern_of(kinds).fullmatch(bare)
    assert found or "NUMBER" in kinds
    assert not found or kinds[-1] == END


@given(statement_lines())
@example("rails code 100 metal brass")
@example("frog T1 switched with T2 through a.red diverging a.black")
@example("feeder main -> s at 20 cm 22 AWG 0 cm crossed")
def test_the_function_of_a_shape_says_what_its_steps_say(line: str) -> None:
    """Every word and quantity at its place, with the keywords that lead up to it, and what makes no sense as that."""
    found = [tuple(word) for word in words(without_comments(line).strip())]
    shape = shape_of(found)
    _, texts, starts = zip(*found, strict=True)
    extents = [(start, start + len(text)) for text, start in zip(texts, starts, strict=True)]
    if shape.wrong is None:
        assert _tried(lambda: written_out(shape.steps)(texts, extents)) == _tried(
            lambda: made(shape.steps, texts, extents)
        )


def _tried(read: Callable[[], object]) -> object:
    try:
        return _in_full(read())
    except Senseless as fault:
        return fault.args


def _in_full(said: object) -> object:
    if isinstance(said, tuple):
        return type(said), [_in_full(one) for one in said]
    if isinstance(said, Word | Quantity):
        text = said.text if isinstance(said, Quantity) else ""
        return type(said), said, text, said.start, said.end, [_in_full(one) for one in said.lead]
    return said


@pytest.fixture
def nothing_met(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if no line had been read yet."""
    monkeypatch.setattr("trackplan.parse._shapes", {})
    monkeypatch.setattr("trackplan.shapes._patterns", {})


@pytest.mark.usefixtures("nothing_met")
def test_a_shape_that_is_met_often_has_a_pattern() -> None:
    """And what such lines say is what the first of them said; what is no such line is told as before."""
    lines = [LIKE.replace("T1", f"N{number}") for number in range(OFTEN + 1)]
    first = [parse(line) for line in lines]
    assert by_pattern(lines[0])
    assert [parse(line) for line in lines] == first
    assert [word.start for word in parse(lines[7])[1:4]] == [word.start for word in first[7][1:4]]
    for wrong in (LIKE.replace("T1", "left"), f"{LIKE} live-frog", LIKE.replace("6", "6 m"), LIKE.replace("6", "6.")):
        try:
            parse(wrong)
        except Unexpected:
            assert by_pattern(wrong) is None


@pytest.mark.usefixtures("nothing_met")
def test_patterns_are_few() -> None:
    """Whatever a text says: each is asked of every line that begins with its word."""
    for number in range(2 * MOST_PATTERNS):
        for _ in range(OFTEN):
            parse(f"construction C1 rail{' x' * (number + 1)} opening one left x right x enters end")
    assert len(shapes._patterns["construction"]) == MOST_PATTERNS
