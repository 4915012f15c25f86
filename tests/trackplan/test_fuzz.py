"""Nothing that a text holds may crash the reading, make it hang or take memory out of proportion."""

from __future__ import annotations

import time
import tracemalloc

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan_texts import plans, statement_lines
from trackplan.edit import Edit, apply
from trackplan.read import LONGEST_LINE, forget, read, read_bare
from trackplan.span import Source, Span
from trackplan.tidy import tidy


def check(text: str) -> None:
    """Every line is answered for, once, at a place in the text; the layout says the same."""
    reading = read(Source("x", text))
    spans = sorted(one.at for one in [*reading.statements, *reading.broken])
    assert all(0 <= at.start < at.end <= len(text) for at in spans)
    assert all(one.end <= other.start for one, other in zip(spans, spans[1:], strict=False))
    assert len(spans) <= len(text.splitlines())
    tidy(Source("x", text))


@given(st.binary(max_size=300))
def test_bytes(data: bytes) -> None:
    check(data.decode("utf-8", "replace"))


WORDS = "segment turnout frog gap -> => T1 west.left left rail 3 ft 6 in 90 cm AWG 14 1e9 ½ é . , - % \" ' “ #"


WORD_LISTS = st.lists(st.sampled_from([*WORDS.split(" "), "\n", "\t", "\r", "\ufeff", "\0"]), max_size=60)


@given(WORD_LISTS, st.sampled_from(["", " "]))
def test_words_at_random(words: list[str], between: str) -> None:
    check(between.join(words))


@given(plans(), plans(), st.data())
def test_cut_and_spliced_files(one: str, other: str, data: st.DataObject) -> None:
    cut, on = data.draw(st.integers(0, len(one))), data.draw(st.integers(0, len(other)))
    check(one[:cut])
    check(one[:cut] + other[on:])


@given(plans(), st.lists(st.tuples(st.integers(0, 40), st.integers(0, 5), st.text(max_size=3)), max_size=4))
def test_edits_anywhere_are_made_or_refused(text: str, wanted: list[tuple[int, int, str]]) -> None:
    source = Source("x", text)
    edits = [Edit(Span("x", start, start + more), new) for start, more, new in wanted if start + more <= len(text)]
    try:
        new = apply(source, edits)
    except ValueError:
        return
    kept = len(text) - sum(end - start for start, end in {(one.at.start, one.at.end) for one in edits})
    assert len(new) >= kept


# Lines that would take for ever where a pattern tries every way to match them.
LONG = {
    "name": "a" * 9_990, "dotted name": "train " + "a." * 4_900, "hyphens": "train " + "a-" * 4_900,
    "dashes": "train a" + "-" * 9_900, "digits": "train a " + "1" * 9_900 + " m", "points": "train a " + "1." * 4_900,
    "numbers": "engine e left " + "1 " * 4_900 + "mm", "quotes": 'plan ' + '"' * 9_901, "curly": "plan " + "“" * 9_900,
    "blanks": "train" + " " * 9_900 + "x", "feet": "train a 3 ft" + " " * 9_900 + "x", "symbols": "%" * 9_990,
    "marks": "train a " + "3'" * 4_900, "arrows": "couple a " + "->" * 4_900,
}  # fmt: skip


@pytest.mark.parametrize("line", LONG.values(), ids=LONG.keys())
def test_long_lines_take_no_time(line: str) -> None:
    assert len(line) <= LONGEST_LINE
    began = time.process_time()
    reading = read(Source("x", line))
    assert time.process_time() - began < 2  # a few hundredths; the square of the length would be minutes
    assert len(reading.statements) + len(reading.broken) == 1


@pytest.mark.parametrize(
    "text",
    ["plan " + "x" * 10**6, "x\n" + " y\n" * 300_000, '"' * 10**6, "a " * 500_000],
    ids=["a word", "continued", "quotes", "words"],
)
def test_a_million_characters_in_a_line_are_refused_at_once(text: str) -> None:
    began = time.process_time()
    (broken,) = read(Source("x", text)).broken
    assert time.process_time() - began < 2
    assert "longer than 10,000 characters" in broken.message


def many(lines: int) -> str:
    return "\n".join(f"segment s{n} T{n}.through -> T{n + 1}.points  {n + 1} cm  # number {n}" for n in range(lines))


@pytest.mark.parametrize("text", [many(100_000), "tunrout T1\n" * 100_000, "#\n" * 100_000, "\n" * 1_000_000])
def test_a_hundred_thousand_lines(text: str) -> None:
    began = time.process_time()
    reading = read(Source("x", text))
    assert time.process_time() - began < 60  # about 3 s alone on a desk; one that grows with the square takes hours
    assert len(reading.statements) + len(reading.broken) == text.count("s0") * 100_000 + text.count("tun")


def test_long_comments_are_no_long_lines() -> None:
    comment = "# " + "x" * 20_000 + "\n" + "# y\n" * 9_000
    reading = read(Source("x", f"{comment}\n{comment}scale HO {comment}{comment}  # z\n{comment}scale N\n"))
    assert (len(reading.statements), len(reading.broken)) == (2, 0)


def test_memory_is_in_proportion() -> None:
    """Bytes a line are the same for many lines as for few. What is kept for reading again is bounded."""

    def bytes_a_line(lines: int) -> float:
        text = many(lines)
        forget()
        tracemalloc.start()
        reading = read(Source("x", text))
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert len(reading.statements) == lines
        return peak / lines

    few, more = bytes_a_line(500), bytes_a_line(8_000)
    assert more < 1.5 * few < 10_000
    assert read_bare.cache_info().maxsize


@given(statement_lines())
def test_reading_twice_gives_the_same(line: str) -> None:
    assert read(Source("x", line))[1:] == read(Source("x", line))[1:]
