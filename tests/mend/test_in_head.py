"""Mends that are tried as differences say what the edited text says."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from benchmark.start import SOUND, spoilt
from fuzz.texts import SEEDS
from railbond.circuit import keeping
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import keep_revisions
from railbond.doorway import Opened, enter
from railbond.findings import Finding
from railbond.inspection import Inspection
from railbond.mend.in_head import tried
from trackplan.edit import Edit, add_line, replace
from trackplan.span import Span

FAULTY = sorted((Path(__file__).parents[2] / "example_plans" / "faulty").glob("*.trackplan"))
LONGEST = 1_500
"""Characters of a plan, so that no budget ends before every mend was tried."""

PLAN = "plan.trackplan"
TEXT = """\
booster  B1    15 V  5 A
district main  from B1
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
feeder   main -> west
feeder   main -> east  crossed
"""


def facts(text: str = TEXT) -> Facts:
    return enter(PLAN, {PLAN: text}.__getitem__).facts


def place(words: str, text: str = TEXT) -> Span:
    return Span(PLAN, text.index(words), text.index(words) + len(words))


def test_what_is_offered_is_what_the_text_proves(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every mend of every faulty example that is not long, and of plans with several faults."""
    texts = [text for text in map(Path.read_text, FAULTY) if len(text) < LONGEST]
    texts += [spoilt(SOUND.read_text()), (SEEDS / "kilometers.trackplan").read_text()]
    tries = list[bool]()
    in_head = Opened._in_head

    def counted(self: Opened, edits: Sequence[Edit], notes: bool) -> Inspection | None:
        found = in_head(self, edits, notes)
        tries.append(found is not None)
        return found

    def offered() -> list[list[Finding]]:
        return [enter(PLAN, lambda path, text=text: text).proven.findings for text in texts]  # type: ignore[misc]

    monkeypatch.setattr(Opened, "_in_head", counted)
    as_difference = offered()
    assert sum(tries) > 60
    monkeypatch.setattr(Opened, "_in_head", lambda *_: None)
    assert as_difference == offered()


def accepting(text: str, findings: list[Finding]) -> str:
    """The plan with its notes accepted."""
    lines = {f'accept {one.rule} at {one.names[0]} because "so be it"' for one in findings if one.level == "note"}
    return "\n".join([text.rstrip(), *sorted(lines), ""])


def test_without_notes_all_that_is_worse_is_found() -> None:
    """A rule that is left out finds nothing worse than notes, and an acceptance of notes is in use all the same."""
    texts, left_out, accepted = [text for text in map(Path.read_text, FAULTY) if len(text) < LONGEST], 0, 0
    for text in texts:
        notes = enter(PLAN, {PLAN: text}.__getitem__).inspection.findings
        for said in {text, accepting(text, [one for one in notes if one.names])}:
            opened, found = enter(PLAN, {PLAN: said}.__getitem__), list[list[Finding]]()
            for with_notes in (True, False):
                asked = facts(said).in_trial()
                found.append(opened.of(asked, with_notes).findings)
                accepted += bool(asked.layout.acceptances)
            worse = [[one for one in told if one.level != "note"] for told in found]
            assert worse[0] == worse[1], said
            left_out += len(found[0]) - len(found[1])
    assert left_out > 5 and accepted > 5


def test_what_is_wrong_on_paper_is_tried_on_the_text(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the text itself shows whether a word that was outdated still stands there."""
    monkeypatch.setattr(Opened, "_in_head", lambda *_: pytest.fail("tried in the head"))
    text = TEXT.replace("  crossed", "").replace("stop -> J ", "stop -> J1")
    found = enter(PLAN, {PLAN: text}.__getitem__).proven.findings
    assert {one.happens for one in found} == {"on paper"} and any(one.fixes for one in found)


def test_what_does_not_read_or_leads_elsewhere_is_tried_on_the_text() -> None:
    plan = facts()
    assert tried(plan, [replace(place("feeder   main -> west"), "feeder main")]) is None
    assert tried(plan, [add_line(place("feeder   main -> west"), 'include "yard.trackplan"')]) is None
    assert tried(facts(f"{TEXT}feeder main\n"), [replace(place("  crossed"), "")]) is None
    assert tried(plan, [replace(place("  crossed"), "")])


def revised(plan: Facts, edits: Sequence[Edit]) -> Facts:
    made = keeping.tried(plan, edits)
    assert made
    return made


def test_the_same_plan_is_worked_out_once_whatever_the_order() -> None:
    """Lines that are added one after the other lie at other places than at once, and say the same."""
    gaps = [add_line(place("  crossed"), f"gap J  {rail} rail") for rail in ("left", "right")]
    plan = facts()
    keep_revisions(plan)
    both = revised(plan, gaps)
    assert revised(revised(plan, gaps[:1]), gaps[1:]) is both
    assert revised(revised(plan, gaps[1:]), gaps[:1]) is both
    assert both.layout and revised(plan.in_trial(), gaps).layout is both.layout
    assert revised(plan.in_trial(), gaps) is revised(plan.in_trial(), gaps) is not both
    assert revised(plan, gaps[:1]) is not both and revised(plan, [*gaps, gaps[0]]) is both
    assert revised(plan, [*gaps, add_line(place("feeder   main -> west"), "gap J  left rail")]) is not both


def test_nothing_is_kept_of_what_is_large_or_when_all_is_done(monkeypatch: pytest.MonkeyPatch) -> None:
    gap = [add_line(place("  crossed"), "gap J  left rail")]
    plan = facts()
    assert revised(plan, gap) is not revised(plan, gap)
    opened = enter(PLAN, {PLAN: TEXT}.__getitem__)
    assert opened.proven.findings and keeping.REVISIONS not in opened.facts.kept
    monkeypatch.setattr(keeping, "MOST", 5)
    keep_revisions(plan)
    assert revised(plan, gap) is not revised(plan, gap)
