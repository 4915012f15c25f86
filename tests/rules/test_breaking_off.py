"""Rules that once broke off find what they should; one that does break off is told as badly as it may find."""

from __future__ import annotations

import pytest

from railbond.circuit.facts import Facts
from railbond.findings import LEVELS, Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from railbond.rules.rule import Rule
from trackplan.read import read
from trackplan.span import Source

HEAD = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"


def told(text: str, rules: tuple[Rule, ...] | None = None) -> list[Finding]:
    source = Source("plan.trackplan", text)
    reading = read(source)
    facts = Facts(reading.statements, {source.path: source}, reading.broken)
    return examine(facts, all_rules() if rules is None else rules)


def of(rule: str, text: str) -> Finding:
    found = told(text)
    assert not [one.message for one in found if "broke off" in one.message]
    (one,) = (one for one in found if one.rule == rule)
    return one


@pytest.mark.parametrize("rule", all_rules(), ids=lambda rule: rule.name)
def test_a_rule_that_breaks_off_is_told_at_its_own_level(rule: Rule) -> None:
    def broken(facts: Facts) -> list[Finding]:
        raise KeyError("x")

    (one,) = told(HEAD, (rule._replace(find=broken),))
    assert (one.rule, one.level) == (rule.name, rule.level)
    assert "broke off" in one.message


@pytest.mark.parametrize("rule", all_rules(), ids=lambda rule: rule.name)
def test_no_rule_finds_worse_than_its_level(rule: Rule) -> None:
    found = [one for one in told(rule.fails) if one.rule == rule.name]
    assert all(LEVELS.index(one.level) <= LEVELS.index(rule.level) for one in found)


def test_a_toggle_that_is_not_proven_is_named_by_its_own_line() -> None:
    one = of("not-proven", HEAD + "cab C 12 V 1 A\nlimit proof-steps 1\nblock lent in C or main\n")
    assert "lent" in one.message and one.at.start == len(HEAD + "cab C 12 V 1 A\nlimit proof-steps 1\n")


def test_a_feeder_that_leads_nowhere_is_no_wire_to_swap() -> None:
    text = HEAD + "endplate E left red\nsegment s J -> E 1 m\nfeeder main -> nowhere.left\nfeeder main -> s crossed\n"
    assert [fix.words for fix in of("endplate-crossed", text).fixes][0] == "swap the two wires to s"


def test_an_engine_of_one_axle_has_a_place_where_it_stalls() -> None:
    turnout = "segment a stop -> T.points 1 m\nturnout T left number 6 dead-frog\nbond T closure rails to stock rails\n"
    more = "".join(
        f"segment {n} T.{end} -> stop 1 m\nfeeder main -> {n}\n" for n, end in (("b", "through"), ("c", "diverging"))
    )
    text = HEAD + turnout + more + "feeder main -> a\nengine E left 0 mm right 0 mm 0.3 A\n"
    assert " past T." in of("stalls", text).message


@pytest.mark.parametrize("spacing", ["0 m", "0.0001 mm", "0.9 mm"])
def test_a_spacing_that_cannot_be_meant_is_told_and_not_heeded(spacing: str) -> None:
    text = HEAD + "segment s stop -> stop 1 m\nfeeder main -> s\nlimit feeder-spacing " + spacing + "\n"
    assert {one.rule for one in told(text) if one.level != "note"} == {"unit-in-doubt"}
    assert "is the unit right?" in of("unit-in-doubt", text).message


@pytest.mark.parametrize(
    ("length", "meant"),
    [("900 m", "900 cm"), ("101 m", "101 cm"), ("0.5 mm", "0.5 m"), ("9000 m", "9000 mm")],
)
def test_a_length_that_nobody_builds_is_told_with_the_unit_that_is_likely(length: str, meant: str) -> None:
    one = of("unit-in-doubt", HEAD + f"segment s stop -> stop {length}\nfeeder main -> s at 0 cm\n")
    assert [edit.text for edit in one.fixes[0].edits] == [meant]


@pytest.mark.parametrize("length", ["100 m", "1 mm", "90 cm"])
def test_a_length_that_can_be_built_is_not_doubted(length: str) -> None:
    found = told(HEAD + f"segment s stop -> stop {length}\nfeeder main -> s at 0 cm\n")
    assert "unit-in-doubt" not in {one.rule for one in found}


def test_an_engine_as_long_as_a_hall_is_told_and_not_run() -> None:
    turnout = "turnout T left dead-frog\nsegment a T.points -> stop 1 m\nfeeder main -> a crossed\n"
    more = "".join(
        f"segment {n} T.{end} -> stop 1 m\nfeeder main -> {n}\n" for n, end in (("b", "through"), ("c", "diverging"))
    )
    found = told(HEAD + turnout + more + "engine E left 0 mm right 0 62000 mm 0.4 A\n")
    assert {one.rule for one in found if one.level != "note"} == {"unit-in-doubt"}
    found = told(HEAD + turnout + more + "engine E left 0 mm right 0 mm 0.4 A\n")
    assert "stalls" in {one.rule for one in found}


def test_so_many_feeders_that_nobody_would_solder_them_are_told_in_words() -> None:
    text = HEAD + "segment s stop -> stop 100 m\nfeeder main -> s at 50 m\nlimit feeder-spacing 1 cm\n"
    (fix,) = of("feeders-too-far-apart", text).fixes
    assert not fix.edits and "every 2 cm" in fix.words


@pytest.mark.parametrize(
    ("dead", "words", "meant"),
    [
        ("0.0000001 mm", "shorter than any cut", ""),
        ("0.022 mm", "shorter than any cut", "0.022 m"),
        ("22 m", "longer than any frog (1 m at most)", "22 mm"),
    ],
)
@pytest.mark.parametrize("kind", ["turnout T left number 6 isolated-frog", "crossing T 30 degrees isolated-frog"])
def test_a_dead_length_that_no_frog_has(kind: str, dead: str, words: str, meant: str) -> None:
    finding = of("unit-in-doubt", f"{HEAD}{kind} dead {dead}\nengine e left 0 18 mm right 0 18 mm\n")
    assert finding.message == f"`{dead}` is {words}: is the unit right?"
    assert meant in [edit.text for fix in finding.fixes for edit in fix.edits]


@pytest.mark.parametrize(("current", "meant"), [("1.5 mA", ["1.5 A"]), ("0.01 A", [""]), ("20 mA", None)])
@pytest.mark.parametrize("supply", ["cab C 12 V", "booster B 15 V"])
def test_a_supply_on_which_no_engine_runs(supply: str, current: str, meant: list[str] | None) -> None:
    found = told(f"{supply} {current}\nsegment s stop -> stop 1 m\n" + "feeder C -> s\n" * supply.startswith("cab"))
    doubts = [one for one in found if one.rule == "unit-in-doubt"]
    assert [[edit.text for fix in one.fixes for edit in fix.edits] for one in doubts] == (
        [] if meant is None else [meant]
    )


def test_two_tracks_at_one_place_of_a_pit_are_told_once_and_no_unit_is_suspected() -> None:
    table = "transfer-table T 60 cm\napproach-track T.a at 20 cm\napproach-track T.b at 20 cm\n"
    found = told(
        HEAD + table + "segment a T.a -> stop 1 m\nsegment b T.b -> stop 1 m\nfeeder main -> a\nfeeder main -> b\n"
    )
    (finding,) = (one for one in found if one.level == "error" and one.happens == "on paper")
    assert "same place" in finding.message and not any("20 m`" in fix.words for fix in finding.fixes)
