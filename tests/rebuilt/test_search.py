"""A search is answered by the second builder's bench, which knows nothing of mistakes: some row was done wrong."""

from __future__ import annotations

import os
from math import log2
from random import Random
from statistics import mean, median

from bench.member import looked_for, new_searches
from railbond.bench.fault_search import FaultSearch
from railbond.bench.mistake import Mistake
from railbond.bench.observation import Observation
from railbond.bench.removable import off

from .hands import Hands, schedule
from .paper import Row

EACH = 50 if os.environ.get("HYPOTHESIS_PROFILE") == "thorough" else 3
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


def test_what_was_done_wrong_is_named() -> None:
    """From a symptom; named alone, or among what no measurement parts. Beside the number of readings stands the least
    that any search could do with: each reading tells one bit."""
    rng, right, actions, least = Random(2), 0, list[int](), list[float]()
    for search in new_searches():
        layout, table = search.diagnosis.facts.layout, schedule(search.diagnosis.facts)
        legs = {name: one.legs for name, one in layout.supplies.items()} | dict(layout.terminals)
        plan = Hands(search, table, list(table))
        for _ in range(EACH):
            hands = Hands(search, table, done_wrong(table, legs, rng))
            odd = symptoms(search, hands, plan)
            if not odd:
                continue
            new = FaultSearch(search.diagnosis.facts, diagnosis=search.diagnosis)
            new.see(rng.choice(odd))
            least.append(bits(new))
            count, step = looked_for(new, hands.answer)
            actions.append(count)
            right += step.end in ("found", "alike") and any(is_it(new, one.mistake, hands) for one in step.fitting)
    assert len(actions) >= 6
    assert right >= 0.99 * len(actions), f"{right} of {len(actions)}"
    assert mean(least) <= mean(actions) <= 3 * mean(least) + 3
    assert median(actions) <= 7 and sorted(actions)[int(0.95 * len(actions))] <= 12
    print(f"{len(actions)} searches: median {median(actions)}, mean {mean(actions):.1f}, at least {mean(least):.1f}")
