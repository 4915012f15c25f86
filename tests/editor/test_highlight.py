"""The colors of editors know every word of plan.lark. Vim's are looked at in Vim itself: see test_real_editors."""

from __future__ import annotations

import json
import re
from xml.etree import ElementTree

import pytest

from plan_texts import FORMS
from trackplan.coloring import FOLDER, NAME, files, textmate
from trackplan.quantities import MEASURES
from trackplan.tables import KEYWORDS
from trackplan.words import STATEMENTS


@pytest.mark.parametrize("name", files())
def test_the_files_are_those_of_the_grammar(name: str) -> None:
    """`python -m trackplan.generate` puts it right."""
    assert (FOLDER / name).read_text(encoding="utf-8") == files()[name]


def scopes(line: str) -> dict[str, str]:
    """Each word of a line and its scope, read as a TextMate grammar is: the first rule that fits nearest."""
    found, at = {}, 0
    while at < len(line):
        matches = [(match.start(), rule, match) for rule in textmate()["patterns"] if (match := seek(rule, line, at))]
        if not matches:
            break
        _, rule, match = min(matches, key=lambda one: one[0])
        for group, scope in rule.get("captures", {"0": rule}).items():
            found[match[int(group)]] = scope["name"].removesuffix(".trackplan")
        at = max(match.end(), at + 1)
    return found


def seek(rule: dict, line: str, at: int) -> re.Match[str] | None:
    return re.compile(rule["match"]).search(line, at)


@pytest.mark.parametrize("word", sorted(KEYWORDS))
def test_textmate_knows_every_keyword(word: str) -> None:
    assert scopes(f"x {word}")[word] == "keyword.other"


@pytest.mark.parametrize("word", STATEMENTS)
def test_textmate_knows_every_statement(word: str) -> None:
    assert scopes(f"{word} -> x")[word] == "keyword.control"


@pytest.mark.parametrize("measure", MEASURES.values(), ids=MEASURES)
def test_textmate_knows_every_quantity(measure) -> None:
    assert scopes(f"x {measure.example} -> x")[measure.example] == "constant.numeric"


def test_textmate_tells_names_texts_and_comments() -> None:
    line = 'segment Süd-2 W -> T1.points 3 ft 6 in # "no" 3 m'
    assert scopes(line) == {
        "segment": "keyword.control",
        "Süd-2": "entity.name",
        "W": "variable.other",
        "->": "keyword.operator.arrow",
        "T1.points": "variable.other",
        "3 ft": "constant.numeric",
        "6 in": "constant.numeric",
        '# "no" 3 m': "comment.line.number-sign",
    }
    assert scopes('plan "a # b"')['"a # b"'] == "string.quoted.double"
    assert re.fullmatch(NAME, "dead-frog-2.left")


def test_the_grammar_is_json_and_the_definition_is_xml() -> None:
    assert json.loads(files()["trackplan.tmLanguage.json"])["scopeName"] == "source.trackplan"
    lists = ElementTree.fromstring(files()["kate/trackplan.xml"]).findall(".//item")
    assert {item.text for item in lists} == KEYWORDS


def test_every_form_of_statement_begins_with_one() -> None:
    assert {form.split()[0] for form in FORMS} <= set(STATEMENTS)
