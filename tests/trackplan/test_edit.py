"""Edits of a text, and of statements in the head: both say the same."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan_texts import plans, statement_lines
from trackplan.edit import Edit, add_line, apply, replace, revise
from trackplan.read import read
from trackplan.span import Source, Span
from trackplan.statements import Statement, where

PLAN = "turnout T1 left live-frog  # new\nsegment west W -> T1\n  90 cm\ntrain long 2 m"


def spans(source: Source, *words: str) -> list[Span]:
    return [Span(source.path, source.text.index(word), source.text.index(word) + len(word)) for word in words]


def test_edits_are_made_together_and_equal_ones_once() -> None:
    source = Source("x", PLAN)
    build, length = spans(source, "live-frog", "90")
    edits = [replace(length, "95"), replace(build, "dead-frog"), replace(length, "95")]
    assert apply(source, edits) == PLAN.replace("90", "95").replace("live", "dead")


def test_a_line_is_added_after_the_statement_and_its_comment() -> None:
    source = Source("x", PLAN)
    first, second, last = (one.at for one in read(source).statements)
    lines = PLAN.split("\n")
    assert apply(source, [add_line(first, "scale HO")]).split("\n") == [lines[0], "scale HO", *lines[1:]]
    assert apply(source, [add_line(second, "scale HO")]).split("\n") == [*lines[:3], "scale HO", lines[3]]
    assert apply(source, [add_line(last, "scale HO"), add_line(last, "a b")]).split("\n") == [*lines, "scale HO", "a b"]


def test_a_line_added_at_the_end_keeps_the_last_newline() -> None:
    for text in ("train a 1 m\n", ""):
        source = Source("x", text)
        assert apply(source, [add_line(Span("x", len(text), len(text)), "scale HO")]) == text + "scale HO\n"


def test_new_lines_end_as_the_file_does() -> None:
    source = Source("x", PLAN.replace("\n", "\r\n"))
    after = read(source).statements[0].at
    assert apply(source, [add_line(after, "a\nb")]).split("\r\n")[1:3] == ["a", "b"]
    assert "\n" not in apply(source, [add_line(after, "a\nb")]).replace("\r\n", "")


@pytest.mark.parametrize("other", [(0, 5), (2, 3), (4, 9), (2, 2)])
def test_edits_may_not_overlap(other: tuple[int, int]) -> None:
    source = Source("x", PLAN)
    with pytest.raises(ValueError, match="overlap"):
        apply(source, [Edit(Span("x", 1, 6), "a"), Edit(Span("x", *other), "b")])


def test_edits_may_touch() -> None:
    source = Source("x", "abcdef")
    edits = [Edit(Span("x", 1, 3), "-"), Edit(Span("x", 3, 5), "+"), Edit(Span("x", 3, 3), "*")]
    assert apply(source, edits) == "a-*+f"


def revised(text: str, *edits: Edit) -> list[Statement]:
    source = Source("x", text)
    return revise(read(source).statements, edits, {"x": source})


def test_an_edited_statement_keeps_its_place() -> None:
    source = Source("x", PLAN)
    before = read(source).statements
    after = revised(PLAN, replace(spans(source, "90 cm")[0], "1200 mm"))
    assert [one.at for one in after] == [one.at for one in before]
    assert after[0] is before[0] or after[0] == before[0]
    assert after[1].length == pytest.approx(1.2)  # type: ignore[union-attr]


def test_what_is_added_comes_last_and_what_is_deleted_goes() -> None:
    source = Source("x", PLAN)
    turnout = read(source).statements[0]
    after = revised(PLAN, replace(turnout.at, ""), add_line(read(source).statements[1].at, "scale HO\nendplate W"))
    assert [type(one).__name__ for one in after] == ["Segment", "Train", "Scale", "Endplate"]
    assert all(one.at.start == one.at.end for one in after[2:])


def test_files_are_told_apart() -> None:
    sources = {path: Source(path, f"train {path} 1 m") for path in "ab"}
    statements = [one for source in sources.values() for one in read(source).statements]
    after = revise(statements, [replace(Span("b", 8, 11), "2 m")], sources)
    assert [(one.at.path, float(one.length)) for one in after] == [("a", 1), ("b", 2)]  # type: ignore[union-attr]


def test_an_edit_that_does_not_read_is_refused() -> None:
    with pytest.raises(ValueError, match="does not read"):
        revised(PLAN, replace(spans(Source("x", PLAN), "live-frog")[0], "frog"))


def test_a_broken_line_beside_an_edit_is_no_hindrance() -> None:
    text = "tunrout T9\ntrain long 2 m\nsegment\n"
    source = Source("x", text)
    after = revised(text, add_line(read(source).statements[0].at, "scale HO"), replace(spans(source, "2")[0], "3"))
    assert [type(one).__name__ for one in after] == ["Train", "Scale"]


@given(plans(), st.data())
def test_in_the_head_is_as_in_the_text(text: str, data: st.DataObject) -> None:
    """Random words replaced, statements deleted, lines added: the statements are those of the edited text."""
    source = Source("x", text)
    statements = read(source).statements
    edits = [draw_edit(data, one) for one in statements if data.draw(st.booleans())]
    try:
        after = revise(statements, edits, {"x": source})
    except ValueError:
        assert len(read(Source("x", apply(source, edits))).broken) > len(read(source).broken)
        return
    assert sorted(map(said, after)) == sorted(map(said, read(Source("x", apply(source, edits))).statements))


def draw_edit(data: st.DataObject, statement: Statement) -> Edit:
    kind = data.draw(st.sampled_from(["delete", "add", "rename", "whole"]))
    if kind == "add":
        return add_line(statement.at, data.draw(statement_lines()))
    if kind == "rename":
        parts = (one[0] if type(one) is tuple else one for one in statement[1:])  # of several modules, the first
        part = next(one for one in parts if one is not None)
        return replace(where(statement, part), data.draw(st.sampled_from(["Z1", '"z"', "2 m", "two words"])))
    return replace(statement.at, "" if kind == "delete" else data.draw(statement_lines()))


def said(statement: Statement) -> str:
    return repr((type(statement).__name__, statement[1:]))
