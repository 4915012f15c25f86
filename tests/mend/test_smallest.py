"""The smallest mend of each kind: swaps held against every set of them, gaps by what the trade would do."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from railbond.circuit.facts import Facts
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from trackplan.edit import add_line, replace, revise
from trackplan.read import read
from trackplan.span import Source, Span
from trackplan.statements import Feeder, where

HEAD = "booster  B1  15 V  5 A\ndistrict main  from B1\n"

Wires = tuple[list[tuple[int, bool]], list[tuple[int, bool]]]
"""Bus runs and feeders: from which terminal (0: the district itself), and whether crossed."""


@st.composite
def wires(draw: st.DrawFn) -> Wires:
    runs = [(draw(st.integers(0, number)), draw(st.booleans())) for number in range(draw(st.integers(0, 3)))]
    feeders = st.lists(st.tuples(st.integers(0, len(runs)), st.booleans()), min_size=2, max_size=5)
    return runs, draw(feeders)


def plan(runs: list[tuple[int, bool]], feeders: list[tuple[int, bool]]) -> str:
    """One line of track, every feeder to a segment of its own."""
    last = len(feeders) - 1
    ends = [("stop" if n == 0 else f"J{n}", "stop" if n == last else f"J{n + 1}") for n in range(last + 1)]
    lines = [f"segment  s{n}  {start} -> {finish}  1 m" for n, (start, finish) in enumerate(ends)]
    lines += [f"bus  {name(above)} -> P{n}  1 m  14 AWG{cross(one)}" for n, (above, one) in enumerate(runs, 1)]
    lines += [f"feeder  {name(above)} -> s{n}{cross(one)}" for n, (above, one) in enumerate(feeders)]
    return HEAD + "\n".join(lines) + "\n"


def name(terminal: int) -> str:
    return f"P{terminal}" if terminal else "main"


def cross(crossed: bool) -> str:
    return "  crossed" if crossed else ""


def agree(runs: list[tuple[int, bool]], feeders: list[tuple[int, bool]]) -> bool:
    """Whether every feeder brings the legs the same way round."""
    arrives = [False]
    for above, crossed in runs:
        arrives.append(arrives[above] != crossed)
    return len({arrives[above] != crossed for above, crossed in feeders}) == 1


def fewest(runs: list[tuple[int, bool]], feeders: list[tuple[int, bool]]) -> int:
    """How many runs and feeders must be swapped, by trying every set of them."""
    both = [*runs, *feeders]
    for size in range(len(both) + 1):
        for chosen in combinations(range(len(both)), size):
            swapped = [(above, crossed != (n in chosen)) for n, (above, crossed) in enumerate(both)]
            if agree(swapped[: len(runs)], swapped[len(runs) :]):
                return size
    raise AssertionError("to swap every feeder of one mind is always possible")


def facts(text: str) -> Facts:
    source = Source("plan", text)
    return Facts(read(source).statements, {"plan": source})


@given(wires())
def test_as_few_swaps_as_can_be(wires: Wires) -> None:
    assert len(facts(plan(*wires)).swaps) == fewest(*wires)


@given(wires())
def test_the_swaps_cure(wires: Wires) -> None:
    overlay = Overlay(["plan"], {"plan": plan(*wires)}.__getitem__)
    done = mend(overlay)
    assert not [one for one in overlay.inspection("plan").findings if one.level == "error"]
    assert len(done.made) <= fewest(*wires)


def test_a_drop_is_swapped_before_a_run() -> None:
    """Either would do: the drop is easier to reach."""
    text = plan([(0, True)], [(0, False), (0, False), (1, False)])
    assert [type(one) for one in facts(text).swaps] == [Feeder]


def test_of_two_drops_the_one_that_says_it_is_crossed() -> None:
    text = plan([], [(0, False), (0, True)])
    (swap,) = facts(text).swaps
    assert isinstance(swap, Feeder) and swap.rail == "s1"


def gaps(text: str) -> list[str]:
    """The gap lines that mending adds."""
    overlay = Overlay(["plan"], {"plan": text}.__getitem__)
    mend(overlay)
    assert not [one for one in overlay.inspection("plan").findings if one.level == "error"]
    new = overlay.open_text("plan").splitlines()
    return [" ".join(line.split()) for line in new if line.startswith("gap") and line not in text.splitlines()]


TWO = HEAD.replace("district main", "district town  from B1\ndistrict main")


@pytest.mark.parametrize(
    ("rest", "cut"),
    [
        (
            "segment  a  stop -> J  1 m\nsegment  b  J -> stop  1 m\nfeeder town -> a\nfeeder main -> b\n",
            ["gap J both rails"],
        ),
        (
            "segment  a  stop -> J  1 m\nsegment  b  J -> K  1 m\nsegment  c  K -> stop  1 m\n"
            "gap  b.finish  left rail\nfeeder town -> a\nfeeder main -> c\n",
            ["gap b.finish both rails"],
        ),
        (
            "segment  a  stop -> stop  2 m\nfeeder town -> a  at 50 cm\nfeeder main -> a  at 1.5 m\n",
            ["gap a at 1 m both rails"],
        ),
    ],
    ids=["at the joint", "where one rail is cut already", "in the middle of a rail where there is no joint"],
)
def test_supplies_are_parted_at_the_cheapest_place(rest: str, cut: list[str]) -> None:
    assert gaps(TWO + rest) == cut


def test_a_ring_is_cut_twice() -> None:
    ring = "segment  a  J -> K  1 m\nsegment  b  K -> J  1 m\nfeeder town -> a\nfeeder main -> b\n"
    assert len(gaps(TWO + ring)) == 2


def test_two_wires_to_one_rail_cannot_be_gapped_apart() -> None:
    """No cut lies between them: one of them is moved."""
    text = TWO + "segment  a  stop -> stop  2 m\nfeeder town -> a  at 1 m\nfeeder main -> a  at 1 m\n"
    assert gaps(text) == []


def test_a_second_edit_of_a_statement_finds_its_words() -> None:
    text = HEAD + "feeder  main -> far-away-siding  crossed\n"
    source = Source("p", text)
    first = read(source).statements[2]
    assert isinstance(first, Feeder)
    (*_, once) = revise([first], [replace(where(first, first.supply), "P17")], {"p": source})
    assert isinstance(once, Feeder) and once.crossed is not None and once.supply == "P17"
    assert where(once, once.crossed) == where(first, first.crossed)
    assert text[slice(*where(once, once.rail)[1:])] == "far-away-siding"


def test_what_an_edit_adds_cannot_be_edited_again() -> None:
    text = HEAD + "segment  a  stop -> stop  1 m\n"
    source = Source("p", text)
    known = read(source).statements
    add = add_line(known[-1].at, "feeder  main -> a")
    new = revise(known, [add], {"p": source})[-1]
    end = Span("p", new.at.end, new.at.end)
    with pytest.raises(ValueError, match="not in the text"):
        revise(known, [add, replace(end, "  crossed")], {"p": source})
