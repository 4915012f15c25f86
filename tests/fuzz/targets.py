"""What is tried: every answer of the program on one text. Each raises where something is wrong with the answer."""

from __future__ import annotations

import json
from collections.abc import Iterable
from random import Random
from xml.etree import ElementTree

from fuzz.benching import searched
from fuzz.calling import COMMANDS, PLAN
from fuzz.editing import EDITOR
from fuzz.running import Target
from mend.sameness import same_rails
from railbond.circuit.facts import Facts
from railbond.design.wire import wire
from railbond.design.wishes import WiringWishes
from railbond.doorway import enter
from railbond.explaining.search import Explanation, explain, key
from railbond.faces.live.page import page, railroad
from railbond.findings import Finding
from railbond.inspection import as_written, inspect
from railbond.mend.proving import proven
from railbond.rules import all_rules
from trackplan.edit import in_text, splice
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source
from trackplan.tidy import TidyError, tidy

BROKE_OFF = "broke off ("


def opened(text: str):  # type: ignore[no-untyped-def]
    """Gives the text of the one plan; there is no other file."""

    def open_text(path: str) -> str:
        if path != PLAN:
            raise FileNotFoundError(2, "No such file", path)
        return text

    return open_text


def reader(text: str, dice: Random) -> None:
    """Every line is answered for, once, at a place in the text."""
    reading = read(Source(PLAN, text))
    spans = sorted(one.at for one in [*reading.statements, *reading.broken])
    assert all(0 <= at.start < at.end <= len(text) for at in spans)
    assert all(one.end <= other.start for one, other in zip(spans, spans[1:], strict=False))


def inspection(text: str, dice: Random) -> None:
    """No rule breaks off, and every fix can be made that is one of the plan as it stands."""
    whole = inspect(gather(PLAN, opened(text)))
    assert not broken_off(whole.findings), broken_off(whole.findings)
    for finding in (one for one, mended in whole.after.items() if not mended):
        for fix in finding.fixes:
            source = whole.sources[PLAN]
            splice(PLAN, text, in_text(source, [one for one in fix.edits if one.at.path == PLAN]))


def mends(text: str, dice: Random) -> None:
    """What is offered as proven can be made, and no rule breaks off on the way."""
    open_text = opened(text)
    whole = proven(PLAN, inspect(gather(PLAN, open_text)), open_text)
    assert not broken_off(whole.findings), broken_off(whole.findings)


def broken_off(findings: list[Finding]) -> list[str]:
    """What is told of rules that broke off."""
    return [one.message for one in findings if BROKE_OFF in one.message]


def tidied(text: str, dice: Random) -> None:
    """The layout says the same, and laid out again it stays."""
    try:
        once = tidy(Source(PLAN, text))
    except TidyError:
        return
    assert tidy(Source(PLAN, once)) == once
    assert same_rails(PLAN, text, once)


def wiring(text: str, dice: Random) -> None:
    """What is written goes through the same proof, and what the plan has is kept as it is."""
    wishes = WiringWishes(dice.choice(("contacts", "units")), rebuild=dice.choice(("nothing", "bonds", "cuts")))
    made = wire(PLAN, opened(text), wishes)
    lines = made.text.splitlines()
    assert [line for line in text.splitlines() if line not in lines] == []
    again = inspect(gather(PLAN, opened(made.text)))
    assert not broken_off(again.findings), broken_off(again.findings)
    if not read(Source(PLAN, text)).broken:
        assert not read(Source(PLAN, made.text)).broken


def explaining(text: str, dice: Random) -> None:
    """One slip that is said to explain something explains it: undone, nothing of that is found any more."""
    gathered = gather(PLAN, opened(text))
    facts = Facts(gathered.statements, gathered.sources, gathered.broken)
    written = as_written(facts, rules=all_rules())
    assert not broken_off(written), broken_off(written)
    explanation = Explanation([], written) if facts.broken else explain(facts.in_trial(), written, asking)
    told = {key(finding) for one in explanation.slips for finding in one.findings}
    edits = tuple(edit for one in explanation.slips for edit in one.slip.edits)
    if len(explanation.slips) == 1:
        assert told <= {key(one) for one in written}
        assert not told & {key(one) for one in as_written(facts.revised(edits), rules=all_rules())}


def asking(facts: Facts, power: bool, names: Iterable[str] | None = None) -> list[Finding]:
    return as_written(facts, power, names, rules=all_rules())


def searching(text: str, dice: Random) -> None:
    """A search at the bench that is told and answered at random."""
    gathered = gather(PLAN, opened(text))
    searched(Facts(gathered.statements, gathered.sources, gathered.broken), dice)


def live_page(text: str, dice: Random) -> None:
    """The page has one script, its data is JSON, and the picture in it is XML."""
    found = enter(PLAN, opened(text))
    shown = railroad(found.facts, found.placed)
    ElementTree.fromstring(f"<svg>{''.join(shown['marks'])}</svg>")
    html = page(shown, dice.choice(("", "news")))
    assert html.count("<script") == html.count("</script>") == 2
    data = json.loads(html.partition('type="application/json"')[2].partition(">")[2].partition("</script>")[0])
    assert data["title"] == json.loads(json.dumps(shown["title"]))


TARGETS: dict[str, Target] = {
    "reader": reader,
    "inspection": inspection,
    "mends": mends,
    "tidy": tidied,
    "explaining": explaining,
    "wiring": wiring,
    "searching": searching,
    "live page": live_page,
    **COMMANDS,
    **EDITOR,
}
