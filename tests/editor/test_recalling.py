"""What is recalled of a plan that is typed is what a fresh inspection finds, edit by edit."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import pytest
from hypothesis import settings

from oracle.plans import random_sound, random_wild, seed_faults
from railbond.circuit.facts import Facts
from railbond.inspection import Inspection, inspect
from railbond.recalling import Anew, RecentInspections
from trackplan.gather import GatheredPlan, gather

FAULTY = sorted((Path(__file__).parents[2] / "example_plans" / "faulty").glob("*.trackplan"))
SESSIONS = max(1, settings().max_examples // 60)
"""Plans for each of eight beginnings: one, and fifty in the thorough profile."""
EDITS = 25
WORDS = ("#", "# 40 cm", " ", "\n", "\n# yard\n", "x", "fee", "\nfeeder T1", "crossed", "\nsegment a1 T1.", " #6", "2")


def typed(text: str, dice: Random) -> str:
    """The text after one edit, as people make them."""
    at = dice.randrange(len(text) + 1)
    line = text.rfind("\n", 0, at) + 1
    end = (text.find("\n", at) + 1) or len(text)
    kind = dice.randrange(10)
    if kind < 3:
        return text[:at] + dice.choice(WORDS) + text[at:]
    if kind == 3:
        return text[: end - 1] + dice.choice(WORDS) + text[end - 1 :]
    if kind == 4:
        return text[:at] + text[at + dice.randint(1, 3) :]
    if kind == 5:
        return text[:line] + text[end:]
    if kind == 6:
        return text[:line] + text[line:end] + text[line:]
    return text[:end] + "# " + text[line:end] + text[end:]


def session(text: str, dice: Random, edits: int) -> Iterator[str]:
    """A text as it is typed, with much of it taken back again."""
    before = [text]
    for _ in range(edits):
        if len(before) > 1 and dice.random() < 0.45:
            before.pop()
        else:
            before.append(typed(before[-1], dice))
        yield before[-1]


def plan(number: int) -> str:
    dice = Random(number)
    if number % 4 == 0:
        return dice.choice(FAULTY).read_text(encoding="utf-8")
    if number % 4 == 1:
        return random_wild(dice, 3)
    sound = random_sound(dice, 3)
    return seed_faults(sound, 1, dice)[0] if number % 4 == 2 else sound


def opener(text: str) -> Callable[[str], str]:
    """Opens a plan, and what it may include beside it."""

    def opened(path: str) -> str:
        if path == "plan":
            return text
        raise FileNotFoundError(path)

    return opened


def answer(inspection: Inspection) -> object:
    texts = {path: source.text for path, source in inspection.sources.items()}
    return texts, inspection.findings, list(inspection.after.items()), inspection.known, inspection.remarks


@pytest.mark.parametrize("number", range(8))
def test_what_is_recalled_is_what_is_found(number: int) -> None:
    asked = recalled = 0
    for again in range(SESSIONS):
        dice, recent = Random(number * 1000 + again), RecentInspections()
        for text in session(plan(number + 8 * again), dice, EDITS):
            gathered = gather("plan", opener(text))
            inspected = list[Inspection]()
            found = recent.of(gathered, inspector(inspected))
            asked, recalled = asked + 1, recalled + (not inspected)
            assert answer(found) == answer(inspect(gathered)), text
    assert recalled > asked / 10


@pytest.mark.parametrize("number", [0, 2, 3])
def test_comments_and_what_is_taken_back_are_recalled(number: int) -> None:
    """Faulty or not, nothing is inspected for them, however long they are typed at."""
    text, recent = plan(number), RecentInspections()
    recent.of(gather("plan", opener(text)), inspector([]))
    for more in ("#", "# a", "# a word", "# a word\n\n", "", " "):
        recent.of(gather("plan", opener(f"{text}{more}")), refuse)
        recent.of(gather("plan", opener(f"{more}\n{text}")), refuse)
    recent.of(gather("plan", opener(f"{text}\nfee")), inspector([]))
    for more in ("feed", "feeder", "feeder ->", "feeder -> -> ->"):
        recent.of(gather("plan", opener(f"{text}\n{more}")), refuse)
    recent.of(gather("plan", opener(text)), refuse)


@pytest.mark.parametrize("number", [1, 3, 7])
def test_a_new_line_begun_in_a_plan_with_nothing_but_notes_is_recalled(number: int) -> None:
    """From its first letter on, anywhere in the plan; and what is told of the line is what a fresh inspection tells."""
    text, recent = random_sound(Random(number), 6), RecentInspections()
    recent.of(gather("plan", opener(text)), inspector([]))
    lines = text.splitlines(keepends=True)
    for place in range(0, len(lines), 7):
        for word in ("f", "feeder P1", "segment a ->", "x y"):
            gathered = gather("plan", opener("".join([*lines[:place], f"{word}\n", *lines[place:]])))
            if gathered.broken and not lines[place].startswith(" "):
                assert answer(recent.of(gathered, refuse)) == answer(inspect(gathered))
        recent.of(gather("plan", opener(text)), refuse)


def inspector(inspected: list[Inspection]) -> Anew:
    """Inspects, and notes that it did."""

    def anew(gathered: GatheredPlan, facts: Facts) -> Inspection:
        inspected.append(inspect(gathered, facts=facts))
        return inspected[-1]

    return anew


def refuse(plan: object, facts: object) -> Inspection:
    raise AssertionError("inspected anew")
