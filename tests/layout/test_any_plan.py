"""Whatever the statements say, a layout is built, in time that grows with their number alone."""

from __future__ import annotations

import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from railbond.layout import names as names_table
from railbond.layout.build import build
from railbond.layout.model import Layout
from railbond.trackwork import template_for
from trackplan.edit import apply
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Statement

CUTS = ["closure jumpers", "around frog", "around frog without jumpers", "frog rails"]
names = st.sampled_from(["a", "b", "T", "T2", "W", "J", "main", "P1", "P2", "B1", "stopp", "é"])
ends = st.one_of(
    names, st.just("stop"),
    st.builds("{}.{}".format, names, st.sampled_from(["start", "finish", "points", "through", "diverging", "lft"])),
)  # fmt: skip
wires = st.one_of(names, st.builds("{}.{}".format, names, st.sampled_from(["red", "black", "rd"])))
fed = st.one_of(ends, st.builds("{}.{}".format, ends, st.sampled_from(["left", "right", "stock", "frog"])))
rails = st.sampled_from(["left rail", "right rail", "both rails", "frog rail", "stock rail"])
places = st.sampled_from(["", " at 2 cm", " at 50 cm", " at 500 mm", " at 9 m"])
hands = st.sampled_from(["left dead-frog", "right live-frog", "wye isolated-frog"])

lines = st.one_of(
    st.builds("segment {} {} -> {} 1 m".format, names, ends, ends),
    st.builds("turnout {} {}".format, names, hands),
    st.builds("joint {} -> {}".format, ends, ends),
    st.builds("gap {}{} {}".format, ends.filter(lambda end: end != "stop"), places, rails),
    st.builds("endplate {} left {}".format, names, st.sampled_from(["red", "blue"])),
    st.builds("endplate {}".format, names),
    st.builds("bond {} closure rails to stock rails".format, names),
    st.builds("cut {} {}".format, names, st.sampled_from(CUTS)),
    st.builds("frog {} switched with {} through {} diverging {}".format, names, names, wires, wires),
    st.builds("frog {} switched from stock rails".format, names),
    st.builds("frog {} automatic {}".format, names, wires),
    st.builds("booster {} 15 V 5 A".format, names),
    st.builds("district {} from {} legs {} black".format, names, names, st.sampled_from(["red", "black"])),
    st.builds("block {} in {}".format, names, names),
    st.builds("reverser {} in {}".format, names, names),
    st.builds("bus {} -> {}".format, wires, names),
    st.builds("feeder {} -> {}{}".format, wires, fed.filter(lambda end: end != "stop"), places),
    st.builds("feeder {} -> {} crossed".format, wires, names),
    st.builds("accept stalls at {}".format, ends.filter(lambda end: end != "stop")),
    st.builds("module {} \"x\"".format, names),
)  # fmt: skip
plans = st.lists(lines, max_size=25).map(lambda many: "".join(f"{line}\n" for line in many))


def statements(text: str) -> list[Statement]:
    reading = read(Source("plan", text))
    assert not reading.broken, reading.broken
    return reading.statements


@settings(deadline=None)
@given(plans)
def test_a_layout_is_whole_whatever_the_plan_says(text: str) -> None:
    """All that it holds is held by things that are there."""
    plan = build(statements(text), template_for)
    wires = plan.supplies.keys() | plan.terminals.keys()
    for meeting in plan.meetings:
        for at in (meeting.one, meeting.other):
            assert at.end in plan.pieces[at.piece].template.ends
    met = [at for meeting in plan.meetings for at in (meeting.one, meeting.other)] + plan.stops
    assert len(met) == len(set(met))
    assert {drop.wire.name for drop in plan.drops} <= wires
    assert all(drop.metal < len(plan.pieces[drop.piece].template.metals) for drop in plan.drops)
    assert {end for run in plan.runs for end in (run.source, run.terminal)} <= wires
    assert {wire.name for feed in plan.frogs.values() for wire in feed.contacts.values()} <= wires
    assert all(feed.mover is None or feed.mover in plan.pieces for feed in plan.frogs.values())


@settings(deadline=None)
@given(plans)
def test_faults_stand_in_the_text_and_their_edits_fit(text: str) -> None:
    source = Source("plan", text)
    for fault in build(statements(text), template_for).faults:
        assert 0 <= fault.at.start < fault.at.end <= len(text)
        assert fault.message and "\n" not in fault.message
        assert not fault.edits or apply(source, fault.edits) != text


@settings(deadline=None)
@given(plans)
def test_the_same_plan_is_the_same_layout(text: str) -> None:
    """Nothing hangs on the order of a set."""
    assert _shape(build(statements(text), template_for)) == _shape(build(statements(text), template_for))


def _shape(plan: Layout) -> str:
    return repr((plan._replace(desk=None), [piece.work for piece in plan.pieces.values()]))


def yard(turnouts: int) -> str:
    """A ladder, each of whose turnouts leads to a fed track."""
    text, before = ["booster B1 15 V 5 A\ndistrict main from B1\n"], "stop"
    for number in range(turnouts):
        text.append(
            f"bus {f'P{number - 1}' if number else 'main'} -> P{number}\nturnout T{number} left live-frog\n"
            f"segment lead{number} {before} -> T{number}.points 30 cm\n"
            f"segment track{number} T{number}.diverging -> stop 2 m\ngap T{number}.diverging frog rail\n"
            f"feeder P{number} -> lead{number}\nfeeder P{number}.red -> track{number}.left at 20 cm\n"
        )
        before = f"T{number}.through"
    return "".join(text) + f"joint {before} -> stop\n"


SPOILT = {
    "sound": lambda text: text,
    "no supply": lambda text: text.replace("district main from B1\n", ""),
    "misspelled": lambda text: text.replace("-> lead", "-> laed"),
    "all twice": lambda text: text + text,
    "all loose": lambda text: text.replace("-> T", "-> U-").replace(" T", " V-"),
}


@pytest.mark.parametrize("spoil", list(SPOILT))
def test_work_grows_with_the_number_of_statements(spoil: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Calls are counted, not seconds: the answer is the same on a busy machine.

    The search for near names is bounded; a small bound lets it come into play in a small plan.
    """
    monkeypatch.setattr(names_table, "PATIENCE", 1000)
    small, large = (calls(statements(SPOILT[spoil](yard(size)))) for size in (50, 400))
    assert large < 8.5 * small


def calls(plan: list[Statement]) -> int:
    """How many calls it takes to build a plan's layout."""
    count = 0

    def note(frame: object, event: str, _: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    build(plan, template_for)
    sys.setprofile(note)
    try:
        build(plan, template_for)
    finally:
        sys.setprofile(None)
    return count
