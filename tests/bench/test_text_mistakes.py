"""Mistakes made in the plan's text, which know nothing of the bench, show on the sheet of the plan as it was."""

from __future__ import annotations

import re
from random import Random

import pytest

from bench.readings import RIGHT, facts, labels, settings
from oracle.faults import KINDS, make, possible
from oracle.plans import random_sound
from railbond.bench.sheet import Sheet, sheet_of
from railbond.bench.test_points import TestPoints
from railbond.circuit.facts import Facts

BENCH_KINDS = set(KINDS)


def place(built: Facts, names: dict[str, int], name: str) -> int:
    """The conductor at a named place of a layout whose segments may be cut otherwise."""
    if name in names:
        return names[name]
    head, _, at = name.partition(" at ")
    if head in names:
        return names[head]
    piece, _, side = head.rpartition(".")
    meters = float(at.split()[0]) / 100 if at else built.layout.pieces[piece].template.length / 2
    for number, metal in enumerate(built.layout.pieces[piece].template.metals):
        if metal.words == f"{side} rail" and metal.start <= meters <= metal.stop:
            return built.wiring.metal(piece, number)
    raise LookupError(name)


def differs(sheet: Sheet, built: Facts) -> bool:
    names = TestPoints(built).conductor
    for stand in sheet.stands:
        real = labels(built.graph, RIGHT, stand.setting)
        for probe in stand.probes:
            ends = [place(built, names, sheet.points.name[end]) for end in (probe.one, probe.other)]
            if (real[ends[0]] == real[ends[1]]) != probe.beeps:
                return True
    return False


def could_differ(plan: Facts, built: Facts) -> bool:
    """Whether anything that both layouts have reads otherwise in some setting."""
    points, names = TestPoints(plan), TestPoints(built).conductor
    ends = {conductor: place(built, names, name) for conductor, name in points.name.items()}
    for setting in settings(plan.graph):
        right, real = labels(plan.graph, RIGHT, setting), labels(built.graph, RIGHT, setting)
        pairs = ((one, other) for one in ends for other in ends if one < other)
        if any((right[a] == right[b]) != (real[ends[a]] == real[ends[b]]) for a, b in pairs):
            return True
    return False


@pytest.mark.parametrize("seed", range(12))
def test_a_mistake_in_the_text_shows_if_any_reading_shows_it(seed: int) -> None:
    rng = Random(seed)
    text = random_sound(rng, rng.randint(1, 4))
    plan, lines = facts(text), text.split("\n")
    sheet = sheet_of(plan)
    choices = [(kind, nth) for kind, nth in possible(lines) if kind in BENCH_KINDS]
    for kind, nth in rng.sample(choices, min(4, len(choices))):
        changed = list(lines)
        make(changed, kind, nth)
        built = facts("\n".join("" if line == "\0" else line for line in changed))
        if single(kind, lines[nth]):
            assert differs(sheet, built) == could_differ(plan, built), (kind, lines[nth])


def single(kind: str, line: str) -> bool:
    """Whether a change of the text is one mistake of the hands: a whole feeder left out is two wires, and a gap left
    out two rails."""
    if kind == "missing feeder":
        return "." in re.split(r"\s+", line)[1]
    return kind != "missing gap" or "both rails" not in line
