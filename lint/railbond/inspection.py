"""Asks every rule of a plan, and tells each cause once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from railbond.rules import all_rules
from railbond.rules.rule import Rule

if TYPE_CHECKING:
    from trackplan.book import Book
    from trackplan.span import Source

ROUNDS = 40
"""How often the plan is mended in the head; each round tells all faults of one rule that stand apart."""


class Inspection(NamedTuple):
    """The texts that were read, and what was found in them, by file and place."""

    sources: dict[str, Source]
    findings: list[Finding]


def inspect(book: Book, rules: Sequence[Rule] | None = None) -> Inspection:
    """Everything that the rules find in a plan and the files it includes."""
    facts = Facts(book.statements, book.sources, book.broken)
    findings = examine(facts, all_rules() if rules is None else rules)
    return Inspection(dict(book.sources), sorted(findings, key=lambda one: (one.at, one.rule)))


def examine(facts: Facts, rules: Sequence[Rule]) -> list[Finding]:
    """The findings that no acceptance silences, in the order in which the rules were asked."""
    told: list[Finding] = []
    for rule in rules:
        if rule.turn == 0:
            told += rule.find(facts)
    mended = _tell_causes(facts, [rule for rule in rules if rule.cause], told)
    mended.told = told
    for rule in rules:
        if rule.turn and not rule.cause:
            told += rule.find(mended)
    accepted = {(str(one.rule), str(one.place)) for one in facts.layout.acceptances if one.reason}
    return [one for one in told if not any((one.rule, name) in accepted for name in one.names)]


def _tell_causes(facts: Facts, causes: Iterable[Rule], told: list[Finding]) -> Facts:
    """Tells one rule's faults at a time and goes on with a plan in which they are mended."""
    known: set[tuple[object, ...]] = set()
    for _ in range(ROUNDS):
        fresh = _first_fresh(facts, causes, known)
        if not fresh:
            break
        told += fresh
        known |= {_key(one) for one in fresh}
        for one in fresh:
            facts = _mended(facts, one)
    return facts


def _first_fresh(facts: Facts, causes: Iterable[Rule], known: set[tuple[object, ...]]) -> list[Finding]:
    for rule in causes:
        fresh = [one for one in rule.find(facts) if _key(one) not in known]
        if fresh:
            return list({_key(one): one for one in fresh}.values())
    return []


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.rule, finding.at, finding.names


def _mended(facts: Facts, finding: Finding) -> Facts:
    """The plan with the finding's first mend made; unchanged where that mend does not fit the earlier ones."""
    if not finding.fixes:
        return facts
    try:
        return facts.revised(finding.fixes[0].edits)
    except ValueError:
        return facts
