"""Words that the language had before are read as their new ones, and the plan is told what to write."""

from __future__ import annotations

import pytest

from railbond.inspection import inspect
from railbond.layout.accepted import FORMER_RULES
from railbond.rules import all_rules
from trackplan.former import FORMER
from trackplan.gather import gather
from trackplan.parse import parse
from trackplan.read import read
from trackplan.span import Source
from trackplan.tables import KEYWORDS

HEAD = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\n"
HEAD += "feeder main -> a\nfeeder main -> b\n"
ENGINE = "engine e left 0 31 mm right 0 31 mm 0.4 A {} 300 ms"
CONSTRUCTION = "construction C1 rail x y {} x y opening one left x right y enters end"


@pytest.mark.parametrize(("old", "new"), FORMER.items())
def test_a_former_word_is_a_name_now_and_its_new_one_a_keyword(old: str, new: str) -> None:
    assert old not in KEYWORDS and new in KEYWORDS
    assert parse(f"train {old} 2 m")[1] == old


@pytest.mark.parametrize(("line", "old", "new"), [(ENGINE, "keep-alive", "capacitor"), (CONSTRUCTION, "tie", "joined")])
def test_a_former_word_is_read_as_the_new_one(line: str, old: str, new: str) -> None:
    was, now = (read(Source("p", line.format(word))).statements[0] for word in (old, new))
    assert was[1:] == now[1:]


@pytest.mark.parametrize(
    ("line", "new"),
    [
        (ENGINE.format("keep-alive"), ENGINE.format("capacitor")),
        ("solder J", "solder joiners at J"),
        ('accept long-bus at a because "x"', 'accept bus-too-long at a because "x"'),
    ],
)
def test_what_to_write_is_told_with_its_edit(line: str, new: str) -> None:
    text = HEAD + line + "\n"
    (finding,) = (one for one in inspect(gather("p", lambda path: text)).findings if one.rule == "outdated-word")
    (edit,) = finding.fixes[0].edits
    assert text[: edit.at.start] + edit.text + text[edit.at.end :] == HEAD + new + "\n"
    assert finding.level == "note"


def test_no_rule_bears_a_name_that_it_had_before() -> None:
    names = {rule.name for rule in all_rules()}
    assert set(FORMER_RULES.values()) <= names and not names & set(FORMER_RULES)


def test_an_acceptance_by_the_old_name_still_silences() -> None:
    plan = HEAD.replace("feeder main -> b\n", "").replace("-> J 1 m", "-> J 5 m")
    told = [one.rule for one in inspect(gather("p", lambda path: plan)).findings]
    assert "feeders-too-far-apart" in told
    for name in ("feeder-spacing", "feeders-too-far-apart"):
        accepted = plan + f'accept {name} at a because "x"\naccept {name} at b because "x"\n'
        rules = [one.rule for one in inspect(gather("p", lambda path, text=accepted: text)).findings]
        assert "feeders-too-far-apart" not in rules and "acceptance-unused" not in rules
