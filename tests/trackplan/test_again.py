"""A plan that is revised again: what no new edit touches is there as it was."""

from __future__ import annotations

from collections.abc import Sequence

from trackplan.again import as_before
from trackplan.edit import Edit, add_line, replace, revise
from trackplan.read import read
from trackplan.span import Source, Span
from trackplan.statements import Statement

TEXT = "segment a stop -> J 1 m\nsegment b J -> stop 1 m\nfeeder P -> a\nfeeder P -> b\n"
SOURCE = Source("x", TEXT)
READ = read(SOURCE).statements


def revised(*edits: Edit) -> list[Statement]:
    return revise(READ, edits, {"x": SOURCE})


def crossed(nth: int) -> Edit:
    at = READ[nth].at
    return replace(Span("x", at.end, at.end), " crossed")


def is_same(one: Sequence[Statement], other: Sequence[Statement]) -> list[bool]:
    return [first is second for first, second in zip(one, other, strict=True)]


def test_a_line_that_was_changed_before_is_the_same_object() -> None:
    first = revised(crossed(2))
    anew = revised(crossed(2), crossed(3))
    assert is_same(first, anew) == [True, True, False, False]
    assert is_same(first, as_before(first, anew)) == [True, True, True, False]
    assert as_before(first, anew) == anew


def test_a_line_that_is_changed_otherwise_now_is_another() -> None:
    first = revised(crossed(2))
    other = revised(replace(Span("x", READ[2].at.end, READ[2].at.end), " 22 AWG crossed"))
    assert is_same(first, as_before(first, other)) == [True, True, False, True]


def test_what_is_added_comes_behind_what_was_added_before() -> None:
    late, early = add_line(READ[3].at, "gap J both rails"), add_line(READ[0].at, "gap J left rail")
    first = revised(late)
    anew = revised(late, early)
    again = as_before(first, anew)
    assert is_same(first, again[:5]) == [True] * 5
    assert anew[-1] == first[-1] and again[-1] == anew[-2]


def test_of_two_lines_alike_each_stands_for_one() -> None:
    twice = revised(add_line(READ[3].at, "gap J both rails"), add_line(READ[0].at, "gap J both rails"))
    again = as_before(twice, revised(crossed(2), *(add_line(READ[nth].at, "gap J both rails") for nth in (3, 0))))
    assert is_same(twice, again) == [True, True, False, True, True, True]
    assert len({id(one) for one in again}) == len(again)
