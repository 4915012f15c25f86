"""Changes of one statement: only what they are about is changed, wherever the line breaks and whatever it names."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trackplan.amend import add_clause, drop_clause, set_statement, set_word, take_out
from trackplan.edit import Edit, apply, revise
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Statement

Change = Callable[[Source, Statement], Edit]


def changed(text: str, change: Change) -> str:
    source = Source("plan", text)
    return apply(source, [change(source, read(source).statements[0])])


def field(name: str) -> Callable[[Statement], object]:
    return lambda statement: getattr(statement, name)


def dropped(name: str, opens: str = "") -> Change:
    return lambda source, one: drop_clause(source, one, field(name)(one), opens)


def added(name: str, text: str) -> Change:
    return lambda _, one: add_clause(one, name, text)


@pytest.mark.parametrize(
    ("before", "change", "after"),
    [
        ("feeder P1 -> a crossed\n", dropped("crossed"), "feeder P1 -> a\n"),
        ("feeder P1 -> a   crossed  # by hand\n", dropped("crossed"), "feeder P1 -> a  # by hand\n"),
        ("frog T-with switched with T2 through a.r diverging a.b\n", dropped("mover", "with"),
         "frog T-with switched through a.r diverging a.b\n"),
        ("feeder R -> T.bridge  split at 90 degrees through contacts of T one\n", dropped("split", "split"),
         "feeder R -> T.bridge through contacts of T one\n"),
        ("feeder P1 -> a\n    at 20 cm  # here\n    crossed\n", dropped("place", "at"),
         "feeder P1 -> a\n  # here\n    crossed\n"),
        ("feeder R -> T.bridge split at 90 degrees\n", added("crossed", "crossed"),
         "feeder R -> T.bridge crossed split at 90 degrees\n"),
        ("feeder P1 -> spur  through contacts of T1 diverging\n", added("crossed", "crossed"),
         "feeder P1 -> spur crossed  through contacts of T1 diverging\n"),
        ("feeder P1 -> a  22 AWG  20 cm\n", added("place", "at 5 cm"), "feeder P1 -> a at 5 cm  22 AWG  20 cm\n"),
        ("district main from B1 legs red black\n", added("trips", "trips 4 A"),
         "district main from B1 trips 4 A legs red black\n"),
        ("block spur in C1 or main\n", added("others", "or hand"), "block spur in C1 or hand or main\n"),
    ],
)  # fmt: skip
def test_a_clause(before: str, change: Change, after: str) -> None:
    assert changed(before, change) == after


def test_a_word_and_a_whole_statement() -> None:
    text = "gap T1.points both rails  # first\ngap b left rail\n"
    assert changed(text, lambda _, one: set_word(one, one.rail, "left rail")).startswith("gap T1.points left rail  #")  # type: ignore[union-attr]
    assert changed(text, lambda _, one: set_statement(one, "gap c both rails")).startswith("gap c both rails  # first")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("bond T1 closure rails to stock rails\nplan \"x\"\n", "plan \"x\"\n"),
        ("bond T1 closure rails to stock rails  # done\nplan \"x\"\n", "  # done\nplan \"x\"\n"),
        ("bond T1 closure rails\n    to stock rails", ""),
    ],
)  # fmt: skip
def test_a_statement_taken_out_leaves_the_comment_beside_it(before: str, after: str) -> None:
    assert changed(before, take_out) == after


def test_a_changed_statement_still_knows_where_its_keywords_stood() -> None:
    """A mend may build on another that was made in the head: its places are those of the text as it is."""
    text = "frog T1 switched with T2 through P1.red diverging P1.black\n"
    source = Source("plan", text)
    statements = read(source).statements
    first = set_word(statements[0], statements[0].through, "P10.red")  # type: ignore[union-attr]
    (revised,) = revise(statements, [first], {"plan": source})
    second = drop_clause(source, revised, revised.mover, "with")  # type: ignore[union-attr]
    assert apply(source, [first, second]) == "frog T1 switched through P10.red diverging P1.black\n"
