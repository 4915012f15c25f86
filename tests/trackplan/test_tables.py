"""The parse tables are those of plan.lark, and the parser gives the answers of Lark's own."""

from __future__ import annotations

import subprocess
import sys
from functools import cache

from hypothesis import example, given
from hypothesis import strategies as st
from lark import Lark, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput

from plan_texts import statement_lines
from trackplan.generate import HERE, build_parser, write_tables
from trackplan.make import Senseless
from trackplan.mistakes.phrases import PHRASES
from trackplan.parse import END, Unexpected, parse
from trackplan.read import without_comments
from trackplan.tables import KEYWORDS, RULES
from trackplan.words import STATEMENTS, begins, expected


def test_tables_are_those_of_the_grammar() -> None:
    told = "plan.lark has changed: run `python -m trackplan.generate` in grammar/"
    assert (HERE / "tables.py").read_text(encoding="utf-8") == write_tables(), told


def test_reading_a_plan_needs_no_lark() -> None:
    code = "import sys, trackplan.gather, trackplan.tidy, trackplan.mistakes; print('lark' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=HERE.parent, capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


@cache
def lark() -> Lark:
    return build_parser()


def by_lark(line: str) -> tuple[str, list[bool]] | int | None:
    """Kind and which parts are left out, or where the line cannot be read on; None for its end."""
    try:
        tree = lark().parse(line)
    except UnexpectedInput as error:
        ends = not isinstance(error, UnexpectedCharacters) and error.token.type == END  # type: ignore[attr-defined]
        return None if ends else error.pos_in_stream
    assert isinstance(tree, Tree)
    return tree.data.replace("_", ""), [child is None for child in tree.children]


def by_us(line: str) -> tuple[str, list[bool]] | int | None:
    try:
        statement = parse(line)
    except Unexpected as error:
        return None if error.token.kind == END else error.token.start
    return type(statement).__name__.lower(), [part is None for part in statement[1:]]


@given(statement_lines(), statement_lines(), st.data())
@example("frog T1 switched", "", None)
def test_same_answer_as_lark(one: str, other: str, data: st.DataObject | None) -> None:
    """On whole statements, and on lines that go on as another one does, or stop, anywhere."""
    cut, on = (data.draw(st.integers(0, len(one))), data.draw(st.integers(0, len(other)))) if data else (99, 0)
    for line in (one, one[:cut] + other[on:]):
        bare = without_comments(line).lstrip()
        try:
            assert by_us(bare) == by_lark(bare)
        except Senseless as error:
            stop = by_lark(bare)
            assert not isinstance(stop, int) or stop >= error.start


def test_every_part_has_its_phrase() -> None:
    rules = {name for name, _, _ in RULES} - {f"<{one}>" for one in PHRASES}
    told_by_others = {name for name in rules if begins(name) & set(STATEMENTS)} | {"<numbers>"}
    assert rules == told_by_others


def test_every_keyword_is_expected_somewhere() -> None:
    assert set(STATEMENTS) == set(expected("").keywords)
    assert {"dead-frog", "closure", "because", "crossed"} <= KEYWORDS


def test_what_may_follow() -> None:
    assert expected("stub S1 left").keywords == ("number", "dead-frog", "isolated-frog", "live-frog")
    assert expected("feeder P1 ->").roles == ("fed_rail",)
    assert expected("feeder P1 -> west").ends
    assert expected("bus main").words == ("->",)
    assert expected("turnout turnout") == ((), (), False)
