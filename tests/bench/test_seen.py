"""What was seen at the bench, as people write it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackplan.seen import read_seen
from trackplan.span import Source

FORMS = {
    "beeps P1.red and siding.right with T1 diverging": ("beeps", ("P1.red", "siding.right"), (("T1", "diverging"),)),
    "beeps between P1.red and siding.right": ("beeps", ("P1.red", "siding.right"), ()),
    "silent  west.left at 20 cm and T1.frog": ("silent", ("west.left at 20 cm", "T1.frog"), ()),
    "breaker trips when T2 is thrown": ("trips", (), (("T2", "thrown"),)),
    "trips main with T1 diverging, T2 through": ("trips", ("main",), (("T1", "diverging"), ("T2", "through"))),
    "holds main": ("holds", ("main",), ()),
    "engine dies at T3 diverging": ("dies", ("T3", "diverging"), ()),
    "the engine runs over siding  # slowly": ("runs", ("siding",), ()),
    "trips at T1 through": ("trips", ("T1", "through"), ()),
    "trips main when the T2 switch is thrown": ("trips", ("main",), (("T2", "thrown"),)),
    "engine jerks at T3": ("dies", ("T3",), ()),
    "buzzes at T1 diverging": ("trips", ("T1", "diverging"), ()),
    "dead siding": ("dies", ("siding",), ()),
    "the siding is dead": ("dies", ("siding",), ()),
    "lamp dim at end": ("dim", ("end",), ()),
    "the train runs backwards in yard": ("backwards", ("yard",), ()),
    "detector of span always on": ("always-on", ("span",), ()),
    "the detector of span is never on": ("never-on", ("span",), ()),
    "mended": ("mended", (), ()),
}


@pytest.mark.parametrize("text", FORMS)
def test_each_form_is_read(text: str) -> None:
    (one,), broken = read_seen(Source("p", f"\n{text}\n"))
    assert (one.kind, one.names, one.setting) == FORMS[text]
    assert not broken and one.at.start == 1


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("sings P1", "expected `beeps P1.red and west.left`"),
        ("beeps P1.red", "expected `beeps P1.red and west.left`"),
        ("trips with T1", "such as `with T1 diverging, T2 through`"),
        ("dies", "expected `dies at T1 diverging`"),
        ("lamp dim", "expected `"),
        ("detector of span always", "is not something that is seen"),
    ],
)
def test_a_broken_line_is_told_what_was_expected(text: str, expected: str) -> None:
    seen, (broken,) = read_seen(Source("p", f"holds main\n{text}\n"))
    assert len(seen) == 1
    assert expected in broken.message


def test_what_was_off_is_told_after_without() -> None:
    (one,), _ = read_seen(Source("p", "silent A.red and b.left with T1 diverging  without P2, west at 45 cm\n"))
    assert one.off == ("P2", "west at 45 cm") and one.setting == (("T1", "diverging"),)


@given(st.text())
def test_anything_is_read_or_told(text: str) -> None:
    source = Source("p", text)
    seen, broken = read_seen(source)
    written = [line for line, _ in source.lines() if line.partition("#")[0].strip()]
    assert len(seen) + len(broken) == len(written)
