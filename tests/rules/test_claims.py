"""Every sentence of a finding is so of the plan as it is written: its claims, asked of the oracle on faulty plans."""

from __future__ import annotations

import pytest
from hypothesis import Phase, given, settings

from circuit.agreement import Answers
from corpus.reading import PLANS, corpora
from oracle.claims import Truth
from oracle.plans import faulty_plans, wild_plans
from railbond.findings import Claim, Finding
from railbond.inspection import inspect
from railbond.layout.build import build
from railbond.rules import all_rules
from railbond.trackwork import template_for
from trackplan.gather import gather
from trackplan.metal import Rails
from trackplan.read import read
from trackplan.running import Engine, Train
from trackplan.span import Source
from trackplan.special import Turnout
from trackplan.statements import (
    Accept,
    Block,
    Booster,
    Bus,
    ClosureBond,
    Cut,
    District,
    Endplate,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    FrogUnpowered,
    Gap,
    Joint,
    Limit,
    Plan,
    Reverser,
    Scale,
    Segment,
)  # fmt: skip

MANY = settings(max_examples=max(settings().max_examples // 4, 12), phases=[Phase.explicit, Phase.generate])
"""Each plan takes a good part of a second, and none is made smaller, which takes minutes."""

CLAIMS = {
    "legs-joined", "districts-joined", "opposed-at-gap", "frog-wired-backwards", "frog-rail-gap-missing", "unfed-rail",
    "frog-fed-from-elsewhere", "open-point-opposed", "unfed-frog", "fed-through-points", "dead-when-entered",
    "rails-on-one-leg", "reversing-without-reverser", "reversing-gap-one-rail", "reversers-meet", "reverser-idle",
    "set-against", "endplate-crossed", "endplate-unfed",
}  # fmt: skip
"""The rules of which each finding says what is so of the rails."""


def claims_of(finding: Finding) -> list[Claim]:
    """All that a finding says: its message, its steps, and where else it shows."""
    own = [*finding.claims, *(claim for step in finding.why for claim in step.claims)]
    return own + [claim for other in finding.also for claim in claims_of(other)]


def untrue(text: str) -> list[str]:
    """What findings say of a plan that is not so, and findings that say nothing that could be looked at."""
    told = inspect(gather("plan.trackplan", {"plan.trackplan": text}.__getitem__)).findings
    facts_of = Answers(text)
    names = {facts_of.facts.graph.names[one]: key for one, key in facts_of.key.items()}
    truth = Truth(text, names)
    bare = [f"{one.rule}: claims nothing" for one in every(told) if one.rule in CLAIMS and not one.claims]
    return bare + [f"{one.rule}: {one.message}: {claim}" for one in told for claim in truth.false(claims_of(one))]


def every(findings: list[Finding]) -> list[Finding]:
    return [one for finding in findings for one in (finding, *finding.also)]


def test_the_rules_that_claim_are_rules() -> None:
    assert {one.name for one in all_rules()} >= CLAIMS


KNOWN = (
    Plan, Scale, Booster, District, Block, Reverser, Bus, Feeder, Segment, Turnout, Joint, Gap, Endplate, ClosureBond,
    Cut, FrogSwitched, FrogFromStockRails, FrogAutomatic, FrogUnpowered, Limit, Accept, Train, Engine, Rails,
)  # fmt: skip


def plain(text: str) -> bool:
    """Whether a plan has only what the oracle knows of."""
    statements = read(Source("plan", text)).statements
    turnouts = (one for one in statements if isinstance(one, Turnout))
    builds = ("dead-frog", "live-frog", "isolated-frog")
    known = all(str(one.build) in builds and one.sprung is None for one in turnouts)
    drops = (one for one in statements if isinstance(one, Feeder))
    return known and all(isinstance(one, KNOWN) for one in statements) and not any(one.contacts for one in drops)


def plans_of_people() -> list[tuple[str, str]]:
    """The corpus with its slips, as far as the oracle can follow, and every name is one."""
    found: list[tuple[str, str]] = []
    for corpus in (one for one in corpora(PLANS) if len(one.texts) == 1 and plain(one.texts[one.root])):
        for number, slip in enumerate(corpus.slips):
            text = corpus.with_slip(slip)[corpus.root]
            reading = read(Source("plan", text))
            if not reading.broken and not build(reading.statements, template_for).faults:
                found.append((f"{corpus.name}-{number}", text))
    return found


@pytest.mark.parametrize(("name", "text"), plans_of_people()[::4])
def test_what_is_told_of_peoples_plans_is_so(name: str, text: str) -> None:
    assert untrue(text) == []


WITH_OTHER_FAULTS = """\
booster B1 15 V 5 A
district main from B1 trips 4 A
bus main -> P1 5 m 14 AWG
segment interchange J1 -> T1.points 200 cm
segment east J1 -> T2.points 40 cm
segment pit T1.through -> T2.through 0.4 m
segment sawmill T1.diverging -> stop 0.3 m
segment summit stop -> T2.diverging 2 m
turnout T1 left number 5 live-frog
turnout T2 left number 4 dead-frog
gap T1.diverging right rail
gap interchange at 100 cm left rail
cut T1 closure jumpers
bond T2 closure rails to stock rails
feeder P1 -> interchange at 50 cm 22 AWG 20 cm crossed
feeder P1 -> interchange at 150 cm 22 AWG 20 cm
feeder P1.black -> pit.right at 20 cm 22 AWG 20 cm
feeder P1 -> summit at 100 cm 22 AWG 20 cm
"""
BEYOND_ANOTHER_TURNOUT = """\
booster B1 15 V 5 A
district main from B1 trips 4 A
segment a stop -> T1.points 1 m
turnout T1 left number 6 dead-frog
turnout T2 right number 6 isolated-frog
joint T1.diverging -> T2.points
segment b T1.through -> stop 1 m
segment c T2.through -> stop 1 m
segment d T2.diverging -> stop 1 m
bond T2 closure rails to stock rails
frog T2 switched through main.red diverging main.black
feeder main -> a
"""


@pytest.mark.parametrize("text", [WITH_OTHER_FAULTS, BEYOND_ANOTHER_TURNOUT])
def test_what_is_told_of_one_fault_is_so_beside_others(text: str) -> None:
    assert untrue(text) == []


@MANY
@given(faulty_plans(max_turnouts=5))
def test_what_is_told_of_faulty_plans_is_so(plans: tuple[str, str, object]) -> None:
    assert untrue(plans[1]) == []


@MANY
@given(wild_plans(max_turnouts=4))
def test_what_is_told_of_wild_plans_is_so(plan: str) -> None:
    assert untrue(plan) == []
