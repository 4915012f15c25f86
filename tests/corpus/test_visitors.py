"""Layouts and meets of a club that knows the program from its README alone: sound as they are, and with slips."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from corpus.counting import told_of
from corpus.meaning import same
from railbond.doorway import enter
from trackplan.edit import apply

HERE = Path(__file__).parent / "visitors"
CLUB = ("branch_dc", "dogbone", "double_main", "staging", "union", "wye_town")
PLANS = [*(f"club/{name}.trackplan" for name in CLUB), "meet1/meet.trackplan", "meet2/meet.trackplan"]


class Replaced(NamedTuple):
    """A slip of the hand: in a file beside the plan, what stands there and what was written instead."""

    plan: str
    file: str
    right: str
    wrong: str


SLIPS = [
    # the other bus is called nearly so, a cable went to a module that is not beside, the cut to the other edge
    Replaced("meet2/meet", "meet", "town.PB1 -> s1.plug-b", "town.PF1 -> s1.plug-b"),
    Replaced("meet1/meet", "meet", "yard.P2 -> plain-3.plug", "depot.P2 -> plain-3.plug"),
    Replaced("meet1/meet", "meet", "gap     yard.N", "gap     yard.E"),
    # one crossed cable, with a row of modules behind it
    Replaced("meet1/meet", "meet", "plain-2.plug      1 m  12 AWG", "plain-2.plug      1 m  12 AWG  crossed"),
    # the row goes on where the line before it led
    Replaced("meet1/meet", "meet", "couple  plain-2.E -> term.W", "couple  plain-1.E -> term.W"),
    # a block with a toggle uses both of its cabs: neither has been left idle
    Replaced("club/branch_dc", "branch_dc", "feeder    T4 -> bay2       at 15 cm  22 AWG  25 cm\n", ""),
]


def texts_of(plan: str) -> dict[str, str]:
    folder = HERE / plan.partition("/")[0]
    return {f"{folder.name}/{one.name}": one.read_text("utf-8") for one in sorted(folder.glob("*.trackplan"))}


@pytest.mark.parametrize("plan", PLANS)
def test_none_is_accused(plan: str) -> None:
    assert told_of(plan, texts_of(plan)) == []


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: f"{slip.file}-{slip.wrong[:30].strip()}")
def test_the_first_mend_is_what_was_meant(slip: Replaced) -> None:
    root, sound = f"{slip.plan}.trackplan", texts_of(slip.plan)
    file = f"{slip.plan.partition('/')[0]}/{slip.file}.trackplan"
    assert sound[file].count(slip.right) == 1
    faulty = sound | {file: sound[file].replace(slip.right, slip.wrong)}
    first = told_of(root, faulty)[0]
    sources = enter(root, faulty.__getitem__).sources
    assert first.fixes, first.message
    edits = first.fixes[0].edits
    own = {path: tuple(edit for edit in edits if edit.at.path == path) for path in {edit.at.path for edit in edits}}
    mended = faulty | {path: apply(sources[path], made) for path, made in own.items()}
    assert same(root, sound, mended, faulty), (first.message, first.fixes[0].words)
    assert told_of(root, mended) == []
