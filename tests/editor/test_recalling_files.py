"""What is recalled where an included file, an acceptance or a club's settings are typed at is what a fresh inspection
finds: edit by edit, in whichever file."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest
from hypothesis import settings

from editor.test_recalling import answer, typed
from oracle.plans import random_sound, seed_faults
from railbond.doorway import Opened, enter
from railbond.recalling import RecentInspections
from railbond.rules import all_rules
from railbond.settings import settings_of
from trackplan.span import Source

Texts = dict[str, str]
CLUB = """\
fail-at = "error"

[rules]
voltage-drop = "note"

[limits]
feeder-spacing = "3 m"
feeder-length = "20 cm"
"""
SESSIONS = max(1, settings().max_examples // 60)
"""For each of eight beginnings: one, and fifty in the thorough profile."""
EDITS = 25
RULES = sorted(rule.name for rule in all_rules())
OWN = ("limit feeder-spacing 2 m", "limit feeder-length 30 cm", 'include "shared.trackplan"', 'include "no.trackplan"')
SETTLED = ('unfed-frog = "off"', 'voltage-drop = "error"', 'voltage-drop = "loud"', "[limits]", 'heat = "3"', "# 4 m")


def beginning(dice: Random) -> Texts:
    """A plan that includes the first lines of what was one, among them its supplies, and a club's settings."""
    sound = random_sound(dice, 3)
    text = sound if dice.random() < 0.3 else seed_faults(sound, 1, dice)[0]
    lines = text.splitlines(keepends=True)
    cut = dice.randrange(3, len(lines))
    plan = ['include "shared.trackplan"\n', *lines[cut:]]
    return {"plan": "".join(plan), "shared.trackplan": "".join(lines[:cut]), "railbond.toml": CLUB}


def opened(texts: Texts, recent: RecentInspections | None = None) -> Opened:
    def open_text(path: str) -> str:
        if path in texts and path != "railbond.toml":
            return texts[path]
        raise FileNotFoundError(path)

    club = settings_of(Source("railbond.toml", texts["railbond.toml"]))
    return enter("plan", open_text, settings=club, recent=recent)


def changed(texts: Texts, dice: Random) -> Texts:
    """After one edit: of any kind in any file; often a line of the kind that this is about comes, or goes."""
    name = dice.choice([*texts])
    text = texts[name]
    if dice.random() < 0.5:
        return {**texts, name: typed(text, dice)}
    lines = text.splitlines(keepends=True)
    if name == "railbond.toml":
        line = dice.choice(SETTLED)
    elif dice.random() < 0.3:
        line = dice.choice(OWN)
    else:
        line = acceptance(texts, dice)
    lines.insert(dice.randrange(len(lines) + 1), f"{line}\n")
    return {**texts, name: "".join(lines)}


def acceptance(texts: Texts, dice: Random) -> str:
    """Of what is found, mostly; or of anything, anywhere, with a reason or none."""
    found = opened(texts).inspection.findings
    if found and dice.random() < 0.8:
        one = dice.choice(found)
        rule, place = one.rule, f"at {dice.choice(one.names)}" if one.names else "everywhere"
    else:
        rule, place = dice.choice(RULES), "everywhere"
    return f"accept {rule} {place}" + (' because "seen"' if dice.random() < 0.8 else "")


def session(dice: Random) -> Iterator[Texts]:
    """Files as they are typed at, with much of it taken back again."""
    before = [beginning(dice)]
    for _ in range(EDITS):
        if len(before) > 1 and dice.random() < 0.4:
            before.pop()
        else:
            before.append(changed(before[-1], dice))
        yield before[-1]


@pytest.mark.parametrize("number", range(8))
def test_what_is_recalled_across_files_is_what_is_found(number: int) -> None:
    asked = recalled = 0
    for again in range(SESSIONS):
        dice, recent = Random(number * 1000 + again), RecentInspections()
        for texts in session(dice):
            before = recent.kept[0][1] if recent.kept else None
            kept = [*recent.kept]
            found = opened(texts, recent)
            assert answer(found.inspection) == answer(opened(texts).inspection), texts
            asked += 1
            recalled += len(kept) == len(recent.kept) or before is recent.kept[0][1]
    assert recalled


def test_an_acceptance_that_is_typed_silences_at_once() -> None:
    """And is itself recalled, with its comment: nothing of what was accepted comes back, or stays."""
    texts = beginning(Random(3))
    recent = RecentInspections()
    found = opened(texts, recent).inspection.findings
    one = next(finding for finding in found if finding.names and finding.rule != "syntax")
    for reason in ("", ' because "old"', ' because "old" # and said', "", ' because "older"'):
        now = {**texts, "plan": f"{texts['plan']}accept {one.rule} at {one.names[0]}{reason}\n"}
        told = opened(now, recent).inspection
        assert answer(told) == answer(opened(now).inspection)
        assert ((one.rule, one.names) in {(other.rule, other.names) for other in told.findings}) == (not reason)
