"""Mends of a meet pass the same trial as those of a plan: what is offered cures, keeps comments and harms no module."""

from __future__ import annotations

from pathlib import Path

import pytest

from meet.samples import BUSES, FILES, MODULES, SOUND
from railbond.circuit.effort import spent
from railbond.findings import Fix
from railbond.inspection import Inspection, inspect
from railbond.layout.assembly import assemble
from railbond.meet import meet_facts
from railbond.meet.examining import examine_meet
from railbond.meet.meet_facts import MeetFacts
from railbond.meet.reading import Meet, OpenText, read_meet
from railbond.meet.trying import TrialMeet
from railbond.mend.difference import comments
from railbond.mend.proving import proven
from trackplan.edit import Edit, in_text, replace, splice
from trackplan.gather import GatheredPlan, gather
from trackplan.span import Span

MEET = "meet.trackplan"
LINE = "bus one.T1 -> two.plug crossed  # borrowed cable"
CROSSED = SOUND.replace("bus one.T1 -> two.plug", LINE)
RUNS = BUSES.splitlines()
FAULTY = {run: SOUND.replace(run, f"{run} crossed  # borrowed cable") for run in RUNS}
FAULTY["two at once"] = FAULTY[RUNS[0]].replace(RUNS[2], f"{RUNS[2]} crossed")
FAULTY["where a wish chose the order"] = (
    f"{MODULES}couple two.E -> loop.W\nany order of one between town and two\n"
    + BUSES.replace("loop.plug", "loop.plug crossed")
)


def reader(texts: dict[str, str]) -> Meet:
    return read_meet(gather(MEET, texts.__getitem__), texts.__getitem__)


def edited(texts: dict[str, str], edits: tuple[Edit, ...]) -> dict[str, str]:
    sources = reader(texts).sources
    by_path: dict[str, list[Edit]] = {}
    for edit in edits:
        by_path.setdefault(edit.at.path, []).append(edit)
    made = {path: splice(path, texts[path], in_text(sources[path], own)) for path, own in by_path.items()}
    return texts | made


def faults(texts: dict[str, str]) -> list[str]:
    return [one.rule for one in examine_meet(reader(texts)).findings if one.level != "note"]


@pytest.mark.parametrize("text", FAULTY.values(), ids=FAULTY)
def test_what_is_offered_cures_and_keeps_comments(text: str) -> None:
    texts = FILES | {MEET: text}
    offered = [(one, fix) for one in examine_meet(reader(texts)).findings for fix in one.fixes if fix.edits]
    assert offered
    for finding, fix in offered:
        assert fix.proven in {"alone", "together"}, (finding, fix)
        after = edited(texts, fix.edits)
        assert faults(after).count(finding.rule) < faults(texts).count(finding.rule)
        assert all(comments(after[path]) == comments(one) for path, one in texts.items())


def test_the_crossed_cable_is_offered_its_mend() -> None:
    (finding,) = examine_meet(reader(FILES | {MEET: CROSSED})).findings
    assert "bus one.T1 -> two.plug  # borrowed cable" in edited(FILES | {MEET: CROSSED}, finding.fixes[0].edits)[MEET]


def tried(edit: Edit, texts: dict[str, str]) -> Fix | None:
    """What becomes of one mend of the crossed cable's fault, when it is tried."""
    meet = reader(texts)
    (finding,) = examine_meet(meet).findings
    told = finding._replace(fixes=(Fix("as the test says", (edit,)),))
    found = Inspection(meet.sources, [told], {told: ()})
    trial = TrialMeet(meet, {}, (), gather)
    (offered,) = proven(MEET, found, texts.__getitem__, alone_at_hand(trial)).findings
    return next(iter(offered.fixes), None)


def alone_at_hand(trial: TrialMeet) -> TrialMeet:
    trial.alone |= {plan.root: Inspection({}, []) for plan in trial.meet.modules.values()}
    return trial


def place(path: str, words: str, texts: dict[str, str]) -> Span:
    start = texts[path].index(words)
    return Span(path, start, start + len(words))


def test_a_mend_that_loses_a_comment_is_not_offered() -> None:
    texts = FILES | {MEET: CROSSED}
    assert tried(replace(place(MEET, " crossed", texts), ""), texts)
    assert not tried(replace(place(MEET, " crossed  # borrowed cable", texts), ""), texts)


def test_a_mend_that_makes_a_module_faulty_by_itself_is_not_offered() -> None:
    """The drop turned round in the module's own plan would agree with the cable, and with nothing that it promises at
    its edges."""
    texts = FILES | {MEET: CROSSED, "two.trackplan": FILES["straight.trackplan"]}
    texts[MEET] = CROSSED.replace('module two "straight.trackplan"', 'module two "two.trackplan"')
    edit = replace(place("two.trackplan", "feeder T1 -> line", texts), "feeder T1 -> line crossed")
    assert not tried(edit, texts)


