"""A search is answered by the second builder's bench, which knows nothing of mistakes: some row was done wrong."""

from __future__ import annotations

import os
from collections.abc import Iterator
from math import log2
from random import Random
from statistics import mean, median
from typing import NamedTuple

from bench.member import looked_for
from bench.readings import facts
from oracle.plans import random_sound
from railbond.bench.diagnosis import Diagnosis
from railbond.bench.fault_search import FaultSearch
from railbond.bench.mistake import Mistake
from railbond.bench.observation import Observation
from railbond.bench.removable import off

from .hands import Hands, schedule
from .paper import Row
from .people import searches

THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
EACH, PAIRS, SOUND = (110, 40, 180) if THOROUGH else (3, 3, 3)
PLANS = slice(None) if THOROUGH else slice(0, None, 4)
"""Of each of the plans so many: with one job done wrong, and with two; and random plans built right."""
OTHER = {"left rail": "right rail", "right rail": "left rail"}


def done_wrong(right: list[Row], legs: dict[str, tuple[str, str]], rng: Random) -> list[Row | None]:
    """One job left out, on the wrong rail, on the wrong leg, or two wires of a pair exchanged."""
    kinds = ("drop", "bus", "frog", "bond", "cut", "jumper", "joiner")
    able = [n for n, row in enumerate(right) if row["kind"] in kinds and "metal" not in row["note"]]
    number = rng.choice([n for n in able if not right[n]["place"].startswith("leave")])
    row, done = right[number], list[Row | None](right)
    pair = [n for n in able if (right[n]["kind"], right[n]["place"]) == (row["kind"], row["place"])]
    name, _, leg = row["from"].rpartition(".")
    ways = [None]
    if row["kind"] == "joiner":
        ways = [{**row, "note": "metal joiner"}]
    if row["kind"] == "drop" and row["rail"] in OTHER:
        ways.append({**row, "rail": OTHER[row["rail"]]})
    if name in legs and row["kind"] in ("drop", "bus", "frog"):
        ways.append({**row, "from": f"{name}.{legs[name][1 - legs[name].index(leg)]}"})
    if row["kind"] == "drop" and len(pair) == 2 and rng.random() < 0.4:
        one, other = (right[n] for n in pair)
        done[pair[0]], done[pair[1]] = {**one, "from": other["from"]}, {**other, "from": one["from"]}
        return done
    done[number] = rng.choice(ways)
    return done


def symptoms(search: FaultSearch, hands: Hands, plan: Hands) -> list[Observation]:
    found = []
    for stand in search.chooser.stands:
        asked = [Observation("trips", True, dict(stand))]
        for name in search.diagnosis.facts.layout.pieces:
            asked.append(Observation("runs", True, dict(stand), route=search.resolver._route(name, dict(stand))))
        found += [one._replace(answer=hands.answer(one)) for one in asked if hands.answer(one) != plan.answer(one)]
    return found


def is_it(search: FaultSearch, named: Mistake, hands: Hands) -> bool:
    """Whether a mistake that is named makes the very same metal hang together as at the bench, with nothing off and
    with every wire off."""
    diagnosis = search.diagnosis
    wires = [name for name, one in diagnosis.screws.removable.items() if one.wires and not one.part_of]
    for stand in search.chooser.stands:
        for taken in ({}, off(wires)):
            setting = {**stand, **taken}
            effect = diagnosis.metal.effect(named, setting)
            builder, labels = hands.labels(setting)
            gone = {number for name in wires for number in hands.goes_with(name)} if taken else set[int]()
            pairs = set()
            for conductor in hands.same.node:
                node, atom = hands.node(builder, conductor, gone), diagnosis.metal.atom[conductor]
                pairs.add((labels.get(node, node), effect.root(effect.part(atom))))
            if len(pairs) != len({one for one, _ in pairs}) or len(pairs) != len({other for _, other in pairs}):
                return False
    return True


def bits(search: FaultSearch) -> float:
    """What the answers must tell at least, by the weights of the explanations at the start."""
    weights = [one.weight for one in search.step().fitting]
    return -sum(one / sum(weights) * log2(one / sum(weights)) for one in weights)


