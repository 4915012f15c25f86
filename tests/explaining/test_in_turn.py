"""What is told cause by cause: rules that find nothing in a plan as it is written need not be asked of it mended."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from benchmark.start import SOUND, spoilt
from railbond.circuit.facts import Facts
from railbond.explaining import explained
from railbond.findings import Finding
from railbond.inspection import as_written, examined
from railbond.rules import askable
from trackplan.read import read
from trackplan.span import Source

FAULTY = sorted((Path(__file__).parents[2] / "example_plans" / "faulty").glob("*.trackplan"))
LONGEST = 1_500
"""Characters of a plan."""


def told(text: str, asked: Callable[[Facts, set[str]], explained.After]) -> tuple[list[object], list[Finding]]:
    """What is told cause by cause, in its order, and what the plan finds as it is written."""
    reading = read(Source("plan.trackplan", text))
    facts = Facts(reading.statements, {"plan.trackplan": reading.source}, reading.broken)
    written = as_written(facts, rules=askable())
    after = asked(facts, {one.rule for one in written})
    return list(explained._as_it_stands(facts, after, written).items()), list(after)


def test_what_is_told_hangs_on_no_rule_that_finds_nothing_as_it_is_written() -> None:
    texts = [text for text in map(Path.read_text, FAULTY) if len(text) < LONGEST]
    left_out = 0
    for text in [*texts, spoilt(SOUND.read_text())]:
        whole, found = told(text, lambda facts, _: examined(facts, rules=askable()))
        some, fewer = told(text, lambda facts, names: examined(facts, names, rules=askable()))
        assert some == whole, text
        left_out += len(found) - len(fewer)
    assert left_out > 0


def test_an_acceptance_is_in_use_by_what_is_only_found_once_causes_are_mended() -> None:
    """The feeder is far once the frog's rail is gapped. Then the acceptance of that accepts something."""
    text = spoilt(SOUND.read_text()) + 'accept feeders-too-far-apart at siding because "it is soldered"\n'
    whole, _ = told(text, lambda facts, _: examined(facts, rules=askable()))
    some, _ = told(text, lambda facts, names: examined(facts, names, rules=askable()))
    assert some == whole and "acceptance-unused" not in {one.rule for one, _ in some}  # type: ignore[misc]
