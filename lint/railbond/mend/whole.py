"""The mends of a long plan that were found in its turn, made on its text and proven there as a whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import suppress

from railbond.circuit.facts import Facts
from railbond.findings import LEVELS, Finding
from railbond.rules import askable
from railbond.rules.asking import ask
from railbond.rules.rule import Askable
from trackplan.edit import Edit, apply, in_order
from trackplan.gather import GatheredPlan, gather
from trackplan.span import Source
from trackplan.statements import AnyOrder, Couple, Module

from .difference import comments, moved_to
from .in_turn import Admitted, InTurn, Worth, mended_in_turn
from .overlay import Attempted, Key, Overlay

LONG = 1_000
"""Lines of a plan from which on it is worth while: a shorter one is inspected as often as it takes."""

FEW = 3
"""Mends that are no reason for it: as many slips are looked for at once, and one of them may explain more."""

OF_OTHERS = {Module, AnyOrder, Couple}
"""Lines of a plan that is made of other plans, whose lines are none of its own."""


def made_whole(
    overlay: Overlay, root: str, rules: Collection[str], admitted: Admitted, worth: Worth, few: int = FEW
) -> list[Attempted]:
    """What was made at once of a long plan, if it is more than a `few` mends; nothing where the text that came of it is
    not as good as it was thought to be: then it is as it was before. `rules`, if there are some, are those asked."""
    gathered = gather(root, overlay.open_text)
    statements, sources = gathered.statements, gathered.sources
    is_short = sum(len(source.starts) for source in sources.values()) < LONG
    if is_short or gathered.broken or not OF_OTHERS.isdisjoint(map(type, statements)):
        return []
    facts = Facts(statements, sources)
    asked = [one for one in askable() if not rules or one.name in rules]
    found = mended_in_turn(facts, asked, admitted, worth)
    if len(found.jobs) <= few:
        return []
    before = overlay.state()
    with suppress(ValueError):
        if _make(overlay, root, gathered, found.facts.made) and not _is_worse(overlay, root, facts, found, worth):
            return found.jobs
    overlay.restore(before)
    return []


def _make(overlay: Overlay, root: str, gathered: GatheredPlan, edits: Iterable[Edit]) -> bool:
    """Makes edits of a plan's texts; False where that loses a comment, or where another plan reads one of them."""
    by_path = _by_path(edits)
    sources = gathered.sources
    texts = {path: apply(sources[path], own) for path, own in by_path.items()}
    if any(comments(sources[path].text) != comments(text) for path, text in texts.items()):
        return False
    others = (one for one in overlay.roots if one != root)
    if any(texts.keys() & overlay.inspection(one).sources.keys() for one in others):
        return False
    overlay.keep(texts, [root])
    return True


def _by_path(edits: Iterable[Edit]) -> dict[str, list[Edit]]:
    found: dict[str, list[Edit]] = {}
    for edit in edits:
        found.setdefault(edit.at.path, []).append(edit)
    return found


def _is_worse(overlay: Overlay, root: str, facts: Facts, found: InTurn, worth: Worth) -> bool:
    """Whether the inspection of the mended text finds what the mends should have cured, a line that does not read, or
    something new and as bad that no cause had hidden. Of causes that were hidden others tell: see `in_turn`."""
    inspection = overlay.inspection(root)
    now = inspection.known or tuple(inspection.findings)
    made = [worth(finding) or finding for finding, _ in found.jobs]  # with their owner's levels, as those found now
    least = min(LEVELS.index(finding.level) for finding in made)
    rules = {one.name: one for one in askable()}
    bad = [one for one in now if LEVELS.index(one.level) >= least and not _is_cause(rules.get(one.rule))]
    moved = _Moved(facts.sources, found.facts.made)
    then = _found(facts, [rules[name] for name in dict.fromkeys(one.rule for one in bad) if name in rules], worth)
    cured = set(map(moved.key, made))
    new = Counter(map(_key, bad)) - Counter(map(moved.key, then))
    return bool(new) or any(_key(one) in cured for one in now)


def _is_cause(rule: Askable | None) -> bool:
    return rule is not None and rule.cause


def _found(facts: Facts, rules: Iterable[Askable], worth: Worth) -> Iterator[Finding]:
    for rule in rules:
        yield from filter(None, map(worth, ask(rule, facts.in_trial())))


def _key(finding: Finding) -> Key:
    return finding.rule, finding.level, finding.at.path, finding.at.start


class _Moved:
    """Where everything is once some edits are made."""

    def __init__(self, sources: Mapping[str, Source], edits: Iterable[Edit]) -> None:
        self.moves = {path: in_order(sources[path], own) for path, own in _by_path(edits).items()}

    def key(self, finding: Finding) -> Key:
        path = finding.at.path
        return finding.rule, finding.level, path, moved_to(finding.at.start, self.moves.get(path, ()))