class Bench(NamedTuple):
    """A plan's search, the schedule's rows, and the legs of its supplies and terminals."""

    search: FaultSearch
    table: list[Row]
    legs: dict[str, tuple[str, str]]

    def new(self) -> FaultSearch:
        return FaultSearch(self.search.diagnosis.facts, diagnosis=self.search.diagnosis)

    def built(self, *wrong: list[Row | None]) -> Hands:
        """A bench at which all rows are as in the table, but those that were done wrong."""
        done = list[Row | None](self.table)
        for rows in wrong:
            done = [new if new is not old else now for new, old, now in zip(rows, self.table, done, strict=True)]
        return Hands(self.search, self.table, done)

    def wrong(self, rng: Random) -> list[Row | None]:
        return done_wrong(self.table, self.legs, rng)


def benches() -> Iterator[Bench]:
    yield from map(bench_of, searches()[PLANS])


def bench_of(search: FaultSearch) -> Bench:
    layout = search.diagnosis.facts.layout
    legs = {name: one.legs for name, one in layout.supplies.items()} | dict(layout.terminals)
    return Bench(search, schedule(search.diagnosis.facts), legs)


def test_what_was_done_wrong_is_named() -> None:
    """From a symptom; named alone, or among what no measurement parts. Beside the number of readings stands the least
    that any search could do with: each reading tells one bit."""
    rng, right, actions, least = Random(2), 0, list[int](), list[float]()
    for bench in benches():
        plan = bench.built()
        for _ in range(EACH):
            hands = bench.built(bench.wrong(rng))
            odd = symptoms(bench.search, hands, plan)
            if not odd:
                continue
            new = bench.new()
            new.see(rng.choice(odd))
            least.append(bits(new))
            count, step = looked_for(new, hands.answer)
            actions.append(count)
            right += step.end in ("found", "alike") and any(is_it(new, one.mistake, hands) for one in step.fitting)
    assert len(actions) >= 6
    assert right >= 0.99 * len(actions), f"{right} of {len(actions)}"
    assert mean(least) <= mean(actions) <= 3 * mean(least) + 3
    assert median(actions) <= 6 and sorted(actions)[int(0.95 * len(actions))] <= 12
    print(f"{right} of {len(actions)} named; median {median(actions)}, mean {mean(actions):.1f}, 19 of 20 in "
          f"{sorted(actions)[int(0.95 * len(actions))]}, at least {mean(least):.1f}")  # fmt: skip


def test_of_two_jobs_done_wrong_both_are_named() -> None:
    """What is named is put right, and the search goes on until nothing that was done wrong is left."""
    rng, tried, both = Random(4), 0, 0
    for bench in benches():
        plan = bench.built()
        for _ in range(PAIRS):
            left = [bench.wrong(rng), bench.wrong(rng)]
            odd = symptoms(bench.search, bench.built(*left), plan)
            if odd and all(symptoms(bench.search, bench.built(one), plan) for one in left):
                tried += 1
                both += both_named(bench, left, rng.choice(odd))
    assert tried >= 2 and both >= 0.8 * tried, f"{both} of {tried}"
    print(f"{both} of {tried} pairs named")


def both_named(bench: Bench, left: list[list[Row | None]], odd: Observation) -> bool:
    search = bench.new()
    search.see(odd)
    while left:
        _, step = looked_for(search, bench.built(*left).answer, most=120)
        named = [one for cause in step.fitting for one in cause.mistake.both or (cause.mistake,)]
        still = [rows for rows in left if not any(is_it(search, one, bench.built(rows)) for one in named)]
        if len(still) == len(left):
            return False
        left = still
        search.mend(step)
    return True


def test_a_bench_built_right_ends_as_the_plan_says() -> None:
    for bench in (*benches(), *grown_benches()):
        _, step = looked_for(bench.new(), bench.built().answer, most=200)
        assert step.end == "sound"


def grown_benches() -> Iterator[Bench]:
    """Sound plans of random track, up to four turnouts each."""
    for seed in range(SOUND):
        diagnosis = Diagnosis(facts(random_sound(Random(seed), 1 + seed % 4)))
        yield bench_of(FaultSearch(diagnosis.facts, diagnosis=diagnosis))
