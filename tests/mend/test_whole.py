"""Long plans full of faults are mended cause by cause, and what comes of it is proven on the text."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

import pytest

from benchmark.railroads import yards
from mend.holding import comments
from mend.likeness import said
from oracle.plans import big_layout, seed_faults
from railbond.circuit.facts import Facts
from railbond.findings import Finding, Fix
from railbond.mend import rounds, whole
from railbond.mend.in_turn import Worth, mended_in_turn
from railbond.mend.overlay import Overlay, Trial
from railbond.mend.rounds import Mended, mend
from railbond.rules import askable
from trackplan.gather import gather

LAYOUT = big_layout(130, 2)
FAULTY, FAULTS = seed_faults(LAYOUT, 6, Random(2))
"""A lost gap that joins a reverser's section to its district, a feeder and two frogs turned round, and what only shows
once these are mended."""
HIDES = 20
"""Findings that such a plan has at the least, most of them of sections that the lost gap joins."""


def mended(text: str, rules: tuple[str, ...] = ()) -> tuple[Overlay, Mended]:
    overlay = Overlay(["plan"], {"plan": text}.__getitem__)
    return overlay, mend(overlay, rules)


def swapped(text: str, number: int) -> str:
    """A yard with some feeders, each in another district or at another place, the wrong way round."""
    lines = text.splitlines()
    feeders = [place for place, line in enumerate(lines) if line.startswith("feeder") and "track" in line]
    for place in feeders[5 :: len(feeders) // number][:number]:
        lines[place] += " crossed"
    return "\n".join(lines) + "\n"


def bad(overlay: Overlay) -> list[Finding]:
    return [one for one in overlay.inspection("plan").findings if one.level != "note"]


def test_all_that_is_wrong_with_a_long_plan_is_mended_in_one_run() -> None:
    assert len(bad(Overlay(["plan"], {"plan": FAULTY}.__getitem__))) > HIDES
    overlay, done = mended(FAULTY)
    assert not bad(overlay)
    assert 0 < len(done.made) <= len(FAULTS)
    assert comments(overlay.open_text("plan")) == comments(FAULTY)


def test_slips_far_apart_are_undone_as_they_were_made() -> None:
    """A yard as a club writes it, 200 turnouts, ten of whose feeders were soldered the wrong way round: the text is the
    sound one again, word by word."""
    sound = yards(200)
    overlay, done = mended(swapped(sound, 10))
    assert [finding.rule for finding, _ in done.made] == ["legs-joined"] * 10
    assert said(overlay.open_text("plan")) == said(sound)


def test_few_faults_are_left_to_the_rounds_unless_they_come_to_no_end(monkeypatch: pytest.MonkeyPatch) -> None:
    """The budget of the rounds ends before one of their trials has proven anything of this plan."""
    proven = list[Trial]()
    monkeypatch.setattr(rounds, "FEW", 100)
    monkeypatch.setattr(Overlay, "make", lambda _, trial: proven.append(trial))
    assert mended(FAULTY)[1].made
    assert not proven


def in_turn(text: str, worth: Worth = lambda one: one, rules: Sequence[str] = ()) -> list[str]:
    """The rules whose findings are mended in the head."""
    gathered = gather("plan", {"plan": text}.__getitem__)
    facts = Facts(gathered.statements, gathered.sources)
    asked = [one for one in askable() if not rules or one.name in rules]
    return [finding.rule for finding, _ in mended_in_turn(facts, asked, plain, worth).jobs]


def plain(finding: Finding) -> list[Fix]:
    return [fix for fix in finding.fixes if fix.edits and fix.plain]


def test_what_the_owner_has_accepted_or_does_not_want_to_hear_of_is_left() -> None:
    text = swapped(yards(40), 6)
    assert in_turn(text) == ["legs-joined"] * 6
    assert in_turn(text, lambda one: None if one.rule == "legs-joined" else one).count("legs-joined") == 0
    accepted = f'{text}accept legs-joined at track5 because "it is on purpose"\n'
    assert in_turn(accepted).count("legs-joined") == 5
    assert in_turn(text, rules=["frog-wired-backwards"]) == []


def test_a_text_that_is_worse_than_it_was_thought_to_be_is_not_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole, "_is_worse", lambda *_: True)
    overlay = Overlay(["plan"], {"plan": FAULTY}.__getitem__)
    assert whole.made_whole(overlay, "plan", (), plain, lambda one: one) == []
    assert not overlay.texts


def test_another_plan_that_reads_the_same_file_keeps_it_from_being_mended_at_once() -> None:
    texts = {"plan": "include shared\n", "other": "include shared\n", "shared": FAULTY}
    overlay = Overlay(["plan", "other"], texts.__getitem__)
    assert whole.made_whole(overlay, "plan", (), lambda one: list(one.fixes), lambda one: one) == []
    assert not overlay.texts
