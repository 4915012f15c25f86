"""Orders of modules: the wish `any order of a b c between d and e`, granted or proven impossible.

Every order and orientation is looked at. Most fall at once: two edges fit only where both have as many tracks and
promise each other the same leg. What is left is inspected as a whole, one after the other, until one has no finding
that its modules do not have alone.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from itertools import permutations, product
from typing import NamedTuple

from railbond.findings import Finding
from railbond.inspection import examined
from railbond.layout.model import Edge
from trackplan.span import Span, Word
from trackplan.statements import AnyOrder, Couple

from .meet_facts import MeetFacts
from .reading import Meet
from .trying import rules_of_the_whole

MOST_TRIED = 400
"""Orders inspected as a whole for one wish."""

MOST_SEEN = 200_000
"""Orders looked at for one wish: eight modules have 10 million, and are told as undecided if none is found before."""

Edges = dict[str, list[Edge]]
"""Edges by name, each with its tracks from the left, looking out."""


class Answer(NamedTuple):
    """How a wish fares: the couplings that grant it, if there are any, and in words what was found."""

    wish: AnyOrder
    couples: tuple[Couple, ...]
    words: str
    granted: bool


def grant(meet: Meet, own: Mapping[str, list[Finding]]) -> list[Answer]:
    """The answer to each wish of a meet. `own` holds what each module has alone."""
    answers: list[Answer] = []
    for wish in meet.gathered.statements:
        if isinstance(wish, AnyOrder):
            earlier = tuple(couple for answer in answers for couple in answer.couples)
            answers.append(_answer(meet, own, wish, earlier))
    return answers


def _answer(meet: Meet, own: Mapping[str, list[Finding]], wish: AnyOrder, earlier: tuple[Couple, ...]) -> Answer:
    free = _free_edges(MeetFacts(meet, earlier))
    if told := _unusable(meet, wish, free):
        return Answer(wish, (), told, False)
    known = {(one.rule, one.at) for findings in own.values() for one in findings}
    tried, seen = 0, 0
    for seen, couples in enumerate(_orders(wish, free), 1):
        if seen > MOST_SEEN or tried >= MOST_TRIED:
            words = f"not decided: {tried} orders were inspected and none was without a finding; there are more"
            return Answer(wish, (), words, False)
        if couples:
            tried += 1
            if not _findings(MeetFacts(meet, (*earlier, *couples)), known):
                lines = "; ".join(f"couple {one.one} -> {one.other}" for one in couples)
                return Answer(wish, couples, f"this order has no finding: {lines}", True)
    words = f"no order fits: all {seen} were looked at, and the {tried} whose edges fit have findings"
    return Answer(wish, (), words, False)


def _findings(whole: MeetFacts, known: Container[tuple[str, Span]]) -> list[Finding]:
    found = examined(whole, rules=rules_of_the_whole())
    return [one for one in found if one.level != "note" and (one.rule, one.at) not in known]


def _free_edges(whole: MeetFacts) -> dict[str, Edges]:
    """The edges of each module that are not coupled yet."""
    taken = {end for meeting in whole.layout.meetings for end in (meeting.one, meeting.other)}
    found: dict[str, Edges] = {}
    for name, edge in whole.layout.edges.items():
        module, _, plate = name.rpartition(".")
        stem, dash, number = plate.rpartition("-")
        whole_name = f"{module}.{stem if dash and number.isdigit() else plate}"
        if edge.end not in taken:
            found.setdefault(module, {}).setdefault(whole_name, []).append(edge)
    return found


def _unusable(meet: Meet, wish: AnyOrder, free: dict[str, Edges]) -> str:
    """Why a wish cannot be looked at; empty where it can."""
    for word, edges in [*((one, 2) for one in wish.modules), (wish.first, 1), (wish.last, 1)]:
        if word not in meet.modules:
            return f"no module is called `{word}`"
        if (count := len(free.get(word, {}))) != edges:
            return f"`{word}` has {count} edges that are free: expected {edges}, one for each neighbor"
    return ""


def _orders(wish: AnyOrder, free: dict[str, Edges]) -> Iterator[tuple[Couple, ...]]:
    """The couplings of every order and orientation; nothing for one in which two edges do not fit."""
    (first,), (last,) = free[wish.first].items(), free[wish.last].items()
    for order in permutations(wish.modules):
        for turned in product((False, True), repeat=len(order)):
            ends = [first]
            for module, is_turned in zip(order, turned, strict=True):
                ends += list(free[module].items())[:: -1 if is_turned else 1]
            yield _coupled(wish, [*ends, last])


def _coupled(wish: AnyOrder, ends: Sequence[tuple[str, list[Edge]]]) -> tuple[Couple, ...]:
    pairs = list(zip(ends[::2], ends[1::2], strict=True))
    if not all(_fit(one[1], other[1]) for one, other in pairs):
        return ()
    return tuple(Couple(wish.at, Word(one), Word(other)) for (one, _), (other, _) in pairs)


def _fit(one: list[Edge], other: list[Edge]) -> bool:
    """Whether two edges have as many tracks, and no left rail that is promised the leg which it meets opposed."""
    if len(one) != len(other):
        return False
    pairs = zip(one, reversed(other), strict=True)
    return not any(near.left is not None and near.left == far.left for near, far in pairs)
