"""Asks a rule. One that breaks off, as a club's own may, is told by its name and takes nothing else down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.effort import spend, spent
from railbond.circuit.of_graph import proven_before, typed_before
from railbond.findings import BROKE_OFF, LEVELS, Finding, Found
from trackplan.span import Span
from trackplan.statements import Accept
from trackplan.typed import TYPE_CHECKING, cast

from .occasions import arises
from .rule import Askable, Rule, RuleHead

if TYPE_CHECKING:
    from railbond.circuit.facts import Facts

A_RULE, A_FINDING = 0.6, 4.0
"""Steps of effort that it takes to ask a rule, whatever it has to work out for that, and to tell what it finds."""
Key = tuple[Askable, frozenset[str], tuple[Accept, ...], bool]
_EFFORT = "effort"
"""What it took to ask a rule is kept beside what it found."""


def ask(asked: Askable, facts: Facts) -> tuple[Finding, ...]:
    """What the rule finds, and, where it breaks off, that it did: as bad as what it would have found. Asked again of
    the same facts it finds the same, so that is kept with them; what was found with fixes does in a trial, too. What a
    club's own rules look at nobody knows."""
    accepted = facts.also_accepted if isinstance(asked, Rule) or asked.of_acceptances else ()
    key: Key = asked, facts.live, accepted, True
    found = facts.kept.get(key)
    if found is None and not facts.with_fixes:
        key = asked, facts.live, accepted, False
        found = facts.kept.get(key)
    if found is None:
        before = spent()
        known = _known(asked, key, facts)
        found = facts.kept[key] = tuple(_asked(asked, facts)) if known is None else known
        facts.kept[_EFFORT, key] = spent() - before
    return cast("tuple[Finding, ...]", found)


def _known(asked: Askable, key: Key, facts: Facts) -> tuple[Finding, ...] | None:
    """What the rule found in the plan as it was before somebody typed at it, where that is what it finds, for as much
    effort as it was then; None where nobody knows."""
    if facts.made:  # of turn 0 are those that look at the text as it is, as a club's own may
        from railbond.circuit.taken_back import said_before

        is_told = asked.turn and isinstance(asked, RuleHead) and not facts.with_fixes
        before, key = said_before(facts) if is_told else None, (*key[:3], True)
        if is_told and asked.of_graph and not before:
            before = typed_before(facts)
    elif asked.of_graph:
        before = typed_before(facts) or (proven_before(facts) if asked.of_graph == "proof" else None)
    else:
        return None
    if before is None or key not in before.kept:
        return None
    found = cast("tuple[Finding, ...]", before.kept[key])
    if found and (asked.of_graph != "all" or not _in_same_parts(before, facts)):
        return None
    spend(cast(float, before.kept[_EFFORT, key]))
    return found


def _in_same_parts(before: Facts, facts: Facts) -> bool:
    """Whether each drop is still soldered in the same part of its piece: metal goes on past a cut of the other rail."""
    pairs = zip(before.layout.drops, facts.layout.drops, strict=True)
    moved = (one for one, other in pairs if one is not other and one.place != other.place)
    return not any(facts.layout.pieces[one.piece].template.links for one in moved)


def _asked(asked: Askable, facts: Facts) -> Iterator[Finding]:
    """Only the head of a rule is needed where its occasion does not arise."""
    spend(A_RULE)
    try:
        if isinstance(asked, RuleHead) and asked.when and not arises(asked.when, facts):
            return
        rule = whole(asked)
        for found in rule.find(facts):
            spend(A_FINDING)
            finding = stamped(rule, found)
            check(finding, facts)
            yield with_care(rule, _spoken(rule, finding, facts), facts)
    except Exception as error:
        yield stamped(whole(asked), failure(BROKE_OFF.format(asked.name), error, facts))


def that_warn(rules: Iterable[Askable]) -> list[str]:
    """The names of all rules but those that are known to find nothing worse than notes."""
    return [one.name for one in rules if not (isinstance(one, RuleHead) and one.notes)]


def whole(asked: Askable) -> Rule:
    """The rule of a head."""
    return asked.rule if isinstance(asked, RuleHead) else asked


def stamped(rule: Rule, found: Found) -> Finding:
    """What a rule has found, with the rule's name, its level and what happens."""
    if not isinstance(found, Found):
        raise TypeError(f"found {found!r}, which is not of the type Found")
    head = rule.name, found.level or rule.level, found.happens or rule.happens
    finding = Finding(*head, found.at, found.message, found.why, found.setting, found.fixes, found.names)
    return finding._replace(claims=found.claims)


def _spoken(rule: Rule, finding: Finding, facts: Facts) -> Finding:
    """The finding as a person says it; of the text itself it is said so already."""
    if not rule.turn:
        return finding
    from railbond.circuit.plain_words import spoken

    return spoken(facts, finding)


def with_care(rule: Rule, finding: Finding, facts: Facts) -> Finding:
    """The finding with the cautions of its mends and of the rule's test. A fault of the text needs no hands, and of a
    trial nobody is told."""
    if not rule.turn or not facts.with_fixes:
        return finding
    from railbond.care import of_fix, of_test, told

    jobs = [of_fix(fix, facts.sources) for fix in finding.fixes]
    cautions = (*told(of_test(rule.meter).union(*jobs)), *filter(None, [rule.caution]))
    return finding._replace(cautions=cautions)


def failure(what: str, error: BaseException, facts: Facts) -> Found:
    """Tells of a rule that could not be asked. No acceptance silences it."""
    start = Span(next(iter(facts.sources), ""), 0, 0)
    message = f"{what} ({type(error).__name__}: {error}{_line(error)}). What it would have found is not known."
    return Found(start, message, happens="on paper")


def check(finding: Finding, facts: Facts) -> None:
    """Raises ValueError or TypeError for what could not be shown: a plug-in's place outside of the plan's texts."""
    if finding.level not in LEVELS:
        raise ValueError(f"found something of the level {finding.level!r}; the levels are {', '.join(LEVELS)}")
    edits = (edit.at for fix in finding.fixes for edit in fix.edits)
    for at in (finding.at, *(step.at for step in finding.why if step.at), *edits):
        if at.path not in facts.sources or not 0 <= at.start <= at.end <= facts.sources[at.path].size:
            raise ValueError(f"names a place that is not in the plan: {tuple(at)}")


def _line(error: BaseException) -> str:
    """Where it happened, so that whoever wrote the rule finds it."""
    trace = error.__traceback__
    while trace and trace.tb_next:
        trace = trace.tb_next
    if trace is None:
        return ""
    module = trace.tb_frame.f_globals.get("__name__", "")
    return f", in line {trace.tb_lineno} of {module}"
