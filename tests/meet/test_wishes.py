"""Any order of some modules: found where there is one, and where there is none that is said after all were seen."""

from __future__ import annotations

from math import factorial

from meet.samples import BUSES, MODULES, STRAIGHT, outcome

WISH = "any order of one two between town and loop\n"
SAME_LEFT = STRAIGHT.replace("endplate E left red", "endplate E left black")


def answer(text: str, **changed: str) -> tuple[bool, str]:
    (one,) = outcome(text, **changed).answers
    return one.granted, one.words


def test_a_wish_is_granted_with_the_lines_to_write() -> None:
    granted, words = answer(MODULES + BUSES + WISH)
    assert granted
    assert "couple town.E -> one.W; couple one.E -> two.W; couple two.E -> loop.W" in words


def test_what_grants_a_wish_is_inspected_as_the_whole() -> None:
    found = outcome(MODULES + BUSES + WISH)
    assert not [one for one in found.told if one.finding.level != "note"]
    assert len([one for one in found.whole.layout.meetings if "." in one.one.piece]) >= 3


def test_where_no_order_fits_all_were_looked_at() -> None:
    """A module that promises black at both its left rails fits no neighbor: 2 modules have 2!·2² orders."""
    granted, words = answer(MODULES + BUSES + WISH, straight=SAME_LEFT)
    assert not granted
    assert f"all {factorial(2) * 2**2} were looked at" in words


def test_an_order_is_turned_where_only_that_fits() -> None:
    """Swapped ends: the only way in is by the edge called E."""
    other = STRAIGHT.replace("endplate W left black", "endplate W left red").replace("E left red", "E left black")
    other = other.replace("feeder T1 -> line", "feeder T1 -> line crossed")
    granted, words = answer(MODULES + BUSES + WISH, straight=other)
    assert granted and "couple town.E -> one.E" in words


def test_a_wish_that_cannot_be_read_says_why() -> None:
    nine = MODULES + BUSES + "any order of one nine between town and loop\n"
    assert answer(nine) == (False, "no module is called `nine`")
    granted, words = answer(MODULES + BUSES + "couple town.E -> one.W\n" + WISH)
    assert not granted and "edges that are free" in words
