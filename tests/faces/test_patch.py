"""Edits shown as whole lines."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from railbond.faces.patch import LineChange, changes
from trackplan.edit import Edit, add_line, apply, replace
from trackplan.span import Source, Span

TEXT = "one\ntwo\nthree\nfour\n"


def shown(text: str, *edits: Edit) -> list[LineChange]:
    return list(changes(edits, {"p": Source("p", text)}))


def at(word: str, text: str = TEXT) -> Span:
    return Span("p", text.index(word), text.index(word) + len(word))


def test_a_line_added() -> None:
    assert shown(TEXT, add_line(at("two"), "new")) == [LineChange("p", 2, (), ("new",))]


def test_a_line_added_after_a_last_line_without_an_end() -> None:
    assert shown("one\ntwo", add_line(Span("p", 5, 7), "new")) == [LineChange("p", 2, (), ("new",))]


def test_a_line_put_at_the_top() -> None:
    assert shown(TEXT, replace(Span("p", 0, 0), "new\n")) == [LineChange("p", 0, (), ("new",))]


def test_a_line_taken_out() -> None:
    assert shown(TEXT, replace(at("three\n"), "")) == [LineChange("p", 3, ("three",), ())]


def test_words_replaced_in_one_line_are_one_change() -> None:
    edits = [replace(Span("p", 4, 5), "T"), replace(Span("p", 6, 7), "O")]
    assert shown(TEXT, *edits) == [LineChange("p", 2, ("two",), ("TwO",))]


def test_crlf_lines_are_shown_without_their_ends() -> None:
    text = TEXT.replace("\n", "\r\n")
    edits = [replace(at("two", text), "2"), add_line(at("four", text), "five")]
    assert shown(text, *edits) == [LineChange("p", 2, ("two",), ("2",)), LineChange("p", 4, (), ("five",))]


def test_an_edit_named_twice_counts_once() -> None:
    assert len(shown(TEXT, *[replace(at("two"), "2")] * 2)) == 1


def test_files_keep_their_order() -> None:
    sources = {path: Source(path, TEXT) for path in ("a", "b")}
    edits = [replace(Span(path, 0, 3), "1") for path in ("b", "a")]
    assert [change.path for change in changes(edits, sources)] == ["b", "a"]


@given(st.text("ab\n", max_size=30), st.sampled_from(["\n", "\r\n"]), st.data())
def test_making_the_changes_line_by_line_is_making_the_edits(text: str, end_of_line: str, data: st.DataObject) -> None:
    text = text.replace("\n", end_of_line)
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    edit = replace(Span("p", start, end), data.draw(st.text("xy\n", max_size=8)))
    edits = [edit, *[add_line(edit.at, "new line")] * data.draw(st.integers(0, 1))]
    source = Source("p", text)
    lines = [source.line_text(line) for line in range(len(source.starts))]
    for change in reversed(shown(text, *edits)):
        first = change.line - 1 if change.old else change.line
        assert lines[first : first + len(change.old)] == list(change.old)
        lines[first : first + len(change.old)] = change.new
    after = Source("p", apply(source, edits))
    assert lines == [after.line_text(line) for line in range(len(after.starts))]
