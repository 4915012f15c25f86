"""Mending in rounds: it ends, a second run has nothing to do, and no plan is worse off, shared files included."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings

from mend.holding import comments
from oracle.faults import Fault
from oracle.plans import faulty_plans, wild_plans
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import UNTRIED, Mended, mend
from railbond.rules import all_rules

PLANS = Path(__file__).parents[2] / "example_plans"
EVERY = tuple(rule.name for rule in all_rules())
ASKED = pytest.mark.parametrize("rules", [(), EVERY], ids=["plain", "every rule"])
TWO = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
"""


def mended(texts: dict[str, str], rules: tuple[str, ...] = (), folder: Path = PLANS) -> tuple[Overlay, Mended]:
    """The texts, which are plans each, mended; other files are read from the folder."""

    def open_text(path: str) -> str:
        return texts[path] if path in texts else (folder / path).read_text(encoding="utf-8")

    overlay = Overlay(texts, open_text)
    return overlay, mend(overlay, rules)


def levels(overlay: Overlay, root: str) -> Counter[str]:
    return Counter(one.level for one in overlay.inspection(root).findings)


def check(text: str, rules: tuple[str, ...], folder: Path = PLANS) -> str:
    """Mends a plan and checks what must hold of any; returns the mended text."""
    before = Overlay(["plan"], lambda path: text if path == "plan" else (folder / path).read_text(encoding="utf-8"))
    overlay, first = mended({"plan": text}, rules, folder)
    new = overlay.open_text("plan")
    assert comments(new) == comments(text)
    worse = levels(overlay, "plan") - levels(before, "plan")
    assert not worse["error"]
    assert all(one.why for one in first.left)
    if any(one.why == UNTRIED for one in first.left):  # it is at rest only when its budget was enough
        return new
    again, second = mended({"plan": new}, rules, folder)
    assert (again.texts, second.made) == ({}, [])
    assert [one.finding for one in second.left] == [one.finding for one in first.left]
    return new


MANY = max(settings().max_examples // 5, 8)
"""Each plan takes a second: a fifth of what cheaper tests try."""


@ASKED
@pytest.mark.parametrize("rule", [rule for rule in all_rules() if rule.fails], ids=lambda rule: rule.name)
def test_a_rules_example_comes_to_rest(rule, rules: tuple[str, ...]) -> None:  # type: ignore[no-untyped-def]
    check(rule.fails, rules)


@ASKED
@pytest.mark.parametrize("plan", sorted(PLANS.rglob("*.trackplan")), ids=lambda plan: plan.stem)
def test_an_example_plan_comes_to_rest(plan: Path, rules: tuple[str, ...]) -> None:
    check(plan.read_text(encoding="utf-8"), rules, plan.parent)


@settings(max_examples=MANY)
@given(faulty_plans(max_turnouts=5))
def test_plans_with_a_few_faults_come_to_rest(plans: tuple[str, str, list[Fault]]) -> None:
    check(plans[1], EVERY)


@settings(max_examples=MANY)
@given(wild_plans(max_turnouts=3))
def test_wild_plans_come_to_rest(plan: str) -> None:
    check(plan, ())


def test_a_plain_run_leaves_what_rebuilds_a_turnout() -> None:
    text = next(rule.fails for rule in all_rules() if rule.name == "set-against")
    overlay, done = mended({"plan": text})
    assert overlay.texts == {} and done.made == []
    assert [one.finding.rule for one in done.left] == ["set-against"]
    assert "--rule set-against" in done.left[0].why


def test_only_the_named_rule_is_mended() -> None:
    text = TWO + "feeder   main -> west\nfeeder   main -> east  crossed\nsegment  far  stop -> stop  1 m\n"
    overlay, done = mended({"plan": text}, ("unfed-rail",))
    assert [finding.rule for finding, _ in done.made] == ["unfed-rail"]
    assert "crossed" in overlay.open_text("plan")


def test_one_remedy_for_many_faults() -> None:
    """A run that is crossed explains all the feeders behind it: one swap, not six."""
    track = "".join(f"segment  s{n}  J{n} -> J{n + 1}  1 m\n" for n in range(1, 7))
    wires = "".join(f"feeder   P{1 if n < 4 else 2} -> s{n}\n" for n in range(1, 7))
    ends = track.replace("J1 ->", "stop ->").replace("-> J7", "-> stop")
    text = TWO[: TWO.index("segment")] + "bus main -> P1  1 m  14 AWG\nbus main -> P2  1 m  14 AWG  crossed\n" + ends
    text += wires + "feeder   P1 -> s1\n"
    overlay, done = mended({"plan": text})
    assert len(done.made) == 1
    assert overlay.open_text("plan") == text.replace("14 AWG  crossed", "14 AWG")


def test_a_shared_file_is_not_mended_at_the_cost_of_another_plan() -> None:
    """The drop in the shared file is wrong for one plan and right for the other."""
    shared = TWO[TWO.index("segment") :] + "feeder   P1 -> west\nfeeder   P2 -> east\n"
    head = TWO[: TWO.index("segment")] + 'include "shared"\nbus main -> P1  1 m  14 AWG\nbus main -> P2  1 m  14 AWG'
    texts = {"one": f"{head}  crossed\n", "two": f"{head}\n"}
    files = {**texts, "shared": shared}
    overlay = Overlay(["one", "two"], files.__getitem__)
    assert [one.rule for one in overlay.inspection("one").findings if one.level == "error"] == ["legs-joined"]
    mend(overlay)
    assert "shared" not in overlay.texts
    assert not [one for one in overlay.inspection("two").findings if one.level == "error"]


def test_a_fault_hidden_by_another_is_mended_with_it() -> None:
    """East has no power, so nobody can see that far is the wrong way round; a feeder to east alone would be a short."""
    text = (
        TWO.replace("J -> stop", "J -> K")
        + "segment  far   K -> stop  1 m\ngap J both rails\ngap K both rails\n"
        + "feeder   main -> west\nfeeder   main -> west\nfeeder   main -> far  crossed\n"
    )
    overlay, done = mended({"plan": text})
    assert {finding.rule for finding, _ in done.made} == {"unfed-rail", "opposed-at-gap"}
    assert not [one for one in overlay.inspection("plan").findings if one.level == "error"]