def test_only_a_module_whose_text_changed_is_read_again() -> None:
    texts = FILES | {MEET: CROSSED}
    meet, read = reader(texts), list[str]()

    def gathering(path: str, open_text: OpenText) -> GatheredPlan:
        read.append(path)
        return gather(path, open_text)

    trial = alone_at_hand(TrialMeet(meet, {}, (), gathering))
    again = trial(MEET, texts.__getitem__)
    assert {one.rule for one in again.findings} == {one.rule for one in examine_meet(meet).findings}
    assert read == [MEET]
    changed = texts | {"loop.trackplan": FILES["loop.trackplan"].replace("feeder P -> lead\n", "")}
    assert {one.at.path for one in trial(MEET, changed.__getitem__).findings} >= {"loop.trackplan"}
    assert read == [MEET, MEET, "loop.trackplan"]


def test_couplings_of_a_wish_stand_where_the_wish_stands_after_an_edit() -> None:
    texts = FILES | {MEET: f"{MODULES}any order of one two between town and loop\n{BUSES}"}
    meet, remark = reader(texts), "# a remark\n"
    couples = [answer.couples for answer in examine_meet(meet).answers]
    assert couples[0]
    trial = alone_at_hand(TrialMeet(meet, {}, couples, gather))
    moved = texts | {MEET: remark + texts[MEET]}
    after = trial._coupled(gather(MEET, moved.__getitem__))
    assert [one.at.start for one in after] == [one.at.start + len(remark) for one in couples[0]]
    assert not trial(MEET, moved.__getitem__).findings


HUB = f"""\
booster B1 15 V 5 A
district main from B1 trips 4 A
bus main -> H1 2 m 12 AWG
bus H1 -> H2 2 m 12 AWG
{MODULES}couple one.E -> two.W
couple two.E -> loop.W
bus H1 -> one.plug 1 m 14 AWG
bus H2 -> two.plug 1 m 14 AWG
bus H2 -> loop.plug 1 m 14 AWG
""".replace('module town "town.trackplan" owner "the town club"\n', "")
SLIPS = {
    "an edge of no module": ("two.E -> loop.W", "two.E -> lop.W"),
    "an edge that is numbered otherwise": ("couple two.E -> loop.W", "couple two.E -> loop2.W"),
    "an edge that is coupled already": ("couple two.E -> loop.W", "couple two.W -> loop.W"),
    "the other word is coupled already": ("couple one.E -> two.W", "couple two.E -> one.E"),
}


def test_the_hub_is_sound() -> None:
    assert faults(FILES | {MEET: HUB}) == []


@pytest.mark.parametrize("name", SLIPS)
def test_an_edge_is_offered_that_nothing_meets(name: str) -> None:
    right, wrong = SLIPS[name]
    texts = FILES | {MEET: HUB.replace(right, wrong)}
    first = next(one for one in examine_meet(reader(texts)).findings if one.level == "error")
    after = edited(texts, first.fixes[0].edits)[MEET]
    assert faults(FILES | {MEET: after}) == []


def test_a_plug_is_plugged_in_where_the_fewest_are() -> None:
    """Of the meet's own terminals, not behind another module's wires."""
    texts = FILES | {MEET: HUB.replace("bus H1 -> one.plug 1 m 14 AWG\n", "")}
    (found,) = [one for one in examine_meet(reader(texts)).findings if one.rule == "loose-end"]
    assert [edit.text for edit in found.fixes[0].edits] == ["bus H1 -> one.plug  1 m  14 AWG"]


def test_a_trial_of_a_meet_looks_for_no_mends_and_finds_the_same() -> None:
    """A meet with track of its own that turns: where its mends would go is worked out for what is told alone."""
    turns = Path(__file__).parents[2] / "example_plans" / "faulty" / "reversing-without-reverser.trackplan"
    texts = FILES | {MEET: f'module town "town.trackplan"\n{turns.read_text(encoding="utf-8")}'}
    found, steps = [], []
    for with_fixes in (True, False):
        before = spent()
        trial = TrialMeet(reader(texts), {}, [], gather)
        trial.alone |= {path: inspect(gather(path, texts.__getitem__)) for path in ("town.trackplan",)}
        inspection = trial(MEET, texts.__getitem__, with_fixes=with_fixes)
        steps.append(spent() - before)
        found.append(sorted({(one.rule, one.at) for one in inspection.findings}))
    assert found[0] == found[1] and steps[1] < 0.8 * steps[0]


@pytest.mark.parametrize("text", FAULTY.values(), ids=FAULTY)
def test_a_bus_is_turned_round_without_putting_the_modules_together_anew(
    text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = MeetFacts(reader(FILES | {MEET: text}))
    laid: list[object] = []
    monkeypatch.setattr(meet_facts, "assemble", lambda *said: laid.append(said) or assemble(*said))
    quick = [(type(one), one.at) for one in whole.swaps]
    assert len(laid) == 1
    monkeypatch.setattr(meet_facts, "with_wires", lambda *said: None)
    anew = MeetFacts(reader(FILES | {MEET: text}))
    assert quick == [(type(one), one.at) for one in anew.swaps]
    assert not quick or len(laid) > 3
