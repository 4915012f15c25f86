"""Every word of the language has its page, made of the grammar."""

from __future__ import annotations

import pytest

from railbond.command import main
from railbond.faces.reference import asks, page, words
from railbond.layout.limits import LIMITS
from railbond.rules import all_rules
from railbond.trackwork import lessons
from trackplan.read import read
from trackplan.reference import Form, forms, forms_of
from trackplan.span import Source
from trackplan.statements import Construction
from trackplan.tables import KEYWORDS, RULES
from trackplan.words import STATEMENTS


def test_no_statement_is_left_out() -> None:
    assert {form.keyword for form in forms()} == set(STATEMENTS)
    alternatives = {symbols[0] for name, symbols, _ in RULES if name == "<statement>"}
    assert len(forms()) == len(alternatives)


@pytest.mark.parametrize("form", forms(), ids=lambda form: form.example)
def test_an_example_is_such_a_statement_and_says_what_it_is(form: Form) -> None:
    (statement,) = read(Source("p", form.example)).statements
    assert form.says and form.form.split()[0] == form.keyword
    told = " ".join([form.form, *(clause for clause, _ in form.clauses)])
    named = {clause for clause, what in form.clauses if not what}
    assert named <= {"FROG-NUMBER"}, "each part says what it is"
    assert "_" not in told and (isinstance(statement, Construction) or "…" not in form.example)


@pytest.mark.parametrize("word", sorted({*KEYWORDS, *LIMITS, *lessons(), "plug"}))
def test_every_word_has_its_page(word: str) -> None:
    told = page(word, all_rules())
    assert told and word in told
    assert all(len(line) <= 120 for line in told.splitlines())


@pytest.mark.parametrize("keyword", STATEMENTS)
def test_a_statements_page_has_all_its_forms_and_its_rails(keyword: str) -> None:
    told = page(keyword, all_rules(), 10_000) or ""
    for form in forms_of(keyword):
        assert form.form in told and form.example in told
        assert all(clause in told for clause, _ in form.clauses)
    assert (f"The rails of a {keyword}" in told) == (keyword in lessons())


def test_the_rules_that_look_at_it_are_those_whose_mend_changes_it() -> None:
    told = page("frog", all_rules(), 10_000) or ""
    assert "frog-wired-backwards" in told and "unfed-frog" in told
    assert not asks(next(rule for rule in all_rules() if rule.name == "bus-too-long"), "turnout")


def test_what_has_no_page_is_told_what_is_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    for word, told in (("feder", "did you mean feeder"), ("open-point", "it is called open-point-opposed now")):
        assert main(["rules", word]) == 2
        assert told in capsys.readouterr().err
    assert page("ferry", all_rules()) is None
    assert {"feeder", "crossed", "voltage-drop", "slip"} <= set(words())


@pytest.mark.parametrize(
    ("word", "statement"), [("dcc", "booster"), ("DCC", "booster"), ("power-routing", "turnout"), ("throttle", "cab")]
)
def test_a_word_of_the_trade_leads_to_the_statement_that_says_it(
    capsys: pytest.CaptureFixture[str], word: str, statement: str
) -> None:
    assert main(["rules", word]) == 0
    assert capsys.readouterr().out.startswith(f"{statement}: ")
