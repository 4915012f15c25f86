"""The parse tables are those of plan.lark, and the parser gives the answers of Lark's own."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from functools import cache, partial
from pathlib import Path

from hypothesis import example, given
from hypothesis import strategies as st
from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput
from lark.parsers.lalr_interactive_parser import InteractiveParser

from plan_texts import statement_lines
from trackplan.generate import HERE, MADE, build_parser, write_tables
from trackplan.make import Senseless
from trackplan.mistakes.phrases import PHRASES
from trackplan.parse import END, Unexpected, any_word, parse
from trackplan.read import without_comments
from trackplan.tables import KEYWORDS, PATTERN, RULES, TERMINALS
from trackplan.words import STATEMENTS, begins, expected


def test_tables_are_those_of_the_grammar() -> None:
    """Which were made when this process began, if they were not there."""
    assert MADE.read_text(encoding="utf-8") == write_tables()


def test_the_same_grammar_always_gives_the_same_tables() -> None:
    """Whatever order Lark's own sets happen to have."""
    code = "from trackplan.generate import write_tables; print(write_tables(), end='')"
    asked = [{"PYTHONHASHSEED": seed, "PYTHONPATH": str(HERE.parent)} for seed in ("1", "2")]
    run = partial(subprocess.run, [sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert [run(env=env).stdout for env in asked] == [write_tables()] * 2


def test_a_checkout_makes_its_tables_when_the_grammar_has_changed(tmp_path: Path) -> None:
    copy = tmp_path / "grammar" / "trackplan"
    shutil.copytree(HERE, copy, ignore=shutil.ignore_patterns("made.py", "__pycache__"))
    (tmp_path / "pyproject.toml").touch()
    assert "crossed" in keywords_of(copy) and (copy / MADE.name).exists()
    grammar = copy / "plan.lark"
    grammar.write_text(grammar.read_text(encoding="utf-8").replace('"crossed"', '"twisted"'), encoding="utf-8")
    later = (copy / MADE.name).stat().st_mtime + 5
    os.utime(grammar, (later, later))
    assert "twisted" in keywords_of(copy)
    assert sorted(path.name for path in copy.glob("made.*")) == ["made.py"]


def test_an_installed_package_writes_nothing(tmp_path: Path) -> None:
    """The same files without a checkout around them; whoever runs what makes them is told so."""
    copy = tmp_path / "lib" / "trackplan"
    shutil.copytree(HERE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    later = (copy / MADE.name).stat().st_mtime + 5
    os.utime(copy / "plan.lark", (later, later))
    before = contents(tmp_path)
    for module in ("trackplan.generate", "trackplan.coloring", "trackplan.tables"):
        done = subprocess.run(
            [sys.executable, "-B", "-m", module], cwd=copy.parent, capture_output=True, text=True, check=False
        )
        assert contents(tmp_path) == before, module
        assert "Traceback" not in done.stderr
    assert "crossed" in keywords_of(copy)


def contents(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def keywords_of(package: Path) -> str:
    code = "from trackplan.tables import KEYWORDS; print(*KEYWORDS)"
    command = [sys.executable, "-B", "-c", code]
    done = subprocess.run(command, cwd=package.parent, capture_output=True, text=True, check=True)
    return done.stdout


def test_reading_a_plan_needs_no_lark() -> None:
    code = "import sys, trackplan.gather, trackplan.tidy, trackplan.mistakes; print('lark' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=HERE.parent, capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


@cache
def lark() -> Lark:
    return build_parser()


def by_lark(line: str) -> tuple[str, list[bool]] | int | None:
    """Kind and which parts are left out, or where the line cannot be read on; None for its end."""
    parser = lark().parse_interactive()
    try:
        for token in lark().lex(line):
            parser.feed_token(in_its_place(token, parser))
        tree = parser.feed_eof()
    except UnexpectedInput as error:
        ends = not isinstance(error, UnexpectedCharacters) and error.token.type == END  # type: ignore[attr-defined]
        return None if ends else error.pos_in_stream
    assert isinstance(tree, Tree)
    return tree.data.replace("_", ""), [child is None for child in tree.children]


def in_its_place(token: Token, parser: InteractiveParser) -> Token:
    """A keyword as a name where Lark's own parser says that it takes a name there and not that keyword."""
    if token.value not in KEYWORDS:
        return token
    taken = parser.accepts()
    return Token.new_borrow_pos("WORD", token.value, token) if token.type not in taken and "WORD" in taken else token


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


def test_what_is_no_word_is_never_taken_for_a_keyword() -> None:
    assert not KEYWORDS & set(any_word().groupindex)
    assert by_us('scale"') == 5


def test_what_may_follow() -> None:
    assert expected("stub S1 left").keywords == ("number", "dead-frog", "isolated-frog", "live-frog")
    assert expected("feeder P1 ->").roles == ("fed_rail",)
    assert expected("feeder P1 -> west").ends
    assert expected("bus main").words == ("->",)
    assert expected("turnout number") == expected("turnout T1")
    assert expected("turnout T1 T2") == ((), (), False)


@given(st.lists(st.sampled_from([*"1234  . /x-", "23", "4.5", "0", "mm", "cm", "m", "in", "ft", "A", "mA", "AWG", "mm2",
                                 "solid", "ohm", "degrees", "F", "%", "ms", "m/s", "->", '"', "a.b"])))  # fmt: skip
@example(["3", "ft", " ", "4.5", "in"])
@example(["1", "/", "0", " ", "AWG"])
def test_a_word_is_of_the_kind_whose_pattern_it_has(parts: list[str]) -> None:
    """Each kind's own pattern, one after the other, in place of one for all numbers."""
    plain = re.compile(r"\s*(?:" + "|".join(f"(?P<{kind}>{one})" for kind, one in TERMINALS.items()) + ")")
    text = "".join(parts)
    found, told = re.compile(rf"\s*(?:{PATTERN})").finditer(text), plain.finditer(text)
    assert [(one.lastgroup, one.span()) for one in found] == [(one.lastgroup, one.span()) for one in told]
