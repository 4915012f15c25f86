"""Places of statements and their words are exact, whatever the text around them holds."""

from __future__ import annotations

import pytest
from hypothesis import given

from plan_texts import plans
from trackplan.quantities import Quantity
from trackplan.read import LONGEST_LINE, read
from trackplan.span import Source, Word, offset_at, units
from trackplan.statements import Feeder, Segment, where

FEEDER = "feeder P1 -> west at 3 ft 6 in 22 AWG"


@pytest.mark.parametrize(
    "text",
    [
        FEEDER,
        f"plan \"x\"\n\n# note\n{FEEDER}  # why",
        f"plan \"x\"\r\n\r\n{FEEDER}\r\nscale HO\r\n",
        f"plan \"x\"\r{FEEDER}\rscale HO",
        f"\ufeff{FEEDER}\n",
        f"plan \"\U00010428 Bäckerei\"\n{FEEDER}",
        FEEDER.replace(" ", "\t"),
        FEEDER.replace(" ", "\n  "),
        FEEDER.replace(" ", "\r\n\t"),
        FEEDER.replace(" ", "  # a comment, \"quoted\" too\n  "),
        FEEDER.replace(" at", "\n\n# at the left edge\n  at"),
        f"{FEEDER}\n  # after it\n\n  # and more\n",
    ],
)  # fmt: skip
def test_places_of_a_feeder(text: str) -> None:
    reading = read(Source("x.trackplan", text))
    (feeder,) = (one for one in reading.statements if isinstance(one, Feeder))
    assert text[feeder.at.start :].startswith("feeder")
    assert text[: feeder.at.end].endswith("AWG")
    for part, words in ((feeder.supply, ["P1"]), (feeder.rail, ["west"]), (feeder.size, ["22", "AWG"])):
        at = where(feeder, part)
        assert text[at.start : at.end].split() == words or words[0] in text[at.start : at.end]
    at = where(feeder, feeder.supply)
    assert text[at.start : at.end] == "P1"
    at = where(feeder, feeder.rail)
    assert text[at.start : at.end] == "west"


@given(plans())
def test_every_word_is_where_it_says(text: str) -> None:
    reading = read(Source("x.trackplan", text))
    for statement in reading.statements:
        for part in statement[1:]:
            for word in part if isinstance(part, tuple) else [part]:
                if isinstance(word, Word | Quantity):
                    at = where(statement, word)
                    assert said_at(text[at.start : at.end], word)


def said_at(text: str, word: Word | Quantity) -> bool:
    """Whether a stretch of text is a word: a quoted text with quotes, others but for blanks and comments."""
    if isinstance(word, Quantity):
        return word.text == text or word.text.startswith(f"{text} ")  # a list's numbers share its unit
    return text == f'"{word}"' or text == word or text.split()[:1] + text.split()[-1:] == word.split()


@given(plans())
def test_reading_with_other_line_ends_gives_the_same(text: str) -> None:
    text = text.replace("\r\n", "\n").removeprefix("\ufeff")
    plain = read(Source("x.trackplan", text))
    for newline in ("\n", "\r\n", "\r"):
        other = read(Source("x.trackplan", "\ufeff" + text.replace("\n", newline)))
        assert [one[1:] for one in other.statements] == [one[1:] for one in plain.statements]
        assert [one[1:] for one in other.broken] == [one[1:] for one in plain.broken]


def test_reading_again_gives_new_places_only() -> None:
    line = "segment west W -> T1 90 cm"
    one, other = (read(Source(path, before + line)).statements[0] for path, before in (("a", ""), ("b", "\n\n")))
    assert isinstance(one, Segment) and isinstance(other, Segment)
    assert one[1:] == other[1:]
    assert (one.at, other.at) == (("a", 0, len(line)), ("b", 2, 2 + len(line)))


def test_a_line_may_be_as_long_as_it_says() -> None:
    for extra, good in ((0, 1), (1, 0)):
        line = "plan " + '"' + "x" * (LONGEST_LINE - 7 + extra) + '"'
        assert len(read(Source("x.trackplan", line)).statements) == good


# LSP 3.17: in a𐐀b the b stands at 3 in UTF-16 and at 2 in UTF-32 (seen); UTF-8 has 4 bytes for 𐐀 (RFC 3629, memory).
def test_units_of_editors() -> None:
    assert [units("a\U00010400", encoding) for encoding in ("utf-8", "utf-16", "utf-32")] == [5, 3, 2]
    source = Source("x.trackplan", "first\na\U00010400b")
    for encoding, unit in (("utf-8", 5), ("utf-16", 3), ("utf-32", 2)):
        assert source.text[offset_at(source, 1, unit, encoding)] == "b"


# SARIF 2.1.0, section on regions: its own example text.
def test_lines_and_columns() -> None:
    source = Source("x", "abcd\r\nefg\r\nhijk\r\nlmn\r\n")
    assert [source.line_text(line) for line in range(5)] == ["abcd", "efg", "hijk", "lmn", ""]
    assert source.line_column(source.text.index("bc")) == (1, 2)
    assert list(source.lines()) == [("abcd", "\r\n"), ("efg", "\r\n"), ("hijk", "\r\n"), ("lmn", "\r\n")]
    assert source.newline == "\r\n"


@given(plans())
def test_lines_are_the_text(text: str) -> None:
    assert "".join(line + newline for line, newline in Source("x", text).lines()) == text
