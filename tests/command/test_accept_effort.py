"""`railbond accept` asks again only what hangs on acceptances, and tells what a whole new look tells."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from oracle.plans import random_wild
from railbond.circuit.effort import spent
from railbond.commands import accept
from railbond.doorway import Opened
from railbond.files import Files
from railbond.findings import Finding
from railbond.inspection import Inspection
from railbond.mend.accepting import accepting
from railbond.mend.overlay import Overlay
from railbond.rules import all_rules, askable
from railbond.rules.rule import RuleHead
from trackplan.span import Span

TOP = Path(__file__).resolve().parents[2]
FULL = [random_wild(Random(seed), 4) for seed in (1008, 3)]
YARD = "\n".join(
    [
        "booster B1 15 V 5 A",
        "district main from B1",
        "segment lead stop -> T0.points 1 m",
        *(f"turnout T{nth} left number 6 live-frog" for nth in range(6)),
        *(f"joint T{nth}.through -> T{nth + 1}.points" for nth in range(5)),
        *(f"segment s{nth} T{nth}.diverging -> stop 1 m" for nth in range(6)),
        "segment end T5.through -> stop 1 m",
        *(f"gap T{nth}.{leg} frog rail" for nth in range(6) for leg in ("through", "diverging")),
        *(f"feeder main -> {name}" for name in ("lead", "end", *(f"s{nth}" for nth in range(6)))),
        "",
    ]
)


class Desk:
    """A plan whose findings are accepted."""

    def __init__(self, text: str) -> None:
        self.seen: dict[str, Opened] = {}
        self.overlay = Overlay(["p"], {"p": text}.__getitem__, accept._placing(Files(), self.seen))
        self.inspection = self.overlay.inspection("p")
        self.before = self.seen["p"]
        self.looks: list[dict[str, str]] = []

    def told(self, texts: dict[str, str], with_fixes: bool = False) -> Inspection:
        known = accept._told(self.overlay, self.before, texts, with_fixes)
        assert known
        return known

    def accepted(self) -> dict[str, str]:
        def told(texts: dict[str, str]):  # type: ignore[no-untyped-def]
            self.looks.append(dict(texts))
            return self.told(texts).findings

        return accepting(self.overlay, "p", [], told)[0]


@pytest.mark.parametrize("text", [*FULL, YARD, *[rule.fails for rule in all_rules()][::6]])
def test_what_is_told_again_is_what_a_new_look_tells(text: str) -> None:
    desk = Desk(text)
    texts = desk.accepted()
    for looked in desk.looks:
        assert said(desk.told(looked)) == said(desk.overlay.inspected("p", looked))
    if texts:
        assert said(desk.told(texts, with_fixes=True)) == said(desk.overlay.inspected("p", texts, with_fixes=True))


def said(inspection: Inspection) -> list[object]:
    return [(one.rule, one.level, one.at, one.message, one.names) for one in inspection.findings]


@pytest.mark.parametrize("text", FULL)
def test_all_looks_together_take_less_than_the_first(text: str) -> None:
    before = spent()
    desk = Desk(text)
    first, before = spent() - before, spent()
    desk.accepted()
    assert len(desk.looks) > 1 and spent() - before < first


def test_what_only_comes_up_later_is_accepted_at_all_of_its_names_too() -> None:
    """Once everything else is accepted, points set against a train are told of a dozen turnouts."""
    desk = Desk("booster B1 15 V 5 A\ndistrict main from B1\nsegment shed stop -> stop 1 m\n")
    shrinking = [f"T{nth}" for nth in range(12)]
    accepted = list[str]()

    def told(texts: dict[str, str]) -> list[Finding]:
        accepted[:] = [word for word in texts["p"].split() if word in shrinking]
        left = [name for name in shrinking if name not in accepted]
        desk.looks.append(texts)
        return [Finding("set-against", "note", "derail", Span("p", 0, 1), "", names=tuple(left))] if left else []

    texts, count = accepting(desk.overlay, "p", [], told)
    assert count > len(shrinking) and len(desk.looks) <= 4 and sorted(accepted) == sorted(shrinking)


def test_what_goes_on_with_fewer_things_is_accepted_at_all_of_them_at_once() -> None:
    desk = Desk(YARD)
    assert any(one.rule == "set-against" and len(one.names) > 4 for one in desk.inspection.findings)
    texts = desk.accepted()
    assert texts["p"].count("accept    set-against at T") > 4 and len(desk.looks) <= 4


def test_no_other_rule_looks_at_acceptances() -> None:
    """Nor does its occasion; else what it finds may be other once more is accepted, and its head says so."""
    looking = {path.stem for path in (TOP / "lint/railbond/rules").glob("*.py") if ".acceptances" in path.read_text()}
    heads = [one for one in askable() if isinstance(one, RuleHead)]
    assert looking == {"acceptances", "set_against", "occasions"}
    asked = {one.name for one in heads if one.module in looking or one.when == "something is accepted"}
    assert asked == {one.name for one in heads if one.of_acceptances}
